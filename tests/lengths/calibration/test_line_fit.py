"""The fitted line against printed examples, general-purpose fits, and what a best fit must be."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from scipy.optimize import curve_fit

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration.line_fit import fit_line

SEEDS = st.integers(0, 2**32 - 1)


def example(name):
    rows = [row for row in published_rows("line_fit_examples.csv") if row["example"] == name]
    points = [row for row in rows if row["role"] == "point"]
    return points, {row["role"]: row["value"] for row in rows if row["value"]}


def column(points, name):
    return [float(row[name]) for row in points]


def test_the_thermometer_of_the_guide():
    """JCGM 100:2008, H.3: eleven points, deviations from their own scatter."""
    points, printed = example("H3")
    line = fit_line([x - 20 for x in column(points, "x")], column(points, "y"))
    assert agrees_with_print(line.intercept, printed["intercept at 20"])
    assert agrees_with_print(line.slope, printed["slope"])
    assert agrees_with_print(line.deviation, printed["deviation"])
    assert agrees_with_print(line.deviation * line.covariance[0] ** 0.5, printed["intercept deviation"])
    assert agrees_with_print(line.deviation * line.covariance[2] ** 0.5, printed["slope deviation"])
    assert agrees_with_print(line.correlation, printed["correlation"])
    value, u = line.at(10)
    assert agrees_with_print(value, printed["at 30"])
    assert agrees_with_print(line.deviation * u, printed["deviation at 30"])


def test_both_coordinates_uncertain():
    """York 1966 and 2004 on Pearson's points."""
    points, printed = example("YORK")
    line = fit_line(
        column(points, "x"),
        column(points, "y"),
        np.diag([1 / weight for weight in column(points, "y_weight")]),
        [1 / weight for weight in column(points, "x_weight")],
    )
    assert agrees_with_print(line.intercept, printed["intercept"])
    assert agrees_with_print(line.slope, printed["slope"])
    assert agrees_with_print(line.covariance[0] ** 0.5, printed["intercept deviation"])
    assert agrees_with_print(line.covariance[2] ** 0.5, printed["slope deviation"])
    assert agrees_with_print(line.chi_square, printed["chi square"])


def scattered(seed, count=8):
    """Return points about a line, and a full covariance of their y."""
    rng = np.random.default_rng(seed)
    x = np.sort(rng.uniform(0, 40, count))
    root = rng.normal(0, 0.1, (count, count))
    covariance = root @ root.T + np.diag(rng.uniform(0.01, 0.1, count))
    return x, 3 + 1.01 * x + rng.multivariate_normal(np.zeros(count), covariance), covariance


@given(SEEDS)
def test_agrees_with_the_general_fits(seed):
    """numpy.polyfit for plain weights, scipy.optimize.curve_fit for a full covariance."""
    x, y, covariance = scattered(seed)
    plain = fit_line(x, y, np.diag(np.diag(covariance)))
    (slope, intercept), cov = np.polyfit(x, y, 1, w=1 / np.sqrt(np.diag(covariance)), cov="unscaled")
    assert (plain.intercept, plain.slope) == pytest.approx((intercept, slope), rel=1e-8)
    assert plain.covariance == pytest.approx((cov[1, 1], cov[0, 1], cov[0, 0]), rel=1e-8)
    full = fit_line(x, y, covariance)
    (intercept, slope), cov = curve_fit(lambda x, a, b: a + b * x, x, y, sigma=covariance, absolute_sigma=True)
    assert (full.intercept, full.slope) == pytest.approx((intercept, slope), rel=1e-5)
    assert full.covariance == pytest.approx((cov[0, 0], cov[0, 1], cov[1, 1]), rel=1e-4)


def distance(x, y, covariance, x_variance, level, intercept, slope):
    rest = y - level * intercept - slope * x
    return float(rest @ np.linalg.solve(covariance + np.diag(slope**2 * x_variance), rest))


