"""Heights from the seat, places from one mark, and faults at their place in the document."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from sample_jobs import DEMOS, SMALLEST, changed, job, with_chamber

from modelmath import plan
from modelmath.errors import JobError
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job

MM = {"name": "caliper", "unit": "mm", "graduation": "0.1", "reading_uncertainty": "0.05 mm"}


def faults(made: Job) -> list[str]:
    return [str(fault) for fault in Bench(made, "hood.toml").faults]


def heights(*readings: dict, **fields) -> dict:
    """A job read with a caliper: named readings, one zone."""
    return changed(
        rules=[MM],
        marking={"rule": "caliper", "finest": "0.5"},
        clearance={"keep": "0.5 mm"},
        readings=list(readings),
        **fields,
    )


ROOF, TOP = {"name": "roof", "mark": "32.5"}, {"name": "motor top", "mark": "20"}


def test_a_link_takes_a_bench_height_to_the_seat():
    """By hand: roof 32.5 above the seat; motor 41.5 above the bench, whose seat is 21.5 above it: 12.5 is free."""
    made = Job.model_validate(
        heights(
            ROOF,
            {"name": "motor top", "mark": "41.5", "taken_from": "bench"},
            {"name": "seat above bench", "mark": "21.5", "taken_from": "bench"},
            links=[{"face": "bench", "reading": "seat above bench"}],
        )
    )
    (depth,) = Bench(made).depths
    assert (depth.roof.exact_mm, depth.top.exact_mm, depth.free.exact_mm) == (Fraction("32.5"), 20, Fraction("12.5"))
    assert depth.free.u_mm == pytest.approx(0.05 * 3**0.5)  # three readings, each 0.05; the offset is known


def test_a_link_leaves_the_offset_in_when_one_height_needs_it_and_the_other_not():
    """Roof: + offset. Motor less seat, both from the bench: no offset. So it stays in the difference, once."""
    rule = {**SMALLEST["rules"][0], "offset_uncertainty": "0.2 mm"}
    readings = [
        {"name": "roof", "mark": "9 1/4"},
        {"name": "motor top", "mark": "12", "taken_from": "bench"},
        {"name": "link", "mark": "6 1/2", "taken_from": "bench"},
    ]
    made = job(rules=[rule], readings=readings, links=[{"face": "bench", "reading": "link"}])
    (depth,) = Bench(made).depths
    assert depth.free.exact_mm == Fraction(7, 2) * Fraction(19, 4)  # 10 1/4 less 5 1/2
    assert depth.offset_cancels == ""
    assert depth.free.u_mm == pytest.approx((3 * (0.875 / 12**0.5) ** 2 + 0.2**2) ** 0.5)
    assert plan(made).warnings[-1] == (
        "Over motor the two heights were not read the same way, so the zero offset of scale rule stays in their "
        "difference: check it against a known length."
    )


def test_a_rule_that_only_the_link_was_read_with_is_named_too():
    rules = [SMALLEST["rules"][0], {**MM, "zero_offset": "2"}]
    readings = [
        SMALLEST["readings"][0],
        {"name": "motor top", "mark": "12", "taken_from": "bench"},
        {"name": "link", "mark": "22.5", "taken_from": "bench", "rule": "caliper"},
    ]
    made = job(rules=rules, readings=readings, links=[{"face": "bench", "reading": "link"}])
    assert Bench(made).depths[0].offset_cancels == ""
    assert "the zero offset of caliper stays" in plan(made).warnings[-1]


def test_a_gap_read_in_the_assembled_model_overrides_the_difference():
    gap = {"name": "putty", "mark": "11.8"}
    zone = {**SMALLEST["zones"][0], "gap": "putty"}
    (depth,) = Bench(Job.model_validate(heights(ROOF, TOP, gap, zones=[zone]))).depths
    assert (depth.free.exact_mm, depth.top.exact_mm) == (Fraction("11.8"), Fraction("20.7"))
    alone = Job.model_validate(heights(gap, zones=[{"name": "motor", "gap": "putty"}]))
    (depth,) = Bench(alone).depths
    assert (depth.free.exact_mm, depth.roof, depth.top) == (Fraction("11.8"), None, None)


def test_one_mark_on_both_halves_joins_their_places():
    """By hand, centre-cab: screw 9 from the hood's front and 14.5 from the deck's; the shroud ends 44 - "
    "14.5 behind it."""
    ends = Bench(DEMOS["centre-cab-s"]).ends
    assert ends.mark == "front hood screw"
    assert [edge.exact_mm for edge in ends.edges] == [-9, Fraction("29.5"), 62]


def test_without_a_mark_places_count_from_the_shell_s_front_end():
    ends = Bench(DEMOS["railcar-n"]).ends
    assert (ends.mark, [edge.exact_mm for edge in ends.edges]) == (
        "front end of the shell's inside",
        [0, Fraction("58.4")],
    )


def test_lamps_at_one_end_keep_the_room_of_the_largest():
    lamps = [
        {"name": "headlight", "end": "front", "room": "6 mm"},
        {"name": "number board", "end": "front", "room": "1/4 in"},
        {"name": "marker", "end": "rear", "room": "3 mm"},
    ]
    limits = Bench(job(lamps=lamps)).limits
    assert (limits.front_room_mm, limits.rear_room_mm) == (Fraction("6.35"), 3)


def test_the_decoder_has_air_at_both_ends_both_sides_and_below():
    decoder = Bench(job(decoder={"length": "20 mm", "width": "10 mm", "height": "4 mm", "air": "1.5 mm"})).decoder
    flat = decoder.ways[0]
    assert (flat.along_mm, flat.across_mm, flat.up_mm) == (23, 13, Fraction("5.5"))
    assert len(decoder.ways) == 6


