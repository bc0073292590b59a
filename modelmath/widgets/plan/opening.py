"""Which job the walkthrough opens: the one its address asks for, the one chosen last, or the demo."""

from __future__ import annotations

import os
from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final
from urllib.parse import parse_qs, quote

from modelmath.widgets.common import places
from modelmath.workbook.folder import source_home
from modelmath.workbook.recent import note_job, recent_jobs

DEMO: Final = "switcher-ho"
PAGE: Final = "enclosure.ipynb"
JOB: Final = "job"  # in the address: the name of a job's file, without its ending
NEW: Final = "new"  # in the address, with any value: a new model
QUERY: Final = "QUERY_STRING"  # where the app view hands a page's query to its kernel; there is none in JupyterLab
MOST_FIELDS: Final = 20
LONGEST: Final = 2000  # characters of a query that are looked at


@dataclass(frozen=True)
class Opening:
    """What the walkthrough opens.

    Attributes
    ----------
    job : str or None
        Name of the job's file, without its ending; None for a new model. [-]
    asked : bool
        Whether it was asked for or chosen, rather than the demo that opens by itself. [-]
    problem : str
        Why it is not what was asked for; empty where it is. [-]
    """

    job: str | None
    asked: bool = False
    problem: str = ""


def asked_for(query: str, names: Collection[str]) -> Opening:
    """Read what an address asks for; nothing in it counts but the name of a job that is there, or ``new``.

    Parameters
    ----------
    query : str
        What stands behind the address' question mark. [-]
    names : collection of str
        The jobs there are. [-]

    Returns
    -------
    Opening
        The demo where nothing is asked for, and with a message where that is not there. [-]

    References
    ----------
    WHATWG URL Standard, ``application/x-www-form-urlencoded`` parsing.

    Examples
    --------
    >>> asked_for("job=hood-unit&token=secret", ["hood-unit"])
    Opening(job='hood-unit', asked=True, problem='')
    >>> asked_for("job=../../etc/passwd", ["hood-unit"]).problem
    "There is no job called '../../etc/passwd' in this workbook; the demo is open instead."
    >>> asked_for("new=1", []).job is None
    True
    """
    try:
        fields = parse_qs(query[:LONGEST], keep_blank_values=True, errors="surrogateescape", max_num_fields=MOST_FIELDS)
    except ValueError:
        return Opening(DEMO, problem="What the page's address asks for can't be read; the demo is open instead.")
    if JOB in fields:
        name = fields[JOB][-1]
        if name in names:
            return Opening(name, asked=True)
        said = f"There is no job called {_shown(name)} in this workbook; the demo is open instead."
        return Opening(DEMO, problem=said)
    return Opening(None, asked=True) if NEW in fields else Opening(DEMO)


def _shown(name: str) -> str:
    short = name if len(name) <= 60 else f"{name[:57]}..."
    return repr(short.encode("ascii", "replace").decode() if not short.isprintable() else short)


def link_to(name: str) -> str:
    """Return the address of the walkthrough on a job, from another page of the workbook.

    Parameters
    ----------
    name : str
        Name of the job's file, without its ending. [-]

    Returns
    -------
    str
        Beside the page that it stands on. [-]

    References
    ----------
    RFC 3986, percent-encoding.

    Examples
    --------
    >>> link_to("hood & cab")
    'enclosure.ipynb?job=hood%20%26%20cab'
    """
    return f"{PAGE}?{JOB}={quote(name, safe='', errors='surrogateescape')}"


def in_app_view(environ: Mapping[str, str] | None = None) -> bool:
    """Whether this page is the app view's, whose links lead to other pages, rather than a notebook in JupyterLab.

    Parameters
    ----------
    environ : mapping of str to str or None
        The environment; this process' own when left out. [-]

    Returns
    -------
    bool
        True in the app view. [-]

    References
    ----------
    RFC 3875, section 4.1.7.

    Examples
    --------
    >>> in_app_view({"QUERY_STRING": ""}), in_app_view({})
    (True, False)
    """
    return QUERY in (os.environ if environ is None else environ)


def what_to_open(environ: Mapping[str, str] | None = None) -> Opening:
    """Return which job the walkthrough opens.

    The app view opens what its address asks for; JupyterLab, which has no such address, the job that was chosen last.
    Where neither says anything it is the demo, as it always is in the program's own folders.

    Parameters
    ----------
    environ : mapping of str to str or None
        The environment; this process' own when left out. [-]

    Returns
    -------
    Opening
        The job, or a new model; and a message where what was asked for is not there or can't be read. [-]

    References
    ----------
    RFC 3875, section 4.1.7: ``QUERY_STRING``.
    """
    from modelmath.errors import JobError
    from modelmath.job.storage.files import open_job

    found, files = _wanted(os.environ if environ is None else environ), places.job_files()
    if found.job is None or not found.asked:
        return found
    try:
        open_job(files[found.job])
    except JobError as reason:
        return Opening(DEMO, problem=f"{found.job} can't be opened, and the demo is open instead: {reason}")
    return found


def _wanted(environ: Mapping[str, str]) -> Opening:
    names = places.job_files()
    if in_app_view(environ):
        return asked_for(environ[QUERY], names)
    if source_home(Path.cwd()) is None:
        last = next((job.name for job in recent_jobs(places.workbook_folder()) if job.name in names), None)
        if last is not None:
            return Opening(last, asked=True)
    return Opening(DEMO)


def note_opened(name: str) -> None:
    """Note that a job was opened or saved, for the start page; a folder that refuses only costs the list.

    Parameters
    ----------
    name : str
        Name of the job's file, without its ending. [-]

    References
    ----------
    None needed.
    """
    with suppress(OSError):
        note_job(places.workbook_folder(), name, datetime.now().astimezone())
