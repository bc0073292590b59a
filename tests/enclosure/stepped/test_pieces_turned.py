"""The pieces of a stepped chamber by hand where little room is left for them, and those of one that is turned round."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.stepped.test_pieces import FINE, MARKS, ZONES, corners_of, stepped_ones

from modelmath.enclosure import Cavity, Limits, Profile, Speaker, Zone
from modelmath.enclosure.stepped import fit_stepped, pieces_of

OPEN = Cavity(ZONES, False, False)
LIMITS = Limits(1, wall_mm=1, post_mm=2)
FACES = {"front face": "rear face", "rear face": "front face"}


def made(cavity, limits, speaker=None, marks=MARKS):
    return pieces_of(fit_stepped(cavity, limits, speaker)[-1], cavity, limits, speaker, marks)


def fills(found):
    return {part.name: [corners_of(each) for each in part.blocks] for part in found.parts}


def turned(thing):
    """What has ends, with front and rear exchanged."""
    return replace(thing, start_mm=-thing.end_mm, end_mm=-thing.start_mm)


def turned_cavity(cavity):
    return Cavity(
        tuple(turned(each) for each in reversed(cavity.zones)), cavity.rear_closed, cavity.front_closed,
        tuple(turned(each) for each in cavity.obstacles),
    )  # fmt: skip


def turned_chamber(chamber):
    ends = {"inner_start_mm": -chamber.inner_end_mm, "inner_end_mm": -chamber.inner_start_mm}
    some = {
        what: tuple(turned(each) for each in reversed(getattr(chamber, what)))
        for what in ("floors", "risers", "plates")
    }
    seat = chamber.seat_mm and (-chamber.seat_mm[1], -chamber.seat_mm[0])
    on = None if chamber.seat_on is None else len(chamber.floors) - 1 - chamber.seat_on
    return replace(turned(chamber), **ends, **some, seat_mm=seat, seat_on=on)


def told(part, back=False):
    """Kind, sizes, place and words of a part, of one that was turned round as it was before."""
    blocks = [corners_of(turned(each) if back else each) for each in part.blocks]
    face = FACES.get(part.face, part.face) if back else part.face
    # What is told from its front end is as long as it is: seen from behind, it begins at its other end.
    place = part.position_mm
    if back:
        long = part.cut.exact_mm if part.kind in ("plate", "filler") else 0
        place = -place - long
    if part.kind == "support":
        place = None if part.blocks else 0
    words = part.made_to
    if back:
        words = (
            words.replace("in front of", "behind") if "in front of" in words else words.replace("behind", "in front of")
        )
    sizes = (part.width_mm, part.thickness_mm, part.section_mm)
    return (
        part.kind, part.count, part.use, part.made_by, part.cut.exact_mm, face, place, sizes, words, sorted(blocks),
    )  # fmt: skip


@pytest.fixture(scope="module")
def some():
    return list(stepped_ones(25))


def test_turned_round_every_piece_is_the_same(some):
    kinds = set()
    for case, found in some:
        cavity, space = turned_cavity(case.cavity), case.space and (-case.space[1], -case.space[0])
        place = case.speaker and {"front": "rear", "rear": "front"}.get(case.speaker.place, case.speaker.place)
        if not isinstance(place, str | None):
            place = -place - case.speaker.length_mm
        speaker = case.speaker and replace(case.speaker, place=place)
        limits = replace(case.limits, front_room_mm=case.limits.rear_room_mm, rear_room_mm=case.limits.front_room_mm)
        other = pieces_of(turned_chamber(found.chamber), cavity, limits, speaker, FINE, space)
        if other.chamber.seat_mm != turned_chamber(found.chamber).seat_mm:
            continue  # as near to where it is wanted in front of that as behind it
        assert other.chamber.volume_mm3 == found.chamber.volume_mm3
        one = sorted(map(repr, (told(each) for each in found.parts)))
        two = sorted(map(repr, (told(each, back=True) for each in other.parts)))
        assert one == two
        kinds |= {each.kind for each in found.parts}
    assert kinds == {"wall", "post", "plate", "support", "filler"}


def test_in_a_ribbed_section_supports_reach_up_to_the_rib():
    """9 mm wide, the speaker lies below a rib from 10.5 to 12 mm of height that leaves 6 mm of the width."""
    ribbed = Profile(((0, 5), (Fraction(21, 2), 5), (Fraction(21, 2), 3), (12, 3), (12, 5), (15, 5)))
    cavity = Cavity(tuple(replace(each, profile=ribbed) for each in ZONES))
    found = made(cavity, LIMITS, Speaker(12, 9, 1, 4, place="front"))
    assert (found.chamber.seat_on, found.chamber.floors[0].floor_mm) == (0, 6)
    part = next(each for each in found.parts if each.kind == "support")
    assert part.cut.exact_mm == Fraction(21, 2) - 6 - 1
    assert {(block.bottom_mm, block.top_mm) for block in part.blocks} == {(7, 10.5)}


def test_walls_at_both_ends_are_named_from_the_front():
    """From 0 to 1 mm over the cab's floor at 6 mm, from 59 to 60 over the motor's at 10."""
    found = made(OPEN, LIMITS)
    sized = {part.name: (part.count, float(part.cut.cut_mm), part.position_mm, part.face) for part in found.parts}
    assert sized == {
        "bulkhead": (1, 9, 0, "front face"), "corner post": (2, 8, 1, "front face"),
        "rear closure": (1, 5, 60, "rear face"), "closure post": (2, 4, 59, "rear face"),
        "riser": (1, 5, 20, "rear face"), "riser post": (2, 4, 20, "rear face"),
        "floor plate, low front": (1, 18, 1, "front edge"), "floor plate, high rear": (1, 39, 20, "front edge"),
    }  # fmt: skip
    assert fills(found)["rear closure"] == [(59, 60, -5, 5, 10, 15)]
    assert fills(found)["closure post"] == [(57, 59, -5, -3, 11, 15), (57, 59, 3, 5, 11, 15)]
    sets = {part.name: (part.kind, part.cut_set, part.wall) for part in found.parts}
    assert sets["bulkhead"] == ("wall", "bulkhead height", "")
    assert sets["rear closure"] == ("wall", "rear closure height", "")
    assert sets["riser"] == ("wall", "riser height", "")
    assert sets["riser post"] == ("post", "riser post height", "riser")
    assert sets["floor plate, low front"] == ("plate", "floor plate, low front", "")
    assert sets["corner post"][2] == "bulkhead"
    assert sets["closure post"][2] == "rear closure"


def test_only_behind_it_is_a_wall_the_first():
    cavity = replace(OPEN, front_closed=True)
    found = made(cavity, LIMITS)
    assert [part.name for part in found.parts][:2] == ["bulkhead", "corner post"]
    assert found.parts[0].face == "rear face"
    assert fills(found)["bulkhead"] == [(59, 60, -5, 5, 10, 15)]


@pytest.mark.parametrize(
    ("place", "plates"),
    [
        (
            "front",
            {"floor plate, low front, behind the speaker": (15, 19)},
        ),  # its seat from 3 to 15 mm, behind the posts
        (
            4,
            {
                "floor plate, low front, before the speaker": (1, 4),
                "floor plate, low front, behind the speaker": (16, 19),
            },
        ),
        (7, {"floor plate, low front, before the speaker": (1, 7)}),
    ],
)
def test_before_and_behind_the_speaker_there_are_plates_from_a_least_length_on(place, plates):
    """8 mm deep, it finds room over the cab alone, from its wall's posts to the riser at 19 mm."""
    found = made(OPEN, LIMITS, Speaker(12, 9, 1, 8, place=place))
    assert found.chamber.seat_on == 0
    said = {
        name: corners[0][:2] for name, corners in fills(found).items() if name.startswith("floor plate, low")
    }  # fmt: skip
    least = {name: ends for name, ends in said.items() if name in plates}
    assert least == plates
    for name, ends in said.items():
        if name not in plates:
            assert ends[1] - ends[0] < 3


