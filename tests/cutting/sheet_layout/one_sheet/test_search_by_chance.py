"""The search by chance with the chances given: which panels are taken out, how many, and which layouts are kept.

What is expected is by hand from the shares the module states; the shares themselves are the project's own.
"""

from math import exp

import pytest

from modelmath.cutting.sheet_layout.one_sheet import search
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted


class Chances:
    """Gives the numbers it was given, one after the other, and no more."""

    def __init__(self, *numbers):
        self.numbers = list(numbers)

    def random(self):
        return self.numbers.pop(0)


def chosen_by(*numbers):
    return Filler([[(10, 10)]], 0, 1, chance=Chances(*numbers))


def part(length, width, number=0):
    return Panel(length, width, number, filled=length * width, count=1)


def sheet_with_waste(waste):
    return parted(100, 10 + waste, "length", part(100, 10), Panel(100, waste)) if waste else part(100, 10)


@pytest.mark.parametrize(
    ("wastes", "numbers", "expected"),
    [
        ((3,), (), 0),
        ((3, 1), (0.70,), 0),  # wastes of 300 and 100: below 3/4 it is the first
        ((3, 1), (0.76,), 1),
        ((3, 1, 4), (0.49,), 1),
        ((3, 1, 4), (0.51,), 2),
        ((3, 0), (0.09, 0.4), 0),  # where one is full, one in ten is by number
        ((3, 0), (0.09, 0.6), 1),
        ((3, 0), (0.1, 0.99), 0),  # else a full one has no share
        ((0, 0), (0.5, 0.5), 1),
    ],
)
def test_a_sheet_is_taken_the_more_often_the_more_waste_it_has(wastes, numbers, expected):
    filler = chosen_by(*numbers)
    assert search._some_root(filler, [sheet_with_waste(each) for each in wastes]) == expected
    assert not filler.chance.numbers


#   a part 60 x 50 | a part 40 x 20 with 40 x 30 free above it
RIGHT = parted(40, 50, "length", part(40, 20), Panel(40, 30))
SHEET = parted(100, 50, "width", part(60, 50), RIGHT)


@pytest.mark.parametrize(
    ("numbers", "way"),
    [
        ((0.5, 0.0, 0.5, 0.0, 0.0), (True,)),  # down to the waste, and up to the first panel with a part in it
        ((0.5, 0.99, 0.5, 0.99, 0.08), (True,)),  # 0.08 of 12 is below one more
        ((0.5, 0.5, 0.5, 0.5, 0.09), ()),  # from 1/12 on it has to hold two
        ((0.09, 0.59, 0.0), (False,)),  # one in ten by area: 3000 of 5000 are the first half's
        ((0.09, 0.6, 0.5, 0.5, 0.0), (True,)),
        ((0.1, 0.59, 0.5, 0.5, 0.0), (True,)),
    ],
)
def test_a_panel_is_taken_where_the_waste_is(numbers, way):
    filler = chosen_by(*numbers)
    found, panel = search._some_panel(filler, SHEET)
    assert found == way
    assert panel is {(): SHEET, (True,): RIGHT, (False,): SHEET.first}[way]
    assert not filler.chance.numbers


def test_a_full_panel_is_gone_down_by_area():
    """Two parts of 30 x 50 and 70 x 50: without waste 0.3 of the chances go to the first."""
    full = parted(100, 50, "width", part(30, 50), part(70, 50))
    assert search._some_panel(chosen_by(0.5, 0.29, 0.0), full)[0] == (False,)
    assert search._some_panel(chosen_by(0.5, 0.31, 0.0), full)[0] == (True,)


def row_of(count):
    row = part(10, 10)
    for _ in range(count - 1):
        row = parted(row.length + 10, 10, "width", row, part(10, 10))
    return row