def test_a_speaker_is_one_only_with_all_four_sizes():
    assert Bench(job(speaker={"flange": "1 mm", "length": "20 mm"})).speaker is None
    assert Bench(job(speaker={"flange": "1 mm"})).flange_mm == 1
    assert Bench(with_chamber()).speaker.depth_mm == 6


END = {"name": "step", "mark": "30"}
INSIDE = {"name": "inside", "mark": "60", "on": "shell"}
TWO = [{**SMALLEST["zones"][0], "end": "step"}, {**SMALLEST["zones"][0], "name": "weight"}]


def along(end: dict, length: dict, zones: list = TWO) -> Job:
    readings = [ROOF, TOP, end, INSIDE, {"name": "s", "mark": "5", "on": "shell"}]
    readings.append({"name": "c", "mark": "7", "on": "chassis"})
    return Job.model_validate(heights(*readings, length={"shell_inside": "inside", **length}, zones=zones))


JOINED = {"mark": "screw", "mark_on_shell": "s", "mark_on_chassis": "c"}
PLACES = [
    (
        along(END, {}),
        (
            "zone 1 ('motor'), end: the reading is 'step'; expected one taken on shell or chassis. "
            'Write on = "shell" or on = "chassis" in it.'
        ),
    ),
    (
        along({**END, "on": "chassis"}, {}),
        (
            "zone 1 ('motor'), end: the zone's end is read on the chassis; expected a fore-aft mark that joins both "
            "halves. Write mark, mark_on_shell and mark_on_chassis under [length]."
        ),
    ),
    (
        along({**END, "on": "chassis"}, {"mark": "screw", "mark_on_shell": "s"}),
        (
            "length, mark_on_chassis: the fore-aft mark is not measured on the chassis; expected a reading "
            "on both halves. "
            "Add mark_on_chassis with the name of that reading."
        ),
    ),
    (
        along({**END, "on": "chassis"}, {**JOINED, "mark_on_chassis": "s"}),
        (
            "length, mark_on_chassis: the reading is 's', taken on the shell; expected one taken on the chassis. "
            'Write on = "chassis" in it, or name the reading that was.'
        ),
    ),
    (
        along(END, {}, [SMALLEST["zones"][0], TWO[1]]),
        (
            "zone 1 ('motor'), end: the zone's end is missing; expected a reading along the length. "
            "Add the reading of where it ends, or merge the zones."
        ),
    ),
    (
        along({**END, "mark": "0", "on": "shell"}, {}),
        (
            "zone 1 ('motor'), end: the zone is 0.00 mm long; it must be longer than 0. "
            "List the zones from front to rear, and check where this one and the one before it end."
        ),
    ),
    (
        along({**END, "on": "shell"}, {}, [TWO[0], {**TWO[1], "end": "s"}]),
        (
            "zone 2 ('weight'), end: the zone is -25.00 mm long; it must be longer than 0. "
            "List the zones from front to rear, and check where this one and the one before it end."
        ),
    ),
    (
        along({**END, "on": "shell"}, {}, [TWO[0]]),
        (
            "zone 1 ('motor'), end: the last zone's end is -30.00 mm from the end of the shell's inside; it "
            "must be where "
            "the shell ends. Leave it out: the last zone ends where the shell does."
        ),
    ),
    (
        along({**END, "on": "shell"}, {"shell_inside": "insde"}),
        "length, shell_inside: the reading is 'insde'; write 'inside'.",
    ),
]


@pytest.mark.parametrize(("made", "message"), PLACES)
def test_places_along_the_length_that_make_no_sense(made, message):
    assert faults(made) == [f"hood.toml, {message}"]


LINKS = [
    (
        {"links": []},
        (
            "zone 1 ('motor'), chassis_top: the height of motor top is taken from the bench; expected a "
            "height from the "
            "seat, where the shell rests on the chassis. Add a link reading: the seat's height above the "
            "bench, read the "
            "same way."
        ),
    ),
    (
        {"links": [{"face": "bench", "reading": "link"}, {"face": "bench", "reading": "link"}]},
        "link 2, face: the face is 'bench'; expected a face that stands once. Leave out one of the two.",
    ),
    (
        {"links": [{"face": "deck", "reading": "link"}]},
        (
            "link 1, reading: the link reading is 'link', taken from the bench; expected a reading of the "
            "seat's height "
            'above the deck. Write taken_from = "deck" in it.'
        ),
    ),
    (
        {"links": [{"face": "bench", "reading": "lnk"}]},
        "link 1, reading: the reading is 'lnk'; write 'link'.",
    ),
]


@pytest.mark.parametrize(("fields", "message"), LINKS)
def test_links_that_make_no_sense(fields, message):
    readings = (ROOF, {**TOP, "taken_from": "bench"}, {"name": "link", "mark": "3", "taken_from": "bench"})
    assert faults(Job.model_validate(heights(*readings, **fields))) == [f"hood.toml, {message}"]


def test_a_fault_is_said_once_however_often_it_is_met():
    assert faults(job(speaker={"flange": "1.2", "length": "1 mm", "width": "1 mm", "depth": "1 mm"})) == [
        (
            "hood.toml, speaker, flange: '1.2': it has no unit; write a number with a unit, such as 15.9 mm, "
            ".040 in or "
            "3 3/4 scale ft."
        )
    ]


def test_plan_refuses_with_the_first_fault():
    readings = [{"name": "roof", "mark": "9 1/4", "rule": "scale"}, SMALLEST["readings"][1]]
    message = "the job, reading 1 ('roof'), rule: the rule is 'scale'; write 'scale rule'."
    with pytest.raises(JobError, match=f"^{re.escape(message)}$") as refused:
        plan(job(readings=readings))
    assert refused.value.path == ("readings", 0, "rule")
