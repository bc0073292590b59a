"""A process that ends at any call of a write, and a system that refuses any: what was there before is there, whole."""

from __future__ import annotations

import errno
import os

import pytest
from faults.calls import Calls, Halted, counted
from faults.each_call import FEWEST_CALLS, begun, calls_of, is_one_of, refuse_all, states
from faults.writers import WRITERS

pytestmark = pytest.mark.usefixtures("_no_disk_to_wait_for")
posix = pytest.mark.skipif(os.name != "posix", reason="the calls of POSIX")


@posix
@pytest.mark.parametrize("name", WRITERS)
def test_a_process_that_ends_at_any_call_leaves_what_was_or_what_comes(name, tmp_path, monkeypatch):
    writer = WRITERS[name]
    before, after = states(name, tmp_path)
    assert before != after
    count = calls_of(name, tmp_path, monkeypatch)
    assert count >= FEWEST_CALLS
    seen = []
    for at in range(1, count + 1):
        folder = begun(name, tmp_path, at)
        with counted(monkeypatch, at), pytest.raises(Halted):
            writer.write(folder)
        found = writer.read(folder)
        assert is_one_of(name, found, before, after), (at, found)
        seen.append(found)
        if found == before and name != "a new model":  # what was left behind is not in the way of the next write
            writer.write(folder)
            assert writer.read(folder) == after, at
    assert seen[0] == before


@posix
@pytest.mark.parametrize("name", WRITERS)
def test_a_system_that_refuses_any_call_costs_nothing_that_was_there(name, tmp_path, monkeypatch):
    refuse_all(name, tmp_path, monkeypatch, 1)


def test_the_counting_itself_halts_and_refuses():
    calls = Calls(2)
    calls.next()
    for _ in "ab":
        with pytest.raises(Halted):
            calls.next()
    calls = Calls(1, errno.ENOSPC)
    with pytest.raises(OSError, match=r"^\[Errno 28\] No space left on device$"):
        calls.next()
    calls.next()
