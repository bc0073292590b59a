"""What else could be, as it is shown: ways out, the runner-up, the bulkhead elsewhere. All numbers invented."""

from __future__ import annotations

import re
from fractions import Fraction
from html import unescape
from types import SimpleNamespace

import pytest
from sample_jobs import DEMOS
from spacious import spacious

from modelmath import plan
from modelmath.errors import DoesNotFit
from modelmath.job.document import Job
from modelmath.widgets.plan import options


def plain(html):
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture(scope="module")
def plans():
    return {name: plan(job) for name, job in DEMOS.items()}


def longer(name, length):
    document = DEMOS[name].model_dump(exclude_unset=True)
    document["speaker"] |= {"length": length, "round": False}
    return plan(Job.model_validate(document))


@pytest.mark.parametrize("name", DEMOS)
def test_the_bulkhead_is_said_to_stand_where_the_speaker_fits(plans, name):
    curve, said = plans[name].trade, plain(options.trade(plans[name]))
    held = [each.place_mm for each in curve.points if each.holds_speaker]
    first, last = curve.places_mm[0], curve.places_mm[-1]
    assert f"With the speaker it can stand from {float(held[0]):.2f} to {float(held[-1]):.2f} mm" in said
    assert f"; without it from {first:.2f} to {last:.2f} mm." in said
    assert curve.at(held[-1]).holds_speaker
    assert not curve.at(curve.holding_mm[-1][1] + Fraction(1, 100)).holds_speaker


def test_by_hand_where_the_bulkhead_can_stand():
    """The speaker needs 14 mm, and 3 mm for wall and post at either side: the bulkhead stands up to 20 mm before."""
    found = spacious(decoder=None, length={"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole",
                                           "mark_on_chassis": "pin", "front_closed": False})  # fmt: skip
    curve = found.trade
    assert curve.holding_mm[0][0] == curve.points[0].place_mm
    for start, end in curve.holding_mm:
        assert curve.at(start).holds_speaker
        assert curve.at(end).holds_speaker
    without = spacious(decoder=None, speaker=None)
    assert "speaker" not in plain(options.trade(without)).partition("It can stand from")[2].partition("mm.")[0]


def test_a_single_way_out_is_said_as_one():
    found = longer("switcher-ho", "300 mm")
    (only,) = found.ways_out
    assert plain(options.ways_out(found)) == f"This would make it fit: {only.in_words}"


def test_several_ways_out_are_said_the_least_first():
    document = DEMOS["railbus-ho"].model_dump(exclude_unset=True)
    document["speaker"]["width"] = "60 mm"
    found = plan(Job.model_validate(document))
    assert len(found.ways_out) > 1
    said = " ".join(each.in_words for each in found.ways_out)
    assert plain(options.ways_out(found)) == f"Any one of these would make it fit, the least change first: {said}"


def test_a_length_that_is_left_is_the_one_that_fits():
    document = DEMOS["railmotor-oo"].model_dump(exclude_unset=True)
    document["speaker"] |= {"length": "140 mm", "place": "middle"}
    found = plan(Job.model_validate(document))
    (shorter,) = [each.remedy for each in found.ways_out if each.remedy.kind == "speaker length"]
    assert f" {float(shorter.needed_mm):.2f} mm of the length is left for the speaker's 140.00 mm" in str(found.misfit)


@pytest.mark.parametrize("lacks", [0.5, 1.0, 3.0])
def test_where_one_size_alone_needs_less_than_lacks_that_is_said(lacks):
    """A speaker 21 mm wide in a shell 20 mm wide lacks 1 mm; had another place been told of, its lack may be more."""
    wide = spacious(decoder=None, speaker={"length": "24 mm", "width": "21 mm", "flange": "1 mm", "depth": "16 mm"})
    (narrower,) = [each for each in wide.ways_out if each.remedy.kind == "speaker width"]
    assert narrower.remedy.change_mm == 1
    told = DoesNotFit("The speaker", lacks, "it is so", "Try a smaller one.")
    shown = plain(options.ways_out(SimpleNamespace(misfit=told, ways_out=(narrower,))))
    assert shown.endswith(options.ELSEWHERE) == (lacks > 1)
    assert options.ELSEWHERE not in plain(options.ways_out(wide))


def test_the_runner_up_that_is_as_large_is_said_to_be(plans):
    found = plans["railcar-n"]
    best, other = found.chambers
    assert best.volume_mm3 == other.volume_mm3
    mark = found.mark_name
    ends = f"from {float(other.start_mm):.2f} to {float(other.end_mm):.2f} mm behind the {mark}"
    assert plain(options.runner_up(found)) == f"Another place holds as much: a chamber {ends}, as long and as deep."


def test_a_small_loss_is_told_with_a_digit_that_tells(plans):
    best, other = plans["railmotor-oo"].chambers
    share = 100 * float(1 - Fraction(other.volume_mm3) / Fraction(best.volume_mm3))
    assert 0.05 < share < 1
    assert f"({share:.1f} %)" in plain(options.runner_up(plans["railmotor-oo"]))
