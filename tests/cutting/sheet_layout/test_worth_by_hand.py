"""Scrap, offcuts, snaps and their order of sheets drawn by hand, with a saw and without; each figure by hand."""

from fractions import Fraction

import pytest

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, layout, least_height, offcuts
from modelmath.cutting.sheet_layout.fewest import Piece, Supply, counted, held_on, laid_out, new_sheets
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted
from modelmath.cutting.sheet_layout.plan import CutSheet
from modelmath.cutting.sheet_layout.snaps import Units, _Laid, cut_sheet

SHEET = "1 mm sheet"
WHOLE = Piece("to buy", 100, 50, 0)


def part(length, width, number=0):
    return Panel(length, width, number, filled=length * width, count=1)


#   With a saw of 2 all is 2 larger: a sheet 100 x 50 with a part of 60 x 50, then one of 38 x 20 and 38 x 28 free.
SAWN = parted(102, 52, "width", part(62, 52), parted(40, 52, "length", part(40, 22, 1), Panel(40, 30)))
SAW = Units(Fraction(1), 2, 28)


def test_scrap_and_offcuts_go_without_the_saw_cut():
    filler = Filler([[(62, 52)], [(40, 22)]], 2, 2)
    # 100 x 50 less 38 x 28 kept; one offcut of 1064, two cuts at 60 and at 20.
    assert offcuts.worth_of(filler, [(WHOLE, SAWN)], SAW) == (5000 - 1064, 1, -1064, 0, 2, 2)
    assert offcuts.worth_of(filler, [(WHOLE, SAWN)] * 2, SAW) == (2 * (5000 - 1064), 2, -1064, 0, 4, 4)
    assert offcuts.worth_of(filler, [(WHOLE, SAWN)], Units(Fraction(1), 2, 29)) == (5000, 1, 0, 0, 2, 2)


def test_the_equal_side_of_a_set_counts_where_no_line_is_measured_for_it():
    """Two of a set side by side on a sheet just as long: one of them is the rest, and both cuts are at one distance."""
    filler = Filler([[(62, 52)]], 2, 2, {0: 62})
    root = parted(124, 52, "width", part(62, 52), part(62, 52))
    assert offcuts.worth_of(filler, [(WHOLE, root)], SAW) == (122 * 50, 1, 0, 1, 1, 1)


def test_equal_distances_are_set_once_whichever_way_they_lie():
    """At 20 across, then at 20 along: one distance, two snaps."""
    root = parted(50, 30, "width", part(20, 30), parted(30, 30, "length", part(30, 20), Panel(30, 10)))
    units = Units(Fraction(1), 0, 0)
    assert offcuts.worth_of(Filler([[(20, 30)]], 0, 1), [(WHOLE, root)], units) == (1200, 1, -300, 0, 2, 1)


def test_an_empty_sheet_is_no_scrap():
    units = Units(Fraction(1), 0, 0)
    assert offcuts._worth([Panel(100, 100), part(10, 10)], units) == (100, 0)
    assert offcuts._worth([], units) == (0, 0)


@pytest.mark.parametrize(("along", "free"), [("width", (70, 50)), ("length", (100, 20))])
def test_what_a_shorter_piece_leaves_is_free(along, free):
    piece = part(30, 50) if along == "width" else part(100, 30)
    found = offcuts._with_free(Panel(100, 50), along, piece)
    assert (found.length, found.width, found.along, found.first) == (100, 50, along, piece)
    assert (found.second.length, found.second.width, found.second.count) == (*free, 0)
    assert offcuts._shape(along, 9)(4) == ((4, 9) if along == "width" else (9, 4))


