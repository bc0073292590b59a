"""The solids of a plan: volumes by hand from the list of parts, places, what comes off, the seat, what is refused."""

from __future__ import annotations

import re
import subprocess
import sys
from fractions import Fraction
from itertools import pairwise
from math import pi

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import with_chamber
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union
from sheets import DEMOS, demo, least
from spacious import ARCH, CLIP, LENGTH, POST, SPACES, SPEAKER, ZONES, facing, spacious

from modelmath.drawings.solids.bodies import Solid, solids_of
from modelmath.drawings.solids.files import notes_on_solids
from modelmath.drawings.solids.prisms import volume_of
from modelmath.drawings.solids.stepped import stepped_solids
from modelmath.enclosure.making.blocks import volume_inside_mm3
from modelmath.errors import DoesNotFit, NotYetKnown
from modelmath.job import plan
from modelmath.job.space.stepped_floor import stepped_pieces

IN_ONE = ("wall", "post", "side", "box", "filler", "plate")
ARCHED = {"profiles": ARCH, "zones": [{**zone, "profile": "arch"} for zone in ZONES]}
LAMPS = [{"name": "headlight", "end": "rear", "room": "5 mm", "strand": "0.75 mm", "strands": 2}]


def named(plan):
    return {solid.name: solid for solid in solids_of(plan)}


def assert_closed(solid: Solid):
    """Another library finds the surface closed, wound one way, and of the volume of its parts."""
    mesh = solid.mesh
    seen = trimesh.Trimesh(mesh.points, mesh.triangles)
    assert seen.is_watertight
    assert seen.is_winding_consistent
    assert seen.volume == pytest.approx(solid.volume_mm3, rel=1e-9)
    assert (mesh.points.min(axis=0) == 0).all()


def drilled(plan):
    """What the drills take out of the walls. [mm3]"""
    thick = float(plan.limits.wall_mm)
    holes = [hole for wall in plan.hole_places if wall.layout for hole in wall.layout.holes]
    return sum(pi * float(hole.radius_mm) ** 2 * thick for hole in holes)


def of_parts(plan, kinds):
    """Volume of parts as `net_volume` counts them, each by itself. [mm3]"""
    blocks = [block for part in plan.parts if part.kind in kinds for block in part.blocks]
    return float(volume_inside_mm3(blocks, plan.chamber.bays, Fraction(-1000)))


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_gives_closed_solids_of_the_plan_s_volumes(name):
    made = demo(name)
    solids = named(made)
    assert list(solids) == ["chamber", "seat", "air"]
    for solid in solids.values():
        assert_closed(solid)
        assert solid.mesh.pieces == 1
    assert volume_of(solids["air"].shares[0].prisms) == made.chamber.volume_mm3 == made.volume.exact_mm
    assert solids["chamber"].volume_mm3 == pytest.approx(of_parts(made, IN_ONE) - drilled(made), rel=1e-12)
    supports = [share for share in solids["seat"].shares if share.name.startswith("speaker support")]
    assert sum(share.volume_mm3 for share in supports) == pytest.approx(of_parts(made, ("support",)), rel=1e-12)


def test_the_switcher_s_chamber_by_hand():
    """Sizes from its list of parts, in mm: two walls 18.5 x 11.375, four posts 2.54 square, fillers, plates 18.5 wide.

    The plates reach from wall to flange: 60.8125 long outside, two walls of 1.016 and the flange of 22 off.
    """
    made = demo()
    solid = named(made)["chamber"]
    walls, posts = 2 * 18.5 * 11.375 * 1.016, 4 * 2.54**2 * 10.0625
    fillers, plates = 2 * 22 * 1.25**2, (60.8125 - 2 * 1.016 - 22) * 18.5 * 1.016
    assert solid.volume_mm3 == pytest.approx(walls + posts + fillers + plates - drilled(made), rel=1e-12)
    assert solid.mesh.size_mm == pytest.approx((60.8125, 18.5, 11.375))
    assert named(made)["air"].volume_mm3 == pytest.approx((60.8125 - 2 * 1.016) * 18.5 * 11.375, rel=1e-12)


