"""The plan: pure, exact where the entries are, uncertain where the readings are, checked by hand and by simulation."""

from __future__ import annotations

import builtins
import io
import os
import random
import time
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.job.bench.layout import Missing

FOOT = Fraction(7, 2)  # HO: 3.5 mm to the foot, exact
RULE = SMALLEST["rules"][0]


def everything(made):
    """All sections, as far as the entries go, as text: two plans that print the same are the same."""
    found = plan(made)
    sections = (found.missing, found.depths, found.enclosure, found.chamber, found.governing, found.parts, found.gap)
    sections += (found.runner_up, found.places)
    more = (found.chamber_height_mm, found.lines, found.cuts, found.holes, found.steps, found.warnings, found.figures)
    return repr((*sections, *more))


def test_space_less_clearance_is_the_bulkhead():
    """3 3/4 ft of space with 1/4 ft kept leaves 3 1/2: common practice, no source."""
    found = plan(job())
    assert found.governing.free.exact_mm == FOOT * 15 / 4
    assert found.bulkhead.cut.cut_mm == found.chamber_height_mm == FOOT * 7 / 2
    assert found.gap.left_mm == found.gap.kept_mm == FOOT / 4
    assert [line.setting.text for line in found.lines] == ["2 1/2 scale ft", "2 1/2 scale ft"]
    assert found.lines[1].part.made_to == "a copy of the bulkhead, cut at the same stop"


def test_a_flange_gives_the_supports():
    found = plan(job(speaker={"flange": "1/2 scale ft"}))
    (support,) = [part for part in found.parts if part.name == "speaker support"]
    assert (support.count, support.cut.cut_mm) == (4, FOOT * 3)


# Purity.


@pytest.mark.parametrize("name", DEMOS)
def test_one_job_gives_one_plan_without_file_clock_or_chance(name, monkeypatch):
    before = everything(DEMOS[name])  # tables and modules are read once, here

    def forbidden(*given, **_):
        raise AssertionError(f"the plan is no pure function of its job: {given[:1]}")

    with monkeypatch.context() as context:
        for place, what in [
            (builtins, "open"),
            (io, "open"),
            (os, "open"),
            (os, "stat"),
            (os, "urandom"),
            (os, "getenv"),
            (time, "time"),
            (time, "perf_counter"),
            (time, "monotonic"),
            (random, "random"),
            (random, "seed"),
            (np.random, "default_rng"),
        ]:
            context.setattr(place, what, forbidden)
        after = everything(DEMOS[name])
    assert after == before


@pytest.mark.parametrize("name", DEMOS)
def test_the_plan_leaves_its_job_alone(name):
    before = DEMOS[name].model_copy(deep=True)
    everything(DEMOS[name])
    assert DEMOS[name] == before


# The zero offset.


@given(st.integers(0, 8))
def test_the_offset_cancels_in_the_free_depth_but_not_in_the_setting(quarters):
    offset = Fraction(quarters, 4)
    found = plan(job(rules=[{**RULE, "zero_offset": str(offset)}]))
    assert found.governing.free.exact_mm == FOOT * 15 / 4
    assert found.governing.offset_cancels == "scale rule"
    assert found.bulkhead.cut.cut_mm == FOOT * 7 / 2
    assert found.lines[0].setting.mark == Fraction(7, 2) - offset


@given(st.sampled_from(["end", "zero"]), st.sampled_from(["end", "zero"]))
def test_it_cancels_only_between_readings_taken_the_same_way(one, other):
    readings = [{**each, "datum": datum} for each, datum in zip(SMALLEST["readings"], (one, other), strict=True)]
    depth = plan(job(readings=readings)).governing
    assert (depth.offset_cancels == "scale rule") == (one == other)
    off = {"end": 1, "zero": 0}
    assert depth.free.exact_mm == FOOT * (Fraction(15, 4) + off[one] - off[other])


# Which zone governs.


def zones(*tops: str) -> dict:
    readings = [SMALLEST["readings"][0]] + [{"name": f"top {n}", "mark": mark} for n, mark in enumerate(tops)]
    named = [{"name": f"zone {n}", "underside": "roof", "chassis_top": f"top {n}"} for n in range(len(tops))]
    return {"readings": readings, "zones": named}


@given(st.lists(st.integers(1, 30), min_size=1, max_size=5))
def test_the_smallest_free_depth_governs(quarters):
    found = plan(job(**zones(*(str(Fraction(quarter, 4)) for quarter in quarters))))
    assert found.governing.free.exact_mm == FOOT * (Fraction(37, 4) - Fraction(max(quarters), 4))
    assert found.governing.zone.name == f"zone {quarters.index(max(quarters))}"


