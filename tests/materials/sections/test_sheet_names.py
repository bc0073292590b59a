"""Names of sheet by thickness."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import UnreadableLength
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.series import series_sizes_mm
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.sheets import SHEET_SERIES, Sheet

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959
EXAMPLE = "a sheet such as .040 sheet or 1 mm sheet"


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("text", "series", "thickness"),
    [
        (".040 sheet", "decimal inch", INCH_MM / 25),
        (".04 sheet", "decimal inch", INCH_MM / 25),
        ("sheet .040", "decimal inch", INCH_MM / 25),
        (".040", "decimal inch", INCH_MM / 25),
        ('0.040" sheet', "decimal inch", INCH_MM / 25),
        ("40 thou plate", "decimal inch", INCH_MM / 25),
        ("1/16 sheet", "decimal inch", INCH_MM / 16),
        ("1 in sheet", "decimal inch", INCH_MM),
        ("1 mm sheet", "metric", Fraction(1)),
        ("1,5 mm sheets", "metric", Fraction(3, 2)),
        ("½ mm sheet", "metric", Fraction(1, 2)),
        ("0.1 cm sheet", "metric", Fraction(1)),
    ],
)
def test_sheets_as_people_write_them(text, series, thickness):
    assert parse_sheet(text) == Sheet(series, thickness)


@pytest.mark.parametrize("series", SHEET_SERIES)
def test_every_sheet_of_the_series_reads_back(series):
    sheets = [Sheet(series, size) for size in series_sizes_mm(series)]
    assert [parse_sheet(sheet.name) for sheet in sheets] == sheets


@given(st.sampled_from(SHEET_SERIES), st.fractions(min_value=Fraction(1, 64), max_value=3, max_denominator=192))
def test_any_sheet_reads_back_from_its_name(series, thickness):
    sheet = Sheet(series, thickness * (INCH_MM if series == "decimal inch" else 1))
    assert parse_sheet(sheet.name) == sheet


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("sheet", f"'sheet': it has no thickness; write {EXAMPLE}."),
        ("0 mm sheet", f"'0 mm sheet': a thickness of 0 is no sheet; write {EXAMPLE}."),
        (
            ".040 x 1 sheet",
            (
                "'.040 x 1 sheet': a sheet goes by its thickness; write its thickness alone, such as .040 sheet or 1 "
                "mm sheet; length and width stand apart."
            ),
        ),
        ("1 scale in sheet", f"'1 scale in sheet': a sheet goes by its real thickness; write {EXAMPLE}."),
    ],
)
def test_what_is_no_sheet_is_refused_and_says_what_to_write(text, message):
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_sheet(text)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (".25 sheet", "'.25 sheet': it could be inches or mm; write .250 sheet for inches or 0.25 mm sheet for mm."),
        ("1 sheet", "'1 sheet': it could be inches or mm; write 1.000 in sheet for inches or 1 mm sheet for mm."),
    ],
)
def test_a_thickness_without_a_unit_asks_which(text, message):
    with pytest.raises(AmbiguousName, match=whole(message)) as asked:
        parse_sheet(text)
    assert [parse_sheet(reading).name for reading in asked.value.readings] == list(asked.value.readings)
