"""Parts of a shell that is turned round: the same, front for rear; and where they lie, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.test_extra_parts import HALF, HOOD, LIMITS, LOW_NOSE, MM, NOSE_LIMITS, ROUND, SPEAKER, STRANDS, TOWER
from shapely.geometry import box
from shapely.ops import unary_union

from modelmath.enclosure import Box, Cavity, Obstacle, Profile, Speaker, Zone, fit_enclosure
from modelmath.enclosure.assemble import left_out_of, parts_of, roof_opening_of
from modelmath.enclosure.making.extras import Extras

ARCHED = Profile(((0, 9), (6, 10), (15, 5)))
NOSE = (*LOW_NOSE[:1], replace(LOW_NOSE[1], end_mm=100))
STEPPED_ROOF = (Zone("cab", 0, 20, 2, 17, 22), Zone("hood", 20, 60, 2, 15, 20))
OTHER = {"front": "rear", "rear": "front"}


def made(zones, limits=LIMITS, speaker=SPEAKER, extras=None, obstacles=(), closed=(False, False), decoder=None):
    """The parts, what is left out of them, and the opening in the roof."""
    enclosure = fit_enclosure(Cavity(tuple(zones), *closed, tuple(obstacles)), limits, speaker, decoder)
    site = enclosure, enclosure.as_cut(MM)
    extras = extras or Extras()
    return parts_of(*site, MM, extras), left_out_of(*site, MM, extras), roof_opening_of(*site, MM)


def turned(zones, limits=LIMITS, speaker=SPEAKER, extras=None, obstacles=(), closed=(False, False), decoder=None):
    """All that `made` takes, seen from the other end."""
    extras = extras or Extras()
    if speaker is not None:
        place = OTHER.get(speaker.place, speaker.place)
        if not isinstance(place, str):  # the place of its front edge
            place = -(place + speaker.length_mm)
        speaker = replace(speaker, faces=OTHER.get(speaker.faces, speaker.faces), place=place)
    return {
        "zones": [replace(zone, start_mm=-zone.end_mm, end_mm=-zone.start_mm) for zone in reversed(zones)],
        "limits": replace(limits, front_room_mm=limits.rear_room_mm, rear_room_mm=limits.front_room_mm),
        "speaker": speaker,
        "extras": replace(
            extras, light_barrier=extras.light_barrier[::-1], barrier_strand_mm=extras.barrier_strand_mm[::-1]
        ),
        "obstacles": [replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in obstacles],
        "closed": closed[::-1],
        "decoder": decoder,
    }


def filled(parts, sign=1):
    """What each kind of part fills, front to rear, and how often it is cut to which size."""
    blocks = {}
    for part in parts:
        for block in part.blocks:
            ends = sorted((sign * block.start_mm, sign * block.end_mm))
            across = (block.left_mm, block.right_mm, block.bottom_mm, block.top_mm)
            blocks.setdefault(part.kind, []).append(tuple(float(each) for each in (*ends, *across)))
    return {kind: sorted(each) for kind, each in blocks.items()}


def cuts(parts):
    return sorted((part.kind, part.count, part.cut.cut_mm, part.width_mm, part.thickness_mm) for part in parts)


CASES = {
    "plain": {"zones": [HOOD]},
    "speaker at one end": {"zones": [HOOD], "speaker": replace(SPEAKER, place="front")},
    "closed at one end": {"zones": [HOOD], "closed": (True, False)},
    "facing an end": {
        "zones": [HOOD], "speaker": Speaker(10, 12, 1, 5, faces="front", basket_length_mm=8, basket_width_mm=9),
    },
    "facing up": {"zones": [HOOD], "speaker": replace(SPEAKER, faces="up", place="rear")},
    "a step in the roof": {"zones": STEPPED_ROOF, "speaker": replace(SPEAKER, place=12)},
    "one piece": {"zones": [HOOD], "extras": Extras(floor="one piece"), "speaker": replace(SPEAKER, place="rear")},
    "strands": {"zones": NOSE, "limits": NOSE_LIMITS, "extras": STRANDS},
    "strands past a tower": {
        "zones": NOSE, "limits": NOSE_LIMITS, "extras": STRANDS,
        "obstacles": [Obstacle("tower", 25, 29, 3, -5, 15, moves=False, centre_mm=-6)],
    },
    "a barrier": {
        "zones": NOSE, "limits": NOSE_LIMITS,
        "extras": Extras(light_barrier=(True, False), barrier_strand_mm=(Fraction(3, 4), None)),
    },
    "a barrier with no room": {
        "zones": NOSE, "limits": NOSE_LIMITS, "extras": Extras(light_barrier=(True, True)), "closed": (False, True),
    },
    "a barrier where the wall stands": {
        "zones": [HOOD], "limits": replace(LIMITS, front_room_mm=10), "extras": Extras(light_barrier=(True, False)),
    },
    "a box": {"zones": [HOOD], "speaker": None, "limits": ROUND, "obstacles": [TOWER]},
    "a box in a wall": {
        "zones": [HOOD], "speaker": None, "limits": ROUND, "obstacles": [replace(TOWER, start_mm=-5, end_mm=8)],
    },
    "a box at a corner": {
        "zones": [HOOD], "speaker": replace(SPEAKER, place="rear"), "limits": ROUND,
        "obstacles": [replace(TOWER, start_mm=-5, end_mm=8, centre_mm=Fraction(15, 2), half_width_mm=Fraction(3, 2))],
    },
    "two boxes in a wall": {
        "zones": [HOOD], "speaker": None, "limits": ROUND,
        "obstacles": [
            replace(TOWER, start_mm=-5, end_mm=HALF),
            replace(TOWER, name="frame", start_mm=-6, end_mm=Fraction(3, 4), half_width_mm=4, top_mm=5),
        ],
    },
    "a box under a step of the roof": {
        "zones": STEPPED_ROOF, "speaker": None, "limits": ROUND,
        "obstacles": [replace(TOWER, start_mm=15, top_mm=Fraction(29, 2))],
    },
    "a section": {"zones": [replace(HOOD, profile=ARCHED)], "closed": (True, False)},
    "two sections": {"zones": [Zone("straight", 0, 1, 2, 15, 20), Zone("leaning", 1, 60, 2, 15, 20, ARCHED)]},
    "a wire path": {"zones": STEPPED_ROOF, "limits": replace(LIMITS, wire_path_mm=3), "speaker": None},
    "a decoder inside": {
        "zones": [HOOD], "speaker": replace(SPEAKER, place="front"), "decoder": Box("decoder", 12, 10, 5, inside=True),
        "extras": Extras(removable=("decoder",)),
    },
    "shorter than its posts": {"zones": [replace(HOOD, end_mm=5)], "speaker": None},
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_front_for_rear_the_parts_are_the_same(case):
    one, other = made(**CASES[case]), made(**turned(**CASES[case]))
    assert filled(other[0], -1) == filled(one[0])
    assert cuts(other[0]) == cuts(one[0])
    assert [each.short_mm for each in other[1] if hasattr(each, "short_mm")] == [
        each.short_mm for each in one[1] if hasattr(each, "short_mm")
    ]
    assert len(other[1]) == len(one[1])
    if one[2] is not None:
        assert (other[2].long_mm, other[2].from_edge_mm) == (one[2].long_mm, -one[2].from_edge_mm - one[2].long_mm)


def test_where_the_parts_of_a_hood_lie_by_hand():
    """60 mm, walls and plates of 1 mm, posts of 2; floor at 2.5 mm, roof at 15; the speaker from 22 to 38 mm."""
    assert filled(made([HOOD])[0]) == {
        "wall": [(0, 1, -10, 10, 2.5, 15), (59, 60, -10, 10, 2.5, 15)],
        "post": [
            (1, 3, -10, -8, 3.5, 15), (1, 3, 8, 10, 3.5, 15), (57, 59, -10, -8, 3.5, 15), (57, 59, 8, 10, 3.5, 15),
        ],
        "plate": [(1, 22, -10, 10, 2.5, 3.5), (38, 59, -10, 10, 2.5, 3.5)],
        "support": [
            (22, 24, -6, -4, 3.5, 15), (22, 24, 4, 6, 3.5, 15), (36, 38, -6, -4, 3.5, 15), (36, 38, 4, 6, 3.5, 15),
        ],
        "filler": [(22, 38, -10, -6, 2.5, 3.5), (22, 38, 6, 10, 2.5, 3.5)],
    }  # fmt: skip


def test_where_the_pieces_of_a_box_lie_by_hand():
    """Round 20 to 30 mm, 3 mm to either side, up to 6 mm: 1 mm all round it, its floor plate cut out."""
    found = filled(made(**CASES["a box"])[0])
    assert found["box"] == [
        (19, 20, -3, 3, 2.5, 6),
        (19, 31, -4, -3, 2.5, 6),
        (19, 31, -4, 4, 6, 7),
        (19, 31, 3, 4, 2.5, 6),
        (30, 31, -3, 3, 2.5, 6),
    ]


def test_where_a_barrier_and_its_hole_lie_at_the_rear_by_hand():
    """The lamps' room takes 10 of 60 mm of the nose, which ends at 0: the barrier is 0.5 mm thick in front of -10."""
    parts, left_out, _ = made(**turned(**CASES["a barrier"]))
    (part,) = [each for each in parts if each.kind == "barrier"]
    (block,), (hole,) = part.blocks, part.openings
    assert not left_out
    assert (part.name, part.position_mm, part.face) == ("light barrier, rear", -10, "front face")
    assert (block.start_mm, block.end_mm, block.left_mm, block.right_mm) == (-10, Fraction(-19, 2), -10, 10)
    assert (block.bottom_mm, block.top_mm) == (Fraction(21, 2), 15)
    # 1.25 mm under the roof of a barrier of 4.5 mm; 1 mm in from the side.
    assert (hole.from_edge_mm, hole.centre_mm, hole.long_mm) == (Fraction(13, 4), -9, Fraction(3, 4))


