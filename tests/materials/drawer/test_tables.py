"""The drawer in files: out and in again the same, safe to open, bad rows kept aside."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction
from io import BytesIO, StringIO

import openpyxl
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, WrongKind
from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import COLUMNS, Item
from modelmath.materials.drawer.tables import as_csv, as_sheet, read_drawer, write_drawer

NASTY = ["=1+1", "-2", "@x", "'=1", "'", "a;b", "a,b", '"quoted"', "ü ½", "#REF!"]
notes = st.lists(st.sampled_from(NASTY), max_size=5)


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_the_demo_drawer_goes_out_and_in(tmp_path, ending):
    file = write_drawer(demo_drawer(), tmp_path / f"drawer{ending}")
    drawer, bad = read_drawer(file)
    assert drawer.items == demo_drawer().items
    assert bad == []
    assert drawer.demo == ""


@settings(max_examples=40)
@given(notes, st.sampled_from([as_csv, as_sheet]))
def test_notes_that_look_like_formulas_come_back_as_they_were(words, write):
    drawer = Drawer(tuple(Item("wire", "wire", Fraction(9), diameter_mm=Fraction(1), note=word) for word in words))
    assert [each.note for each in read_drawer(write(drawer))[0].items] == words


def test_no_cell_is_a_formula_for_a_spreadsheet():
    drawer = Drawer((Item("wire", "=1+1", Fraction(9), diameter_mm=Fraction(1), note="@cmd"),))
    # pandas and openpyxl stand in for the spreadsheet: each reads what is there, with none of our own code.
    frame = pd.read_csv(BytesIO(as_csv(drawer)), dtype=str, keep_default_na=False)
    assert list(frame.columns) == list(COLUMNS)
    assert frame.loc[0, "name"] == "'=1+1"
    assert frame.loc[0, "note"] == "'@cmd"
    cells = next(openpyxl.load_workbook(BytesIO(as_sheet(drawer))).active.iter_rows(min_row=2))
    assert [cell.data_type for cell in cells if cell.value is not None] == ["s"] * 4 + ["n", "s"]


def test_a_table_of_ones_own_with_other_heads_and_units():
    text = (
        "Type\tSection\tLength (in)\tPieces\nstrip\tHO 6x10\t11\t2\nstrip\t.040 sq\t14\t\n\nstrip\tHO 6x10\t96.5 mm\t1"
    )
    drawer, bad = read_drawer(text)
    assert [(each.said, each.count) for each in drawer.items] == [
        ("HO 6x10, 11 in", 2),
        (".040 sq, 14 in", 1),
        ("HO 6x10, 96.5 mm", 1),
    ]
    assert bad == []


def test_numbers_of_a_spreadsheet_take_the_unit_of_their_head():
    book = openpyxl.Workbook()
    for row in (["kind", "name", "length mm", "width mm", "count"], ["sheet", ".040 sheet", 88.5, 61, 2]):
        book.active.append(row)
    content = BytesIO()
    book.save(content)
    drawer, bad = read_drawer(content.getvalue())
    assert [each.said for each in drawer.items] == [".040 sheet, 88.5 mm x 61 mm"]
    assert bad == []


def test_bad_rows_are_kept_aside_by_number_and_column():
    rows = ("strip,HO 6x10,280,1", "strip,HO 6x10,280 mm,1", "beam,HO 6x10,280 mm,1", "strip,HO 6x10,1 mm,1,9")
    text = "\n".join(["kind,name,length,count", *rows])
    drawer, bad = read_drawer(text)
    assert len(drawer.items) == 1
    assert [(each.number, each.column) for each in bad] == [(2, "length"), (4, "kind"), (5, "")]
    assert bad[2].message == (
        "the row is 5 columns wide; it must be 4, as the heads are. Part the columns by semicolons or tabs, or put "
        "quotes round a cell with a comma."
    )


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("HO 6x10;280 mm", WrongKind,
         ("the first row is not one of heads; expected heads such as kind; name; length; count. Write above the "
         "columns kind, name, length, width, diameter, count, offcut, note.")),
        ("kind;name;colour", UnknownChoice,
         ("a column's head is 'colour'; write one of kind, name, length, width, diameter, count, offcut, note. Did "
         "you mean 'count'?")),
        ("kind;name;length;long", OutOfRange,
         "the heads is two columns for the length; it must be one column for each. Keep one of the two columns."),
    ],
)  # fmt: skip
def test_a_table_without_its_heads_is_refused(text, kind, message):
    with pytest.raises(kind) as told:
        read_drawer(text)
    assert str(told.value) == message


def test_too_long_a_table_is_refused():
    text = StringIO()
    text.write("kind;name\n" + "drill;#67\n" * 5_001)
    with pytest.raises(
        OutOfRange, match=r"^the drawer is 5002 rows long; it must be 5000 rows or fewer\. Read it in parts\.$"
    ):
        read_drawer(text.getvalue())


def test_another_kind_of_file_is_not_written(tmp_path):
    said = r"^the kind of file is '\.ods'; write one of \.csv, \.xlsx\. Did you mean '\.csv'\?$"
    with pytest.raises(UnknownChoice, match=said):
        write_drawer(Drawer(), tmp_path / "drawer.ods")
    assert list(tmp_path.iterdir()) == []


@settings(max_examples=60)
@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text):
    with suppress(ModelMathError):
        drawer, _ = read_drawer(f"kind;name;length\n{text}")
        assert read_drawer(as_csv(drawer))[0] == drawer
