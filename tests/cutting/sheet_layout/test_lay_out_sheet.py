"""Sheet layouts: can be snapped as listed, honest about how good they are, easy to follow."""

import re
from collections import Counter
from fractions import Fraction
from functools import cache
from itertools import product

import pytest
from cutting.sheet_layout.sheet_check import check_plan, check_sheet
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet, least_height
from modelmath.cutting.sheet_layout.bounds import fewest_new
from modelmath.cutting.sheet_layout.every_way import fewest_by_every_way
from modelmath.errors import DoesNotFit, OutOfRange, WrongKind

SHEET = "1 mm sheet"
QUICK = 3_000  # steps: enough for a handful of parts


def whole(text):
    return f"^{re.escape(text)}$"


def listed(sizes, may_turn=True):
    return [SheetPart(f"part {at}", *size, SHEET, may_turn) for at, size in enumerate(sizes)]


@cache
def can_be_cut(length, width, parts, least, may_turn):
    """Whether snaps, right across and with `least` on both sides, give these parts; every whole place is tried.

    All sides are whole numbers, so whole places are enough: a system of whole differences has a whole solution.
    """
    if sum(a * b for a, b in parts) > length * width:
        return False
    if not parts or parts in (((length, width),), *([((width, length),)] if may_turn else [])):
        return True
    for chosen in product((False, True), repeat=len(parts)):
        one = tuple(part for part, first in zip(parts, chosen, strict=True) if first)
        other = tuple(part for part, first in zip(parts, chosen, strict=True) if not first)
        if not one:
            continue
        for at in range(max(1, least), length - max(1, least) + 1):
            if all(can_be_cut(*side, least, may_turn) for side in ((at, width, one), (length - at, width, other))):
                return True
        for at in range(max(1, least), width - max(1, least) + 1):
            if all(can_be_cut(*side, least, may_turn) for side in ((length, at, one), (length, width - at, other))):
                return True
    return False


def fewest_by_search(parts, length, width, least, may_turn):
    """Fewest equal sheets, by trying every way to share the parts out; None if some part can't be cut at all."""

    @cache
    def fewest(left):
        if not left:
            return 0
        counts = []
        for chosen in product((False, True), repeat=len(left) - 1):
            here = (left[0], *(part for part, taken in zip(left[1:], chosen, strict=True) if taken))
            rest = tuple(part for part, taken in zip(left[1:], chosen, strict=True) if not taken)
            if can_be_cut(length, width, here, least, may_turn) and (more := fewest(rest)) is not None:
                counts.append(1 + more)
        return min(counts, default=None)

    return fewest(tuple(sorted(parts)))


small_parts = st.lists(st.tuples(st.integers(2, 7), st.integers(2, 7)), min_size=1, max_size=5)


@settings(max_examples=120, deadline=None)
@given(small_parts, st.integers(5, 9), st.integers(4, 8), st.integers(0, 2), st.booleans())
def test_small_jobs_agree_with_a_full_search(sizes, length, width, least, may_turn):
    best = fewest_by_search(sizes, length, width, least, may_turn)
    parts, stock = listed([(*size, 1) for size in sizes], may_turn), [SheetStock(SHEET, length, width)]
    if best is None:
        with pytest.raises(DoesNotFit, match=r"^part \d, .* mm, does not fit: .* too little, because "):
            lay_out_sheet(parts, stock, least_snap_mm=least, effort=QUICK)
        return
    plan = lay_out_sheet(parts, stock, least_snap_mm=least, effort=10 * QUICK)
    check_plan(plan, parts, stock)
    assert plan.bound <= best == plan.new_sheets


sizes_mm = st.one_of(st.integers(4, 60), st.fractions(4, 60, max_denominator=5))
part_lists = st.lists(st.tuples(sizes_mm, sizes_mm, st.integers(1, 4)), min_size=1, max_size=7)
stock_rows = st.lists(st.tuples(st.integers(20, 90), st.integers(20, 90), st.integers(1, 2), st.booleans()), max_size=3)
saws = st.sampled_from([(0, 0), (0, 3), (Fraction(1, 2), 0), (Fraction(1, 2), 3), (1, Fraction(5, 2))])


