"""All editors for the inside of the shell together, each folded where the walkthrough puts it."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.job import Job
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.inside.contents import ChamberEditor, DecoderEditor, SpeakerEditor
from modelmath.widgets.inside.making import HolesEditor, WeightEditor
from modelmath.widgets.inside.obstacles import ObstaclesEditor
from modelmath.widgets.inside.sections import SectionsEditor


class InsideEditors:
    """The editors, and the folds that hold them.

    Parameters
    ----------
    changed : callable
        Called with the new job once an entry could be read. [-]
    """

    def __init__(self, changed: Callable[[Job], None]) -> None:
        self.obstacles, self.sections = ObstaclesEditor(changed), SectionsEditor(changed)
        self.speaker, self.decoder, self.chamber = (
            SpeakerEditor(changed),
            DecoderEditor(changed),
            ChamberEditor(changed),
        )
        self.holes, self.weight = HolesEditor(changed), WeightEditor(changed)
        contents = w.VBox(
            [
                w.HTML(look.heading("The speaker")),
                self.speaker.view,
                w.HTML(look.heading("The decoder")),
                self.decoder.view,
                w.HTML(look.heading("The chamber")),
                self.chamber.view,
            ]
        )
        self.folds = {
            "obstacles": Fold("What stands in the shell", self.obstacles.view),
            "sections": Fold("Cross-sections of the shell", self.sections.view),
            "contents": Fold("How speaker, decoder and chamber are to be", contents),
        }

    def show(self, job: Job) -> None:
        """Fill every editor from a job; what is being typed stays while its own part of the job does."""
        for each in (self.obstacles, self.sections, self.speaker, self.decoder, self.chamber, self.holes, self.weight):
            each.show(job)
