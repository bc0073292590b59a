"""Which strip for a height and a use."""

import re
from fractions import Fraction
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.enclosure.parts import Use
from modelmath.errors import DoesNotFit, NotYetKnown, OutOfRange, UnknownChoice
from modelmath.lengths.scales import scale
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.picking.by_use import pick_strips
from modelmath.materials.picking.held import pieces_held
from modelmath.materials.picking.wanted import USES
from modelmath.materials.sections.sheets import Sheet, pick_sheets
from modelmath.materials.sections.strips import Strip, parse_strip

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959


def whole(text):
    return f"^{re.escape(text)}$"


def stock(*names, length_mm=280):
    return [StockStrip(parse_strip(name), length_mm, 2) for name in names]


@pytest.mark.parametrize(
    "row", published_rows("strip_nearest_decimal.csv"), ids=lambda row: f"{row['scale']}-{row['scale_inches']}"
)
def test_the_nearest_decimal_strip_for_a_lumber_size(row):
    """Computed table; source in each row. It begins at .010, so .005, sold as sheet, is passed over (N 1)."""
    of = scale(row["scale"])
    wanted = int(row["scale_inches"]) * of.mm_per_inch
    picks = pick_strips(wanted, "flat", scale=of, series=["decimal inch"], tolerance_mm=1)
    best = next(pick for pick in picks if pick.strip.thickness_mm > INCH_MM * Fraction("0.005"))
    assert best.strip.thickness_mm == INCH_MM * Fraction(row["nearest_decimal_strip_in"])
    assert agrees_with_print(best.error_mm / 25.4, row["error_in"].lstrip("+"))
    assert agrees_with_print(best.error_scale_in + int(row["scale_inches"]), row["represents_scale_inches"])


def test_flat_says_what_to_sand_or_shim_and_on_edge_uses_the_width():
    flat = pick_strips(1.70, "flat", scale="HO", series=["scale lumber"])[0]
    assert (flat.strip.thickness_mm, flat.in_drawer) == (Fraction(7, 4), False)
    assert flat.error_mm == pytest.approx(0.05)
    assert flat.error_scale_in == pytest.approx(0.05 / 3.5 * 12)
    assert flat.advice == "Lay it flat and sand 0.05 mm off its thickness."
    edge = pick_strips(3.0, "on edge", scale="HO", series=["scale lumber"])[0]
    assert edge.strip.width_mm == Fraction(35, 12)
    assert edge.advice == "Stand it on edge and shim it up 0.08 mm."
    assert pick_strips(2, "flat", series="metric")[0].advice == "Lay it flat; it gives the height as it is."
    assert pick_strips(2, "flat", series="metric")[0].error_scale_in is None


def test_a_filler_prefers_what_can_be_sanded():
    plain = pick_strips(2.1, "flat", series=["metric"])
    assert [pick.strip.thickness_mm for pick in plain] == [Fraction(2), Fraction(5, 2)]
    filler = pick_strips(2.1, "flat", series=["metric"], sand=True)
    assert [pick.strip.thickness_mm for pick in filler] == [Fraction(5, 2), Fraction(2)]


def test_the_drawer_comes_first_even_if_a_bought_strip_is_nearer():
    picks = pick_strips(2.0, "flat", drawer=stock("HO 6x10", ".100 x .125", "6 x 6 mm"), scale="HO")
    assert [pick.name for pick in picks[:2]] == ["HO 6x10", "2 x 4 mm"]
    assert [pick.in_drawer for pick in picks[:2]] == [True, False]
    wide = pick_strips(2.0, "flat", drawer=stock("HO 6x10", ".100 x .125"), scale="HO", tolerance_mm=0.6)
    assert [pick.name for pick in wide[:2]] == ["HO 6x10", ".100 x .125"]


def test_on_end_takes_the_squarest_then_stoutest_of_the_drawer_and_cuts_to_length():
    drawer = stock("HO 6x10", ".080 sq", "1 x 1 mm", ".100 sq", "2 x 2 mm")
    picks = pick_strips(31.5, "on end", scale="HO", drawer=drawer)
    assert [pick.name for pick in picks[:4]] == [".100 sq", ".080 sq", "2 x 2 mm", "HO 6x10"]
    assert "1 x 1 mm" not in [pick.name for pick in picks]
    assert all((pick.error_mm, pick.error_scale_in) == (0, 0) for pick in picks)
    assert picks[0].advice == "Square its end first, cut to length, 31.50 mm, and stand it on end."
    assert picks[4].name == "1.5 x 1.5 mm"  # the thinnest square strip that is stout enough, to buy
    assert pick_strips(31.5, "on end", stout_mm=1, drawer=stock("1 x 1 mm"))[0].name == "1 x 1 mm"


def test_stock_too_short_for_the_cut_is_passed_over():
    drawer = [StockStrip(parse_strip(".100 sq"), 31.4), StockStrip(parse_strip(".080 sq"), 31.5)]
    assert [pick.name for pick in pick_strips(31.5, "on end", drawer=drawer) if pick.in_drawer] == [".080 sq"]


