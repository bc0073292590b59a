"""Places rounded to steps: by hand, and the best of all steps round a hole by trying them."""

from __future__ import annotations

from itertools import product
from math import ceil, floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure.holes import Hole, KeepOut, PlacedHole, Plate, Wanted
from modelmath.enclosure.holes.rounding import rounded_places
from modelmath.enclosure.holes.webs import all_webs

PLATE = Plate(40, 20)


def at(*places, size=0.5):
    return [PlacedHole(Hole(f"hole {number}", size), x, y) for number, (x, y) in enumerate(places, 1)]


def where(holes):
    return [(each.x_mm, each.y_mm) for each in holes]


def test_of_the_steps_round_a_hole_the_one_that_leaves_wider_webs_is_taken():
    """0.504 mm either side of the line: 0.50 is nearer, but with holes of 0.5 mm a web of 0.505 mm needs 0.51."""
    placed, done = rounded_places(at((-0.504, 10), (0.504, 10)), PLATE, Wanted(0.505), (), 0.01, row=True)
    assert done
    assert where(placed) == [(-0.51, 10), (0.51, 10)]


def test_where_no_step_leaves_the_webs_wanted_the_places_stay_as_they_are():
    """Midway between posts 1.508 mm apart a hole of 0.5 mm has 0.504 mm on both sides; at 0 it has 0.50 mm on one."""
    posts = [KeepOut("post", -5, -0.750, 0, 20), KeepOut("post 2", 0.758, 5, 0, 20)]
    kept, done = rounded_places(at((0.00412345678, 10.123456789)), PLATE, Wanted(0.504 - 1e-7), posts, 0.01)
    assert (where(kept), done) == ([(0.0041235, 10.1234568)], False)


def test_without_a_step_nothing_is_rounded_but_the_noise():
    kept, done = rounded_places(at((1.23456789, 2.00000001)), PLATE, Wanted(0), (), 0)
    assert (where(kept), done) == ([(1.2345679, 2.0)], False)


def test_a_row_keeps_its_height():
    """The height is a number that was asked for, or the same for all."""
    placed, done = rounded_places(at((-3.004, 5.123), (3.006, 5.123)), PLATE, Wanted(1), (), 0.01, row=True)
    assert done
    assert {y for _, y in where(placed)} == {5.123}
    assert [x for x, _ in where(placed)] == [-3.0, 3.01]


@pytest.mark.parametrize("place", [0.3, -0.3, 0.7, 1.1, -2.9])
def test_what_lies_on_a_step_stays_there(place):
    """The webs to both posts are even there, so that each step beside it leaves less."""
    posts = [KeepOut("post", place - 3, place - 2, 0, 20), KeepOut("post 2", place + 2, place + 3, 0, 20)]
    placed, done = rounded_places(at((place, 10)), PLATE, Wanted(0), posts, 0.1)
    assert done
    assert where(placed) == [(pytest.approx(place), 10)]


def best_by_trying(holes, plate, wanted, keep_out, step):
    """The least web of the best of all layouts with each hole on one of the steps round it."""
    around = [
        list(product(*((floor(each / step) * step, ceil(each / step) * step) for each in (hole.x_mm, hole.y_mm))))
        for hole in holes
    ]
    tried = (
        [PlacedHole(hole.hole, *place) for hole, place in zip(holes, places, strict=True)]
        for places in product(*around)
    )
    return max(min(web.web_mm for web in all_webs(each, plate, wanted, keep_out)) for each in tried)


between_steps = st.integers(-40, 39).flatmap(lambda step: st.integers(1, 9).map(lambda part: step / 10 + part / 100))


@settings(max_examples=60, derandomize=True)
@given(between_steps, between_steps, st.integers(-4, 2))
def test_one_hole_gets_the_best_of_the_steps_round_it(x, y, left):
    hole, plate = at((x, y + 5)), Plate(10, 10)
    post = [KeepOut("post", left, left + 1, 1, 6)]
    placed, done = rounded_places(hole, plate, Wanted(0), post, 0.1)
    if done:
        least = min(web.web_mm for web in all_webs(placed, plate, Wanted(0), post))
        assert least == pytest.approx(best_by_trying(hole, plate, Wanted(0), post, 0.1), abs=1e-6)
    else:
        assert best_by_trying(hole, plate, Wanted(0), post, 0.1) < 1e-6


def test_holes_that_hinder_each_other_take_turns():
    """Three in a row of 3.02 mm between posts, 0.5 mm each: steps of 0.1 mm leave webs of at least 0.3 mm."""
    holes = at((-0.88, 10), (0.04, 10), (0.86, 10))
    posts = [KeepOut("post", -5, -1.51, 0, 20), KeepOut("post 2", 1.51, 5, 0, 20)]
    placed, done = rounded_places(holes, PLATE, Wanted(0.3), posts, 0.1)
    least = min(web.web_mm for web in all_webs(placed, PLATE, Wanted(0.3), posts))
    assert done
    assert least == pytest.approx(best_by_trying(holes, PLATE, Wanted(0.3), posts, 0.1))


def test_first_nothing_may_be_lacking_then_the_least_web_counts():
    """To an edge 2 mm are wanted, to a post 0.2: at -7.75, 2.00 and 0.30 mm; a step to the left, 1.90 and 0.40."""
    plate, post = Plate(20, 20), [KeepOut("post", -7.2, 0, 0, 20)]
    placed, done = rounded_places(at((-7.76, 10)), plate, Wanted(0.2, 2), post, 0.05)
    assert done
    assert where(placed) == [(-7.75, 10)]


def test_a_second_time_round_betters_what_the_first_left_by_hand():
    """First the middle one goes to -0.8 mm, between -1.5 and the 0 of the last, which then makes way to 0.1.

    With the middle one at -0.7 the webs are 0.22, 0.3, 0.3 and 0.35 mm; at -0.8 that to the first is 0.2.
    """
    holes = at((-1.44, 10), (-0.76, 10), (0.03, 10))
    posts = [KeepOut("post", -5, -1.97, 0, 20), KeepOut("post 2", 0.7, 5, 0, 20)]
    placed, done = rounded_places(holes, PLATE, Wanted(0.2), posts, 0.1, row=True)
    assert done
    assert [x for x, _ in where(placed)] == [-1.5, -0.7, 0.1]
