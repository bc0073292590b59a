"""Light by current, and how bright that looks by CIE 1976 lightness."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.lamps.brightness import (
    current_for,
    perceived,
    resistor_for_look,
    share_for,
    trimmed,
    trimming_table,
)
from modelmath.light.lamps.preferred import SERIES
from modelmath.light.lamps.resistor import led_resistor
from modelmath.quantities.known import Known

# CIE 15: L* of some luminance factors. 18 % grey is L* 49.5, as textbooks on photography and colour print it;
# 8 is where the straight line (903.3 Y) meets the cube root, at Y = 0.008856. From memory.
PRINTED = {0.0: 0.0, 0.008856: 8.0, 0.18: 49.5, 0.1842: 50.0, 1.0: 100.0}


@pytest.mark.parametrize("share", PRINTED)
def test_lightness_agrees_with_print(share):
    assert 100 * perceived(share) == pytest.approx(PRINTED[share], abs=0.05)


def test_lightness_agrees_with_a_colour_library():
    """Little CMS, through Pillow: greys of sRGB to CIE L*a*b*, in steps of 100/255 of L*."""
    image_cms = pytest.importorskip("PIL.ImageCms")
    image = pytest.importorskip("PIL.Image")
    greys = image.new("RGB", (256, 1))
    greys.putdata([(value, value, value) for value in range(256)])
    to_lab = image_cms.buildTransform(
        image_cms.createProfile("sRGB"), image_cms.createProfile("LAB"), "RGB", "LAB", renderingIntent=1
    )
    found = image_cms.applyTransform(greys, to_lab).tobytes()[::3]
    for value in range(256):
        signal = value / 255
        # IEC 61966-2-1: what an sRGB value is as light.
        light = signal / 12.92 if signal <= 0.04045 else ((signal + 0.055) / 1.055) ** 2.4
        assert 100 * perceived(light) == pytest.approx(found[value] * 100 / 255, abs=0.45)


@given(st.floats(0, 4), st.floats(0, 4))
def test_more_light_looks_brighter(one, other):
    low, high = sorted((one, other))
    assert perceived(low) <= perceived(high)


@given(st.floats(0, 4))
def test_there_and_back(share):
    assert share_for(perceived(share)) == pytest.approx(share, abs=1e-12, rel=1e-9)
    assert perceived(share_for(share)) == pytest.approx(share, abs=1e-12, rel=1e-9)


@given(st.floats(0, 4), st.floats(1e-4, 0.05))
def test_light_goes_with_current(share, current):
    assert current_for(share, current) == share * current


@given(
    st.floats(5, 24),
    st.floats(1.6, 3.0),
    st.floats(0.0005, 0.02),
    st.sampled_from(sorted(SERIES)),
    st.floats(0.02, 1),
)
def test_the_table_runs_from_bright_to_the_least(supply, forward, current, series, least):
    full = led_resistor(supply, forward, current, series=series)
    table = trimming_table(supply, forward, current, series=series, least_share=least)
    assert table[0].ohm == full.below.ohm
    assert full.above.ohm in [each.ohm for each in table] or full.above.brightness.best < least
    assert [each.ohm for each in table] == sorted({each.ohm for each in table})
    for each in table:
        assert each.share.best == pytest.approx((supply - forward) / each.ohm / current)
        assert each.looks == pytest.approx(perceived(each.share.best))
    assert all(each.share.best >= least for each in table[1:])


def test_a_table_by_hand():
    """12 V, 3 V, 2 mA: 4.5 kohm; with 9 kohm half of the light, which looks three quarters as bright."""
    half = trimmed(led_resistor(12, 3.0, 0.002), 9000)
    assert half.share.best == pytest.approx(0.5)
    assert half.looks == pytest.approx(0.76, abs=0.005)
    assert half.in_words == "9 kohm: 1 mA (0.952 to 1.05 mA), 50 % of the light, which looks 76 % as bright."
    table = trimming_table(12, 3.0, 0.002)
    assert [each.ohm for each in table[:4]] == [3900, 4700, 5600, 6800]


@given(st.floats(0.05, 1), st.sampled_from(sorted(SERIES)))
def test_values_for_a_look_stand_either_side_of_it(looks, series):
    full = led_resistor(Known(12, 11, 13), 3.0, 0.002, series=series)
    brighter, dimmer = resistor_for_look(full, looks)
    assert brighter.looks >= looks * (1 - 1e-6)
    assert dimmer.looks <= looks * (1 + 1e-6)


def test_what_is_refused():
    text = r"^the share of light is -0\.1; it must be 0 or more\. Write half as 0\.5\.$"
    with pytest.raises(OutOfRange, match=text):
        perceived(-0.1)
    text = r"^how bright it looks is 'half'; expected a number, 1 for all\. Write half as 0\.5\.$"
    with pytest.raises(WrongKind, match=text):
        share_for("half")
    text = r"^the least share of light is 0\.0001; it must be 0\.001 or more\. Write one percent as 0\.01\.$"
    with pytest.raises(OutOfRange, match=text):
        trimming_table(12, 3, 0.002, least_share=0.0001)
    text = r"^how bright it looks is 0; it must be above 0\. Leave the lamp out instead\.$"
    with pytest.raises(OutOfRange, match=text):
        resistor_for_look(led_resistor(12, 3, 0.002), 0)


def test_where_a_table_ends():
    """12 V, 2 V, 10 mA: 1 kohm; half of the light with 2 kohm exactly, and that step is still in the table."""
    table = trimming_table(12, 2.0, 0.01, series="E24", least_share=0.5)
    assert (table[0].ohm, table[-1].ohm, table[-1].share.best) == (1000, 2000, 0.5)
    assert [each.ohm for each in trimming_table(12, 3.0, 0.002, least_share=1)] == [3900]
    assert trimming_table(12, 3.0, 0.002, least_share=0.001)[-1].ohm == 3_900_000  # 4.5 kohm over a thousandth


def test_a_table_by_itself_is_of_e12_at_five_percent_down_to_a_twentieth():
    table = trimming_table(12, 3.0, 0.002)
    assert [each.ohm for each in table] == [each.ohm for each in trimming_table(12, 3.0, 0.002, series="E12")]
    assert table[-1].ohm == 82_000  # 4.5 kohm / 0.05 is 90 kohm
    assert table[0].current_a.low == pytest.approx(9 / 3900 / 1.05)
    assert trimming_table(12, 3.0, 0.002, tolerance=0.01)[0].current_a.low == pytest.approx(9 / 3900 / 1.01)
    two = trimming_table(12, 3.0, 0.002, 2)[0]
    assert two.current_a.best == pytest.approx(6 / two.ohm)


@pytest.mark.parametrize("value", [True, "0.5", None])
def test_what_is_no_share_of_light_is_refused(value):
    with pytest.raises(WrongKind, match=rf"^the share of light is '{value}'; expected a number, 1 for all\."):
        perceived(value)


@pytest.mark.parametrize("value", [float("inf"), float("nan")])
def test_no_light_without_end(value):
    with pytest.raises(OutOfRange, match=rf"^the share of light is {value}; it must be 0 or more\."):
        current_for(value, 0.002)
    assert (current_for(0, 0.002), perceived(0), share_for(0)) == (0, 0, 0)


@pytest.mark.parametrize("least", [0, -0.1, 1.1])
def test_a_least_share_that_is_no_part_is_refused(least):
    text = rf"^the least share of light is {least:g}; it must be above 0 to 1\. Write five percent as 0\.05\.$"
    with pytest.raises(OutOfRange, match=text):
        trimming_table(12, 3.0, 0.002, least_share=least)


def test_a_look_by_hand_at_a_few_ohms():
    """0.1 V over 20 mA is 5 ohm; to look half as bright takes 18.4 % of the light (CIE 15), so 27.1 ohm."""
    brighter, dimmer = resistor_for_look(led_resistor(3.1, 3.0, 0.02), 0.5)
    assert (brighter.ohm, dimmer.ohm) == (27, 30)
