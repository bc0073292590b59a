"""What a strand is cut to is the sum of what it is for."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.strands.length import LENS, SLACK, SUNK, TRIMMED, WAY, strand_length

lengths = st.fractions(0, 100, max_denominator=64)


@given(st.fractions(1, 300, max_denominator=64), lengths, lengths, lengths, lengths)
def test_the_whole_is_its_parts_exactly(way, slack, trimmed, lens, sunk):
    cut = strand_length(way, slack_mm=slack, trimmed_mm=trimmed, lens_mm=lens, sunk_mm=sunk)
    assert cut.cut_mm == way + slack + trimmed + lens + sunk
    assert isinstance(cut.cut_mm, Fraction)
    wanted = {WAY: way, SLACK: slack, TRIMMED: trimmed, LENS: lens, SUNK: sunk}
    assert cut.parts == tuple((name, mm) for name, mm in wanted.items() if mm)
    assert all(name in cut.in_words for name, _ in cut.parts)


def test_a_cloudy_end_is_cut_off_before_use():
    """Trade fact, common practice, no source: what is trimmed is on top of what is used."""
    with_it, without = (strand_length(60, slack_mm=5, trimmed_mm=trimmed) for trimmed in (4, 0))
    assert with_it.cut_mm - without.cut_mm == 4
    parts = "60.0 mm along its way, 5.0 mm slack and 4.0 mm trimmed of a cloudy or crazed end"
    assert with_it.in_words == f"Cut 69.0 mm: {parts}."


def test_a_way_alone():
    assert strand_length(60.04, slack_mm=0, trimmed_mm=0).in_words == "Cut 60.0 mm, all of it along its way."


@pytest.mark.parametrize(
    ("given_mm", "error", "text"),
    [
        ({"route_mm": 0}, OutOfRange, "route_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 60."),
        ({"slack_mm": -1}, OutOfRange, "slack_mm is -1 mm; it must be 0 mm or more. Write it in mm, such as 3."),
        (
            {"trimmed_mm": float("inf")},
            OutOfRange,
            "trimmed_mm is inf mm; it must be 0 mm or more. Write it in mm, such as 3.",
        ),
        (
            {"lens_mm": "2 mm"},
            WrongKind,
            "lens_mm is '2 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        ({"sunk_mm": -2}, OutOfRange, "sunk_mm is -2 mm; it must be 0 mm or more. Write it in mm, such as 3."),
    ],
)
def test_what_is_no_length_is_refused(given_mm, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        strand_length(**{"route_mm": 60, "slack_mm": 5, "trimmed_mm": 3} | given_mm)


def test_sunk_and_melted_are_on_top_unless_there_are_none():
    assert strand_length(60, slack_mm=0, trimmed_mm=0) == strand_length(
        60, slack_mm=0, trimmed_mm=0, lens_mm=0, sunk_mm=0
    )
    assert strand_length(60, slack_mm=2, trimmed_mm=0).in_words == (
        "Cut 62.0 mm: 60.0 mm along its way and 2.0 mm slack."
    )
