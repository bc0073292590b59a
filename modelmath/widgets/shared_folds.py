"""The folds for what outlives one model: the next model, and the shelf that jobs share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from modelmath.job import Job
from modelmath.widgets.plan.folds import PlanFold
from modelmath.widgets.plan.next_model import NextModel
from modelmath.widgets.shelf import ShelfPart


class SharedFolds:
    """Both folds, in their order.

    Parameters
    ----------
    opened : callable
        Called with the name of a new job's file, to open it. [-]
    edited : callable
        Called with the job, once something of it was changed there. [-]
    file : callable
        Returns the file of the job that is open; None where it has none. [-]
    """

    def __init__(
        self, opened: Callable[[str], None], edited: Callable[[Job], None], file: Callable[[], Path | None]
    ) -> None:
        self.next_model = NextModel(opened, edited)
        self.shelf = ShelfPart(edited, file)
        self.folds: dict[str, PlanFold] = {"next": self.next_model.fold, "shelf": self.shelf.fold}
