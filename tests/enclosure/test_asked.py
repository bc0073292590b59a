"""The questions asked of one moving part alone: what is left out, edges of what may be, answers word for word."""

from __future__ import annotations

import re
from math import asin, radians

import pytest

from modelmath.enclosure.mechanism import Truck, hinged_bulkhead, keep_words, truck_of_size, truck_words
from modelmath.enclosure.mechanism.asked import check_curve
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import OutOfRange, WrongKind


def test_a_truck_of_which_only_the_size_is_known_stands_still_about_its_middle():
    assert truck_of_size(30, 18, 7, 13) == Truck("truck", 0, 15, 15, 18, -6, 7)
    assert truck_of_size(30, 18, 7, 13, pivot_offset_mm=-2) == Truck("truck", 0, 13, 17, 18, -6, 7)
    # The end farther from the pivot is lifted: 17 mm from it, by 1.7 mm.
    for offset in (2, -2):
        found = truck_of_size(30, 18, 7, 13, 0.1, offset, 0.5, 1.7, 0.4, "rear truck")
        rock = asin(1.7 / 17)
        assert found == Truck("rear truck", 0, 15 + offset, 15 - offset, 18, -6, 7, 0.1, 0.5, 0, rock, 0.0, 0.4)


@pytest.mark.parametrize(
    ("sizes", "error", "text"),
    [
        ((0, 18, 7, 13), OutOfRange, "length of the truck is 0 mm; it must be above 0"),
        ((30, 18, 7, 0), OutOfRange, "depth of the truck is 0 mm; it must be above 0"),
        ((30, 18, 7, "13"), WrongKind, "depth of the truck is '13'; expected a plain number of mm"),
        ((30, 18, 7, 13, 0, float("nan")), OutOfRange, "place of the pivot is nan mm; it must be a finite number"),
        ((30, 18, 7, 13, 0, 0, 0, 15), OutOfRange, "rise of the end is 15 mm; it must be less than its distance"),
        ((30, 18, 7, 13, 0, 0, 0, -1), OutOfRange, "rise of the end is -1 mm; it must be 0 or more"),
    ],
)
def test_a_truck_whose_size_makes_no_sense_is_refused(sizes, error, text):
    with pytest.raises(error, match=f"^{text}"):
        truck_of_size(*sizes)


def test_all_that_a_truck_asks_of_the_shell():
    truck = truck_of_size(30, 18, -1, 13, radians(3), side_play_mm=1, running_mm=0.5)
    turns, beside, keeps = truck_words(truck, 24)
    assert turns == "It turns by 3.00 degrees to either side."
    # 9 cos 3 + 15 sin 3 = 9.77 mm, 1 mm of play and 0.5 of clearance; along 15 cos 3 + 9 sin 3 = 15.45, and 0.5.
    assert beside == "Clear of the side walls by 0.73 mm on either side, beside its running clearance."
    assert keeps == (
        "From 15.95 mm ahead of its pivot to 15.95 mm behind it, keep every lower edge no more than 0.50 mm below the "
        "seat."
    )
    assert truck_words(truck) == (turns, keeps)
    with pytest.raises(OutOfRange, match=r"^inside width of the shell is 0 mm; it must be above 0\."):
        truck_words(truck, 0)


@pytest.mark.parametrize(
    ("start", "end", "top", "text"),
    [
        (-4, 4, 15, "From 4.00 mm ahead of the pin to 4.00 mm behind it, keep every lower edge at least 15.00 mm"),
        (0, 4, 0, "From 0.00 mm ahead of the pin to 4.00 mm behind it, keep every lower edge at least 0.00 mm above"),
        (-4, 0, -1, "From 4.00 mm ahead of the pin to 0.00 mm behind it, keep every lower edge no more than 1.00 mm"),
        (2, 4, 3, "From 2.00 mm behind the pin to 4.00 mm behind it, keep every lower edge at least 3.00 mm above"),
        (-4, -2, 3, "From 4.00 mm ahead of the pin to 2.00 mm ahead of it, keep every lower edge at least 3.00 mm ab"),
    ],
)
def test_what_has_to_be_kept_clear(start, end, top, text):
    for mark in (0, 7):
        room = Obstacle("pin", start + mark, end + mark, 1, -5, top)
        assert keep_words(room, mark, "the pin").startswith(text)


@pytest.mark.parametrize(
    ("sizes", "text"),
    [
        ((90, -1), "radius of the curve is -1 mm; it must be above 0."),
        ((-1, 450), "distance between the pivots is -1 mm; it must be 0 or more."),
        ((90, 450, -1), "wheelbase of the truck is -1 mm; it must be 0 or more."),
        ((90.1, 45), "distance between the pivots is 90.10 mm; it must be below 90.00 mm, for a radius of 45.00 mm."),
        ((30, 25, 40), "wheelbase of the truck is 40.00 mm; it must be below 40.00 mm for this radius"),
    ],
)
def test_what_can_not_stand_on_one_curve(sizes, text):
    """3, 4 and 5: pivots 30 mm apart and axles 40 are 50 mm across, as much as the circle."""
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}"):
        check_curve(*sizes)


def test_what_just_stands_on_one_curve():
    check_curve(0, 1)
    check_curve(89.9, 45)
    check_curve(30, 25, 39.9)


def refused(text, *sizes):
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}"):
        hinged_bulkhead(*sizes)


def test_a_bulkhead_that_stands_in_the_chassis_is_refused():
    """Its lower edge may lie on the chassis, and on the step where it stands beside it."""
    edge = "the bulkhead's lower edge is 10.00 mm above the seat; it must be at or above"
    refused(f"{edge} the step, 10.50 mm.", 28, 1, 10, 20, 29, 10.5, 4)
    refused(f"{edge} the step, 10.50 mm.", 28.5, 1, 10, 20, 29, 10.5, 4)
    refused(f"{edge} the chassis beyond it, 11.00 mm.", 30, 1, 10, 20, 29, 10, 11)
    for sizes in ((28, 1, 10, 20, 29, 10, 4), (29, 1, 10, 20, 29, 15, 10), (28, 1, 10, 20, 29, 10, 11)):
        _, (wall,), (step, beyond) = hinged_bulkhead(*sizes)
        assert (wall.start_mm, wall.end_mm, step.end_mm, beyond.start_mm) == (sizes[0], sizes[0] + 1, 29, 29)
        assert (step.start_mm, step.top_mm, beyond.top_mm) == (0, sizes[5], sizes[6])
    assert hinged_bulkhead(30, 1, 10, 20, 29, 11, 4) == hinged_bulkhead(30, 1, 10, 20, 29, 11, 4, 0)


@pytest.mark.parametrize(
    ("sizes", "text"),
    [
        ((0, 1, 10, 20, 29, 11, 4), "distance to the bulkhead is 0 mm; it must be above 0"),
        ((30, 0, 10, 20, 29, 11, 4), "thickness of the bulkhead is 0 mm; it must be above 0"),
        ((30, 1, 10, 20, 0, 11, 4), "distance to the step is 0 mm; it must be above 0"),
        ((30, 1, 20, 20, 29, 11, 4), "the bulkhead is 0.00 mm high; it must be more than 0."),
    ],
)
def test_a_bulkhead_of_no_size_is_refused(sizes, text):
    refused(text, *sizes)
