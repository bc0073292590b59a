"""Job files: read with the place of every fault, written whole or not at all."""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass
from pathlib import Path

from modelmath.errors import JobError
from modelmath.files import write_whole
from modelmath.job.document import Job
from modelmath.job.storage.copies import Conflict, keep_ours, keep_previous, locked, mark_of, previous_copy
from modelmath.job.storage.text import Parsed, job_text, kept_up, parse_job, parsed

__all__ = [
    "LARGEST",
    "Conflict",
    "Opened",
    "Saved",
    "job_text",
    "load_job",
    "open_job",
    "parse_job",
    "read_job",
    "save_job",
    "store_job",
]

LARGEST = 2_000_000  # bytes; a job of a hundred zones has some 20,000


@dataclass(frozen=True)
class Opened:
    """A job and the file it was read from.

    Attributes
    ----------
    file : Path
        The file. [-]
    job : Job
        The job. [-]
    mark : str
        What the file was when it was read; `store_job` asks for it. [-]
    news : tuple of str
        What an earlier release had written otherwise, a sentence each; saving writes it as it is now. [-]
    """

    file: Path
    job: Job
    mark: str
    news: tuple[str, ...] = ()


@dataclass(frozen=True)
class Saved:
    """A job file as it was just written.

    Attributes
    ----------
    file : Path
        The file. [-]
    mark : str
        What it is now. [-]
    previous : Path or None
        The copy of what it was before; None where there was nothing, or nothing else. [-]
    comments_lost : bool
        Whether the file was laid out in a way that can't be kept up; its comments are in the copy. [-]
    """

    file: Path
    mark: str
    previous: Path | None = None
    comments_lost: bool = False

    def __str__(self) -> str:
        before = f" As it was before: {self.previous}." if self.previous else ""
        lost = " Its layout could not be kept up: the comments are in that copy alone." if self.comments_lost else ""
        return f"Saved as {self.file}.{before}{lost}"


def load_job(path: str | os.PathLike[str]) -> Job:
    """Read a job file.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    Job
        The job document. [-]

    Raises
    ------
    JobError
        For the first thing wrong: which file, field and line, what was given, what to write.

    References
    ----------
    TOML 1.0.0; the fields are those of `Job`.
    """
    return open_job(path).job


def open_job(path: str | os.PathLike[str]) -> Opened:
    """Read a job file that is to be saved again.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    Opened
        The job, with what the file was, and what was brought up to date. [-]

    Raises
    ------
    JobError
        For the first thing wrong: which file, field and line, what was given, what to write.

    References
    ----------
    TOML 1.0.0; the fields are those of `Job`.
    """
    file = Path(path)
    content = _content(file)
    found = _read(content, file.name)
    if found.job is None:
        raise found.faults[0]
    return Opened(file, found.job, mark_of(content), found.news)


def read_job(path: str | os.PathLike[str]) -> tuple[Job | None, list[JobError]]:
    """Read a job file, with every fault of form rather than the first.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    tuple of (Job or None, list of JobError)
        The job, or None with the faults. [-]

    References
    ----------
    TOML 1.0.0.
    """
    file = Path(path)
    try:
        content = _content(file)
    except JobError as fault:
        return None, [fault]
    found = _read(content, file.name)
    return found.job, found.faults


def _read(content: bytes, name: str) -> Parsed:
    try:
        return parsed(_text(content, name), name)
    except JobError as fault:
        return Parsed(None, [fault])


def _content(file: Path) -> bytes:
    """Return what a file holds."""
    try:
        _check_kind(file, file.stat())
        content = file.read_bytes()
    except JobError:
        raise
    except FileNotFoundError:
        raise JobError(str(file), "", "there is no such file", f"check the name and the folder{_lost(file)}") from None
    except (OSError, ValueError) as fault:  # a name with a NUL is a ValueError
        problem = f"it can't be read: {_reason(fault)}"
        raise JobError(str(file), "", problem, "check whether you may open it") from None
    return content


def _check_kind(file: Path, found: os.stat_result) -> None:
    if stat.S_ISDIR(found.st_mode):
        raise JobError(str(file), "", "it is a folder", "write the name of a job file in it")
    if not stat.S_ISREG(found.st_mode):
        raise JobError(str(file), "", "it is a device or a pipe, which may have no end", "write the name of a job file")
    if found.st_size > LARGEST:
        problem = f"it is larger than {LARGEST // 1000} kB"
        raise JobError(file.name, "", problem, "choose a job file, which is far smaller")


def _reason(fault: Exception) -> str:
    return (getattr(fault, "strerror", None) or str(fault) or "the system refuses").lower()


def _lost(file: Path) -> str:
    copy = previous_copy(file)
    return f"; as it was before its last save, it is kept as {copy}" if copy.is_file() else ""


def _text(content: bytes, name: str) -> str:
    """Return a file's text with its line ends as they are; the mark some editors put in front of UTF-8 goes."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise JobError(name, f"line {line}", "it is not UTF-8 text", "save it as UTF-8") from None


def save_job(job: Job, path: str | os.PathLike[str], since: str | None = None) -> Path:
    """Write a job file, whole or not at all; comments of the file that is there survive.

    A file that holds no readable job is left alone: it may be a job with one quote missing.

    Parameters
    ----------
    job : Job
        The job. [-]
    path : str or path
        Where to. [-]
    since : str or None
        What the file was when the job was read, as `Opened.mark`; empty where there was none; None to write over
        whatever is there. [-]

    Returns
    -------
    Path
        The file written. [-]

    Raises
    ------
    Conflict
        If the file is another than `since`: it is left as it is, and the job is kept beside it.
    JobError
        If the file can't be written or holds no readable job; what was there is untouched.

    References
    ----------
    POSIX ``rename``: replacing a file is atomic; ``fsync`` of file and folder before and after.
    """
    return store_job(job, path, since).file


def store_job(job: Job, path: str | os.PathLike[str], since: str | None = None) -> Saved:
    """Write a job file as `save_job` does, and say what it is now and where the copy before it lies.

    Parameters
    ----------
    job : Job
        The job. [-]
    path : str or path
        Where to. [-]
    since : str or None
        As for `save_job`. [-]

    Returns
    -------
    Saved
        The file, its mark, and the copy of what it was. [-]

    Raises
    ------
    Conflict, JobError
        As `save_job`.

    References
    ----------
    Optimistic concurrency control: H. T. Kung and J. T. Robinson, ACM TODS 6 (1981) 213.
    """
    file = Path(path)
    try:
        with locked(file):
            return _store(job, file, since)
    except JobError:
        raise
    except (OSError, ValueError) as fault:
        problem = f"it can't be written: {_reason(fault)}"
        raise JobError(str(file), "", problem, "choose another folder; nothing was changed") from None


def _store(job: Job, file: Path, since: str | None) -> Saved:
    if not file.exists():
        content = job_text(job).encode()
        write_whole(file, content, alone=True)
        return Saved(file, mark_of(content))
    there = _content(file)
    found = _read(there, file.name)
    before = _text(there, file.name) if found.job else ""
    text = kept_up(job, before)
    content = (text or job_text(job)).encode()
    if content == there:
        return Saved(file, mark_of(there))
    if since is not None and mark_of(there) != since:
        raise Conflict(str(file), keep_ours(file, content).name)
    if found.job is None:
        problem = f"it is there already and can't be read as a job ({found.faults[0]})"
        raise JobError(str(file), "", problem, "mend it or save under another name; nothing was changed")
    previous = keep_previous(file, there)
    write_whole(file, content, alone=True)
    return Saved(file, mark_of(content), previous, text is None and "#" in before)
