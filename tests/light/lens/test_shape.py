"""Shapes of melted lenses: volumes in print, and those of their outline summed up with scipy."""

import re
from fractions import Fraction
from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from scipy.integrate import quad

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.lens.shape import AS_ROUND, LensEnd, length_of_head, whole_length

PRINTED = {row["shape"]: row["volume_mm3"] for row in published_rows("volumes.csv")}
strands, wider, longer = st.floats(0.2, 3), st.floats(1.01, 4), st.floats(1, 3)
THIN = 1e-6  # a strand so thin that the whole spheroid stands out of it


@pytest.mark.parametrize(
    ("shape", "diameter", "length"),
    [
        ("sphere, radius 1 mm", 2, None),
        ("prolate spheroid, semi-axes 2, 1, 1 mm", 2, 4),
        ("prolate spheroid, length 1.5 mm diameter 1.0 mm", 1, 1.5),
    ],
)
def test_whole_spheroids_have_the_volume_in_the_table(shape, diameter, length):
    assert agrees_with_print(LensEnd(diameter, length, strand_mm=THIN).volume_mm3, PRINTED[shape])


def test_a_sphere_less_its_cap():
    """Sphere of radius 5 less the cap of height 2 in the table: the cap's foot has a radius of sqrt(25 - 9) = 4."""
    whole, cap = 4 / 3 * pi * 125, float(PRINTED["spherical cap, sphere radius 5 mm, height 2 mm"])
    end = LensEnd(10, strand_mm=8)
    assert end.volume_mm3 == pytest.approx(whole - cap, abs=1e-5)
    assert end.head_length_mm == pytest.approx(8)


def test_just_wider_than_the_strand_it_is_a_half_sphere():
    end = LensEnd(0.75 + 1e-9, strand_mm=0.75)
    assert end.volume_mm3 == pytest.approx(float(PRINTED["hemisphere, diameter 0.75 mm"]), rel=1e-3)


@given(strands, wider, longer)
def test_the_volume_is_that_of_its_outline(strand, wide, long):
    """Numerical integration of pi r^2 along the head, r from the equation of the ellipse."""
    diameter = strand * wide
    end = LensEnd(diameter, diameter * long, strand_mm=strand)
    half, middle = diameter * long / 2, end.head_length_mm - diameter * long / 2
    area = lambda at: pi * (diameter / 2) ** 2 * max(0.0, 1 - ((at - middle) / half) ** 2)  # noqa: E731
    assert end.volume_mm3 == pytest.approx(quad(area, 0, end.head_length_mm)[0], rel=1e-6)
    assert area(0) == pytest.approx(pi * strand**2 / 4)


@given(strands, wider, longer, st.integers(1, 40))
def test_the_outline_runs_from_the_strand_over_the_ellipse_to_the_tip(strand, wide, long, steps):
    diameter = strand * wide
    end = LensEnd(diameter, diameter * long, strand_mm=strand)
    outline = end.profile(steps)
    assert len(outline) == steps + 1
    assert outline[0] == pytest.approx((0, strand / 2))
    assert outline[-1] == pytest.approx((end.head_length_mm, 0), abs=1e-9)
    half = diameter * long / 2
    for at, radius in outline:
        assert hypot((at - (end.head_length_mm - half)) / half, radius / (diameter / 2)) == pytest.approx(1)


@given(strands, wider, longer)
def test_the_length_comes_back_from_the_measured_head(strand, wide, long):
    diameter = strand * wide
    end = LensEnd(diameter, diameter * long, strand_mm=strand)
    assert length_of_head(end.head_length_mm, diameter, strand) == pytest.approx(diameter * long)


def test_a_head_longer_than_a_round_one_is_a_spheroids():
    """Diameter 10 on a strand of 8: the strand's plane is 3/5 of a half length behind the middle, as 3, 4, 5 make a
    right angle; a head of 12 mm is 1.6 half lengths of 7.5 mm, a round one 1.6 times 5 mm = 8 mm."""
    assert whole_length(12, 10, 8) == pytest.approx(15)
    assert whole_length(Fraction(81, 10), 10, 8) == pytest.approx(10.125)


def test_a_head_as_long_as_a_round_one_is_round_within_float_noise():
    around = LensEnd(10, strand_mm=8).head_length_mm
    assert around == pytest.approx(8)
    for share in (1, 1 - AS_ROUND, 1 + AS_ROUND, 1 - 0.9e-6, 1 + 0.9e-6):
        assert whole_length(around * share, 10, 8) is None
    assert whole_length(around * (1 + 1.1e-6), 10, 8) == pytest.approx(10 * (1 + 1.1e-6), rel=1e-9)
    with pytest.raises(OutOfRange):
        whole_length(around * (1 - 1.1e-6), 10, 8)


