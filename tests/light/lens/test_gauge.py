"""Holes to match lenses by: the nearest drills on each side, and how finely they tell."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.lens.gauge import SAME_MM, Gauge, GaugeHole, gauge_holes
from modelmath.tables import rows

NUMBERED = [(f"#{row['number']}", float(row["diameter_mm"])) for _, row in rows("drills_number.csv")]
hundredths = st.integers(50, 300).map(lambda count: Fraction(count, 100))
drills = st.lists(hundredths, min_size=1, max_size=20, unique=True)


def test_a_strip_of_number_drills():
    """Drill sizes of ASME B94.11M: #56 is 0.0465 in, 1.1811 mm; #55 0.0520 in, 1.3208 mm."""
    strip = gauge_holes(1.2, NUMBERED, 2)
    assert [hole.name for hole in strip.holes] == ["#57", "#56", "#55", "#54"]
    assert [hole.place for hole in strip.holes] == ["below", "below", "above", "above"]
    assert (strip.below.name, strip.at, strip.above.name) == ("#56", None, "#55")
    assert strip.step_mm == pytest.approx(25.4 * (0.0520 - 0.0465))
    assert strip.in_words == (
        "A lens of 1.20 mm passes #55 (1.32 mm) and stops at #56 (1.18 mm). Two lenses that do so differ by 0.14 mm at "
        "most."
    )


def test_a_hole_of_the_very_size_is_the_one_it_passes():
    strip = gauge_holes(1.2, [*NUMBERED, ("1.2 mm", 1.2)], 1)
    assert [(hole.name, hole.place) for hole in strip] == [("#56", "below"), ("1.2 mm", "at"), ("#55", "above")]
    assert strip.step_mm == pytest.approx(1.2 - 1.1811)


def test_drills_of_one_size_are_one_hole():
    """1/16 in is 1.5875 mm to the last digit; a drill in two sets is drilled once."""
    strip = gauge_holes(1.5, [("1/16", 1.5875), ("0.0625 in", 1.5875), ("1.4 mm", 1.4), ("1.4 mm", 1.4)])
    assert [hole.name for hole in strip.holes] == ["1.4 mm", "0.0625 in or 1/16"]


@given(hundredths, drills, st.integers(1, 5))
def test_a_strip_holds_the_nearest_drills_in_order(target, sizes, each_side):
    strip = gauge_holes(target, [(str(mm), mm) for mm in sizes], each_side)
    found = [hole.diameter_mm for hole in strip]
    below, above = ([mm for mm in sizes if mm < target], [mm for mm in sizes if mm > target])
    wanted = sorted(below)[-each_side:] + [mm for mm in sizes if mm == target] + sorted(above)[:each_side]
    assert found == wanted
    assert (strip.step_mm is None) == (not below or not [mm for mm in sizes if mm >= target])
    if strip.step_mm is not None:
        assert strip.step_mm > SAME_MM


@pytest.mark.parametrize(("target", "missing"), [(0.4, "smaller"), (9, "as large")])
def test_a_strip_that_can_not_tell_says_so(target, missing):
    strip = gauge_holes(target, [("1 mm", 1), ("2 mm", 2)])
    assert strip.step_mm is None
    assert strip.in_words == (
        f"No hole is {missing}, so that this strip can't show a lens of {target:.2f} mm: add a drill."
    )


def test_an_empty_strip_has_no_holes():
    strip = Gauge(1.2, (GaugeHole("1 mm", 1, "below"),))
    assert (strip.below.name, strip.at, strip.above) == ("1 mm", None, None)


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: gauge_holes(0, NUMBERED),
            OutOfRange,
            "target_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 1.2.",
        ),
        (
            lambda: gauge_holes(1.2, []),
            OutOfRange,
            "the number of drills is 0; it must be 1 or more. Enter the drills on hand, or take a whole set.",
        ),
        (
            lambda: gauge_holes(1.2, [("#56", 0)]),
            OutOfRange,
            "drill #56 is 0 mm; it must be above 0 mm. Write it in mm, such as 1.2.",
        ),
        (
            lambda: gauge_holes(1.2, [*NUMBERED, ("#0", 0.0)]),
            OutOfRange,
            "drill #0 is 0 mm; it must be above 0 mm. Write it in mm, such as 1.2.",
        ),
        (
            lambda: gauge_holes(1.2, [("#56", float("inf"))]),
            OutOfRange,
            "drill #56 is inf mm; it must be above 0 mm. Write it in mm, such as 1.2.",
        ),
        (
            lambda: gauge_holes(1.2, [("#56", "1.18 mm")]),
            WrongKind,
            "drill #56 is '1.18 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: gauge_holes(1.2, [(56, 1.1811)]),
            WrongKind,
            "a drill is '(56, 1.1811)'; expected its name and its diameter. Write ('#56', 1.1811).",
        ),
        (
            lambda: gauge_holes(1.2, [("#56", 1.1811, "high speed")]),
            WrongKind,
            "a drill is “('#56', 1.1811, 'high speed')”; expected its name and its diameter. Write ('#56', 1.1811).",
        ),
        (
            lambda: gauge_holes(1.2, [1.1811]),
            WrongKind,
            "a drill is '1.1811'; expected its name and its diameter. Write ('#56', 1.1811).",
        ),
        (
            lambda: gauge_holes(1.2, NUMBERED, 0),
            OutOfRange,
            "each_side is 0; it must be 1 or more. Write how many holes on each side, such as 3.",
        ),
    ],
)
def test_what_makes_no_strip_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def test_three_holes_on_each_side_unless_said():
    strip = gauge_holes(1.2, NUMBERED)
    assert [hole.place for hole in strip] == ["below"] * 3 + ["above"] * 3
    assert strip == gauge_holes(1.2, NUMBERED, 3)


def test_drills_within_a_thousandth_of_the_smallest_are_one_hole():
    """0.001 mm apart is one hole, 0.0015 mm two; a third counts from the first, not from its neighbour."""
    for sizes, names in (
        ([("a", 0.001), ("b", 0.002)], ["a or b"]),
        ([("a", 1.0), ("b", 1.0015)], ["a", "b"]),
        ([("a", 1.0), ("b", 1.0008), ("c", 1.0016)], ["a or b", "c"]),
        ([("b", 1.0), ("a", 1.0), ("b", 1.0005)], ["a or b"]),
    ):
        assert [hole.name for hole in gauge_holes(2, sizes)] == names
    assert gauge_holes(2, [("b", 1.0008), ("a", 1.0)]).below.diameter_mm == 1.0


def test_a_drill_within_a_thousandth_of_the_size_wanted_is_at_it():
    assert gauge_holes(0.002, [("a", 0.001)]).at.name == "a"
    assert gauge_holes(1.2, [("a", 1.1985)]).at is None
    assert gauge_holes(1.2, [("a", 1.2015)]).above.name == "a"


def test_a_strip_without_a_larger_hole_tells_by_the_one_of_its_size():
    strip = gauge_holes(2, [("1 mm", 1.0), ("2 mm", 2.0)])
    assert (strip.below.name, strip.at.name, strip.above) == ("1 mm", "2 mm", None)
    assert strip.in_words == (
        "A lens of 2.00 mm passes 2.00 mm and stops at 1.00 mm. Two lenses that do so differ by 1.00 mm at most."
    )
