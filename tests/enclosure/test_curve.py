"""Yaw and throw on a curve, against worked rows, against the published clearance table, and against drawn circles."""

from __future__ import annotations

import re
from fractions import Fraction
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from uncertainties import ufloat

from modelmath.enclosure.mechanism import end_throw, lineside_reach, mid_throw, yaw
from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.prototype import PrototypeLength

EXAMPLES = published_rows("curve_examples.csv")
WIDENING = published_rows("nem103_widening.csv")


def worked(row: dict[str, str]) -> float:
    size = {key: float(row[f"{key}_mm"]) for key in ("radius", "pivot_spacing", "body_length") if row[f"{key}_mm"]}
    a, radius = size["pivot_spacing"], size["radius"]
    if row["what"] == "yaw":
        return degrees(yaw(a, radius))
    return mid_throw(a, radius) if row["what"] == "mid throw" else end_throw(a, radius, size["body_length"])


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: row["id"])
def test_every_worked_row_is_met(row):
    assert agrees_with_print(worked(row), row["value"])


@pytest.mark.parametrize(
    "row", WIDENING, ids=lambda row: f"{row['nominal_size']} {row['wagon_group']} {row['curve_radius_mm']}"
)
def test_the_published_widening_follows_the_throw(row):
    """NEM 103's E is the throw less a share of the gauge that vehicles have to spare; bounds found from the table."""
    gauge = float(row["gauge_mm"])
    throw = mid_throw(float(row["pivot_spacing_mm"]), float(row["curve_radius_mm"]))
    widening = float(row["widening_E_mm"])
    if widening > 0:
        assert 0.04 <= (throw - widening) / gauge <= 0.22
    else:
        assert throw / gauge <= 0.24


def test_the_whole_table_is_asked():
    assert len(WIDENING) == 310
    assert {row["nominal_size"] for row in WIDENING} == {"Z", "N", "H0", "S", "0", "II"}


lengths = st.floats(1, 300)


@given(lengths, st.floats(1.05, 50), st.floats(0, 0.3), st.floats(0, 2))
def test_a_drawn_vehicle_has_the_same_yaw_and_throw(spacing, wide, wheels, longer):
    """Stand both trucks on the circle as chords, lay the body through their middles, and measure."""
    wheelbase, length = spacing * wheels, spacing * (1 + longer)
    radius = wide * hypot(spacing, wheelbase) / 2
    inner = sqrt(radius**2 - wheelbase**2 / 4)  # where a truck's middle lies
    at = asin(spacing / 2 / inner)
    front, rear = (inner * sin(at), inner * cos(at)), (-inner * sin(at), inner * cos(at))
    middle = ((front[0] + rear[0]) / 2, (front[1] + rear[1]) / 2)
    assert mid_throw(spacing, radius, wheelbase) == pytest.approx(radius - hypot(*middle), rel=1e-6, abs=1e-9)
    corner = (middle[0] + length / 2, middle[1])
    assert end_throw(spacing, radius, length, wheelbase) == pytest.approx(hypot(*corner) - radius, rel=1e-6, abs=1e-9)
    inside, outside = lineside_reach(spacing, radius, length, 10, wheelbase)
    assert inside == pytest.approx(radius - (hypot(*middle) - 5), rel=1e-6)
    assert outside == pytest.approx(hypot(corner[0], corner[1] + 5) - radius, rel=1e-6)
    assert outside <= end_throw(spacing, radius, length, wheelbase) + 5 + 1e-9
    along_truck = atan2(front[1], front[0]) - pi / 2  # square to the radius at the pivot
    assert yaw(spacing, radius, wheelbase) == pytest.approx(abs(along_truck), rel=1e-9)


@given(st.floats(20, 200), st.floats(2, 10), st.floats(0, 1))
def test_no_truck_turns_further_where_two_curves_meet(spacing, wide, where):
    """Both pivots on an S of two arcs that meet at 0: the yaw of either truck is less than on one curve."""
    radius = spacing * wide

    def on_the_s(turned: float) -> tuple[float, float, float]:
        """Place and direction on the S, an arc's angle behind or before the middle."""
        way = 1 if turned >= 0 else -1
        return radius * sin(turned), way * radius * (1 - cos(turned)), way * turned

    rear = on_the_s(-where * spacing / radius)
    low, high = -where * spacing / radius, 2 * spacing / radius
    for _ in range(100):  # the place ahead of it that is one spacing away
        middle = (low + high) / 2
        x, y, _heading = on_the_s(middle)
        low, high = (middle, high) if hypot(x - rear[0], y - rear[1]) < spacing else (low, middle)
    front = on_the_s(low)
    body = atan2(front[1] - rear[1], front[0] - rear[0])
    for truck in (front, rear):
        assert abs(truck[2] - body) <= yaw(spacing, radius) + 1e-9