@given(SEEDS, st.lists(st.booleans(), min_size=8, max_size=8))
def test_no_other_line_lies_nearer(seed, from_origin):
    """What it means to be the best: the weighed distance grows whichever way the line is moved."""
    assume(not all(from_origin))
    x, y, covariance = scattered(seed)
    level = 1.0 - np.asarray(from_origin, dtype=float)
    y = y - 3 * (1 - level)
    x_variance = np.full(8, 0.02)
    line = fit_line(x, y, covariance, x_variance, from_origin)
    best = distance(x, y, covariance, x_variance, level, line.intercept, line.slope)
    assert best == pytest.approx(line.chi_square)
    for up, tilt in [(1e-3, 0), (-1e-3, 0), (0, 1e-4), (0, -1e-4), (1e-3, -1e-4), (-1e-3, 1e-4)]:
        assert distance(x, y, covariance, x_variance, level, line.intercept + up, line.slope + tilt) > best


@given(SEEDS)
def test_a_shift_is_what_the_others_say(seed):
    """Left out and predicted by the rest, a point with an error of its own differs by the same."""
    x, y, covariance = scattered(seed)
    own = np.diag(np.diag(covariance))
    shifts = fit_line(x, y, own).shifts
    for place in range(8):
        rest = [other for other in range(8) if other != place]
        value, u = fit_line(x[rest], y[rest], own[np.ix_(rest, rest)]).at(x[place])
        by, of = shifts[place]
        assert by == pytest.approx(y[place] - value, rel=1e-6, abs=1e-9)
        assert of == pytest.approx(np.hypot(u, own[place, place] ** 0.5), rel=1e-6)


def test_a_point_that_no_other_can_check_has_no_shift():
    assert fit_line([1, 2], [1.0, 2.0]).shifts == ((0.0, np.inf), (0.0, np.inf))
    far = fit_line([1, 1, 5], [1.0, 1.1, 9.0]).shifts
    assert [np.isinf(u) for _, u in far] == [False, False, True]


def test_a_known_slope_leaves_the_mean():
    line = fit_line([1, 2, 6], [3.0, 4.0, 8.3], slope=1.0)
    assert line.intercept == pytest.approx(2.1)
    assert line.covariance == (pytest.approx(1 / 3), 0.0, 0.0)
    assert line.mean_x == pytest.approx(3.0)
    assert line.dof == 2


def test_points_from_the_origin_alone_leave_the_slope():
    line = fit_line([1, 2], [2.0, 4.0], from_origin=[True, True])
    assert (line.intercept, line.slope, line.covariance) == (0.0, pytest.approx(2.0), (0.0, 0.0, pytest.approx(0.2)))
    assert line.correlation == 0


def test_a_line_through_two_points_has_no_deviation():
    line = fit_line([1, 2], [1.0, 4.0])
    assert (line.dof, line.deviation) == (0, 0.0)
    assert line.at(3)[0] == pytest.approx(7)


@pytest.mark.parametrize("unit", [1e-6, 1e-3, 1e3])
def test_the_unit_of_the_points_does_not_change_the_line(unit):
    """Pearson's points once more: with both coordinates in another unit the printed slope stays, a length turns."""
    points, printed = example("YORK")
    line = fit_line(
        [unit * x for x in column(points, "x")],
        [unit * y for y in column(points, "y")],
        np.diag([unit**2 / weight for weight in column(points, "y_weight")]),
        [unit**2 / weight for weight in column(points, "x_weight")],
    )
    assert agrees_with_print(line.slope, printed["slope"])
    assert agrees_with_print(line.intercept / unit, printed["intercept"])
    assert agrees_with_print(line.covariance[0] ** 0.5 / unit, printed["intercept deviation"])
    assert agrees_with_print(line.chi_square, printed["chi square"])


@pytest.mark.parametrize("slope", [None, 1.0])
def test_different_lengths_at_one_mark_are_no_line(slope):
    """Of a line whose slope is known two points at one mark leave the mean; else nothing tells how it slants."""
    if slope is None:
        message = "^the line through the points is upright: one mark stands for different lengths; it must be slanting"
        with pytest.raises(OutOfRange, match=message):
            fit_line([3, 3], [1.0, 2.0], slope=slope)
    else:
        assert fit_line([3, 3], [1.0, 2.0], slope=slope).intercept == pytest.approx(-1.5)
