"""How far two parameters may be apart before one of them is refused: house rules, from both sides of each."""

from __future__ import annotations

from contextlib import nullcontext

import pytest

from modelmath.errors import OutOfRange
from modelmath.quantities.known import Known
from modelmath.sound.driver.agreeing import check_agreement, check_size, outside_area_mm2
from modelmath.sound.driver.deriving import off_by
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.tolerances import as_on_sheet, as_stated, is_unsaid


def allowed(driver, refused, check=check_agreement):
    with pytest.raises(OutOfRange) if refused else nullcontext():
        check(driver)


@pytest.mark.parametrize(
    ("of", "due", "words"),
    [
        (1000, 100, "900 % above"),
        (1000.1, 100, "more than ten times as much"),
        (10, 100, "90 % below"),
        (9.99, 100, "less than a tenth of that"),
        (100, 100, "0 % below"),
        (100.1, 100, "0.1 % above"),
        (112.345, 100, "12.3 % above"),
        (87.65, 100, "12.3 % below"),
    ],
)
def test_how_far_off_is_told_to_three_figures(of, due, words):
    assert off_by(of, due) == words


@pytest.mark.parametrize(
    ("area", "refused"), [(165, False), (169.9, False), (170, True), (Known(180, 169, 190), False)]
)
def test_a_cone_may_be_3_percent_larger_than_its_speaker(area, refused):
    """15 x 11 = 165 mm2; 3 % more is 169.95."""
    driver = Driver("sample", length_mm=15, width_mm=11, sd_mm2=area)
    assert outside_area_mm2(driver) == 165
    allowed(driver, refused, check_size)
    allowed(driver, refused)
    allowed(Driver("sample", sd_mm2=area), False)  # nothing tells how large it is
    allowed(Driver("sample", length_mm=15, sd_mm2=area), False)


@pytest.mark.parametrize(
    ("coil", "refused"),
    [
        (3.87, True),
        (3.89, False),
        (10.29, False),
        (10.31, True),
        (Known(3, 2, 3.89), False),
        (Known(11, 10.29, 12), False),
    ],
)
def test_a_coil_has_from_a_half_to_five_quarters_of_the_rated_impedance(coil, refused):
    """Of 8 ohm 4 to 10 ohm, and 3 % either way: 3.88 to 10.3."""
    allowed(Driver("sample", impedance_ohm=8, re_ohm=coil), refused)


@pytest.mark.parametrize(
    ("qts", "on_sheet", "refused"),
    [
        (0.823, False, False),  # 3 %
        (0.825, False, True),
        (0.777, False, False),
        (0.775, False, True),
        (0.919, True, False),  # a sheet that states no limits: 15 %
        (0.921, True, True),
        (0.681, True, False),
        (0.679, True, True),
    ],
)
def test_a_qts_goes_with_the_other_two(qts, on_sheet, refused):
    """Small 1972: 1/Qts = 1/Qes + 1/Qms; 1 and 4 make 0.8."""
    known = as_on_sheet(Known.of(qts), "qts") if on_sheet else qts
    allowed(Driver("sample", qes=1, qms=4, qts=known), refused)
    # Whichever of the three it is whose limits are left unsaid.
    electrical = as_on_sheet(Known.of(1), "qes") if on_sheet else 1
    allowed(Driver("sample", qes=electrical, qms=4, qts=qts), refused)


@pytest.mark.parametrize(
    ("share", "on_sheet", "refused"),
    [(1.029, False, False), (1.031, False, True), (1.249, True, False), (1.251, True, True), (0.751, True, False),
     (0.749, True, True)],
)  # fmt: skip
def test_a_moving_mass_goes_with_resonance_volume_and_area(share, on_sheet, refused):
    """1 / ((2 pi 500)^2 Cms), Cms = 1.5e-6 / (1.204 x 343.2^2 x (90e-6)^2): 0.07757 g."""
    mass = 0.077573 * share
    known = as_on_sheet(Known.of(mass), "mms_g") if on_sheet else mass
    allowed(Driver("sample", fs_hz=500, vas_mm3=1500, sd_mm2=90, mms_g=known), refused)


def test_a_sheet_s_own_figures_are_those_without_the_limits_it_leaves_unsaid():
    unsaid, own = as_on_sheet(Known.of(500), "fs_hz"), Known(0.8, 0.7, 0.9)
    found = as_stated(Driver("sample", fs_hz=unsaid, qts=own, qms=4))
    assert (found.fs_hz.low, found.fs_hz.value, found.fs_hz.high) == (500, 500, 500)
    assert (found.qts, found.qms) == (own, Known.of(4))
    assert [is_unsaid(each) for each in (unsaid, own, Known.of(4))] == [True, False, False]


@pytest.mark.parametrize(
    ("size", "area"),
    [
        ({"length_mm": 20, "width_mm": 10}, 200),
        ({"length_mm": 20, "round": True}, 314.159),
        ({"width_mm": 20, "round": True}, 314.159),
        ({"length_mm": 20}, None),
        ({"width_mm": 20}, None),
        ({"round": True}, None),
        ({}, None),
    ],
)
def test_the_area_that_a_speaker_covers(size, area):
    assert outside_area_mm2(Driver("sample", **size)) == (None if area is None else pytest.approx(area, rel=1e-6))