def test_where_strand_supports_lie_at_the_rear_by_hand():
    """50 mm between the lamps' room and the wall, three spaces: 2 mm round 16.67 and 33.33 mm from the wall at -60."""
    parts, _, _ = made(**turned(**CASES["strands"]))
    (part,) = [each for each in parts if each.kind == "rest"]
    third = Fraction(50, 3)
    assert part.name == "strand support, rear"
    assert part.places_mm == (third - 61, 2 * third - 61)
    assert [(each.left_mm, each.right_mm, each.bottom_mm, each.top_mm) for each in part.blocks] == [
        (-10, -8, Fraction(25, 2), 15)
    ] * 2


def test_a_decoder_that_hides_a_plate_makes_it_come_off_by_hand():
    parts, _, _ = made(**CASES["a decoder inside"])
    assert [part.name for part in parts if part.removable] == ["floor plate, rear"]
    behind, _, _ = made(**turned(**CASES["a decoder inside"]))
    assert [part.name for part in behind if part.removable] == ["floor plate, front"]


def test_no_part_is_left_out_but_the_barrier_that_has_no_room():
    left_out = made(**CASES["a barrier with no room"])[1]
    assert [str(each) for each in left_out] == [
        (
            "The light barrier, rear, is 0.50 mm thick in a lamp's room of 0.00 mm; it must be in a room longer than "
            "it is thick. Keep more room for the lamp at that end."
        )
    ]


