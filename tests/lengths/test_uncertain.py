"""Uncertain lengths against printed factors, and the shares of their causes."""

import re
import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange
from modelmath.lengths.uncertain import LIMIT_PER_U, Cause, components, normal, rectangular


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


@pytest.mark.parametrize("make", [rectangular, normal])
def test_no_uncertainty_is_no_warning(make):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert make(1.0, 0.0, "exact").std_dev == 0
        assert components(make(1.0, 0.0, "exact") + 1) == []


@pytest.mark.parametrize("make", [rectangular, normal])
@pytest.mark.parametrize("width", [-0.1, float("nan"), float("inf")])
def test_an_uncertainty_below_0_or_no_number_is_refused(make, width):
    message = f"roof: uncertainty is {width}; it must be 0 or more. Write 0.05 for plus or minus 0.05."
    with pytest.raises(OutOfRange, match=whole(message)):
        make(1.0, width, "roof")
