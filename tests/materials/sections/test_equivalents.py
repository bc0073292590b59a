"""What a strip is in other series and scales, against a computed table and against every section of a series."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnknownChoice, UnknownScale
from modelmath.lengths.scales import all_scales, scale
from modelmath.materials.sections.equivalents import USUAL_SCALES, equivalents, represents
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.strips import SERIES, Strip, parse_strip

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959
PUBLISHED = published_rows("strip_nearest_decimal.csv")


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['scale']}-{row['scale_inches']}")
def test_lumber_in_decimal_inch_agrees_with_the_table(row):
    """Computed table; source in each row. It begins at .010, so N 1, which .005 comes nearer to, is set by hand."""
    lumber = parse_strip(f"{row['scale']} {row['scale_inches']}x{row['scale_inches']}")
    (found,) = equivalents(lumber, series="decimal inch")
    printed = Strip("decimal inch", *2 * [INCH_MM * Fraction(row["nearest_decimal_strip_in"])])
    if row["scale"] == "N" and row["scale_inches"] == "1":
        assert found.strip.name == ".005 sq"
        found = type(found)(lumber, printed)
    assert found.strip == printed
    assert agrees_with_print(found.wanted.thickness_mm / INCH_MM, row["exact_in"])
    assert agrees_with_print(found.thickness_error_mm / INCH_MM, row["error_in"].lstrip("+"))
    assert agrees_with_print(found.width_error_mm / INCH_MM, row["error_in"].lstrip("+"))
    assert agrees_with_print(found.thickness_error_percent, row["error_percent"].lstrip("+"))
    assert agrees_with_print(found.width_error_percent, row["error_percent"].lstrip("+"))


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['scale']}-{row['scale_inches']}")
def test_what_decimal_strip_represents_agrees_with_the_table(row):
    side = INCH_MM * Fraction(row["nearest_decimal_strip_in"])
    found = represents(Strip("decimal inch", side, side), row["scale"])
    assert agrees_with_print(found.thickness_scale_in, row["represents_scale_inches"])
    assert agrees_with_print(found.width.feet * 12, row["represents_scale_inches"])


def test_ho_6x10_in_the_usual_series():
    """By hand: HO 6x10 is 1.75 x 2.9167 mm; an S scale inch is 0.396875 mm, an O one 0.529167 mm, an N one 0.15875.

    In metric 1.75 is as near to 1.5 as to 2; what is too thick can be sanded.
    """
    found = equivalents(parse_strip("HO 6x10"))
    assert [each.strip.name for each in found] == ["N 12x12", "HO 6x10", "S 4x8", "O 3x6", ".060 x .125", "2 x 3 mm"]
    assert [each.exact for each in found] == [False, True, False, False, False, False]
    assert found[2].thickness_error_mm == Fraction("1.5875") - Fraction("1.75")
    assert found[5].width_error_mm == 3 - Fraction(35, 12)
    assert equivalents(parse_strip("HO 6x10"), "HO", "scale lumber")[0].exact
    assert [each.exact for each in equivalents(parse_strip("1 x 2.1 mm"), series="metric")] == [False]
    assert [each.exact for each in equivalents(parse_strip("0.9 x 2 mm"), series="metric")] == [False]


def test_what_is_too_far_off_is_left_out_when_asked():
    strip = parse_strip("HO 6x10")
    assert [each.strip.name for each in equivalents(strip, within_percent=10)] == ["HO 6x10", "S 4x8", "O 3x6"]
    assert [each.strip.name for each in equivalents(strip, within_percent=0)] == ["HO 6x10"]
    message = "within_percent is -1; it must be 0 or more. Write such as 5, or None to keep all."
    with pytest.raises(OutOfRange, match=whole(message)):
        equivalents(strip, within_percent=-1)


sides = st.fractions(min_value=Fraction(1, 20), max_value=12, max_denominator=2000)
strips = st.tuples(sides, sides).map(lambda pair: Strip("metric", min(pair), max(pair)))
scales = st.sampled_from(all_scales())


@given(strips, scales, st.sampled_from(SERIES))
def test_no_section_of_the_series_is_nearer(strip, of, series):
    """By trying every section: none is nearer in thickness, in width, or in both together."""
    (found,) = equivalents(strip, [of], series)
    errors = [
        (abs(each.thickness_mm - strip.thickness_mm), abs(each.width_mm - strip.width_mm))
        for each in strip_series(of, series)
    ]
    mine = abs(found.thickness_error_mm), abs(found.width_error_mm)
    assert found.strip in strip_series(of, series)
    assert mine == (min(thick for thick, _ in errors), min(wide for _, wide in errors))
    assert mine in errors


@given(scales, st.data())
def test_every_strip_is_itself_in_its_own_series(of, data):
    strip = data.draw(st.sampled_from(strip_series(of)))
    (found,) = equivalents(strip, [of], strip.series)
    assert (found.strip, found.exact) == (strip, True)
    assert (found.thickness_error_percent, found.width_error_percent) == (0, 0)


@given(strips, scales, st.sampled_from(SERIES))
def test_what_a_strip_is_called_changes_nothing(strip, of, series):
    """The same section under another series' name has the same equivalents and stands for the same."""
    renamed = Strip("scale lumber", strip.thickness_mm, strip.width_mm, of.name)
    (one,), (other,) = equivalents(strip, [of], series), equivalents(renamed, [of], series)
    assert (one.strip, one.thickness_error_mm, one.width_error_mm) == (
        other.strip,
        other.thickness_error_mm,
        other.width_error_mm,
    )
    assert represents(strip, of).lumber == represents(renamed, of).lumber


@given(strips, scales)
def test_a_strip_represents_what_its_scale_makes_of_it(strip, of):
    """Back through the scale: scale inches times the inch of the scale is the strip again."""
    found = represents(strip, of)
    assert of.model_mm(found.thickness) == strip.thickness_mm
    assert of.model_mm(found.width) == strip.width_mm
    assert found.thickness_scale_in == found.thickness.feet * 12
    assert found.lumber == equivalents(strip, [of], "scale lumber")[0].strip
    assert found.error.thickness_error_mm == strip.thickness_mm - found.lumber.thickness_mm


@given(st.sampled_from(all_scales()), st.sampled_from((1, 2, 3, 4, 6, 8, 10, 12)))
def test_lumber_represents_its_nominal_size_in_its_own_scale(of, inches):
    found = represents(parse_strip(f"{inches}x12", of), of)
    assert (found.thickness_scale_in, found.width_scale_in) == (inches, 12)
    assert found.error.exact


def test_a_scale_or_series_that_is_none_is_refused():
    strip = parse_strip("HO 6x10")
    with pytest.raises(UnknownScale, match=r"^No scale is called 'hoo'; did you mean OO, HO, O\?$"):
        equivalents(strip, ["hoo"])
    message = "strip series is 'metrical'; write one of scale lumber, decimal inch, metric. Did you mean 'metric'?"
    with pytest.raises(UnknownChoice, match=whole(message)):
        equivalents(strip, series="metrical")
    assert equivalents(strip, []) == equivalents(strip, series=("decimal inch", "metric"))
    assert [scale(name).name for name in USUAL_SCALES] == list(USUAL_SCALES)
