"""Writers killed at random moments, and two that write at once. The long set kills a thousand."""

from __future__ import annotations

import os

import pytest
from faults.kinds import (
    KINDS,
    cut_many,
    cuts_taken,
    full,
    kill_all,
    note_many,
    prefer_inches,
    prefer_large,
    print_many,
    put_in_many,
    shelve_many,
    shelved,
)
from killing import said, started

from modelmath.job.shelf import load_shelf, save_shelf
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.store import load_drawer
from modelmath.workbook.preferences import Preferences, load_preferences
from modelmath.workbook.recent import recent_jobs

pytestmark = pytest.mark.skipif(os.name != "posix", reason="processes as POSIX forks and kills them")
TIMES = 8  # of each of two writers


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_written_before_the_kill_is_there(kind, tmp_path):
    assert kill_all(KINDS[kind], tmp_path, 2, seed=5) > 0


def together(folder, *acts) -> list[int]:
    """Let processes act at once; return what each says."""
    running = [started(act, folder, TIMES) for act in acts]
    for process, _ in running:
        process.join(60)
        assert process.exitcode == 0
    return [number for _, hear in running for number in said(hear)]


def test_two_that_accept_cuts_take_out_what_both_took(tmp_path):
    full(tmp_path)
    together(tmp_path, cut_many, cut_many)
    assert cuts_taken(load_drawer(tmp_path / "drawer.json").drawer) == 2 * TIMES


def test_two_that_change_the_drawer_and_one_that_cuts_lose_nothing(tmp_path):
    full(tmp_path)
    together(tmp_path, put_in_many, put_in_many, cut_many)
    items = load_drawer(tmp_path / "drawer.json").drawer.items
    assert [each.count for each in items if each.kind == "drill"] == [2 * TIMES]
    assert cuts_taken(Drawer(tuple(each for each in items if each.kind != "drill"))) == TIMES


def test_two_that_put_things_on_the_shelf_lose_none(tmp_path):
    save_shelf(shelved(0), tmp_path / "shelf.toml")
    together(tmp_path, shelve_many, shelve_many)
    names = [each.name for each in load_shelf(tmp_path / "shelf.toml").rules]
    assert len(names) == len(set(names)) == 1 + 2 * TIMES


def test_two_that_note_jobs_lose_none(tmp_path):
    together(tmp_path, note_many, note_many)
    assert len(recent_jobs(tmp_path)) == 2 * TIMES


def test_two_pages_that_change_how_it_looks_keep_what_each_changed(tmp_path):
    together(tmp_path, prefer_inches, prefer_large)
    assert load_preferences(tmp_path) == Preferences("inch", "large")


def test_two_models_printed_at_once_under_one_file_name_keep_a_file_each(tmp_path):
    together(tmp_path, print_many, print_many)
    found = [file.read_text().split() for file in sorted(tmp_path.glob("*.pdf"))]
    assert [each[2] for each in found] == [str(TIMES - 1)] * 2
    assert len({each[1] for each in found}) == 2
