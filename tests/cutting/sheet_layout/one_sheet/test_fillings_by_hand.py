"""Filling, rows and tidying on small panels: each layout, and each number of steps, by hand."""

import pytest

from modelmath.cutting.sheet_layout.fewest import counted
from modelmath.cutting.sheet_layout.one_sheet.filling import RULES, Filler
from modelmath.cutting.sheet_layout.one_sheet.measured import measured, sides_left, unmeasured
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, leaves, panels_in, parted, parts_in, replaced
from modelmath.cutting.sheet_layout.one_sheet.rows import _Rows, in_rows
from modelmath.cutting.sheet_layout.one_sheet.tidy import DEEPEST, _node, tidied


class Chances:
    def __init__(self, *numbers):
        self.numbers = list(numbers)

    def random(self):
        return self.numbers.pop(0)


def part(length, width, number=0):
    return Panel(length, width, number, filled=length * width, count=1)


@pytest.mark.parametrize(
    ("left", "fits"), [(-1, False), (0, True), (2, True), (3, False), (6, False), (7, True), (50, True)]
)
def test_what_is_left_is_nothing_or_dust_or_wide_enough(left, fits):
    """A cut of 2, and 5 as the least to part off behind it."""
    assert Filler([], 2, 7).fits(40 + left, 40) is fits


def first_by(rule, *ways, length=10, width=10, noise=0.0, **more):
    filler = Filler([[way] for way in ways], 0, 1, **more)
    panel = filler._pick(length, width, dict.fromkeys(range(len(ways)), 1), noise, rule)
    return None if panel is None else panel.part


@pytest.mark.parametrize(
    ("rule", "ways", "chosen"),
    [
        ("area", ((10, 5), (8, 8)), 1),  # 64 against 50
        ("area, flush", ((10, 5), (8, 8)), 0),  # three times 50 against 64
        ("area, flush", ((10, 2), (8, 8)), 1),  # three times 20 is less
        ("area, exact", ((10, 5), (8, 8)), 0),  # twice 50
        ("area, exact", ((10, 3), (8, 8)), 1),
        ("joined", ((10, 3), (8, 8)), 0),
        ("area, flush", ((10, 9), (10, 10)), 1),  # what fills the panel goes before what is as long as it
        ("area, exact", ((10, 9), (10, 10)), 1),
        ("area", ((10, 9), (10, 10)), 1),
        ("area", ((5, 5), (5, 5)), 0),
        ("area", ((11, 5), (5, 11)), None),
    ],
)
def test_the_part_worth_most_by_each_rule(rule, ways, chosen):
    assert first_by(rule, *ways) == chosen
    assert first_by(rule, *((b, a) for a, b in ways)) == chosen


def test_a_part_that_leaves_too_little_to_part_off_is_no_choice():
    assert first_by("area", (8, 5), length=10, width=10) == 0
    filler = Filler([[(8, 5)], [(5, 8)], [(5, 5)], [(9, 9)], [(6, 6)]], 1, 4)
    pool = {0: 1, 1: 1, 2: 1}
    assert filler._pick(10, 10, dict(pool), 0.0, "area").part == 2  # 2 beside the others, more than the cut of 1
    assert filler._pick(10, 10, {3: 1, 2: 1}, 0.0, "area").part == 3  # 1 beside it: the cut runs off the edge
    assert filler._pick(10, 10, {4: 1, 2: 1}, 0.0, "area").part == 4  # just 4
    assert pool == {0: 1, 1: 1, 2: 1}


def test_noise_takes_off_by_chance():
    """By hand: 64 less half of 90 % of it is 35.2; 49 less half of 10 % is 46.6."""
    chosen = first_by("area", (8, 8), (7, 7), noise=0.5, chance=Chances(0.9, 0.1))
    assert chosen == 1
    assert first_by("area", (8, 8), (7, 7), noise=0.5, chance=Chances(0.4, 0.1)) == 0  # 51.2 against 46.6


@pytest.mark.parametrize(("rule", "chosen"), [("area, flush", 0), ("area, exact", 1), ("joined", 1)])
def test_noise_hardly_ever_leaves_out_what_fills_the_panel(rule, chosen):
    """100 less 99.9 % of it is little against 64, were it three times that; by two rules it is far more."""
    assert first_by(rule, (8, 8), (10, 10), noise=1.0, chance=Chances(0.0, 0.999)) == chosen