def test_across_takes_the_width_nearest_above_the_shells_and_says_what_to_trim():
    drawer = stock("1 x 26 mm", "1 x 30 mm", "2 x 28 mm", "0.5 x 27 mm")
    picks = pick_strips(31.5, "across", width_mm=26.4, drawer=drawer)
    assert [pick.name for pick in picks if pick.in_drawer] == ["2 x 28 mm", "1 x 30 mm"]
    assert picks[0].advice == "Cut to length, 31.50 mm; trim 1.60 mm off its width to span 26.40 mm."
    assert pick_strips(31.5, "across", width_mm=28, drawer=drawer)[0].advice == (
        "Cut to length, 31.50 mm; it spans 28.00 mm as it is."
    )


def test_across_falls_back_on_sheet_where_no_strip_spans_the_shell():
    picks = pick_strips(31.5, "across", width_mm=26.43, scale="HO", most=3)
    assert [pick.name for pick in picks] == ["1 mm sheet", ".040 sheet", ".050 sheet"]
    assert all(pick.from_sheet and pick.sheet.name == pick.name and not pick.in_drawer for pick in picks)
    assert all(pick.strip == Strip(pick.sheet.series, pick.sheet.thickness_mm, Fraction("26.43")) for pick in picks)
    assert [pick.sheet.to_buy for pick in picks[:2]] == ["sheet 1 mm thick", "sheet .040 in thick"]
    assert picks[1].advice == (
        "Cut a strip of the .040 sheet 26.43 mm wide, or a little over to trim to the shell, and from it the length, "
        "31.50 mm."
    )
    assert (picks[1].error_mm, picks[1].error_scale_in) == (0, 0)
    strips = pick_strips(31.5, "across", width_mm=5, drawer=stock("1 x 6 mm"), most=3)
    assert (strips[0].name, strips[0].from_sheet) == ("1 x 6 mm", False)


def test_sheets_are_the_thicknesses_of_the_series_from_the_thinnest_that_is_stout_enough():
    assert [sheet.name for sheet in pick_sheets(2, ["metric"])[:2]] == ["2 mm sheet", "2.5 mm sheet"]
    assert [sheet.name for sheet in pick_sheets(Fraction("1.016"), "decimal inch")[:1]] == [".040 sheet"]
    text = (
        "A sheet at least 7.00 mm thick does not fit: 0.65 mm too little, because the thickest is .250 sheet. "
        "Glue two sheets together, or allow a thinner one."
    )
    with pytest.raises(DoesNotFit, match=whole(text)):
        pick_sheets(7)
    text = (
        "A sheet at least 1.00 mm thick does not fit: 1.00 mm too little, because these series have no sheet. "
        "Glue two sheets together, or allow a thinner one."
    )
    with pytest.raises(DoesNotFit, match=whole(text)):
        pick_sheets(1, "scale lumber")
    text = "series of sheet is 'scale lumber'; write one of decimal inch, metric."
    with pytest.raises(UnknownChoice, match=whole(text)):
        Sheet("scale lumber", 1)


def test_the_uses_of_stock_are_those_that_a_part_states():
    assert get_args(Use) == USES


def test_flat_and_on_edge_keep_the_size_asked_for_the_other_way():
    assert pick_strips(2, "flat", width_mm=3, series="metric")[0].name == "2 x 3 mm"
    assert pick_strips(3, "on edge", width_mm=2, series="metric")[0].name == "2 x 3 mm"
    assert pick_strips(3, "on edge", stout_mm=2.2, series="metric")[0].name == "2.5 x 3 mm"


