"""Heights glued up from layers: every stack is looked at, glue lines and tolerances are counted."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import combinations_with_replacement
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from uncertainties import ufloat

from modelmath.errors import NotYetKnown, OutOfRange, UnknownChoice
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.picking.laminate import laminate
from modelmath.materials.picking.terms import made_to
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.strips import Strip, parse_strip


def whole(text):
    return f"^{re.escape(text)}$"


def stock(*names, length_mm=280, count=2):
    return [StockStrip(parse_strip(name), length_mm, count) for name in names]


def metric(*tenths):
    """Return strip on hand, so many tenths of a mm thick and all wide enough."""
    return [StockStrip(Strip("metric", Fraction(each, 10), Fraction(100)), 280, 4) for each in tenths]


sizes = st.lists(st.integers(1, 60), min_size=1, max_size=7, unique=True)


@settings(max_examples=60)
@given(
    sizes, st.integers(5, 200), st.sampled_from([0, 1, 3]), st.integers(0, 30), st.integers(0, 30), st.integers(2, 4)
)
def test_the_search_finds_what_trying_every_stack_finds(tenths, height, glue, sand, shim, most_layers):
    """Outside check: itertools.combinations_with_replacement, every multiset of up to four thicknesses."""
    every = [
        (count, abs(error), error < 0, len(set(each)), error)
        for count in range(2, most_layers + 1)
        for each in combinations_with_replacement(tenths, count)
        if -shim <= (error := sum(each) + (count - 1) * glue - height) <= sand
    ]
    given_mm = {
        "sand_mm": Fraction(sand, 10),
        "shim_mm": Fraction(shim, 10),
        "glue_line_mm": Fraction(glue, 10),
        "glue_tolerance_mm": 0,
        "most_layers": most_layers,
    }
    if not every:
        with pytest.raises(OutOfRange, match=r"^height_mm is "):
            laminate(Fraction(height, 10), drawer=metric(*tenths), series=(), **given_mm)
        return
    found = laminate(Fraction(height, 10), drawer=metric(*tenths), series=(), most=10_000, **given_mm)
    assert len({each.name for each in found}) == len(found) == len(every)
    assert [(len(each.layers), abs(each.error_mm) * 10, each.error_mm * 10) for each in found] == [
        (count, off, error) for count, off, _, _, error in sorted(every)
    ]
    assert found[:3] == laminate(Fraction(height, 10), drawer=metric(*tenths), series=(), most=3, **given_mm)


@settings(max_examples=40)
@given(sizes, sizes, st.integers(5, 150), st.integers(1, 3))
def test_what_is_on_hand_limits_how_often_a_strip_is_laid(held, lengths, height, pieces):
    """Outside check: every stack by itertools, those that take more pieces than there are struck out."""
    drawer = [StockStrip(Strip("metric", Fraction(each, 10), Fraction(100)), 50, pieces) for each in held]
    every = sorted(
        (count, abs(error), error < 0)
        for count in range(2, 5)
        for each in combinations_with_replacement(held, count)
        if max(each.count(one) for one in each) <= pieces and abs(error := sum(each) - height) <= 5
    )
    options = {"series": (), "glue_line_mm": 0, "glue_tolerance_mm": 0, "length_mm": 50}
    if not every:
        with pytest.raises((OutOfRange, NotYetKnown)):
            laminate(Fraction(height, 10), drawer=drawer, **options)
        return
    found = laminate(Fraction(height, 10), drawer=drawer, most=10_000, **options)
    assert [(len(each.layers), abs(each.error_mm) * 10, each.error_mm < 0) for each in found] == every


@pytest.mark.parametrize(
    "row",
    [row for row in published_rows("strip_lumber.csv") if row["scale"] in ("HO", "O")],
    ids=lambda row: row["size_in"],
)
def test_two_layers_of_one_lumber_size_are_twice_its_printed_size(row):
    """Computed table of lumber sizes; source in each row."""
    strip = parse_strip(f"{row['scale']} {row['size_scale_in']}x12")
    doubled = Fraction(row["size_mm"]) * 2
    best = laminate(doubled, drawer=[StockStrip(strip, 280)], series=(), glue_line_mm=0, glue_tolerance_mm=0)[0]
    assert best.layers == (strip, strip)
    assert agrees_with_print(best.total_mm / 2, row["size_mm"])


def test_a_worked_stack():
    """By hand: HO 6x10 is 1.75 mm thick (6 x 3.5 / 12); two and a glue line of 0.05 mm make 3.55 mm."""
    best = laminate(3.5, drawer=stock("HO 6x10"), series=())[0]
    assert (best.name, best.total_mm, best.error_mm) == ("two of HO 6x10", Fraction(71, 20), Fraction(1, 20))
    assert (best.glue_lines, best.on_hand, best.to_buy) == (1, True, ())
    assert best.worst_mm == Fraction(3, 20)  # 0.05 for each strip and 0.05 for the glue
    # JCGM 100:2008, 5.2.2, note 1: what is off together adds up as it is, the glue by the root of the sum of squares.
    assert best.likely_mm == pytest.approx(sqrt(0.1**2 + 0.05**2))
    assert best.advice == "Glue them face to face, lying flat. Once set, measure it: it may need nothing."


def test_the_tolerance_of_a_stack_is_what_linear_propagation_makes_of_it():
    """Outside check: the uncertainties package; two layers of one strip are one variable."""
    best = laminate(Fraction("5.65"), drawer=stock("2 x 4 mm", "1.5 x 4 mm"), series=(), strip_tolerance_mm=0.04)[0]
    assert best.name == "two of 2 x 4 mm + 1.5 x 4 mm"
    two, one, *glue = ufloat(2, 0.04), ufloat(1.5, 0.04), ufloat(0.05, 0.05), ufloat(0.05, 0.05)
    stack = two + two + one + sum(glue)
    assert (float(best.total_mm), best.likely_mm) == pytest.approx((stack.n, stack.s))
    assert best.worst_mm == Fraction("0.22")


def test_what_is_on_hand_comes_first_even_with_more_layers():
    found = laminate(3.5, scale="HO", drawer=stock("HO 4x8", ".040 x .125"), tolerance_mm=0.1, most=50)
    assert found[0].name == "two of HO 4x8 + .040 x .125"
    owned = [each.on_hand for each in found]
    assert owned == sorted(owned, reverse=True)
    bought = [each for each in found if not each.on_hand]
    assert [(len(each.layers), abs(each.error_mm)) for each in bought] == sorted(
        (len(each.layers), abs(each.error_mm)) for each in bought
    )
    assert all(set(each.to_buy) <= {layer.name for layer in each.layers} for each in bought)


def test_the_layers_are_wide_enough_and_trimmed_or_else_cut_from_sheet():
    strips = laminate(3.5, series="metric", width_mm=4, tolerance_mm=0.1)
    assert all(layer.width_mm >= 4 for each in strips for layer in each.layers if isinstance(layer, Strip))
    wide = laminate(9, series=("metric", "decimal inch"), width_mm=12)[0]
    assert wide.name == "5 mm sheet + .156 sheet"  # 5 + 3.9624 + 0.05 = 9.0124
    assert wide.advice == (
        "Glue them face to face, lying flat. Cut or trim all to 12.00 mm wide. Once set, measure it: it may need "
        "nothing."
    )
    own = laminate(3.05, drawer=stock("2 x 4 mm", "1 x 3 mm"), series=(), tolerance_mm=0)[0]
    assert "Trim all to 3.00 mm wide." in own.advice
    held = laminate(2.05, sheets=[Sheet("metric", 1)], series=())[0]
    assert (held.name, held.on_hand) == ("two of 1 mm sheet", True)
    with pytest.raises(OutOfRange, match=r"^height_mm is 3\.05 mm; "):
        laminate(3.05, drawer=stock("2 x 4 mm", "1 x 3 mm"), series=(), tolerance_mm=0, width_mm=3.5)


def test_on_edge_is_glued_up_lying_flat():
    edge = laminate(9, "on edge", series="metric", width_mm=2)[0]
    assert edge.name == "6 x 6 mm + 3 x 3 mm"
    assert edge.advice == (
        "Lay them flat rather than on edge, and glue them face to face: only thicknesses add up. Trim all to 2.00 mm "
        "wide. Once set, measure it: it may need nothing."
    )
    assert laminate(8.9, series="metric", shim_mm=0)[0].advice.endswith("Once set, sand 0.15 mm off.")
    assert laminate(9.2, series="metric", sand_mm=0)[0].advice.endswith("Shim it up 0.15 mm.")


def test_the_defaults_are_the_tables():
    glue, strip = made_to("glue line"), made_to("strip")
    best = laminate(9, series="metric")[0]
    assert best.total_mm == sum(layer.thickness_mm for layer in best.layers) + glue.thickness_mm
    assert best.worst_mm == 2 * strip.tolerance_mm + glue.tolerance_mm
    with pytest.raises(
        UnknownChoice, match=r"^the layer is 'glue'; write one of paint, .* Did you mean 'glue line'\?$"
    ):
        made_to("glue")


def test_messages():
    text = (
        "use is 'on end'; it must be flat or on edge, where the section gives the height. Cut it to length instead: "
        "on end, the height is the cut length."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        laminate(9, "on end")
    with pytest.raises(UnknownChoice, match=r"^use is 'flatt'; .* Did you mean 'flat'\?$"):
        laminate(9, "flatt")
    text = (
        "height_mm is 40.00 mm; it must be at most 0.50 mm below or 0.50 mm above what 2 to 4 layers give; four of "
        "6 x 6 mm gives 24.15 mm, 15.85 mm too little. Cut strip to length and stand it on end, or allow more to be "
        "sanded off or shimmed up."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        laminate(40, series="metric")
    text = "What to glue up is not known yet; enter a scale for scale lumber, a drawer of strip, or another series."
    with pytest.raises(NotYetKnown, match=whole(text)):
        laminate(3, series=())
    with pytest.raises(OutOfRange, match=whole("most_layers is 5; it must be 2 to 4. Leave it out for 4.")):
        laminate(3, most_layers=5)
    with pytest.raises(OutOfRange, match=whole("most is 0; it must be 1 or more. Leave it out for 8.")):
        laminate(3, most=0)
