"""Loads on two trucks against textbook examples, a linear solver, and what must hold for any model."""

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from uncertainties import ufloat

from modelmath.enclosure.balance import AIMS, Balance, Mass, Support, loads, recommended_weight, trimmed, weighed
from modelmath.errors import OutOfRange, UnknownChoice, WrongKind

FRONT, REAR = Support("front truck", -45, 2, 2), Support("rear truck", 45, 2, 0)


def whole(text):
    return f"^{re.escape(text)}$"


MODEL = (Mass("model", 250, 0),)


def plain(before=MODEL, *changes, front=FRONT, rear=REAR):
    return Balance(front, rear, tuple(before), tuple(changes))


# Against textbooks.


def test_a_car_with_52_percent_on_its_front_wheels():
    """OpenStax, University Physics volume 1, example 12.1, from memory: wheelbase 2.5 m, 52 % in front: 1.3 m."""
    front, rear = Support("front axle", -2500), Support("rear axle", 0)
    found = loads([weighed("front", 52, -2500), weighed("rear", 48, 0)], front, rear)
    assert -found.centre_mm == pytest.approx(1300)
    again = loads([Mass("car", 100, -1300)], front, rear)
    assert again.front_share == pytest.approx(0.52)


def test_the_weight_that_balances_a_metre_stick():
    """OpenStax, University Physics volume 1, example 12.3, from memory.

    A stick of 150 g, 50 g and 75 g at 70 cm and 40 cm left of the fulcrum, its own middle 20 cm left of it: 317 g at
    30 cm right of it balance all.
    """
    stick = [Mass("stick", 150, 500), Mass("m1", 50, 0), Mass("m2", 75, 300)]
    balance = plain(stick, front=Support("left", 690), rear=Support("right", 710))
    assert round(balance.weight_for("level", 1000).mass_g) == 317
    assert balance.weight_for("level", 1000).mass_g == pytest.approx(9500 / 30)


masses = st.lists(st.tuples(st.floats(0.1, 500), st.floats(-150, 150)), min_size=1, max_size=6)
places = st.tuples(st.floats(-100, 0), st.floats(10, 100))


@given(masses, places)
def test_loads_are_what_a_linear_solver_finds(pieces, trucks):
    """Forces and moments about the mark add to 0; numpy.linalg."""
    front, rear = trucks
    found = loads([Mass("piece", *each) for each in pieces], Support("front", front), Support("rear", rear))
    total, moment = sum(mass for mass, _ in pieces), sum(mass * at for mass, at in pieces)
    expected = np.linalg.solve([[1, 1], [front, rear]], [total, moment])
    assert [found.front_g, found.rear_g] == pytest.approx(expected, rel=1e-9, abs=1e-6)
    assert found.centre_mm == pytest.approx(np.average([at for _, at in pieces], weights=[m for m, _ in pieces]))
    assert found.front_share + found.rear_share == pytest.approx(1)


@given(masses, places, st.floats(-80, 80))
def test_where_the_mark_is_does_not_matter(pieces, trucks, by):
    front, rear = trucks
    here = loads([Mass("piece", *each) for each in pieces], Support("front", front), Support("rear", rear))
    there = loads(
        [Mass("piece", mass, at + by) for mass, at in pieces], Support("front", front + by), Support("rear", rear + by)
    )
    assert there.front_g == pytest.approx(here.front_g, abs=1e-6)
    assert there.centre_mm == pytest.approx(here.centre_mm + by, abs=1e-6)


@given(masses, places)
def test_a_weighed_end_is_a_mass_at_its_truck(pieces, trucks):
    front, rear = (Support(name, at) for name, at in zip(("front", "rear"), trucks, strict=True))
    known = loads([Mass("piece", *each) for each in pieces], front, rear)
    weighed_ends = loads(
        [Mass("front", known.front_g, front.at_mm), Mass("rear", known.rear_g, rear.at_mm)], front, rear
    )
    assert weighed_ends.centre_mm == pytest.approx(known.centre_mm, abs=1e-6)


# What changes, and what puts it right.


@given(masses, st.floats(-60, 60), st.floats(-30, 30), st.sampled_from(AIMS), st.floats(-140, 140))
def test_the_weight_found_does_what_it_is_for(pieces, at, change, aim, place):
    before = tuple(Mass("piece", *each) for each in pieces)
    assume(sum(mass for mass, _ in pieces) + change > 1)
    balance = plain(before, Mass("change", change, at))
    wanted = 0 if aim == "level" else balance.loads_before.centre_mm
    out = balance.loads_after.centre_mm - wanted
    assume(abs(out) > 0.01)
    assume(abs(place - wanted) > 1)
    if out * (place - wanted) > 0:
        with pytest.raises(OutOfRange):
            balance.weight_for(aim, place)
        return
    extra = balance.weight_for(aim, place)
    assert extra.mass_g > 0
    put_right = loads((*before, *balance.changes, extra), FRONT, REAR)
    assert put_right.centre_mm == pytest.approx(wanted, abs=1e-6)
    # Given that weight, its place is where it was.
    assert balance.place_for(aim, extra.mass_g).at_mm == pytest.approx(place, abs=1e-4)


