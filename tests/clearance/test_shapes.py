"""Each shape's chances, its tail too, against scipy.stats."""

from __future__ import annotations

from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from modelmath.clearance.shapes import Part, from_end, normal_above, part_above, t_density

# Full widths of a shape of standard deviation 1: JCGM 100:2008, 4.3.7 and 4.3.9; JCGM 101:2008, 6.4.6 (arcsine).
HALF = {"rectangular": sqrt(3), "triangular": sqrt(6), "arcsine": sqrt(2)}
LAWS = {
    "rectangular": stats.uniform(-HALF["rectangular"], 2 * HALF["rectangular"]),
    "triangular": stats.triang(0.5, -HALF["triangular"], 2 * HALF["triangular"]),
    "arcsine": stats.arcsine(-HALF["arcsine"], 2 * HALF["arcsine"]),
    "normal": stats.norm(),
}


def close(found, expected):
    np.testing.assert_allclose(found, expected, rtol=1e-12, atol=1e-300)


@pytest.mark.parametrize("shape", LAWS)
@pytest.mark.parametrize("u_mm", [1.0, 0.02])
def test_a_shape_has_the_chances_of_its_law(shape, u_mm):
    at = np.array([0.0, 0.1, 0.5, 1.0, 1.2, 1.4, 1.7, 2.4, 2.45, 3.0])
    # Near an end scipy's own differences lose digits: twelve are left.
    np.testing.assert_allclose(part_above(Part(shape, u_mm, inf), at * u_mm), LAWS[shape].sf(at), rtol=1e-9, atol=1e-15)


@pytest.mark.parametrize("shape", HALF)
def test_the_half_width_is_that_of_the_guides(shape):
    assert Part(shape, 0.1, inf).half_width_mm == pytest.approx(0.1 * HALF[shape], rel=1e-14)


@pytest.mark.parametrize("shape", HALF)
def test_from_its_end_a_shape_rises_as_its_law_does(shape):
    share = np.array([0.0, 1e-9, 0.01, 0.3, 0.5, 0.50001, 0.7, 0.99, 1.0])
    law = LAWS[shape]
    found = from_end(shape, share)
    np.testing.assert_allclose(found, law.cdf((2 * share - 1) * HALF[shape]), rtol=1e-6, atol=1e-9)
    close(found[[0, 4, 8]], [0.0, 0.5, 1.0])


def test_close_to_its_end_no_digit_is_lost():
    """A triangle starts as 2 s^2; the arcsine law as 2/pi times the root of s: series of either."""
    share = np.array([1e-12, 1e-9])
    close(from_end("triangular", share), 2 * share**2)
    np.testing.assert_allclose(from_end("arcsine", share), 2 / np.pi * np.sqrt(share), rtol=1e-9)


def test_a_normal_keeps_its_digits_far_out_and_is_whole_far_in():
    z = np.array([-40.0, -9.3, -9.1, -6.5, -1.0, 0.0, 1.0, 6.0, 20.0, 37.0])
    close(normal_above(z), stats.norm.sf(z))


@given(st.floats(1.0, 60.0), st.floats(0.01, 5.0))
def test_repeats_have_the_t_law(dof, scale):
    part = Part("repeats", scale, dof)
    at = scale * np.array([0.0, 0.3, 1.0, 4.0, 30.0])
    np.testing.assert_allclose(part_above(part, at), stats.t.sf(at, dof, 0, scale), rtol=1e-8)
    np.testing.assert_allclose(t_density(part, at), stats.t.pdf(at, dof, 0, scale), rtol=1e-9)
