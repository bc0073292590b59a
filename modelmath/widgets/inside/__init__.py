"""Editors for the inside of the shell: thin forms over `modelmath.job.entries.inside`.

Each has `view` for the page, `show(job)` to fill its fields, and calls `on_change` with a new job.
"""

from __future__ import annotations

from modelmath.widgets.inside.choices import ChoicesEditor
from modelmath.widgets.inside.contents import ChamberEditor, DecoderEditor, SpeakerEditor
from modelmath.widgets.inside.making import HolesEditor, WeightEditor
from modelmath.widgets.inside.obstacles import ObstaclesEditor
from modelmath.widgets.inside.parts import BuildEditor, StockEditor
from modelmath.widgets.inside.passing import LampsEditor, WiresEditor
from modelmath.widgets.inside.sections import SectionsEditor
from modelmath.widgets.inside.sound import ParametersEditor, RatedEditor

__all__ = [
    "BuildEditor",
    "ChamberEditor",
    "ChoicesEditor",
    "DecoderEditor",
    "HolesEditor",
    "LampsEditor",
    "ObstaclesEditor",
    "ParametersEditor",
    "RatedEditor",
    "SectionsEditor",
    "SpeakerEditor",
    "StockEditor",
    "WeightEditor",
    "WiresEditor",
]
