"""One entry of a list of what lights: found, put in, taken out, and its faults beside their fields."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from modelmath.errors import JobError
from modelmath.job.document import Job
from modelmath.job.entries.inside.form import FieldAt, Form


def row_of(form: Form, table: str, place: int | None, blank: dict[str, Any]) -> tuple[dict[str, Any], int]:
    """Return the entry that a form is about, and its place; a new one is put in.

    Parameters
    ----------
    form : Form
        The form. [-]
    table : str
        The list within ``light``. [-]
    place : int or None
        Which of its entries, from 0; None for a new one. [-]
    blank : dict
        A new one. [-]

    Returns
    -------
    tuple of dict and int
        The entry, to be changed, and its place. [-]

    References
    ----------
    None needed.
    """
    entries: list[dict[str, Any]] = form.document["light"][table]
    at = len(entries) if place is None else place
    if place is None:
        entries.append(blank)
    return entries[at], at


def in_row(table: str, place: int, fields: Collection[str]) -> FieldAt:
    """Return what says beside which field a fault of one entry belongs; of two of one name the later is told.

    Parameters
    ----------
    table : str
        The list within ``light``. [-]
    place : int
        Which of its entries, from 0. [-]
    fields : collection of str
        Those of the form. [-]

    Returns
    -------
    callable
        For `Form.outcome`. [-]

    References
    ----------
    None needed.
    """

    def field_at(fault: JobError, _job: Job) -> str:
        if fault.path[:2] != ("light", table) or len(fault.path) < 4:
            return ""
        at, field = fault.path[2:4]
        return str(field) if field in fields and (at == place or field in ("name", "lamp")) else ""

    return field_at


def without(job: Job, table: str, place: int) -> Job:
    """Return a job without one entry of a list.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    table : str
        The list within ``light``. [-]
    place : int
        Which of its entries, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    document = job.model_dump()
    document["light"][table].pop(place)
    return Job.model_validate(document)
