"""A write at each of whose calls something goes wrong in turn."""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path

import pytest
from faults.calls import REFUSALS, counted
from faults.writers import SEVERAL, WRITERS, parts_of

FEWEST_CALLS = 5  # open, two halves, handing over, the new name


def states(name, tmp_path):
    """What is read before the write, and after it."""
    writer, folder = WRITERS[name], tmp_path / "whole"
    folder.mkdir()
    writer.begin(folder)
    before = writer.read(folder) if name != "a packet" else {}
    writer.write(folder)
    return before, writer.read(folder)


def begun(name, tmp_path, number):
    folder = tmp_path / str(number)
    folder.mkdir()
    WRITERS[name].begin(folder)
    return folder


def is_one_of(name, found, before, after) -> bool:
    """Whether what is read is what was there before or what comes after; of several files each by itself."""
    if name not in SEVERAL:
        return found in (before, after)
    old, new, now = (parts_of(each) for each in (before, after, found))
    return all(now.get(key) in (old.get(key), new.get(key)) for key in {*old, *new, *now})


def calls_of(name, tmp_path, monkeypatch) -> int:
    """How many calls a write takes."""
    folder = begun(name, tmp_path, "counted")
    with counted(monkeypatch) as calls:
        WRITERS[name].write(folder)
    return calls.count


def leftovers(folder) -> list[str]:
    return sorted(str(file) for file in folder.rglob("*.tmp"))


def refuse_all(name, tmp_path, monkeypatch, kinds: int) -> int:
    """Refuse each call in turn, in so many ways; return how often."""
    writer = WRITERS[name]
    before, after = states(name, tmp_path)
    said = tried = 0
    for at in range(1, calls_of(name, tmp_path, monkeypatch) + 1):
        for way in range(kinds):
            refuse = REFUSALS[(at + way) % len(REFUSALS)]
            tried += 1
            folder = begun(name, tmp_path, f"{at} {errno.errorcode[refuse]}")
            refused = None
            with counted(monkeypatch, at, refuse):
                try:
                    writer.write(folder)
                except writer.raises as reason:
                    refused = reason
            found = writer.read(folder)
            if refused is None:
                assert found in (before, after), at
                continue
            said += 1
            assert is_one_of(name, found, before, after), at
            assert os.strerror(refuse).lower() in str(refused).lower(), refused
            assert "\n" not in str(refused)
            assert leftovers(folder) == []
    assert said >= (0 if name == "rows of the fleet" else FEWEST_CALLS)
    return tried


def die_at_each(base: Path, which: int, done: Connection) -> None:
    """Be killed at each call of a write in turn, each time in a process of its own; say how many there are."""
    name = list(WRITERS)[which]
    patch = pytest.MonkeyPatch()
    count = calls_of(name, base, patch)
    for at in range(1, count + 1):
        folder = begun(name, base, at)
        child = os.fork()
        if child == 0:
            with suppress(BaseException), counted(patch, at, dies=True):
                WRITERS[name].write(folder)
            os._exit(3)  # it was not killed
        _, status = os.waitpid(child, 0)
        assert os.WIFSIGNALED(status)
    done.send(count)