@pytest.mark.parametrize("along", ["width", "length"])
def test_parts_are_moved_together_as_far_as_the_rest_can_be_parted_off(along):
    """Two of 20 x 30 apart on 50 x 30, or the same turned: they go on 40; the rest is 10."""
    loose = parted(50, 30, "width", part(20, 30), parted(30, 30, "width", Panel(10, 30), part(20, 30)))
    if along == "length":
        loose = parted(30, 50, "length", part(30, 20), parted(30, 30, "length", Panel(30, 10), part(30, 20)))
    filler = Filler([[(20, 30)] if along == "width" else [(30, 20)]], 0, 10)
    found = [piece for piece, rest in offcuts._moved_together(filler, loose, along, 1, 5_000) if not rest]
    assert [(piece.length, piece.width) for piece in found][-1] == ((40, 30) if along == "width" else (30, 40))
    assert counted(found[-1]) == {0: 2}
    filler.least = 11
    assert list(offcuts._moved_together(filler, loose, along, 1, 5_000)) == []


@pytest.mark.parametrize(("side", "found"), [(65, True), (64, False)])
def test_a_saw_leaves_at_least_something_beyond_its_cut(side, found):
    """Two of 31 (29 and the cut of 2) take 62 of the side: of 65 a 1 is left behind the cut, of 64 nothing is."""
    loose = parted(side, 30, "width", part(31, 30), parted(side - 31, 30, "width", part(31, 30), Panel(side - 62, 30)))
    filler = Filler([[(31, 30)]], 2, 2)
    assert bool(list(offcuts._moved_together(filler, loose, "width", 1, 5_000))) == found


def test_a_sheet_is_emptied_into_the_others():
    """Sheets of 100 x 50: on one 60 x 50 and 40 x 50 free, on the other 40 x 50 and 20 x 50. Moved: 100 and 20."""
    full = parted(100, 50, "width", part(60, 50, 0), Panel(40, 50))
    other = parted(100, 50, "width", part(40, 50, 1), parted(60, 50, "width", part(20, 50, 2), Panel(40, 50)))
    filler = Filler([[(60, 50)], [(40, 50)], [(20, 50)]], 0, 5)
    units = Units(Fraction(1), 0, 5)
    for laid in ([(WHOLE, full), (WHOLE, other)], [(WHOLE, other), (WHOLE, full)]):
        found = offcuts.larger_offcuts(filler, laid, units, 20_000)
        assert counted(*(root for _, root in found)) == {0: 1, 1: 1, 2: 1}
        assert offcuts.worth_of(filler, found, units)[2] == -80 * 50
        roots = [root for _, root in laid]
        for at in (0, 1):
            moved = offcuts._with_others(filler, roots, at, "width", units, 20_000)
            assert counted(*moved) == {0: 1, 1: 1, 2: 1}
            assert len(moved) == 2
            assert [root.length for root in moved] == [100, 100]


PARTS = [SheetPart("wall", 60, 50, 1, SHEET), SheetPart("sill", 20, 38, 1, SHEET)]
BLANK = CutSheet(1, SHEET, "to buy", Fraction(100), Fraction(50), (), (), ())


def test_places_snaps_and_offcuts_of_a_sawn_sheet():
    """Half millimetres, with a saw of 1 mm: the sheet above is 50 x 25."""
    parts = [SheetPart("wall", 30, 25, 1, SHEET), SheetPart("sill", 10, 19, 1, SHEET)]
    found = cut_sheet(SAWN, parts, Units(Fraction(1, 2), 2, 28), BLANK)
    assert [(each.part, each.x_mm, each.y_mm, each.length_mm, each.width_mm, each.turned) for each in found.pieces] == [
        ("wall", 0, 0, 30, 25, False),
        ("sill", 31, 0, 19, 10, True),
    ]
    assert [(each.number, each.panel, each.along, each.at_mm, each.from_edge) for each in found.snaps] == [
        (1, (0, 0, 50, 25), "width", 30, "left edge"),
        (2, (31, 0, 19, 25), "length", 10, "lower edge"),
    ]
    assert [each.frees for each in found.snaps] == [("wall",), ("sill",)]
    assert [(each.x_mm, each.y_mm, each.length_mm, each.width_mm) for each in found.offcuts] == [(31, 11, 19, 14)]
    assert cut_sheet(SAWN, parts, Units(Fraction(1, 2), 2, 29), BLANK).offcuts == ()