HIGHER, LOWER = 17, 15  # of roofs: over a tower up to 14.5 mm, a lid of 1 mm has room under the first alone


@pytest.mark.parametrize(
    ("step", "sides", "ends", "lids"),
    [
        # The step of the roof over the box's rear end, at its inner face, in front of it, at its outer face.
        ("30.5", [(19, "30.5", "14.5"), ("30.5", 31, 15)],
         [(19, 20, "14.5"), (30, "30.5", "14.5"), ("30.5", 31, 15)], [(19, "30.5")]),
        ("30", [(19, 30, "14.5"), (30, 31, 15)], [(19, 20, "14.5"), (30, 31, 15)], [(19, 30)]),
        ("25", [(19, 25, "14.5"), (25, 31, 15)], [(19, 20, "14.5"), (30, 31, 15)], [(19, 25)]),
        ("31", [(19, 31, "14.5")], [(19, 20, "14.5"), (30, 31, "14.5")], [(19, 31)]),
        # Over its front end.
        ("20", [(19, 20, "14.5"), (20, 31, 15)], [(19, 20, "14.5"), (30, 31, 15)], [(19, 20)]),
        ("19.5", [(19, "19.5", "14.5"), ("19.5", 31, 15)],
         [(19, "19.5", "14.5"), ("19.5", 20, 15), (30, 31, 15)], [(19, "19.5")]),
        ("19", [(19, 31, 15)], [(19, 20, 15), (30, 31, 15)], []),
    ],
)  # fmt: skip
def test_a_box_parted_by_a_step_of_the_roof_by_hand(step, sides, ends, lids):
    """Round 20 to 30 mm, 3 mm to either side; the floor at 2.5 mm. No piece is told twice, none has no length."""
    zones = (Zone("cab", 0, Fraction(step), 2, HIGHER, 20), Zone("hood", Fraction(step), 60, 2, LOWER, 20))
    tower = replace(TOWER, top_mm=Fraction(29, 2))
    wanted = [
        *((start, end, *across, "2.5", top) for start, end, top in sides for across in ((-4, -3), (3, 4))),
        *((start, end, -3, 3, "2.5", top) for start, end, top in ends),
        *((start, end, -4, 4, "14.5", "15.5") for start, end in lids),
    ]
    found = filled(made(zones, speaker=None, limits=ROUND, obstacles=(tower,))[0])["box"]
    assert found == sorted(tuple(float(each) for each in block) for block in wanted)


