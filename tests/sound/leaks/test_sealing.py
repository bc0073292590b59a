"""How tight a chamber must be, checked by the response itself."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.errors import OutOfRange
from modelmath.sound.driver.driver import Driver
from modelmath.sound.leaks.leak import hole, slot
from modelmath.sound.leaks.leaky_box import leak_effect
from modelmath.sound.leaks.sealing import sealing

SMALL = Driver("sample", fs_hz=500, qes=1.0, qms=4.0, vas_mm3=2000, sd_mm2=100, re_ohm=7)
CHAMBER_MM3 = 8000.0


def harmless(leak, most_shift=0.05, least_ql=20.0):
    effect = leak_effect(SMALL, CHAMBER_MM3, [leak])
    return effect.ql >= least_ql and abs(effect.shift) <= most_shift


@pytest.mark.parametrize(("most_shift", "least_ql"), [(0.05, 20.0), (0.01, 5.0), (0.05, 1.0)])
def test_up_to_the_limit_all_are_harmless_and_just_beyond_none(most_shift, least_ql):
    found = sealing(SMALL, CHAMBER_MM3, joint_mm=60, joint_depth_mm=1.5, most_shift=most_shift, least_ql=least_ql)
    for make, size in ((lambda x: hole(x, 1.0), found.hole_mm), (lambda x: slot(60, x, 1.5), found.gap_mm)):
        assert all(harmless(make(part * size), most_shift, least_ql) for part in np.linspace(0.05, 1, 20))
        assert not harmless(make(1.0001 * size), most_shift, least_ql)
    assert found.largest_hole == hole(found.hole_mm, 1.0)
    assert found.largest_gap == slot(60, found.gap_mm, 1.5)


def test_the_narrow_gap_is_that_of_ql_by_hand():
    """Ql = w C R, R = 12 mu l / (w h^3), solved for h; air of the handbooks."""
    found = sealing(SMALL, CHAMBER_MM3, joint_mm=60)
    compliance, omega = 8e-6 / (1.204 * 343.2**2), 2 * np.pi * 500 * sqrt(1.25)
    by_hand_m = (omega * compliance * 12 * 1.81e-5 * 1e-3 / (60e-3 * 20)) ** (1 / 3)
    assert found.gap_mm == pytest.approx(by_hand_m * 1000, rel=0.02)


@settings(max_examples=8)
@given(st.floats(1500, 20_000), st.floats(1.1, 2), st.floats(20, 150))
def test_longer_joints_must_be_tighter_and_deeper_ones_need_not(volume, more, joint_mm):
    near = sealing(SMALL, volume, joint_mm=joint_mm)
    assert sealing(SMALL, volume, joint_mm=joint_mm * more).gap_mm < near.gap_mm
    assert sealing(SMALL, volume, joint_mm=joint_mm, joint_depth_mm=more).gap_mm > near.gap_mm
    assert sealing(SMALL, volume, joint_mm=joint_mm, least_ql=20 * more).gap_mm < near.gap_mm


def test_the_advice_in_words_and_the_same_each_time():
    found = sealing(SMALL, CHAMBER_MM3, joint_mm=60)
    assert found == sealing(SMALL, CHAMBER_MM3, joint_mm=60)
    assert found.in_words == (
        "Seal every gap wider than 0.033 mm along the 60 mm of joint and every hole wider than 0.43 mm; fill the wire "
        "hole all round its wires. Each alone, at that size, moves the -3 dB point of 465 Hz by 5 % or brings Ql down "
        "to 20; where there are several, make each smaller."
    )


def test_limits_that_mean_nothing_are_refused():
    text = r"^the shift of the -3 dB point is 0; it must be above 0\. Leave it out for the usual one\.$"
    with pytest.raises(OutOfRange, match=text):
        sealing(SMALL, CHAMBER_MM3, joint_mm=60, most_shift=0)
    text = (
        r"^the chamber is so large, or the joint so short, that an opening of 87\.6 mm does no harm; "
        r"it must be a small closed one\. Check its volume and the joint's length\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        sealing(SMALL, 1e12, joint_mm=60)
    text = (
        r"^the chamber is so sensitive that a leak of 0\.001 mm harms it; it must be one that a tight joint seals\. "
        r"Check its volume and the limits\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        sealing(SMALL, CHAMBER_MM3, joint_mm=60, least_ql=1e12)
