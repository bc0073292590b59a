"""Scale to scale, one size in several scales, and what scale a model is."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnknownScale, WrongKind
from modelmath.lengths.full_size.find_scale import OVER_MM, find_scale
from modelmath.lengths.full_size.resizing import (
    at_marks,
    full_size_text,
    in_scales,
    resize,
    resize_factor,
    resize_lines,
    scales_listed,
)
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import all_scales, scale
from modelmath.lengths.uncertain import rectangular

scales = st.sampled_from(all_scales())
lengths = st.fractions(0, 1000, max_denominator=640)
HOO = "No scale is called 'hoo'; did you mean OO, HO, O?"
INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("mm", "first", "second", "expected"),
    [
        ("12.25", "HO", "N", Fraction(2667, 400)),  # 3 1/2 scale feet, each 3.5 mm and 1.905 mm by definition
        ("3.5", "HO", "O", Fraction("6.35")),  # a foot in either: 3.5 mm and 1/4 in
        ("4.7625", "S", "HO", Fraction("3.5")),  # 3/16 in and 3.5 mm
        ("87", "H0", "1:1", Fraction(7569)),
    ],
)
def test_a_size_in_another_scale(mm, first, second, expected):
    assert resize(Fraction(mm), first, second) == expected


@given(scales, scales, lengths)
def test_there_and_back_is_the_same_size(first, second, mm):
    assert resize(resize(mm, first, second), second, first) == mm
    assert resize(mm, first, first) == mm


@given(scales, scales, scales, lengths)
def test_by_way_of_a_third_scale_it_is_the_same(first, second, third, mm):
    assert resize(resize(mm, first, third), third, second) == resize(mm, first, second)


@given(scales, scales, lengths)
def test_both_models_have_one_prototype(first, second, mm):
    assert second.prototype(resize(mm, first, second)) == first.prototype(mm)


@given(scales, scales, lengths, lengths)
def test_what_is_larger_stays_larger(first, second, a, b):
    assert (resize(a, first, second) < resize(b, first, second)) == (a < b)


def test_floats_arrays_and_uncertain_numbers_are_taken():
    import numpy as np

    factor = float(resize_factor("HO", "N"))
    assert resize(12.25, "HO", "N") == pytest.approx(6.6675)
    assert resize(np.array([1.0, 2.0]), "HO", "N").tolist() == [factor, 2 * factor]
    part = rectangular(12.25, 0.1, "part")
    assert resize(part, "HO", "N").s == pytest.approx(part.s * factor)


def test_text_and_prototype_lengths_are_refused():
    with pytest.raises(WrongKind, match=whole("model_mm is '12 mm'; expected a number. Read text with parse_length.")):
        resize("12 mm", "HO", "N")
    message = (
        "model_mm is the prototype length 3' 0\"; expected a model length in mm. "
        "It has no scale yet: use model_mm of the scale wanted."
    )
    with pytest.raises(WrongKind, match=whole(message)):
        resize(PrototypeLength(Fraction(3)), "HO", "N")
    with pytest.raises(UnknownScale, match=whole(HOO)):
        resize_factor("hoo", "N")


def test_a_list_of_sizes_and_its_bad_lines():
    text = "walkway; 12.25 mm\n\nsill\t6 x 10 scale in\n3/16 in\n; 1 x 2 x 3 mm\nroof; 12\ncab; 1 mm; 2\nstep; 0 mm"
    good, bad = resize_lines(text, "HO", "N")
    factor = Fraction(381, 700)
    assert [(each.name, each.given) for each in good] == [
        ("walkway", "12.25 mm"),
        ("sill", "6 x 10 scale in"),
        ("line 4", "3/16 in"),
        ("line 5", "1 x 2 x 3 mm"),
    ]
    assert good[1].before_mm == (Fraction("1.75"), Fraction(35, 12))  # 6 and 10 scale inches, 3.5/12 mm each
    assert good[3].after_mm == (factor, 2 * factor, 3 * factor)
    assert [(each.number, each.message) for each in bad] == [
        (6, "'12': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."),
        (7, "'cab; 1 mm; 2': it has more than two columns; write walkway; 12.25 mm."),
        (8, "'0 mm': a size can't be 0 or less; write a length such as 12.25 mm."),
    ]


def test_a_list_without_end_is_refused():
    message = "the list is 10001 lines long; it must be 10000 lines or fewer. Paste it in parts."
    with pytest.raises(OutOfRange, match=whole(message)):
        resize_lines("1 mm\n" * 10_001, "HO", "N")


def test_one_length_in_several_scales_each_once():
    rows = in_scales(PrototypeLength(Fraction(21, 2)), ("S", "N", "O", "S"))
    assert [each.scale.name for each in rows] == ["S", "N", "O"]
    printed = {
        row["scale"]: row["printed"] for row in published_rows("scale_examples.csv") if row["given"] == "10 ft 6 in"
    }
    assert all(agrees_with_print(each.mm, printed[each.scale.name]) for each in rows)


@pytest.mark.parametrize("feet", [0, -3])
def test_no_size_has_no_model(feet):
    message = f"the prototype's size is {feet}' 0\"; it must be above 0. Write it as 40' 6\" or 12.2 m."
    with pytest.raises(OutOfRange, match=whole(message)):
        in_scales(PrototypeLength(Fraction(feet)), ("HO",))


def test_a_model_length_is_no_prototype_size():
    message = (
        "the prototype's size is '40'; expected a prototype length. Read it with parse_prototype, such as 40' 6\"."
    )
    with pytest.raises(WrongKind, match=whole(message)):
        in_scales(40, ("HO",))


def test_marks_of_the_rules_at_hand():
    """Computed in the reference table: 0.583 mm, 2 scale inches in HO, are 1.4690 sixty-fourths of an inch."""
    assert agrees_with_print(Fraction("0.583") / (INCH_MM / 64), "1.4690")
    off = Fraction("0.4690") * INCH_MM / 64
    assert at_marks(Fraction("0.583"), "HO")[1] == ("1/64 in", f"{float(off):.2f} mm under")
    assert at_marks(Fraction("141.75"), "HO") == [
        ("40 1/2 scale ft", "exact"),
        ("5 37/64 in", "0.07 mm under"),
        ("142.0 mm", "0.25 mm over"),
    ]


def test_scales_listed():
    assert [each.name for each in scales_listed(" tt; N (British, 1:148), 1:29;")] == [
        "TT",
        "N (British, 1:148)",
        "1:29",
    ]
    assert scales_listed(" ") == []
    with pytest.raises(UnknownScale, match=whole(HOO)):
        scales_listed("N, hoo")


def test_full_size_in_feet_and_metres():
    assert full_size_text(parse_prototype("1435 mm")) == ("4' 8 1/2\"", "1.435 m")


# Which scale is this?


def test_87_for_ho_is_0_3_mm_off_in_300():
    """Computed from the two definitions: 0.2956 mm in 300 mm, 0.0985 percent."""
    found = find_scale(Fraction(300), scale("HO").prototype(Fraction(300)))
    assert found.ratio == Fraction(3048, 35)
    first, second = found.near[:2]
    assert (first.names, first.off, first.agrees) == (("HO",), 0, True)
    assert second.names == ("H0",)
    assert agrees_with_print(second.off * 100, "0.0985")
    assert OVER_MM == 300
    assert agrees_with_print(second.off_mm, "0.2956")
    assert not second.agrees


@given(scales, st.fractions(1, 500, max_denominator=64))
def test_every_scale_finds_itself(each, mm):
    nearest = find_scale(mm, each.prototype(mm)).near[0]
    assert nearest.off == 0
    assert each.name in nearest.names
    assert nearest.ratio == each.ratio


@given(st.fractions(1, 500, max_denominator=64), st.fractions(1, 500, max_denominator=64))
def test_the_nearest_come_first(mm, feet):
    near = find_scale(mm, PrototypeLength(feet)).near
    offs = [max(1 + each.off, 1 / (1 + each.off)) for each in near]
    assert offs == sorted(offs)


@pytest.mark.parametrize("row", published_rows("gauges_nem010.csv"), ids=lambda row: row["gauge"])
def test_a_model_gauge_stands_for_a_prototype_gauge_of_its_band(row):
    """MOROP NEM 010 (2011), table 1: each model gauge, for prototype gauges from one width to below another."""
    gauge = scale(row["scale"]).prototype(Fraction(row["model_mm"]))
    if row["gauge"] in ("Sp", "0p"):  # the one gauge of 6.5 or 9 mm is laid there, just wide of the band: 416, 405 mm
        row = row | {"prototype_to_mm": str(Fraction(row["prototype_to_mm"]) * Fraction("1.05"))}
    assert parse_prototype(f"{row['prototype_from_mm']} mm") <= gauge < parse_prototype(f"{row['prototype_to_mm']} mm")


@pytest.mark.parametrize("gauge", ["Z", "N", "TT", "H0", "S", "0", "I", "II"])
def test_the_scale_of_a_standard_gauge_track(gauge):
    """MOROP NEM 010 (2011), table 1: standard gauge, 1435 mm, to half a percent of its scale."""
    (row,) = [row for row in published_rows("gauges_nem010.csv") if row["gauge"] == gauge]
    found = find_scale(Fraction(row["model_mm"]), parse_prototype("1435 mm"))
    (own,) = [each for each in found.near if each.ratio == scale(row["scale"]).ratio]
    assert abs(own.off) < Fraction(5, 1000)


@pytest.mark.parametrize("row", published_rows("gauges_nmra_s32.csv"), ids=lambda row: row["gauge"])
def test_the_scale_of_a_printed_gauge(row):
    """NMRA S-3.2, minimum column, printed to 0.001 in, with half of that as the limit of reading it."""
    gauge = rectangular(float(Fraction(row["minimum_in"]) * INCH_MM), float(INCH_MM / 1000), "printed gauge")
    near = find_scale(gauge, parse_prototype(f"{row['prototype_gauge_in']} in")).near
    assert scale(row["scale"]).ratio in [each.ratio for each in near if each.agrees]


def test_a_measured_model_leaves_open_what_it_can_t_tell():
    found = find_scale(rectangular(141.8, 0.3, "body"), parse_prototype("40' 6\""))
    assert [each.names[0] for each in found.near if each.agrees] == ["HO", "H0"]
    assert found.near[0].in_words() == ("HO", "1:87.09", "-0.04 %", "-0.11 mm")


@pytest.mark.parametrize("mm", [0, -1.0, float("nan"), float("inf")])
def test_no_model_has_no_scale(mm):
    message = f"the model's size is {mm:g} mm; it must be above 0. Write what it measures, such as 141.8."
    with pytest.raises(OutOfRange, match=whole(message)):
        find_scale(mm, PrototypeLength(Fraction(40)))


def test_a_list_of_scales_as_long_as_it_may_be():
    assert [each.name for each in scales_listed("HO, N".ljust(2000))] == ["HO", "N"]
    message = (
        "the list of scales is 2,001 characters long; it must be 2000 characters or fewer. Write such as HO, N, O."
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        scales_listed("HO, N".ljust(2001))