def test_a_wide_curve_keeps_its_digits():
    """The sagitta of a short chord on a wide curve, where the difference of two roots would lose half its digits."""
    assert mid_throw(Fraction(1), Fraction(10**7)) == pytest.approx(1.25e-8, rel=1e-9)  # a^2 / 8R, arithmetic


def test_uncertain_radius_and_arrays_pass_through():
    radius = ufloat(457.2, 2)
    found = yaw(90, radius)
    slope = (yaw(90, 457.3) - yaw(90, 457.1)) / 0.2
    assert found.nominal_value == yaw(90, 457.2)
    assert found.std_dev == pytest.approx(2 * abs(slope), rel=1e-4)
    assert mid_throw(90, radius).std_dev > 0
    radii = np.array([380.0, 457.2, 558.8])
    assert list(yaw(90, radii)) == pytest.approx([yaw(90, each) for each in radii])
    assert list(mid_throw(90, radii)) == pytest.approx([mid_throw(90, each) for each in radii])
    assert list(end_throw(90, radii, 140)) == pytest.approx([end_throw(90, each, 140) for each in radii])


def test_pivots_on_one_spot_never_turn():
    assert (yaw(0, 400), mid_throw(0, 400)) == (0, 0)
    assert degrees(yaw(Fraction(400), Fraction(400))) == pytest.approx(degrees(radians(30)))  # a chord as long as R


BAD = [
    (
        lambda: yaw(90, 45),
        OutOfRange,
        (
            "radius of the curve is 45.00 mm; it must be above 45.00 mm for pivots so far apart. "
            "Write the radius to the middle of the track, with its unit, such as 18 in."
        ),
    ),
    (
        lambda: mid_throw(80, np.array([500.0, 45.0]), 60),
        OutOfRange,
        (
            "radius of the curve is 45.00 mm; it must be above 50.00 mm for pivots so far apart. "
            "Write the radius to the middle of the track, with its unit, such as 18 in."
        ),
    ),
    (
        lambda: yaw(-1, 450),
        OutOfRange,
        "distance between the pivots is -1 mm; it must be 0 or more. Measure it on the model, such as 0.5 mm.",
    ),
    (
        lambda: yaw(90, float("nan")),
        OutOfRange,
        "radius of the curve is nan mm; it must be a finite number. Check the readings behind it.",
    ),
    (
        lambda: yaw("90 mm", 450),
        WrongKind,
        ("distance between the pivots is '90 mm'; expected a plain number of mm. Read text with parse_length first."),
    ),
    (
        lambda: end_throw(90, 450, PrototypeLength(Fraction(40))),
        WrongKind,
        (
            "length of the body is the prototype length 40' 0\"; expected a plain number of mm. "
            "Turn it into a model length with a Scale first, such as scale('HO').model_mm."
        ),
    ),
]


@pytest.mark.parametrize(("make", "kind", "message"), BAD)
def test_what_makes_no_sense_is_refused(make, kind, message):
    with pytest.raises(kind, match=f"^{re.escape(message)}$"):
        make()


@pytest.mark.parametrize(
    ("pivots", "radius", "wheelbase", "least"),
    [(91, 45, 0, "45.50"), (90.5, 45, 0, "45.25"), (33, 27, 44, "27.50"), (0, 5, 11, "5.50")],
)
def test_how_wide_a_curve_must_be_at_least(pivots, radius, wheelbase, least):
    """Half of what pivots and axles span: 33 and 44 are the legs of 55 mm."""
    for asked in (lambda: yaw(pivots, radius, wheelbase), lambda: mid_throw(pivots, radius, wheelbase),
                  lambda: end_throw(pivots, radius, 100, wheelbase)):  # fmt: skip
        with pytest.raises(OutOfRange, match=rf"it must be above {re.escape(least)} mm for pivots so far apart\."):
            asked()
    assert yaw(pivots, float(least) + 0.01, wheelbase) >= 0


@pytest.mark.parametrize("of", [yaw, mid_throw])
def test_a_curve_has_a_radius(of):
    with pytest.raises(OutOfRange, match=r"^radius of the curve is 0 mm; it must be above 0\."):
        of(0, 0)
