"""What layouts say: where to mark, what is too thin and what to do, why holes do not fit; whole texts."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from modelmath.enclosure.holes import (
    Hole,
    KeepOut,
    PlacedHole,
    Plate,
    check_holes,
    lay_out_holes,
    move_hole,
    numbered_holes,
)
from modelmath.errors import DoesNotFit, OutOfRange, UnknownChoice, WrongKind

PLATE = Plate(20, 12)


def whole(text):
    return f"^{re.escape(text)}$"


def test_names_are_numbered_and_none_is_taken_twice():
    holes = [Hole("strand", 1, count=2), Hole("strand 2", 1), Hole("strand", 2), Hole("wire", 1)]
    named = numbered_holes(holes)
    assert [each.name for each in named] == ["strand 1", "strand 3", "strand 2", "strand 4", "wire"]
    assert [each.diameter_mm for each in named] == [1, 1, 1, 2, 1]


def test_where_to_mark():
    layout = lay_out_holes(
        [Hole("strand", 1, drill="#60", count=2), Hole("wire", 1)], PLATE, 1, way="row", row_height_mm=5
    )
    assert layout.marking_out == (
        (
            "strand 1: drill #60, 5.25 mm left of the centre line (4.75 mm from the left edge), "
            "5.00 mm above the lower edge."
        ),
        "strand 2: drill #60, on the centre line (10.00 mm from the left edge), 5.00 mm above the lower edge.",
        "wire: 1.00 mm, 5.25 mm right of the centre line (15.25 mm from the left edge), 5.00 mm above the lower edge.",
    )
    assert layout.sentences == (
        "The least web is that between strand 1 and strand 2: 4.25 mm.",
        "Places are rounded to 0.01 mm; that costs nothing of the least web.",
    )
    assert layout.caution.startswith("Drills of 0.0400 in and under break easily, number drills from #60 on: hold")
    assert lay_out_holes([Hole("wire", 2)], PLATE, 1).caution == ""


def test_a_check_names_each_web_that_is_too_thin():
    placed = [PlacedHole(Hole("strand", 1), -9.2, 6.0), PlacedHole(Hole("wire", 1, "lamp"), 0, 6)]
    placed += [PlacedHole(Hole("bundle", 2, "speaker"), 1.2, 6)]
    found = check_holes(placed, PLATE, 1, Fraction(3, 2), [KeepOut("post", 2, 4, 0, 12)], 2)
    assert [f"{web.text} {web.remedy}" for web in found] == [
        (
            "wire and bundle overlap by 0.30 mm; 2.00 mm are wanted between them. "
            "Move wire by 2.30 mm to the left, or take a smaller drill."
        ),
        (
            "bundle and the post overlap by 0.20 mm; 1.00 mm are wanted between them. "
            "Move bundle by 1.20 mm to the left, or take a smaller drill."
        ),
        (
            "The web between strand and the left edge is 0.30 mm; 1.50 mm are wanted. "
            "Move strand by 1.20 mm to the right, or take a smaller drill."
        ),
    ]


def test_a_hole_moved_out_of_the_plate_is_not_refused_but_named():
    layout = move_hole(lay_out_holes([Hole("wire", 1)], PLATE, 1), "wire", 11, 13)
    assert layout.way == "by hand"
    assert layout.sentences == (
        "The least web is that between wire and the right edge: they overlap by 1.91 mm.",
        (
            "wire and the right edge overlap by 1.91 mm; 1.00 mm are wanted between them. "
            "Move wire by 2.07 mm to the left and by 2.07 mm down, or take a smaller drill."
        ),
    )


def fails(error, text):
    return pytest.raises(error, match=whole(text))


def test_a_row_that_is_too_long():
    """10 holes of 1 mm and 11 webs of 1 mm take 21 mm; 10 / 11 of a web would do."""
    text = (
        "A row of 10 at 6.00 mm does not fit: 1.00 mm too little, because holes and webs take 21.00 mm of the 20.00 mm "
        "free at that height. Take webs of at most 0.90 mm, or spread them over the plate."
    )
    with fails(DoesNotFit, text):
        lay_out_holes([Hole("strand", 1, count=10)], PLATE, 1, way="row", row_height_mm=6)


def test_a_row_parted_by_a_post():
    """Stretches of 9 mm hold 4 holes of 1 mm with webs of 1 mm each; the ninth would need 2 mm more."""
    text = (
        "A row of 9 at 6.00 mm does not fit: 2.00 mm too little, because holes and webs take 20.00 mm of the 18.00 mm "
        "free at that height, parted by post. Take webs of at most 0.66 mm, or spread them over the plate."
    )
    with fails(DoesNotFit, text):
        lay_out_holes(
            [Hole("strand", 1, count=9)], PLATE, 1, keep_out=[KeepOut("post", -1, 1, 0, 12)], way="row", row_height_mm=6
        )


def test_a_row_too_low():
    text = (
        "A row of 2 at 1.00 mm does not fit: 0.50 mm too little, because the web between strand 1 and the lower edge "
        "is 0.50 mm; 1.00 mm are wanted. Choose another height, a thinner web or a smaller drill."
    )
    with fails(DoesNotFit, text):
        lay_out_holes([Hole("strand", 1, count=2)], PLATE, 1, way="row", row_height_mm=1)


def test_a_row_too_long_at_every_height_tells_of_the_one_that_lacks_least():
    text = (
        "A row of 10 at 6.00 mm does not fit: 1.00 mm too little, because holes and webs take 21.00 mm of the 20.00 mm "
        "free at that height. Take webs of at most 0.90 mm, or spread them over the plate."
    )
    with fails(DoesNotFit, text):
        lay_out_holes([Hole("strand", 1, count=10)], PLATE, 1, way="row")


def test_a_spread_that_does_not_fit():
    """Two holes of 1 mm on the diagonal of an 8 mm square leave (7 sqrt(2) - 1) / (1 + 2 sqrt(2)) = 2.3246 mm."""
    text = (
        "A spread of 2 holes does not fit: 0.18 mm too little, because at best the webs between strand 1 and strand 2, "
        "strand 1 and the {}, strand 2 and the {} are that much too thin. It fits with webs of 2.32 mm, or take fewer "
        "or smaller holes."
    )
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("strand", 1, count=2)], Plate(8, 8), 2.5)
    edges = re.findall(r"strand . and the (\w+ edge)", str(caught.value))
    assert str(caught.value) == text.format(*edges)
    assert len(lay_out_holes([Hole("strand", 1, count=2)], Plate(8, 8), 2.32).holes) == 2


def test_a_spread_kept_out_by_an_opening():
    """Beside an opening of 6 mm in 8 mm, 1 mm is left; a hole of 1 mm fills it."""
    text = (
        "wire does not fit: 1.00 mm too little, because at best the webs between wire and the opening, wire and the "
        "{} are that much too thin. Not even the smallest hole leaves such a web there. "
        "Without the opening it fits as it is."
    )
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("wire", 1)], Plate(8, 8), 1, keep_out=[KeepOut("opening", -3, 3, 0, 8)])
    edges = re.findall(r"wire and the (\w+ edge)", str(caught.value))
    assert str(caught.value) == text.format(*edges)


def test_a_hole_too_large_for_its_plate():
    """9 mm and 2 mm of web in 8 mm: 3 mm too much, half of it on each side."""
    text = (
        "bundle does not fit: 1.50 mm too little, because at best the web between bundle and the right edge is that "
        "much too thin. It fits with holes 3.00 mm smaller."
    )
    with fails(DoesNotFit, text):
        lay_out_holes([Hole("bundle", 9)], Plate(8, 30), 1)


@pytest.mark.parametrize(
    ("width", "remedy"),
    [
        (1.5, "It fits with holes 1.50 mm smaller."),  # 0.75 mm are lacking on either side; of 0.5 mm it fits
        (1.02, "It fits with holes 1.98 mm smaller."),
        (1, "Not even the smallest hole leaves such a web there."),
        (0.8, "Not even the smallest hole leaves such a web there."),
    ],
)
def test_how_much_smaller_a_hole_must_be_or_that_none_will_do(width, remedy):
    """A hole of 2 mm and a web of 0.5 mm on either side take 3 mm."""
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("wire", 2)], Plate(width, 30), 0.5)
    assert caught.value.remedy == remedy
    assert caught.value.short_mm == pytest.approx((3 - width) / 2, abs=1e-6)


def test_of_several_holes_fewer_are_advised_where_no_smaller_ones_will_do():
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("wire", 2, count=2)], Plate(1, 30), 0.5)
    assert caught.value.remedy == "Take fewer holes."


def test_thinner_webs_that_a_message_names_do_fit():
    holes = [Hole("strand", 1, "lamp", count=3), Hole("bundle", 3, "speaker")]
    post = [KeepOut("post", 4, 6, 0, 12)]
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes(holes, PLATE, 4, 3, post, 6)
    web, edge, apart = re.findall(r"(\d\.\d\d) mm", caught.value.remedy)
    assert not lay_out_holes(holes, PLATE, float(web), float(edge), post, float(apart)).too_thin


@pytest.mark.parametrize(
    ("make", "error", "text"),
    [
        (
            lambda: Hole("strand", 0),
            OutOfRange,
            "strand: diameter is 0.00 mm; it must be above 0 mm. Write its size in mm, such as 0.8.",
        ),
        (
            lambda: Hole("strand", "0.8 mm"),
            WrongKind,
            "strand: diameter is '0.8 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: Hole(" ", 1),
            OutOfRange,
            "hole: name is empty; it must be text. Write what passes it, such as strand.",
        ),
        (lambda: Hole("a", 1, circuit=3), WrongKind, "hole: circuit is 3; expected text. Write it in quotes."),
        (
            lambda: Hole("strand", 1, count=0),
            OutOfRange,
            "strand: count is 0; it must be from 1 to 24. Write 1 for one hole.",
        ),
        (
            lambda: Hole("strand", 1, count=1.5),
            WrongKind,
            "strand: count is 1.5; expected a whole number. Write 1 for one hole.",
        ),
        (
            lambda: Plate(0, 8),
            OutOfRange,
            "plate: width is 0.00 mm; it must be above 0 mm. Write its size in mm, such as 0.8.",
        ),
        (
            lambda: Plate(20, 12, ((0, 10), (11, 8))),
            OutOfRange,
            (
                "plate: heights of the outline is from 0.00 to 11.00 mm; it must be from 0 to the height of 12.00 mm. "
                "Measure from its lower edge."
            ),
        ),
        (
            lambda: Plate(20, 12, ((0, 9), (12, 8))),
            OutOfRange,
            (
                "plate: outline is 18.00 mm wide at most; it must be as wide as the plate, 20.00 mm. "
                "Write half of the width at its widest."
            ),
        ),
        (
            lambda: KeepOut("post", 3, 3, 0, 5),
            OutOfRange,
            "keep-out post is from 3.00 to 3.00 mm; it must be more than 0 mm wide. Write its left before its right.",
        ),
        (
            lambda: lay_out_holes([], PLATE, 1),
            OutOfRange,
            "holes is 0; it must be from 1 to 24 of them. Lay out several plates for more.",
        ),
        (
            lambda: lay_out_holes([Hole("a", 1)], PLATE, -1),
            OutOfRange,
            "web_mm is -1.00 mm; it must be 0 mm or more. Write the least web in mm.",
        ),
        (
            lambda: lay_out_holes([Hole("a", 1)], PLATE, 1, way="rows"),
            UnknownChoice,
            "way is 'rows'; write one of spread, row. Did you mean 'row'?",
        ),
        (
            lambda: lay_out_holes([Hole("a", 1)], PLATE, 1, round_mm=-1),
            OutOfRange,
            "round_mm is -1 mm; it must be 0 mm or more. Write 0 to round nothing.",
        ),
        (
            lambda: move_hole(lay_out_holes([Hole("wire", 1)], PLATE, 1), "wires", 0, 0),
            UnknownChoice,
            "hole is 'wires'; write one of wire. Did you mean 'wire'?",
        ),
        (
            lambda: move_hole(lay_out_holes([Hole("wire", 1)], PLATE, 1), 1, 0, 0),
            OutOfRange,
            "hole is 1; it must be from 0 to 0. Write its place in the list, from 0, or its name.",
        ),
        (
            lambda: move_hole(lay_out_holes([Hole("wire", 1)], PLATE, 1), 0, float("nan"), 0),
            OutOfRange,
            "x_mm is nan mm; it must be a finite number. Check the readings behind it.",
        ),
        (
            lambda: check_holes([]),
            OutOfRange,
            "check_holes is holes alone; it must be holes, a plate and a web. Give a Layout, or all three.",
        ),
    ],
)
def test_what_is_refused_says_what_to_write(make, error, text):
    with fails(error, text):
        make()


@pytest.mark.parametrize("names", [("post", "rib"), ("rib", "post")])
def test_without_one_of_two_keep_outs_alone_it_does_not_fit(names):
    """Both stand in one place: taken away alone, neither leaves it any more room."""
    both = [KeepOut(name, -3, 3, 0, 8) for name in names]
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("wire", 1)], Plate(8, 8), 1, keep_out=both)
    assert caught.value.remedy == "Not even the smallest hole leaves such a web there."
    aside = [both[0], KeepOut(names[1], -4, -3, 0, 1)]
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("wire", 1)], Plate(8, 8), 1, keep_out=aside)
    assert caught.value.remedy.endswith(f" Without the {names[0]} it fits as it is.")


@pytest.mark.parametrize(
    ("across", "words"),
    [
        (0.0049, "on the centre line (10.00 mm from the left edge)"),
        (-0.0049, "on the centre line (10.00 mm from the left edge)"),
        (0.005, "0.01 mm right of the centre line (10.01 mm from the left edge)"),
        (-0.005, "0.01 mm left of the centre line (9.99 mm from the left edge)"),
    ],
)
def test_what_would_show_as_nothing_lies_on_the_centre_line(across, words):
    layout = move_hole(lay_out_holes([Hole("wire", 1)], PLATE, 1), "wire", across, 4)
    assert layout.marking_out[0] == f"wire: 1.00 mm, {words}, 4.00 mm above the lower edge."


def test_drills_that_break_easily_are_named():
    """Of 0.0400 in, 1.016 mm, and under."""
    for size, fragile in ((Fraction(1016, 1000), True), (Fraction(1017, 1000), False)):
        assert bool(lay_out_holes([Hole("wire", 3), Hole("strand", size)], PLATE, 1, way="row").caution) == fragile


def test_what_rounding_costs():
    """Two holes of 1 mm in a row of 20 mm leave 6 mm for each web; at 3.5 mm off the middle they are on half mm."""
    pair = [Hole("strand", 1, count=2)]
    exact = lay_out_holes(pair, PLATE, 1, way="row", row_height_mm=6, round_mm=0)
    assert exact.sentences[1] == "The places are not rounded; each mark's own error comes off the webs."
    even = lay_out_holes(pair, PLATE, 1, way="row", row_height_mm=6, round_mm=0.5)
    assert even.sentences[1] == "Places are rounded to 0.5 mm; that costs nothing of the least web."
    # To whole mm they lie at 3 or 4 mm: the web to a side, or between them, is 5.5 mm.
    high = Plate(20, 30)
    whole_mm = lay_out_holes(pair, high, 1, way="row", row_height_mm=15, round_mm=1)
    assert whole_mm.least.web_mm == pytest.approx(5.5)
    assert whole_mm.sentences[1] == "Places are rounded to 1 mm; that costs 0.50 mm of the least web."
    assert whole_mm.rounding_mm == pytest.approx(0.5)


def test_three_webs_are_named_and_how_many_more_keep_outs_first():
    posts = [KeepOut("post", -3, -1, 0, 6), KeepOut("rib", 1, 3, 0, 6)]
    text = (
        "A spread of 2 holes does not fit: 1.00 mm too little, because at best the webs between s 1 and the post, s 1 "
        "and the rib, s 2 and the post and 1 more are that much too thin. Take fewer holes."
    )
    with fails(DoesNotFit, text):
        lay_out_holes([Hole("s", 2, count=2)], Plate(6, 6), 1, keep_out=posts)


@pytest.mark.parametrize("index", [-1, 2])
def test_a_place_in_the_list_is_one_of_its_own(index):
    layout = lay_out_holes([Hole("strand", 1, count=2)], PLATE, 1)
    with fails(
        OutOfRange, f"hole is {index}; it must be from 0 to 1. Write its place in the list, from 0, or its name."
    ):
        move_hole(layout, index, 0, 0)
    moved = move_hole(layout, 1, 4, 5)
    assert moved == move_hole(layout, "strand 2", 4, 5)
    assert [(each.x_mm, each.y_mm) for each in moved.holes][1] == (4, 5)
    assert moved.holes[0] == layout.holes[0]
    assert (moved.way, moved.round_mm, moved.rounding_mm, moved.from_left_mm(moved.holes[1])) == ("by hand", 0, 0, 14)


def test_how_many_holes_there_may_be():
    assert len(numbered_holes([Hole("a", 1, count=24)])) == 24
    for make in (
        lambda: numbered_holes([Hole("a", 1, count=24), Hole("b", 1)]),
        lambda: numbered_holes([Hole("a", 1, count=13), Hole("a", 1, count=12)]),
    ):
        with fails(OutOfRange, "holes is 25; it must be from 1 to 24 of them. Lay out several plates for more."):
            make()
    text = "a: count is 25; it must be from 1 to 24. Bundle some, and enter the bundle's diameter as one."
    with fails(OutOfRange, text):
        Hole("a", 1, count=25)
    with fails(WrongKind, "a: count is True; expected a whole number. Write 1 for one hole."):
        Hole("a", 1, count=True)
    with fails(WrongKind, "hole: drill is 3; expected text. Write it in quotes."):
        Hole("a", 1, drill=3)