@pytest.mark.parametrize(("count", "way"), [(15, ()), (16, (True,))])
def test_a_panel_with_far_too_many_parts_is_left_for_the_one_in_it(count, way):
    """A row of 15 or 16 parts and a free end: up to 12 and three are taken out."""
    row = row_of(count)
    sheet = parted(row.length + 10, 10, "width", row, Panel(10, 10))
    assert search._some_panel(chosen_by(0.5, 0.5, 0.0), sheet)[0] == way


class Fills:
    """Stands for a filler: leaves each panel it is to fill free, and keeps what it was asked."""

    def __init__(self, *numbers):
        self.chance, self.asked, self.steps = Chances(*numbers), [], 0

    def fill(self, length, width, pool, noise, rule):
        self.asked.append(((length, width), dict(pool), noise, rule))
        return Panel(length, width)


QUARTERS = parted(
    100,
    100,
    "width",
    parted(50, 100, "length", part(50, 40, 0), part(50, 60, 1)),
    parted(50, 100, "length", part(50, 30, 2), part(50, 70, 3)),
)
LEAVES = {(False, False): (50, 40), (False, True): (50, 60), (True, False): (50, 30), (True, True): (50, 70)}


def filled_again(monkeypatch, numbers, ways, roots=(QUARTERS,), pool=()):
    filler, ways = Fills(*numbers), list(ways)

    def some_panel(_filler, root):
        way = ways.pop(0)
        panel = root
        for second in way:
            panel = panel.halves[second]
        return way, panel

    numbers_of_roots = [way[0] if isinstance(way[0], int) and not isinstance(way[0], bool) else 0 for way in ways]
    ways[:] = [way[1] if isinstance(way[1], tuple) else way for way in ways]
    monkeypatch.setattr(search, "_some_root", lambda _filler, _roots: numbers_of_roots.pop(0))
    monkeypatch.setattr(search, "_some_panel", some_panel)
    return filler, *search.filled_again(filler, list(roots), dict(pool))


@pytest.mark.parametrize(
    ("second", "third", "count"), [(0.59, 0.19, 3), (0.59, 0.2, 2), (0.6, 0.19, 2), (0.6, 0.2, 1), (0.0, 0.0, 3)]
)
def test_one_to_three_panels_are_taken_out(monkeypatch, second, third, count):
    """Six in ten times a second one, two in ten a third; their parts go where they may, none is lost."""
    ways = list(LEAVES)[:count]
    filler, (root,), pool = filled_again(monkeypatch, (second, third, 0.0, 0.0), ways, pool={0: 2})
    assert [asked[0] for asked in filler.asked] == [LEAVES[way] for way in ways]
    assert pool == {0: 3} | dict.fromkeys(range(1, count), 1)
    assert root.count == 4 - count
    assert (root.length, root.width) == (100, 100)


def test_free_panels_that_have_become_one_are_filled_as_one(monkeypatch):
    """The part's place is free too by then, so the half of 40 x 50 is not parted any more."""
    ways = [(True, False), (True, True)]
    filler, (root,), _ = filled_again(monkeypatch, (0.0, 0.9, 0.0, 0.0), ways, roots=(SHEET,))
    assert [asked[0] for asked in filler.asked] == [(40, 20), (40, 50)]
    assert (root.second.along, root.count) == ("", 1)


def test_parts_of_one_number_are_counted_together(monkeypatch):
    twice = parted(20, 10, "width", part(10, 10, 5), part(10, 10, 5))
    _, _, pool = filled_again(monkeypatch, (0.9, 0.9, 0.0, 0.0), [(0, ())], roots=(twice,), pool={5: 1})
    assert pool == {5: 3}


@pytest.mark.parametrize("second", [(), (False,), (False, True), (False, False)])
def test_a_panel_in_one_that_is_taken_out_is_not_taken_out_again(monkeypatch, second):
    way = (False,) if second != () else (False, False)
    filler, _, pool = filled_again(monkeypatch, (0.0, 0.9, 0.0, 0.0), [(0, way), (0, second)])
    assert len(filler.asked) == 1
    assert pool == ({0: 1, 1: 1} if way == (False,) else {0: 1})


