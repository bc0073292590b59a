"""The one door to the reference tables."""

import csv
import re

import pytest

from modelmath import tables
from modelmath.errors import TableError
from modelmath.tables import data_folder, rows

FILES = sorted(each.name for each in data_folder().iterdir() if each.name.endswith(".csv"))


@pytest.mark.parametrize("file", FILES)
def test_every_row_of_every_table_is_whole_and_has_its_source(file):
    found = list(rows(file))
    assert found
    assert all(row["source"].strip() for _, row in found)
    lines = (data_folder() / file).read_text("utf-8").splitlines()
    for line, row in found:  # the line number points at the row
        assert next(csv.reader([lines[line - 1]])) == list(row.values())


def test_the_scale_table_is_among_them():
    assert "scales.csv" in FILES


def test_a_folder_inside_the_package_goes_first(monkeypatch, tmp_path):
    """In an installed wheel the data stand inside the package; in a checkout beside it."""
    beside = data_folder()
    monkeypatch.setattr(tables, "files", lambda _package: tmp_path)
    assert data_folder() == beside
    (tmp_path / "data").mkdir()
    assert data_folder() == tmp_path / "data"


@pytest.fixture
def table(monkeypatch, tmp_path):
    def write(text):
        (tmp_path / "made.csv").write_text(text, encoding="utf-8")
        monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
        return list(rows("made.csv"))

    return write


def test_rows_come_with_their_line(table):
    text = 'name,size_mm,source\na,1,invented\n\n"b, c",2,from memory\n'
    assert [(line, row["name"]) for line, row in table(text)] == [(2, "a"), (4, "b, c")]


NO_SOURCE = "no source; name one, or write 'from memory'"
UNEVEN = "it has more or fewer fields than the header"


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("name,source\na,\n", 2, NO_SOURCE),
        ("name,source\na,  \n", 2, NO_SOURCE),
        ("name,size_mm\na,1\n", 2, NO_SOURCE),
        ("name,source\na,invented\n\nb,\n", 4, NO_SOURCE),
        ("name,source\na\n", 2, UNEVEN),
        ("name,size_mm,source\nb, c,2,invented\n", 2, UNEVEN),
    ],
)
def test_a_row_without_source_or_with_an_unquoted_comma_is_refused(table, text, line, problem):
    with pytest.raises(TableError, match=f"^{re.escape(f'data/made.csv, line {line}: {problem}.')}$"):
        table(text)
