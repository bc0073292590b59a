"""Which sheets are tried, in which turn, and how the steps are shared out: each share and each set by hand.

What holds the parts is stood in for, so that only the choice is looked at. That all steps are shared out, and no more
of them, is what `effort` means.
"""

from fractions import Fraction

import pytest

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, fewest, layout, offcuts, opened
from modelmath.cutting.sheet_layout.fewest import Piece, Supply
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted
from modelmath.cutting.sheet_layout.snaps import Units

UNITS = Units(Fraction(1), 0, 10)
OLD = tuple(Piece("offcut", side, 10, at) for at, side in enumerate((10, 20, 30, 40)))
HAND = tuple(Piece("on hand", side, 100, 10 + at) for at, side in enumerate((90, 80, 70)))
LARGE, MIDDLE, SMALL = (Piece("to buy", side, 100, 20 + at) for at, side in enumerate((100, 60, 50)))
SUPPLY = Supply(OLD, HAND, (LARGE, MIDDLE, SMALL))
ONE = Filler([[(5, 5)]], 0, 1)


def on(piece, filled=25):
    return piece, Panel(piece.length, piece.width, 0, filled=filled, count=1)


class Holds:
    """Stands for `held_on`: keeps the sets and steps it was asked, spends them, and says yes to some."""

    def __init__(self, *answers):
        self.answers, self.asked = list(answers), []

    def __call__(self, filler, pieces, pool, steps):
        self.asked.append((list(pieces), steps))
        filler.steps += steps
        return [on(piece) for piece in pieces] if self.answers and self.answers.pop(0) else None


def held(monkeypatch, module, *answers):
    holds = Holds(*answers)
    monkeypatch.setattr(module, "held_on", holds)
    return holds, Filler([[(5, 5)]], 0, 1)


def test_fewer_to_buy_are_tried_of_each_kind_in_turn(monkeypatch):
    """Two bought and none the bound: of three kinds, and one try more if one holds, each has a share that is left."""
    holds, filler = held(monkeypatch, fewest)
    laid = [on(LARGE), on(LARGE), on(OLD[0])]
    assert fewest.with_fewer(filler, laid, {0: 3}, SUPPLY, 0, 400) is laid
    assert holds.asked == [
        ([*OLD, *HAND, LARGE], 100),
        ([*OLD, *HAND, MIDDLE], 100),
        ([*OLD, *HAND, SMALL], 100),
    ]


def test_where_one_fewer_is_the_bound_no_steps_are_kept_back(monkeypatch):
    holds, filler = held(monkeypatch, fewest)
    fewest.with_fewer(filler, [on(LARGE), on(LARGE)], {0: 3}, SUPPLY, 1, 300)
    assert [steps for _, steps in holds.asked] == [100, 100, 100]
    holds, filler = held(monkeypatch, fewest)
    fewest.with_fewer(filler, [on(LARGE), on(LARGE)], {0: 3}, SUPPLY, 2, 300)
    assert not holds.asked
    holds, filler = held(monkeypatch, fewest)
    fewest.with_fewer(filler, [on(LARGE), on(LARGE)], {0: 3}, SUPPLY, 0, 0)
    assert not holds.asked


def test_it_goes_on_for_as_long_as_one_fewer_holds(monkeypatch):
    holds, filler = held(monkeypatch, fewest, False, True, False, True)
    laid = fewest.with_fewer(filler, [on(LARGE)] * 3, {0: 3}, SUPPLY, 1, 4_000)
    assert [piece for piece, _ in laid] == [*OLD, *HAND, MIDDLE]
    assert [(sum(each.kind == "to buy" for each in pieces), steps) for pieces, steps in holds.asked] == [
        (2, 1_000),  # 4000 over three kinds and what comes after
        (2, 1_000),
        (1, 666),  # 2000 are left, and one is the bound
        (1, 667),
    ]


