"""Chambers worked out by hand, what each step buys, and every message."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.stepped import FloorPlate, Riser, fit_stepped, what_steps_buy
from modelmath.errors import DoesNotFit, OutOfRange, WrongKind

OPEN = Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)


def test_a_riser_stands_on_the_lower_side_and_takes_its_thickness():
    flat, stepped = fit_stepped(Cavity(OPEN), Limits(1))
    assert flat.volume_mm3 == 60 * 10 * 5
    # 40 mm at 5 mm of depth; 20 mm at 9 mm, less 1 mm of riser 4 mm high
    assert stepped.volume_mm3 == 40 * 10 * 5 + 20 * 10 * 9 - 1 * 10 * 4
    assert stepped.risers == (Riser(19, 20, 6, 10, 10),)
    assert stepped.plates == (FloorPlate(0, 19, 6, 10), FloorPlate(20, 60, 10, 10))
    assert (stepped.steps, stepped.extra_pieces) == (1, 2)


def test_a_section_is_worked_out_by_its_area():
    # A roof that falls from half-width 5 at 10 mm to 0 at 15 mm: above 6 mm 4 x 10 + 25, above 10 mm 25 mm2.
    gable = Profile(((0, 5), (10, 5), (15, 0)))
    zones = (Zone("cab", 0, 20, 5, 15, 10, gable), Zone("motor", 20, 60, 9, 15, 10, gable))
    stepped = fit_stepped(Cavity(zones), Limits(1))[-1]
    assert stepped.volume_mm3 == 40 * 25 + 20 * 65 - 1 * 40


def test_open_ends_take_walls():
    stepped = fit_stepped(Cavity(OPEN, False, False), Limits(1, wall_mm=2))[-1]
    assert (stepped.inner_start_mm, stepped.inner_end_mm) == (2, 58)
    assert stepped.volume_mm3 == 38 * 10 * 5 + 18 * 10 * 9 - 2 * 10 * 4


def test_what_is_shorter_than_the_shortest_level_gets_one_as_short_as_may_be():
    zones = (Zone("front", 0, 30, 4, 15, 10), Zone("gear", 30, 32, 9, 15, 10), Zone("rear", 32, 60, 4, 15, 10))
    stepped = fit_stepped(Cavity(zones), Limits(0), shortest_mm=6)[-1]
    assert stepped.floors[1].length_mm == 6
    assert stepped.floors[1].start_mm <= 30
    assert stepped.floors[1].end_mm >= 32
    # 6 mm at 6 mm, 54 mm at 11 mm, less two risers 5 mm high
    assert stepped.volume_mm3 == 10 * (6 * 6 + 54 * 11 - 2 * 5)


def test_the_speaker_sits_low_off_wall_post_and_riser():
    zones = (Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10))
    limits = Limits(1, wall_mm=1, post_mm=2)
    speaker = Speaker(16, 9, 1, 8)  # too deep for the high floor; 16 mm lie between 3 and 19 mm
    stepped = fit_stepped(Cavity(zones, front_closed=False), limits, speaker)[-1]
    assert (stepped.seat_mm, stepped.seat_on) == ((3, 19), 0)
    text = (
        r"^The speaker does not fit: nothing is left, because what is long, wide and deep enough has no level for it "
        r"between walls, posts and steps\. Try a shorter speaker, thinner walls, or less clearance\.$"
    )
    with pytest.raises(DoesNotFit, match=text):
        fit_stepped(Cavity(zones, front_closed=False), limits, Speaker(Fraction(161, 10), 9, 1, 8))


def test_a_speaker_that_only_fits_over_a_step():
    # 8 mm deep on a floor at 6 mm, 5 mm deep on one at 10 mm.
    speaker = Speaker(12, 9, 1, 7, place="rear")
    flat, stepped = fit_stepped(Cavity(OPEN), Limits(1), speaker)
    assert (flat.start_mm, flat.end_mm) == (0, 20)  # 19 x 10 x 9, behind a wall
    assert flat.volume_mm3 == 1710
    assert stepped.seat_mm == (7, 19)


def test_what_steps_buy():
    rows = what_steps_buy(fit_stepped(Cavity(OPEN), Limits(1)))
    assert [(row.steps, row.volume_mm3, row.gained_mm3, row.extra_pieces) for row in rows] == [
        (0, 3000, 0, 0),
        (1, 3760, 760, 2),
    ]
    assert rows[1].words == (
        "1 step: 3.76 cm3, 0.76 cm3 (25 %) more, for 2 more pieces of floor: riser 4.00 x 10.00 mm; "
        "plates 19.00 x 10.00 mm, 40.00 x 10.00 mm."
    )


def test_the_list_of_chambers_must_rise():
    chambers = fit_stepped(Cavity(OPEN), Limits(1))
    text = r"^the list of chambers is empty; it must be one chamber or more\. Give it what fit_stepped returns\.$"
    with pytest.raises(OutOfRange, match=text):
        what_steps_buy(())
    text = r"^the list of chambers: steps is 0 after 1; it must be rising\. Give it what fit_stepped returns\.$"
    with pytest.raises(OutOfRange, match=text):
        what_steps_buy(tuple(reversed(chambers)))


@pytest.mark.parametrize(
    ("given", "text"),
    [
        (
            {"most_steps": -1},
            r"^most steps is -1; it must be 0 or more\. Write 0 for a flat floor\.$",
        ),
        (
            {"speaker": Speaker(5, 5, 1, 3, faces="up")},
            (
                r"^speaker: faces is 'up'; it must be 'down' over a floor with steps\. Let it face down, or fit "
                r"it over a flat floor\.$"
            ),
        ),
        (
            {"shortest_mm": Fraction(3, 2)},
            r"^the shortest level is 1\.5 mm; it must be 2 mm or more, two walls\. Write a longer one\.$",
        ),
        (
            {"space": (9, 9)},
            r"^the space is from 9 to 9 mm; it must be longer than 0\. Write its front end first\.$",
        ),
        (
            {"limits": Limits(1, wall_mm=0)},
            r"^wall is 0 mm; it must be above 0 where the floor has steps\. Write how thick a riser is\.$",
        ),
        (
            {"cavity": Cavity(OPEN, obstacles=(Obstacle("post", 3, 4, 1, 0, 9),)), "limits": Limits(1, cut_round=True)},
            (
                r"^cutting the floor round obstacles is asked for; it must be left out over a floor with steps\. "
                r"Let obstacles count across the full width, or fit a flat floor\.$"
            ),
        ),
    ],
)
def test_what_is_out_of_range(given, text):
    with pytest.raises(OutOfRange, match=text):
        fit_stepped(**({"cavity": Cavity(OPEN), "limits": Limits(1)} | given))


@pytest.mark.parametrize(
    ("given", "text"),
    [
        ({"most_steps": 1.5}, r"^most steps is '1\.5'; expected a whole number\. Write how many steps, such as 2\.$"),
        (
            {"shortest_mm": "5 mm"},
            r"^the shortest level is '5 mm'; expected a plain number of mm\. Read text with parse_length first\.$",
        ),
        (
            {"space": (0, "60")},
            r"^the space: rear end is '60'; expected a plain number of mm\. Read text with parse_length first\.$",
        ),
    ],
)
def test_what_is_of_the_wrong_kind(given, text):
    with pytest.raises(WrongKind, match=text):
        fit_stepped(Cavity(OPEN), Limits(1), **given)


@pytest.mark.parametrize(
    ("given", "text"),
    [
        (
            {"speaker": Speaker(20, 9, 1, 8)},
            (
                r"^The speaker does not fit: nothing is left, because what is long, wide and deep enough has no "
                r"level for it between walls, posts and steps\. Try a shorter speaker, thinner walls, or less "
                r"clearance\.$"
            ),
        ),
        (
            {"speaker": Speaker(22, 9, 1, 8)},
            (
                r"^The speaker does not fit: 2\.00 mm too little, because over cab there are 20\.00 mm of length "
                r"for its 22\.00 mm\. Try a shorter speaker, or less clearance along the length\.$"
            ),
        ),
        (
            {"speaker": Speaker(18, 9, 1, Fraction(21, 2))},
            (
                r"^The speaker does not fit: 1\.50 mm too little, because over cab, with the floor set by cab, "
                r"the chamber is 9\.00 mm deep, and the speaker takes 10\.50 mm\. Try a shallower speaker, less "
                r"clearance, or trimming what stands there\.$"
            ),
        ),
        (
            {"speaker": Speaker(18, 12, 1, 8)},
            (
                r"^The speaker does not fit: 2\.00 mm too little, because over cab the shell is 10\.00 mm wide "
                r"inside and the speaker 12\.00 mm\. Try a narrower speaker\.$"
            ),
        ),
        (
            {"space": (70, 80)},
            (
                r"^The chamber does not fit: nothing is left, because the space given and the room kept for lamps "
                r"leave no length\. Keep less room at the ends, or give more space\.$"
            ),
        ),
        (
            {"space": (30, 31)},
            (
                r"^The chamber does not fit: 1\.00 mm too little, because over motor there are 1\.00 mm of "
                r"length, and walls take 2\.00 mm\. Use thinner walls, or keep less clearance along the length\.$"
            ),
        ),
        (
            {"limits": Limits(11)},
            (
                r"^The chamber does not fit: 1\.00 mm too little, because over cab, the deepest place, chassis "
                r"and clearance take all the depth\. Keep less clearance, or trim what stands there\.$"
            ),
        ),
    ],
)
def test_what_does_not_fit(given, text):
    with pytest.raises(DoesNotFit, match=text):
        fit_stepped(**({"cavity": Cavity(OPEN), "limits": Limits(1)} | given))
