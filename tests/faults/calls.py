"""The calls by which a file is written, one of which ends the process or is refused by the system."""

from __future__ import annotations

import errno
import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

CALLS = ("open", "replace", "rename", "fsync", "mkdir", "unlink", "chmod", "link", "symlink", "rmdir", "truncate")


class Halted(BaseException):
    """The process ended here: nothing that follows reaches the disk."""


class Calls:
    """Counts the calls that write; the one of a number, from 1, halts or is refused.

    Parameters
    ----------
    at : int
        Which call; 0 for none. [-]
    refuse : int
        The system's error number; 0 to halt there, and at every later call. [-]
    dies : bool
        Whether to halt is to be killed, for a process that may be. [-]
    """

    def __init__(self, at: int = 0, refuse: int = 0, dies: bool = False) -> None:
        self.at, self.refuse, self.dies, self.count = at, refuse, dies, 0

    def next(self) -> None:
        """Count one call before it is made."""
        self.count += 1
        if self.refuse and self.count == self.at:
            raise OSError(self.refuse, os.strerror(self.refuse))
        if not self.refuse and self.at and self.count >= self.at:
            if self.dies:
                os.kill(os.getpid(), signal.SIGKILL)
            raise Halted(self.count)


class _Written:
    """A file that is written in two halves, so that one can be there without the other."""

    def __init__(self, calls: Calls, raw: Any) -> None:
        self._calls, self._raw = calls, raw

    def __enter__(self) -> _Written:
        return self

    def __exit__(self, *_fault: object) -> None:
        self._raw.close()

    def write(self, content: bytes) -> None:
        half = len(content) // 2
        for part in (content[:half], content[half:]):
            self._calls.next()
            self._raw.write(part)

    def flush(self) -> None:
        self._calls.next()

    def fileno(self) -> int:
        return int(self._raw.fileno())


@contextmanager
def counted(monkeypatch: Any, at: int = 0, refuse: int = 0, dies: bool = False) -> Iterator[Calls]:
    """Count what writes; see `Calls`. What a process that has ended would leave behind is there in the end."""
    calls = Calls(at, refuse, dies)
    fdopen = os.fdopen

    def counting(real: Any) -> Any:
        def call(*given: Any, **named: Any) -> Any:
            calls.next()
            return real(*given, **named)

        return call

    with monkeypatch.context() as patched:
        for name in CALLS:
            patched.setattr(os, name, counting(getattr(os, name)))
        patched.setattr(os, "fdopen", lambda handle, _mode: _Written(calls, fdopen(handle, "wb", buffering=0)))
        yield calls


# What a system may say of any call: full, broken, set to reading only, not yours, over the quota.
REFUSALS = (errno.ENOSPC, errno.EIO, errno.EROFS, errno.EACCES, errno.EDQUOT)
