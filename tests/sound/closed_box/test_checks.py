"""What counts as an amount for a closed chamber, one or many at once, and what is refused."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import inf, nan, pi

import numpy as np
import pytest

from modelmath.errors import OutOfRange, WrongKind
from modelmath.sound.air import ROOM_AIR
from modelmath.sound.closed_box.checks import check_amount, check_efficiency, plain
from modelmath.sound.driver.driver import Driver


@pytest.mark.parametrize(
    "value", [1, 0.5, 1e-300, Fraction(1, 3), Decimal("0.1"), np.float32(2), [1, 2.5], np.array([[1, 2], [3, 4]])]
)
def test_numbers_above_0_are_amounts(value):
    check_amount("the power", value, " W", "Write it.")
    check_amount(name="the power", value=value, unit=" W", write="Write it.", least_0=True)


@pytest.mark.parametrize(
    ("value", "shown"),
    [(-1, "-1"), (nan, "nan"), (inf, "inf"), (-inf, "-inf"), ([1, -2, -3], "-2"),
     (np.array([[1, 2], [nan, -4]]), "nan")],
)  # fmt: skip
def test_the_first_that_is_none_is_named(value, shown):
    for least_0, expected in ((False, "a finite number above 0"), (True, "a finite number, 0 or more")):
        with pytest.raises(OutOfRange, match=rf"^the power is {shown} W; it must be {expected}\. Write it\.$"):
            check_amount("the power", value, " W", "Write it.", least_0=least_0)


def test_0_is_one_only_where_it_may_be():
    check_amount("the frequency", [0, 1], " Hz", "Write it.", least_0=True)
    with pytest.raises(OutOfRange, match=r"^the frequency is 0 Hz; it must be a finite number above 0\."):
        check_amount("the frequency", [1, 0], " Hz", "Write it.")


@pytest.mark.parametrize("value", ["5", b"5", True, None, 1j, [True], ["a"], {}])
def test_text_and_truth_are_no_amounts(value):
    with pytest.raises(WrongKind, match=r"^the power is .*; expected a number, or an array of numbers\. Write it\.$"):
        check_amount("the power", value, " W", "Write it.")


def test_one_number_comes_back_as_python_s_own():
    for found, kind in ((plain(np.float64(2.5)), float), (plain(np.array(2.5)), float), (plain(np.array(1j)), complex)):
        assert type(found) is kind
    many = np.array([2.5])
    assert plain(many) is many


@pytest.mark.parametrize(("share", "refused"), [(0.999, False), (1.001, True)])
def test_no_speaker_gives_more_than_it_gets(share, refused):
    """Small 1972, solved for Vas: eta c^3 Qes / (4 pi^2 fs^3)."""
    vas_mm3 = share * ROOM_AIR.speed_m_s**3 * 2 / (4 * pi**2 * 700**3) * 1e9
    driver = Driver("sample", fs_hz=700, vas_mm3=vas_mm3, qes=2)
    if not refused:
        check_efficiency(driver, ROOM_AIR)
        return
    with pytest.raises(
        OutOfRange, match=r"^what is known of the sample is fs 700 Hz, Vas 5\.98e\+03 cm3 and Qes 2; it "
    ):
        check_efficiency(driver, ROOM_AIR)