@settings(max_examples=100, deadline=None)
@given(part_lists, stock_rows, saws, st.sampled_from([0, 10, Fraction(31, 2)]), st.booleans())
def test_any_layout_can_be_snapped_as_listed(sizes, rows, saw, least_offcut, may_turn):
    (kerf, least), parts = saw, listed(sizes, may_turn)
    stock = [SheetStock(SHEET, 80, 64), *(SheetStock(SHEET, *row) for row in rows)]
    how = {"least_snap_mm": least, "least_offcut_mm": least_offcut, "kerf_mm": kerf, "effort": QUICK}
    plan = lay_out_sheet(parts, stock, **how)
    check_plan(plan, parts, stock)
    assert plan == lay_out_sheet(parts, stock, **how)
    assert plan.verdict.endswith(
        "(any to buy 80.00 × 64.00 mm)" if plan.new_sheets else "all of the 1 mm sheet comes from offcuts"
    )


@settings(max_examples=60, deadline=None)
@given(part_lists, st.integers(64, 100), st.integers(64, 100), st.booleans())
def test_more_stock_never_needs_more_new_sheets(sizes, length, width, offcut):
    parts, stock = listed(sizes), [SheetStock(SHEET, 80, 64)]
    fewer = lay_out_sheet(parts, stock, least_snap_mm=0, effort=QUICK)
    more = lay_out_sheet(parts, [*stock, SheetStock(SHEET, length, width, 1, offcut)], least_snap_mm=0, effort=QUICK)
    assert more.bound <= fewer.bound
    if more.proven:
        assert more.new_sheets <= fewer.new_sheets


@settings(max_examples=60, deadline=None)
@given(part_lists)
def test_turning_allowed_never_needs_more(sizes):
    stock = [SheetStock(SHEET, 80, 64)]
    fixed = lay_out_sheet(listed(sizes, may_turn=False), stock, least_snap_mm=0, effort=QUICK)
    free = lay_out_sheet(listed(sizes), stock, least_snap_mm=0, effort=QUICK)
    assert free.bound <= fixed.bound
    if fixed.proven and free.proven:
        assert free.new_sheets <= fixed.new_sheets


@settings(max_examples=60, deadline=None)
@given(part_lists, st.integers(2, 9))
def test_nothing_hangs_on_the_unit(sizes, factor):
    """All lengths times one number give the same layout, as much larger."""
    plan, larger = (
        lay_out_sheet(
            listed([(a * by, b * by, n) for a, b, n in sizes]),
            [SheetStock(SHEET, 80 * by, 64 * by)],
            least_snap_mm=3 * by,
            least_offcut_mm=10 * by,
            effort=QUICK,
        )
        for by in (1, factor)
    )
    assert [snap.at_mm * factor for sheet in plan.sheets for snap in sheet.snaps] == [
        snap.at_mm for sheet in larger.sheets for snap in sheet.snaps
    ]


@settings(max_examples=60, deadline=None)
@given(part_lists, saws)
def test_a_shortest_piece_holds_the_parts_and_is_no_shorter_than_its_bound(sizes, saw):
    (kerf, least), parts = saw, listed(sizes)
    found = least_height(parts, 64, least_snap_mm=least, kerf_mm=kerf, effort=QUICK)
    assert found.bound_mm <= found.height_mm
    assert found.height_mm * 64 >= sum(part.length_mm * part.width_mm * part.count for part in parts)
    check_sheet(found.sheet, kerf, least, 0)
    assert Counter(piece.part for piece in found.sheet.pieces) == {part.name: part.count for part in parts}


@given(st.lists(st.tuples(st.integers(1, 20), st.integers(1, 20)), min_size=1, max_size=6))
def test_the_bound_of_parts_that_cut_a_sheet_up_exactly_is_one(sizes):
    """Parts side by side in a row as wide as the widest: a sheet that holds them all is enough."""
    length, width = sum(a for a, _ in sizes), max(b for _, b in sizes)
    assert fewest_new([((size,), 1) for size in sizes], [], [], [(length, width)], 99) == 1