@given(masses, st.lists(st.tuples(st.floats(-20, -0.1), st.floats(-60, 60)), min_size=1, max_size=4))
def test_what_is_given_back_restores_weight_and_balance(pieces, cuts):
    before = tuple(Mass("piece", *each) for each in pieces)
    assume(sum(mass for mass, _ in pieces) + sum(mass for mass, _ in cuts) > 1)
    balance = plain(before, *(Mass("cut", *each) for each in cuts))
    back = balance.to_restore
    again = loads((*before, *balance.changes, back), FRONT, REAR)
    assert again.total_g == pytest.approx(balance.loads_before.total_g)
    assert again.centre_mm == pytest.approx(balance.loads_before.centre_mm, abs=1e-6)


def test_a_model_that_gets_heavier_has_nothing_to_be_given_back():
    assert plain((Mass("model", 250, 0),), Mass("speaker", 12, 5)).to_restore is None


def test_balance_that_is_right_needs_no_weight():
    assert plain().weight_for("as before", 20).mass_g == 0
    assert plain().weight_for("level", -20).mass_g == 0


@pytest.mark.parametrize(
    ("at", "place", "mass"),
    [
        (0.5, -1, 50),  # half a millimetre behind the middle: 100 g x 0.5 mm / 1 mm
        (-0.5, 1, 50),
        (0.5, -0.1, 500),
        (5, -20, 25),
        (-5, 20, 25),
    ],
)
def test_a_weight_near_the_middle_levels_it_by_hand(at, place, mass):
    balance = plain((Mass("model", 100, at),))
    assert balance.weight_for("level", place).mass_g == pytest.approx(mass)
    assert balance.place_for("level", mass).at_mm == pytest.approx(place)
    for wrong in (0, -place):
        side = "ahead of" if at > 0 else "behind"
        with pytest.raises(OutOfRange, match=f"it must be {side} the wanted centre of gravity, at the mark"):
            balance.weight_for("level", wrong)


@pytest.mark.parametrize(
    ("at", "says"),
    [
        (1, "The centre of gravity moves 0.50 mm to the rear."),
        (-1, "The centre of gravity moves 0.50 mm to the front."),
        (4, "The centre of gravity moves 2.00 mm to the rear."),
        (-4, "The centre of gravity moves 2.00 mm to the front."),
        (0, "The centre of gravity stays where it was."),
    ],
)
def test_how_far_the_centre_of_gravity_moves_by_hand(at, says):
    """As much again put in moves it half as far as it lies off."""
    assert says in plain((Mass("model", 100, 0),), Mass("speaker", 100, at)).in_words


def test_more_on_driven_wheels_pulls_more_by_hand():
    """45 mm ahead, over the driven truck, 50 g more than the 125 g there: 40 %."""
    lines = plain(MODEL, Mass("weight", 50, -45)).in_words
    assert (
        "On driven wheels lay 125.0 g (50.0 %) and will lie 175.0 g (58.3 %); only weight on driven wheels pulls, so "
        "that it pulls 40.0 % more before its wheels slip."
    ) in lines
    assert "50.0 g over the rear truck would give the shares of the trucks as they were." in lines


def test_what_comes_off_and_goes_in_by_hand():
    balance = plain(MODEL, Mass("cut", -30, 0), Mass("cut", -2, 0), Mass("speaker", 12, 0), Mass("nothing", 0, 0))
    assert (balance.lost_g, balance.added_g, balance.to_restore.mass_g) == (32, 12, 20)
    assert plain(MODEL, Mass("cut", -10, 5), Mass("speaker", 10, -5)).to_restore is None


def test_uncertain_masses_and_places_stay_correlated():
    """What was weighed cancels in the shift: it is known better than the centre of gravity itself."""
    before = (weighed("front", ufloat(130, 0.5), -45), weighed("rear", ufloat(120, 0.5), 45))
    balance = plain(before, trimmed("clip", 1500, "zinc alloy", 12))
    assert balance.loads_before.centre_mm.std_dev == pytest.approx(45 * 2 * 0.5 * (130**2 + 120**2) ** 0.5 / 250**2)
    assert balance.shift_mm.std_dev < balance.loads_before.centre_mm.std_dev / 10