def test_two_parts_with_a_side_in_common_are_placed_as_one():
    """4 x 10 and 6 x 10 fill 10 x 10; alone neither is worth as much as the 7 x 10, three times 70."""
    filler = Filler([[(7, 10)], [(4, 10)], [(6, 10)]], 0, 1)
    pool = {0: 1, 1: 1, 2: 1}
    panel = filler._pick(10, 10, pool, 0.0, "joined")
    assert (panel.along, panel.first.part, panel.second.part, panel.filled) == ("width", 1, 2, 100)
    assert pool == {0: 1}
    assert filler._pick(10, 10, {0: 1, 1: 1, 2: 1}, 0.0, "area, exact").part == 0
    assert filler._pick(10, 10, {0: 1, 1: 1}, 0.0, "joined").part == 0  # not without the other
    assert filler._pick(9, 10, {0: 1, 1: 1, 2: 1}, 0.0, "joined").part == 0
    two = Filler([[(5, 10)], [(9, 9)]], 0, 1)
    assert two._pick(10, 10, {0: 2, 1: 1}, 0.0, "joined").count == 2
    assert two._pick(10, 10, {0: 1, 1: 1}, 0.0, "joined").count == 1  # one is not two
    noisy = Filler([[(5, 10)], [(9, 9)]], 0, 1, chance=Chances(0.0, 0.0, 0.5, 0.0))
    assert noisy._pick(10, 10, {0: 2, 1: 1}, 1.0, "joined").count == 2
    assert len(noisy.chance.numbers) == 1


@pytest.mark.parametrize(("first", "second", "sides"), [(0.3, 0.4, (10, 10)), (0.4, 0.3, (5, 20)), (0.4, 0.4, (9, 9))])
def test_noise_takes_off_a_pair_by_chance_too(first, second, sides):
    """By hand: two of 5 x 10 are 100, less half of so much of it, against 81; 0.3 leaves 85 and 0.4 leaves 80."""
    filler = Filler([[(5, 10)], [(9, 9)]], 0, 1, chance=Chances(0.0, 0.0, first, second))
    panel = filler._pick(30, 30, {0: 2, 1: 1}, 0.5, "joined")
    assert (panel.length, panel.width) == sides
    assert not filler.chance.numbers


@pytest.mark.parametrize(
    ("alone", "sides", "count"), [((9, 19), (10, 20), 2), ((9, 19), (11, 20), 1), ((10, 10), (10, 10), 1)]
)
def test_a_pair_that_uses_up_a_side_is_worth_three_times_as_much(alone, sides, count):
    """4 x 10 and 6 x 10 are 100 or 300, 9 x 19 is 171; of a part and a pair that both fill the panel it is the part."""
    for turn in (1, -1):
        ways = [[each[::turn]] for each in (alone, (4, 10), (6, 10))]
        assert Filler(ways, 0, 1)._pick(*sides[::turn], {0: 1, 1: 1, 2: 1}, 0.0, "joined").count == count


def test_a_pair_leaves_enough_to_part_off_or_is_none():
    filler = Filler([[(4, 10)], [(3, 10)]], 1, 4)
    assert filler._pick(11, 10, {0: 1, 1: 1}, 0.0, "joined").count == 2
    assert filler._pick(10, 10, {0: 1, 1: 1}, 0.0, "joined").count == 1
    assert filler._pick(8, 10, {0: 1, 1: 1}, 0.0, "joined").count == 2  # 1 is the cut's
    assert filler._pick(9, 10, {0: 1, 1: 1}, 0.0, "joined").count == 1


