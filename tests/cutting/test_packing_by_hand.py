"""Greedy packing, places in the drawer, bounds from sums and the counts typed: small cases by hand."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.cutting import bounds, packing
from modelmath.cutting.packing import Bin, Supply, open_strip, pack, strips_used
from modelmath.cutting.search import left_out, searched
from modelmath.cutting.sheet_layout import bounds as sheet_bounds
from modelmath.cutting.sheet_layout.every_way import fewest_by_every_way
from modelmath.cutting.typed import read_parts


def given_to(bins):
    return [(each.kind, each.capacity, each.row, each.pieces, each.free) for each in bins]


def test_of_packings_the_one_with_fewest_new_strips_is_best():
    """New strips, then bought, then their length, then the length of all: offcuts are free but for the last."""
    old, hand, new, short = Bin("offcut", 30, 0), Bin("on hand", 90, 1), Bin("to buy", 100, 2), Bin("to buy", 60, 3)
    assert packing._cost([old, old, hand]) == (1, 0, 90, 150)
    assert packing._cost([old, new, short]) == (2, 2, 160, 190)
    assert packing._cost([old]) == (0, 0, 0, 30)


def test_tightest_goes_into_offcuts_before_new_strips():
    """70 opens a strip of 100, 50 the offcut of 90; the 30 would fill the strip, but the offcut is opened anyway."""
    supply = Supply(((90, 0),), (), ((100, 1),))
    bins = packing._decreasing([95, 50, 5], supply, True, False, False)
    assert given_to(bins) == [("offcut", 90, 0, [1, 2], 35), ("to buy", 100, 1, [0], 5)]
    bins = packing._decreasing([95, 50, 5], Supply((), ((60, 0),), ((100, 1),)), True, False, False)
    assert given_to(bins) == [("to buy", 100, 1, [0, 2], 0), ("on hand", 60, 0, [1], 10)]


def test_first_fit_and_tightest_fit():
    """Strips of 100 with 30, 20 and 25 free: a 20 goes into the first, or where it fits just."""
    sizes, supply = [80, 75, 70, 20], Supply((), (), ((100, 0),))
    first = packing._decreasing(sizes, supply, False, False, False)
    assert [each.pieces for each in first] == [[0, 3], [1], [2]]
    sizes = [70, 80, 75, 20]
    assert [each.pieces for each in packing._decreasing(sizes, supply, False, False, False)] == [[0, 3], [1], [2]]
    assert [each.pieces for each in packing._decreasing(sizes, supply, True, False, False)] == [[0], [1, 3], [2]]


@pytest.mark.parametrize(
    ("long_offcuts", "long_new", "rows"), [(False, False, [0, 2]), (True, False, [1, 2]), (True, True, [1, 3])]
)
def test_short_or_long_strips_first(long_offcuts, long_new, rows):
    supply = Supply(((40, 0), (60, 1)), ((90, 2), (95, 3)), ((100, 4),))
    for pack_so in (
        lambda *rules: packing._decreasing([80, 30], supply, False, *rules),
        lambda *rules: packing._one_by_one([80, 30], supply, *rules),
    ):
        assert sorted(each.row for each in pack_so(long_offcuts, long_new)) == rows


def test_a_strip_is_filled_with_least_left_over():
    """100 of 60, 50, 40, 30, 20: 60 + 40; the 50 is left."""
    each = Bin("to buy", 100, 0)
    assert packing._fill(each, [0, 1, 2, 3, 4], [60, 50, 40, 30, 20]) == [1, 3, 4]
    assert (each.pieces, each.free) == ([0, 2], 0)
    each = Bin("to buy", 19, 0)
    assert packing._fill(each, [3, 4], [60, 50, 40, 30, 20]) == [3, 4]
    assert (each.pieces, each.free) == ([], 19)


def test_very_fine_lengths_are_filled_in_steps_that_round_up():
    """A hundred thousand in two: 50 000 and 49 999 fit; 50 001 and 50 000 do not, though they nearly would."""
    each = Bin("to buy", 100_000, 0)
    assert packing._fill(each, [0, 1], [50_000, 49_999]) == []
    each = Bin("to buy", 100_000, 0)
    assert packing._fill(each, [0, 1], [50_001, 50_000]) == [1]


def test_more_pieces_than_that_are_not_filled_one_by_one(monkeypatch):
    asked = []
    monkeypatch.setattr(packing, "_one_by_one", lambda *each: asked.append(each[2:]))
    supply = Supply((), (), ((100, 0),))
    assert len(pack([50] * 400, supply)) == 200
    assert asked == [(False, False), (False, True), (True, False), (True, True)]
    asked.clear()
    pack([50] * 401, supply)
    assert asked == []


def test_the_drawer_goes_before_the_shop():
    waiting = [Bin("on hand", 50, 0), Bin("on hand", 70, 1)]
    supply = Supply((), (), ((100, 2), (100, 3), (90, 4)))
    assert open_strip(60, waiting, supply).row == 1
    assert [each.row for each in waiting] == [0]
    assert given_to([open_strip(60, waiting, supply)]) == [("to buy", 100, 2, [], 100)]
    assert open_strip(100, waiting, supply).row == 2
    assert open_strip(101, waiting, supply) is None
    assert open_strip(50, waiting, Supply((), (), ())).row == 0


def test_what_is_bought_is_the_shortest_that_holds_it():
    supply = Supply((), (), ((100, 0), (60, 1), (50, 2)))
    bins = [Bin("to buy", 100, 0), Bin("on hand", 100, 9), Bin("to buy", 100, 0), Bin("to buy", 100, 0)]
    for each, size in zip(bins, (60, 50, 61), strict=False):
        each.take(7, size)
    assert given_to(strips_used(bins, supply)) == [
        ("to buy", 60, 1, [7], 0), ("on hand", 100, 9, [7], 50), ("to buy", 100, 0, [7], 39),
    ]  # fmt: skip
    (short,) = bins = [Bin("to buy", 100, 0)]
    short.take(7, 20)
    assert given_to(strips_used(bins, supply)) == [("to buy", 50, 2, [7], 30)]


def test_pieces_for_the_drawer_are_placed_and_the_others_go_into_offcuts_first():
    """Only the 120 holds the 110; the 20 would fit its end, or the strip bought for the 90, but goes on the offcut."""
    supply = Supply(((40, 0),), ((120, 1),), ((100, 2),))
    assert given_to(searched([110, 95, 5], supply)) == [
        ("offcut", 40, 0, [2], 35), ("on hand", 120, 1, [0], 10), ("to buy", 100, 2, [1], 5),
    ]  # fmt: skip
    # Of strips begun it is the tightest; and one in the drawer is begun before one is bought.
    supply = Supply((), ((120, 0), (130, 1), (50, 2)), ((100, 3),))
    assert given_to(searched([125, 110, 5, 45], supply)) == [
        ("on hand", 50, 2, [3], 5), ("on hand", 120, 0, [1], 10), ("on hand", 130, 1, [0, 2], 0),
    ]  # fmt: skip
    assert searched([125, 121, 5], Supply((), ((120, 0), (130, 1)), ((100, 3),))) is None


@pytest.mark.parametrize(("most", "found"), [(10, True), (9, False)])
def test_places_are_tried_until_there_have_been_so_many(monkeypatch, most, found):
    """6 and three of 4 on 8 and 10, none to buy. The 6 on the 8 leaves two of the 4 a place, and the third none.

    That is a try for each of the four, and two more for other places for the second and the third; the 6 on the 10 is
    the seventh, and three more place the rest.
    """
    monkeypatch.setattr("modelmath.cutting.search.MOST_TRIED", most)
    bins = searched([6, 4, 4, 4], Supply((), ((8, 0), (10, 1)), ()))
    assert (None if bins is None else given_to(bins)) == (
        [("on hand", 8, 0, [1, 2], 0), ("on hand", 10, 1, [0, 3], 0)] if found else None
    )


def test_the_piece_that_is_left_out():
    assert left_out([60, 50, 40], Supply(((65, 2),), ((70, 0),), ())) == 2
    assert left_out([60, 50], Supply((), ((60, 0), (50, 1)), ())) == 0  # none


@pytest.mark.parametrize("steps", [1, 2, 3, 4, 5, 6])
def test_pieces_just_longer_than_a_part_of_a_strip(steps):
    """A strip holds n longer than 1/(n + 1) of it: 2 n + 1 take three strips, though by length two would do."""
    piece = 420 // (steps + 1) + 1
    wanted = 2 * steps + 1
    assert piece * wanted <= 840
    assert bounds.fewest_new([piece] * wanted, [], [], 420) == 3
    for length, width in ((piece, 10), (10, piece)):
        sheet = (420, 10) if length == piece else (10, 420)
        assert sheet_bounds.fewest_new([([(length, width)], wanted)], [], [], [sheet], 9) == 3


def test_the_bound_counts_offcuts_first_and_long_strips_on_hand_next():
    """Six of 30, 180 in all."""
    six = [30] * 6
    assert bounds.fewest_new(six, [60], [], 60) == 2
    assert bounds.fewest_new(six, [60, 29], [120], 60) == 1  # the 29 holds none
    assert bounds.fewest_new(six, [], [90, 60], 60) == 3
    assert bounds.fewest_new(six, [], [90, 90], 60) == 2
    assert bounds.fewest_new(six, [180], [90], 60) == 0
    assert bounds.fewest_new(six, [150], [90], 60) == 1
    assert bounds.fewest_new([], [60], [], 60) == 0


def test_with_nothing_to_buy_there_is_no_more_to_count():
    """A strip to buy that is shorter than its trim is as good as none."""
    assert bounds.fewest_new([60, 60], [100], [], 0) == 0
    assert bounds.fewest_new([60, 60], [100], [], -3) == 0
    assert bounds.fewest_new([60, 60], [], [60], 0) == 1


def test_short_pieces_are_left_out_in_favour_of_long_ones():
    """31 never shares 100 with 70, so three of 70 and two of 31 take four, though they are 272 and no halves or thirds.

    With 30 in its stead they share, and three do.
    """
    assert bounds.fewest_new([70] * 3 + [31] * 2, [], [], 100) == 4
    assert bounds.fewest_new([70] * 3 + [30] * 2, [], [], 100) == 3
    for turn in (1, -1):
        for short, count in ((31, 4), (30, 3)):
            parts = [([each[::turn]], n) for each, n in (((70, 10), 3), ((short, 10), 2))]
            assert sheet_bounds.fewest_new(parts, [], [], [(100, 10)[::turn]], 9) == count


square = [(10, 10)]


@pytest.mark.parametrize(
    ("parts", "offcuts", "on_hand", "to_buy", "most_bought", "count"),
    [
        ([(square, 5)], [], [], [(20, 20)], None, 2),
        ([(square, 5)], [(10, 10)], [], [(20, 20)], None, 1),
        ([(square, 5)], [(9, 90)], [], [(20, 20)], None, 2),  # holds none
        ([(square, 5)], [(50, 10)], [], [(20, 20)], None, 0),
        ([(square, 5)], [], [(50, 10)], [(20, 20)], None, 1),
        ([(square, 5)], [], [(10, 10)] * 9, [(20, 20)], None, 2),  # the shop's are worth more
        ([(square, 5)], [], [(10, 10)] * 9, [(20, 20)], 1, 2),
        ([(square, 6)], [], [(10, 10)] * 9, [(20, 20)], 1, 3),
        ([(square, 6)], [], [(10, 10)] * 9, [(20, 20)], 0, 6),
        ([(square, 2)], [], [(10, 10)], [], None, 1),
        ([([(1, 1)], 2)], [(1, 1)], [(1, 1)], [], None, 1),
        ([([(1, 1)], 3)], [(1, 1)], [(1, 1), (2, 1)], [], None, 1),
        ([([(6, 4), (4, 6)], 2)], [], [], [(6, 8)], None, 1),
        ([([(6, 6)], 2), ([(4, 10)], 1)], [], [], [(10, 10)], None, 2),
        ([], [(1, 1)], [(1, 1)], [(1, 1)], None, 0),
        ([(square, 2)], [], [], [], None, 0),
    ],
)
def test_the_fewest_sheets_by_area_and_sides(parts, offcuts, on_hand, to_buy, most_bought, count):
    assert sheet_bounds.fewest_new(parts, offcuts, on_hand, to_buy, 99, most_bought) == count


lengths = st.integers(1, 60)


@given(
    st.lists(lengths, min_size=1, max_size=9),
    st.lists(lengths, max_size=3),
    st.lists(lengths, max_size=3),
    st.one_of(st.just(0), st.integers(20, 60)),
)
def test_strips_have_the_bound_of_sheets_as_narrow_as_their_parts(pieces, offcuts, on_hand, to_buy):
    """The two are worked out apart, each with the same functions of a length."""
    longest = max([to_buy, *on_hand, *offcuts])
    assume(longest)
    pieces = [min(piece, longest) for piece in pieces]
    found = bounds.fewest_new(pieces, offcuts, on_hand, to_buy)
    for turn in (1, -1):
        narrow = [[(length, 1)[::turn] for length in each] for each in (offcuts, on_hand, [to_buy] if to_buy else [])]
        parts = [([(piece, 1)[::turn]], 1) for piece in pieces]
        assert sheet_bounds.fewest_new(parts, *narrow, 99) == found


@pytest.mark.parametrize(("enough", "count"), [(0, 2), (1, 2), (2, 2), (3, 3), (9, 3)])
def test_no_better_bound_is_looked_for_than_is_wanted(enough, count):
    """Three of 60 x 60 are two sheets of 100 x 100 by area, and three since no two of them share one."""
    assert sheet_bounds.fewest_new([([(60, 60)], 3)], [], [], [(100, 100)], enough) == count


@given(
    st.integers(1, 60),
    st.lists(st.integers(1, 12), max_size=4),
    st.one_of(st.none(), st.integers(1, 12)),
    st.one_of(st.none(), st.integers(0, 5)),
)
def test_the_fewest_sheets_by_their_area_alone(wanted, on_hand, to_buy, most_bought):
    """Of some on hand the largest, and so many bought: the least number of both that is large enough."""
    most = 60 if most_bought is None else most_bought
    hand = sorted(on_hand, reverse=True)
    enough = [
        bought + taken
        for bought in range((most if to_buy else 0) + 1)
        for taken in range(len(hand) + 1)
        if bought * (to_buy or 0) + sum(hand[:taken]) >= wanted
    ]
    if enough:
        sides = [(area, 1) for area in on_hand], [(to_buy, 1)] if to_buy else []
        parts = [([(1, 1)], wanted)]
        found = sheet_bounds._count(sheet_bounds._plain, sheet_bounds._plain, parts, [], *sides, most_bought)
        assert found == min(enough)


@given(
    st.lists(st.integers(1, 30), min_size=1, max_size=6), st.lists(st.integers(1, 40), max_size=4), st.integers(0, 40)
)
def test_the_fewest_strips_by_their_length_alone(pieces, on_hand, to_buy):
    """Of some on hand the longest, and so many bought: the least number of both that is long enough."""
    hand = sorted(on_hand, reverse=True)
    enough = [
        bought + taken
        for bought in range(200 if to_buy else 1)
        for taken in range(len(hand) + 1)
        if bought * to_buy + sum(hand[:taken]) >= sum(pieces)
    ]
    if enough:
        assert bounds._count(lambda length: length, pieces, [], on_hand, to_buy) == min(enough)


def test_the_shortest_piece_of_a_sheet():
    assert sheet_bounds.shortest([([(30, 60)], 3)], 100) == 90  # no two side by side
    assert sheet_bounds.shortest([([(30, 50)], 3)], 100) == 45  # by area
    assert sheet_bounds.shortest([([(30, 50)], 1), ([(70, 5)], 1)], 100) == 70
    assert sheet_bounds.shortest([([(30, 120), (120, 30)], 1)], 100) == 120  # only turned
    assert sheet_bounds.shortest([([(30, 34)], 5)], 100) == 75  # two side by side
    assert sheet_bounds.shortest([([(8, 33)], 3), ([(1, 9)], 1)], 100) == 9  # by area 8.01
    assert sheet_bounds.shortest([], 100) == 0


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=1, max_size=12))
def test_no_bound_is_above_what_one_row_takes(sizes):
    """All parts in one row: a piece as long as that holds them."""
    parts = [([size], 1) for size in sizes]
    row = (sum(a for a, _ in sizes), max(b for _, b in sizes))
    assert sheet_bounds.fewest_new(parts, [], [], [row], 99) == 1
    assert sheet_bounds.shortest(parts, row[1]) <= row[0]


def test_many_short_sides_are_tried_a_few_at_a_time():
    """Forty short sides, of which at most sixteen are tried: the longest first, and evenly over the rest."""
    functions = list(sheet_bounds._functions(100, range(1, 41)))
    short = [each.keywords["short"] for each in functions if "short" in getattr(each, "keywords", {})]
    assert short == list(range(40, 0, -3))
    few = list(sheet_bounds._functions(100, [50, 51, 7, 7]))
    assert [each.keywords["short"] for each in few[1:3]] == [50, 7]
    assert [each.keywords["steps"] for each in few[3:]] == [1, 2, 3, 4, 5, 6]
    assert few[0](17) == 17


def test_every_way_leaves_an_offcut_that_holds_nothing_more():
    """Two old pieces hold the small part alone, and the large one takes a new sheet, with no room for the small."""
    small, large = [(3, 3)], [(8, 9)]
    for pieces in ([small, large], [large, small]):
        assert fewest_by_every_way(pieces, [(3, 4), (4, 3)], [(9, 9)]) == 1
        assert fewest_by_every_way(pieces, [], [(9, 9)]) == 2
        assert fewest_by_every_way(pieces, [(2, 9)], [(9, 9)]) == 2
        assert fewest_by_every_way(pieces, [(9, 9)], [(9, 9)]) == 1
        assert fewest_by_every_way(pieces, [(9, 9)] * 2, [(9, 9)]) == 0
        assert fewest_by_every_way(pieces, [(9, 9)], [(3, 3)]) == 1
        assert fewest_by_every_way(pieces, [], [(5, 5)]) is None
    assert fewest_by_every_way([small] * 7, [(3, 3)] * 4, [(9, 9)]) == 1
    assert fewest_by_every_way([small] * 8, [], [(9, 9)]) is None
    assert fewest_by_every_way([small], [(3, 3)] * 5, [(9, 9)]) is None
    assert fewest_by_every_way([small], [(2, 2)] * 5, [(9, 9)]) == 1  # those that hold nothing do not count
    assert fewest_by_every_way([small], [(3, 3)], []) is None


@pytest.mark.parametrize(
    ("count", "good"),
    [("1", True), ("2000", True), ("000000004", True), ("0", False), ("2001", False), ("0000000004", False),
     ("-1", False), ("4.0", False), ("٤", False), ("²", False)],
)  # fmt: skip
def test_counts_from_1_to_2000_in_plain_digits(count, good):
    found = read_parts(f"post; 21 mm; {count}; HO 6x10")
    assert len(found.strips) == good
    assert len(found.bad) == (not good)
    if good:
        assert found.strips[0].count == int(count)


@pytest.mark.parametrize(
    ("size", "sides"),
    [
        ("21 x 18.5 mm", (21, 18.5)), ("21 mm × 18.5 mm", (21, 18.5)), ("21x18.5mm", (21, 18.5)),
        ("1/2 by 3/4 in", (12.7, 19.05)), ("1 in x 20 mm", (25.4, 20)), (" 2 cm x 1 cm ", (20, 10)),
    ],
)  # fmt: skip
def test_two_sides_with_one_unit_or_two(size, sides):
    (wall,) = read_parts(f"wall; {size}; 1; .040 sheet").sheets
    assert (float(wall.length_mm), float(wall.width_mm)) == sides


@pytest.mark.parametrize(
    "line",
    ["wall; 21 x; 1; .040 sheet", "wall; x 21 mm; 1; .040 sheet", "wall; 1 x 2 x 3 mm; 1; .040 sheet",
     "wall; 21 mm x 18; 1; .040 sheet", "; 21 mm; 1; HO 6x10", "post; 21 mm; 1; ", "a; 21 mm; 1; HO 6x10; b; c"],
)  # fmt: skip
def test_what_is_no_part(line):
    found = read_parts(line)
    assert (len(found.bad), found.strips, found.sheets) == (1, (), ())


def test_a_fifth_column_is_the_set_of_equal_parts():
    found = read_parts("post; 21 mm; 1; HO 6x10; posts\npost; 21 mm; 1; HO 6x10;\nwall; 2 x 3 mm; 2; 1 mm sheet; walls")
    assert [each.equal_set for each in (*found.strips, *found.sheets)] == ["posts", None, "walls"]