def test_under_a_stepped_roof_the_bulkhead_counts_from_its_own_roof():
    """The gas-electric by hand: it hangs from the low roof, 7 1/8 + 1/2; the floor is 1/8 over 1 7/8 + 1/2."""
    found = plan(DEMOS["gas-electric-o"])
    assert found.hung_from.zone.name == "baggage room, front"
    assert found.bulkhead.cut.exact_mm == Fraction("6.35") * (Fraction(21, 4) - Fraction(1, 8))


def stepped(**fields):
    """Roof 9 1/4 over the front, 10 1/4 read finely over the rear, whose higher chassis governs by 1 foot less."""
    readings = [
        *SMALLEST["readings"],
        {"name": "high roof", "mark": "10 1/4"},
        {"name": "tower", "mark": "6"},
        {"name": "width", "mark": "5"},
        {"name": "length", "mark": "29", "on": "shell"},
        {"name": "step", "mark": "14", "on": "shell"},
        {"name": "putty", "mark": "14.5", "rule": "caliper"},
    ]
    rules = [RULE, {"name": "caliper", "unit": "mm", "graduation": "0.1", "reading_uncertainty": "0.03 mm"}]
    rear = {"name": "rear", "underside": "high roof", "chassis_top": "tower", "width": "width", **fields}
    front = {**SMALLEST["zones"][0], "width": "width", "end": "step"}
    length = {"shell_inside": "length", "front_closed": False}
    return job(rules=rules, readings=readings, zones=[front, rear], length=length)


def test_the_room_left_is_off_by_what_the_bulkhead_really_hangs_from():
    found = plan(stepped())
    assert (found.hung_from.zone.name, found.governing.zone.name) == ("motor", "rear")
    assert found.space.exact_mm == FOOT * (Fraction(37, 4) - 6)
    assert found.gap.left_mm == found.space.exact_mm - found.chamber_height_mm
    names = {term.name for term in found.gap.stack.terms if term.tolerance_mm}
    assert {"reading of roof", "reading of tower"} <= names
    assert "reading of high roof" not in names


def test_the_room_left_under_a_stepped_roof_with_a_gap_counts_both_roofs():
    found = plan(stepped(gap="putty"))
    assert found.governing.zone.name == "rear"
    names = {term.name for term in found.gap.stack.terms if term.tolerance_mm}
    assert {"reading of roof", "reading of high roof", "reading of putty"} <= names
    assert found.space.exact_mm == FOOT * Fraction(37, 4) - FOOT * Fraction(41, 4) + Fraction("14.5")


# What is missing.


def test_what_is_missing_and_what_it_would_give():
    gives = "the chamber and its volume"
    assert plan(job()).missing == (
        Missing("the thickness of the speaker's flange", "the speaker supports"),
        Missing("the inside width over motor", gives),
        Missing("the length inside the shell", gives),
        Missing("the speaker's length", "where it sits, and its fillers"),
        Missing("the speaker's width", "where it sits, and its fillers"),
        Missing("the speaker's depth", "where it sits, and its fillers"),
    )
    assert plan(with_chamber()).missing == ()
    assert plan(job()).enclosure is plan(job()).chamber is None


def test_two_zones_read_by_their_gaps_alone_need_their_roofs():
    readings = [{"name": "a", "mark": "2"}, {"name": "b", "mark": "3"}]
    named = [{"name": "front", "gap": "a"}, {"name": "rear", "gap": "b"}]
    gives = "the chamber and its volume"
    found = plan(job(readings=readings, zones=named))
    assert Missing("the underside over front", gives) in found.missing
    assert Missing("the underside over rear", gives) in found.missing
    assert found.governing.zone.name == "front"


# How far the room left may be off.


def test_worst_case_and_root_sum_square_by_hand():
    """Two readings to the nearest quarter foot, +-0.4375 mm each; cutting 0.1, seating 0.3.

    The offset (u 0.1 mm, limit 0.2) cancels in the space, but the bulkhead is marked out with it.
    """
    found = plan(job(seat={"repeatability": "0.3 mm"}, build={"cutting_tolerance": "0.1 mm"}))
    worst = 2 * 0.4375 + 0.2 + 0.1 + 0.3
    usual = (2 * 0.4375**2 + 0.2**2 + 0.1**2 + 0.3**2) ** 0.5
    assert found.gap.stack.worst_case() == pytest.approx(worst)
    assert found.gap.stack.rss() == pytest.approx(usual)
    assert found.gap.at_worst_mm == pytest.approx(0.875 - worst)
    assert found.gap.usually_mm == pytest.approx(0.875 - usual)
    assert found.gap.verdict == (
        "Usually 0.15 mm stays clear, but with all at its limit it is 0.60 mm too tight. The largest share is the "
        "reading of motor top, ±0.44 mm: make it smaller, keep more, or dry-fit before gluing."
    )