def test_the_side_of_a_set_is_in_units_and_has_the_saw_cut():
    parts = [SheetPart("wall", 30, 25, 1, SHEET, True, "walls"), SheetPart("sill", 10, 19, 1, SHEET)]
    assert Units(Fraction(1, 2), 2, 0).equal_sides(parts) == {0: 62}


@pytest.mark.parametrize(("sides", "kept"), [((30, 40), True), ((29, 40), False), ((40, 29), False)])
def test_an_offcut_is_kept_from_its_least_side_on(sides, kept):
    assert SAW.keeps(Panel(*sides)) is kept


def test_what_the_saw_turns_to_dust_is_never_kept():
    assert not Units(Fraction(1), 2, 0).keeps(Panel(2, 40))
    assert Units(Fraction(1), 2, 0).keeps(Panel(3, 40))
    assert Units(Fraction(1), 2, 0).side(1) == 0


def settings_of(root, parts):
    return [snap.at_mm for snap in cut_sheet(root, parts, Units(Fraction(1), 0, 0), BLANK).snaps]


def test_a_distance_that_comes_up_again_later_waits_for_that():
    """After the line at 50, the left half (the larger by its place) is for 20, and so is a part of the right, after 30.

    Thirty first, then both of 20: three settings. The left half first would be 20, 30, 20.
    """
    parts = [SheetPart(f"part {at}", 1, 1, 1, SHEET) for at in range(5)]
    left = parted(50, 50, "width", part(20, 50, 0), part(30, 50, 1))
    right = parted(50, 50, "length", part(50, 30, 2), parted(50, 20, "width", part(20, 20, 3), part(30, 20, 4)))
    assert settings_of(parted(100, 50, "width", left, right), parts) == [50, 30, 20, 20]


def test_a_distance_is_done_with_by_its_own_snaps():
    """At 20 three times over, each in the rest of the one before, beside a larger panel for 30."""
    parts = [SheetPart(f"part {at}", 1, 1, 1, SHEET) for at in range(6)]
    three = parted(60, 20, "width", part(20, 20, 0), parted(40, 20, "width", part(20, 20, 1), part(20, 20, 2)))
    root = parted(60, 70, "length", three, parted(60, 50, "length", part(60, 30, 3), part(60, 20, 4)))
    assert settings_of(root, parts) == [20, 20, 20, 30]
    root = parted(
        60,
        80,
        "length",
        parted(60, 50, "length", part(60, 30, 3), part(60, 20, 4)),
        parted(60, 30, "width", part(20, 30, 0), parted(40, 30, "width", part(20, 30, 1), part(20, 30, 2))),
    )
    assert settings_of(root, parts) == [50, 30, 20, 20]


def test_of_equal_panels_the_one_nearer_to_the_corner_is_next():
    parts = [SheetPart(f"part {at}", 1, 1, 1, SHEET) for at in range(4)]
    root = parted(
        60,
        40,
        "width",
        parted(30, 40, "width", part(10, 40, 0), part(20, 40, 1)),
        parted(30, 40, "width", part(10, 40, 2), part(20, 40, 3)),
    )
    snaps = cut_sheet(root, parts, Units(Fraction(1), 0, 0), BLANK).snaps
    assert [(snap.panel[0], snap.at_mm) for snap in snaps] == [(0, 30), (0, 10), (30, 10)]


def test_the_largest_unit_in_which_all_is_whole():
    parts = [SheetPart("wall", Fraction(15, 2), 5, 1, SHEET)]
    stock = [SheetStock(SHEET, 100, 50)]
    units = layout._units(parts, stock, Fraction(0), Fraction(5), Fraction(10), Fraction(5, 2))
    assert units == Units(Fraction(5, 2), 1, 4)
    assert layout._units([], [], Fraction(0), Fraction(0), Fraction(0), Fraction(0)).one_mm == 1
    assert layout._units(parts, [], Fraction(1, 3), Fraction(0), Fraction(0), Fraction(0)).one_mm == Fraction(1, 6)


