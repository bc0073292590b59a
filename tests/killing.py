"""Processes of their own that write job files, to be killed in the middle of it or to write against each other."""

from __future__ import annotations

import multiprocessing
import os
import re
import time
from collections.abc import Callable
from itertools import count
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random
from typing import Any

from modelmath.job.document import Job
from modelmath.job.storage.copies import Conflict, previous_copy
from modelmath.job.storage.drafts import Draft, read_draft, write_draft
from modelmath.job.storage.files import load_job, open_job, save_job

PRELOADED = [
    "modelmath.job.storage.drafts", "modelmath.job.shelf", "modelmath.cutting.from_drawer", "modelmath.cutting.typed",
    "modelmath.materials.drawer.store", "modelmath.drawings.into_folder", "modelmath.workbook.recent", "filelock",
    "highspy",
]  # fmt: skip
LONGEST_S = 0.08  # some three saves
SMALL = {
    "name": "hood",
    "scale": "HO",
    "rules": [{"name": "rule"}],
    "marking": {"rule": "rule"},
    "clearance": {"keep": "1 mm"},
    "readings": [{"name": "roof", "mark": "9"}],
    "zones": [{"name": "motor", "underside": "roof"}],
}


def numbered(number: int, name: str = "hood") -> Job:
    """A job that holds its number at both ends of a note, which is longer or shorter for each."""
    return Job.model_validate({**SMALL, "name": name, "notes": f"{number} {'x' * (number * 37 % 1500)} {number}"})


def number_of(found: Job) -> int:
    """The number of a job; one put together from two would have two."""
    first, last = re.fullmatch(r"([0-9]+) x* ([0-9]+)", found.notes).groups()
    assert first == last
    assert found == numbered(int(first), found.name)
    return int(first)


def save_on(file: Path, first: int, done: Connection) -> None:
    """Save one job after another until killed; say each that is saved."""
    for number in count(first):
        save_job(numbered(number), file)
        done.send(number)


def draft_on(file: Path, first: int, done: Connection) -> None:
    """The same with a draft."""
    for number in count(first):
        write_draft(Draft(file, numbered(number), "hood", "0" * 64))
        done.send(number)


def add_ones(file: Path, times: int, done: Connection) -> None:
    """Count a job's number up, each time from what its file says; say how often another was faster.

    Each process writes a name of its own: two that save the very same job both count as having saved it.
    """
    conflicts, name = 0, f"hood {os.getpid()}"
    for _ in range(times):
        while True:
            opened = open_job(file)
            try:
                save_job(numbered(number_of(opened.job) + 1, name), file, opened.mark)
                break
            except Conflict:
                conflicts += 1
    done.send(conflicts)


def processes() -> Any:
    """Processes forked from a clean one that has the package imported, so that starting one takes a moment."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(PRELOADED)
    return context


def started(act: Callable[[Path, int, Connection], None], file: Path, number: int) -> tuple[Any, Connection]:
    """A process that acts, and where it says what it has done."""
    hear, say = multiprocessing.Pipe(duplex=False)
    process = processes().Process(target=act, args=(file, number, say), daemon=True)
    process.start()
    say.close()
    return process, hear


def said(hear: Connection) -> list[int]:
    """All that a process has said, which is no more."""
    found = []
    try:
        while True:
            found.append(hear.recv())
    except (EOFError, OSError):  # it was killed in the middle of a word
        return found
    finally:
        hear.close()


def killed(act: Callable[[Path, int, Connection], None], file: Path, first: int, random: Random) -> int:
    """Kill a writer at a random moment; return the number of the last that it said was written, or one less."""
    process, hear = started(act, file, first)
    if random.random() < 0.7:
        hear.poll(10)  # else it may be killed before it has written anything
    time.sleep(random.uniform(0, LONGEST_S))
    process.kill()
    process.join()
    return max(said(hear), default=first - 1)


def kill_saves(file: Path, times: int, seed: int) -> int:
    """Kill saves at random moments; each time all that was said to be saved is there. Return how often in between."""
    save_job(numbered(0), file)
    random, last, between = Random(seed), 0, 0
    for _ in range(times):
        least = killed(save_on, file, last + 1, random)
        last = number_of(load_job(file))
        assert least <= last <= least + 1  # the next may have been written and not said
        copy = previous_copy(file)
        if copy.exists():
            before = number_of(load_job(copy))
            assert last - 1 <= before <= last
            between += before == last
    return between


def kill_drafts(file: Path, times: int, seed: int) -> None:
    """The same with drafts."""
    write_draft(Draft(file, numbered(0), "hood", "0" * 64))
    random, last = Random(seed), 0
    for _ in range(times):
        least = killed(draft_on, file, last + 1, random)
        last = number_of(read_draft(file).job)
        assert least <= last <= least + 1
