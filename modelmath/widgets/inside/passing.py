"""Editors for lamps with their strands, and for wires that pass a wall."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import passing
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import ListEditor, OnChange

LAMPS = (
    "Each lamp takes some of the length at its end, and a strand that leads from it passes the wall there. Write the "
    "unit with every size."
)
WIRES = "What else passes a wall: one entry for all wires of one thickness. Write the unit with every size."
CIRCUIT = "holes of one circuit may lie close; empty: its own"


class LampsEditor(ListEditor):
    """The lamps of a job, one at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("lamp",)

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("The lamp", "a name of its own, such as headlight"),
            "end": Field("It stands at the", "end of the shell that it lights", options=list(passing.ENDS)),
            "room": Field("Room it takes there", "along the length, such as 6 mm"),
            "strand": Field("Thickness of a strand", "as 0.5 mm, its sleeve too; empty: none leads from it"),
            "strands": Field("Number of strands", "each has a hole of its own; empty: 1"),
            "circuit": Field("Circuit of the lamp", CIRCUIT),
        }
        super().__init__(on_change, fields, LAMPS, "Lamp", "a new one", "Add this lamp", "Take this lamp out")

    def texts(self, job: Job) -> dict[str, str]:
        """Return the lamp shown as texts, by field."""
        return passing.lamp_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return passing.with_lamp(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return the names of the lamps."""
        return [each.name for each in job.lamps]

    def without(self, job: Job, place: int) -> Job:
        """Return a job without one of its lamps."""
        return passing.without_lamp(job, place)


class WiresEditor(ListEditor):
    """The wires of a job, one thickness at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("The wires", "a name of their own, such as motor wires"),
            "diameter": Field("Thickness of one", "over its insulation, such as 0.6 mm"),
            "count": Field("Number of wires", "each has a hole of its own; empty: 1"),
            "circuit": Field("Circuit of the wires", CIRCUIT),
        }
        words = ("Wires", "new ones", "Add these wires", "Take these wires out")
        super().__init__(on_change, fields, WIRES, *words)

    def texts(self, job: Job) -> dict[str, str]:
        """Return the wires shown as texts, by field."""
        return passing.wire_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return passing.with_wire(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return the names of the wires."""
        return [each.name for each in job.wires]

    def without(self, job: Job, place: int) -> Job:
        """Return a job without wires of one thickness."""
        return passing.without_wire(job, place)
