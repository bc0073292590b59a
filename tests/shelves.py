"""Shelves for tests: everything of some jobs put on one."""

from __future__ import annotations

from modelmath.job import Job
from modelmath.job.shelf import KINDS, Shelf, names_in, put_on_shelf


def all_of(*jobs: Job) -> Shelf:
    """Return a shelf with everything of some jobs on it."""
    shelf = Shelf()
    for each in jobs:
        for kind in KINDS:
            for name in names_in(each, kind):
                shelf = put_on_shelf(shelf, each, kind, name)
    return shelf