def test_a_part_set_from_the_zero_mark_is_free_of_the_offset():
    found = plan(job(marking={"rule": "scale rule", "finest": "1/4", "datum": "zero"}))
    assert "zero offset of scale rule" not in [term.name for term in found.gap.stack.terms]


@pytest.mark.parametrize("datums", [("end", "end"), ("end", "zero"), ("zero", "end")])
@pytest.mark.parametrize("set_from", ["end", "zero"])
def test_the_room_left_s_uncertainty_agrees_with_a_simulation(datums, set_from):
    """numpy builds it: one rule drawn for readings and part together, seeded; JCGM 101:2008, 5.9, within 2 %."""
    rule = {**RULE, "offset_uncertainty": "0.3 mm", "scale_error": 0.002, "scale_error_uncertainty": 0.004}
    readings = [{**each, "datum": datum} for each, datum in zip(SMALLEST["readings"], datums, strict=True)]
    marking = {"rule": "scale rule", "finest": "1/4", "datum": set_from}
    found = plan(job(rules=[rule], readings=readings, marking=marking))
    draw, count = np.random.default_rng(20240131), 400_000
    offset, stretch = draw.normal(3.5, 0.3, count), 1 + draw.normal(0.002, 0.004, count)
    half = 0.875 / 2
    roof, top = (3.5 * mark + draw.uniform(-half, half, count) for mark in (9.25, 5.5))
    space = (roof + offset * (datums[0] == "end") - top - offset * (datums[1] == "end")) * stretch
    shown = float(found.marks.setting(found.chamber_height_mm).mark) * 3.5  # where the rule is set
    room = space - (shown + offset * (set_from == "end")) * stretch
    value = found.space.value - found.marks.rule.marked_out(found.chamber_height_mm, set_from)
    assert value.nominal_value == pytest.approx(room.mean(), abs=0.005)
    assert value.std_dev == pytest.approx(room.std(), rel=0.02)


@pytest.mark.parametrize(
    ("keep", "verdict"),
    [
        (
            "1/2 scale ft",
            (
                "Nothing touches even with all at its limit: 0.45 mm stays clear (a limit is two standard "
                "uncertainties where a source has no other)."
            ),
        ),
        (
            "0 mm",
            (
                "This may well touch: what is known may be off by ±0.67 mm and only 0.00 mm is left. The largest "
                "share is the reading of motor top, ±0.44 mm: make it smaller, or keep more."
            ),
        ),
    ],
)
def test_the_verdict_in_words(keep, verdict):
    made = job(clearance={"keep": keep}, build={"cutting_tolerance": ".005 in"})
    assert plan(made).gap.verdict == verdict


@pytest.mark.parametrize(("datums", "offsets"), [(("end", "end"), 0), (("end", "zero"), 1)])
def test_the_free_depth_s_uncertainty_agrees_with_a_simulation(datums, offsets):
    """numpy draws each rule, reading and scale error on its own, seeded; JCGM 101:2008, 5.9, within 2 %."""
    rule = {**RULE, "offset_uncertainty": "0.3 mm", "scale_error": 0.002, "scale_error_uncertainty": 0.004}
    readings = [{**each, "datum": datum} for each, datum in zip(SMALLEST["readings"], datums, strict=True)]
    depth = plan(job(rules=[rule], readings=readings)).governing.free
    draw, count = np.random.default_rng(20240131), 400_000
    offset = draw.normal(3.5, 0.3, count)
    stretch = 1 + draw.normal(0.002, 0.004, count)
    half = 0.875 / 2
    roof, top = (3.5 * mark + draw.uniform(-half, half, count) for mark in (9.25, 5.5))
    marked = [roof + offset * (datums[0] == "end"), top + offset * (datums[1] == "end")]
    simulated = (marked[0] - marked[1]) * stretch
    assert depth.value.nominal_value == pytest.approx(simulated.mean(), abs=0.005)
    assert depth.u_mm == pytest.approx(simulated.std(), rel=0.02)
    assert (simulated.std() > 0.4) == bool(offsets)