def test_a_worked_example():
    """Six bulkheads 30 × 20 with a floor 80 × 30 on a sheet 150 × 60: 6 × 600 + 2400 = 6000 = 100 × 60, no scrap."""
    parts = [SheetPart("bulkhead", 30, 20, 6, SHEET), SheetPart("floor", 80, 30, 1, SHEET)]
    stock = [SheetStock(SHEET, 150, 60, thickness_mm=1)]
    plan = lay_out_sheet(parts, stock, least_offcut_mm=10)
    check_plan(plan, parts, stock)
    assert (plan.new_sheets, plan.scrap_mm2) == (1, 0)
    assert plan.verdicts[0].least_snap_mm == 3
    assert plan.sheets[0].offcuts[0].area_mm2 >= 2400
    assert plan.verdict == (
        "proven: no layout of 1 mm sheet uses fewer new sheets than 1 (any to buy 150.00 × 60.00 mm)"
    )
    assert [line.text for line in plan.shopping] == ["1 × 1 mm sheet, 150.00 × 60.00 mm"]


def test_equal_pieces_are_snapped_at_one_setting():
    parts = [
        SheetPart("bulkhead", 25, 40, 4, SHEET, equal_set="ends"),
        SheetPart("tie", 25, 10, 4, SHEET, True, "ends"),
    ]
    stock = [SheetStock(SHEET, 100, 50)]
    plan = lay_out_sheet(parts, stock, least_snap_mm=3)
    check_plan(plan, parts, stock)
    (sheet,) = plan.sheets
    assert sheet.offcuts == ()
    assert sheet.settings == len({snap.at_mm for snap in sheet.snaps}) == 2


def test_a_part_that_is_the_sheet_needs_no_snap():
    plan = lay_out_sheet(listed([(50, 40, 1)]), [SheetStock(SHEET, 40, 50)], least_snap_mm=3)
    assert (plan.sheets[0].snaps, plan.sheets[0].offcuts, plan.sheets[0].pieces[0].turned) == ((), (), True)


def test_offcuts_go_before_the_drawer_and_that_before_the_shop():
    stock = [SheetStock(SHEET, 50, 40, 1, True), SheetStock(SHEET, 100, 80, 1), SheetStock(SHEET, 120, 80)]
    for count, kinds in ((1, ["offcut"]), (5, ["offcut", "on hand"]), (9, ["offcut", "on hand", "to buy"])):
        parts = listed([(50, 40, count)], may_turn=False)
        plan = lay_out_sheet(parts, stock, least_snap_mm=0)
        check_plan(plan, parts, stock)
        assert [sheet.kind for sheet in plan.sheets] == kinds
        assert plan.proven


def test_the_smallest_sheet_that_does_is_bought():
    stock = [SheetStock(SHEET, 300, 200), SheetStock(SHEET, 100, 60)]
    plan = lay_out_sheet(listed([(50, 30, 4)]), stock, least_snap_mm=0)
    assert [(line.length_mm, line.width_mm, line.count) for line in plan.shopping] == [(100, 60, 1)]


def test_what_the_drawer_lacks_is_to_buy_in_the_largest_size_listed():
    stock = [SheetStock(SHEET, 100, 80, 1), SheetStock(SHEET, 50, 80, 1), SheetStock(SHEET, 500, 500, 1, offcut=True)]
    parts = listed([(400, 400, 1), (100, 80, 3), (90, 400, 1), (490, 90, 1)], may_turn=False)
    plan = lay_out_sheet(parts, stock, least_snap_mm=0)
    assert [sheet.kind for sheet in plan.sheets] == ["offcut", "on hand", "to buy", "to buy"]
    assert {(line.length_mm, line.width_mm) for line in plan.shopping} == {(100, 80)}