def test_the_stock_is_sorted_by_how_it_counts():
    """With a saw of 1 all is 1 larger; of one row no more than there are pieces."""
    rows = [
        SheetStock(SHEET, 30, 20, 5, offcut=True),
        SheetStock(SHEET, 100, 50, 1),
        SheetStock(SHEET, 120, 50, 9),
        SheetStock(SHEET, 10, 20, 1, offcut=True),
        SheetStock(SHEET, 90, 60),
        SheetStock(SHEET, 60, 90),
    ]
    units = Units(Fraction(1), 1, 0)
    supply = layout._supply(rows, units, 2)
    assert [(each.kind, each.length, each.width, each.row) for each in supply.offcuts] == [
        ("offcut", 11, 21, 3),
        ("offcut", 31, 21, 0),
        ("offcut", 31, 21, 0),
    ]
    assert [(each.length, each.row) for each in supply.on_hand] == [(121, 2), (121, 2), (101, 1)]
    assert [(each.kind, each.row) for each in supply.to_buy] == [("to buy", 4), ("to buy", 5)]
    assert [(each.kind, each.row) for each in layout._supply(rows[:4], units, 2).to_buy] == [("to buy", 2)]
    assert layout._supply(rows[:1], units, 2).to_buy == ()


def test_what_lies_free_behind_the_parts_is_taken_off():
    row = parted(60, 50, "width", part(20, 50), parted(40, 50, "width", part(30, 50, 1), Panel(10, 50)))
    short = layout._shortened(row, 50)
    assert (short.length, short.width, counted(short), short.waste) == (50, 50, {0: 1, 1: 1}, 0)
    three = parted(80, 50, "width", part(20, 50), row)
    assert layout._shortened(three, 50).length == 70
    full = parted(50, 50, "width", part(20, 50), part(30, 50, 1))
    assert layout._shortened(full, 50) is full
    along = parted(50, 50, "length", part(50, 20), Panel(50, 30))
    assert layout._shortened(along, 50) is along
    assert layout._shortened(parted(60, 50, "width", part(20, 50), Panel(40, 50)), 50).length == 20


def test_parts_in_a_row_lie_the_short_way_where_they_can():
    """Of 30 x 40 on a width of 50: 30 long where 10 may be left, and 40 where only 20 may."""
    for least, length in ((5, 60), (15, 80)):
        filler = Filler([[(30, 40), (40, 30)]], 0, least)
        row = layout._in_a_row(filler, {0: 2}, 50)
        assert (row.length, row.width, counted(row)) == (length, 50, {0: 2})
    assert layout._in_a_row(filler, {}, 50) == Panel(0, 50)


@pytest.mark.parametrize(
    ("parts", "height"),
    [
        ([("wall", 30, 40, 2)], 30),  # side by side on a width of 80
        ([("wall", 30, 40, 1), ("sill", 30, 40, 1)], 30),
        ([("wall", 30, 40, 3)], 60),
    ],
)
def test_the_first_layout_has_nothing_free_behind_it(parts, height):
    listed = [SheetPart(*each, SHEET) for each in parts]
    assert least_height(listed, 80, effort=0).height_mm == height


def test_the_first_piece_has_room_for_all_parts_the_long_way(monkeypatch):
    """Two of 30 x 40 and one of 50 x 20, a cut of 2 behind each: 84 and 52; 5 and 1 to part off, and all 2 larger."""
    filled = []
    real = Filler.fill
    monkeypatch.setattr(
        Filler,
        "fill",
        lambda self, length, width, *how: filled.append((length, width)) or real(self, length, width, *how),
    )
    parts = [SheetPart("wall", 30, 40, 2, SHEET), SheetPart("sill", 50, 20, 1, SHEET)]
    least_height(parts, 80, least_snap_mm=5, kerf_mm=2, effort=0)
    assert filled[0] == (84 + 52 + 5 + 1 + 2, 82)


