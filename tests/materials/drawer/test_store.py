"""The drawer's file: whole or not at all, undone and redone, never overwritten unseen, by threads and processes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.materials.drawer import states, store
from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer, NotInDrawer, Use, put_in, take_out
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.store import (
    DrawerChanged,
    DrawerFault,
    change_drawer,
    load_drawer,
    redo,
    save_drawer,
    undo,
)

ONE = Drawer((Item("strip", "HO 6x10", Fraction(1016, 3), count=2, note="½"),))
TWO = Drawer((Item("drill", "#67"),))


NO_DRAWER = (
    r"^drawer\.json: it holds no drawer that can be read \(\w+\); move it away to begin a new drawer, or put back a "
    r"copy; it was left as it is\.$"
)


@pytest.fixture
def file(tmp_path):
    return tmp_path / "drawer.json"


def test_a_new_workbook_has_the_demo_drawer_and_writes_nothing(file):
    assert load_drawer(file).drawer == demo_drawer()
    assert not load_drawer(file).can_undo
    assert not file.exists()


def test_what_is_saved_is_read_back_exactly(file):
    saved = save_drawer(file, ONE, "", "first")
    assert load_drawer(file) == saved
    assert saved.drawer == ONE
    assert (saved.what, saved.undoes, saved.redoes) == ("first", "first", "")


def test_undo_and_redo_go_through_all_states(file):
    first = save_drawer(file, ONE, "", "first")
    second = save_drawer(file, TWO, first.revision, "second")
    back = undo(file, second.revision)
    assert (back.drawer, back.undoes, back.redoes) == (ONE, "first", "second")
    start = undo(file, back.revision)
    assert (start.drawer, start.can_undo) == (demo_drawer(), False)
    assert undo(file, start.revision) == start
    again = redo(file, redo(file, start.revision).revision)
    assert (again.drawer, again.can_redo) == (TWO, False)
    assert redo(file, again.revision) == again


def test_a_change_after_undoing_drops_what_was_undone(file):
    first = save_drawer(file, ONE, "", "first")
    back = undo(file, save_drawer(file, TWO, first.revision, "second").revision)
    other = save_drawer(file, Drawer(), back.revision, "third")
    assert not other.can_redo
    assert undo(file, other.revision).drawer == ONE


def test_a_page_that_goes_by_an_old_state_overwrites_nothing(file):
    first = save_drawer(file, ONE, "", "first")
    theirs = save_drawer(file, TWO, first.revision, "theirs")
    with pytest.raises(DrawerChanged) as told:
        save_drawer(file, Drawer(), first.revision, "mine")
    assert told.value.theirs == theirs
    assert str(told.value) == (
        "The drawer was changed elsewhere in the meantime (theirs). Nothing was written: take over what is there now, "
        "or save yours over it."
    )
    assert load_drawer(file) == theirs
    mine = save_drawer(file, Drawer(), first.revision, "mine", over=True)
    assert undo(file, mine.revision).drawer == TWO  # theirs can still be had


@pytest.mark.parametrize("way", [undo, redo])
def test_undoing_by_an_old_state_is_refused(file, way):
    first = save_drawer(file, ONE, "", "first")
    save_drawer(file, TWO, first.revision, "theirs")
    with pytest.raises(DrawerChanged):
        way(file, first.revision)


def test_two_pages_that_begin_a_drawer_at_once_are_told(file):
    save_drawer(file, ONE, "", "one page")
    with pytest.raises(DrawerChanged):
        save_drawer(file, TWO, "", "the other")


def test_the_same_state_come_to_again_has_a_mark_of_its_own(file):
    first = save_drawer(file, ONE, "", "first")
    back = undo(file, save_drawer(file, TWO, first.revision, "second").revision)
    assert back.drawer == first.drawer
    assert back.revision != first.revision


def test_only_so_many_states_are_kept(file):
    mark = ""
    for number in range(store.KEPT_STATES + 5):
        mark = save_drawer(file, replace(ONE, demo=str(number)), mark, f"change {number}").revision
    for _ in range(store.KEPT_STATES):
        kept = undo(file, mark)
        mark = kept.revision
    assert not kept.can_undo
    assert kept.drawer.demo == "4"


def test_a_change_that_can_t_be_made_writes_nothing(file):
    saved = save_drawer(file, ONE, "", "first")
    before = file.read_bytes()
    with pytest.raises(NotInDrawer):
        change_drawer(file, lambda drawer: take_out(drawer, [Use("drill", "#67")]), "cutting")
    assert file.read_bytes() == before
    assert load_drawer(file) == saved


@pytest.mark.parametrize("broken", [0, 1, 2])
def test_a_crash_while_writing_leaves_the_old_file(file, monkeypatch, broken):
    saved = save_drawer(file, ONE, "", "first")
    steps = ("fsync", "chmod", "replace")

    def fails(*_args, **_more):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, steps[broken], fails)
        with pytest.raises(
            DrawerFault,
            match=r": it can't be written: no space left on device; check the folder; nothing was changed\.$",
        ):
            save_drawer(file, TWO, saved.revision, "second")
    assert load_drawer(file) == saved
    assert sorted(each.name for each in file.parent.iterdir() if each.suffix == ".tmp") == []
    assert save_drawer(file, TWO, saved.revision, "second").drawer == TWO  # the lock is free again


@pytest.mark.parametrize(
    "content",
    [
        "", "{", "[]", "null", '{"states": []}', '{"format": 1, "states": [], "at": 0, "number": 1}',
        '{"format": 1, "number": 1, "at": 0, "states": [{"what": "", "demo": "", "items": [{"kind": "strip"}]}]}',
        ('{"format": 1, "number": 1, "at": 0, "states": [{"what": "", "demo": "", "items": [{"kind": "strip", '
        '"name": "HO 6x10", "count": 1, "length_mm": "1/0"}]}]}'),
        ('{"format": 1, "number": 1, "at": 0, "states": [{"what": "", "demo": "", "items": [{"kind": "strip", '
        '"name": "HO 6x10", "count": true, "length_mm": "1"}]}]}'),
        '{"format": 1, "number": 1, "at": true, "states": [{"what": "", "demo": "", "items": []}]}',
        '{"format": "1", "number": 1, "at": 0, "states": [{"what": "", "demo": "", "items": []}]}',
        *(
            f'{{"format": 1, "number": 1, "at": 0, "states": [{{"what": "", "demo": "", "items": [{row}]}}]}}'
            for row in (
                '{"kind": "strip", "name": "garbage", "count": 1, "length_mm": "9"}',
                '{"kind": "wire", "name": null, "count": 1, "length_mm": "9", "diameter_mm": "1"}',
                '{"kind": "strip", "name": "HO 6x10", "count": 1, "length_mm": true}',
                '{"kind": "strip", "name": "HO 6x10", "count": 1, "length_mm": Infinity}',
                '{"kind": "drill", "name": "#67", "count": 1, "note": 3}',
            )
        ),
        "[" * 100_000,
    ],
)  # fmt: skip
def test_a_file_that_holds_no_drawer_is_left_alone(file, content):
    file.write_text(content)
    for touch in (
        lambda: load_drawer(file),
        lambda: save_drawer(file, ONE, "", "mine", over=True),
        lambda: change_drawer(file, lambda drawer: drawer, "cutting"),
        lambda: undo(file, ""),
    ):
        with pytest.raises(DrawerFault, match=NO_DRAWER):
            touch()
    assert file.read_text() == content


@pytest.mark.parametrize("way", [undo, redo])
def test_a_state_that_was_broken_by_another_hand_is_not_gone_to(file, way):
    first = save_drawer(file, ONE, "", "first")
    second = save_drawer(file, TWO, first.revision, "second")
    if way is redo:
        undo(file, second.revision)
    found = json.loads(file.read_text())
    found["states"][1 if way is undo else 2]["items"] = [{"kind": "strip"}]
    file.write_text(json.dumps(found))
    before, kept = file.read_bytes(), load_drawer(file)
    broken = r"the state it would go to can't be read \(KeyError\); go on from the present one; nothing was changed\."
    with pytest.raises(DrawerFault, match=rf"^drawer\.json: {broken}$"):
        way(file, kept.revision)
    assert file.read_bytes() == before


def test_a_newer_file_is_left_alone(file):
    file.write_text('{"format": 2}')
    newer = r"it has format 2, newer than this release reads \(1\); install a newer release to open it\."
    with pytest.raises(DrawerFault, match=rf"^drawer\.json: {newer}$"):
        load_drawer(file)


def test_a_folder_in_its_place_is_told(file):
    file.mkdir()
    with pytest.raises(
        DrawerFault, match=r"^drawer\.json: it can't be read: is a directory; check whether you may open it\.$"
    ):
        load_drawer(file)


def test_a_page_that_writes_too_long_is_told(file, monkeypatch):
    from filelock import FileLock

    monkeypatch.setattr(store, "WAIT_S", 0.05)
    with FileLock(str(file.with_name(f".{file.name}.lock"))), pytest.raises(DrawerFault) as told:
        save_drawer(file, ONE, "", "mine")
    said = "another page has been writing it for 0.05 s; close other pages of the workbook and try again."
    assert str(told.value) == f"drawer.json: {said}"
    assert not file.exists()


def test_the_file_never_outgrows_what_is_read_back(file, monkeypatch):
    for module in (store, states):
        monkeypatch.setattr(module, "LARGEST", 4_000)
    mark = ""
    for number in range(30):
        mark = save_drawer(file, replace(ONE, demo=f"state {number}"), mark, f"change {number}").revision
        assert file.stat().st_size <= 4_000
    kept = load_drawer(file)
    assert (kept.drawer.demo, kept.can_undo) == ("state 29", True)
    many = Drawer(tuple(Item("wire", f"wire {at}", Fraction(9), diameter_mm=Fraction(1)) for at in range(60)))
    with pytest.raises(
        DrawerFault, match=r"^drawer\.json: it would be larger than 0 MB; keep fewer rows; nothing was changed\.$"
    ):
        save_drawer(file, many, mark, "too many")
    assert load_drawer(file) == kept


def test_two_links_to_one_file_have_one_lock(tmp_path):
    (tmp_path / "real").mkdir()
    real = tmp_path / "real" / "drawer.json"
    save_drawer(real, ONE, "", "first")
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        link = tmp_path / name / "drawer.json"
        link.symlink_to(real)
        change_drawer(
            link, lambda drawer: replace(drawer, items=put_in(drawer.items, [Item("drill", "#67")])), "one more"
        )
        assert [each.name for each in (tmp_path / name).iterdir()] == ["drawer.json"]
    assert load_drawer(real).drawer.items[-1].count == 2


WRITER = """
import sys
from dataclasses import replace
from pathlib import Path
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.drawer import put_in
from modelmath.materials.drawer.store import change_drawer
for _ in range(int(sys.argv[2])):
    one = [Item("drill", sys.argv[3])]
    change_drawer(Path(sys.argv[1]), lambda drawer: replace(drawer, items=put_in(drawer.items, one)), "one more")
