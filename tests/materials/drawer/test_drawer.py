"""Taking out of the drawer and putting back: nothing appears, nothing is lost."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer, NotInDrawer, Use, put_in, take_out
from modelmath.materials.drawer.items import Item

LONG = Item("strip", "HO 6x10", Fraction(280), count=2)
SHORT = Item("strip", "HO 6x10", Fraction(96), count=1, offcut=True)
DRAWER = Drawer((LONG, SHORT, Item("sheet", ".040 sheet", Fraction(300), Fraction(150))))


def amounts(drawer):
    counts = Counter()
    for each in drawer.items:
        counts[each.same_as] += each.count
    return counts


def test_what_is_taken_out_is_gone_and_an_offcut_is_there():
    after = take_out(
        DRAWER, [Use("strip", "HO 6x10", Fraction(280))], [Item("strip", "HO 6x10", Fraction(96), None, 2, True)]
    )
    assert [(each.said, each.count) for each in after.items] == [
        ("HO 6x10, 280 mm", 1),
        ("HO 6x10, 96 mm, offcut", 3),
        (".040 sheet, 300 mm x 150 mm", 1),
    ]


@pytest.mark.parametrize(
    "use",
    [
        Use("strip", "HO 6x10", Fraction(280), None, 3),
        Use("strip", "HO 6x10", Fraction(280), None, 1, True),  # a whole strip is no offcut
        Use("strip", "HO 6x10", Fraction(2801, 10)),
        Use("sheet", ".040 sheet", Fraction(150), Fraction(300)),
    ],
)
def test_what_is_not_there_leaves_all_as_it_was(use):
    with pytest.raises(
        NotInDrawer, match=r"^The drawer lacks .*\. Nothing was taken out; plan again from what is there now\.$"
    ):
        take_out(DRAWER, [Use("strip", "HO 6x10", Fraction(96), None, 1, True), use])
    assert DRAWER.items[1].count == 1


def test_what_lacks_is_told_with_its_count():
    with pytest.raises(NotInDrawer) as told:
        take_out(DRAWER, [Use("strip", "HO 6x10", Fraction(280), None, 5)])
    assert told.value.missing == ("3 x HO 6x10, 280 mm",)


lengths = st.integers(1, 4).map(Fraction)
strips = st.builds(
    lambda length, count, offcut, note: Item("strip", "HO 6x10", length, None, count, offcut, None, note),
    lengths, st.integers(1, 4), st.booleans(), st.sampled_from(["", "a note"]),
)  # fmt: skip
uses = st.builds(lambda length, count, offcut: Use("strip", "HO 6x10", length, None, count, offcut),
                 lengths, st.integers(1, 4), st.booleans())  # fmt: skip


@given(st.lists(strips, max_size=6), st.lists(uses, max_size=4), st.lists(strips, max_size=3))
def test_pieces_are_counted_like_money(rows, taken, back):
    drawer = Drawer(tuple(rows))
    try:
        after = take_out(drawer, taken, back)
    except NotInDrawer:
        asked = Counter()
        for use in taken:
            asked[Item("strip", use.name, use.length_mm, None, 1, use.offcut).same_as] += use.count
        assert any(amounts(drawer)[key] < count for key, count in asked.items())
        return
    expected = amounts(drawer)
    for use in taken:
        expected[Item("strip", use.name, use.length_mm, None, 1, use.offcut).same_as] -= use.count
    expected.update(amounts(Drawer(put_in((), back))))
    assert amounts(after) == +expected
    assert all(each.count > 0 for each in after.items)


@given(st.lists(strips, max_size=6))
def test_taking_all_out_leaves_nothing(rows):
    drawer = Drawer(tuple(rows))
    all_of_it = [Use("strip", row.name, row.length_mm, None, row.count, row.offcut) for row in rows]
    assert take_out(drawer, all_of_it).items == ()


def test_pieces_with_different_notes_stay_apart():
    warped, straight = (replace(LONG, note=note) for note in ("warped", "straight"))
    assert put_in((), [warped, straight, warped]) == (replace(warped, count=4), straight)


def test_more_than_a_row_may_count_begins_another():
    full = Item("drill", "#67", count=100_000)
    assert [each.count for each in put_in([full], [Item("drill", "#67"), Item("drill", "#67")])] == [100_000, 2]


def test_the_demo_drawer_says_it_is_invented():
    drawer = demo_drawer()
    assert drawer.demo.startswith("Demo drawer: invented")
    assert {each.kind for each in drawer.items} == {"strip", "shape", "sheet", "wire", "strand", "drill"}
    assert [each.name for each in drawer.drills] == ["#73", "#69", "0.80 mm", "#67", "#60", "1/16 in", "2.50 mm"]
    assert drawer.strips[0].length_mm == 280
    assert drawer.sheets[1].offcut
    assert Drawer().summary == "The drawer is empty."
