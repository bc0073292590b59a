"""The drawer page, driven in Python: a grid's rows come as a browser sends them."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from html import unescape
from typing import Any

import pytest

from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import cells
from modelmath.materials.drawer.store import load_drawer, save_drawer
from modelmath.materials.drawer.tables import as_csv, as_sheet, read_drawer
from modelmath.widgets.drawer import ADD, DrawerPanel


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.fixture
def panel(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return DrawerPanel()


def edit(panel: DrawerPanel, row: int, **given: str) -> None:
    """Type into a row, the last one where it is -1."""
    rows = [dict(each) for each in panel.grid.rows]
    rows[row].update(given)
    panel.grid.rows = rows


def add(panel: DrawerPanel, **given: str) -> None:
    blank = {column["key"]: column.get("first", "") for column in panel.grid.columns}
    panel.grid.rows = [*panel.grid.rows, {**blank, **given}]


def upload(panel: DrawerPanel, name: str, content: bytes) -> None:
    panel.upload.value = ({"name": name, "content": memoryview(content), "type": "", "size": len(content),
                           "last_modified": datetime(2026, 1, 1, tzinfo=UTC)},)  # fmt: skip


def test_a_new_workbook_shows_the_demo_drawer_and_writes_nothing(panel):
    assert panel.grid.rows == [cells(item) for item in demo_drawer().items]
    assert "invented" in plain(panel.answer.value)
    assert panel.save.disabled
    assert not panel.file.exists()


def test_a_row_is_typed_saved_undone_and_made_again(panel):
    add(panel, name="6x10", length="11 in", count="3")
    assert plain(panel.state.value) == "Not saved yet: 1 row added."
    panel.save.click()
    assert plain(panel.state.value) == "Saved: the table is what the drawer's file has."
    assert panel.grid.rows[-1]["name"] == "HO 6x10"  # as it was understood
    assert panel.grid.rows[-1]["length"] == "11 in"
    assert load_drawer(panel.file).drawer.items[-1].count == 3
    assert panel.back.description == "Undo: 1 row added"
    panel.back.click()
    assert load_drawer(panel.file).drawer == demo_drawer()
    assert panel.grid.rows == [cells(item) for item in demo_drawer().items]
    panel.again.click()
    assert panel.grid.rows[-1]["name"] == "HO 6x10"


def test_a_cell_that_can_t_be_read_is_faulted_and_nothing_is_saved(panel):
    add(panel, name="6x10", length="long")
    (fault,) = panel.grid.faults
    assert (fault["row"], fault["key"]) == (len(panel.grid.rows) - 1, "length")
    assert fault["message"].startswith("length: 'long': ")
    assert plain(panel.state.value) == "1 row can't be read; mend it, then save."
    assert panel.save.disabled
    panel._save()
    assert not panel.file.exists()
    edit(panel, -1, length="90 mm")
    assert panel.grid.faults == []
    assert not panel.save.disabled


def test_a_row_that_is_only_begun_is_no_fault(panel):
    add(panel)
    assert panel.grid.faults == []
    assert panel.save.disabled


def test_changes_are_counted(panel):
    edit(panel, 0, count="5")
    panel.grid.rows = panel.grid.rows[:-2]
    assert plain(panel.state.value) == "Not saved yet: 1 row changed, 2 rows taken out."
    panel.grid.rows = [cells(item) for item in reversed(demo_drawer().items)]
    assert plain(panel.state.value) == "Not saved yet: another order."


def test_two_pages_never_overwrite_each_other_unseen(panel):
    other = DrawerPanel()
    add(other, name=".100 sq", length="14 in")
    other.save.click()
    edit(panel, 0, count="9")
    panel.save.click()
    assert plain(panel.note.value).startswith("The drawer was changed elsewhere in the meantime (1 row added).")
    assert panel.conflict.layout.display is None
    assert panel.grid.rows[0]["count"] == "9"  # what was typed is not lost
    assert load_drawer(panel.file).drawer.items[0].count == 2
    panel.ours.click()
    assert load_drawer(panel.file).drawer.items[0].count == 9
    assert panel.conflict.layout.display == "none"
    panel.back.click()
    assert load_drawer(panel.file).drawer.items[-1].name == ".100 sq"  # theirs can still be had


def test_what_is_there_now_is_taken_over_on_asking(panel):
    other = DrawerPanel()
    add(other, name=".100 sq", length="14 in")
    other.save.click()
    edit(panel, 0, count="9")
    panel.save.click()
    panel.theirs.click()
    assert panel.grid.rows[0]["count"] == "2"
    assert panel.grid.rows[-1]["name"] == ".100 sq"
    assert panel.note.value == ""


def test_undo_waits_for_what_is_typed(panel):
    add(panel, name=".100 sq", length="14 in")
    panel.save.click()
    edit(panel, 0, count="9")
    panel.back.click()
    assert "undoing would lose what is typed" in plain(panel.note.value)
    assert panel.grid.rows[0]["count"] == "9"


def test_undo_by_an_old_page_shows_what_is_there(panel):
    add(panel, name=".100 sq", length="14 in")
    panel.save.click()
    other = DrawerPanel()
    edit(other, 0, count="9")
    other.save.click()
    panel.back.click()
    assert "changed elsewhere" in plain(panel.note.value)
    assert panel.grid.rows[0]["count"] == "9"


def test_an_own_drawer_is_no_demo_any_more(panel):
    panel.clear.click()
    assert panel.grid.rows == []
    assert plain(panel.answer.value).startswith("The drawer is empty.")
    panel.save.click()
    add(panel, name="HO 6x10", length="280 mm")
    panel.save.click()
    assert load_drawer(panel.file).drawer.demo == ""
    assert "invented" not in plain(panel.answer.value)


@pytest.mark.parametrize(("ending", "write"), [(".csv", as_csv), (".xlsx", as_sheet)])
def test_a_file_is_taken_in_place_of_the_table_or_added_to_it(panel, ending, write):
    own = Drawer(read_drawer("kind;name;length;count\nstrip;HO 6x10;280 mm;3\nstrip;.125 sq;14 in;1")[0].items)
    upload(panel, f"mine{ending}", write(own))
    assert panel.grid.rows == [cells(item) for item in own.items]
    assert "2 rows taken into the table; save the drawer to keep them." in plain(panel.taken.value)
    panel.save.click()
    assert load_drawer(panel.file).drawer == own  # a file of one's own is no demo
    panel.fields["how"].value = ADD
    upload(panel, f"more{ending}", write(own))
    assert [row["count"] for row in panel.grid.rows] == ["6", "2"]


def test_adding_a_file_loses_nothing_that_is_typed(panel):
    edit(panel, 0, length="280", count="9")  # no unit: it can't be read yet
    panel.fields["how"].value = ADD
    before = len(panel.grid.rows)
    upload(panel, "more.csv", b"kind;name\ndrill;#80\n")
    assert len(panel.grid.rows) == before + 1
    assert panel.grid.rows[0]["count"] == "9"
    assert [fault["row"] for fault in panel.grid.faults] == [0]


def test_a_count_without_a_name_is_no_row_that_was_only_begun(panel):
    add(panel, kind="drill", count="12")
    assert "name" in panel.grid.faults[0]["message"]


def test_rows_of_a_file_that_can_t_be_read_are_listed(panel):
    upload(panel, "mine.csv", b"kind;name;length\nstrip;HO 6x10;280 mm\nstrip;HO 6x10;280\n")
    assert "1 row of the file can't be read and is left out:" in plain(panel.taken.value)
    assert "row 3: '280': it has no unit;" in plain(panel.taken.value)
    before = panel.grid.rows
    upload(panel, "mine.pdf", b"%PDF")
    assert "mine.pdf: the kind of file is '.pdf'" in plain(panel.taken.value)
    assert panel.grid.rows == before


def test_the_table_is_saved_for_a_spreadsheet_and_nothing_is_written_over(panel, tmp_path):
    panel._write(".csv")
    file = tmp_path / "tables" / "drawer.csv"
    assert read_drawer(file)[0].items == demo_drawer().items
    assert 'href="/files/tables/drawer.csv"' in panel.saved.value
    other = DrawerPanel()
    other._write(".csv")
    assert "drawer.csv is there already" in plain(other.saved.value)
    panel.fields["file"].value = "../../!"
    panel._write(".xlsx")
    assert "give the file a name" in plain(panel.saved.value)
    assert sorted(each.name for each in (tmp_path / "tables").iterdir()) == ["drawer.csv"]


def test_a_run_of_drills_is_added(panel):
    before = len(panel.grid.rows)
    panel._add_drills()
    assert [row["name"] for row in panel.grid.rows[before:]] == [f"#{number}" for number in range(61, 81)]
    assert panel.grid.faults == []
    panel.fields["last"].value = "A"
    panel._add_drills()
    assert "from one drill to another of one set" in plain(panel.fields["first"].message)
    assert len(panel.grid.rows) == before + 20


def test_a_drawer_s_file_that_can_t_be_read_is_left_alone(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "drawer.json").write_text("{")
    panel = DrawerPanel()
    assert "it holds no drawer that can be read" in plain(panel.note.value)
    assert panel.grid.rows == []
    add(panel, name="HO 6x10", length="280 mm")
    panel.save.click()
    assert "it holds no drawer that can be read" in plain(panel.note.value)
    assert (tmp_path / "drawer.json").read_text() == "{"


@pytest.mark.parametrize("sent", [[{"kind": None, "name": 3}], ["row"], [{}], [{"other": "x"}]])
def test_whatever_a_page_sends_makes_no_traceback(panel, sent: list[Any]):
    panel.grid.rows = sent
    assert panel.state.value


def test_the_page_s_last_state_counts_after_a_change_by_a_cut_plan(panel):
    kept = load_drawer(panel.file)
    save_drawer(panel.file, Drawer(kept.drawer.items[1:], kept.drawer.demo), kept.revision, "cutting of a job")
    panel._load()
    assert panel.back.description == "Undo: cutting of a job"
    assert len(panel.grid.rows) == len(kept.drawer.items) - 1