def test_pairs_are_all_that_make_a_panel_without_waste():
    """3 x 4, either way, with itself and with 5 x 4: by hand."""
    filler = Filler([[(3, 4), (4, 3)], [(5, 4)]], 0, 1)
    found = [[(panel.length, panel.width, other) for panel, other in pairs] for pairs in filler.joined]
    assert [sorted(each) for each in found] == [
        [(3, 8, 0), (4, 6, 0), (6, 4, 0), (8, 3, 0), (8, 4, 1)],
        [(5, 8, 1), (10, 4, 1)],
    ]
    assert all(panel.waste == 0 for pairs in filler.joined for panel, _ in pairs)
    # Two of 3 x 6 make one square, whichever way they lie: it counts once.
    square, *_ = found = Filler([[(3, 6), (6, 3)]], 0, 1).joined[0]
    assert sorted((panel.length, panel.width) for panel, _ in found) == [(3, 12), (6, 6), (12, 3)]
    assert (square[0].length, square[0].width, square[0].count) == (6, 6, 2)


def test_steps_are_counted_for_each_part_looked_at():
    filler = Filler([[(3, 4)], [(5, 4)]], 0, 1)
    filler._pick(10, 10, {0: 1, 1: 1}, 0.0, "area")
    assert filler.steps == 2 + 4
    filler._pick(10, 10, {0: 1}, 0.0, "joined")  # one kind has no other to be joined with
    assert filler.steps == 6 + 1 + 4
    filler._pick(10, 10, {0: 1, 1: 1}, 0.0, "joined")  # five pairs: 2 of each with itself, 1 of both
    assert filler.steps == 11 + 2 + 4 + 5


@pytest.mark.parametrize(
    ("sides", "along"),
    [((20, 10), "width"), ((10, 20), "length"), ((18, 12), "width"), ((12, 18), "length"), ((15, 15), "width")],
)
def test_the_larger_rest_stays_whole(sides, along):
    """A part of 10 x 10: the line runs across where what is beside it is the larger."""
    panel = Filler([[(10, 10)]], 0, 1).fill(*sides, {0: 1})
    assert panel.along == along


def test_now_and_then_what_is_left_is_parted_the_other_way():
    for chance, across in ((0.0, False), (0.24, False), (0.25, True), (0.26, True), (0.99, True)):
        assert Filler([], 0, 1, chance=Chances(chance))._across(20, 12, 10, 2, True) is across
    assert Filler([], 0, 1)._across(20, 12, 10, 2, False)
    assert Filler([], 0, 1)._across(20, 12, 10, 0, True)
    assert not Filler([], 0, 1)._across(20, 12, 0, 2, True)


@pytest.mark.parametrize("rule", RULES)
def test_four_quarters_fill_a_panel(rule):
    pool = {0: 5}
    panel = Filler([[(10, 15)]], 0, 1).fill(20, 30, pool, rule=rule)
    assert (panel.filled, panel.count, pool) == (600, 4, {0: 1})
    assert (panel.length, panel.width) == (20, 30)
    assert sorted((leaf.length, leaf.width) for leaf, _ in leaves(panel)) == [(10, 15)] * 4


def test_panels_are_told_in_turn_from_the_corner_on():
    right = parted(30, 20, "length", part(30, 5, 1), Panel(30, 15))
    root = parted(50, 20, "width", part(20, 20, 0), right)
    assert [(leaf.part, way) for leaf, way in leaves(root)] == [(0, (False,)), (1, (True, False)), (-1, (True, True))]
    assert list(parts_in(root)) == [0, 1]
    assert {id(panel) for panel in panels_in(root)} == {id(each) for each in (root, *root.halves, *right.halves)}
    assert next(panels_in(root)) is root
    assert (root.waste, right.waste, root.count) == (450, 450, 2)
    new = replaced(root, (True, True), part(30, 15, 2))
    assert (list(parts_in(new)), new.waste, root.waste) == ([0, 1, 2], 0, 450)
    assert replaced(root, (), right) is right
    assert replaced(parted(50, 20, "width", part(20, 20), Panel(30, 20)), (False,), Panel(20, 20)) == Panel(50, 20)


def test_sides_that_are_only_left_over():
    assert sides_left("length", (False, False)) == ((False, False), (False, True))
    assert sides_left("width", (True, True)) == ((False, True), (True, True))
    assert sides_left("length", (True, True)) == ((True, False), (True, True))