def test_the_switcher_s_seat_by_hand():
    """Four supports 2.54 square and 10.0625 high; without the basket's size the frame lies outside the flange, 22 x 16.

    Its ends are 2.54 wide and as long as flange and gaps of 1.25 on both sides, its sides 1.25 wide: all 1.016 high.
    """
    solid = named(demo())["seat"]
    frame = (2 * 2.54 * 18.5 + 2 * 1.25 * 22) * 1.016
    assert solid.volume_mm3 == pytest.approx(4 * 2.54**2 * 10.0625 + frame, rel=1e-12)
    assert solid.mesh.size_mm == pytest.approx((22 + 2 * 2.54, 18.5, 10.0625))
    assert solid.notes == (
        "The frame that joins the supports takes 151 mm3 of the chamber's air more than the plan counts.",
    )


def test_with_the_basket_s_size_the_frame_lies_on_the_rim_round_it():
    """Flange 14 x 10, basket 11 x 8: rims of 1.5 and 1; a ring 1 high, less what the supports (1.5 x 2) stand on."""
    made = spacious()
    solid = named(made)["seat"]
    high = float(next(part.cut.cut_mm for part in made.parts if part.kind == "support"))
    ring = 14 * 10 - 11 * 8 - 4 * 1.5 * 1  # outside the basket, less the supports' share of it
    assert ring == 46
    frame = solid.shares[-1]
    assert frame.name == "frame"
    assert frame.volume_mm3 == pytest.approx(2 * 1.5 * (10 - 2 * 2) + 2 * 1 * (14 - 2 * 1.5))
    assert solid.volume_mm3 == pytest.approx(4 * 1.5 * 2 * high + frame.volume_mm3)
    assert solid.mesh.size_mm == pytest.approx((14, 10, high))
    assert solid.mesh.pieces == 1


def test_no_bar_lies_in_the_basket_or_in_another_part():
    for name in DEMOS:
        made = demo(name)
        seat, speaker = named(made)["seat"], made.bench.speaker
        start, end = made.chamber.seat_mm
        side = Fraction(speaker.width_mm) / 2
        others = [block for part in made.parts if part.kind != "support" for block in part.blocks]
        long, wide = speaker.basket_mm
        rims = ((speaker.length_mm - long) / 2, (speaker.width_mm - wide) / 2)
        for bar in seat.shares[-1].prisms:
            outside = (
                bar.along_mm[1] <= start + rims[0]
                or bar.along_mm[0] >= end - rims[0]
                or bar.foot_mm[1] <= rims[1] - side
                or bar.foot_mm[0] >= side - rims[1]
            )
            assert outside, name
            for block in others:
                apart = (
                    bar.along_mm[1] <= block.start_mm
                    or block.end_mm <= bar.along_mm[0]
                    or bar.up_mm[1] <= block.bottom_mm
                    or block.top_mm <= bar.up_mm[0]
                    or bar.foot_mm[1] <= block.left_mm
                    or block.right_mm <= bar.foot_mm[0]
                )
                assert apart, name


def test_a_bar_that_would_meet_a_box_is_left_out():
    """The box ends nearer to the flange than a bar of 2 is wide: only the bar at the other end is longer than 14."""
    bare = {key: size for key, size in SPEAKER.items() if not key.startswith("basket")}
    made = spacious(speaker={**bare, "place": "3 mm"}, obstacles=[CLIP], chamber={"cut_round": True})
    (clip,), (start, end) = made.chamber.boxed, made.chamber.seat_mm
    assert 0 < clip.start_mm - 1 - end < 2
    solid = named(made)["seat"]
    assert solid.mesh.size_mm[0] == pytest.approx(14 + 2)
    assert min(prism.along_mm[0] for prism in solid.shares[-1].prisms) == start - 2
    assert solid.mesh.pieces == 1