"""


def test_two_processes_that_write_at_once_lose_nothing(file):
    times, root = 15, Path(__file__).resolve().parents[3]
    save_drawer(file, Drawer(), "", "empty")
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(file), str(times), name],
                         env={**os.environ, "PYTHONPATH": str(root)})
        for name in ("#67", "#68")
    ]  # fmt: skip
    assert [each.wait(60) for each in writers] == [0, 0]
    assert {each.name: each.count for each in load_drawer(file).drawer.items} == {"#67": times, "#68": times}


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(["save", "undo", "redo", "stale"]), max_size=12))
def test_any_walk_of_saves_and_undos_matches_a_plain_model(tmp_path_factory, steps):
    file = tmp_path_factory.mktemp("walk") / "drawer.json"
    states, at = [demo_drawer()], 0
    kept = load_drawer(file)
    for number, step in enumerate(steps):
        if step == "save":
            new = Drawer(put_in((), [Item("drill", "#67", count=number + 1)]))
            states, at = [*states[: at + 1], new], at + 1
            kept = save_drawer(file, new, kept.revision, f"change {number}")
        elif step == "stale":
            with pytest.raises(DrawerChanged):
                save_drawer(file, TWO, "of another state", "stale")
        else:
            at = max(at - 1, 0) if step == "undo" else min(at + 1, len(states) - 1)
            kept = (undo if step == "undo" else redo)(file, kept.revision)
        assert kept.drawer == states[at] == load_drawer(file).drawer
        assert (kept.can_undo, kept.can_redo) == (at > 0, at < len(states) - 1)
    if file.exists():
        assert json.loads(file.read_text())["format"] == 1