def test_nothing_is_found_free_of_charge(monkeypatch):
    """Only as many new sheets as the bound says are looked for, and no bound is asked for more than that."""
    asked = []

    def bound(parts, sheets, on_hand, to_buy, enough, most_bought):
        asked.append((len(sheets), len(on_hand), enough, most_bought))
        return enough

    monkeypatch.setattr(layout, "fewest_new", bound)
    stock = [SheetStock(SHEET, 60, 50, 1, offcut=True), SheetStock(SHEET, 100, 50, 1), SheetStock(SHEET, 100, 50)]
    plan = layout.lay_out_sheet([SheetPart("wall", 60, 50, 4, SHEET)], stock, least_snap_mm=0)  # of the module patched
    assert (plan.new_sheets, sum(each.kind == "to buy" for each in plan.sheets)) == (3, 2)
    assert asked == [(2, 0, 2, None), (1, 1, 3, None), (1, 1, 3, 2)]


def test_a_picky_part_goes_on_what_is_there_and_the_rest_is_bought():
    """Only the offcut of 120 holds the long part; the offcut too small for any stays empty."""
    filler = Filler([[(120, 20)], [(90, 50)], [(30, 30)]], 0, 1)
    supply = Supply((Piece("offcut", 20, 20, 0), Piece("offcut", 120, 50, 1)), (), (WHOLE,))
    laid, rest = laid_out(filler, {0: 1, 1: 1, 2: 4}, supply, 1_000)
    assert rest == {}
    assert [(piece.row, piece.kind) for piece, _ in laid] == [(1, "offcut"), (0, "to buy")]
    assert counted(laid[0][1]) == {0: 1, 2: 4}
    assert new_sheets(laid) == 1
    laid, rest = laid_out(filler, {0: 3}, supply, 1_000)
    assert (counted(laid[0][1]), rest) == ({0: 2}, {0: 1})


def test_only_what_no_sheet_to_buy_holds_is_searched_a_place_for(monkeypatch):
    """The 120 x 20 goes on the first offcut in any case, so nothing is searched for unless there are three of it."""
    searches = []

    def placed(filler, roots, rest, steps):
        searches.append((dict(rest), steps))
        return roots, {}

    monkeypatch.setattr("modelmath.cutting.sheet_layout.fewest.refilled", placed)
    filler = Filler([[(120, 20)], [(90, 50)]], 0, 1)
    supply = Supply((Piece("offcut", 120, 40, 1),), (), (WHOLE,))
    assert laid_out(filler, {1: 2}, supply, 70)[1] == {}
    assert searches == []
    assert laid_out(filler, {0: 2, 1: 1}, supply, 70)[1] == {}
    assert len(laid_out(filler, {0: 3, 1: 1}, supply, 70)[0]) == 2
    assert [each for each in searches if each[0]] == [({0: 1}, 70)]
    searches.clear()
    assert laid_out(filler, {0: 1}, Supply((), (), (WHOLE,)), 70) == ([], {0: 1})
    assert searches == []


def test_what_is_larger_than_the_waste_is_not_searched_for(monkeypatch):
    """4900 of the sheet's 5000 are left free and two parts of 50 x 50 take 5000: no search, whatever the steps."""
    filler = Filler([[(50, 50)]], 0, 1)
    searches = []
    monkeypatch.setattr(
        "modelmath.cutting.sheet_layout.fewest.refilled",
        lambda filler, roots, rest, steps: searches.append((dict(rest), steps)) or (roots, rest),
    )
    assert held_on(filler, [WHOLE], {0: 3}, 100) is None
    assert searches == []
    assert held_on(filler, [Piece("to buy", 99, 99, 0)], {0: 3}, 100) is None
    assert searches == [({0: 2}, 100)]
    assert counted(*(root for _, root in held_on(filler, [WHOLE, WHOLE], {0: 2}, 0))) == {0: 2}
    assert len(held_on(filler, [WHOLE, WHOLE], {0: 2}, 0)) == 1


def test_the_larger_panel_comes_first_whatever_its_sides():
    """10 x 30 is less than 20 x 20; of equal ones the one nearer to the corner, by its x first."""
    panels = [
        _Laid(Panel(10, 30), 0, 0),
        _Laid(Panel(20, 20), 9, 9),
        _Laid(Panel(40, 10), 8, 20),
        _Laid(Panel(10, 40), 8, 3),
    ]
    assert sorted(panels, key=lambda each: each.rank) == [panels[3], panels[2], panels[1], panels[0]]
