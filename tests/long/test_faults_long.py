"""A thousand writers killed at random moments, each call of each write killed or refused, and a disk that is full."""

from __future__ import annotations

import os
import subprocess
from contextlib import suppress

import pytest
from faults.each_call import die_at_each, is_one_of, refuse_all, states
from faults.kinds import KINDS, kill_all
from faults.test_folders import FILES, begun, refused
from faults.writers import WRITERS
from killing import PRELOADED, said, started

pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(os.name != "posix", reason="processes as POSIX forks and kills them"),
]
KILLS, BLOCK = 100, 50  # of each of five kinds; jobs and drafts are killed in test_kept_long.py


@pytest.fixture(autouse=True, scope="module")
def _pages_loaded():
    """What writes packets is loaded once, unless processes were begun before; only that takes less time."""
    PRELOADED.append("modelmath.drawings.sheets.packet")


@pytest.mark.parametrize("seed", range(KILLS // BLOCK))
@pytest.mark.parametrize("kind", KINDS)
def test_what_was_written_before_the_kill_is_there(kind, seed, tmp_path):
    assert kill_all(KINDS[kind], tmp_path, BLOCK, 3000 + seed) >= BLOCK // 3


@pytest.mark.parametrize("name", WRITERS)
def test_a_process_killed_at_any_call_leaves_what_was_or_what_comes(name, tmp_path):
    before, after = states(name, tmp_path)
    process, hear = started(die_at_each, tmp_path, list(WRITERS).index(name))
    process.join(120)
    assert process.exitcode == 0
    (count,) = said(hear)
    for at in range(1, count + 1):
        folder, writer = tmp_path / str(at), WRITERS[name]
        found = writer.read(folder)
        assert is_one_of(name, found, before, after), at
        if found == before and name != "a new model":  # no lock and no half file is in the way of the next write
            writer.write(folder)
            assert writer.read(folder) == after, at


@pytest.mark.parametrize("name", WRITERS)
def test_each_call_refused_in_each_way_costs_nothing_that_was_there(name, tmp_path, monkeypatch):
    assert refuse_all(name, tmp_path, monkeypatch, 5) >= 25


@pytest.fixture
def full_disk(tmp_path):
    """A disk of 64 kB, all but full once what is there before is written."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)], check=False).returncode:
        pytest.skip("this account may not mount a disk")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


@pytest.mark.parametrize("name", FILES)
def test_a_disk_that_is_full_leaves_the_old_file(name, full_disk):
    writer, file = begun(name, full_disk)
    before = file.read_bytes()
    with (full_disk / "filling").open("wb", buffering=0) as filling, suppress(OSError):
        while True:
            filling.write(b"x" * 4096)
    said_so = refused(writer, full_disk)
    assert "no space left on device" in said_so.lower()
    assert file.read_bytes() == before
    assert list(full_disk.rglob("*.tmp")) == []
    (full_disk / "filling").unlink()
    writer.write(full_disk)
    assert file.read_bytes() != before
