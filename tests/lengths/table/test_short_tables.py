"""A short table is parted without the library for long ones, and alike (outside check: pandas reads both)."""

from __future__ import annotations

import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from modelmath.errors import OutOfRange
from modelmath.lengths.table import cells
from modelmath.lengths.table.cells import to_cells
from modelmath.lengths.table.sources import Source

texts = st.text(st.sampled_from("ab1 \t;,\"\n\r'=é\x0b\u2028"), max_size=40).filter(str.strip)


@given(texts, st.sampled_from("\t;,"))
@example('roof;9 1/2"\nwall;"a;b"', ";")
@example("a;b\n\n;c\n", ";")
@settings(max_examples=300, deadline=None)
def test_rows_are_parted_as_the_library_for_long_tables_parts_them(text, parter):
    width = max(1, len(cells._first_row(text, parter)[1]))
    rows = cells._plain_rows(text, parter, width)
    if rows is not None:  # else it is left to that library
        fast = cells._parted_fast(text, parter, width)
        assert [list(column) for column in cells._as_columns(rows)] == [list(column) for column in fast]


@pytest.mark.parametrize("more", [0, 20_000])
def test_a_nul_ends_no_cell(more):
    text = "name;mark\nroof;1\x005 mm\n" + "wall;2 mm\n" * more
    assert (len(text) > cells.SHORT) == bool(more)
    found = to_cells(Source(text), lambda heads: "mark" in heads)
    assert [column[1] for column in found.columns] == ["roof", "1\ufffd5 mm"]


@pytest.mark.parametrize("text", ['name;mark\nroof;"3', "name;mark\nroof;3;4;5", 'name;mark\nroof;"3"4'])
def test_what_is_out_of_the_plain_is_left_to_it(text):
    assert cells._plain_rows(text, ";", 2) is None


def test_a_quote_that_is_never_closed_is_said():
    said = "the table is without an end to the quote that opens in row 2; it must be closed. Write inches as 9 1/2 in, "
    with pytest.raises(OutOfRange, match=f'^{re.escape(said)}{re.escape("or 9 1/2")}"\\.$'):
        to_cells(Source('name;mark\nroof;"3'), lambda heads: "mark" in heads)


@pytest.mark.parametrize(("length", "short"), [(20, True), (99_999, True), (100_000, True), (100_001, False)])
def test_a_short_text_does_without_the_library_for_long_ones(monkeypatch, length, short):
    text = "name;mark\n" + "wall;2 mm\n" * (length // 10)
    text = text[: length - 1].rstrip("\n").ljust(length, " ")
    assert len(text) == length

    def refused(*_):
        raise AssertionError("not this way")

    monkeypatch.setattr(cells, "_parted_fast" if short else "_plain_rows", refused)
    found = to_cells(Source(text), lambda heads: "mark" in heads)
    assert found.heads == ["name", "mark"]
    assert [column[1].strip() for column in found.columns] == ["wall", "2 mm"]
