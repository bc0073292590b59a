"""What is told of a speaker that misses: amounts by hand, in whole sentences; and the same seen from the other end."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from enclosure.making.test_three_times_as_large import times, worded

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone, fit_enclosure
from modelmath.errors import DoesNotFit

HOOD = Zone("hood", 0, 40, 2, 15, 20)  # 13 mm deep
SLOPED = replace(HOOD, profile=Profile(((0, 10), (8, 10), (15, 4))))
TOWER = Obstacle("tower", 15, 25, 3, 0, 14, words="the tower", moves=False)  # with its box from 14 to 26 mm
ASIDE = replace(TOWER, centre_mm=8, half_width_mm=1)  # its box from 6 mm off the middle on
CUT = Limits(0, wall_mm=1, cut_round=True)
POSTS = replace(CUT, post_mm=2)
OPEN, SHUT = (False, False), (True, True)
SHORTER = "Try a shorter speaker, less clearance along the length, or trimming what stands there."
SHALLOWER = "Try a shallower speaker, less clearance, or trimming what stands there."
BETWEEN = "over hood 13.00 mm of the length is left for the speaker's"
DEEP = "over hood the chamber is 13.00 mm deep, and the speaker takes"
BESIDE = "over hood beside the tower 12.00 mm is left of the width and the speaker takes"
CASES = {
    "in front of a box or behind it": (
        (HOOD,), SHUT, (TOWER,), CUT, Speaker(16, 10, 1, 5), "2.00",
        "over hood 14.00 mm of the length is left for the speaker's 16.00 mm, clear of what stands there", SHORTER,
    ),
    "behind a box, where there is more": (
        (HOOD,), SHUT, (replace(TOWER, start_mm=10, end_mm=18),), CUT, Speaker(25, 10, 1, 5), "4.00",
        "over hood 21.00 mm of the length is left for the speaker's 25.00 mm, clear of what stands there", SHORTER,
    ),
    "between a box and a wall": (
        (HOOD,), OPEN, (TOWER,), CUT, Speaker(16, 10, 1, 5), "3.00",
        f"{BETWEEN} 16.00 mm, beside one wall of 1.00 mm, clear of what stands there",
        "Try a shorter speaker, thinner walls or posts, or less clearance.",
    ),
    "over a box, as posts leave less of the length": (
        (HOOD,), OPEN, (TOWER,), POSTS, Speaker(16, 10, 1, 5), "4.00",
        "over hood the chamber is 1.00 mm deep, and the speaker takes 5.00 mm", SHALLOWER,
    ),
    "beside a box": (
        (HOOD,), SHUT, (ASIDE,), CUT, Speaker(30, 13, 1, 5), "1.00", f"{BESIDE} 13.00 mm", "Try a narrower speaker.",
    ),
    "beside a box on the left": (
        (HOOD,), SHUT, (replace(ASIDE, centre_mm=-8),), CUT, Speaker(30, 13, 1, 5), "1.00", f"{BESIDE} 13.00 mm",
        "Try a narrower speaker.",
    ),
    "beside a box, with posts": (
        (HOOD,), OPEN, (ASIDE,), POSTS, Speaker(10, 11, 1, 25, faces="front"), "3.00",
        f"{BESIDE} 15.00 mm with the posts beside it", "Try a narrower speaker or thinner posts.",
    ),
    "in front of a box, facing the end": (
        (HOOD,), OPEN, (TOWER,), POSTS, Speaker(10, 10, 1, 16, faces="front"), "3.00",
        f"{BETWEEN} 16.00 mm, beside one wall of 1.00 mm, clear of what stands there",
        "Try a shallower speaker, thinner walls or posts, or less clearance.",
    ),
    "under one of two roofs": (
        (HOOD, Zone("cab", 40, 60, 2, 17, 20)), SHUT, (), CUT, Speaker(45, 10, 1, 5, faces="up"), "5.00",
        "over hood 40.00 mm of the length is left for the speaker's 45.00 mm, under one level of the roof", SHORTER,
    ),
    "up, over its floor plate": (
        (HOOD,), SHUT, (), CUT, Speaker(30, 10, 1, 13, faces="up"), "1.00",
        f"{DEEP} 14.00 mm with the floor plate of 1.00 mm",
        SHALLOWER,
    ),
    "upright, over its floor plate": (
        (HOOD,), OPEN, (), POSTS, Speaker(13, 11, 1, 5, faces="front"), "1.00",
        f"{DEEP} 14.00 mm upright with the floor plate of 1.00 mm",
        "Try a shorter speaker, less clearance, or trimming what stands there.",
    ),
    "with its back to a wall": (
        (HOOD,), OPEN, (), POSTS, Speaker(10, 11, 1, 37, faces="rear"), "1.00",
        ("over hood 36.00 mm of the length is left for the speaker's 37.00 mm, beside two walls of 1.00 mm and posts "
         "of 2.00 mm behind the one at its back"),
        "Try a shallower speaker, thinner walls or posts, or less clearance.",
    ),
    "with its back to a closed end": (
        (HOOD,), (True, False), (), POSTS, Speaker(10, 11, 1, 40, faces="rear"), "1.00",
        "over hood 39.00 mm of the length is left for the speaker's 40.00 mm, beside one wall of 1.00 mm",
        "Try a shallower speaker, thinner walls or posts, or less clearance.",
    ),
    "beside one wall with posts": (
        (HOOD,), (False, True), (), POSTS, Speaker(41, 10, 1, 5), "4.00",
        ("over hood 37.00 mm of the length is left for the speaker's 41.00 mm, beside one wall of 1.00 mm and posts "
         "of 2.00 mm behind it"), "Try a shorter speaker, thinner walls or posts, or less clearance.",
    ),
    "over what moves": (
        (HOOD,), SHUT, (replace(TOWER, top_mm=12, moves=True),), Limits(0), Speaker(36, 10, 1, 5), "2.00",
        "over hood the chamber is 3.00 mm deep, with the floor set by the tower, and the speaker takes 5.00 mm",
        "Try a shallower speaker, less running clearance, or less swing and play of what moves there.",
    ),
    "in every size": (
        (replace(HOOD, end_mm=20),), SHUT, (), Limits(0), Speaker(23, 21, 1, 15), "3.00",
        ("over hood 20.00 mm of the length is left for the speaker's 23.00 mm; it is 2.00 mm too deep and 1.00 mm too "
         "wide as well"), SHORTER,
    ),
    "in every size, upright": (
        (replace(HOOD, end_mm=20),), OPEN, (), Limits(0, post_mm=1), Speaker(14, 21, 1, 23, faces="front"), "6.00",
        ("over hood 17.00 mm of the length is left for the speaker's 23.00 mm, beside two walls of 1.00 mm and posts "
         "of 1.00 mm behind the one at its back; it is 2.00 mm too long and 3.00 mm too wide as well"),
        "Try a shallower speaker, thinner walls or posts, or less clearance.",
    ),
    # In by 6 mm over 7 mm of height: up to 14 mm, where its back reaches, 10 - 36 / 7 to either side.
    "in a section": (
        (SLOPED,), SHUT, (), Limits(0), Speaker(20, 16, 1, 12, basket_width_mm=12), "6.29",
        "over hood the shell is 9.71 mm wide inside and the speaker 16.00 mm", "Try a narrower speaker.",
    ),
    "in a section, facing up": (
        (SLOPED,), SHUT, (), Limits(0), Speaker(20, 16, 1, 5, faces="up"), "8.00",
        "over hood the shell is 8.00 mm wide inside and the speaker 16.00 mm", "Try a narrower speaker.",
    ),
    # Its flange takes 1 mm, up to 3 mm of height, and its basket goes in at 13 mm: 10 - 30 / 7 to either side.
    "in a section, the flange alone": (
        (SLOPED,), SHUT, (), Limits(0), Speaker(20, 21, 1, 11, basket_width_mm=11), "1.00",
        "over hood the shell is 20.00 mm wide inside and the speaker 21.00 mm", "Try a narrower speaker.",
    ),
    "beside a wire path": (
        (HOOD,), SHUT, (), Limits(0, wire_path_mm=4), Speaker(20, 16, 1, 5), "1.00",
        "over hood the shell is 15.00 mm wide inside and the speaker 16.00 mm", "Try a narrower speaker.",
    ),
}  # fmt: skip


def miss_of(zones, closed, obstacles, limits, speaker):
    with pytest.raises(DoesNotFit) as caught:
        fit_enclosure(Cavity(zones, *closed, obstacles), limits, speaker)
    return str(caught.value)


@pytest.mark.parametrize("case", CASES)
def test_what_is_told(case):
    *job, short, cause, remedy = CASES[case]
    assert miss_of(*job) == f"The speaker does not fit: {short} mm too little, because {cause}. {remedy}"


@pytest.mark.parametrize("case", CASES)
def test_seen_from_the_other_end_it_is_the_same(case):
    zones, closed, obstacles, limits, speaker, short, cause, remedy = CASES[case]
    turned = tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in reversed(zones))
    others = tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in obstacles)
    faces = {"front": "rear", "rear": "front"}.get(speaker.faces, speaker.faces)
    told = miss_of(turned, closed[::-1], others, limits, replace(speaker, faces=faces))
    assert told == f"The speaker does not fit: {short} mm too little, because {cause}. {remedy}"


@pytest.mark.parametrize("case", CASES)
def test_three_times_as_large_it_misses_by_three_times_as_much(case):
    one, other = worded(miss_of(*CASES[case][:5])), worded(miss_of(*times(CASES[case][:5])))
    assert other[0] == one[0]
    assert [each / 3 for each in other[1]] == pytest.approx(one[1], abs=0.011)


@pytest.mark.parametrize("faces", ["front", "rear"])
def test_without_walls_there_is_none_to_sound_through(faces):
    text = (
        f"The speaker does not fit: nothing is left, because walls of no thickness leave none at the {faces} end for "
        "it to sound through. Write how thick walls are, or let it face another way."
    )
    cavity = Cavity((HOOD,), *(each != faces for each in ("front", "rear")))
    with pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$"):
        fit_enclosure(cavity, Limits(0, wall_mm=0), Speaker(10, 10, 1, 5, faces=faces))
