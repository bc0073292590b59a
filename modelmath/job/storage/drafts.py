"""Drafts: what was entered and not saved yet, written after every edit, so that nothing is lost when a page dies.

Each time a job is opened for editing its draft gets a file of its own: an older draft that nobody has decided on yet
is never written over, nor is that of another page. A draft is compact JSON, replaced whole.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from modelmath.errors import JobError
from modelmath.files import file_name, write_whole
from modelmath.job.document import Job
from modelmath.job.storage.copies import OWN_FOLDER
from modelmath.job.storage.files import LARGEST
from modelmath.job.storage.text import from_document

FORMAT_OF_DRAFTS = 1
DRAFTS = "drafts"


@dataclass(frozen=True)
class Draft:
    """A job with what was not saved yet.

    Attributes
    ----------
    file : Path
        The draft's own file. [-]
    job : Job
        The job as it was after the last edit. [-]
    chosen : str
        Name under which the job was chosen; empty for a new model. [-]
    since : str
        Mark of the job's file when it was read, as `Opened.mark`; empty for a new model. [-]
    when : str
        Day and time of the last edit, local. [-]
    typed : mapping of str to str
        What stood in each field, where it gave no job yet: the job is the one before. [-]
    """

    file: Path
    job: Job
    chosen: str = ""
    since: str = ""
    when: str = ""
    typed: Mapping[str, str] = field(default_factory=dict)


def drafts_folder(workbook: Path) -> Path:
    """Return where the drafts of a workbook lie.

    Parameters
    ----------
    workbook : Path
        The workbook folder. [-]

    Returns
    -------
    Path
        A hidden folder in it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> drafts_folder(Path("/workbook")).as_posix()
    '/workbook/.modelmath/drafts'
    """
    return workbook / OWN_FOLDER / DRAFTS


def draft_file(folder: Path, name: str) -> Path:
    """Return a file for a new draft, one that no other page has.

    Parameters
    ----------
    folder : Path
        Where the drafts lie. [-]
    name : str
        The model's name. [-]

    Returns
    -------
    Path
        Not there yet. [-]

    References
    ----------
    None needed.
    """
    return folder / f"{file_name(name)}.{secrets.token_hex(8)}.json"


def write_draft(draft: Draft) -> None:
    """Write a draft, whole or not at all.

    Parameters
    ----------
    draft : Draft
        The draft; its folder is made when missing. [-]

    Raises
    ------
    OSError
        If it can't be written; what was there is untouched.

    References
    ----------
    ECMA-404; POSIX ``rename``. It outlives a page that is killed at any moment. It may not outlive a power cut in the
    few seconds before the system writes it down: waiting for the disk after each edit would make the page slow.
    """
    told: dict[str, object] = {"draft": FORMAT_OF_DRAFTS, "chosen": draft.chosen, "since": draft.since}
    if draft.typed:
        told["typed"] = dict(draft.typed)
    head = json.dumps(told, separators=(",", ":"))
    content = f'{head[:-1]},"job":{draft.job.model_dump_json(exclude_none=True)}}}'.encode()
    try:
        write_whole(draft.file, content, through_links=False, alone=True, synced=False)
    except FileNotFoundError:
        draft.file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(draft.file, content, through_links=False, alone=True, synced=False)


def read_draft(file: Path) -> Draft:
    """Read a draft.

    Parameters
    ----------
    file : Path
        Its file. [-]

    Returns
    -------
    Draft
        The draft; one of an earlier release is brought up to date. [-]

    Raises
    ------
    JobError
        If it can't be read, or is none.

    References
    ----------
    ECMA-404.
    """
    try:
        found = file.stat()
        if found.st_size > LARGEST:
            raise JobError(file.name, "", "it is too large for a draft", "drop it")
        held = json.loads(file.read_bytes())
    except OSError as fault:
        reason = (fault.strerror or "the system refuses").lower()
        raise JobError(file.name, "", f"the draft can't be read: {reason}", "check the folder, or drop it") from None
    except JobError:
        raise
    except (ValueError, RecursionError):
        raise JobError(file.name, "", "the draft is damaged", "drop it, or mend it: it is JSON") from None
    fields = held if isinstance(held, dict) else {}
    job, chosen, since, version = (fields.get(name) for name in ("job", "chosen", "since", "draft"))
    if not (isinstance(job, dict) and isinstance(chosen, str) and isinstance(since, str) and isinstance(version, int)):
        raise JobError(file.name, "", "it is no draft of a job", "drop it")
    if version > FORMAT_OF_DRAFTS:
        problem = f"the draft has format {version}, newer than this release reads ({FORMAT_OF_DRAFTS})"
        raise JobError(file.name, "", problem, "install a newer release to take it up")
    parsed = from_document(job, file.name)
    if parsed.job is None:
        raise parsed.faults[0]
    return Draft(file, parsed.job, chosen, since, _when(found.st_mtime), _typed(fields.get("typed")))


def _when(seconds: float) -> str:
    try:
        return datetime.fromtimestamp(seconds).strftime("%Y-%m-%d %H:%M")
    except (OverflowError, ValueError, OSError):  # a clock that was wrong by thousands of years
        return "at a time that can't be told"


def _typed(held: object) -> dict[str, str]:
    """Return what stood in the fields; what is no text is left out."""
    entries = held.items() if isinstance(held, dict) else ()
    return {name: text for name, text in entries if isinstance(text, str)}


def drafts_in(folder: Path) -> tuple[list[Draft], list[JobError]]:
    """Return all drafts of a folder, the latest first.

    Parameters
    ----------
    folder : Path
        Where the drafts lie. [-]

    Returns
    -------
    tuple of (list of Draft, list of JobError)
        The drafts, and why some can't be read: those stay where they are. [-]

    References
    ----------
    None needed.
    """
    found: list[Draft] = []
    faults: list[JobError] = []
    for file in sorted(folder.glob("*.json"), key=_age, reverse=True) if folder.is_dir() else ():
        try:
            found.append(read_draft(file))
        except JobError as fault:
            faults.append(fault)
    return found, faults


def _age(file: Path) -> tuple[int, str]:
    try:
        return file.stat().st_mtime_ns, file.name
    except OSError:  # dropped by another page just now
        return 0, file.name


def drop_draft(file: Path) -> None:
    """Drop a draft; one that is gone already is dropped.

    Parameters
    ----------
    file : Path
        Its file. [-]

    Raises
    ------
    OSError
        If the system refuses.

    References
    ----------
    None needed.
    """
    file.unlink(missing_ok=True)
