"""Scales against their printed definitions, printed track gauges and worked examples."""

import re
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import TableError, UnknownScale, WrongKind
from modelmath.lengths import scales as scales_module
from modelmath.lengths.parse import parse_length_exact, parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import MM_PER_PROTOTYPE_FOOT, all_scales, scale, scale_of

FOOT_MM = Fraction("304.8")  # exact: international yard and pound agreement, 1959
INCH_MM = Fraction("25.4")
DEFINITIONS = published_rows("scale_definitions.csv")


def whole(text):
    return f"^{re.escape(text)}$"


def test_the_table_has_every_scale_gathered_and_no_other():
    assert {each.key for each in all_scales()} == {row["key"] for row in DEFINITIONS}


@pytest.mark.parametrize("row", DEFINITIONS, ids=lambda row: row["key"])
def test_ratio_is_the_published_definition(row):
    """Source: the row's own, each a standard or trade usage."""
    found = scale(row["key"])
    assert found.ratio == Fraction(row["ratio"])
    assert found.source == row["source"]
    # The definition in words, worked out here: "3/16 in = 1 ft" is 3/16 x 25.4 mm to the foot.
    words = re.match(r"([0-9./]+) (mm|in) .*= 1 ft$|([0-9./]+) (mm|in) = 1 ft$", row["definition"])
    if words:
        size, unit = words[1] or words[3], words[2] or words[4]
        assert found.mm_per_foot == Fraction(size) * (INCH_MM if unit == "in" else 1)
    else:
        assert row["definition"] == "ratio"
    assert found.mm_per_inch * 12 == found.mm_per_foot
    assert found.mm_per_foot * found.ratio == FOOT_MM == MM_PER_PROTOTYPE_FOOT
    assert abs(found.mm_per_foot - Fraction(row["mm_per_foot"])) < Fraction(1, 10**9)


@pytest.mark.parametrize(
    ("name", "ratio"),
    [
        ("HO", FOOT_MM / Fraction("3.5")),  # NMRA S-1.2: 3.5 mm to the foot, not 1:87
        ("N", Fraction(160)),
        ("O", Fraction(48)),
        ("S", Fraction(64)),
        ("H0", Fraction(87)),  # MOROP NEM 010: with a zero it is 1:87
        ("0", Fraction(45)),  # MOROP NEM 010
        ("O (British)", FOOT_MM / 7),
        ("1:29", Fraction(29)),
    ],
)
def test_plain_names(name, ratio):
    assert scale(name).ratio == ratio


@pytest.mark.parametrize("text", ["ho", " HO ", "Ho", "HO scale", "ho  SCALE", "ho_nmra", "HO_NMRA"])
def test_case_blanks_and_the_word_scale_do_not_matter(text):
    assert scale(text) is scale("HO")


def test_a_name_that_ends_in_scale_is_itself():
    assert scale("1/2 inch scale").ratio == 24


@pytest.mark.parametrize(
    ("text", "ratio"), [("1:87.1", "87.1"), ("1/76.2", "76.2"), ("1 : 24", "24"), ("1:9999.999999", "9999.999999")]
)
def test_a_ratio_makes_a_scale_of_its_own(text, ratio):
    made = scale(text)
    assert made.ratio == Fraction(ratio)
    assert made.name == f"1:{ratio}"
    assert made.source == "as entered"


def test_every_scale_says_its_name_and_finds_itself():
    for each in all_scales():
        assert scale(each.name) is each
        assert scale(each.key) is each
        assert str(each) == each.name
        assert each.source
        assert scale_of(each) is each
        assert scale_of(each.name.lower()) is each


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("hoo", "No scale is called 'hoo'; did you mean OO, HO, O?"),
        ("H", "No scale is called 'H'; did you mean HO, H0?"),
        ("", "No scale is called ''; write HO, N, O or S, or a ratio such as 1:87.1."),
        ("1:87,1", "No scale is called '1:87,1'; write HO, N, O or S, or a ratio such as 1:87.1."),
        ("87", "No scale is called '87'; write HO, N, O or S, or a ratio such as 1:87.1."),
        (87, "No scale is called '87'; write HO, N, O or S, or a ratio such as 1:87.1."),
        (None, "No scale is called 'None'; write HO, N, O or S, or a ratio such as 1:87.1."),
        ("1:0.5", "No scale is called '1:0.5'; write HO, N, O or S, or a ratio such as 1:87.1."),
    ],
)
def test_an_unknown_scale_names_the_nearest(name, message):
    with pytest.raises(UnknownScale, match=whole(message)):
        scale(name)