def test_two_pieces_of_one_casting_are_heavy_together():
    """The same density: 10 and 20 of it are as uncertain as 30 of it, not less."""
    both = trimmed("a", 1000, "brass", 0).mass_g + trimmed("b", 2000, "brass", 0).mass_g
    assert both.std_dev == pytest.approx(trimmed("c", 3000, "brass", 0).mass_g.std_dev)


@pytest.mark.parametrize(
    ("model_g", "added_g", "says"),
    [
        (110, 10, "It will weigh 6.6 g more than that."),
        (90, 10, "It will weigh 13.4 g less than that."),
        (103.4, 10, "It will weigh that."),
        (103.45, 10, "It will weigh 0.1 g more than that."),  # 113.45 is 0.052 g more
        (103.34, 10, "It will weigh 0.1 g less than that."),  # 113.34 is 0.058 g less
        (103.36, 10, "It will weigh that."),  # 0.038 g less shows as 0.0 g
    ],
)
def test_how_far_a_car_will_be_from_its_recommended_weight(model_g, added_g, says):
    """NMRA RP-20.1: an HO car of 6 in should weigh 1 + 6 x 0.5 = 4 oz, which is 113.398 g. What goes in counts."""
    front, rear = Support("front truck", -45, 2, 0), Support("rear truck", 45, 2, 0)
    wanted = recommended_weight("HO", 152.4)
    assert wanted.weight_g == pytest.approx(113.398, abs=0.001)
    model, added = (Mass("model", model_g, 0),), (Mass("speaker", added_g, 0),)
    said = Balance(front, rear, model, added, recommended=wanted).in_words
    assert said[said.index(wanted.in_words) + 1] == says


# Driven trucks, and tipping.


@pytest.mark.parametrize(
    ("front_driven", "rear_driven", "share"), [(2, 0, 0.52), (0, 2, 0.48), (2, 2, 1.0), (1, 2, 0.26 + 0.48), (0, 0, 0)]
)
def test_only_driven_axles_count_for_pull(front_driven, rear_driven, share):
    front, rear = Support("front truck", -45, 2, front_driven), Support("rear truck", 45, 2, rear_driven)
    balance = plain((weighed("front", 130, -45), weighed("rear", 120, 45)), front=front, rear=rear)
    assert balance.loads_after.driven_share == pytest.approx(share)
    assert balance.powered == (share > 0)


@pytest.mark.parametrize(
    ("at", "over", "text"),
    [
        (
            50,
            REAR,
            (
                "It tips over: its centre of gravity lies 5.00 mm behind the rear truck, outside the wheelbase, so "
                "that the front truck lifts off."
            ),
        ),
        (
            -47.5,
            FRONT,
            (
                "It tips over: its centre of gravity lies 2.50 mm ahead of the front truck, outside the "
                "wheelbase, so that the rear truck lifts off."
            ),
        ),
        (44, None, ""),
        (45, None, "It may tip over: only 0.0 g lie on the front truck."),  # just over the rear one
        (-45, None, "It may tip over: only 0.0 g lie on the rear truck."),
        (ufloat(44, 1), None, "It may tip over: only 1.1 ± 1.1 g lie on the front truck."),
        (ufloat(-44, 1), None, "It may tip over: only 1.1 ± 1.1 g lie on the rear truck."),
    ],
)
def test_a_model_that_tips_is_told_so(at, over, text):
    found = loads([Mass("model", 100, at)], FRONT, REAR)
    assert (found.tips_over, found.standing) == (over, text)


def test_the_sentences_say_all_of_it():
    """Levers by hand: 240 g; rear load (-45 x 130 + 45 x 120 - 10 x 18) / 90 + 240 / 2 = 113 g."""
    before = (weighed("front", 130, -45), weighed("rear", 120, 45))
    assert plain(before, Mass("motor clip", -22, 0), Mass("speaker", 12, -15)).in_words == (
        "It weighed 250.0 g; 22.0 g come off and 12.0 g go in, so that it will weigh 240.0 g.",
        (
            "Before: 130.0 g (52.0 %) on the front truck, 120.0 g (48.0 %) on the rear truck; centre of gravity 1.80 "
            "mm ahead of the mark."
        ),
        (
            "After: 127.0 g (52.9 %) on the front truck, 113.0 g (47.1 %) on the rear truck; centre of gravity 2.63 mm "
            "ahead of the mark."
        ),
        "The centre of gravity moves 0.83 mm to the front.",
        (
            "On driven wheels lay 130.0 g (52.0 %) and will lie 127.0 g (52.9 %); only weight on driven wheels pulls, "
            "so that it pulls 2.3 % less before its wheels slip."
        ),
        "10.0 g 18.00 mm behind the mark would give back both weight and balance.",
        "4.2 g over the rear truck would give the shares of the trucks as they were.",
        "14.0 g over the rear truck would give half on each truck.",
    )