def test_what_carries_the_speaker_stands_at_its_corners():
    """12 mm long and 9 wide from 3 mm on: posts of 2 mm from its flange at 7 mm up to the roof at 15."""
    found = made(OPEN, LIMITS, Speaker(12, 9, 1, 8, place="front"))
    part = next(each for each in found.parts if each.kind == "support")
    assert sorted(corners_of(each) for each in part.blocks) == [
        (3, 5, -4.5, -2.5, 7, 15), (3, 5, 2.5, 4.5, 7, 15), (13, 15, -4.5, -2.5, 7, 15), (13, 15, 2.5, 4.5, 7, 15),
    ]  # fmt: skip
    assert (part.count, part.position_mm, part.face) == (4, 3, "front pair's front face")
    filler = next(each for each in found.parts if each.kind == "filler")
    assert (filler.count, filler.position_mm, filler.face, filler.section_mm) == (2, 3, "front end", Fraction(1, 2))


@pytest.mark.parametrize(
    ("top", "riser", "posts"),
    [
        (9, (6, 11), (11, 15)),
        (12, (6, 14), (14, 15)),  # its posts are 1 mm high
        (Fraction(25, 2), (6, Fraction(29, 2)), (Fraction(29, 2), 15)),  # and 0.5 mm, the lowest mark
        (13, (6, 15), None),
        (Fraction(27, 2), (6, 15), None),  # 0.5 mm is left over the higher floor: its plate reaches up to the roof
    ],
)
def test_posts_of_a_riser_take_what_is_left_over_it(top, riser, posts):
    cavity = Cavity((ZONES[0], replace(ZONES[1], top_mm=top)))
    found = made(cavity, LIMITS)
    assert fills(found)["riser"] == [(19, 20, -5, 5, *riser)]
    part = next(each for each in found.parts if each.name == "riser")
    assert part.cut.exact_mm == riser[1] - riser[0]
    wanted = None if posts is None else [(19, 20, -5, -3, *posts), (19, 20, 3, 5, *posts)]
    assert fills(found).get("riser post") == wanted
    plate = fills(found)["floor plate, high rear"][0]
    assert plate == (20, 60, -5, 5, top + 1, min(top + 2, 15))


