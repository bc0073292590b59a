"""Rows of the drawer: typed in many ways, kept exactly, faulted cell by cell."""

from __future__ import annotations

import re
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import ModelMathError
from modelmath.materials.drawer.items import COLUMNS, KINDS, BadCell, Item, cells, read_item

NAMES = {
    "strip": ["HO 6x10", ".040 x .125", ".100 sq", "1.5 x 2 mm", "N 3x8"],
    "sheet": [".040 sheet", "1 mm sheet", ".010 sheet"],
    "wire": ["decoder wire", "lamp wire, red"],
    "strand": [".030 strand", "end-glow"],
    "drill": ["#67", "A", "1/16 in", "0.80 mm"],
}
sizes = st.fractions(min_value=Fraction(1, 1000), max_value=5000, max_denominator=10_000)


@st.composite
def items(draw):
    kind = draw(st.sampled_from(sorted(NAMES)))
    name = draw(st.sampled_from(NAMES[kind]))
    length = draw(sizes) if kind != "drill" else None
    width = draw(sizes) if kind == "sheet" else None
    across = draw(sizes) if kind in ("wire", "strand") else None
    note = draw(st.text(st.characters(categories=("L", "N", "P", "S")), max_size=20))
    return Item(kind, name, length, width, draw(st.integers(1, 100_000)), draw(st.booleans()), across, note)


@given(items())
def test_a_row_reads_back_as_it_was_written(item):
    assert read_item(cells(item)) == item


@pytest.mark.parametrize(
    ("row", "said"),
    [
        # An inch is 25.4 mm exactly (NIST SP 811).
        ({"kind": "strip", "name": ".040 x .125", "length": "14 in"}, ".040 x .125, 14 in"),
        ({"kind": "Strip", "name": "6 x 10", "length": "28 cm", "offcut": "Yes"}, "HO 6x10, 280 mm, offcut"),
        ({"kind": "sheet", "name": ".04 sheet", "length": "12 in", "width": "6 in"}, ".040 sheet, 12 in x 6 in"),
        ({"kind": "", "name": "HO 6x10", "length": "100,5 mm"}, "HO 6x10, 100.5 mm"),
        ({"kind": "", "name": "sheet .040", "length": "1 ft", "width": "5 cm"}, ".040 sheet, 12 in x 50 mm"),
        ({"kind": "drill", "name": "no. 67"}, "#67"),
        ({"kind": "shape", "name": ".040 rod", "length": "14 in"}, ".040 rod, 14 in"),
    ],
)
def test_rows_as_they_are_typed(row, said):
    assert read_item(row, "HO").said == said


@pytest.mark.parametrize(
    ("row", "column", "message"),
    [
        ({"name": "something"}, "kind",
         "nothing is written here; write one of strip, shape, sheet, wire, strand, drill."),
        ({"kind": "strips", "name": "HO 6x10"}, "kind",
         "kind is 'strips'; write one of strip, shape, sheet, wire, strand, drill. Did you mean 'strip'?"),
        ({"kind": "wire", "name": ""}, "name",
         "'': it has no name; write what it is called, such as red decoder wire."),
        ({"kind": "strip", "name": "HO 6x10"}, "length",
         "the length is left out; expected a length with its unit; a strip has one. Write such as 280 mm or 11 in."),
        ({"kind": "strip", "name": "HO 6x10", "length": "0 mm"}, "length",
         "the length is 0 mm; it must be above 0 mm. Write such as 280 mm or 11 in."),
        ({"kind": "strip", "name": "HO 6x10", "length": "9 mm", "width": "3 mm"}, "width",
         "the width is '3 mm'; expected nothing; a strip has none. Leave it empty."),
        ({"kind": "drill", "name": "#67", "count": "two"}, "count",
         ("the count is 'two'; it must be a whole number, 1 to 100000. Write 2 for two of them; take the row out when "
         "they are used up.")),
        ({"kind": "drill", "name": "#67", "note": "\ud800"}, "note",
         "a note is broken; it must be text whose signs are whole. Type it again."),
        ({"kind": "drill", "name": "#67", "offcut": "perhaps"}, "offcut", "offcut is 'perhaps'; write one of yes, no."),
    ],
)  # fmt: skip
def test_what_can_t_be_read_is_told_at_its_cell(row, column, message):
    with pytest.raises(BadCell, match=f"^{re.escape(f'{column}: {message}')}$") as told:
        read_item(row)
    assert told.value.column == column


@given(st.dictionaries(st.sampled_from(COLUMNS), st.text(max_size=15)), st.sampled_from([*KINDS, ""]))
def test_any_row_is_read_or_faulted(row, kind):
    with suppress(BadCell):
        item = read_item({**row, "kind": kind}, "HO")
        assert read_item(cells(item)) == item


@pytest.mark.parametrize(
    "wrong",
    [{"count": 0}, {"count": True}, {"width_mm": Fraction(2)}, {"length_mm": None}, {"length_mm": Fraction(-1)}],
)
def test_an_item_that_can_t_be_is_refused(wrong):
    with pytest.raises(ModelMathError):
        Item(**{"kind": "strip", "name": "HO 6x10", "length_mm": Fraction(280), **wrong})
