"""An editor for what stands in the shell."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import obstacles
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import ListEditor, OnChange

ABOVE = (
    "Each as an upright box: where it starts and ends along the length, how high its top stands above the seat. "
    "Write the unit with every size."
)


class ObstaclesEditor(ListEditor):
    """The obstacles of a job, one at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("obstacle",)
    mind = ("metal", "electricity")

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "name": Field("What stands there", "a name of its own, such as motor clip"),
            "kind": Field("Kind", "what it is, as the sheets name it", options=obstacles.KINDS),
            "start": Field("Starts at", "from the front end of the half it is read on; such as 35 mm"),
            "start_on": Field("Its start is read on", "the half that the rule lay on", options=list(obstacles.HALVES)),
            "end": Field("Ends at", "from the same front end; such as 45 mm"),
            "end_on": Field("Its end is read on", "the half that the rule lay on", options=list(obstacles.HALVES)),
            "reach": Field("It reaches", "up to the roof: such as a screw post", options=list(obstacles.REACHES)),
            "top": Field("Height of its top", "above the seat, on which the shell rests; such as 14 mm"),
            "width": Field("Its width", "across the shell; empty: as wide as the shell"),
            "off_centre": Field("Its middle is right of the centre line by", "-2 mm for left; empty: in the middle"),
            "running": Field("Gap kept round it", "on every side; empty: 0.5 mm"),
            "trim": Field("May come off its top", "as far as it can be filed down; empty: nothing"),
        }
        words = ("Obstacle", "a new one", "Add this obstacle", "Take this obstacle out")
        super().__init__(on_change, fields, ABOVE, *words)

    def texts(self, job: Job) -> dict[str, str]:
        """Return the obstacle shown as texts, by field."""
        return obstacles.obstacle_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return obstacles.with_obstacle(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return the names of the obstacles."""
        return [each.name for each in job.obstacles]

    def without(self, job: Job, place: int) -> Job:
        """Return a job without one of its obstacles."""
        return obstacles.without_obstacle(job, place)