def test_no_more_than_four_kinds_are_tried(monkeypatch):
    holds, filler = held(monkeypatch, fewest)
    kinds = tuple(Piece("to buy", side, 100, side) for side in range(90, 84, -1))
    fewest.with_fewer(filler, [on(kinds[0])], {0: 1}, Supply((), (), kinds), 0, 1_000)
    assert len(holds.asked) == 4
    assert holds.asked[0] == ([], 250)


def test_fewer_sheets_on_hand_are_the_largest_or_the_fullest(monkeypatch):
    """Begun are 90 (nearly empty), 80 and 70: without one of them it is the two largest, or the two fullest."""
    holds, filler = held(monkeypatch, fewest)
    laid = [on(HAND[0], 5), on(HAND[1], 50), on(HAND[2], 60), on(MIDDLE), on(OLD[1])]
    assert fewest.with_fewer_begun(filler, laid, {0: 5}, SUPPLY, 2, 300) is laid
    assert holds.asked == [([*OLD, *HAND[:2], MIDDLE], 100), ([*OLD, *HAND[1:], MIDDLE], 100)]
    holds, filler = held(monkeypatch, fewest)
    fewest.with_fewer_begun(filler, [on(HAND[0], 50), on(HAND[1], 5)], {0: 2}, SUPPLY, 1, 300)
    assert holds.asked == [([*OLD, HAND[0]], 300)]  # the fullest is the largest
    holds, filler = held(monkeypatch, fewest)
    wide, long = Piece("on hand", 80, 100, 0), Piece("on hand", 90, 50, 1)
    fewest.with_fewer_begun(filler, [on(wide, 5), on(long, 50)], {0: 2}, Supply((), (wide, long), ()), 1, 300)
    assert holds.asked == [([wide], 150), ([long], 150)]  # by area the other is the larger
    holds, filler = held(monkeypatch, fewest)
    fewest.with_fewer_begun(filler, [on(LARGE)], {0: 2}, SUPPLY, 0, 300)
    assert not holds.asked


def test_a_smaller_kind_is_bought_where_it_holds_the_same_parts(monkeypatch):
    """Three sheets and three kinds: each try has a ninth of the steps; what is not bought stays what it is."""
    holds, filler = held(monkeypatch, fewest, False, True)
    laid = [on(LARGE), on(HAND[0]), on(SMALL)]
    found = fewest.smaller_bought(filler, laid, SUPPLY, 900)
    assert [piece for piece, _ in found] == [MIDDLE, HAND[0], SMALL]
    assert holds.asked == [([SMALL], 100), ([MIDDLE], 100)]
    holds, filler = held(monkeypatch, fewest, True)
    assert [piece for piece, _ in fewest.smaller_bought(filler, [on(LARGE)], SUPPLY, 900)] == [SMALL]
    assert holds.asked == [([SMALL], 300)]


@pytest.mark.parametrize(
    ("most", "sets"),
    [
        (0, []),
        (1, [[]]),
        (2, [[], [OLD[0]], [OLD[1]], [OLD[2]], [OLD[3]]]),
        (4, [[], [OLD[0]], [OLD[1]], [OLD[2]], [OLD[3]], [OLD[2], OLD[3]], [OLD[1], OLD[2], OLD[3]]]),
    ],
)
def test_none_then_each_alone_then_the_largest(most, sets):
    assert list(opened._few(SUPPLY, most)) == sets


