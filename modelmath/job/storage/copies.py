"""Copies of a job file: the one before its last save, and ours where it was changed elsewhere; and its lock.

They lie beside the file: the earlier copies and the locks in a hidden folder, ours where it is seen.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from itertools import count
from pathlib import Path

from modelmath.errors import JobError
from modelmath.files import LONGEST_NAME, write_whole

OWN_FOLDER = ".modelmath"  # hidden; beside the job files, and in the workbook folder
PREVIOUS = "previous"
CHANGED_HERE = "changed-here"
WAIT_S = 10  # for another page that is writing; a write takes a fraction of a second


class Conflict(JobError):
    """A job file was changed elsewhere since it was read: it is left as it is, and ours is kept beside it."""

    def __init__(self, file: str, ours: str) -> None:
        problem = "it was changed elsewhere since it was read, and is left as it is"
        super().__init__(
            file, "", problem, f"yours is kept beside it as {ours}: compare the two, and give one another name"
        )
        self.args = (file, ours)
        self.ours = ours


def mark_of(content: bytes) -> str:
    """Return the mark of a file's content, by which a later change is seen.

    Parameters
    ----------
    content : bytes
        The file. [-]

    Returns
    -------
    str
        A digest. [-]

    References
    ----------
    FIPS 180-4, SHA-256.

    Examples
    --------
    >>> mark_of(b"")[:12]
    'e3b0c44298fc'
    """
    return sha256(content).hexdigest()


def previous_copy(path: str | os.PathLike[str]) -> Path:
    """Return where the copy of a job file before its last save is kept, whether there is one yet or not.

    Parameters
    ----------
    path : str or path
        The job file. [-]

    Returns
    -------
    Path
        In a hidden folder beside it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> previous_copy("/jobs/hood.toml").as_posix()
    '/jobs/.modelmath/previous/hood.toml'
    """
    file = Path(path).resolve()
    return file.parent / OWN_FOLDER / PREVIOUS / file.name


def keep_previous(file: Path, content: bytes) -> Path:
    """Keep a copy of a job file as it is, in place of the one kept before.

    Parameters
    ----------
    file : Path
        The job file. [-]
    content : bytes
        What it holds. [-]

    Returns
    -------
    Path
        The copy. [-]

    Raises
    ------
    OSError
        If it can't be written; the copy kept before is untouched.

    References
    ----------
    As `modelmath.files.write_whole`.
    """
    copy = previous_copy(file)
    copy.parent.mkdir(exist_ok=True)
    write_whole(copy, content, alone=True)
    return copy


def keep_ours(file: Path, content: bytes) -> Path:
    """Keep a job beside the file that it can't be written to, under a name that says so.

    Parameters
    ----------
    file : Path
        The job file that was changed elsewhere. [-]
    content : bytes
        Our job. [-]

    Returns
    -------
    Path
        The new file; the one that is there where it holds the same already. [-]

    Raises
    ------
    OSError
        If it can't be written.

    References
    ----------
    None needed.
    """
    stem = file.stem[:LONGEST_NAME]
    for number in count(1):
        ours = file.with_name(f"{stem}-{CHANGED_HERE}{'' if number == 1 else f'-{number}'}{file.suffix}")
        if not ours.exists():
            write_whole(ours, content, through_links=False)
            return ours
        if ours.is_file() and ours.read_bytes() == content:
            return ours
    raise AssertionError  # there is always a next number


@contextmanager
def locked(file: Path) -> Iterator[None]:
    """Keep every other page from writing a job file; a lock left by one that died is free again.

    Parameters
    ----------
    file : Path
        The job file; the lock lies beside it, whatever links lead to it. [-]

    Yields
    ------
    None

    Raises
    ------
    JobError
        If another page has been writing it for too long.
    OSError
        If the folder can't be written.

    References
    ----------
    POSIX ``fcntl`` locks, which end with the process that holds them.
    """
    from filelock import FileLock, Timeout

    real = file.resolve()
    folder = real.parent / OWN_FOLDER
    folder.mkdir(exist_ok=True)
    lock = FileLock(str(folder / f"{real.name}.lock"), timeout=WAIT_S)
    try:
        lock.acquire()
    except Timeout:
        problem = f"another page has been writing it for {WAIT_S} s"
        write = "close other pages of the workbook and try again; nothing was changed"
        raise JobError(file.name, "", problem, write) from None
    try:
        yield
    finally:
        lock.release()