def test_equal_sides_without_a_line_are_counted():
    """Three of 20 side by side on 60: the last is what is left. Turned, with 20 across, none is set by a line."""
    three = parted(60, 30, "width", part(20, 30), parted(40, 30, "width", part(20, 30), part(20, 30)))
    assert unmeasured(three, {0: 20}) == 1
    assert unmeasured(three, {0: 30}) == 0
    assert unmeasured(three, {}) == unmeasured(three, {1: 20}) == 0
    turned = parted(30, 40, "length", part(30, 20), part(30, 20))
    assert unmeasured(turned, {0: 20}) == 1
    left = parted(60, 30, "width", part(40, 30, 1), part(20, 30))
    assert unmeasured(left, {0: 20}) == 0  # changed over
    assert [panel.part for panel in measured(left, {0: 20}).halves] == [0, 1]
    assert measured(left, {1: 40}) is left


def depth_of(first, pool, ways, left=50, run=100, along="length", least=1):
    filler = Filler(ways, 0, least)
    sides = (run, 50) if along == "length" else (50, run)
    rows = _Rows(filler, *sides, along)
    return rows._depth(pool, left, first), filler.steps


def test_how_wide_the_next_row_is():
    """Six of 10 x 8, two of 30 x 12, one of 5 x 20, as they lie: areas 480, 720 and 100; by hand."""
    ways, pool = [[(10, 8)], [(30, 12)], [(5, 20)]], {0: 6, 1: 2, 2: 1}
    assert depth_of("most", pool, ways) == (12, 3)
    assert depth_of("most", {0: 10, 1: 2, 2: 1}, ways)[0] == 8
    assert depth_of("widest", pool, ways)[0] == 12  # the lesser side: 8, 12 and 5
    assert depth_of("longest", pool, ways)[0] == 12
    assert depth_of("longest", {0: 1, 2: 1}, ways)[0] == 8
    # 10 x 8 is the wider, by its lesser side, and 20 x 5 the longer; of the 5 wide there is more.
    for first, depth in (("widest", 8), ("longest", 5), ("most", 5)):
        assert depth_of(first, {0: 1, 1: 1}, [[(10, 8)], [(20, 5)]])[0] == depth
    # Of 10 x 8 and 4 x 8 in one row the longer counts; 9 x 6 is not as long.
    assert depth_of("longest", {0: 1, 1: 1, 2: 1}, [[(10, 8)], [(4, 8)], [(9, 6)]])[0] == 8
    assert depth_of("most", pool, ways, left=11)[0] == 8
    assert depth_of("most", pool, ways, left=7)[0] is None
    assert depth_of("most", pool, ways, run=29)[0] == 8
    assert depth_of("most", {0: 1}, [[(10, 8), (8, 10)]])[0] == 10  # as good either way: the wider
    turned = [[(b, a) for a, b in each] for each in ways]
    assert depth_of("most", pool, turned, along="width")[0] == 12
    assert depth_of("most", {0: 6, 1: 1}, [[(10, 8)], [(10, 8)]], least=43)[0] is None  # 42 would be left


def test_two_parts_of_one_width_share_its_row():
    """Of 10 x 8 and 20 x 8 there is 240 in all, more than 200 of the 20 x 10."""
    assert depth_of("most", {0: 1, 1: 1, 2: 1}, [[(10, 8)], [(20, 8)], [(20, 10)]])[0] == 8


@pytest.mark.parametrize("along", ["length", "width"])
def test_a_row_has_the_longest_first_and_what_is_free_behind_it(along):
    def way(run, depth):
        return (run, depth) if along == "length" else (depth, run)

    filler = Filler([[way(20, 10)], [way(30, 10)], [way(15, 6)]], 0, 5)
    rows = _Rows(filler, *way(100, 50), along)
    rest = {0: 2, 1: 1, 2: 2}
    row = rows._row(10, rest, topped_up=False)
    assert [(leaf.part, *way(leaf.length, leaf.width)) for leaf, _ in leaves(row)] == [
        (1, 30, 10), (0, 20, 10), (0, 20, 10), (-1, 30, 10),
    ]  # fmt: skip
    assert (rest, row.length, row.width) == ({2: 2}, *way(100, 10))
    rest = {0: 2, 1: 1, 2: 1}
    assert counted(rows._row(10, rest, topped_up=True)) == {0: 2, 1: 1}  # 15 x 6 would leave 4 above it
    filler.least = 4
    assert counted(rows._row(10, {0: 2, 1: 1, 2: 1}, topped_up=True)) == {0: 2, 1: 1, 2: 1}
    full = {0: 9}
    row = rows._row(10, full, topped_up=True)
    assert (row.count, full, row.waste) == (5, {0: 4}, 0)


