"""The readings page, the strips page and the start page, driven in Python."""

from __future__ import annotations

import re
from html import unescape

import pytest

from modelmath.lengths.scales import all_scales
from modelmath.widgets import ReadingsPanel, StripsPanel
from modelmath.widgets.common.look import LAST


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def test_a_reading_is_corrected_for_the_zero_that_stands_in():
    panel = ReadingsPanel()
    panel.fields["mark"].value = "7 1/2"
    # common practice, no source: with zero one scale foot in, 7 1/2 read from the end is 8 1/2.
    assert plain(panel.answer.value).startswith("Length 8 1/2 scale ft 1.171 in 29.75 mm")
    panel.fields["datum"].value = "zero"
    assert plain(panel.answer.value).startswith("Length 7 1/2 scale ft")


def test_a_bad_reading_keeps_the_last_answer_and_says_what_to_write():
    panel = ReadingsPanel()
    before = panel.answer.value
    panel.fields["mark"].value = "1/0"
    assert "can't have 0 below the line" in plain(panel.fields["mark"].message)
    assert plain(panel.answer.value) == f"{LAST} {plain(before)}"
    panel.fields["mark"].value = "5 3/4"
    assert panel.answer.value == before


def test_repeats_of_one_spot_give_their_mean_and_what_they_tell():
    """By hand, in mm: 1 ft beside the zero is 3.5; marks 21, 21.4375, 21 have the mean 21 7/48."""
    panel = ReadingsPanel()
    panel.fields["mark"].value = "6; 6 1/8; 6"
    said = plain(panel.answer.value)
    assert said.startswith("Length, the mean of 3 readings")
    assert "24.65 mm" in said  # 21.1458 + 3.5
    # A step of 7/8 mm read to the nearest mark, and the scatter: sqrt(0.875^2 / 12 + 0.4375^2 / 9) = 0.292.
    assert "Standard uncertainty of the mean 0.29 mm" in said
    assert said.endswith("3 readings are too few to tell whether one stands out; read it 4 times to know.")
    assert "24.65 mm" in panel.summary
    panel.fields["mark"].value = "6; six"
    assert 'role="alert"' in panel.fields["mark"].message
    assert plain(panel.answer.value) == f"{LAST} {said}"


@pytest.mark.parametrize("panel", [ReadingsPanel, StripsPanel])
def test_all_scales_are_offered_the_common_ones_first(panel):
    names = panel().fields["scale"].control.options
    assert names[:4] == ("HO", "N", "O", "S")
    assert set(names) == {each.name for each in all_scales()}


def test_a_bad_rule_is_said_at_its_own_field():
    panel = ReadingsPanel()
    panel.fields["zero_offset"].value = "a foot"
    assert 'role="alert"' in panel.fields["zero_offset"].message
    assert plain(panel.answer.value).startswith(LAST)
    assert 'role="alert"' not in panel.fields["graduation"].message
    panel.fields["zero_offset"].value = "1"
    panel.fields["graduation"].value = "0"
    assert 'role="alert"' in panel.fields["graduation"].message
