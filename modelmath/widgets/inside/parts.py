"""Editors for how parts are made, and for stock that only this job is cut from."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import parts
from modelmath.job.entries.inside.form import YES_NO
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import Editor, ListEditor, OnChange

BUILD = "An empty field has its usual value. Write the unit with every size."
STOCK = (
    "Only if this model is not to be cut from your drawer: once anything is listed here, the list takes the drawer's "
    "place. Write the unit with every size."
)


class BuildEditor(Editor):
    """How parts are made.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "wall": Field("Thickness of the walls", "and of the floor; empty: .040 in"),
            "post": Field("Corner posts and supports", "how stout; empty: .100 in"),
            "kerf": Field("A cut takes", "the width of the saw's or knife's cut; empty: nothing"),
            "end_trim": Field("Trimmed off a strip's end", "before the first part; empty: 1 mm"),
            "least_offcut": Field("Shortest offcut worth keeping", "empty: 20 mm"),
            "new_strip": Field("Length of new strip", "as it is sold; empty: 14 in"),
            "new_sheet_length": Field("Length of new sheet", "as it is sold; empty: 12 in"),
            "new_sheet_width": Field("Width of new sheet", "as it is sold; empty: 6 in"),
            "hole_clearance": Field("A hole is wider by", "than what passes it; empty: 0.05 mm"),
            "count": Field("Models to build", "all alike, their parts cut and bought together; empty: 1"),
        }
        super().__init__(on_change, fields, BUILD)

    def texts(self, job: Job) -> dict[str, str]:
        """Return how parts are made as texts, by field."""
        return parts.build_texts(job)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return parts.with_build(job, typed)


class StockEditor(ListEditor):
    """The strip and sheet that only this job is cut from, one kind at a time.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    def __init__(self, on_change: OnChange) -> None:
        fields = {
            "kind": Field("Strip or sheet", "which of the two it is", options=list(parts.KINDS)),
            "size": Field("Size, by its name", "such as HO 6x10, .100 sq, or .040 sheet"),
            "length": Field("Its length", "such as 14 in"),
            "width": Field("Its width", "of a sheet only, such as 6 in"),
            "count": Field("How many alike", "empty: 1"),
            "offcut": Field("It is an offcut", "left over from earlier work", options=list(YES_NO)),
        }
        words = ("Stock", "a new one", "Add this stock", "Take this stock out")
        super().__init__(on_change, fields, STOCK, *words)

    def texts(self, job: Job) -> dict[str, str]:
        """Return the stock shown as texts, by field."""
        return parts.stock_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return parts.with_stock(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return name and size of each."""
        return parts.stock_names(job)

    def without(self, job: Job, place: int) -> Job:
        """Return a job without one strip or sheet of its own."""
        return parts.without_stock(job, place)
