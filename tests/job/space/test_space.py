"""Skyline, lengthwise room, the way out for the sound, weight: against arithmetic by hand. All numbers invented."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest
from sample_jobs import DEMOS, job

from modelmath import plan
from modelmath.errors import JobError
from modelmath.job.entries.zones import mark_row, with_zones, zone_rows

RULES = [{"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "200"}]


def readings(**lengths):
    """Heights from the seat, and places read on a half, all on one steel rule in mm."""
    places = {"inside": "shell", "hole": "shell", "pin": "chassis", "clip front": "chassis", "clip rear": "chassis"}
    places |= {"step": "chassis", "post front": "shell", "post rear": "shell"}
    return [{"name": n, "mark": m} | ({"on": places[n]} if n in places else {}) for n, m in lengths.items()]


MARKS = {
    "roof": "30", "low": "10", "high": "22", "width": "20", "inside": "100", "hole": "10", "pin": "15", "step": "75",
    "clip front": "35", "clip rear": "45", "clip top": "14", "post front": "20", "post rear": "26",
}  # fmt: skip


def model(**fields):
    """A shell 100 mm long: chassis at 10 mm up to 60 mm behind the mark, 22 mm behind that."""
    zones = [
        {"name": "low end", "underside": "roof", "chassis_top": "low", "width": "width", "end": "step"},
        {"name": "gear box", "underside": "roof", "chassis_top": "high", "width": "width"},
    ]
    document = {
        "rules": RULES,
        "marking": {"rule": "steel rule", "finest": "0.5"},
        "clearance": {"keep": "1 mm", "along": "0.5 mm"},
        "readings": readings(**MARKS),
        "zones": zones,
        "length": {
            "shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole", "mark_on_chassis": "pin",
        },
        "speaker": {"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"},
        "build": {"wall": "1 mm", "post": "2 mm"},
    }  # fmt: skip
    return plan(job(**{**document, **fields}))


CLIP = {"name": "motor clip", "kind": "motor frame", "start": "clip front", "end": "clip rear", "top": "clip top",
        "width": "8 mm", "running": "0.5 mm", "trim": "1 mm"}  # fmt: skip


def test_the_skyline_steps_where_the_chassis_does_and_over_what_stands():
    found = [
        (s.name, float(s.start_mm), float(s.end_mm), float(s.free.exact_mm)) for s in model(obstacles=[CLIP]).skyline
    ]
    # The mark lies 10 mm behind the shell's front; the clip runs 20 to 30 mm behind it, and keeps 0.5 mm clear.
    assert found == [
        ("low end", -10, 19.5, 20), ("motor clip", 19.5, 30.5, 16), ("low end", 30.5, 60, 20), ("gear box", 60, 90, 8),
    ]  # fmt: skip


def test_a_skyline_edge_read_on_the_chassis_carries_both_marks():
    whole = model()
    inside, step = whole.skyline[0].edge_u_mm
    assert inside == pytest.approx(whole.bench.readings["hole"].measured.u_mm)
    parts = [whole.bench.readings[name].measured.u_mm for name in ("step", "pin")]
    assert step == pytest.approx(math.hypot(*parts), rel=0.3)  # the rule's own scale error is shared


def test_what_stands_across_the_shell_parts_the_chamber_and_round_what_is_narrow_the_floor_is_cut():
    free, across = model(), model(obstacles=[{**CLIP, "top": None, "kind": "screw post"}])
    assert float(free.chamber.end_mm) == 59.5
    assert (float(across.chamber.start_mm), float(across.chamber.end_mm)) == (-10, 19.5)
    round_it = model(obstacles=[{**CLIP, "top": None, "kind": "screw post"}], chamber={"cut_round": True})
    assert [each.name for each in round_it.chamber.boxed] == ["motor clip"]
    # 8 mm wide with 0.5 mm clear and 1 mm of side on either hand is 11 mm; 10 mm long likewise 13 mm; 19 mm high.
    gone = float(free.chamber.cut_from.volume_mm3 - round_it.chamber.cut_from.volume_mm3)
    assert gone == pytest.approx(11 * 13 * 19)


def test_a_post_in_the_shell_is_read_on_the_shell():
    post = {"name": "post", "kind": "screw post", "start": "post front", "end": "post rear", "running": "0 mm"}
    (found,) = model(obstacles=[post]).bench.moving
    box = found.obstacle.outward()
    assert (float(box.start_mm), float(box.end_mm), float(box.top_mm)) == (10, 16, 30)
    assert float(box.half_width_mm) == 10  # without a width it is as wide as the shell


def test_a_wall_beside_a_higher_step_has_room_along_the_length_less_the_end_play():
    (gap,) = model().along_gaps
    assert (gap.wall, gap.step, float(gap.left_mm)) == ("rear wall", "gear box", 0.5)
    (looser,) = model(length={"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole",
                              "mark_on_chassis": "pin", "end_play": "0.5 mm"}).along_gaps  # fmt: skip
    assert float(looser.left_mm) == 1.0  # what is kept along the length grows by the end play
    assert looser.stack.worst_case() - gap.stack.worst_case() == pytest.approx(0.5)
    assert looser.in_words.startswith(
        "Between the rear wall and gear box there are 1.00 mm along the length; with all at"
    )


def test_the_chance_along_the_length_is_that_of_the_sum_of_its_terms():
    (gap,) = model().along_gaps
    limits = [term.tolerance_mm for term in gap.stack.terms]
    assert gap.stack.worst_case() == pytest.approx(sum(limits))
    assert 0 <= gap.chance < 0.5


def test_the_way_out_of_the_sound_is_gap_times_perimeter_against_the_cone():
    found = model(
        speaker={"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm", "rim": "2 mm"}
    ).sounding
    assert (float(found.gap_mm), found.where) == (1, "over low end")
    assert (found.perimeter_mm, found.cone_mm2) == (2 * (18 + 12), 18 * 12)
    assert found.way_out_mm2 == 60
    assert found.in_words == (
        "The speaker sounds out through a gap of 1.00 mm over low end: times the 60 mm round its cone that is 60 mm2, "
        "28 % of the cone's 216 mm2. A gap of 3.60 mm would be as large as the cone: more clearance there lets more "
        "sound out."
    )


def test_a_round_speaker_has_a_round_cone():
    entry = {"length": "16 mm", "width": "16 mm", "flange": "1 mm", "depth": "6 mm", "rim": "1 mm", "round": True}
    found = model(speaker=entry).sounding
    assert found.cone_mm2 == pytest.approx(math.pi * 49)
    assert found.gap_for_whole_mm == pytest.approx(7 / 2)  # pi r2 over 2 pi r


def test_a_rim_as_wide_as_the_speaker_is_refused():
    entry = {"length": "16 mm", "width": "16 mm", "flange": "1 mm", "depth": "6 mm", "rim": "8 mm"}
    message = (
        "the job, speaker, rim: the rim is 8.00 mm wide; it must be less than half of its lesser side, 8.00 mm. "
        "Measure it again."
    )
    with pytest.raises(JobError, match=f"^{re.escape(message)}"):
        _ = model(speaker=entry).sounding


@pytest.mark.parametrize(
    ("faces", "closed", "decoder", "gap", "where"),
    [
        ("front", True, None, 3, "before the shell's closed front end"),
        ("front", False, None, None, None),
        ("rear", True, None, 0.5, "before gear box"),  # which rises to 22 mm, the speaker from 12 to 28
        ("rear", True, {"length": "12 mm", "width": "18 mm", "height": "8 mm", "air": "1.5 mm"}, 1.5,
         "before the decoder"),
    ],
)  # fmt: skip
def test_so_it_is_before_a_speaker_that_faces_something(faces, closed, decoder, gap, where):
    size = {"length": "16 mm", "width": "14 mm", "flange": "1.2 mm", "depth": "6 mm", "rim": "2 mm"}
    length = {"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole", "mark_on_chassis": "pin"}
    length |= {"front_closed": closed, "rear_closed": True}
    made = model(
        speaker={**size, "faces": faces}, length=length, decoder=decoder,
        clearance={"keep": "1 mm", "along": "0.5 mm", "sound_room": "3 mm"},
    )  # fmt: skip
    found = made.sounding
    if gap is None:
        assert found is None
        return
    assert (float(found.gap_mm), found.where, found.more) == (gap, where, "room")
    assert found.way_out_mm2 == gap * 2 * (12 + 10)
    assert found.short == f"{100 * found.share:.0f} % of the speaker's cone, with the room kept before it"


def test_the_room_for_the_sound_is_told_of_where_it_counts():
    entry = {"length": "16 mm", "width": "14 mm", "flange": "1.2 mm", "depth": "6 mm", "rim": "2 mm"}
    towards = {faces: model(speaker={**entry, "faces": faces}) for faces in ("front", "down")}
    assert "room for the sound" in towards["front"].figures
    assert "room for the sound" not in towards["down"].figures
    assert "room for the sound" in {figure.name for _, figure in towards["front"].why("chamber volume").chain}


def test_a_speaker_that_faces_up_has_no_such_gap():
    entry = {"length": "16 mm", "width": "16 mm", "flange": "1 mm", "depth": "6 mm", "faces": "up"}
    assert model(speaker=entry).sounding is None


def test_loads_follow_the_lever():
    weight = {
        "front_truck": "0 mm", "rear_truck": "100 mm", "front_grams": 60.0, "rear_grams": 40.0,
        "changes": [
            {"name": "frame trimmed", "at": "25 mm", "grams": 8.0, "off": True},
            {"name": "speaker", "at": "50 mm", "grams": 10.0},
        ],
    }  # fmt: skip
    after = model(weight=weight).balance.loads_after
    # 8 g off at a quarter of the wheelbase takes 6 g from the front; 10 g in the middle put 5 g on each.
    assert (float(after.front_g), float(after.rear_g)) == pytest.approx((60 - 6 + 5, 40 - 2 + 5))


def test_a_section_narrows_the_chamber_under_its_roof():
    points = [{"down": "0 mm", "width": "10 mm"}, {"down": "5 mm", "width": "20 mm"}]
    zones = [
        {
            "name": "low end",
            "underside": "roof",
            "chassis_top": "low",
            "width": "width",
            "end": "step",
            "profile": "arch",
        },
        {"name": "gear box", "underside": "roof", "chassis_top": "high", "width": "width"},
    ]
    found = model(profiles=[{"name": "arch", "points": points}], zones=zones).chamber.cut_from
    # 19 mm high, of which the top 5 mm narrow from 20 to 10 mm: 14 x 20 + 5 x 15 mm2 over 68.5 mm.
    assert float(found.volume_mm3) == pytest.approx((14 * 20 + 5 * 15) * 68.5)


def arch(first):
    points = [{"down": first, "width": "9 mm"}, {"down": "3 mm", "width": "9 mm"}]
    return [{"name": "arch", "points": points}]


ONE_ZONE = {"name": "motor", "underside": "roof", "chassis_top": "low", "width": "width", "profile": "arhc"}
WRONG = {
    "unknown profile": (
        {"zones": [ONE_ZONE], "profiles": arch("0 mm")},
        "the job, zone 1 ('motor'), profile: the profile is 'arhc'; write 'arch'",
    ),
    "a section that begins below the roof": (
        {"profiles": arch("1 mm")},
        (
            "the job, profile 1 ('arch'): the cross-section is beginning 1.00 mm down; it must be beginning at the "
            'roof. Begin with down = "0 mm", the width right under the roof.'
        ),
    ),
    "an obstacle back to front": (
        {"obstacles": [{**CLIP, "start": "clip rear", "end": "clip front"}]},
        (
            "the job, obstacle 1 ('motor clip'): the obstacle is -10.00 mm long; it must be longer than 0. "
            "Check the readings of its start and end."
        ),
    ),
    "an obstacle named as a zone": (
        {"obstacles": [{**CLIP, "name": "gear box"}]},
        (
            "the job, obstacle 1 ('gear box'): the name is 'gear box'; expected a name that no zone and nothing that "
            "moves has. Give one of the two another."
        ),
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_entry_says_where_and_what_to_write(name):
    fields, message = WRONG[name]
    with pytest.raises(JobError) as fault:
        model(**fields)
    assert str(fault.value).rstrip(".") == message.rstrip(".")


@pytest.mark.parametrize("name", DEMOS)
def test_the_skyline_of_a_demo_is_whole(name):
    found = plan(DEMOS[name])
    line = found.skyline
    assert line[0].start_mm == found.bench.ends.edges[0].exact_mm
    assert line[-1].end_mm == found.bench.ends.edges[-1].exact_mm
    assert all(a.end_mm == b.start_mm for a, b in pairwise(line))
    lowest = min(float(each.free.exact_mm) for each in line if not each.moving)
    assert lowest <= min(float(depth.free.exact_mm) for depth in found.depths)


@pytest.mark.parametrize("top", [None, "clip top"])
def test_the_uncertain_volume_is_that_of_the_chamber_under_a_section_and_round_a_box(top):
    points = [{"down": "0 mm", "width": "10 mm"}, {"down": "5 mm", "width": "20 mm"}]
    under = {"underside": "roof", "width": "width", "profile": "arch"}
    zones = [
        {"name": "low end", "chassis_top": "low", "end": "step", **under},
        {"name": "gear box", "chassis_top": "high", **under},
    ]
    clip = {**CLIP, "top": top, "width": "7 mm"}  # with its sides within the arch's 10 mm at the crown
    made = model(
        profiles=[{"name": "arch", "points": points}], zones=zones, obstacles=[clip], chamber={"cut_round": True}
    )
    assert made.chamber.boxed or top
    assert made.volume.value.nominal_value == pytest.approx(float(made.chamber.volume_mm3), rel=1e-9)
    assert 0 < made.volume.u_mm < 0.1 * float(made.chamber.volume_mm3)


def test_net_volume_takes_off_parts_speaker_and_wires():
    made = model(wires=[{"name": "speaker wires", "diameter": "1 mm", "count": 2}])
    net = made.net_volume
    assert float(net.gross_mm3) == pytest.approx(float(made.chamber.volume_mm3))
    inside = float(made.chamber.inner_end_mm - made.chamber.inner_start_mm)
    wires = next(share for share in net.shares if share.name == "speaker wires")
    assert float(wires.volume_mm3) == pytest.approx(2 * math.pi / 4 * inside)
    assert net.net_mm3 < net.gross_mm3 - wires.volume_mm3


def test_a_wire_leads_through_the_wall_on_the_decoder_s_side_and_a_hole_is_moved_by_hand():
    wires = [{"name": "wire", "diameter": "0.6 mm", "count": 2}]
    made = model(wires=wires)
    (wall,) = made.hole_places
    assert [hole.name for hole in wall.layout.holes] == ["wire 1", "wire 2"]
    (moved,) = model(wires=wires, holes=[{"name": "wire 1", "right": "-9.9 mm", "up": "5 mm"}]).hole_places
    assert (moved.layout.holes[0].x_mm, moved.layout.holes[0].y_mm) == (-9.9, 5)
    assert any("wire 1" in sentence and "were wanted" not in sentence for sentence in moved.sentences[2:])
    assert {web.first for web in moved.layout.too_thin} == {"wire 1"}


def test_a_hole_that_is_not_there_can_t_be_moved():
    with pytest.raises(JobError, match="the hole is 'wier 1'; write 'wire 1'"):
        _ = model(wires=[{"name": "wire", "diameter": "0.6 mm", "count": 2}],
                  holes=[{"name": "wier 1", "right": "0 mm", "up": "5 mm"}]).hole_places  # fmt: skip


def test_where_it_does_not_fit_each_way_out_makes_it_fit():
    short = model(speaker={"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "19.3 mm"},
                  clearance={"keep": "1 mm", "along": "0.5 mm", "over_speaker": "0 mm"},
                  marking={"rule": "steel rule", "finest": "0.1"})  # fmt: skip
    assert short.misfit is not None
    kinds = [way.remedy.kind for way in short.ways_out]
    assert "clearance" in kinds
    less = next(way for way in short.ways_out if way.remedy.kind == "clearance")
    assert float(less.remedy.needed_mm) == pytest.approx(0.7)
    assert "The chance of touching is then" in less.in_words


def test_the_trade_curve_is_highest_where_the_bulkhead_stands():
    made = model(length={"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole", "mark_on_chassis": "pin",
                         "front_closed": False})  # fmt: skip
    best = made.trade.best
    assert float(best.volume_mm3) == pytest.approx(float(made.enclosure.chamber.volume_mm3))


def test_zones_typed_anew_keep_the_readings_of_what_stands():
    made = model(obstacles=[CLIP]).job
    rows, mark = zone_rows(made), mark_row(made)
    assert with_zones(made, rows, mark).obstacles == made.obstacles
