"""Uncertain lengths against printed factors, and the shares of their causes."""

import re
import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange
from modelmath.lengths.uncertain import (
    LIMIT_PER_U,
    Cause,
    components,
    limit_per_u,
    normal,
    rectangular,
    repeated,
    triangular,
)


def whole(text):
    return f"^{re.escape(text)}$"


def test_rectangular_agrees_with_the_printed_factor():
    """NIST TN 1297, section 4; JCGM 100:2008, 4.3.7: half width / sqrt(3)."""
    rows = {row["name"]: row["value"] for row in published_rows("uncertainty_examples.csv")}
    assert agrees_with_print(rectangular(10.0, 1.0, "sheet").std_dev, rows["rectangular"])


@given(st.floats(0, 1e3))
def test_limits_of_a_rectangle_are_its_ends(half_width):
    assert rectangular(1.0, half_width, "sheet").std_dev * LIMIT_PER_U["rectangular"] == pytest.approx(half_width)


@given(st.floats(0.001, 10), st.floats(0.001, 10), st.floats(-5, 5))
def test_shares_add_in_squares_to_the_whole(a, b, slope):
    """JCGM 100:2008, 5.1.2 and 5.1.3."""
    value = rectangular(3.0, a, "roof") + slope * normal(2.0, b, "offset")
    shares = components(value)
    assert sum(share**2 for _, share in shares) == pytest.approx(value.std_dev**2)
    assert [abs(share) for _, share in shares] == sorted((abs(share) for _, share in shares), reverse=True)


def test_shares_are_signed_and_name_their_cause_and_shape():
    value = rectangular(10.0, 0.3, "roof") - normal(4.0, 0.1, "chassis")
    (roof, first), (chassis, second) = components(value)
    assert (roof, chassis) == (Cause("roof", "rectangular"), Cause("chassis", "normal"))
    assert str(roof) == "roof"
    assert first == pytest.approx(0.3 / 3**0.5)
    assert second == pytest.approx(-0.1)


def test_a_shared_cause_is_one_cause_and_may_cancel():
    offset = normal(1.0, 0.2, "offset")
    assert components(offset - offset) == []
    assert [round(share, 12) for _, share in components(offset + offset)] == [0.4]


def test_a_number_from_elsewhere_has_shares_too():
    from uncertainties import ufloat

    assert components(ufloat(1.0, 0.1, tag="gauge")) == [(Cause("gauge", "normal"), 0.1)]
    assert components(3.5) == []


@pytest.mark.parametrize("make", [rectangular, triangular, normal])
def test_no_uncertainty_is_no_warning(make):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert make(1.0, 0.0, "exact").std_dev == 0
        assert components(make(1.0, 0.0, "exact") + 1) == []


@pytest.mark.parametrize("make", [rectangular, triangular, normal])
@pytest.mark.parametrize("width", [-0.1, float("nan"), float("inf")])
def test_an_uncertainty_below_0_or_no_number_is_refused(make, width):
    message = f"roof: uncertainty is {width}; it must be 0 or more. Write 0.05 for plus or minus 0.05."
    with pytest.raises(OutOfRange, match=whole(message)):
        make(1.0, width, "roof")


@pytest.mark.parametrize("row", published_rows("t_factors.csv"), ids=lambda row: row["dof"])
def test_limits_of_repeats_are_the_printed_t_factors(row):
    assert agrees_with_print(limit_per_u("repeats", float(row["dof"])), row["t_95_45"])


def test_limits_of_shapes_with_ends_are_their_ends_and_of_normals_two():
    """JCGM 100:2008, 4.3.7, 4.3.9; JCGM 101:2008, 6.4.6; of infinite freedom repeats are normal."""
    assert limit_per_u("rectangular") == pytest.approx(3**0.5)
    assert limit_per_u("triangular") == pytest.approx(6**0.5)
    assert limit_per_u("arcsine") == pytest.approx(2**0.5)
    assert limit_per_u("normal") == limit_per_u("repeats") == 2
    assert limit_per_u("repeats", 1e6) == pytest.approx(2, abs=1e-3)


@given(st.floats(0, 1e3))
def test_a_triangle_is_as_wide_as_two_rectangles_of_half_its_width(half_width):
    """The sum of two equal rectangles is a triangle: their variances add (JCGM 101:2008, 6.4.5.1)."""
    two = rectangular(0.0, half_width / 2, "a") + rectangular(0.0, half_width / 2, "b")
    assert triangular(1.0, half_width, "glue").std_dev == pytest.approx(two.std_dev)
    assert triangular(1.0, half_width, "glue").std_dev * limit_per_u("triangular") == pytest.approx(half_width)


def test_repeated_says_its_shape_and_freedom():
    value = repeated(12.0, 0.05, 3, "roof")
    assert (value.n, value.std_dev) == (12.0, 0.05)
    assert value.tag == Cause("roof", "repeats", 3)


@pytest.mark.parametrize("dof", [1, 2])
def test_two_or_three_readings_are_a_rectangle_of_the_same_uncertainty(dof):
    """A t-distribution below three degrees of freedom has no finite variance (JCGM 101:2008, 6.4.9.4, from memory)."""
    value = repeated(12.0, 0.05, dof, "roof")
    assert value.std_dev == 0.05
    assert value.tag == Cause("roof", "rectangular", dof)


@pytest.mark.parametrize("dof", [0, 0.5, float("nan")])
def test_repeats_without_freedom_are_refused(dof):
    message = f"roof: degrees of freedom is {dof:g}; it must be 1 or more. Read it twice or more."
    with pytest.raises(OutOfRange, match=whole(message)):
        repeated(12.0, 0.05, dof, "roof")