def test_of_many_offcuts_the_larger_ones_are_tried_alone_and_equal_ones_once():
    many = tuple(Piece("offcut", 10 + at // 2, 10, at) for at in range(30))  # fifteen sizes, two of each
    alone = [each for each in opened._few(Supply(many, (), ()), 2) if each]
    assert [each.length for (each,) in alone] == list(range(13, 25))


def test_one_offcut_fewer_begins_without_the_emptiest():
    """Opened are 10, 20 and 40 of width 10, and the 20 holds least; two of these four have 300 together or more."""
    laid = [on(OLD[0], 50), on(OLD[1], 30), on(OLD[3], 90), on(HAND[0], 1)]
    sets = [[piece.length for piece in each] for each in opened._one_fewer(laid, SUPPLY, 300)]
    assert sets[:2] == [[10, 40], [20, 40]]
    assert {tuple(sorted(each)) for each in sets} == {(10, 40), (20, 40), (10, 20), (10, 30), (20, 30), (30, 40)}
    sets = [sorted(piece.length for piece in each) for each in opened._one_fewer(laid, SUPPLY, 500)]
    assert sets == [[10, 40], [20, 40], [20, 30], [30, 40]]  # the layout's own, then the others by size
    assert opened._one_fewer([on(HAND[0])], SUPPLY, 0) == []


def test_so_many_sets_beside_its_own_are_tried():
    many = tuple(Piece("offcut", 10 + at, 10, at) for at in range(9))
    laid = [on(piece) for piece in many[:3]]
    sets = opened._one_fewer(laid, Supply(many, (), ()), 0)
    assert len(sets) == 15  # three of its own and twelve
    assert [piece.length for piece in sets[-1]] <= [piece.length for piece in many[-2:]]


def test_fewer_offcuts_are_opened_for_as_long_as_they_hold(monkeypatch):
    """None and each alone have no steps; then each set that could do has its share of what is left."""
    holds, filler = held(monkeypatch, opened)
    filler.ways = [[(10, 10)]]
    laid = [on(OLD[0], 50), on(OLD[1], 90), on(HAND[0])]
    assert list(opened.with_fewer_opened(filler, laid, {0: 93}, SUPPLY, 600)) == []
    few = [[], [OLD[0]], [OLD[1]], [OLD[2]], [OLD[3]]]
    assert holds.asked[:5] == [([*each, HAND[0]], 0) for each in few]
    # 93 parts of 100 take 300 more than the sheet on hand has: that leaves the 30 and the 40.
    assert holds.asked[5:] == [([OLD[2], HAND[0]], 200), ([OLD[3], HAND[0]], 200)]
    holds, filler = held(monkeypatch, opened, *[False] * 5, True)
    filler.ways = [[(10, 10)]]
    (found,) = opened.with_fewer_opened(filler, laid, {0: 93}, SUPPLY, 200)
    assert [piece for piece, _ in found] == [OLD[2], HAND[0]]
    holds, filler = held(monkeypatch, opened, True)
    (found,) = opened.with_fewer_opened(filler, laid, {0: 1}, SUPPLY, 100)
    assert [piece for piece, _ in found] == [HAND[0]]


def shares_of(monkeypatch, sheets, steps):
    """Return what each search on a layout of so many sheets is given."""
    given = []

    def shorter(filler, pool, shape, lowest, highest, steps, others=()):
        given.append(("with others" if others else "alone", steps))
        return iter(())

    monkeypatch.setattr(offcuts, "shorter_and_shorter", shorter)
    monkeypatch.setattr(offcuts._Sheet, "_a_few_at_a_time", lambda self, steps: given.append(("few", steps)))
    laid = [(LARGE, ONE.fill(100, 100, {0: 1})) for _ in range(sheets)]
    assert len(offcuts.larger_offcuts(ONE, laid, UNITS, steps)) == sheets
    return given


def test_steps_for_larger_offcuts_are_shared_out_evenly(monkeypatch):
    """Each sheet has three searches, and with several sheets there are two more over all of them."""
    assert shares_of(monkeypatch, 1, 300) == [("alone", 100), ("alone", 100), ("few", 100)]
    each = [("alone", 100), ("alone", 100), ("few", 100)]
    assert shares_of(monkeypatch, 2, 800) == [("with others", 100)] * 2 + each * 2
    assert offcuts.larger_offcuts(ONE, [], UNITS, 300) == []


def test_a_few_parts_at_a_time_end_with_their_steps(monkeypatch):
    """Sixty steps and one for each part of the sheet are counted for each try: ten of them here."""
    tries = []

    def again(filler, roots, pool):
        tries.append((roots, dict(pool)))
        return roots, {}

    monkeypatch.setattr(offcuts, "filled_again", again)
    filler = Filler([[(5, 5)]], 0, 1)
    root = filler.fill(100, 100, {0: 4})
    sheet = offcuts._Sheet(filler, [root], 0, UNITS)
    filler.steps = 7
    sheet._take = lambda _roots: None
    sheet._a_few_at_a_time(640)
    assert (len(tries), filler.steps) == (10, 647)
    assert all(roots == [root] and not pool for roots, pool in tries)


def test_what_a_kind_of_sheet_is_given(monkeypatch):
    """By hand: a third for smaller sheets, a third for fewer pieces, and all of it for the layouts that are left."""
    given = []

    def smaller(filler, laid, supply, steps):
        given.append(("smaller", steps))
        return laid

    def fewer(filler, laid, pool, supply, units, steps):
        given.append(("fewer", steps))
        return [laid, laid]

    def larger(filler, laid, units, steps):
        given.append(("larger", steps))
        return laid

    monkeypatch.setattr(layout, "smaller_bought", smaller)
    monkeypatch.setattr(layout, "fewer_pieces", fewer)
    monkeypatch.setattr(layout, "larger_offcuts", larger)
    parts, stock = [SheetPart("wall", 30, 20, 3, "1 mm sheet")], [SheetStock("1 mm sheet", 100, 50)]
    layout.lay_out_sheet(parts, stock, least_snap_mm=0, effort=900)
    assert given == [("smaller", 300), ("fewer", 300), *[("larger", 300)] * 3]


@pytest.mark.parametrize(
    ("count", "effort", "expected"),
    [(1, None, 40_000), (4, None, 40_000), (5, None, 50_000), (30, None, 300_000), (31, None, 300_000), (9, 5, 5)],
)
def test_steps_grow_with_the_pieces_within_limits(count, effort, expected):
    parts = [SheetPart("wall", 30, 20, count - count // 2, "1 mm sheet")]
    parts += [SheetPart("roof", 30, 20, count // 2, "1 mm sheet")] if count > 1 else []
    assert layout._steps(parts, effort, layout.LARGER) == expected


def with_scrap(*areas):
    """Return a layout on pieces with nothing worth keeping left: all of each is part or scrap."""
    return [(OLD[0], Panel(area, 1, 0, filled=1, count=1)) for area in areas]


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        ([], []),
        ([(9, 9)], [0]),
        ([(9, 9, 2), (4, 6), (30,)], [1, 2]),  # 20, 10 and 30 in all
        ([(9, 9, 2), (4, 6), (10,)], [2]),  # as little scrap on fewer pieces
        ([(9, 9, 2), (9, 9), (3,)], [2]),
    ],
)
def test_the_layout_with_least_scrap_and_the_one_on_fewest_pieces_go_on(monkeypatch, found, expected):
    laid = [with_scrap(*areas) for areas in found]
    monkeypatch.setattr(offcuts, "with_fewer_opened", lambda *_: iter(laid))
    got = offcuts.fewer_pieces(ONE, with_scrap(1), {0: 3}, SUPPLY, UNITS, 100)
    assert got == [laid[at] for at in expected]


class ByRule:
    """Stands for a filler: by each rule so many pieces of 10 x 10 go into a free panel."""

    def __init__(self, **counts):
        self.counts, self.asked = counts, []

    def fill(self, length, width, rest, rule):
        self.asked.append((rule, length, width))
        count = min(self.counts.get(rule.replace(", ", "_"), 0), rest.get(0, 0))
        rest[0] = rest.get(0, 0) - count
        if not rest[0]:
            del rest[0]
        return Panel(length, width, 0 if count else -1, filled=100 * count, count=count)


@pytest.mark.parametrize(
    ("counts", "pool", "placed", "left"),
    [
        ({"area": 1, "area_flush": 2, "area_exact": 1}, 9, 4, 5),  # two on each of the two panels that are free
        ({"area": 2, "area_flush": 1, "joined": 3}, 9, 6, 3),
        ({"area_exact": 2}, 3, 3, 0),
        ({}, 3, 0, 3),
    ],
)
def test_what_is_free_is_filled_by_the_rule_that_places_most(counts, pool, placed, left):
    taken = Panel(20, 50, 0, filled=1000, count=1)
    halves = parted(60, 50, "length", Panel(60, 20), parted(60, 30, "width", taken, Panel(40, 30)))
    filler, rest = ByRule(**counts), {0: pool}
    root = fewest._topped_up(filler, halves, rest)
    assert rest == ({0: left} if left else {})
    assert (root.filled, root.count) == (1000 + 100 * placed, 1 + placed)
    assert filler.asked == [
        (rule, *sides) for rule in ("area", "area, flush", "area, exact", "joined") for sides in ((60, 20), (40, 30))
    ]
    nothing = {}
    assert fewest._topped_up(filler, halves, nothing) is halves
    assert (halves.count, nothing, len(filler.asked)) == (1, {}, 8)


def test_of_rules_that_place_as_many_it_is_the_first():
    class Lettered(ByRule):
        def fill(self, length, width, rest, rule):
            panel = super().fill(length, width, rest, rule)
            panel.part = len(self.asked)
            return panel

    root = fewest._topped_up(Lettered(area=1, area_flush=1, joined=1), Panel(60, 20), {0: 5})
    assert root.part == 1


def test_sheets_are_bought_one_after_the_other_of_the_first_kind_that_holds_a_part():
    """The kinds to buy go from the largest on: the 120 x 20 is for the second, which holds it, all else for the first.

    On the one sheet on hand is only what has room there; what is opened and stays empty does not count.
    """
    filler = Filler([[(120, 20)], [(90, 90)], [(30, 30)]], 0, 1)
    wide, long = Piece("to buy", 100, 100, 0), Piece("to buy", 130, 20, 1)
    hand, small = Piece("on hand", 40, 30, 2), Piece("offcut", 10, 10, 3)
    pool = {0: 2, 1: 2, 2: 1}
    laid, rest = fewest.laid_out(filler, pool, Supply((small,), (hand,), (wide, long)), 0)
    assert rest == {}
    assert [(piece, fewest.counted(root)) for piece, root in laid] == [
        (hand, {2: 1}), (wide, {1: 1}), (wide, {1: 1}), (long, {0: 1}), (long, {0: 1}),
    ]  # fmt: skip
    assert pool == {0: 2, 1: 2, 2: 1}
    assert (fewest.bought(laid), fewest.new_sheets(laid)) == (4, 5)


@pytest.mark.parametrize(("sides", "holds"), [((30, 20), True), ((30, 21), True), ((32, 20), False), ((29, 20), False)])
def test_a_sheet_holds_a_part_where_the_rest_can_be_parted_off(sides, holds):
    """With a cut of 1 and 5 as the least: 0 and 1 may be left, 2 may not."""
    filler = Filler([[(30, 20)]], 1, 6)
    assert fewest._holds(filler, Piece("to buy", *sides, 0), 0) is holds
    assert fewest._holds(filler, Piece("to buy", *sides[::-1], 0), 0) is False
    assert fewest._holds(Filler([[(30, 20), (20, 30)]], 1, 6), Piece("to buy", *sides[::-1], 0), 0) is holds


def test_only_so_many_sets_are_looked_at_beside_the_layouts_own_and_the_largest(monkeypatch):
    laid = [on(OLD[0], 50), on(OLD[1], 30)]
    monkeypatch.setattr(opened, "MOST_LOOKED_AT", 1)
    assert opened._one_fewer(laid, SUPPLY, 0) == [[OLD[0]], [OLD[1]], [OLD[3]]]
    monkeypatch.setattr(opened, "MOST_LOOKED_AT", 3)
    assert opened._one_fewer(laid, SUPPLY, 0) == [[OLD[0]], [OLD[1]], [OLD[2]], [OLD[3]]]
