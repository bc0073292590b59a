"""Parts: sizes on marks, rounded by what they do; equal sets equal; copies are copies."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.clearance import Marks
from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.marked import reference_roof_mm
from modelmath.enclosure.parts import bulkhead, fillers, posts, supports
from modelmath.errors import DoesNotFit
from modelmath.lengths.rules import Rule

MM = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
HO = Marks(Rule(scale="HO", zero_offset="1"), "1/4")
FOOT = Fraction(7, 2)  # HO: 3.5 mm to the foot, exact
SPEAKER = Speaker(Fraction(16), Fraction(12), Fraction(6, 5), Fraction(5))
LIMITS = Limits(Fraction(1, 2), Fraction(1, 2), Fraction(1), Fraction(2), Fraction(1, 2))


def test_a_bulkhead_keeps_its_clearance():
    """3 3/4 ft of space with 1/4 ft kept leaves 3 1/2: common practice, no source."""
    part = bulkhead(HO, FOOT * 15 / 4 - FOOT / 4, Fraction(1))
    assert part.cut.cut_mm == part.cut.exact_mm == FOOT * 7 / 2
    assert HO.setting(part.cut.cut_mm).text == "2 1/2 scale ft"  # zero stands one foot in


def test_its_width_is_sanded_against_the_shell_itself():
    measured, held = bulkhead(MM, Fraction(12), Fraction(1), Fraction(18)), bulkhead(MM, Fraction(12), Fraction(1))
    assert (measured.use, measured.width_mm, held.width_mm) == ("across", 18, None)
    made_to = "its height a number, its width the shell itself: sand until it slides in"
    assert measured.made_to == held.made_to == made_to


def test_posts_copy_their_wall_at_the_same_stop():
    wall = bulkhead(MM, Fraction(12), Fraction(1))
    post = posts("corner post", wall)
    assert (post.count, post.use, post.cut, post.cut_set) == (2, "on end", wall.cut, wall.cut_set)
    assert post.made_to == "a copy of the bulkhead, cut at the same stop"


def test_posts_under_a_floor_plate_are_shorter_by_it():
    wall = bulkhead(MM, Fraction(12), Fraction(1))
    post = posts("corner post", wall, Fraction(4, 5), MM)
    assert (post.cut.exact_mm, post.cut.cut_mm) == (Fraction(56, 5), 11)
    assert (post.made_to, post.cut_set) == ("a number: chamber height less floor plate", "corner post height")


def test_supports_are_chamber_height_less_flange():
    part = supports(MM, Fraction(12), Fraction(6, 5))
    assert (part.count, part.use, part.cut.exact_mm, part.cut.cut_mm) == (4, "on end", Fraction(54, 5), Fraction(21, 2))
    assert part.cut.rounding == "down"


def test_fillers_are_as_thick_as_the_gap_and_no_shorter_than_the_speaker():
    part = fillers(MM, Fraction(15), Speaker(Fraction("15.8"), Fraction(12), Fraction(1), Fraction(4)))
    assert (part.name, part.count, part.use, part.section_mm) == ("side filler", 2, "flat", Fraction(3, 2))
    assert (part.cut.cut_mm, part.cut.rounding, part.cut.spare_mm) == (16, "up", Fraction(-1, 5))
    assert "sand it" in part.made_to


def test_a_narrow_gap_needs_no_filler_and_a_wide_one_a_plate():
    narrow = fillers(MM, Fraction("12.4"), SPEAKER)
    wide = fillers(MM, Fraction(19), SPEAKER, Fraction(1))
    assert narrow is None
    assert (wide.name, wide.use, wide.width_mm, wide.thickness_mm) == ("side plate", "across", Fraction(7, 2), 1)


def test_a_speaker_wider_than_the_shell_is_refused():
    message = (
        "The speaker does not fit: 1.00 mm too little, because the shell is 11.00 mm wide inside and it 12.00 mm. "
        "Use a narrower speaker."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fillers(MM, Fraction(11), SPEAKER)


def test_no_mark_low_enough_is_said():
    message = (
        "The speaker support does not fit: 0.20 mm too little, because 0.30 mm is left for it, less than the lowest "
        "mark. Keep less clearance, cut to a finer mark, or read the space again."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        supports(MM, Fraction("1.5"), Fraction("1.2"))


def zone(name: str, start: int, end: int, top: int, roof: int, width: int = 15) -> Zone:
    return Zone(name, *(Fraction(each) for each in (start, end, top, roof, width)))


def parts_of(*zones: Zone, closed: tuple[bool, bool] = (False, False), marks: Marks = MM) -> dict:
    enclosure = fit_enclosure(Cavity(zones, *closed), LIMITS, SPEAKER)
    return {part.name: part for part in enclosure.parts(marks)}


def test_open_ends_get_walls_and_closed_ends_none():
    motor = zone("motor", 0, 60, 2, 12)
    both, one, none = (parts_of(motor, closed=c) for c in ((False, False), (True, False), (True, True)))
    assert list(both) == [
        "bulkhead",
        "corner post",
        "rear closure",
        "closure post",
        "speaker support",
        "side filler",
        "floor plate, front",
        "floor plate, rear",
    ]
    assert (both["bulkhead"].face, both["rear closure"].face) == ("front face", "rear face")
    assert [name for name in one if name in ("bulkhead", "rear closure")] == ["bulkhead"]
    assert one["bulkhead"].face == "rear face"
    assert one["bulkhead"].position_mm == 60
    assert not {"bulkhead", "corner post", "rear closure"} & set(none)


def test_under_a_stepped_roof_front_and_rear_supports_differ():
    """The speaker can only sit across the step: zone widths allow 8 mm of its 16 on either side."""
    parts = parts_of(
        zone("narrow", 0, 20, 2, 12, 10), zone("low", 20, 30, 2, 12), zone("high", 30, 40, 2, 14),
        zone("rest", 40, 60, 2, 14, 10),
    )  # fmt: skip
    front, rear = parts["speaker support, front"], parts["speaker support, rear"]
    assert (front.count, rear.count) == (2, 2)
    assert rear.cut.exact_mm - front.cut.exact_mm == 2
    assert front.cut_set != rear.cut_set
    assert "speaker support" not in parts


def test_pieces_that_lie_in_two_widths_are_cut_for_the_wider():
    parts = parts_of(
        zone("front", 0, 20, 2, 12, 14), zone("wide", 20, 31, 2, 12, 17), zone("rear", 31, 40, 2, 12, 14),
    )  # fmt: skip
    assert parts["side filler"].section_mm == Fraction(5, 2)
    assert {parts["floor plate, front"].width_mm, parts["bulkhead"].width_mm} == {14}


def test_a_wall_thicker_than_its_end_bay_is_no_higher_or_wider_than_the_shell_over_it():
    """By hand: 2 mm of a high wide nose, then a lower narrower hood; a wall of 4 mm stands under both."""
    zones = (zone("nose", 0, 2, 2, 16, 19), zone("hood", 2, 60, 2, 12, 15))
    limits = replace(LIMITS, wall_mm=Fraction(4))
    for turned in (False, True):
        if turned:
            zones = tuple(replace(z, start_mm=-z.end_mm, end_mm=-z.start_mm) for z in reversed(zones))
        enclosure = fit_enclosure(Cavity(zones, turned, not turned), limits, SPEAKER)
        wall = next(part for part in enclosure.parts(MM) if part.kind == "wall")
        assert abs(wall.position_mm) == 0
        assert (wall.cut.exact_mm, wall.cut.cut_mm, wall.width_mm) == (Fraction(19, 2), Fraction(19, 2), 15)
        assert reference_roof_mm(enclosure.as_cut(MM)) == 12


def test_every_kind_of_part_says_what_it_follows():
    parts = parts_of(zone("motor", 0, 60, 2, 12))
    assert {name: (part.kind, part.made_by) for name, part in parts.items()} == {
        "bulkhead": ("wall", "number"),
        "corner post": ("post", "number"),
        "rear closure": ("wall", "number"),
        "closure post": ("post", "number"),
        "speaker support": ("support", "number"),
        "side filler": ("filler", "real thing"),
        "floor plate, front": ("plate", "real thing"),
        "floor plate, rear": ("plate", "real thing"),
    }
    assert (parts["corner post"].wall, parts["closure post"].wall) == ("bulkhead", "rear closure")
    assert posts("corner post", parts["bulkhead"]).made_by == "copy"


def test_everything_has_a_place_and_says_which_face():
    """By hand: walls of 1 mm at either end of 60 mm, posts behind them, a speaker of 16 mm in the middle."""
    decoder = Box("decoder", 10, 10, 5)
    zones = (zone("motor", 0, 60, 2, 12), zone("deck", 60, 75, 5, 12))
    enclosure = fit_enclosure(Cavity(zones, False, False), LIMITS, SPEAKER, decoder)
    places = [(place.what, place.face, float(place.position_mm)) for place in enclosure.places(MM)]
    assert places == [
        ("bulkhead", "front face", 0),
        ("corner post", "front face", 1),
        ("rear closure", "rear face", 59.5),
        ("closure post", "rear face", 58.5),
        ("speaker support", "front pair's front face", 21.75),
        ("speaker support", "rear pair's rear face", 37.75),
        ("side filler", "front end", 21.75),
        ("floor plate, front", "front edge", 1),
        ("floor plate, rear", "front edge", 37.75),
        ("speaker", "front edge of its flange", 21.75),
        ("decoder", "front edge of its room", 65),
    ]
    parts = enclosure.parts(MM)
    assert all(part.position_mm is not None and part.face for part in parts)
    assert [place for place in places if place[0] != "speaker support" and place[0] not in ("speaker", "decoder")] == [
        (part.name, part.face, float(part.position_mm)) for part in parts if part.kind != "support"
    ]


def test_two_pairs_of_supports_have_a_place_each():
    parts = parts_of(
        zone("narrow", 0, 20, 2, 12, 10), zone("low", 20, 30, 2, 12), zone("high", 30, 40, 2, 14),
        zone("rest", 40, 60, 2, 14, 10),
    )  # fmt: skip
    front, rear = parts["speaker support, front"], parts["speaker support, rear"]
    assert (front.face, rear.face) == ("front face", "rear face")
    assert rear.position_mm - front.position_mm == SPEAKER.length_mm


quarters = st.integers(0, 120).map(lambda count: Fraction(count, 4))


@given(
    st.lists(st.tuples(quarters, quarters, quarters), min_size=1, max_size=4),
    st.booleans(),
    st.booleans(),
    st.sampled_from([MM, HO, Marks(Rule(scale="S", zero_offset="1/2", graduation="1/8"), "1/8")]),
)
def test_every_part_is_on_a_mark_and_rounds_by_what_it_does(steps, front, rear, marks):
    place, zones = Fraction(3), []
    for number, (length, top, width) in enumerate(steps):
        zones.append(Zone(f"zone {number}", place, place + 12 + length, top / 4, Fraction(24), 14 + width / 6))
        place += 12 + length
    try:
        enclosure = fit_enclosure(Cavity(tuple(zones), front, rear), LIMITS, SPEAKER)
        parts = enclosure.parts(marks)
    except DoesNotFit:
        assume(False)
    sets: dict[str, set[Fraction]] = {}
    for part in parts:
        assert marks.setting(part.cut.cut_mm).on_mark, part.name
        clears = part.kind not in ("filler", "plate")
        assert part.cut.rounding == ("down" if clears else "up")
        assert (part.cut.spare_mm >= 0) == clears or part.cut.spare_mm == 0
        sets.setdefault(part.cut_set, set()).add(part.cut.cut_mm)
    assert all(len(lengths) == 1 for lengths in sets.values())
    chamber = enclosure.as_cut(marks)
    for part in parts:
        if part.kind == "wall":
            assert part.cut.cut_mm <= 24 - chamber.governing.floor_mm
            assert part.position_mm in (chamber.start_mm, chamber.end_mm)
            ends = sorted((part.position_mm, part.position_mm + (1 if part.face == "front face" else -1)))
            over = [z for z in zones if z.start_mm < ends[1] and z.end_mm > ends[0]]
            assert part.width_mm == min(z.width_mm for z in over)


def test_without_a_floor_plate_posts_are_copies_even_where_marks_are_known():
    wall = bulkhead(MM, Fraction(12), Fraction(1))
    assert posts("corner post", wall, marks=MM) == posts("corner post", wall)


@pytest.mark.parametrize(
    ("faces", "face", "place"),
    [
        ("down", "front edge of its flange", 26),
        ("up", "front edge of its flange", 26),
        ("front", "its face", 1),
        ("rear", "its face", 59),
    ],
)
def test_which_face_of_the_speaker_is_told_where(faces, face, place):
    """Walls of 1 mm at 0 and at 60 mm: facing an end it stands at one; else in the middle, 8 mm long."""
    cavity = Cavity((zone("motor", 0, 60, 2, 12),), False, False)
    enclosure = fit_enclosure(cavity, LIMITS, replace(SPEAKER, length_mm=8, width_mm=10, faces=faces))
    assert [(each.face, each.position_mm) for each in enclosure.places(MM) if each.what == "speaker"] == [(face, place)]
