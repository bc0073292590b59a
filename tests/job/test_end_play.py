"""The shell's end play is kept from all that is on the chassis. All numbers invented; by hand unless said otherwise."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spacious import CLIP, LENGTH, MARKS, PLACES, POST, spacious

from modelmath.drawings.sheets.measured import readings_sheet
from modelmath.errors import JobError

HALF_WIDE = {**CLIP, "top": None}  # up to the roof: the chamber ends beside it


def playing(mm, **fields):
    return spacious(length={**LENGTH, "end_play": f"{mm} mm"}, **fields)


def read_at(**marks):
    changed = {**MARKS, **{name.replace("_", " "): mark for name, mark in marks.items()}}
    return [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in changed.items()]


def ends(box):
    return float(box.start_mm), float(box.end_mm)


def test_what_was_read_on_the_chassis_keeps_running_clearance_and_end_play_what_was_read_on_the_shell_does_not():
    """The clip stands 20 to 30 mm behind the mark, the post 50 to 56 mm; either keeps 0.5 mm."""
    clip, post = playing(2, obstacles=[CLIP, POST]).bench.moving
    assert ends(clip.obstacle.outward()) == (17.5, 32.5)
    assert ends(clip.swept) == (20, 30)
    assert ends(post.obstacle.outward()) == (49.5, 56.5)
    assert (clip.play_mm, post.play_mm) == (2, 0)


def test_one_end_on_the_chassis_is_enough_and_what_moves_is_there_wherever_it_was_read():
    mixed = {**CLIP, "end": "post rear"}
    assert playing(2, obstacles=[mixed]).bench.moving[0].play_mm == 2
    wheel = {**POST, "kind": "flywheel"}
    assert playing(2, obstacles=[wheel]).bench.moving[0].play_mm == 2
    moving = {"name": "wheel", "kind": "flywheel", "at": "post front", "top": "clip top", "diameter": "10 mm",
              "width": "4 mm", "end_play": "0.25 mm", "running": "0.5 mm"}  # fmt: skip
    (found,) = playing(2, moving=[moving]).bench.moving
    # About 50 mm: half of 4 mm, its own 0.25 mm, 0.5 mm clear and the shell's 2 mm either way.
    assert ends(found.obstacle.outward()) == pytest.approx((45.25, 54.75), abs=0.0011)
    assert ends(found.swept) == pytest.approx((47.75, 52.25), abs=0.0011)


def test_a_box_round_a_clip_leaves_it_the_end_play():
    made = playing(2, obstacles=[CLIP], chamber={"cut_round": True})
    (part,) = (each for each in made.parts if each.name == "motor clip box, end")
    assert sorted(ends(block) for block in part.blocks) == [(16.5, 17.5), (32.5, 33.5)]


def test_a_wall_beside_a_clip_leaves_it_the_end_play_and_says_what_chance_is_left():
    """With 0.5 mm kept and the play of 2 mm at its limits, 2.5 mm on the whole."""
    made = playing(2, obstacles=[HALF_WIDE], decoder=None)
    gap = next(each for each in made.along_gaps if each.step == "motor clip")
    assert float(gap.left_mm) == 2.5
    assert [term.tolerance_mm for term in gap.stack.terms if term.name == "end play of the shell"] == [2]


def test_the_gap_beside_a_post_in_the_shell_has_no_end_play_in_it():
    made = playing(2, obstacles=[CLIP, POST])
    (gap,) = made.along_gaps
    assert gap.step == "screw post"
    assert "end play of the shell" not in [term.name for term in gap.stack.terms]


def test_the_wall_errs_with_the_rule_that_marks_out_its_place():
    """A zero known to 0.3 mm cancels between two places that were read, not in one that is marked out."""
    rule = {"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "200"}
    (sure,) = spacious().along_gaps
    (unsure,) = spacious(rules=[{**rule, "offset_uncertainty": "0.3 mm"}]).along_gaps
    assert unsure.chance > 10 * sure.chance


def test_the_skyline_keeps_it_too():
    edges = [(float(each.start_mm), float(each.end_mm)) for each in playing(2, obstacles=[CLIP]).skyline]
    assert (17.5, 32.5) in edges


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 400), st.booleans())
def test_each_half_takes_its_play_and_no_more(hundredths, shell):
    play = Fraction(hundredths, 100)
    bench = playing(float(play), obstacles=[POST if shell else CLIP]).bench
    bare = spacious(obstacles=[POST if shell else CLIP]).bench
    wide, narrow = bench.moving[0].obstacle.outward(), bare.moving[0].obstacle.outward()
    assert narrow.start_mm - wide.start_mm == (0 if shell else play)
    assert wide.end_mm - narrow.end_mm == (0 if shell else play)
    assert bench.moving[0].swept == bare.moving[0].swept


# What the sheet says.


def said(made):
    texts = (getattr(each, "text", "") for each in readings_sheet(made, 500))
    return " ".join(texts).replace("\xa0", " ")


def test_the_measured_sheet_says_whose_reach_has_it_in():
    assert "end play" not in said(spacious(obstacles=[CLIP, POST]))
    assert "end play" not in said(playing(2, obstacles=[POST]))
    both = "has the running clearance in it. Along, {} also has the shell's end play of 2.00 mm in it."
    assert both.format("it") in said(playing(2, obstacles=[CLIP]))
    assert both.format("that of what was read on the chassis") in said(playing(2, obstacles=[CLIP, POST]))


# What is refused.


@pytest.mark.parametrize("play", [50, 60])
def test_an_end_play_of_half_the_inside_length_is_refused(play):
    words = (
        f"the job, length, end_play: the end play is {play}.00 mm either way; it must be less than half of the "
        "100.00 mm inside the shell. Write how far the shell shifts either way on the chassis, such as "
        'end_play = "0.3 mm".'
    )
    with pytest.raises(JobError, match=f"^{re.escape(words)}$"):
        playing(play)


@pytest.mark.parametrize(("front", "rear", "where"), [("185", "195", "180.00 to 190.00"), ("1", "4", "-4.00 to -1.00")])
def test_what_stands_wholly_outside_the_shell_is_refused(front, rear, where):
    words = (
        f"the job, obstacle 1 ('motor clip'): the obstacle is {where} mm behind the front end of the shell's inside; "
        "it must be at least partly within its length, 0 to 100.00 mm. Check the readings of its start and end, and "
        "on which half they were taken; or leave it out."
    )
    with pytest.raises(JobError, match=f"^{re.escape(words)}$"):
        spacious(obstacles=[CLIP], readings=read_at(clip_front=front, clip_rear=rear))


def test_what_is_partly_inside_or_gets_there_with_its_clearance_and_play_is_taken():
    for front, play in (("98", 0), ("105.3", 0), ("106", 1)):
        made = playing(play, obstacles=[CLIP], readings=read_at(clip_front=front, clip_rear="110"))
        assert made.bench.moving[0].entry.name == "motor clip"
