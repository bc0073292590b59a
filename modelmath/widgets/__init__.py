"""Thin panels over the calculations. Nothing is worked out here: a panel reads text, asks, and shows.

The names below load what they need when they are first used: a page opens without the other pages' parts.
"""

from typing import Any

from modelmath.late import late

_HOMES = {
    "CalibratePanel": "calibrate",
    "ClearancePanel": "clearance",
    "CutsPanel": "cuts",
    "DrawerPanel": "drawer",
    "DrillsPanel": "drills",
    "EnclosurePanel": "enclosure",
    "FleetPanel": "fleet",
    "GlossaryPanel": "glossary",
    "LightPanel": "light",
    "MeasurePanel": "measure",
    "MovingPanel": "moving",
    "NamesPanel": "names",
    "PrototypePanel": "prototype",
    "ReadingsPanel": "readings",
    "SoundPanel": "sound",
    "StripsPanel": "strips",
    "TablePanel": "table",
    "WordsUsedHere": "glossary",
    "start_page": "start",
}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    return late(__name__, _HOMES, name, globals())


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
