"""All editors for the inside of the shell together, each folded where the walkthrough puts it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import ipywidgets as w

from modelmath.job import Job
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.inside.choices import ChoicesEditor
from modelmath.widgets.inside.contents import ChamberEditor, DecoderEditor, SpeakerEditor
from modelmath.widgets.inside.editor import Editor
from modelmath.widgets.inside.late_editor import LateEditor, late
from modelmath.widgets.inside.lit import CircuitsEditor, FeedEditor, LeadsEditor, StrandsEditor
from modelmath.widgets.inside.making import HolesEditor, WeightEditor
from modelmath.widgets.inside.obstacles import ObstaclesEditor
from modelmath.widgets.inside.parts import BuildEditor, StockEditor
from modelmath.widgets.inside.passing import LampsEditor, WiresEditor
from modelmath.widgets.inside.sections import SectionsEditor
from modelmath.widgets.inside.sound import ParametersEditor, RatedEditor


class InsideEditors:
    """The editors, and the folds that hold them.

    Parameters
    ----------
    changed : callable
        Called with the new job once an entry could be read. [-]
    """

    def __init__(self, changed: Callable[[Job], None]) -> None:
        self.obstacles = late(lambda: ObstaclesEditor(changed))
        self.sections = late(lambda: SectionsEditor(changed))
        self.speaker = late(lambda: SpeakerEditor(changed))
        self.decoder = late(lambda: DecoderEditor(changed))
        self.chamber = late(lambda: ChamberEditor(changed))
        self.lamps = late(lambda: LampsEditor(changed))
        self.wires = late(lambda: WiresEditor(changed))
        self.holes = late(lambda: HolesEditor(changed))
        self.weight = late(lambda: WeightEditor(changed))
        self.build = late(lambda: BuildEditor(changed))
        self.stock = late(lambda: StockEditor(changed))
        self.rated = late(lambda: RatedEditor(changed))
        self.parameters = late(lambda: ParametersEditor(changed))
        self.choices = late(lambda: ChoicesEditor(changed))
        self.feed = late(lambda: FeedEditor(changed))
        self.circuits = late(lambda: CircuitsEditor(changed))
        self.strands = late(lambda: StrandsEditor(changed))
        self.leads = late(lambda: LeadsEditor(changed))
        contents = _under({"The speaker": self.speaker, "The decoder": self.decoder, "The chamber": self.chamber})
        passing = _under({"Lamps": self.lamps, "Wires": self.wires})
        making = _under({"Thicknesses and cuts": self.build, "Stock for this model alone": self.stock})
        self.folds = {
            "obstacles": Fold("Screws, weights and posts inside", self.obstacles.view),
            "sections": Fold("Cross-sections of the shell", self.sections.view),
            "contents": Fold("How speaker, decoder and chamber are to be", contents),
            "passing": Fold("Lamps and wires", passing),
        }
        self.making = Fold("How parts are cut", making)
        _fold(self.folds["obstacles"], self.obstacles)
        _fold(self.folds["sections"], self.sections)
        _fold(self.folds["contents"], self.speaker, self.decoder, self.chamber)
        _fold(self.folds["passing"], self.lamps, self.wires)
        _fold(self.making, self.build, self.stock)

    @property
    def every(self) -> tuple[Editor, ...]:
        """Every editor, each made. [-]"""
        return tuple(each.made for each in self._places)

    @property
    def _places(self) -> list[LateEditor]:
        return [each for each in vars(self).values() if isinstance(each, LateEditor)]

    def clear(self) -> None:
        """Show nothing of a job any more: there is none."""
        for each in self._places:
            each.clear()

    def show(self, job: Job) -> None:
        """Fill every editor from a job, those in shut folds once these are opened.

        What is being typed stays while its own part of the job does.
        """
        for each in self._places:
            each.offer(job)


def _fold(fold: Fold, *editors: Editor) -> None:
    for each in editors:
        each.fold_into(fold)


def _under(editors: Mapping[str, Editor]) -> w.VBox:
    """Return editors below each other, each under its heading."""
    return w.VBox([part for title, each in editors.items() for part in (w.HTML(look.heading(title)), each.view)])
