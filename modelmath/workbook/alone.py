"""Two pages that write one small record do so one after the other."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

WAIT_S: Final = 2  # for another page that is writing; after that one of the two may be lost, and no job is


@contextmanager
def alone(file: Path) -> Iterator[None]:
    """Let two pages write one after the other, for as long as that takes no time.

    Parameters
    ----------
    file : Path
        The record; the lock lies beside it, and one left by a page that died is free again. [-]

    Yields
    ------
    None

    Raises
    ------
    OSError
        If the folder can't be written.

    References
    ----------
    POSIX ``fcntl`` locks, which end with the process that holds them.
    """
    from filelock import FileLock, Timeout

    lock = FileLock(str(file.with_name(f".{file.name}.lock")), timeout=WAIT_S)
    try:
        lock.acquire()
    except Timeout:
        yield
        return
    try:
        yield
    finally:
        lock.release()