def test_what_is_boxed_in_is_no_air_and_has_a_wall_of_its_own():
    """The clip is 10 x 6 and 4 above the floor with its air; its box is a wall of 1 thicker on all sides and above."""
    plain, round_it = spacious(), spacious(obstacles=[CLIP], chamber={"cut_round": True})
    solids = named(round_it)
    chamber = round_it.chamber
    (clip,) = chamber.boxed
    air = solids["air"].volume_mm3
    inside = float((chamber.inner_end_mm - chamber.inner_start_mm) * 20 * (30 - chamber.floor_mm))
    long, wide = float(clip.end_mm - clip.start_mm) + 2, 2 * float(clip.half_width_mm) + 2
    high = float(clip.top_mm - chamber.floor_mm) + 1
    assert inside - air == pytest.approx(long * wide * high)
    assert plain.chamber.volume_mm3 != chamber.volume_mm3
    boxes = sum(share.volume_mm3 for share in solids["chamber"].shares if "box" in share.name)
    assert boxes == pytest.approx(long * wide * high - (long - 2) * (wide - 2) * (high - 1))
    for solid in solids.values():
        assert_closed(solid)


@pytest.mark.parametrize("name", SPACES)
def test_every_kind_of_space_gives_closed_solids(name):
    made = SPACES[name]()
    solids = named(made)
    for solid in solids.values():
        assert_closed(solid)
    assert volume_of(solids["air"].shares[0].prisms) == made.chamber.volume_mm3
    faces = made.bench.speaker.faces
    assert ("floor" in solids) == (faces != "down")
    assert ("seat" in solids) == (faces != "up")


@pytest.mark.parametrize(("way", "wall"), [("front", "bulkhead"), ("rear", "bulkhead")])
def test_a_speaker_that_faces_an_end_sits_on_its_wall(way, wall):
    """The wall less its opening, as large as the basket: 11 high, 8 wide."""
    made = facing(way, length={**LENGTH, "front_closed": way != "front", "rear_closed": way != "rear"})
    part = next(part for part in made.parts if part.openings and part.kind == "wall")
    solid = named(made)["seat"]
    assert [share.name for share in solid.shares] == [part.name]
    assert part.name == wall
    assert solid.volume_mm3 == pytest.approx(float(part.cut.cut_mm) * 20 - 11 * 8)
    assert_closed(solid)


def test_a_floor_that_comes_off_is_a_solid_by_itself_with_its_boxes():
    made = facing("up", obstacles=[CLIP], chamber={"cut_round": True})
    solids = named(made)
    names = [share.name for share in solids["floor"].shares]
    assert names[0] == "floor plate"
    assert names[1:] == [part.name for part in made.parts if part.kind == "box"] != []
    assert solids["floor"].mesh.pieces == 1
    assert not any("box" in share.name or "plate" in share.name for share in solids["chamber"].shares)


def test_the_side_wall_is_on_the_right_of_one_who_looks_to_the_rear():
    """y counts to the left, so that the wall towards the wires lies at y = 0, over the whole length."""
    made = spacious(chamber={"wire_path": "2 mm"})
    mesh = named(made)["chamber"].mesh
    right = mesh.points[mesh.points[:, 1] == 0]
    left = mesh.points[mesh.points[:, 1] == mesh.points[:, 1].max()]
    assert np.ptp(right[:, 0]) == pytest.approx(float(made.chamber.end_mm - made.chamber.start_mm))
    tall = [np.ptp(side[:, 2]) for side in (right, left)]
    assert tall[0] > 10
    assert mesh.size_mm[1] == pytest.approx(20 - 2)
    side = next(part for part in made.parts if part.kind == "side")
    assert {float(block.left_mm) for block in side.blocks} == {8.5}


def test_holes_are_at_the_places_that_the_plan_marks_out():
    made = demo("railmotor-oo")
    (wall,) = (each for each in made.hole_places if each.wall == "bulkhead")
    part = made.bulkhead
    points = named(made)["chamber"].mesh.points
    front = points[points[:, 0] == 0]
    for hole in wall.layout.holes:
        y, z = float(part.width_mm) / 2 - float(hole.x_mm), float(hole.y_mm)
        off = np.hypot(front[:, 1] - y, front[:, 2] - z)
        rim = off[off < 1.5 * float(hole.radius_mm)]
        assert len(rim) == 48, hole.name
        assert rim == pytest.approx(float(hole.radius_mm) * np.ones(48), rel=0.0015)