@given(strands, wider, st.floats(1.001, 3))
def test_what_is_measured_from_strand_to_tip_gives_the_lens_back(strand, wide, long):
    diameter = strand * wide
    end = LensEnd(diameter, diameter * long, strand_mm=strand)
    assert whole_length(end.head_length_mm, diameter, strand) == pytest.approx(diameter * long)
    assert whole_length(LensEnd(diameter, strand_mm=strand).head_length_mm, diameter, strand) is None


@given(strands, wider, st.floats(0.1, 0.999))
def test_a_flatter_head_is_refused_and_the_length_it_names_is_taken(strand, wide, flat):
    diameter = strand * wide
    with pytest.raises(OutOfRange) as refused:
        whole_length(flat * LensEnd(diameter, strand_mm=strand).head_length_mm, diameter, strand)
    least = float(re.search(r"must be (\S+) mm or more", str(refused.value))[1])
    taken = whole_length(least, diameter, strand)
    assert taken is None or taken > diameter


def test_kinds_by_name():
    assert LensEnd(1.2, strand_mm=0.75).kind == "round"
    assert LensEnd(Fraction(6, 5), Fraction(6, 5), strand_mm=Fraction(3, 4)).kind == "round"
    assert LensEnd(1.2, 1.3, strand_mm=0.75).kind == "prolate"


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: LensEnd(0.75, strand_mm=0.75),
            OutOfRange,
            (
                "the lens's diameter is 0.75 mm on a strand of 0.75 mm; it must be above that of its strand. "
                "A melted end only grows wider: take a thinner strand, or a flat end without a lens."
            ),
        ),
        (
            lambda: LensEnd(0.5, strand_mm=0.75),
            OutOfRange,
            (
                "the lens's diameter is 0.5 mm on a strand of 0.75 mm; it must be above that of its strand. "
                "A melted end only grows wider: take a thinner strand, or a flat end without a lens."
            ),
        ),
        (
            lambda: LensEnd(1.2, 1, strand_mm=0.75),
            OutOfRange,
            (
                "the lens's length is 1 mm at a diameter of 1.2 mm; it must be its diameter or more. "
                "Leave the length out for a round lens; one flatter than round does not form by itself."
            ),
        ),
        (
            lambda: LensEnd("1.2 mm", strand_mm=0.75),
            WrongKind,
            "the lens's diameter is '1.2 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: LensEnd(1.2, strand_mm=0),
            OutOfRange,
            "the strand's diameter is 0 mm; it must be above 0 mm. Write it in mm, such as 0.75.",
        ),
        (
            lambda: LensEnd(1.2, strand_mm=0.75).profile(0),
            OutOfRange,
            "steps is 0; it must be 1 or more. Write 24 for a smooth outline.",
        ),
        (
            lambda: length_of_head(0, 1.2, 0.75),
            OutOfRange,
            "the head's length is 0 mm; it must be above 0 mm. Write it in mm, such as 1.1.",
        ),
        (
            lambda: whole_length(7.5, 10, 8),
            OutOfRange,
            (
                "the lens's length is 7.50 mm from strand to tip; it must be 8.00 mm or more, as long as a round one "
                "is. Leave it empty for a round lens; one flatter than round does not form by itself."
            ),
        ),
        (
            lambda: whole_length(7.996, 10, 8),
            OutOfRange,
            (
                "the lens's length is 7.996 mm from strand to tip; it must be 8.00 mm or more, as long as a round one "
                "is. Leave it empty for a round lens; one flatter than round does not form by itself."
            ),
        ),
        (  # a round one's is 1.1/2 + sqrt(1.1^2 - 0.75^2)/2 = 0.55 + sqrt(0.6475)/2 = 0.95234: 0.95 would be refused
            lambda: whole_length(Fraction(95, 100), 1.1, 0.75),
            OutOfRange,
            (
                "the lens's length is 0.95 mm from strand to tip; it must be 0.96 mm or more, as long as a round one "
                "is. Leave it empty for a round lens; one flatter than round does not form by itself."
            ),
        ),
    ],
)
def test_what_is_no_lens_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def test_an_outline_has_24_steps_unless_said():
    end = LensEnd(1.2, strand_mm=0.75)
    assert end.profile() == end.profile(24)
    assert len(end.profile(1)) == 2
