"""Lists as people paste them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.lines import BadLine, columns_of, read_lines


def number(place: int, line: str) -> tuple[int, float]:
    try:
        return place, float(line)
    except ValueError:
        raise WrongKind("the line", repr(line), "a number", "Write 5.") from None


@pytest.mark.parametrize(
    ("line", "columns"),
    [
        ("roof; 12 ft", ["roof", "12 ft"]),
        ("roof\t12 ft\t", ["roof", "12 ft", ""]),
        ("  roof  ", ["roof"]),
        ("roof, front; 3,5", ["roof, front", "3,5"]),
        (";", ["", ""]),
    ],
)
def test_columns_part_at_tabs_and_semicolons_alone(line, columns):
    assert columns_of(line) == columns


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_bad_lines_are_kept_aside_by_the_number_a_person_counts(ends):
    good, bad = read_lines(ends.join(["5", "", "  ", "six", " 7 ", "<b>"]), number)
    assert good == [(1, 5.0), (5, 7.0)]
    assert bad == [
        BadLine(4, "six", "the line is 'six'; expected a number. Write 5."),
        BadLine(6, "<b>", "the line is '<b>'; expected a number. Write 5."),
    ]


@given(st.lists(st.sampled_from(["1", "x", "", "2.5", "y y"]), max_size=20))
def test_every_line_is_read_or_reported_and_none_twice(lines):
    good, bad = read_lines("\n".join(lines), number)
    numbers = sorted([place for place, _ in good] + [each.number for each in bad])
    assert numbers == [place for place, line in enumerate(lines, start=1) if line.strip()]


def test_nothing_pasted_is_nothing_read():
    assert read_lines("", number) == ([], [])
    assert read_lines("\n \n", number) == ([], [])


def test_more_lines_than_allowed_are_refused():
    message = "the stack is 4 lines long; it must be 3 lines or fewer. Paste it in parts."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        read_lines("1\n2\n3\n4", number, "the stack", 3)
    assert len(read_lines("1\n2\n3\n", number, "the stack", 3)[0]) == 3


def test_what_is_no_error_of_ours_is_not_hidden():
    def broken(_place: int, _line: str) -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        read_lines("1", broken)