def test_a_model_left_as_it_was_needs_few_words():
    rear = Support("rear truck", 45)
    halves = "125.0 g (50.0 %) on the front truck, 125.0 g (50.0 %) on the rear truck; centre of gravity at the mark."
    assert plain(front=Support("front truck", -45), rear=rear).in_words == (
        "It weighed 250.0 g; 0.0 g come off and 0.0 g go in, so that it will weigh 250.0 g.",
        f"Before: {halves}",
        f"After: {halves}",
        "The centre of gravity stays where it was.",
    )
    assert plain(rear=rear).in_words[4] == (
        "On driven wheels lay 125.0 g (50.0 %) and will lie 125.0 g (50.0 %); only weight on driven wheels pulls."
    )


def test_a_model_that_tipped_before_is_only_levelled():
    """Its old centre of gravity lies beyond the rear truck: no weight over that truck brings it back there."""
    balance = plain((Mass("model", 100, 60),), Mass("weight", 50, -30))
    assert balance.loads_before.tips_over is REAR
    assert balance.in_words[-1] == "100.0 g over the front truck would give half on each truck."
    assert not [line for line in balance.in_words if "pulls" in line and "slip" in line]


# What is refused.


@pytest.mark.parametrize(
    ("make", "text"),
    [
        (
            lambda: plain(front=REAR, rear=FRONT),
            (
                "the front truck is -90.00 mm behind the rear truck; it must be more than 0 mm behind it. Places count "
                "from the fore-aft mark, positive to the rear."
            ),
        ),
        (
            lambda: plain((Mass("model", 100, 0),), Mass("cut", -100, 0)),
            (
                "the weight of the model is 0.0 g; it must be above 0. Weigh the model, its ends on their trucks, and "
                "check what is taken off."
            ),
        ),
        (
            lambda: plain(()),
            (
                "the weight of the model is 0.0 g; it must be above 0. Weigh the model, its ends on their trucks, and "
                "check what is taken off."
            ),
        ),
        (
            lambda: plain((Mass("model", 100, 5),)).weight_for("level", 20),
            (
                "the place of the weight is 20.00 mm behind the mark; it must be ahead of the wanted centre of "
                "gravity, at the mark. Elsewhere weight has to come off."
            ),
        ),
        (
            lambda: plain().place_for("level", 0),
            "the weight is 0 g; it must be above 0. Write what the weight at hand weighs.",
        ),
        (
            lambda: Support("front truck", 0, axles=0),
            "front truck: axles is 0; it must be 1 or more. Count the axles it stands on.",
        ),
        (
            lambda: Support("front truck", 0, 2, 3),
            "front truck: driven axles is 3; it must be 0 to 2, the axles it has. Count those that the motor turns.",
        ),
        (
            lambda: Mass("clip", float("nan"), 0),
            "clip: mass is nan g; it must be a finite number. Write it in g, such as 12.5.",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(make, text):
    with pytest.raises(OutOfRange, match=whole(text)):
        make()


def test_text_for_a_place_is_refused():
    text = "front truck: place is '12 mm'; expected a number of mm. Write it without its unit, such as -15."
    with pytest.raises(WrongKind, match=whole(text)):
        Support("front truck", "12 mm")


def test_an_unknown_aim_is_refused():
    text = "aim is 'levle'; write one of as before, level. Did you mean 'level'?"
    with pytest.raises(UnknownChoice, match=whole(text)):
        plain().weight_for("levle", 20)


def test_what_just_shows_is_told():
    """0.05 g shows as 0.1 g, and 0.005 mm as 0.01 mm; supports at 0 and 1 mm keep these numbers as they are."""
    front, rear = Support("front", 0, 2, 2), Support("rear", 1)
    moved = plain((Mass("model", 1, 0),), Mass("speaker", 1, 0.01), front=front, rear=rear)
    assert "The centre of gravity moves 0.01 mm to the rear." in moved.in_words
    assert moved.weight_for("as before", -1).mass_g == pytest.approx(0.01)
    lighter = plain((Mass("model", 0.1, 0),), Mass("cut", -0.05, 0), front=front, rear=rear)
    assert lighter.to_restore == Mass("weight to give back", 0.05, 0)
    assert any(line.endswith("so that it pulls 50.0 % less before its wheels slip.") for line in lighter.in_words)
    nothing = replace(recommended_weight("HO", 1), initial_g=0, per_mm_g=0)
    light = Balance(Support("front", 0), rear, (Mass("model", 0.05, 0),), recommended=nothing)
    assert "It will weigh 0.1 g more than that." in light.in_words