# The chamber and its parts together.


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 6), st.integers(2, 8), st.sampled_from(["1/4", "1/8", "1 mm", "0.02 in"]))
def test_the_room_left_is_never_less_than_the_clearance_kept(keep, top, finest):
    made = with_chamber(clearance={"keep": f"{keep / 10} mm"}, marking={"rule": "scale rule", "finest": finest})
    made.readings[1].mark = str(Fraction(top, 4))
    found = plan(made)
    assert found.gap.left_mm >= found.gap.kept_mm
    assert found.gap.left_mm - found.gap.kept_mm < 1  # mm, the coarsest of these marks
    for line in found.lines:
        assert line.setting.on_mark
        if line.place is not None and line.part.name == "bulkhead":
            assert line.place.on_mark


def test_a_chamber_between_the_shell_s_own_ends_has_no_bulkhead():
    found = plan(with_chamber())
    assert found.bulkhead is None
    assert found.chamber_height_mm == FOOT * 7 / 2
    assert {part.name for part in found.parts} == {
        "speaker support", "side filler", "floor plate, front", "floor plate, rear",
    }  # fmt: skip


def test_places_of_walls_count_from_the_mark():
    """The switcher by hand: front wall 6 mm behind the hood's front, -80.5 from the screw; the mark below, 21 1/4."""
    found = plan(DEMOS["switcher-ho"])
    line = found.lines[0]
    assert line.part.face == "front face"
    assert line.part.position_mm == -FOOT * Fraction(85, 4)
    assert line.place.text == "20 1/2 scale ft"  # zero stands 3/4 in


def largest_only_once_cut():
    """A long stretch whose depth a mark cuts down by 0.7 mm, and a shorter one, 1.1 mm deeper, that a mark just suits.

    By hand, marks every 0.875 mm: 7.7 mm over all, 90 mm long, go to 7.0; 8.8 mm over the cab alone, 76 mm, to 8.75.
    """
    mm = {"name": "mm rule", "unit": "mm", "graduation": "0.1"}
    heights = {"roof": "14", "cab top": "4.7", "motor top": "5.8", "width": "15"}
    readings = [{"name": name, "rule": "mm rule", "mark": mark} for name, mark in heights.items()]
    readings.append({"name": "length", "rule": "mm rule", "mark": "90", "on": "shell"})
    readings.append({"name": "cab end", "rule": "mm rule", "mark": "76", "on": "shell"})
    zones = [
        {"name": "cab", "underside": "roof", "chassis_top": "cab top", "width": "width", "end": "cab end"},
        {"name": "motor", "underside": "roof", "chassis_top": "motor top", "width": "width"},
    ]
    ends = {"shell_inside": "length", "front_closed": True, "rear_closed": True}
    keep = {"keep": "0.5 mm", "along": "0 mm"}
    build = {"wall": "1 mm"}
    return job(rules=[RULE, mm], readings=readings, zones=zones, length=ends, clearance=keep, build=build)


def test_the_plan_follows_the_chamber_that_is_largest_as_cut():
    found = plan(largest_only_once_cut())
    assert found.enclosure.chamber.governing.cause.name == "motor"
    assert found.governing.zone.name == found.hung_from.zone.name == "cab"
    assert found.chamber.cut_from == found.enclosure.runner_up
    assert found.runner_up.volume_mm3 == 90 * 15 * 7 < found.chamber.volume_mm3
    assert found.chamber_height_mm == found.bulkhead.cut.cut_mm == Fraction(35, 4)
    assert found.space.exact_mm == Fraction(93, 10)
    assert found.gap.left_mm == Fraction(93, 10) - Fraction(35, 4)
    how = found.figures["chamber volume"].how
    assert (
        "the largest of 2 chambers compared, each as it is cut; 9.90 cm3 before its floor and walls go to marks" in how
    )


def test_places_tell_parts_speaker_and_decoder_from_the_mark():
    found = plan(DEMOS["switcher-ho"])
    assert [place.what for place in found.places][-2:] == [found.job.speaker.name, found.job.decoder.name]
    assert found.places[-2].position_mm == found.chamber.seat_mm[0]
    assert found.places[-1].position_mm == found.chamber.decoder_mm[0]
    placed = {place.what: place.position_mm for place in reversed(found.places)}
    assert all(placed[part.name] == part.position_mm for part in found.parts)
    assert plan(job()).places == ()
