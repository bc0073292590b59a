"""Speakers and boxes: their own sizes, where a speaker is wanted, the ways to turn a box, what is refused."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import permutations

import pytest

from modelmath.enclosure import Box, Speaker
from modelmath.errors import ModelMathError

SPEAKER = Speaker(20, 12, 1, 5)
BOX = Box("decoder", 30, 15, 4)


def test_what_stands_behind_a_flange():
    assert (SPEAKER.behind_mm, SPEAKER.basket_mm) == (5, (20, 12))
    assert replace(SPEAKER, terminals_mm=2).behind_mm == 7
    assert replace(SPEAKER, basket_length_mm=18).basket_mm == (18, 12)
    assert replace(SPEAKER, basket_width_mm=9).basket_mm == (20, 9)


@pytest.mark.parametrize(
    ("place", "start"), [("front", 4), ("rear", 40), ("middle", 22), (7, 7), (-3, -3), (Fraction(1, 3), Fraction(1, 3))]
)
def test_where_it_is_wanted(place, start):
    """20 mm long, between 4 and 60 mm."""
    assert replace(SPEAKER, place=place).wanted_from((4, 60)) == start


@pytest.mark.parametrize("air", [0, 1])
def test_every_way_to_turn_a_box_takes_its_sizes_and_its_air(air):
    """Air on all sides but the one it is fixed by: twice along and across, once up."""
    ways = replace(BOX, air_mm=air, turns=True).ways
    assert [(way.along_mm, way.across_mm, way.up_mm) for way in ways] == [
        (along + 2 * air, across + 2 * air, up + air) for along, across, up in permutations((30, 15, 4))
    ]
    assert [way.words for way in ways] == [
        "flat, its length along", "on its side, its length along", "flat, its width along",
        "on its end, its width along", "on its side, its height along", "on its end, its height along",
    ]  # fmt: skip
    assert replace(BOX, air_mm=air).ways == ways[:1]
    assert (replace(BOX, air_mm=air).least_up_mm, replace(BOX, air_mm=air, height_mm=40).least_up_mm) == (
        4 + air, 40 + air,
    )  # fmt: skip
    assert replace(BOX, air_mm=air, height_mm=40, turns=True).least_up_mm == 15 + air


def test_ways_that_take_the_same_room_stand_once():
    assert len(Box("cube", 5, 5, 5, turns=True).ways) == 1
    assert [way.words for way in Box("bar", 9, 5, 5, turns=True).ways] == [
        "flat, its length along", "flat, its width along", "on its end, its width along",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("make", "text"),
    [
        (lambda: replace(SPEAKER, length_mm=0), "speaker: length is 0 mm; it must be above 0. Measure the part and"),
        (lambda: replace(SPEAKER, width_mm=-1), "speaker: width is -1 mm; it must be above 0. Measure the part and"),
        (lambda: replace(SPEAKER, flange_mm=0), "speaker: flange is 0 mm; it must be above 0. Measure the part and"),
        (lambda: replace(SPEAKER, depth_mm=0), "speaker: depth is 0 mm; it must be above 0. Measure the part and"),
        (
            lambda: replace(SPEAKER, terminals_mm=-1),
            "speaker: terminals is -1 mm; it must be 0 or more.",
        ),
        (
            lambda: replace(SPEAKER, travel_mm=-1),
            "speaker: travel is -1 mm; it must be 0 or more.",
        ),
        (lambda: replace(SPEAKER, flange_mm=6), "speaker: flange is 6.00 mm; it must be no thicker than the speaker's"),
        (lambda: replace(SPEAKER, faces="left"), "speaker: faces is 'left'; write one of down, up, front, rear."),
        (lambda: replace(SPEAKER, place="left"), "speaker: place is 'left'; write one of middle, front, rear."),
        (lambda: replace(SPEAKER, place=float("nan")), "speaker: place is nan mm; it must be a finite number."),
        (lambda: replace(SPEAKER, basket_length_mm=0), "speaker: basket length is 0 mm; it must be above 0."),
        (
            lambda: replace(SPEAKER, basket_length_mm=21),
            (
                "speaker: basket length is 21.00 mm; it must be no more than the flange's length, 20.00 mm. Check "
                "which of the two was measured."
            ),
        ),
        (
            lambda: replace(SPEAKER, basket_width_mm=13),
            (
                "speaker: basket width is 13.00 mm; it must be no more than the flange's width, 12.00 mm. Check "
                "which of the two was measured."
            ),
        ),
        (lambda: replace(BOX, length_mm=0), "decoder: length is 0 mm; it must be above 0."),
        (lambda: replace(BOX, width_mm=0), "decoder: width is 0 mm; it must be above 0."),
        (lambda: replace(BOX, height_mm=0), "decoder: height is 0 mm; it must be above 0."),
        (lambda: replace(BOX, air_mm=-1), "decoder: air is -1 mm; it must be 0 or more. Write 0 mm for none."),
    ],
)
def test_what_can_not_be_is_refused(make, text):
    with pytest.raises(ModelMathError, match=f"^{re.escape(text)}"):
        make()


def test_what_just_may_be():
    assert replace(SPEAKER, flange_mm=5, basket_length_mm=20, basket_width_mm=12).basket_mm == (20, 12)
