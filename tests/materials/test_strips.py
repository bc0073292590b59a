"""Strip names and the sizes of the series."""

import re
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, TableError, UnknownChoice, UnknownScale, UnreadableLength
from modelmath.lengths.scales import all_scales, scale
from modelmath.materials.sections import series as series_module
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.series import series_sizes_mm, strip_series
from modelmath.materials.sections.strips import SERIES, Strip, parse_strip

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959
PUBLISHED_SCALES = {"N": "N", "HO": "HO", "S": "S", "O": "O", "1/2 inch scale": "1:24"}
OWN_SCALE = "with your own scale in place of HO"
EXAMPLE = "a strip such as HO 6x10, .030 x .125, .040 sq or 1.0 x 2.0 mm"


def whole(text):
    return f"^{re.escape(text)}$"


def test_ho_6x10_strip_is_6_by_10_scale_inches():
    """HO 6x10 is 6 by 10 scale inches: common practice, no source. HO is 3.5 mm to the foot (NMRA S-1.2)."""
    strip = parse_strip("HO 6x10")
    assert strip == Strip("scale lumber", Fraction("3.5") * 6 / 12, Fraction("3.5") * 10 / 12, "HO")
    assert strip.name == "HO 6x10"


@pytest.mark.parametrize(
    "row", published_rows("strip_lumber.csv"), ids=lambda row: f"{row['scale']}-{row['size_scale_in']}"
)
def test_lumber_sizes_are_nominal_scale_inches(row):
    """Source in each row: nominal scale inches divided by the ratio."""
    of = scale(PUBLISHED_SCALES[row["scale"]])
    strip = parse_strip(f"{of.name} {row['size_scale_in']}x{row['size_scale_in']}")
    assert agrees_with_print(strip.thickness_mm, row["size_mm"])
    assert agrees_with_print(strip.thickness_mm / INCH_MM, row["size_in"])
    assert strip.thickness_mm in series_sizes_mm("scale lumber", of)