def test_a_part_that_only_one_sheet_on_hand_holds_gets_it():
    stock = [SheetStock(SHEET, 100, 80), SheetStock(SHEET, 200, 30, 1)]
    parts = listed([(190, 25, 1), (95, 25, 2), (60, 60, 1)])
    plan = lay_out_sheet(parts, stock, least_snap_mm=0)
    check_plan(plan, parts, stock)
    assert [sheet.kind for sheet in plan.sheets] == ["on hand", "to buy", "to buy"]
    assert plan.sheets[0].pieces[0].part == "part 0"


def test_long_pieces_never_share_a_sheet_however_small_their_area():
    plan = lay_out_sheet(listed([(5, 3, 5)]), [SheetStock(SHEET, 9, 9)], least_snap_mm=0)
    assert (plan.new_sheets, plan.bound, plan.proven) == (2, 2, True)


def test_a_small_tight_job_is_proven_by_every_way_to_part_it():
    """By full search two sheets are needed; by area and by dual-feasible functions one might do."""
    sizes = [(7, 4), (3, 6), (4, 3), (3, 3)]
    assert fewest_by_search(sizes, 9, 9, 0, may_turn=True) == 2
    assert fewest_new([((size, size[::-1]), 1) for size in sizes], [], [], [(9, 9)], 2) == 1
    plan = lay_out_sheet(listed([(*size, 1) for size in sizes]), [SheetStock(SHEET, 9, 9)], least_snap_mm=0)
    assert (plan.new_sheets, plan.bound, plan.proven) == (2, 2, True)


@settings(max_examples=100, deadline=None)
@given(small_parts, st.integers(5, 9), st.integers(4, 8), st.booleans())
def test_every_way_to_part_gives_what_a_full_search_gives(sizes, length, width, may_turn):
    ways = [[size, size[::-1]] if may_turn else [size] for size in sizes]
    best = fewest_by_search(sizes, length, width, 0, may_turn)
    assert fewest_by_every_way(ways, [], [(length, width)]) == best
    if best is not None:
        assert fewest_by_every_way(ways, [(length, width)], [(length, width)]) == best - 1


def test_every_way_is_left_where_there_are_too_many():
    assert fewest_by_every_way([[(1, 1)]] * 8, [], [(9, 9)]) is None


@settings(max_examples=100, deadline=None)
@given(small_parts, st.integers(5, 9), st.integers(4, 8), st.integers(0, 2), st.integers(1, 2))
def test_what_is_refused_has_no_place_on_the_offcuts(sizes, length, width, least, count):
    best = fewest_by_search(sizes, length, width, least, True)
    parts, stock = listed([(*size, 1) for size in sizes]), [SheetStock(SHEET, length, width, count, True)]
    if best is None or best > count:
        with pytest.raises(DoesNotFit, match=r"^part \d, .* mm, does not fit: .* too little, because "):
            lay_out_sheet(parts, stock, least_snap_mm=least)
        return
    plan = lay_out_sheet(parts, stock, least_snap_mm=least)
    check_plan(plan, parts, stock)
    assert (plan.new_sheets, plan.proven) == (0, True)
    assert plan.verdict == "all of the 1 mm sheet comes from offcuts"


def test_a_layout_that_is_not_proven_shows_the_gap():
    """4 + 4 leaves 2 of 10, too little to snap off, so each part needs a sheet; the bound does not know of that."""
    assert fewest_by_search([(4, 4)] * 2, 10, 4, 3, may_turn=True) == 2
    plan = lay_out_sheet(listed([(4, 4, 2)]), [SheetStock(SHEET, 10, 4)], least_snap_mm=3)
    assert (plan.new_sheets, plan.bound, plan.proven) == (2, 1, False)
    assert plan.verdict == (
        "not proven: the layout of 1 mm sheet uses 2 new sheets, the bound is 1: at most 1 sheet too many "
        "(any to buy 10.00 × 4.00 mm)"
    )


@pytest.mark.parametrize("saw", [0, Fraction(1, 10)])
def test_floats_that_just_add_up_fit(saw):
    assert 0.1 + 0.2 > 0.3
    parts = listed([(0.1, 0.2, 1), (0.2, 0.2, 1)], may_turn=False)
    stock = [SheetStock(SHEET, 0.3 + float(saw), 0.2)]
    assert lay_out_sheet(parts, stock, least_snap_mm=0, kerf_mm=saw).new_sheets == 1
    if saw:
        assert lay_out_sheet(parts, [SheetStock(SHEET, 0.399999, 0.2)], least_snap_mm=0, kerf_mm=saw).new_sheets == 2


