"""Tables just at and just beyond what is asked of them."""

from __future__ import annotations

import csv
import re

import pytest

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.table import cells
from modelmath.lengths.table.cells import to_cells
from modelmath.lengths.table.reading import read_table
from modelmath.lengths.table.sources import Source
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
