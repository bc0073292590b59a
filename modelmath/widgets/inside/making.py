"""Editors for how the holes lie, and for the weights."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import holes, weight
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import Editor, Lines, OnChange

HOLES = (
    "Where strands and wires pass a wall. A web is the material left between two holes, or between a hole and an edge. "
    "Write the unit with every size."
)
WEIGHT = (
    "Weigh one end at a time, the other truck level beside the scale. Places count behind the fore-aft mark; ahead of "
    "it they are below 0, as -5 mm. Write g with every weight."
)


class HolesEditor(Editor):
    """How the holes lie, which are moved by hand, and the circuits.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "way": Field("The holes lie", "how they are set out on the wall", options=list(holes.WAYS)),
            "height": Field("Height of the row", "above the wall's lower edge; empty: as it comes out best"),
            "web": Field("Least web between holes", "empty: 1 mm"),
            "edge": Field("Least web to an edge", "empty: 1 mm"),
            "apart": Field("Least web between circuits", "where two are kept apart; empty: as between holes"),
            "moved": Lines("Holes moved by hand", f"from the middle, above the lower edge: {holes.MOVED_EXAMPLE}"),
            "circuits": Lines("Circuits of lamps and wires", f"such as {holes.CIRCUIT_EXAMPLE}"),
        }
        super().__init__(on_change, fields, HOLES)

    def texts(self, job: Job) -> dict[str, str]:
        """Return how the holes lie as texts, by field."""
        return holes.holes_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return holes.with_holes(job, typed)


class WeightEditor(Editor):
    """What each end weighs, and what is taken off or put in.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("weight",)

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "front_truck": Field("Front truck's middle", "behind the fore-aft mark, such as -5 mm"),
            "rear_truck": Field("Rear truck's middle", "behind the fore-aft mark, such as 70 mm"),
            "front_grams": Field("The front end weighs", "such as 120 g"),
            "rear_grams": Field("The rear end weighs", "such as 110 g"),
            "driven": Field("Driven by", "the wheels that pull", options=list(weight.DRIVEN)),
            "changes": Lines("Put in or taken off, one on each line", f"such as {weight.CHANGE_EXAMPLE}"),
        }
        super().__init__(on_change, fields, WEIGHT)

    def texts(self, job: Job) -> dict[str, str]:
        """Return the weights as texts, by field."""
        return weight.weight_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return weight.with_weight(job, typed)
