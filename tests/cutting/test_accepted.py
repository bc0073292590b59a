"""What a plan, once cut, takes out of the drawer and puts back: nothing appears and nothing is lost."""

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.cutting.accept import after_cutting, uses_of
from modelmath.cutting.from_drawer import Settings, cut_list
from modelmath.cutting.typed import read_parts
from modelmath.materials.drawer.drawer import Drawer, NotInDrawer
from modelmath.materials.drawer.items import Item

HOW = Settings(Fraction(1), Fraction(2), Fraction(20), Fraction(300), (Fraction(300), Fraction(150)))
STRIP, SHEET = "1.5 x 2 mm", ".040 sheet"


def strip(length, count=1, offcut=False):
    return Item("strip", STRIP, Fraction(length), None, count, offcut)


def sheet(length, width, count=1, offcut=False):
    return Item("sheet", SHEET, Fraction(length), Fraction(width), count, offcut)


def counted(items):
    found = Counter()
    for each in items:
        found[each.name, each.length_mm, each.width_mm, each.offcut] += each.count
    return found


def test_a_strip_gives_its_part_and_comes_back_as_an_offcut():
    held = Drawer((strip(100, 3),))
    cutting = cut_list(read_parts(f"post; 40 mm; 1; {STRIP}"), held, HOW)
    # By hand: 2 mm trimmed at the end, 40 mm of part, 1 mm of saw cut; 57 mm are left.
    assert counted(after_cutting(held, cutting).items) == {
        (STRIP, 100, None, False): 2,
        (STRIP, 57, None, True): 1,
    }


def test_a_sheet_gives_its_part_and_comes_back_as_one_offcut():
    held = Drawer((sheet(100, 50, 2),))
    cutting = cut_list(read_parts(f"floor; 60 x 50 mm; 1; {SHEET}"), held, HOW)
    # By hand: one snap across; 40 x 50 mm are left, the longer side first.
    assert counted(after_cutting(held, cutting).items) == {
        (SHEET, 100, 50, False): 1,
        (SHEET, 50, 40, True): 1,
    }


def test_what_is_bought_is_not_taken_out():
    held = Drawer((strip(30),))
    cutting = cut_list(read_parts(f"post; 40 mm; 1; {STRIP}"), held, HOW)
    takes, back = uses_of(cutting)
    assert takes == []
    assert [(each.length_mm, each.count, each.offcut) for each in back] == [(300 - 2 - 40 - 1, 1, True)]


def test_what_is_gone_meanwhile_takes_nothing_out():
    held = Drawer((strip(100), sheet(100, 50)))
    cutting = cut_list(read_parts(f"post; 40 mm; 1; {STRIP}\nfloor; 60 x 50 mm; 1; {SHEET}"), held, HOW)
    with pytest.raises(NotInDrawer):
        after_cutting(Drawer((sheet(100, 50),)), cutting)


@settings(max_examples=40)
@given(
    st.lists(st.integers(25, 90), min_size=1, max_size=6),
    st.lists(st.tuples(st.integers(100, 250), st.integers(1, 3)), min_size=1, max_size=3),
)
def test_no_strip_appears_and_none_is_lost(parts, stock):
    held = Drawer(tuple(strip(length, count) for length, count in dict(stock).items()))
    text = "\n".join(f"part {number}; {length} mm; 1; {STRIP}" for number, length in enumerate(parts))
    cutting = cut_list(read_parts(text), held, HOW)
    after = after_cutting(held, cutting)
    bought = sum(each.length_mm for each in cutting.strips.strips if each.kind == "to buy")
    before, now = (sum(each.length_mm * each.count for each in drawer.items) for drawer in (held, after))
    assert before + bought - now == sum(parts) + sum(each.scrap_mm for each in cutting.strips.strips)
    assert all(each.offcut for each in after.items if each.length_mm not in dict(stock))


def test_a_shape_comes_back_as_a_shape():
    rod = Item("shape", "2 mm rod", Fraction(100), None, 1, False)
    cutting = cut_list(read_parts("pin; 40 mm; 1; 2 mm rod"), Drawer((rod,)), HOW)
    (take,), (back,) = uses_of(cutting)
    assert (take.kind, take.name, take.length_mm, take.count, take.offcut) == ("shape", "2 mm rod", 100, 1, False)
    assert (back.kind, back.name, back.length_mm, back.count, back.offcut) == ("shape", "2 mm rod", 57, 1, True)


def test_of_equal_lengths_the_offcut_is_taken_out():
    held = Drawer((strip(100), strip(100, offcut=True), sheet(100, 50), sheet(100, 50, offcut=True)))
    text = f"post; 80 mm; 1; {STRIP}\nfloor; 100 x 50 mm; 1; {SHEET}"
    cutting = cut_list(read_parts(text), held, HOW)
    assert [each.offcut for each in uses_of(cutting)[0]] == [True, True]
    # By hand: of the strip 100 - 2 - 80 - 1 = 17 are left, less than the 20 worth keeping; of the sheet nothing.
    assert counted(after_cutting(held, cutting).items) == {(STRIP, 100, None, False): 1, (SHEET, 100, 50, False): 1}


def test_an_offcut_of_sheet_has_its_longer_side_first():
    held = Drawer((sheet(100, 50),))
    cutting = cut_list(read_parts(f"floor; 70 x 50 mm; 1; {SHEET}"), held, HOW)
    assert counted(after_cutting(held, cutting).items) == {(SHEET, 50, 30, True): 1}
    cutting = cut_list(read_parts(f"floor; 100 x 30 mm; 1; {SHEET}"), held, HOW)
    assert counted(after_cutting(held, cutting).items) == {(SHEET, 100, 20, True): 1}