def test_nothing_to_cut_is_an_empty_plan():
    plan = lay_out_sheet([], [SheetStock(SHEET, 100, 100)])
    assert (plan.sheets, plan.shopping, plan.new_sheets, plan.proven, plan.scrap_mm2) == ((), (), 0, True, 0)
    assert plan.verdict == "nothing is cut from sheet"


def test_many_copies_are_laid_out_too():
    parts = listed([(3, 2, 1500)])
    plan = lay_out_sheet(parts, [SheetStock(SHEET, 100, 100)], least_snap_mm=0)
    assert plan.new_sheets == plan.bound == 1
    assert len(plan.sheets[0].pieces) == 1500


@pytest.mark.parametrize(
    ("make", "error", "text"),
    [
        (
            lambda: lay_out_sheet(listed([(120, 80, 1)]), [SheetStock(SHEET, 100, 90)], least_snap_mm=3),
            DoesNotFit,
            (
                "part 0, 120.00 × 80.00 mm, does not fit: 20.00 mm too little, because the nearest 1 mm sheet is "
                "100.00 × 90.00 mm. List a larger sheet, or make the part of two."
            ),
        ),
        (
            lambda: lay_out_sheet(listed([(40, 80, 1)], False), [SheetStock(SHEET, 100, 50)], least_snap_mm=3),
            DoesNotFit,
            (
                "part 0, 40.00 × 80.00 mm, does not fit: 30.00 mm too little, because the nearest 1 mm sheet is "
                "100.00 × 50.00 mm, and the part may not be turned. List a larger sheet, or make the part of two."
            ),
        ),
        (
            lambda: lay_out_sheet(listed([(20, 2.5, 1)]), [SheetStock(SHEET, 100, 50, thickness_mm=1)]),
            DoesNotFit,
            (
                "part 0, 20.00 × 2.50 mm, does not fit: 0.50 mm too little, because what is snapped off 1 mm sheet has "
                "to be 3.00 mm wide at least. Cut it from strip or with a saw; or allow a smaller least snap width, "
                "if you can snap that."
            ),
        ),
        (
            lambda: lay_out_sheet(listed([(98, 20, 1)]), [SheetStock(SHEET, 100, 50)], least_snap_mm=3),
            DoesNotFit,
            (
                "part 0, 98.00 × 20.00 mm, does not fit: 1.00 mm too little, because the nearest 1 mm sheet is "
                "100.00 × 50.00 mm, which leaves 2.00 mm to snap off, and the least is 3.00 mm. "
                "List a sheet of another size; or allow a smaller least snap width, if you can snap that."
            ),
        ),
        (
            lambda: lay_out_sheet(listed([(40, 30, 2)]), [SheetStock(SHEET, 50, 40, 1, True)], least_snap_mm=3),
            DoesNotFit,
            (
                "part 0, 40.00 × 30.00 mm, does not fit: 30.00 mm too little, because no place was found for it on the "
                '1 mm sheet on hand, and no full sheet is listed. Add SheetStock("1 mm sheet", length_mm, width_mm) '
                "for sheet to buy that holds it."
            ),
        ),
        (
            lambda: lay_out_sheet(
                listed([(90, 40, 2)]), [SheetStock(SHEET, 50, 40), SheetStock(SHEET, 100, 50, 1)], least_snap_mm=3
            ),
            DoesNotFit,
            (
                "part 0, 90.00 × 40.00 mm, does not fit: 40.00 mm too little, because no place was found for it on the "
                '1 mm sheet on hand, and no sheet to buy holds it. Add SheetStock("1 mm sheet", length_mm, width_mm) '
                "for sheet to buy that holds it."
            ),
        ),
        (
            lambda: lay_out_sheet(listed([(40, 30, 2)]), [SheetStock("2 mm sheet", 50, 40)]),
            OutOfRange,
            (
                "sheet_name of part 0 is '1 mm sheet'; it must be the name of a row of the stock. "
                'Add SheetStock("1 mm sheet", length_mm, width_mm) for sheet to buy.'
            ),
        ),
        (
            lambda: lay_out_sheet(listed([(40, 30, 2)]), [SheetStock(SHEET, 50, 40)]),
            OutOfRange,
            (
                "thickness_mm of 1 mm sheet is None; it must be one thickness, the same in all its rows. "
                "Write it in each row, or give least_snap_mm."
            ),
        ),
        (
            lambda: lay_out_sheet(
                listed([(40, 30, 2)]),
                [SheetStock(SHEET, 50, 40, thickness_mm=1), SheetStock(SHEET, 60, 40, thickness_mm=1.5)],
            ),
            OutOfRange,
            (
                "thickness_mm of 1 mm sheet is 1 mm, 1.5 mm; it must be one thickness, the same in all its rows. "
                "Write it in each row, or give least_snap_mm."
            ),
        ),
        (
            lambda: lay_out_sheet(
                [SheetPart("left", 30, 20, 1, SHEET, True, "ends"), SheetPart("right", 31, 20, 1, SHEET, True, "ends")],
                [SheetStock(SHEET, 50, 40)],
            ),
            OutOfRange,
            (
                "length_mm of right is 31 mm; it must be 30 mm, as left of the equal set 'ends'. "
                "Give both one length, or take one out of the set."
            ),
        ),
        (
            lambda: SheetPart("floor", 30, 0, 1, SHEET),
            OutOfRange,
            "width_mm of floor is 0 mm; it must be above 0 mm. Write a positive number of mm.",
        ),
        (
            lambda: SheetPart("floor", "30", 20, 1, SHEET),
            WrongKind,
            "length_mm of floor is '30'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: SheetPart("floor", 30, 20, 0, SHEET),
            OutOfRange,
            "count of floor is 0; it must be a whole number, 1 or more. Leave the part out if none is needed.",
        ),
        (
            lambda: SheetStock(SHEET, 30, 20, None, True),
            OutOfRange,
            "count of the 1 mm sheet offcuts is None; it must be a whole number. Offcuts can't be bought.",
        ),
        (
            lambda: SheetStock(SHEET, float("inf"), 20),
            OutOfRange,
            "length_mm of 1 mm sheet is inf mm; it must be a finite length above 0 mm. Write a number of mm.",
        ),
        (
            lambda: lay_out_sheet([], [], kerf_mm=-0.5),
            OutOfRange,
            "kerf_mm is -0.5 mm; it must be 0 mm or more. Write a positive number of mm.",
        ),
        (
            lambda: least_height(listed([(40, 60, 1)]), 30),
            DoesNotFit,
            (
                "part 0, 40.00 × 60.00 mm, does not fit: 10.00 mm too little, because the sheet is 30.00 mm wide. "
                "Take a wider sheet, or make the part of two."
            ),
        ),
        (
            lambda: least_height(listed([(40, 28, 1)]), 30, least_snap_mm=3),
            DoesNotFit,
            (
                "part 0, 40.00 × 28.00 mm, does not fit: 1.00 mm too little, because the sheet is 30.00 mm wide, which "
                "leaves 2.00 mm to snap off, and the least is 3.00 mm. "
                "Take a sheet of another width; or allow a smaller least snap width, if you can snap that."
            ),
        ),
        (
            lambda: least_height(listed([(40, 2, 1)]), 30, least_snap_mm=3),
            DoesNotFit,
            (
                "part 0, 40.00 × 2.00 mm, does not fit: 1.00 mm too little, because what is snapped off the sheet has "
                "to be 3.00 mm wide at least. Cut it from strip or with a saw; or allow a smaller least snap width, "
                "if you can snap that."
            ),
        ),
    ],
)
def test_wrong_input_says_what_to_write(make, error, text):
    with pytest.raises(error, match=whole(text)):
        make()