@given(st.text(max_size=80))
def test_no_text_breaks_the_search_for_a_scale(text):
    with suppress(UnknownScale):  # nothing else may come out
        assert scale(text).ratio >= 1


@pytest.mark.parametrize("row", published_rows("scale_examples.csv"), ids=lambda row: row["id"])
def test_worked_example(row):
    """Source: the row's own."""
    if row["way"] == "to model mm":
        value = scale(row["scale"]).model_mm(parse_prototype(row["given"]))
    elif row["way"] == "to prototype ft":
        value = scale(row["scale"]).prototype_ft(parse_length_exact(row["given"]))
    else:
        assert row["way"] == "full size mm"
        value = parse_length_exact(row["given"])
    assert agrees_with_print(value, row["printed"])


def test_87_for_ho_is_0_3_mm_off_in_300():
    """Computed from the two definitions (0.0985 percent)."""
    assert agrees_with_print(300 * (scale("HO").ratio / scale("H0").ratio - 1), "0.2956")


@pytest.mark.parametrize("row", published_rows("gauges_nmra_s32.csv"), ids=lambda row: row["gauge"])
def test_printed_minimum_gauge_is_the_prototype_gauge_in_scale(row):
    """NMRA S-3.2, minimum column, printed to 0.001 in; these eight are the gauges that follow their scale."""
    gauge = scale(row["scale"]).model_mm(parse_prototype(f"{row['prototype_gauge_in']} in"))
    assert abs(gauge / INCH_MM - Fraction(row["minimum_in"])) <= Fraction("0.001")


@given(st.sampled_from(all_scales()), st.fractions(-1000, 1000, max_denominator=64))
def test_there_and_back_is_exact(each, feet):
    assert each.prototype_ft(each.model_mm(feet)) == feet
    assert each.prototype(each.model_mm(PrototypeLength(feet))).feet == feet


def test_a_scale_takes_floats_arrays_and_uncertain_numbers():
    import numpy as np
    from uncertainties import ufloat

    ho = scale("HO")
    assert ho.model_mm(2) == 7.0
    assert ho.model_mm(np.array([1.0, 2.0])).tolist() == [3.5, 7.0]
    assert ho.model_mm(ufloat(2.0, 0.1)).std_dev == pytest.approx(0.35)


def test_a_scale_refuses_text_and_a_second_turn():
    with pytest.raises(
        WrongKind,
        match=whole("prototype is '50 ft'; expected a number. Read text with parse_length or parse_prototype."),
    ):
        scale("HO").model_mm("50 ft")
    with pytest.raises(
        WrongKind,
        match=whole(
            "model_mm is the prototype length 50' 0\"; expected a model length in mm. It is full size already."
        ),
    ):
        scale("HO").prototype_ft(PrototypeLength(Fraction(50)))


@pytest.fixture
def table(monkeypatch):
    """Put a table of one's own in the place of data/scales.csv."""

    def put(*fields):
        columns = ("key", "name", "region", "definition", "ratio", "mm_per_prototype_foot", "source")
        made = [(line, dict(zip(columns, row, strict=True))) for line, row in enumerate(fields, start=2)]
        monkeypatch.setattr(scales_module, "rows", lambda _file: iter(made))

    all_scales.cache_clear()
    yield put
    monkeypatch.undo()
    all_scales.cache_clear()


def test_a_row_that_contradicts_itself_is_refused(table):
    table(("A", "a", "-", "ratio", "87", "3.5", "invented"))
    with pytest.raises(TableError, match=whole("data/scales.csv, line 2: ratio and mm to the foot disagree.")):
        all_scales()


def test_a_name_used_twice_is_refused(table):
    table(("A", "twice", "-", "-", "96", "3.175", "invented"), ("B", "Twice", "-", "-", "96", "3.175", "invented"))
    with pytest.raises(
        TableError, match=whole("data/scales.csv, line 3: the name 'twice' is taken by an earlier row.")
    ):
        all_scales()