@pytest.mark.parametrize(
    ("text", "series", "thickness", "width"),
    [
        (".040 sq", "decimal inch", INCH_MM * Fraction("0.040"), INCH_MM * Fraction("0.040")),
        (".040 square", "decimal inch", INCH_MM * Fraction("0.040"), INCH_MM * Fraction("0.040")),
        (".030 x .125", "decimal inch", INCH_MM * Fraction("0.030"), INCH_MM * Fraction("0.125")),
        (".125x.030", "decimal inch", INCH_MM * Fraction("0.030"), INCH_MM * Fraction("0.125")),
        ('1/8" x 1/4"', "decimal inch", INCH_MM / 8, INCH_MM / 4),
        ("0.04 x 0.1 in", "decimal inch", INCH_MM / 25, INCH_MM / 10),
        ("1.0 x 2.0 mm", "metric", Fraction(1), Fraction(2)),
        ("1.5x2 mm", "metric", Fraction(3, 2), Fraction(2)),
        ("1,5 × 2 mm", "metric", Fraction(3, 2), Fraction(2)),
        ("2 sq mm", "metric", Fraction(2), Fraction(2)),
        ("1 mm by 2 mm", "metric", Fraction(1), Fraction(2)),
        ("ho 10 x 6", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO6x10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO 6 by 10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO 6x10 scale in", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO 1 1/2 x 6", "scale lumber", Fraction(7, 16), Fraction(7, 4)),
        ("N 12 sq", "scale lumber", INCH_MM * 12 / 160, INCH_MM * 12 / 160),
        ("1:48 4x4", "scale lumber", INCH_MM * 4 / 48, INCH_MM * 4 / 48),
        ("6x10 HO", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("6 x 10 HO scale", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("6×10 (HO)", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO scale 6x10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO-scale 6x10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO-6x10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO: 6*10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO 6-by-10 strip", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO lumber 6by10", "scale lumber", Fraction(7, 4), Fraction(35, 12)),
        ("HO 1/2 x 6 scale in", "scale lumber", Fraction("3.5") / 24, Fraction(7, 4)),
        ("H0 1/2 x 6 scale in", "scale lumber", INCH_MM / 87 / 2, INCH_MM / 87 * 6),
        ("4x4 1:48", "scale lumber", INCH_MM * 4 / 48, INCH_MM * 4 / 48),
        ("1/2 inch scale 4x4", "scale lumber", INCH_MM * 4 / 24, INCH_MM * 4 / 24),
        ("sq .040", "decimal inch", INCH_MM / 25, INCH_MM / 25),
        ('.040" square rod', "decimal inch", INCH_MM / 25, INCH_MM / 25),
        ('0.030" x 0.125"', "decimal inch", INCH_MM * 3 / 100, INCH_MM / 8),
        ("0.030″ × 0.125″", "decimal inch", INCH_MM * 3 / 100, INCH_MM / 8),
        ("1/16 x 1/8 in", "decimal inch", INCH_MM / 16, INCH_MM / 8),
        ("1/16 x 1/8", "decimal inch", INCH_MM / 16, INCH_MM / 8),
        ("⅛ by .030", "decimal inch", INCH_MM * 3 / 100, INCH_MM / 8),
        (".03 x .06", "decimal inch", INCH_MM * 3 / 100, INCH_MM * 6 / 100),
        ("30 x 125 thou", "decimal inch", INCH_MM * 3 / 100, INCH_MM / 8),
        ("40 thou square", "decimal inch", INCH_MM / 25, INCH_MM / 25),
        ("1,5 x 2 mm", "metric", Fraction(3, 2), Fraction(2)),
        ("1.5mm x 2mm", "metric", Fraction(3, 2), Fraction(2)),
        ("1½ x 2 millimetres", "metric", Fraction(3, 2), Fraction(2)),
    ],
)
def test_names_as_people_write_them(text, series, thickness, width):
    strip = parse_strip(text)
    assert (strip.series, strip.thickness_mm, strip.width_mm) == (series, thickness, width)


@pytest.mark.parametrize("text", ["6x10", "6 by 10", "6 × 10", "10X6", "6x10 lumber", "6x10 scale in", "HO 6x10"])
def test_a_scale_beside_the_name_makes_whole_numbers_lumber(text):
    assert parse_strip(text, scale="HO").name == "HO 6x10"


def test_a_scale_beside_the_name_changes_no_name_that_is_whole():
    assert parse_strip("N 6x10", scale="HO").name == "N 6x10"
    assert parse_strip(".040 sq", scale="HO").name == ".040 sq"
    assert parse_strip("1 x 2 mm", scale="HO").name == "1 x 2 mm"


@pytest.mark.parametrize("of", [each.name for each in all_scales()])
def test_every_name_of_every_series_reads_back(of):
    strips = strip_series(of)
    assert len(strips) == 36 + 120 + 105  # 8 lumber, 15 decimal and 14 metric sizes, each with each at least as wide
    assert all(parse_strip(strip.name) == strip for strip in strips)
    assert len({strip.name for strip in strips}) == len(strips)


sides = st.fractions(min_value=Fraction(1, 64), max_value=40, max_denominator=128)


# A third behind the 1 of a scale's name is no one and a third; nor behind the 0 of H0.
@example("scale lumber", "No. 1", Fraction(1, 3), Fraction(2, 3))
@example("scale lumber", "H0", Fraction(1, 48), Fraction(6))
@given(st.sampled_from(SERIES), st.sampled_from([each.name for each in all_scales()]), sides, sides)
def test_any_strip_reads_back_from_its_name(series, of, one, other):
    unit = {"scale lumber": scale(of).mm_per_inch, "decimal inch": INCH_MM, "metric": Fraction(1)}[series]
    thin, wide = sorted((one * unit, other * unit))
    strip = Strip(series, thin, wide, of if series == "scale lumber" else None)
    assert parse_strip(strip.name) == strip


def test_series_without_a_scale_leaves_lumber_out():
    assert {strip.series for strip in strip_series()} == {"decimal inch", "metric"}
    assert strip_series(series="scale lumber") == ()
    assert all(strip.thickness_mm <= strip.width_mm for strip in strip_series("O"))


@pytest.mark.parametrize(
    ("text", "of", "message"),
    [
        ("HO", None, f"'HO': it has no size; write {EXAMPLE}."),
        (".040", None, f"'.040': it has one side only; write {EXAMPLE}."),
        ("6x10x3", None, f"'6x10x3': it has more than two sides; write {EXAMPLE}."),
        ("1 mm x .1 in", None, "'1 mm x .1 in': its sides have different units; write both in mm or both in inches."),
        (".030 x 2 mm", None, "'.030 x 2 mm': its sides have different units; write both in mm or both in inches."),
        (
            "6x10 scale in",
            None,
            "'6x10 scale in': it has scale inches but no scale; write the scale first, as HO 6x10.",
        ),
        ("", None, f"'': nothing is written here; write {EXAMPLE}."),
        ("HO six x 10", None, f"'HO six x 10': it can't be read as a strip; write {EXAMPLE}."),
        ("0 x 1 mm", None, f"'0 x 1 mm': a side of 0 is no strip; write {EXAMPLE}."),
        ("1/0 x 2 mm", None, "'1/0': a fraction can't have 0 below the line; write a fraction such as 3/4."),
        ("9**9**9 mm", None, f"'9**9**9 mm': it has more than two sides; write {EXAMPLE}."),
        ("-6x10", "HO", f"'-6x10': it can't be read as a strip; write {EXAMPLE}."),
        ("HO 6x10 O", None, "'HO 6x10 O': it has two scales; write one scale, as HO 6x10."),
        ("6x10 lumber", None, "'6x10 lumber': it has scale inches but no scale; write the scale first, as HO 6x10."),
        ("3/32 tube", None, f"'3/32 tube': 'tube' is no word for a strip; write {EXAMPLE}."),
        ("sq sq 2 mm", None, f"'sq sq 2 mm': it can't be read as a strip; write {EXAMPLE}."),
        (
            "1 x 2 sq mm",
            None,
            "'1 x 2 sq mm': it is called square and its sides differ; write one side and sq, or two sides.",
        ),
        (
            "1,250 x 2 mm",
            None,
            "'1,250': the comma may be a decimal mark or a thousands mark; write 1.250 or 1250.",
        ),
    ],
)
def test_what_is_no_name_is_refused_and_says_what_to_write(text, of, message):
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_strip(text, of)


@pytest.mark.parametrize(
    ("text", "of", "could_be", "write"),
    [
        ("6x10", None, "scale inches or mm", f"HO 6x10 for scale inches or 6 x 10 mm for mm, {OWN_SCALE}"),
        ("2 square", None, "scale inches or mm", f"HO 2x2 for scale inches or 2 x 2 mm for mm, {OWN_SCALE}"),
        ("0.5 x .75", None, "inches or mm", ".500 x .750 for inches or 0.5 x 0.75 mm for mm"),
        ("0.030 x 0.125", "N", "inches or mm", ".030 x .125 for inches or 0.03 x 0.125 mm for mm"),
        (
            "1.5x2",
            "O",
            "scale inches, inches or mm",
            "O 1.5x2 for scale inches, 1.500 x 2.000 in for inches or 1.5 x 2 mm for mm",
        ),
        ("HO 1x2 mm", None, "scale inches or mm", "HO 1x2 for scale inches or 1 x 2 mm for mm"),
        ("HO 6x10 in", None, "scale inches or inches", "HO 6x10 for scale inches or 6.000 x 10.000 in for inches"),
        (
            "HO .030 x .125",
            None,
            "scale inches or inches",
            "HO 0.03x0.125 scale in for scale inches or .030 x .125 for inches",
        ),
        (
            "S 0.5x6",
            None,
            "scale inches, inches or mm",
            "S 0.5x6 scale in for scale inches, .500 x 6.000 in for inches or 0.5 x 6 mm for mm",
        ),
        (
            "S 1/2x6",
            "HO",
            "scale inches, inches or mm",
            "S 0.5x6 scale in for scale inches, .500 x 6.000 in for inches or 0.5 x 6 mm for mm",
        ),
    ],
)
def test_a_name_that_could_be_two_strips_asks_which(text, of, could_be, write):
    with pytest.raises(AmbiguousName, match=whole(f"'{text}': it could be {could_be}; write {write}.")) as asked:
        parse_strip(text, of)
    assert len(asked.value.readings) == len(asked.value.kinds) >= 2
    assert [parse_strip(reading).name for reading in asked.value.readings] == list(asked.value.readings)


def test_a_page_of_text_and_no_text_are_refused():
    with pytest.raises(UnreadableLength, match=r"it is longer than 60 characters; write a strip such as HO 6x10, "):
        parse_strip("6x10 " * 1000)
    with pytest.raises(
        UnreadableLength, match=r"^'6': it is not text; write a strip's name in quotes, such as HO 6x10, "
    ):
        parse_strip(6)


def test_an_unknown_scale_is_refused():
    with pytest.raises(UnknownScale, match=r"^No scale is called 'hoo'; did you mean OO, HO, O\?$"):
        parse_strip("HOO 6x10")


def test_a_strip_that_contradicts_itself_is_refused():
    message = "thickness_mm is 2 mm, with width_mm 1 mm; it must be the smaller side. Swap the two."
    with pytest.raises(OutOfRange, match=whole(message)):
        Strip("metric", Fraction(2), Fraction(1))
    message = (
        "scale is 'HO'; it must be a scale's name for scale lumber and None for other strip. "
        'Write Strip("scale lumber", ..., scale="HO").'
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        Strip("metric", Fraction(1), Fraction(2), "HO")
    message = "strip series is 'metrical'; write one of scale lumber, decimal inch, metric. Did you mean 'metric'?"
    with pytest.raises(UnknownChoice, match=whole(message)):
        Strip("metrical", Fraction(1), Fraction(2))
    with pytest.raises(UnknownChoice, match=whole(message)):
        series_sizes_mm("metrical")


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        ({"series": "metric", "size_in": "0.03938", "size_mm": "1.00"}, "1.00 mm and 0.03938 in disagree"),
        ({"series": "decimal inch", "size_in": "0.040", "size_mm": "1.0161"}, "1.0161 mm and 0.040 in disagree"),
        ({"series": "wood", "size_in": "0.040", "size_mm": "1.0160"}, "no series is called 'wood'"),
    ],
)
def test_a_size_that_contradicts_itself_is_refused(monkeypatch, row, problem):
    monkeypatch.setattr(series_module, "rows", lambda file: iter([(5, row | {"source": "made up for this test"})]))
    with pytest.raises(TableError, match=whole(f"data/strip_series.csv, line 5: {problem}.")):
        series_module._sizes.__wrapped__()