@pytest.mark.parametrize(("faces", "name"), [("front", "bulkhead"), ("rear", "rear closure")])
def test_a_wall_is_whole_but_for_the_opening_in_it(faces, name):
    """The flange stands on a plate up to 3.5 mm; its opening, 8 mm high and 9 wide, from 1 mm over that."""
    speaker = Speaker(10, 12, 1, 5, faces=faces, basket_length_mm=8, basket_width_mm=9)
    (part,) = [each for each in made([HOOD], speaker=speaker)[0] if each.name == name]
    shape = unary_union(
        [box(*(float(at) for at in (b.left_mm, b.bottom_mm, b.right_mm, b.top_mm))) for b in part.blocks]
    )
    whole = box(-10, 2.5, 10, 15) - box(-4.5, 4.5, 4.5, 12.5)
    assert shape.symmetric_difference(whole).area == pytest.approx(0)
    assert sum(b.volume_mm3 for b in part.blocks) == whole.area  # 1 mm thick, and no two overlap
    assert {(b.start_mm, b.end_mm) for b in part.blocks} == {(0, 1) if faces == "front" else (59, 60)}


@pytest.mark.parametrize(("strand", "high"), [(Fraction(1, 2), "1.5"), (1, "3"), (Fraction(6, 5), "4")])
def test_a_strand_support_is_three_strands_high_at_a_mark(strand, high):
    """Its hole is in the middle of its height; two of them, 2 mm long, hang 16.67 mm apart in 50 mm under the nose."""
    high, third = Fraction(high), Fraction(50, 3)
    site = {"zones": LOW_NOSE, "limits": NOSE_LIMITS, "extras": Extras(strand_every_mm=20, strand_mm=strand)}
    (part,) = [each for each in made(**site)[0] if each.kind == "rest"]
    assert (part.name, part.count, part.use, part.made_by) == ("strand support, front", 2, "on end", "number")
    assert (part.cut.exact_mm, part.cut.cut_mm, part.cut.rounding) == (3 * strand, high, "up")
    assert part.made_to == (
        f"a number: three strands; drill it {float(strand):.2f} mm or a little over in the middle of its height, and "
        "glue it under the roof, one every 16.67 mm"
    )
    assert (part.position_mm, part.face, part.cut_set) == (9 + third, "front face", "strand support height")
    assert [(b.start_mm, b.end_mm, b.left_mm, b.right_mm, b.bottom_mm, b.top_mm) for b in part.blocks] == [
        (9 + share, 11 + share, -10, -8, 15 - high, 15) for share in (third, 2 * third)
    ]


@pytest.mark.parametrize(("nose", "side"), [(16, 8), (20, 10), (24, 10)])
def test_posts_stand_no_further_out_than_their_wall_and_the_shell_behind_it(nose, side):
    """The wall stands under the first millimetre, 16 or 24 mm wide, its posts of 2 mm behind it under 20 mm."""
    parts, _, _ = made([Zone("nose", 0, 1, 2, 15, nose), replace(HOOD, start_mm=1)], speaker=None)
    posts = [each for each in filled(parts)["post"] if each[0] == 1]
    assert [each[:4] for each in posts] == [(1, 3, -side, 2 - side), (1, 3, side - 2, side)]
