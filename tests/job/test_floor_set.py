"""What sets the floor's height, said where the room left and the bulkhead are. Heights worked out by hand."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from sample_jobs import DEMOS
from spacious import CLIP, MARKS, PLACES, ZONES, spacious

from modelmath import plan
from modelmath.job.document import Job
from modelmath.job.room_left.floor_set import floor_set

SPEAKER = {"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"}
# Straight sides for 12 mm down from the roof, then closing in to 12 mm at 20 mm down: 16 mm wide 16 mm down.
TUMBLEHOME = [
    {
        "name": "narrow below",
        "points": [
            {"down": "0 mm", "width": "20 mm"},
            {"down": "12 mm", "width": "20 mm"},
            {"down": "20 mm", "width": "12 mm"},
        ],
    }
]
MIDDLE = [
    {"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in (MARKS | {"mid": "12.5"}).items()
]
# The clearance alone asks for a floor at 10 + 1 = 11 mm; the roof is at 30 mm, marks are 0.5 mm apart.
CASES = {
    "the clearance": (
        {"decoder": None},
        ("", "0"),
        "1.00 mm of clearance",
    ),
    "the cone": (
        {"decoder": None, "speaker": {**SPEAKER, "travel": "0.6 mm"}},
        ("cone", "0.6"),  # 11.6, at the mark 12.0
        (
            "1.00 mm of clearance, 0.60 mm for the speaker's cone to move out, and 0.40 mm more because the height is "
            "cut to a mark"
        ),
    ),
    "the shell's width": (
        {
            "decoder": None,
            "speaker": SPEAKER,
            "profiles": TUMBLEHOME,
            "zones": [{**ZONES[0], "profile": "narrow below"}, ZONES[1]],
        },
        ("width", "3"),  # 16 mm wide at 30 - 16 = 14 mm
        "1.00 mm of clearance and 3.00 mm to get to where the shell is wide enough for the speaker",
    ),
    "a decoder below": (
        {
            "speaker": SPEAKER,
            "decoder": {
                "name": "sound decoder", "length": "17 mm", "width": "10 mm", "height": "3 mm", "air": "0.5 mm",
                "turns": False,
            },
            "readings": MIDDLE,
            "zones": [ZONES[0], {**ZONES[1], "chassis_top": "mid"}],
        },
        ("decoder", "1"),  # 10 + 1 + 3 + 0.5 = 14.5, over the gear box 12.5 + 1
        "1.00 mm of clearance and 1.00 mm for the sound decoder below the floor",
    ),
    "what it passes over": (
        {
            "decoder": None,
            "speaker": {**SPEAKER, "length": "60 mm"},
            "obstacles": [CLIP],
            "chamber": {"cut_round": True},
        },
        ("", "0"),  # the clip's top at 14, 0.5 of running clearance: it governs, as a box would part the speaker's room
        "0.50 mm of running clearance",
    ),
}  # fmt: skip


@pytest.fixture(scope="module")
def plans():
    return {name: spacious(**fields) for name, (fields, _, _) in CASES.items()}


@pytest.mark.parametrize("name", CASES)
def test_what_sets_the_floor_is_found_and_said(plans, name):
    _, (cause, raised), words = CASES[name]
    found = plans[name]
    assert (floor_set(found).cause, floor_set(found).raised_mm) == (cause, Fraction(raised))
    assert found.gap.made_of == words
    assert found.gap.kept_mm == Fraction("0.5" if found.gap.running else 1) + Fraction(raised)


@pytest.mark.parametrize("name", [name for name in CASES if CASES[name][1][0]])
def test_why_names_it_for_bulkhead_and_floor(plans, name):
    found = plans[name]
    purpose = floor_set(found).purpose
    for figure in ("floor height",) if found.bulkhead is None else ("bulkhead height", "floor height"):
        why = found.why(figure)
        assert purpose in why.figure.how
        raised = next(each for _, each in why.chain if each.name == "floor raised above the clearance")
        assert raised.how.startswith(purpose)
        assert set(raised.follows_from) <= set(found.figures)
        assert raised.follows_from


def test_a_plan_whose_clearance_sets_the_floor_names_nothing_else(plans):
    found = plans["the clearance"]
    assert found.why("bulkhead height").figure.how == (
        "the largest size on a mark that is no more than the space less the clearance"
    )
    assert "floor raised above the clearance" not in found.figures


def test_the_switcher_with_a_higher_motor_clip_says_that_its_decoder_raises_the_floor():
    """Clip 5 3/8 + 3/4 ft = 21.4375 mm; decoder over the weight: 17.5 + 0.7 + 3.5 + 1 = 22.7, 0.5625 above 22.1375."""
    document = DEMOS["switcher-ho"].model_dump()
    next(each for each in document["readings"] if each["name"] == "top of the motor clip")["mark"] = "5 3/8"
    found = plan(Job.model_validate(document))
    assert found.gap.made_of == (
        "0.70 mm of clearance, 0.56 mm for the decoder below the floor, and 0.05 mm more because the height is cut to "
        "a mark"
    )
    assert floor_set(found).raised_mm == Fraction("0.5625")


@pytest.mark.parametrize("name", [*CASES, *DEMOS])
def test_as_printed_the_parts_add_up_to_the_room_left(plans, name):
    found = plans[name] if name in CASES else plan(DEMOS[name])
    sizes = re.findall(r"(\d+\.\d\d) mm", found.gap.made_of)
    assert sum(map(Fraction, sizes)) == round(found.gap.left_mm, 2)
    floor = Fraction(found.chamber.floor_mm)
    assert found.gap.left_mm - found.gap.kept_mm == floor - Fraction(found.chamber.cut_from.floor_mm)


def test_a_job_without_a_chamber_has_no_floor():
    found = spacious(length=None, speaker=None, decoder=None)
    assert floor_set(found).raised_mm == 0
    assert found.gap.kept_in_words == "1.00 mm of clearance"


def test_a_size_that_is_too_high_by_hand_says_what_is_missing():
    from modelmath.job.room_left.gap import gap_with

    found = spacious(decoder=None, speaker={**SPEAKER, "travel": "0.6 mm"})
    gap = gap_with(found, found.chamber_height_mm + Fraction(1, 2))
    assert gap.made_of == (
        "1.00 mm of clearance and 0.60 mm for the speaker's cone to move out are to be kept, and 0.10 mm of that is "
        "missing"
    )