def test_the_same_place_on_another_sheet_is_another_panel(monkeypatch):
    other = parted(60, 100, "width", part(40, 100, 7), part(20, 100, 8))
    way = (False,)
    filler, roots, pool = filled_again(monkeypatch, (0.0, 0.9, 0.0, 0.0), [(0, way), (1, way)], roots=(QUARTERS, other))
    assert [asked[0] for asked in filler.asked] == [(50, 100), (40, 100)]
    assert pool == {0: 1, 1: 1, 7: 1}
    assert [root.count for root in roots] == [2, 1]
    assert (QUARTERS.count, other.count) == (4, 2)  # what was given is as it was


@pytest.mark.parametrize(
    ("rule", "noise", "expected"),
    [
        (0.0, 0.0, ("area", 0.1)),
        (0.26, 0.26, ("area, flush", 0.3)),
        (0.51, 0.51, ("area, exact", 0.6)),
        (0.99, 0.99, ("joined", 1.0)),
    ],
)
def test_each_rule_and_each_noise_comes_as_often(monkeypatch, rule, noise, expected):
    filler, _, _ = filled_again(monkeypatch, (0.9, 0.9, rule, noise), [(0, (True,))])
    ((_, _, its_noise, its_rule),) = filler.asked
    assert (its_rule, its_noise) == expected


def searched(monkeypatch, filler, holds, steps, spent=0):
    """Let each try hold so much of a sheet of 1000 x 1000, that holds 500 000 at first; return what was begun from."""
    begun, holds = [], list(holds)

    def tried(filler, roots, pool):
        begun.append(roots[0].filled)
        filler.steps += spent
        held = holds.pop(0)
        return [Panel(1000, 1000, filled=held)], {0: 1} if held < 900_000 else {}

    monkeypatch.setattr(search, "filled_again", tried)
    (root,), rest = search.refilled(filler, [Panel(1000, 1000, filled=500_000)], {0: 1}, steps)
    return begun, root.filled, rest


@pytest.mark.parametrize(("loss", "kept"), [(3_999, True), (4_000, False)])
def test_a_layout_that_holds_a_little_less_is_kept_at_first(monkeypatch, loss, kept):
    """0.4 % of the sheet is 4000; a chance of 1/e is one such loss."""
    lower = 500_000 - loss
    begun, best, rest = searched(monkeypatch, chosen_by(exp(-1), exp(-1)), [lower, lower - 9_000], 40)
    assert begun == [500_000, lower if kept else 500_000]
    assert (best, rest) == (500_000, {0: 1})


@pytest.mark.parametrize(("loss", "kept"), [(999, True), (1_001, False)])
def test_half_way_through_only_a_quarter_of_it_is(monkeypatch, loss, kept):
    lower = 500_000 - loss
    begun, _, _ = searched(monkeypatch, chosen_by(exp(-1), 1e-9), [500_000, lower, 0], 20_001, spent=9_980)
    assert begun == [500_000, 500_000, lower if kept else 500_000]


def test_the_search_ends_with_its_steps_and_gives_the_layout_that_holds_most(monkeypatch):
    filler = chosen_by(*[1.0] * 9)
    begun, best, rest = searched(monkeypatch, filler, [600_000, 600_000, 550_000, 0], 70)
    assert begun == [500_000, 600_000, 600_000, 600_000]  # twenty steps each: the fourth begins at 60 of 70
    assert (best, rest) == (600_000, {0: 1})
    assert filler.steps == 80


def test_the_search_ends_where_all_is_placed(monkeypatch):
    begun, best, rest = searched(monkeypatch, chosen_by(), [600_000, 900_000], 1_000)
    assert (len(begun), best, rest) == (2, 900_000, {})
    assert searched(monkeypatch, chosen_by(), [], 0)[0] == []
