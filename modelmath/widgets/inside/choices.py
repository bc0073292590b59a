"""An editor for speakers to compare with the plan's own."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import choices
from modelmath.job.entries.inside.contents import SHAPES
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.inside.editor import ListEditor, OnChange

ABOVE = (
    "Speakers you think of buying, one at a time: the outside sizes, and what is known of the sound, each with its "
    "unit. Each is compared facing every way; what is left empty of its sound is derived or bounded."
)
EXAMPLE = "sizes and sound of an invented speaker, no maker's, in place of what is typed"
EMPTY = "(none)"
FIRST = (
    "name", "length", "width", "flange", "depth", "round", "impedance", "power", "fs", "qts", "vas",
)  # fmt: skip


class ChoicesEditor(ListEditor):
    """The speakers to compare with the plan's own, one at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("speaker to compare", "behind the flange")

    def __init__(self, on_change: OnChange) -> None:
        self.example = Field("Start from an example", EXAMPLE, options=[EMPTY, *choices.example_names()])
        fields = {
            "name": Field("What it is called", "a name of its own, such as thin speaker"),
            "length": Field("Its length", "over the flange; a round one's diameter; such as 26 mm"),
            "width": Field("Its width", "over the flange; a round one's diameter; such as 16 mm"),
            "flange": Field("Its flange is thick", "where it rests on its supports; such as 1.2 mm"),
            "depth": Field("Its depth", "from its face to the back of the magnet; such as 6 mm"),
            "round": Field("Its shape", "of its flange, seen from the front", options=list(SHAPES)),
            "impedance": Field("Its impedance", "as it is rated, such as 8 ohm"),
            "power": Field("Its power", "as it is rated, such as 1 W; empty: not known"),
            "fs": Field("Resonance in free air, fs", "such as 450 Hz; empty: bounded"),
            "qts": Field("Total Q, Qts", "such as 0.9; empty: bounded"),
            "vas": Field("Equivalent volume, Vas", "such as 2.5 cm3; empty: bounded"),
            "qes": Field("Electrical Q, Qes", "such as 1.1"),
            "qms": Field("Mechanical Q, Qms", "such as 4"),
            "sd": Field("Cone area, Sd", "such as 110 mm2"),
            "re": Field("Voice coil resistance, Re", "such as 7.2 ohm"),
            "xmax": Field("Cone travel one way, Xmax", "such as 0.4 mm"),
            "mms": Field("Moving mass, Mms", "such as 0.15 g"),
            "le": Field("Voice coil inductance, Le", "such as 0.05 mH; kept, no answer here needs it"),
            "basket_length": Field("Length behind the flange", "of what stands there; empty: as the flange"),
            "basket_width": Field("Width behind the flange", "of what stands there; empty: as the flange"),
            "terminals": Field("Terminals stand out by", "behind its depth, wires too; empty: nothing"),
            "travel": Field("The cone moves out by", "over its face; empty: nothing"),
            "rim": Field("Rim round the cone", "width of the flange there; empty: not known"),
        }
        words = ("Speaker to compare", "a new one", "Add this speaker", "Take this speaker out")
        super().__init__(on_change, fields, ABOVE, *words)
        self.example.on_change(self._exemplify)
        hint, which, box, buttons, note = self.view.children
        self.view.children = [hint, which, row(self.example), box, buttons, note]
        self._show_buttons()

    def _lay_out(self, fields: Mapping[str, Field]) -> None:
        super()._lay_out(fields)
        rest = [field for name, field in fields.items() if name not in FIRST]
        self.more = Fold("More about this speaker", row(*rest))
        self.box.children = [row(*(fields[name] for name in FIRST)), self.more.view]

    def _show_buttons(self) -> None:
        super()._show_buttons()
        self.example.view.layout.display = "" if self.place is None else "none"

    def _fill(self) -> None:
        filling, self._filling = self._filling, True
        self.example.value = EMPTY
        self._filling = filling
        super()._fill()

    def _exemplify(self) -> None:
        """Fill the fields of a new one from the example chosen."""
        if self._filling or self.example.value == EMPTY or self.place is not None:
            return
        self.catch_up()
        self._filling = True
        for name, text in choices.example_texts(self.example.value).items():
            self.fields[name].value = text
        self._filling = False
        self._typed()

    def texts(self, job: Job) -> dict[str, str]:
        """Return the speaker shown as texts, by field."""
        return choices.choice_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return choices.with_choice(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return the names of the speakers to compare."""
        return choices.choice_names(job)

    def without(self, job: Job, place: int) -> Job:
        """Return a job without one of its speakers to compare."""
        return choices.without_choice(job, place)
