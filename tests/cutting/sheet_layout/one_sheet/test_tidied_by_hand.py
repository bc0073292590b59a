"""Layouts tidied by hand: parts pushed together, free panels joined, lines at the parts' edges, first one way or other.

Each panel is written as its sides and its part, two halves with the line between them: | across, / along.
"""

from __future__ import annotations

import pytest

from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted
from modelmath.cutting.sheet_layout.one_sheet.tidy import _node, tidied


def part(length, width, number=0):
    return Panel(length, width, number, filled=length * width, count=1)


def told(panel, turned=False):
    if panel.along:
        line = "|" if (panel.along == "width") is not turned else "/"
        return f"({told(panel.first, turned)} {line} {told(panel.second, turned)})"
    sides = (panel.width, panel.length) if turned else (panel.length, panel.width)
    return f"{sides[0]}x{sides[1]}" + (f"#{panel.part}" if panel.count else "")


def across(first, second):
    return parted(first.length + second.length, first.width, "width", first, second)


def along(first, second):
    return parted(first.length, first.width + second.width, "length", first, second)


def over(panel):
    """Return a sheet laid on its side: length and width change places."""
    if not panel.along:
        return Panel(panel.width, panel.length, panel.part, filled=panel.filled, count=panel.count)
    other = "length" if panel.along == "width" else "width"
    return parted(panel.width, panel.length, other, over(panel.first), over(panel.second))


ONE = across(Panel(20, 50), along(part(40, 30), Panel(40, 20)))
TWO = across(along(part(30, 20), Panel(30, 30)), across(along(part(25, 10, 1), Panel(25, 40)), Panel(15, 50)))
ROWS = along(across(part(30, 20), Panel(40, 20)), across(Panel(40, 30), part(30, 30, 1)))
SPLIT = across(part(20, 30), across(Panel(10, 30), across(part(10, 30, 1), Panel(7, 30))))


@pytest.mark.parametrize(
    ("root", "cut_across_first", "cut_along_first"),
    [
        # One part: the line that parts its panel off the sheet comes first, then the one within.
        (ONE, ["((40x30#0 / 40x20) | 20x50)"] * 2, ["((40x30#0 | 20x30) / 60x20)"] * 2),
        # Two side by side: as a row as wide as the wider, or each in a panel as wide as the sheet.
        (
            TWO,
            ["(((30x20#0 | (25x10#1 / 25x10)) / 55x30) | 15x50)", "(((30x20#0 / 30x30) | (25x10#1 / 25x40)) | 15x50)"],
            ["((30x20#0 | ((25x10#1 / 25x10) | 15x20)) / 70x30)"] * 2,
        ),
        # One above the other, the larger first: as one column as long as the longer, or each as long as the sheet.
        (
            ROWS,
            ["((30x30#1 / 30x20#0) | 40x50)"] * 2,
            ["((30x30#1 / 30x20#0) | 40x50)", "((30x30#1 | 40x30) / (30x20#0 | 40x20))"],
        ),
        # As wide as the sheet: there is nothing to part off along it, and what is free goes to the end.
        (SPLIT, ["((20x30#0 | 10x30#1) | 17x30)"] * 2, ["(20x30#0 | (10x30#1 | 17x30))"] * 2),
        (part(30, 20), ["30x20#0"] * 2, ["30x20#0"] * 2),
        # The same on their side.
        (over(ONE), ["((30x40#0 / 30x20) | 20x60)"] * 2, ["((30x40#0 | 20x40) / 50x20)"] * 2),
        (
            over(TWO),
            ["((20x30#0 / ((10x25#1 | 10x25) / 20x15)) | 30x70)"] * 2,
            ["(((20x30#0 / (10x25#1 | 10x25)) | 30x55) / 50x15)", "(((20x30#0 | 30x30) / (10x25#1 | 40x25)) / 50x15)"],
        ),
        (over(ROWS), ["((30x30#1 | 20x30#0) / 50x40)"] * 2, ["((30x30#1 | 20x30#0) / 50x40)"] * 2),
    ],
)
def test_each_way_to_tidy_a_sheet(root, cut_across_first, cut_along_first):
    filler = Filler([[(40, 30)]], 0, 1)
    found = list(tidied(filler, root))
    assert [told(each) for each in found] == [*cut_across_first, *cut_along_first]
    assert {(each.filled, each.count) for each in found} == {(root.filled, root.count)}


@pytest.mark.parametrize(
    ("root", "least", "found"),
    [
        (ONE, 20, True),
        (ONE, 21, False),  # neither 20 beside the part nor 20 above it can be parted off
        (TWO, 15, True),  # 15 beside both can, and each for itself what is above it
        (TWO, 16, False),
        (SPLIT, 17, True),
        (SPLIT, 18, False),
        (ROWS, 40, True),
        (ROWS, 41, False),
    ],
)
def test_what_is_left_has_to_be_wide_enough_to_part_off(root, least, found):
    assert bool(list(tidied(Filler([[(40, 30)]], 0, least), root))) is found


def test_parts_in_a_sheet_without_what_is_free():
    node = _node(TWO)
    assert (node.along, node.length, node.width, node.depth, node.part) == ("width", 55, 20, 2, -1)
    assert [(each.part, each.length, each.width, each.depth, each.inner) for each in node.inner] == [
        (0, 30, 20, 1, []), (1, 25, 10, 1, []),
    ]  # fmt: skip
    node = _node(ROWS)
    assert (node.along, node.length, node.width, [each.part for each in node.inner]) == ("length", 30, 50, [1, 0])
    one = _node(ONE)
    assert (one.part, one.length, one.width, one.depth) == (0, 40, 30, 1)
    # Of parts as large the longer comes last, and of equal ones the lower number first.
    row = across(part(20, 30, 2), across(along(part(30, 20, 3), Panel(30, 10)), part(20, 30, 1)))
    assert [(each.part, each.length) for each in _node(row).inner] == [(1, 20), (2, 20), (3, 30)]
    nested = across(along(part(20, 10, 0), part(20, 20, 1)), part(9, 30, 2))
    assert (_node(nested).depth, _node(nested).length, _node(nested).width) == (3, 29, 30)


def test_a_step_is_counted_for_each_panel():
    filler = Filler([[(40, 30)]], 0, 1)
    next(tidied(filler, ONE))
    assert filler.steps == 2  # the part's panel 40 wide, and the part in it
