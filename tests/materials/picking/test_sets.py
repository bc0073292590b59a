"""One stock for a whole set, or the fewest that serve it."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.picking.held import enough_of
from modelmath.materials.picking.sets import SetPart, pick_for_set
from modelmath.materials.sections.strips import Strip, parse_strip


def whole(text):
    return f"^{re.escape(text)}$"


def tenths(*sizes):
    return [StockStrip(Strip("metric", Fraction(each, 10), Fraction(100)), 280) for each in sizes]


def flat(*heights):
    return [SetPart(f"part {each}", Fraction(each, 10), "flat", 1 + each % 3) for each in heights]


def by_milp(parts, sizes, limit):
    """Fewest strips, then least sanding and shimming, as an integer program."""
    serves = np.array([[abs(size - part.height_mm * 10) <= limit for size in sizes] for part in parts], dtype=float)
    cost = np.array([[part.count * abs(size - part.height_mm * 10) for size in sizes] for part in parts], dtype=float)
    many, strips = cost.shape
    used = np.hstack([np.zeros(many * strips), np.ones(strips)])
    each_once = np.hstack([np.kron(np.eye(many), np.ones(strips)), np.zeros((many, strips))])
    only_used = np.hstack([np.eye(many * strips), -np.tile(np.eye(strips), (many, 1))])
    ways = [LinearConstraint(each_once, 1, 1), LinearConstraint(only_used, -np.inf, 0)]
    bounds = Bounds(0, np.hstack([serves.ravel(), np.ones(strips)]))
    fewest = round(milp(used, constraints=ways, bounds=bounds, integrality=np.ones_like(used)).fun)
    held = [*ways, LinearConstraint(used, -np.inf, fewest)]
    price = np.hstack([cost.ravel(), np.zeros(strips)])
    return fewest, milp(price, constraints=held, bounds=bounds, integrality=np.ones_like(used)).fun


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(10, 40), min_size=1, max_size=5, unique=True),
    st.lists(st.integers(8, 42), min_size=1, max_size=8, unique=True),
    st.integers(1, 9),
)
def test_no_fewer_strips_and_no_less_sanding_will_do(heights, sizes, limit):
    """Outside check: scipy.optimize.milp, a general solver, for the fewest strips and then the least sanding."""
    parts = [part for part in flat(*heights) if any(abs(size - part.height_mm * 10) <= limit for size in sizes)]
    lost = {part.name for part in flat(*heights)} - {part.name for part in parts}
    options = {"drawer": tenths(*sizes), "series": (), "tolerance_mm": Fraction(limit, 10)}
    if not parts:
        with pytest.raises(OutOfRange, match=r"^height_mm is "):
            pick_for_set(flat(*heights), **options)
        return
    found = pick_for_set(flat(*heights), **options)
    fewest, sanding = by_milp(parts, sizes, limit)
    assert len(found.stocks) == fewest
    assert float(found.made_good_mm) * 10 == pytest.approx(sanding, abs=1e-6)
    assert {part.name for part, _ in found.left_out} == lost
    assert sorted(line.part.name for stock in found.stocks for line in stock.lines) == sorted(
        part.name for part in parts
    )


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.integers(10, 30), min_size=1, max_size=4, unique=True),
    st.lists(st.integers(8, 32), min_size=1, max_size=4, unique=True),
    st.integers(1, 8),
)
def test_the_fewest_then_those_on_hand_then_the_least_sanding(heights, held, limit):
    """Outside check: every choice of up to four strips of all there are, every part on each, by itertools."""
    parts, sold = flat(*heights), [4, 5, 7.5, 10, 15, 20, 25, 30, 40]
    every = [(size, True) for size in held] + [(size, False) for size in sold if size not in held]
    best = None
    for many in range(1, len(parts) + 1):
        for chosen in combinations(every, many):
            for each in product(chosen, repeat=len(parts)):
                off = [abs(size - float(part.height_mm) * 10) for (size, _), part in zip(each, parts, strict=True)]
                if set(each) == set(chosen) and max(off) <= limit + 1e-9:
                    cost = sum(gap * part.count for gap, part in zip(off, parts, strict=True))
                    rank = (many, sum(not own for _, own in chosen), round(cost, 6))
                    best = rank if best is None else min(best, rank)
    if best is None:  # a part that nothing serves: see the test before
        return
    options = {"drawer": tenths(*held), "series": "metric", "tolerance_mm": Fraction(limit, 10)}
    found = pick_for_set(parts, **options)
    to_buy = sum(not stock.in_drawer for stock in found.stocks)
    assert not found.left_out
    assert (len(found.stocks), to_buy, pytest.approx(float(found.made_good_mm) * 10)) == best


def test_posts_and_seats_are_cut_from_one_strip():
    """By hand: 2 mm square is stout enough to stand on end, and lies flat 2 mm high."""
    parts = [
        SetPart("front post", 31.5, "on end", 2),
        SetPart("rear post", 24, "on end", 2),
        SetPart("seat", 2.1, "flat", 2, length_mm=20),
    ]
    found = pick_for_set(parts, series="metric")
    (stock,) = found.stocks
    assert (stock.name, stock.in_drawer, stock.made_good_mm) == ("2 x 2 mm", False, Fraction(2, 10))
    assert found.said == "One stock serves all: 2 x 2 mm (to buy)."
    assert [line.advice for line in stock.lines] == [
        "Square its end first, cut to length, 31.50 mm, and stand it on end.",
        "Square its end first, cut to length, 24.00 mm, and stand it on end.",
        "Lay it flat and shim it up 0.10 mm.",
    ]
    own = pick_for_set(parts, series="metric", drawer=[StockStrip(parse_strip("HO 8x8"), 160)])
    assert own.said == "One stock serves all: HO 8x8."  # 2.33 mm: on hand, though further off
    assert own.stocks[0].remark == ""


def test_a_drawer_with_too_little_gives_way_or_says_so():
    """By hand: two posts of 31.5 mm and two of 24 mm take 111 mm, without the cuts."""
    parts = [SetPart("front post", 31.5, "on end", 2), SetPart("rear post", 24, "on end", 2)]
    stock = [StockStrip(parse_strip("2 x 2 mm"), 111)]
    assert pick_for_set(parts, drawer=stock).stocks[0].in_drawer
    assert pick_for_set(parts, drawer=stock).stocks[0].remark == ""
    (short,) = pick_for_set(parts, drawer=[StockStrip(parse_strip("2 x 2 mm"), 110)], series=()).stocks
    assert short.remark == "The drawer has 110.00 mm of it, and the pieces take 111.00 mm: buy more of it."
    (unsure,) = pick_for_set(parts, drawer=stock, series=(), kerf_mm=0.5).stocks
    assert unsure.remark == "What the drawer has of it may be too little for all the pieces; a cut plan tells."


def test_what_no_one_strip_serves_takes_the_fewest():
    parts = [
        SetPart("post", 31.5, "on end", 4),
        SetPart("bulkhead", 31.5, "across", 2, width_mm=18.5),
        SetPart("rail", 1.6, "flat", 2, width_mm=2),
    ]
    found = pick_for_set(parts, series="metric")
    assert found.said == (
        "No one stock serves them all; these 2 do, and fewer can't: 1.5 x 2 mm (to buy), 1 mm sheet (to buy)."
    )
    assert [[line.part.name for line in stock.lines] for stock in found.stocks] == [["post", "rail"], ["bulkhead"]]
    tall = pick_for_set([*parts, SetPart("block", 9, "flat")], series="metric")
    ((block, reason),) = tall.left_out
    assert block.name == "block"
    assert reason.startswith("height_mm is 9.00 mm; it must be within 0.50 mm of a strip's thickness; 6 x 6 mm gives")
    assert pick_for_set([parts[0], SetPart("block", 9, "flat")], series="metric").said.startswith(
        "One stock serves 1 of them: "
    )


def test_pieces_longest_first_into_the_shortest_that_holds_them():
    """By hand: 6 + 4 and 5 + 5 fill two lengths of 10; with a cut of 1 between they don't."""
    assert enough_of([Fraction(10)] * 2, [Fraction(each) for each in (5, 4, 6, 5)])
    assert not enough_of([Fraction(10)] * 2, [Fraction(each) for each in (5, 4, 6, 5)], Fraction(1))
    assert not enough_of([], [])


def test_messages():
    text = "the set is empty; it must be one part or more. Write a part, such as post; 31.5 mm; on end; 4."
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_for_set([])
    text = "the set is 11 different demands; it must be 10 or fewer. Enter it in two sets."
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_for_set(flat(*range(10, 21)))
    assert len(pick_for_set([SetPart("post", 10 + each, "on end") for each in range(20)]).stocks) == 1
    with pytest.raises(
        DoesNotFit, match=r"^A part at least 7\.00 mm thick does not fit: 0\.65 mm too little, because "
    ):
        pick_for_set([SetPart("post", 30, "on end", stout_mm=7)])
    text = "count is 0; it must be a whole number, 1 or more. Write how many pieces are wanted."
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_for_set([SetPart("post", 30, "on end", 0)])
