"""What the numbers of a chamber come to in plain sentences."""

from __future__ import annotations

import pytest

from modelmath.job.sound.plain import beyond_theory, beyond_travel, heard_as
from modelmath.sound.closed_box.box import closed_box
from modelmath.sound.driver.driver import Driver


def box(fs=500.0, qes=1.0, volume=6000.0, xmax=0.5):
    driver = Driver("made", impedance_ohm=8, re_ohm=7, fs_hz=fs, qes=qes, qms=4, vas_mm3=2000, sd_mm2=100, xmax_mm=xmax)
    return closed_box(driver, volume)


@pytest.mark.parametrize(
    ("fs", "what"),
    [(150, "lowest rumble is missing"), (350, "horn, bell and whistle are full"), (700, "a horn loses its body"),
     (1500, "hardly any beat is left")],
)  # fmt: skip
def test_what_comes_through_goes_with_the_cutoff(fs, what):
    said = heard_as(box(fs))
    assert what in said
    assert said.startswith(f"Below about {float(f'{box(fs).f3_hz.best:.2g}'):.0f} Hz its sound fades fast: ")


def test_a_high_peak_booms():
    assert "which booms" in heard_as(box(qes=3.0, volume=1000.0))
    assert "which booms" not in heard_as(box())


def test_the_cones_limit_is_told_just_where_it_is_passed():
    made = box()
    safe = made.safe_power_w().best
    assert beyond_travel(made, 0.99 * safe) == ""
    said = beyond_travel(made, 4 * safe)
    assert f"would drive the cone {2 * 0.5:.2f} mm each way; its limit is 0.50 mm." in said  # travel: root of the power
    assert "turn the decoder down by 6 dB" in said
    assert beyond_travel(made, None) == ""


def test_a_cutoff_beyond_the_theory_is_rough():
    made = box()
    assert beyond_theory(made, made.f3_hz.best * 1.01) == ""
    assert "take it as a rough guide" in beyond_theory(made, made.f3_hz.best * 0.99)
