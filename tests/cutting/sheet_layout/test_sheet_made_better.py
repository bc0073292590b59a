"""One sheet of a layout made better, and the order in which layouts are held against each other; all by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.cutting.sheet_layout import offcuts
from modelmath.cutting.sheet_layout.fewest import Piece, counted
from modelmath.cutting.sheet_layout.offcuts import _Sheet, _Told
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted
from modelmath.cutting.sheet_layout.snaps import Units

UNITS = Units(Fraction(1), 0, 10)
FILLER = Filler([[(20, 30)], [(30, 20)]], 0, 1)


def part(length, width, number=0):
    return Panel(length, width, number, filled=length * width, count=1)


def sheet(free, width=30):
    """A part of 20 x 30 and so much free beside it."""
    return parted(20 + free, width, "width", part(20, width), Panel(free, width))


def test_what_is_told_of_a_sheet():
    """20 x 30, then 30 x 20 at the same distance across, then 40 x 30 and 9 x 50 free, of which the last is scrap."""
    right = parted(49, 50, "width", parted(40, 50, "length", part(40, 20, 1), Panel(40, 30)), Panel(9, 50))
    left = parted(20, 50, "length", part(20, 30), Panel(20, 20))
    root = parted(69, 50, "width", left, right)
    assert _Told.of(root, UNITS) == _Told(69 * 50 - 1200 - 400, 1200, 4, 3)  # set to 20, 30, 40 and 20
    # With a saw of 2 each side is 2 less: of the free ones 38 x 28 and 18 x 18; 7 are too few.
    assert _Told.of(root, Units(Fraction(1), 2, 10)) == _Told(67 * 48 - 1064 - 324, 1064, 4, 3)
    assert _Told.of(Panel(9, 50), UNITS) == _Told(450, 0, 0, 0)
    assert _Told.of(Panel(10, 50), UNITS) == _Told(0, 500, 0, 0)


@pytest.mark.parametrize(("at", "largest"), [(0, 1500), (1, 1500), (2, 1200)])
def test_the_largest_offcut_of_the_other_sheets_is_the_one_to_beat(at, largest):
    roots = [sheet(30), sheet(40), sheet(50)]
    found = _Sheet(FILLER, roots, at, UNITS)
    assert found.largest == largest
    assert found.root is roots[at]
    own = (30 + 10 * at) * 30
    assert found.least == (600, -max(own, largest), 0, 1, 1, -own)


def test_alone_a_sheet_has_its_own_to_beat():
    assert _Sheet(FILLER, [sheet(30)], 0, UNITS).largest == 0
    assert _Sheet(FILLER, [sheet(9)], 0, UNITS).least == (870, 0, 0, 1, 1, 0)


def test_scrap_then_the_largest_offcut_then_the_sets_then_snaps_then_settings():
    filler = Filler([[(20, 30)], [(30, 20)]], 0, 1, {0: 20})
    two = parted(40, 30, "width", part(20, 30), part(20, 30))
    found = _Sheet(filler, [two], 0, UNITS)
    assert found.least == (1200, 0, 1, 1, 1, 0)
    scattered = parted(70, 30, "width", part(20, 30), parted(50, 30, "width", Panel(10, 30), part(40, 30, 1)))
    assert found._worth(scattered) == (1800, -300, 0, 2, 2, -300)
    filler = Filler([[(62, 52)]], 2, 2, {0: 62})
    units = Units(Fraction(1), 2, 28)
    beside = [(Piece("offcut", 122, 50, 0), parted(124, 52, "width", part(62, 52), part(62, 52)))] * 3
    assert offcuts.worth_of(filler, beside, units) == (3 * 6100, 3, 0, 3, 3, 3)


def test_of_layouts_as_good_the_first_is_kept(monkeypatch):
    """Only a layout that is better by something takes the place of another."""
    found = _Sheet(FILLER, [sheet(30)], 0, UNITS)
    monkeypatch.setattr(found, "_tidied", lambda root: [root])
    first = found.root
    found._take([sheet(30), sheet(9)])
    assert found.root is first
    better, as_good = sheet(40), sheet(40)
    found._take([sheet(35), better, as_good, sheet(30)])
    assert found.root is better
    assert found.least == found._worth(better)


def test_a_sheet_with_very_many_parts_is_left_untidied():
    """From 300 parts on."""
    row, loose = part(2, 5), Panel(3, 5)
    for count in range(2, 300):
        row = parted(row.length + 2, 5, "width", part(2, 5), row)
        if count in (298, 299):
            root = parted(row.length + 5, 5, "width", loose, parted(row.length + 2, 5, "width", part(2, 5), row))
            found = _Sheet(Filler([[(2, 5)]], 0, 1), [root], 0, UNITS)._tidied(root)
            assert root.count == count + 1
            assert all(counted(each) == {0: count + 1} for each in found)
            assert (found == [root]) is (count == 299)


def test_a_layout_that_can_not_be_tidied_stays_as_it_is():
    """Of the 41 long row 1 is left: too little to part off, wherever it is."""
    root = parted(41, 30, "width", part(20, 30), parted(21, 30, "width", Panel(1, 30), part(20, 30)))
    assert _Sheet(Filler([[(20, 30)]], 0, 5), [root], 0, UNITS)._tidied(root) == [root]
    assert all(each != root for each in _Sheet(Filler([[(20, 30)]], 0, 1), [root], 0, UNITS)._tidied(root))


def test_tidied_halves_are_measured_for_a_set():
    """The part of the set goes to the near end, though the other is the larger."""
    root = parted(50, 30, "width", part(30, 30, 1), part(20, 30))
    for equal, first in (({}, 1), ({0: 20}, 0)):
        found = _Sheet(Filler([[(20, 30)], [(30, 30)]], 0, 1, equal), [root], 0, UNITS)._tidied(root)
        assert {each.first.part for each in found} == {first}


@pytest.mark.parametrize(("along", "shortest"), [("width", 40), ("length", 60)])
def test_the_shortest_piece_is_looked_for_by_the_side_that_counts(along, shortest):
    """Two of 20 x 60 on a sheet 60 wide take 40 of its length; on one 40 long they take 60 of its width."""
    found = _Sheet(Filler([[(20, 60)]], 0, 1), [Panel(100, 100)], 0, UNITS)
    assert found._shortest({0: 2}, along, 60 if along == "width" else 40) == shortest


def test_the_best_of_a_sheet_is_found_each_way_it_is_looked_for(monkeypatch):
    """Rows, then pieces with lines across, then along, then a few parts at a time: each has the same share of steps."""
    moved, few = [], []

    def together(filler, root, along, lowest, share, others=()):
        moved.append((root, along, lowest, share, others))
        return iter(())

    monkeypatch.setattr(offcuts, "_moved_together", together)
    monkeypatch.setattr(_Sheet, "_a_few_at_a_time", lambda self, steps: few.append(steps))
    root = parted(100, 50, "width", Panel(20, 50), parted(80, 50, "length", part(80, 30), Panel(80, 20)))
    filler = Filler([[(80, 30)]], 0, 1)
    found = _Sheet(filler, [root], 0, UNITS).best(70)
    # By hand: 80 x 30 in the corner of 100 x 50 leaves 20 x 50 and 80 x 20, or 20 x 30 and 100 x 20: as large is 2000.
    assert counted(found) == {0: 1}
    assert _Told.of(found, UNITS) == _Told(2400, 2000, 2, 2)
    assert moved == [(root, "width", 80, 70, ()), (root, "length", 30, 70, ())]
    assert few == [70]
    empty = Panel(100, 50)
    assert _Sheet(filler, [empty], 0, UNITS).best(70) is empty
    assert len(moved) == 2


def test_a_piece_that_holds_all_is_taken_with_the_rest_free(monkeypatch):
    """Of 100 x 50 a piece of 30 x 50 or one of 100 x 20 holds both parts; the 70 x 50 that is left is larger."""
    across = parted(30, 50, "length", part(30, 20, 1), parted(30, 30, "width", part(20, 30), Panel(10, 30)))
    upper, lower = part(20, 30), part(30, 20, 1)
    loose = parted(
        100,
        50,
        "length",
        parted(100, 30, "width", Panel(80, 30), upper),
        parted(100, 20, "width", lower, Panel(70, 20)),
    )
    monkeypatch.setattr(offcuts, "in_rows", lambda *_given: iter(()))
    monkeypatch.setattr(_Sheet, "_a_few_at_a_time", lambda self, steps: None)
    monkeypatch.setattr(
        offcuts, "_moved_together", lambda filler, root, along, *_: iter([(across, [])] if along == "width" else [])
    )
    found = _Sheet(FILLER, [loose], 0, UNITS).best(70)
    assert _Told.of(found, UNITS).largest == 3500


def test_other_sheets_take_parts_in_their_own_places(monkeypatch):
    """The second of three is emptied from one end: the others stay the first and the third."""
    loose = parted(50, 30, "width", Panel(9, 30), parted(41, 30, "width", part(20, 30), Panel(21, 30)))
    roots = [sheet(12), loose, sheet(11)]
    short = part(20, 30)
    changed = [sheet(11), sheet(12)]
    asked = []

    def together(filler, root, along, lowest, steps, others):
        asked.append((root, along, lowest, steps, list(others)))
        yield parted(25, 30, "width", short, Panel(5, 30)), [roots[0], roots[2]]
        yield short, changed
        yield short, [roots[2], roots[0]]  # as good: the first stays

    monkeypatch.setattr(offcuts, "_moved_together", together)
    found = offcuts._with_others(FILLER, roots, 1, "width", UNITS, 80)
    assert found[0] is changed[0]
    assert found[2] is changed[1]
    assert (found[1].length, found[1].first) == (50, short)
    assert asked == [(roots[1], "width", 1, 80, [roots[0], roots[2]])]
    monkeypatch.setattr(offcuts, "_moved_together", lambda *_given: iter([(part(29, 30), [roots[0], roots[2]])]))
    assert offcuts._with_others(FILLER, roots, 1, "width", UNITS, 80) == roots


@pytest.mark.parametrize(
    ("kinds", "filled", "last"),
    [
        (("to buy", "to buy"), (50, 90), 0),
        (("to buy", "to buy"), (90, 50), 1),
        (("to buy", "to buy"), (50, 50), 1),  # of as full ones the last
        (("offcut", "to buy"), (50, 90), 1),  # an offcut is open anyway
        (("on hand", "offcut"), (90, 50), 0),
        (("offcut", "offcut"), (50, 90), 0),
    ],
)
def test_the_emptiest_whole_sheet_is_the_one_emptied(monkeypatch, kinds, filled, last):
    emptied = []

    def others(filler, roots, at, along, units, share):
        emptied.append((at, along))
        return roots

    monkeypatch.setattr(offcuts, "_with_others", others)
    monkeypatch.setattr(_Sheet, "best", lambda self, share: self.root)
    laid = [
        (Piece(kind, 100, 1, at), Panel(100, 1, 0, filled=its, count=1))
        for at, (kind, its) in enumerate(zip(kinds, filled, strict=True))
    ]
    assert offcuts.larger_offcuts(FILLER, laid, UNITS, 80) == laid
    assert emptied == [(last, "width"), (last, "length")]


def test_a_sheet_left_empty_is_not_opened(monkeypatch):
    monkeypatch.setattr(offcuts, "_with_others", lambda filler, roots, *_: [Panel(50, 30), roots[1]])
    monkeypatch.setattr(_Sheet, "best", lambda self, share: self.root)
    laid = [(Piece("to buy", 50, 30, 0), sheet(30)), (Piece("to buy", 60, 30, 1), sheet(40))]
    assert offcuts.larger_offcuts(FILLER, laid, UNITS, 80) == [laid[1]]