def test_a_side_wall_that_bends_says_what_it_differs_by():
    """It is 1 thick across over its whole height; the strip is bent along the arch, which is longer."""
    made = spacious(chamber={"wire_path": "2 mm"}, **ARCHED)
    solids = named(made)
    side = next(share for share in solids["chamber"].shares if share.name == "side wall")
    chamber = made.chamber
    long, high = float(chamber.end_mm - chamber.start_mm), float(30 - chamber.floor_mm)
    assert side.volume_mm3 == pytest.approx(long * high * 1)
    (note,) = solids["chamber"].notes
    numbers = [float(each) for each in re.findall(r"(\d+) mm3", note)]
    assert numbers[0] == pytest.approx(long * high, abs=0.5)
    bent = high - 6 + (3**2 + 1) ** 0.5 + (3**2 + 3**2) ** 0.5  # of 6 mm, 3 go in by 1 and 3 by 3
    assert numbers[1] == pytest.approx(long * bent, abs=long * 0.5 + 0.5)  # cut down to a mark of 0.5
    assert_closed(solids["chamber"])


@pytest.mark.parametrize(
    ("points", "band"),
    [
        ([(0, 12), (3, 12), (3, 20)], (3 + 16 + 4 * 1)),  # 3 and 16 high, and a shelf 4 wide
        ([(0, 20), (3, 20), (3, 16), (9, 16)], (3 + 16 + 2 * 1)),
        ([(0, 20), (3, 20), (3, 15), (5, 18)], None),  # what leans below the ledge takes part of its shelf
    ],
)
def test_a_side_wall_with_a_ledge_is_one_tight_piece(points, band):
    """The band is 1 thick; nothing of it is in the air, and none of the air's side towards the wires is left open."""
    arch = {"name": "arch", "points": [{"down": f"{down} mm", "width": f"{width} mm"} for down, width in points]}
    zones = [{**zone, "profile": "arch"} for zone in ZONES]
    made = spacious(speaker=None, chamber={"wire_path": "2 mm"}, profiles=[arch], zones=zones)
    solids = named(made)
    side = next(share for share in solids["chamber"].shares if share.name == "side wall")
    long = float(made.chamber.end_mm - made.chamber.start_mm)
    if band is not None:
        assert side.volume_mm3 == pytest.approx(long * band)
    wall, air = (
        unary_union([Polygon(_outline(prism)) for prism in prisms])
        for prisms in (side.prisms, solids["air"].shares[0].prisms)
    )
    assert wall.geom_type == "Polygon"
    assert wall.intersection(air).area == pytest.approx(0, abs=1e-9)
    floor, roof = air.bounds[1::2]
    right = [line for line in _edges(air.exterior) if min(x for x, _ in line.coords) > 0]
    towards_wires = [line for line in right if {z for _, z in line.coords} not in ({floor}, {roof})]
    assert len(towards_wires) >= 3
    assert all(wall.boundary.buffer(1e-9).contains(line) for line in towards_wires)
    for solid in solids.values():
        assert_closed(solid)


def _outline(prism):
    (low, high), (left, right), (over_left, over_right) = prism.up_mm, prism.foot_mm, prism.head_mm
    return [(float(y), float(z)) for y, z in ((left, low), (right, low), (over_right, high), (over_left, high))]


def _edges(line):
    return [LineString(ends) for ends in pairwise(line.coords)]


def tenths(low, high):
    return st.integers(low, high).map(lambda tenth: f"{tenth / 10:.1f} mm")


