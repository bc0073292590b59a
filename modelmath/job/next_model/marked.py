"""Readings that nobody read on this model: copied from another, or moved in the drawing. How that is said, and goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from modelmath.errors import UnknownChoice
from modelmath.job.document import Job, ReadingEntry

MOST_NAMES = 6  # said one by one; the rest is counted
COPIED = "Copied from"  # how the caution begins
MOVED = "Moved in the drawing"


def copied_readings(job: Job) -> tuple[ReadingEntry, ...]:
    """Return the readings that are not read on this model yet.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    tuple of ReadingEntry
        In the job's order; none where all are this model's own. [-]

    References
    ----------
    None needed.
    """
    return tuple(each for each in job.readings if each.copied is not None)


def moved_readings(job: Job) -> tuple[ReadingEntry, ...]:
    """Return the readings that were moved in the drawing, and not read since.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    tuple of ReadingEntry
        In the job's order; none where all stand as they were read. [-]

    References
    ----------
    None needed.
    """
    return tuple(each for each in job.readings if each.moved_from is not None)


def moved_warnings(job: Job) -> Iterator[str]:
    """Yield which readings were moved in the drawing.

    Parameters
    ----------
    job : Job
        The job. [-]

    Yields
    ------
    str
        A sentence for the top of the plan and the bench card. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job
    >>> job = blank_job()
    >>> roof = job.readings[0].model_copy(update={"moved_from": "8"})
    >>> print(*moved_warnings(job.model_copy(update={"readings": [roof]})))
    Moved in the drawing, not read: read again before you cut, or put it back. Moved: 'roof'.
    """
    moved = [each.name for each in moved_readings(job)]
    if moved:
        yield f"{MOVED}, not read: read again before you cut, or put it back. Moved: {listed(moved)}."


def listed(names: Iterable[str], most: int = MOST_NAMES) -> str:
    """Return names in a row, those over a number counted.

    Parameters
    ----------
    names : iterable of str
        The names. [-]
    most : int
        How many are said. [-]

    Returns
    -------
    str
        In quotes, as a name may hold a comma. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> print(listed(["roof", "inside, width", "length"], 2))
    'roof', 'inside, width' and 1 more
    """
    every = [f"'{name}'" for name in names]
    more = f" and {len(every) - most} more" if len(every) > most else ""
    return ", ".join(every[:most]) + more


def copied_warnings(job: Job) -> Iterator[str]:
    """Yield, for each model that readings were copied from, which of them are not read on this one.

    Parameters
    ----------
    job : Job
        The job. [-]

    Yields
    ------
    str
        A sentence for the top of the plan and the bench card. [-]

    References
    ----------
    None needed.
    """
    found: dict[str, list[str]] = {}
    for reading in copied_readings(job):
        found.setdefault(str(reading.copied), []).append(reading.name)
    for model, names in found.items():
        yield f"{COPIED} {model}, not measured: measure again before you cut. Not read here yet: {listed(names)}."


def freshly_read(before: Job, after: Job) -> Job:
    """Return an edited job in which no reading that was typed anew still counts as copied or as moved.

    Parameters
    ----------
    before, after : Job
        The job before the edit, and after it. [-]

    Returns
    -------
    Job
        A reading keeps its mark only where one of its name had it before, with the same marks. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job
    >>> job = blank_job()
    >>> roof = job.readings[0].model_copy(update={"copied": "No. 31"})
    >>> before = job.model_copy(update={"readings": [roof, *job.readings[1:]]})
    >>> after = before.model_copy(update={"readings": [roof.model_copy(update={"mark": "8"}), *job.readings[1:]]})
    >>> [each.copied for each in freshly_read(before, after).readings], before.readings[0].copied
    ([None, None], 'No. 31')
    """
    marked = _not_read(after)
    if not marked:
        return after
    kept = {(each.name, each.mark, *each.again) for each in _not_read(before)}
    return as_read(after, {each.name for each in marked if (each.name, each.mark, *each.again) not in kept})


def _not_read(job: Job) -> tuple[ReadingEntry, ...]:
    return tuple(each for each in job.readings if each.copied is not None or each.moved_from is not None)


def as_read(job: Job, names: Iterable[str]) -> Job:
    """Return a job in which some readings count as read on this model, as they stand.

    Parameters
    ----------
    job : Job
        The job. [-]
    names : iterable of str
        The readings. [-]

    Returns
    -------
    Job
        A new job, or the same where none of them was copied or moved. [-]

    Raises
    ------
    UnknownChoice
        If the job has no reading of a name.

    References
    ----------
    None needed.
    """
    wanted = set(names)
    known = [each.name for each in job.readings]
    for name in sorted(wanted):
        if name not in known:
            raise UnknownChoice("the reading", name, known)
    if not any(each.name in wanted for each in _not_read(job)):
        return job
    read = {"copied": None, "moved_from": None}
    readings = [each.model_copy(update=read) if each.name in wanted else each for each in job.readings]
    return job.model_copy(update={"readings": readings})