def test_pieces_are_as_wide_as_the_widest_that_they_meet_between_their_heights():
    """A section 6 mm to either side up to 7 mm of height, 5 up to 11 and 4 from there on; the riser stands at 6."""
    stepped = Profile(((0, 6), (7, 6), (7, 5), (11, 5), (11, 4), (15, 4)))
    zones = tuple(replace(each, width_mm=12, profile=stepped) for each in ZONES)
    found = made(Cavity(zones, False, False), LIMITS)
    wide = {part.name: part.width_mm for part in found.parts if part.kind in ("wall", "plate")}
    assert wide == {
        "bulkhead": 12, "rear closure": 10, "riser": 12, "floor plate, low front": 12, "floor plate, high rear": 10,
    }  # fmt: skip


def test_a_chamber_with_a_flat_floor_has_one_plate_without_a_number():
    cavity = Cavity((Zone("cab", 0, 60, 5, 15, 10),), False, False)
    ground_floor = fit_stepped(cavity, LIMITS)[0]
    found = pieces_of(ground_floor, cavity, LIMITS, None, MARKS)
    assert [part.name for part in found.parts] == [
        "bulkhead", "corner post", "rear closure", "closure post", "floor plate",
    ]  # fmt: skip
    assert found.chamber.steps == 0


def lowered(cavity, by):
    return replace(
        cavity, zones=tuple(replace(each, top_mm=each.top_mm - by, roof_mm=each.roof_mm - by) for each in cavity.zones)
    )


@pytest.mark.parametrize("by", [5, 6, 7, 30])
@pytest.mark.parametrize("post", [0, 2])
@pytest.mark.parametrize("speaker", [None, Speaker(12, 9, 1, 4, place="front")])
def test_from_whatever_height_it_is_measured_every_piece_is_the_same(speaker, post, by):
    """Floors at 6 and 10 mm above the seat, or at as much less: at 0 or below it, too."""
    limits = replace(LIMITS, post_mm=post)
    found, lower = made(OPEN, limits, speaker), made(lowered(OPEN, by), limits, speaker)
    assert [each.floor_mm for each in lower.chamber.floors] == [each.floor_mm - by for each in found.chamber.floors]
    for one, other in zip(found.parts, lower.parts, strict=True):
        assert replace(one, blocks=()) == replace(other, blocks=())
        assert [corners_of(each) for each in other.blocks] == [
            (*corners[:4], corners[4] - by, corners[5] - by) for corners in map(corners_of, one.blocks)
        ]


@pytest.mark.parametrize(
    ("ledge", "gap"), [(Fraction(13, 2), Fraction(3, 2)), (8, Fraction(1, 2)), (6, Fraction(3, 2))]
)
def test_beside_the_speaker_the_gap_is_as_wide_as_the_shell_over_the_height_of_the_plate(ledge, gap):
    """9 mm wide, its floor at 6 mm and a plate of 1 mm: the shell is 10 mm wide below a ledge and 12 over it."""
    ledged = Profile(((0, 5), (ledge, 5), (ledge, 6), (15, 6)))
    cavity = Cavity(tuple(replace(each, width_mm=12, profile=ledged) for each in ZONES))
    found = made(cavity, LIMITS, Speaker(12, 9, 1, 4, place="front"))
    assert found.chamber.seat_on == 0
    assert next(each for each in found.parts if each.kind == "filler").section_mm == gap
