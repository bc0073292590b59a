"""Tables just at and just beyond what is asked of them."""

from __future__ import annotations

import csv
import re
from math import inf

import pytest

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.table import cells
from modelmath.lengths.table.cells import to_cells
from modelmath.lengths.table.guard import may_be_guarded
from modelmath.lengths.table.heads import extras_of
from modelmath.lengths.table.marks import Way, read_marks
from modelmath.lengths.table.reading import read_table
from modelmath.lengths.table.sources import Source, check_rows
from modelmath.lengths.table.writing import write_table


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("rows", "listed"), [(8, "1, 2, 3, 4, 5, 6, 7, 8"), (9, "1, 2, 3, 4, 5, 6, 7, 8, ..."), (1, "1")]
)
def test_the_first_eight_rows_are_listed_and_that_there_are_more(rows, listed):
    table = read_table("\n".join(["2"] * rows), Rule(scale="HO"))
    with pytest.raises(UnknownChoice, match=whole(f"the row is '99'; write one of {listed}.")):
        table.reading(99)


def test_a_table_made_wide_by_one_row_is_refused_just_beyond_the_limit(monkeypatch):
    """Four lines, of which one has five cells: twenty cells in all, by multiplication."""
    text = "name;mark\nroof;3\nwall;4;5;6;7\nfloor;5"
    for limit, fits in ((20, True), (19, False)):
        monkeypatch.setattr(cells, "MOST_CELLS", limit)
        if fits:
            found = to_cells(Source(text), lambda heads: "mark" in heads)
            assert [len(column) for column in found.columns] == [4] * 5
            assert [column[2] for column in found.columns] == ["wall", "4", "5", "6", "7"]
            assert found.count == 4
        else:
            said = "the table is 5 columns wide; it must be narrower. Take its longest row out."
            with pytest.raises(OutOfRange, match=whole(said)):
                to_cells(Source(text), lambda heads: "mark" in heads)


def test_columns_of_the_rows_set_aside_are_written_once_each_with_the_problem_last(tmp_path):
    """Surplus cells and the problem stand behind the columns of the good rows, whatever they are called."""
    table = read_table("zone;name;area;mark\nz;roof;a;3\ny;wall;b;3/2/1;over", Rule(scale="HO"))
    file = write_table(table, tmp_path / "readings.csv")
    with file.open(encoding="utf-8-sig", newline="") as lines:
        heads, good, aside = csv.reader(lines)
    assert len(set(heads)) == len(heads)
    assert heads[-1] == "problem"
    assert {"zone", "name", "area", "mark", "surplus cells"} <= set(heads)
    assert good[heads.index("surplus cells")] == good[heads.index("problem")] == ""
    assert aside[heads.index("surplus cells")] == "over"
    assert aside[heads.index("area")] == "b"


@pytest.mark.parametrize(
    "source", [Source(""), Source(" \n\t\n "), Source(rows=[]), Source(rows=[["", " "], [""]])], ids=repr
)
def test_an_empty_table_is_one_empty_cell_without_heads(source):
    found = to_cells(source, lambda heads: "mark" in heads)
    assert ([list(column) for column in found.columns], found.heads, found.head_row) == ([[""]], None, 0)
    assert found.count == 1


@pytest.mark.parametrize("before", [0, 1, 3])
def test_rows_before_the_heads_count(before):
    rows = [["", ""]] * before + [["name", "mark"], ["roof", "3"]]
    as_text = Source("\n".join(";".join(row) for row in rows))
    for source in (Source(rows=rows), as_text):
        found = to_cells(source, lambda heads: "mark" in heads)
        assert (found.heads, found.head_row, found.count) == (["name", "mark"], before + 1, before + 2)
        assert [column[-1] for column in found.columns] == ["roof", "3"]
        table = read_table("\n".join(";".join(row) for row in rows), Rule(scale="HO"))
        assert table.frame["length_mm"].to_dict() == {before + 2: 10.5}
    found = to_cells(Source(rows=[*rows[:before], ["roof", "3"]]), lambda heads: "mark" in heads)
    assert (found.heads, found.head_row, found.count) == (None, 0, before + 1)


def test_a_reading_is_in_the_unit_of_its_row():
    """3 mm, 3 scale feet of 3.5 mm (HO, NMRA S-1.2), 3 inches of 25.4 mm; with a column of units and without."""
    table = read_table("mark;unit\n3;mm\n3;\n3;in", Rule(scale="HO"))
    assert [table.reading(row).n for row in (2, 3, 4)] == pytest.approx([3, 10.5, 76.2])
    assert table.difference(4, 2).n == pytest.approx(73.2)
    table = read_table("3\n3 mm", Rule(scale="HO"), unit="in")
    assert [table.reading(row).n for row in (1, 2)] == pytest.approx([76.2, 3])


@pytest.mark.parametrize("offset", ["0", "1", "-0.2 mm"])
def test_only_marks_close_to_an_end_of_the_rule_are_looked_at_twice(offset):
    rule = Rule(scale="HO", zero_offset=offset, length="90")
    lowest, highest = Way(rule).limits()
    assert float(rule.begins_mm) < lowest <= float(rule.begins_mm) + 1e-5
    assert 315 - 1e-5 <= highest < 315  # 90 scale feet of 3.5 mm
    assert Way(Rule(scale="HO")).limits()[1] == inf


@pytest.mark.parametrize(
    ("text", "may_be"),
    [
        ("4' 9;3 1/2", False),
        ("roof;4' 9\t-1/2 =3\n+1", False),  # such a sign behind anything else than an apostrophe
        ("=1+1", False),
        ("'roof", False),
        ("roof'", False),
        ("roof;'-1/4", True),
        ("'=1", True),
        ("roof;''＝1", True),
    ],
)
def test_a_table_is_searched_for_guards_where_one_may_stand(text, may_be):
    assert may_be_guarded(text) is may_be


def test_columns_of_no_role_are_kept_under_a_head_of_their_own():
    """One without a head by its place, one met before or called like a role with (2); results are found anew."""
    heads = ["mark", "shell", " ", "shell", "note", "u_mm", "unit", "problem", ""]
    assert extras_of(heads, {"mark": 0}) == {
        "shell": 1, "column 3": 2, "shell (2)": 3, "note (2)": 4, "unit (2)": 6, "column 9": 8,
    }  # fmt: skip
    assert extras_of(None, {"mark": 0}) == {}


def test_a_table_of_as_many_rows_and_cells_as_may_be_is_taken():
    check_rows(1_000_000, 30_000_000)
    with pytest.raises(OutOfRange, match=r"^the table is 1,000,001 rows or more; it must be 1,000,000 rows or fewer"):
        check_rows(1_000_001, 0)
    with pytest.raises(OutOfRange, match=r"^the table is 30,000,001 cells or more; it must be 30,000,000 or fewer\. "):
        check_rows(0, 30_000_001)


def test_a_mark_that_can_not_be_read_counts_nothing_and_says_why():
    shown_mm, wrong = read_marks(["3", "three", "4"], [Way(Rule(unit="mm", graduation=1))], [0, 0, 0])
    assert shown_mm.tolist() == [3.0, 0.0, 4.0]
    assert list(wrong) == [1]
    assert "'three'" in wrong[1]