def test_what_may_be_sanded_off_and_what_may_be_shimmed_up_are_two_limits():
    """By hand: sections 2 and 2.5 mm lie 0.2 mm below and 0.3 mm above 2.2 mm."""

    def names(**limits):
        return [pick.name for pick in pick_strips(2.2, "flat", series="metric", **limits)]

    assert names() == ["2 x 4 mm", "2.5 x 5 mm"]
    assert names(sand_mm=0.29) == names(sand_mm=0) == ["2 x 4 mm"]
    assert names(shim_mm=0.19) == ["2.5 x 5 mm"]
    assert names(sand_mm=0.3, shim_mm=0.2, tolerance_mm=0) == ["2 x 4 mm", "2.5 x 5 mm"]
    assert names(sand_mm=0.3, tolerance_mm=0) == ["2.5 x 5 mm"]
    text = (
        "height_mm is 2.20 mm; it must be at most 0.10 mm below a strip's thickness and 0.15 mm above it; 2 x 2 mm "
        "gives 2.00 mm, 0.20 mm too little. Glue strips together, stand strip on end, or allow more to be sanded "
        "off or shimmed up."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        names(sand_mm=0.1, shim_mm=0.15)


def test_a_strip_of_which_the_drawer_has_too_little_comes_after_those_it_has_enough_of():
    """By hand: a 100 mm strip gives 3 pieces of 33 mm with a cut of 0.5 mm between, but only 2 with a cut of 1 mm."""
    drawer = [StockStrip(parse_strip("2 x 2 mm"), 100), StockStrip(parse_strip("2 x 4 mm"), 33, 5)]
    picks = pick_strips(33, "on end", drawer=drawer, count=3, kerf_mm=0.5)
    assert [(pick.name, pick.remark) for pick in picks if pick.in_drawer] == [("2 x 2 mm", ""), ("2 x 4 mm", "")]
    picks = pick_strips(33, "on end", drawer=drawer, count=3, kerf_mm=1)
    short = "The drawer gives 2 of the 3: buy more of it, or take all 3 from another."
    assert [(pick.name, pick.remark) for pick in picks if pick.in_drawer] == [("2 x 4 mm", ""), ("2 x 2 mm", short)]
    flat = pick_strips(2, "flat", drawer=drawer, count=6, length_mm=33)
    assert [(pick.name, pick.remark[:30]) for pick in flat if pick.in_drawer] == [
        ("2 x 2 mm", "The drawer gives 3 of the 6: b"),
        ("2 x 4 mm", "The drawer gives 5 of the 6: b"),
    ]
    assert all(not pick.remark for pick in pick_strips(2, "flat", drawer=drawer, count=600))  # length not asked
    assert not [pick for pick in pick_strips(2, "flat", drawer=drawer, length_mm=101) if pick.in_drawer]
    text = "count is 0; it must be a whole number, 1 or more. Write how many pieces are wanted."
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_strips(33, "on end", count=0)


@given(st.lists(st.integers(10, 90), min_size=1, max_size=6), st.integers(5, 50), st.integers(0, 3))
def test_pieces_held_are_those_cut_one_by_one(lengths, piece, kerf):
    """Outside check: cutting with the saw, a piece and then the cut, until no piece is left."""
    strip, cut = parse_strip("2 x 2 mm"), 0
    for length in lengths:
        left = length
        while left >= piece:
            left -= piece + kerf
            cut += 1
    held = pieces_held([StockStrip(strip, length) for length in lengths], Fraction(piece), kerf_mm=Fraction(kerf))
    assert held.get(strip, 0) == cut


@given(st.floats(0.2, 6), st.sampled_from(["flat", "on edge"]), st.sampled_from(["N", "HO", "S", "O"]), st.booleans())
def test_picks_are_true_to_their_section_and_in_order(height, use, of, sand):
    picks = pick_strips(height, use, scale=of, sand=sand, most=50)
    for pick in picks:
        given_mm = pick.strip.thickness_mm if use == "flat" else pick.strip.width_mm
        assert pick.error_mm == pytest.approx(float(given_mm) - height, abs=2e-6)
        assert pick.error_scale_in == pytest.approx(pick.error_mm / float(scale(of).mm_per_inch))
        assert abs(pick.error_mm) <= 0.5
    order = [(sand and pick.error_mm < 0, abs(pick.error_mm)) for pick in picks]
    assert order == sorted(order)


def test_messages():
    text = "use is 'on ends'; write one of on end, across, flat, on edge. Did you mean 'on end'?"
    with pytest.raises(UnknownChoice, match=whole(text)):
        pick_strips(3, "on ends")
    text = "What spans the shell is not known yet; enter width_mm, the shell's inside width."
    with pytest.raises(NotYetKnown, match=whole(text)):
        pick_strips(3, "across")
    text = "The strip to use is not known yet; enter a scale for scale lumber, a drawer of strip, or another series."
    with pytest.raises(NotYetKnown, match=whole(text)):
        pick_strips(3, "flat", series="scale lumber")
    text = (
        "height_mm is 9.00 mm; it must be within 0.50 mm of a strip's thickness; .250 sq gives 6.35 mm, 2.65 mm too "
        "little. Glue strips together, stand strip on end, or allow more to be sanded off or shimmed up."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_strips(9, "flat")
    text = (
        "A part at least 7.00 mm thick does not fit: 0.65 mm too little, because the thickest strip is .250 sq, "
        "6.35 mm. Glue two strips together, or allow a thinner one."
    )
    with pytest.raises(DoesNotFit, match=whole(text)):
        pick_strips(30, "on end", stout_mm=7)
    text = (
        "A section 8.00 mm wide and at least 0.00 mm thick does not fit: 1.65 mm too little, because the widest such "
        "strip is .005 x .250, 6.35 mm. Put two side by side, or cut from sheet."
    )
    with pytest.raises(DoesNotFit, match=whole(text)):
        pick_strips(2, "flat", width_mm=8)
    with pytest.raises(OutOfRange, match=whole("most is 0; it must be 1 or more. Leave it out for 8.")):
        pick_strips(2, "flat", most=0)
    with pytest.raises(
        OutOfRange, match=whole("height_mm is 0 mm; it must be above 0 mm. Write a positive number of mm.")
    ):
        pick_strips(0, "flat")
    text = "count of HO 6x10 is 0; it must be a whole number, 1 or more. Leave out what is used up."
    with pytest.raises(OutOfRange, match=whole(text)):
        StockStrip(parse_strip("HO 6x10"), 280, 0)