def test_rows_fill_a_sheet_or_give_nothing():
    filler = Filler([[(30, 20)]], 0, 1)
    for root in in_rows(filler, 90, 40, {0: 6}):
        assert (root.count, root.waste, root.length, root.width) == (6, 0, 90, 40)
    assert len(list(in_rows(filler, 90, 40, {0: 6}))) == 12
    assert list(in_rows(filler, 90, 40, {0: 7})) == []


def test_the_end_of_a_row_takes_what_has_no_row_of_its_own_or_stays_free():
    """Two of 30 x 10 on 100 x 10 leave 40 x 10, and only there has the 15 x 6 a place; across there are three rows."""
    found = list(in_rows(Filler([[(30, 10)], [(15, 6)]], 0, 1), 100, 10, {0: 2, 1: 1}))
    assert len(found) == 9  # six across; along, three that are topped up
    assert {tuple(leaf.part for leaf, _ in leaves(root) if leaf.count) for root in found} == {(0, 0, 1)}
    # Two of 40 x 10 in a row of 100: the end takes the 10 x 5, or it has a row of its own.
    found = list(in_rows(Filler([[(40, 10)], [(10, 5)]], 0, 1), 100, 30, {0: 2, 1: 1}))
    assert [[leaf.width for leaf, _ in leaves(root)][-1] for root in found[6:]] == [20, 15] * 3


def test_a_tidied_sheet_has_free_panels_joined_and_large_parts_first():
    """Free, 10 x 30, free, 40 x 30 on a row of 90: two parts together, and one free end."""
    loose = parted(
        90,
        30,
        "width",
        Panel(20, 30),
        parted(70, 30, "width", part(10, 30, 0), parted(60, 30, "width", Panel(20, 30), part(40, 30, 1))),
    )
    filler = Filler([[(10, 30)], [(40, 30)]], 0, 40)
    node = _node(loose)
    assert (node.length, node.width, node.depth, [each.part for each in node.inner]) == (50, 30, 2, [1, 0])
    for root in tidied(filler, loose):
        assert [(leaf.part, leaf.length) for leaf, _ in leaves(root)] == [(1, 40), (0, 10), (-1, 40)]
    assert len(list(tidied(filler, loose))) == 4
    filler.least = 41
    assert list(tidied(filler, loose)) == []
    assert list(tidied(filler, Panel(90, 30))) == []


def test_a_row_is_snapped_off_as_wide_as_its_widest_part_or_each_part_for_itself():
    """30 x 20 and 25 x 20 on 55 x 50: the strip of 20 first, or each part's panel, 50 wide, first."""
    root = parted(
        55,
        50,
        "width",
        parted(30, 50, "length", part(30, 20, 0), Panel(30, 30)),
        parted(25, 50, "length", part(25, 20, 1), Panel(25, 30)),
    )
    found = list(tidied(Filler([[(30, 20)], [(25, 20)]], 0, 1), root))
    assert {len([1 for panel in panels_in(each) if panel.along]) for each in found} == {2}
    assert {each.along for each in found} == {"length"}
    assert all((each.first.length, each.first.width) == (55, 20) for each in found)


def nested(depth):
    root = part(10, 10)
    for at in range(depth):
        root = (
            parted(root.length + 10, root.width, "width", root, part(10, root.width))
            if at % 2
            else parted(root.length, root.width + 10, "length", root, part(root.length, 10))
        )
    return root


@pytest.mark.parametrize(("levels", "left_alone"), [(DEEPEST - 1, False), (DEEPEST, True)])
def test_what_is_too_deep_is_left_as_it_is(levels, left_alone):
    root = nested(levels)
    assert _node(root).depth == levels + 1
    assert (list(tidied(Filler([[(10, 10)]], 0, 1), root)) == []) is left_alone
