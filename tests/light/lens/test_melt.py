"""What is melted for a lens: volume kept, by hand and over all sizes."""

import re
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange
from modelmath.light.lens.melt import Melt, lens_melt_length
from modelmath.light.lens.shape import LensEnd

strands, wider, longer, factors = st.floats(0.2, 3), st.floats(1.01, 4), st.floats(1, 3), st.floats(0.5, 2)


def test_a_round_lens_by_hand():
    """A sphere of 10 mm on a strand of 8, less its cap, 2 mm high: pi 4 (15 - 2) / 3.

    500/3 pi - 52/3 pi = 448/3 pi; over the strand's section, 16 pi: 28/3 mm. The head stands out 8 mm.
    """
    melt = lens_melt_length(8, 10)
    assert melt.melted_mm == pytest.approx(28 / 3)
    assert melt.head_length_mm == pytest.approx(8)
    assert melt.shortens_by_mm == pytest.approx(4 / 3)


@given(strands, wider, longer, factors)
def test_the_volume_is_kept(strand, wide, long, trial):
    melt = lens_melt_length(strand, strand * wide, strand * wide * long, trial=trial)
    assert melt.melted_mm * pi * strand**2 / 4 == pytest.approx(melt.volume_mm3 * trial)
    assert melt.melted_mm - melt.shortens_by_mm == pytest.approx(melt.head_length_mm)


@given(strands, wider, longer, st.floats(1.01, 2))
def test_a_wider_or_longer_lens_takes_more(strand, wide, long, more):
    diameter, length = strand * wide, strand * wide * long
    melted = lens_melt_length(strand, diameter, length).melted_mm
    assert lens_melt_length(strand, diameter * more, length * more).melted_mm > melted
    assert lens_melt_length(strand, diameter, length * more).melted_mm == pytest.approx(melted * more)


@given(strands, wider, st.floats(0.1, 10))
def test_all_grows_with_scale(strand, wide, times):
    one, other = lens_melt_length(strand, strand * wide), lens_melt_length(strand * times, strand * wide * times)
    assert other.melted_mm == pytest.approx(one.melted_mm * times)


def test_in_words_a_round_lens_and_a_long_one_by_trial():
    assert lens_melt_length(0.75, 1.2).in_words == (
        "A lens 1.20 mm wide takes 1.98 mm of a 0.75 mm strand; it stands out 1.07 mm, so strand and lens end up "
        "0.91 mm shorter."
    )
    assert lens_melt_length(0.75, 1.2, 1.6, trial=1.1).in_words == (
        "A lens 1.20 mm wide and 1.42 mm long takes 2.90 mm of a 0.75 mm strand; it stands out 1.42 mm, so strand and "
        "lens end up 1.48 mm shorter. This counts your trial ends, which took 1.10 times as much."
    )


def test_an_end_that_is_only_rounded_stands_out_further():
    """A half sphere holds 2/3 of the cylinder as long: the strand grows by a sixth of its diameter."""
    melt = lens_melt_length(0.75, 0.75 + 1e-9)
    assert melt.shortens_by_mm == pytest.approx(-0.75 / 6, rel=1e-3)
    assert melt.in_words.endswith("so strand and lens end up 0.12 mm longer.")


def test_a_factor_that_is_none_is_refused():
    text = "the trial factor is 0; it must be above 0. Write it as a ratio, such as 1.1."
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        lens_melt_length(0.75, 1.2, trial=0)


def test_without_trial_ends_volume_alone_counts():
    melt = lens_melt_length(8, 10)
    assert melt == Melt(LensEnd(10, strand_mm=8)) == lens_melt_length(8, 10, trial=1)
    assert "trial" not in melt.in_words
    assert lens_melt_length(8, 10, trial=0.9).in_words.endswith(
        " This counts your trial ends, which took 0.90 times as much."
    )


def test_a_lens_named_as_long_as_it_is_wide_is_told_as_round():
    assert lens_melt_length(0.75, 1.2, 1.2).in_words == lens_melt_length(0.75, 1.2).in_words
