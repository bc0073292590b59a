"""The jobs that were opened or saved last, kept in the workbook folder so that the start page can offer them.

The record holds names and times only. One that is lost, damaged or of a later release costs the list, nothing else.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Final

from modelmath.files import write_whole
from modelmath.workbook.alone import alone
from modelmath.workbook.folder import HIDDEN

FILE: Final = "recent.json"
MOST: Final = 30  # jobs kept; the start page shows a few of them
LARGEST: Final = 100_000  # bytes; a record of the most jobs has some 4,000
_MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
AHEAD: Final = timedelta(days=1)  # further than any two clocks that are right
FIRST, LAST = 1970, 9998  # years that every time zone can tell


@dataclass(frozen=True)
class Recent:
    """A job that was opened or saved.

    Attributes
    ----------
    name : str
        Name of its file, without the ending. [-]
    when : datetime
        When, with its time zone. [-]
    """

    name: str
    when: datetime


def recent_jobs(folder: Path) -> tuple[Recent, ...]:
    """Return the jobs that were opened or saved last.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]

    Returns
    -------
    tuple of Recent
        The latest first, each once; whether its file is still there is for the caller to see. What can't be read of the
        record is left out.

    References
    ----------
    ECMA-404; ISO 8601.

    Examples
    --------
    >>> recent_jobs(Path("nowhere"))
    ()
    """
    file = folder / HIDDEN / FILE
    try:
        if file.stat().st_size > LARGEST:
            return ()
        held = json.loads(file.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return ()
    entries = held.get("jobs") if isinstance(held, dict) else None
    found = [job for each in (entries if isinstance(entries, list) else []) if (job := _read(each)) is not None]
    found.sort(key=lambda job: job.when, reverse=True)
    return tuple({job.name: job for job in reversed(found)}.values())[::-1]


def _read(entry: Any) -> Recent | None:
    """Return one entry of the record; None where it is none."""
    try:
        name, when = entry["name"], datetime.fromisoformat(entry["when"])
    except (KeyError, TypeError, ValueError, IndexError):
        return None
    if not (isinstance(name, str) and name and when.tzinfo is not None):
        return None
    return Recent(name, when if FIRST <= when.year <= LAST else datetime(FIRST, 1, 2, tzinfo=UTC))


def when_in_words(when: datetime, now: datetime) -> str:
    """Return when something was, as one says it.

    Parameters
    ----------
    when : datetime
        When it was, with its time zone. [-]
    now : datetime
        Now, with the time zone of whoever reads it. [-]

    Returns
    -------
    str
        In that time zone. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from datetime import timezone
    >>> now = datetime(2026, 11, 26, 8, 0, tzinfo=timezone.utc)
    >>> when_in_words(datetime(2026, 11, 25, 21, 5, tzinfo=timezone.utc), now)
    'yesterday, 21:05'
    >>> when_in_words(datetime(2026, 3, 1, 21, 5, tzinfo=timezone.utc), now)
    '1 March 2026'
    """
    there = when.astimezone(now.tzinfo)
    days = (now.date() - there.date()).days
    if days in (0, 1):
        return f"{('today', 'yesterday')[days]}, {there:%H:%M}"
    return f"{there.day} {_MONTHS[there.month - 1]} {there.year}"


def note_job(folder: Path, name: str, when: datetime) -> None:
    """Note that a job was opened or saved.

    It is in the list whatever the clock says: what was noted while the clock was ahead counts as noted now.

    Parameters
    ----------
    folder : Path
        The workbook folder. [-]
    name : str
        Name of the job's file, without the ending. [-]
    when : datetime
        When, with its time zone. [-]

    Raises
    ------
    OSError
        If the record can't be written; the one before it stays.

    References
    ----------
    POSIX ``rename``: replacing a file is atomic.
    """
    file = folder / HIDDEN / FILE
    file.parent.mkdir(parents=True, exist_ok=True)
    with alone(file):
        others = [job for job in recent_jobs(folder) if job.name != name]
        told = [replace(job, when=when) if job.when > when + AHEAD else job for job in others]
        jobs = sorted([Recent(name, when), *told[: MOST - 1]], key=lambda job: job.when, reverse=True)
        held = {"jobs": [{"name": job.name, "when": job.when.isoformat(timespec="microseconds")} for job in jobs]}
        write_whole(file, (json.dumps(held, indent=1) + "\n").encode(), through_links=False, synced=False)