@st.composite
def spaces(draw):
    """A shell with some of all that changes its solids."""
    faces = draw(st.sampled_from(["down", "down", "up", "front", "rear"]))
    speaker = {**SPEAKER, "flange": draw(tenths(5, 25)), "faces": faces}
    if draw(st.booleans()):
        speaker = {key: size for key, size in speaker.items() if not key.startswith("basket")}
    ends = {f"{end}_closed": faces != end and draw(st.booleans()) for end in ("front", "rear")}
    fields = {
        "speaker": speaker,
        "clearance": {"keep": draw(tenths(3, 17)), "along": draw(tenths(0, 8))},
        "length": {**LENGTH, **ends},
        "lamps": draw(st.sampled_from([[], LAMPS])),
        "obstacles": draw(st.sampled_from([[], [CLIP], [CLIP, POST]])),
        "chamber": {
            "cut_round": draw(st.booleans()),
            "wire_path": draw(st.sampled_from(["0 mm", "2 mm"])),
            "floor": draw(st.sampled_from(["pieces", "one piece"])),
        },
    }
    return spacious(**fields, **(ARCHED if draw(st.booleans()) else {}))


@settings(max_examples=25)
@given(spaces())
def test_whatever_stands_in_the_space_its_solids_close(made):
    if made.misfit is not None:
        with pytest.raises(DoesNotFit, match=f"^{re.escape(str(made.misfit))}$"):
            solids_of(made)
        return
    for solid in solids_of(made):
        assert_closed(solid)
        if solid.name == "air":
            assert volume_of(solid.shares[0].prisms) == made.chamber.volume_mm3


@pytest.mark.parametrize("name", ["switcher-ho", "gas-electric-o", "railbus-ho"])
def test_a_stepped_floor_has_the_volume_of_its_chamber_as_cut(name):
    made = demo(name)
    gains = [gain for gain in made.stepped.gains if gain.chamber.steps]
    assert gains
    for gain in gains:
        pieces, _ = stepped_pieces(made, gain.chamber)
        solids = {solid.name: solid for solid in stepped_solids(made, gain.chamber)}
        assert volume_of(solids["air"].shares[0].prisms) == pieces.chamber.volume_mm3
        names = [share.name for share in solids["chamber"].shares]
        assert {"riser", "riser post"} <= set(names)
        for solid in solids.values():
            assert_closed(solid)


def test_before_there_is_a_chamber_it_says_what_to_enter():
    missing = r"the inside width over motor and the length inside the shell"
    with pytest.raises(NotYetKnown, match=rf"^The chamber as a solid is not known yet; enter {missing}\.$"):
        solids_of(least())


def test_a_plan_that_left_the_speaker_out_is_refused_with_its_reason():
    made = plan(with_chamber(speaker={"length": "22 mm", "width": "40 mm", "flange": "1.2 mm", "depth": "6 mm"}))
    assert made.chamber is not None
    with pytest.raises(DoesNotFit, match=f"^{re.escape(str(made.misfit))}$"):
        solids_of(made)


def test_without_a_speaker_there_are_walls_and_air():
    made = plan(with_chamber(speaker=None, length={"shell_inside": "length", "front_closed": False}))
    solids = named(made)
    assert list(solids) == ["chamber", "air"]
    assert [share.name for share in solids["chamber"].shares] == ["bulkhead", "corner post"]


def test_notes_name_sizes_volumes_and_pieces():
    """By hand: walls 2 x 20 x 19 x 1, less the opening of 88; four posts 2 x 2 x 18, on a plate of 1."""
    assert notes_on_solids(facing("front", length={**LENGTH, "front_closed": False, "rear_closed": False})) == (
        "Chamber: walls and floor: 69.50 × 20.00 × 19.00 mm, 0.960 cm3, in 2 pieces that don't touch.",
        "Floor that comes off: 67.50 × 20.00 × 1.00 mm, 1.350 cm3.",
        "Seat of the speaker: 1.00 × 20.00 × 19.00 mm, 0.292 cm3.",
        "Air of the chamber, no part: 67.50 × 20.00 × 19.00 mm, 25.650 cm3.",
    )
    assert notes_on_solids(spacious(build={"wall": "1 mm", "post": "2 mm", "count": 3}))[0] == (
        "Each file is for one model; 3 are built."
    )


def test_nothing_of_it_loads_before_it_is_asked_for():
    code = (
        "import sys, modelmath, modelmath.widgets.plan.exports\n"
        "print([name for name in ('manifold3d', 'trimesh', 'modelmath.drawings.solids.files') if name in sys.modules])"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"
