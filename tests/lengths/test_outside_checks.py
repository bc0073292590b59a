"""Lengths beside printed examples, an outside units library and numpy, where the other tests have no such check."""

from __future__ import annotations

from fractions import Fraction
from math import floor, sqrt

import numpy as np
import pytest
from astropy import units
from astropy.units import imperial
from published import agrees_with_print, published_rows
from uncertainties import ufloat

from modelmath.lengths.calibration.corrections import corrections
from modelmath.lengths.calibration.gauges import Gauge, covariance_of, merged
from modelmath.lengths.calibration.line_fit import fit_line
from modelmath.lengths.full_size.areas import area_text, parse_area, parse_volume, volume_text
from modelmath.lengths.full_size.drawing_lines import read_measured
from modelmath.lengths.full_size.drawing_words import agreement_text, with_limits
from modelmath.lengths.full_size.from_drawing import DrawingRatio
from modelmath.lengths.full_size.known_sizes import KnownSize
from modelmath.lengths.full_size.resizing import full_size_text, resize, resize_factor, resize_lines
from modelmath.lengths.full_size.standard_ratios import StandardRatio
from modelmath.lengths.parse import parse_length, parse_length_exact, parse_prototype
from modelmath.lengths.plain import plain_length
from modelmath.lengths.prototype import PrototypeArea, PrototypeVolume
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.repeats import mean_of
from modelmath.lengths.scales import scale
from modelmath.lengths.table import read_table
from modelmath.lengths.table.settings import settings
from modelmath.lengths.text import format_length, three_ways
from modelmath.lengths.uncertain import normal, triangular
from modelmath.lengths.units import unit_name

EXAMPLES = {row["id"]: row for row in published_rows("scale_examples.csv")}
TYPE_B = {(row["example"], row["name"]): row["value"] for row in published_rows("uncertainty_examples.csv")}
GAUGES = {row["gauge"]: row for row in published_rows("gauges_nmra_s32.csv")}
# JCGM 100:2008, table 1: twenty temperatures in degrees Celsius. From memory; 4.4.3 prints their mean, 100.145, the
# deviation of one, 1.489, and that of the mean, 0.333, which they give back.
TEMPERATURES = (
    *("96.90", "98.18", "98.25", "98.61", "99.03", "99.49", "99.56", "99.74", "99.89", "100.07"),
    *("100.33", "100.42", "100.68", "100.95", "101.11", "101.20", "101.57", "101.84", "102.36", "102.72"),
)


def in_mm(number, unit):
    return (number * unit).to_value(units.mm)


# --- Repeats and calibration -----------------------------------------------------------------------------------


def test_twenty_readings_have_the_mean_and_the_deviation_that_the_guide_prints():
    """JCGM 100:2008, 4.4.3; a rule read to 0.01 adds nothing to the printed digits."""
    rule = Rule(unit="mm", graduation="0.01", length="150")
    seen, exact, mean = mean_of(rule, TEMPERATURES, datum="zero")
    assert agrees_with_print(exact, "100.145")
    assert agrees_with_print(seen.deviation_mm, "1.489")
    assert agrees_with_print(mean.std_dev, "0.333")
    gauge = Gauge("bar", 100, TEMPERATURES, datum="zero").seen_with(rule)
    assert agrees_with_print(gauge.mark_mm, "100.145")
    assert agrees_with_print(gauge.u_mm, "0.333")
    halves = [Gauge("bar", 100, marks, datum="zero") for marks in (TEMPERATURES[:10], TEMPERATURES[10:])]
    (joined,) = merged(halves)  # one gauge listed twice is one gauge read twenty times
    assert agrees_with_print(joined.seen_with(rule).mark_mm, "100.145")
    assert agrees_with_print(joined.seen_with(rule).u_mm, "0.333")


def test_sizes_measured_with_one_caliper_vary_together_as_drawn():
    """numpy: the caliper's zero drawn once for all strips, each strip's own error for itself."""
    zero = ufloat(0.0, 0.2)
    sizes = [size + zero + ufloat(0.0, own) for size, own in ((5.0, 0.1), (20.0, 0.3), (40.0, 0.05))]
    random = np.random.default_rng(8)
    shared = random.normal(0, 0.2, 200_000)
    drawn = [shared + random.normal(0, own, 200_000) for own in (0.1, 0.3, 0.05)]
    found = covariance_of([Gauge(f"strip {at}", size, "9") for at, size in enumerate(sizes)])
    assert found == pytest.approx(np.cov(drawn), abs=1e-3)


MARKS, SIZES = (5.0, 12.0, 20.0, 33.0), (6.01, 13.02, 21.0, 34.05)


def calibration():
    rule = Rule(unit="mm", graduation="0.01", name="rule", length="100")
    gauges = [
        Gauge(f"gauge {at}", size, str(mark), u_mm=0.2)
        for at, (size, mark) in enumerate(zip(SIZES, MARKS, strict=True))
    ]
    return rule.calibrate(gauges)


def test_the_line_and_how_sure_it_is_are_those_of_numpy():
    """numpy.polyfit with the covariance of stated uncertainties; reading to 0.01 is nothing beside 0.2."""
    (slope, start), covariance = np.polyfit(MARKS, SIZES, 1, w=[1 / 0.2] * 4, cov="unscaled")
    found = calibration()
    for mark in (0.0, 12.5, 33.0, 60.0):
        at = np.array([mark, 1.0])
        assert found.u_at_mm(mark) == pytest.approx(sqrt(at @ covariance @ at), rel=1e-3)
    for each in corrections(found):
        shown = float(each.shown_mm)
        assert each.added_mm == pytest.approx(slope * shown + start - shown, abs=1e-4)


def test_a_leaf_that_passes_reads_half_a_step_low_on_average():
    """numpy: gaps anywhere, measured by the thickest leaf that passes."""
    step = 0.05
    gaps = np.random.default_rng(1).uniform(0.2, 0.8, 200_000)
    low = (gaps - np.floor(gaps / step) * step).mean()
    feelers = Rule(unit="mm", graduation=str(step), kind="feelers", reads="largest that passes", length="2")
    assert float(feelers.lean_mm) == pytest.approx(low, abs=3 * step / sqrt(12 * 200_000))


def test_a_rule_with_its_zero_a_foot_in_begins_a_foot_below_it():
    """NMRA S-1.2: an HO foot is 3.5 mm."""
    assert Rule(unit="scale foot", scale="HO", graduation="1/4", zero_offset="1").begins_mm == Fraction("-3.5")


def test_a_triangle_of_two_equal_rectangles_by_the_printed_factor():
    """NIST TN 1297: half width times 0.577 for a rectangle; the sum of two alike is a triangle twice as wide."""
    rectangle = float(TYPE_B["GUM_TYPEB", "rectangular"])
    assert triangular(10.0, 2.0, "sum").std_dev == pytest.approx(sqrt(2) * rectangle, rel=1e-8)


def test_what_was_measured_within_limits_by_the_printed_factor():
    assert agrees_with_print(read_measured("36 ± 1 mm").std_dev, TYPE_B["GUM_TYPEB", "rectangular"])


def test_a_table_reads_as_the_worked_example():
    """ZERO1: a rule that reads 0.35 at its end, and is 0.2 percent short; ZERO2: a difference."""
    short = Rule(unit="mm", graduation="0.05", zero_offset="-0.35", scale_error=-0.002, name="short", length="100")
    even = Rule(unit="mm", graduation="1", zero_offset="-0.35", reading_uncertainty="0.1", name="even", length="100")
    reading, first, second = (
        TYPE_B[name] for name in (("ZERO1", "reading"), ("ZERO2", "reading 1"), ("ZERO2", "reading 2"))
    )
    table = read_table(
        f"Feature,Reading,Instrument,From\nroof,{reading},short,end\none,{first},even,end\nother,{second},even,end\n",
        [short, even],
    )
    corrected = TYPE_B["ZERO1", "corrected, with 0.2 percent short ruler"]
    assert agrees_with_print(table.reading(2).n, corrected)
    assert agrees_with_print(table.frame.loc[2, "length_mm"], corrected)
    assert agrees_with_print(table.difference(4, 3).n, TYPE_B["ZERO2", "length"])
    assert agrees_with_print(table.difference(4, 3).std_dev, "0.141421")


def test_a_setting_is_the_reading_of_the_worked_example():
    """ZERO1 the other way: to mark out 35.9779 mm from its end, the short rule is set at 36.40."""
    short = Rule(unit="mm", graduation="0.05", zero_offset="-0.35", scale_error=-0.002, name="short", length="100")
    wanted = float(TYPE_B["ZERO1", "corrected, with 0.2 percent short ruler"])
    (text,), (beyond,) = settings(short, [wanted])
    assert float(text.split()[0]) + beyond == pytest.approx(float(TYPE_B["ZERO1", "reading"]), abs=1e-4)


# --- Units and text --------------------------------------------------------------------------------------------

TYPED = [
    ("7.25 in", 7.25, imperial.inch),
    ("3 ft", 3, imperial.foot),
    ("12.7 mm", 12.7, units.mm),
    ("2.54 cm", 2.54, units.cm),
    ("0.3 m", 0.3, units.m),
]


@pytest.mark.parametrize(("text", "number", "unit"), TYPED)
def test_a_length_is_read_as_astropy_has_it(text, number, unit):
    due = in_mm(number, unit)
    assert float(parse_length_exact(text)) == pytest.approx(due, rel=1e-12)
    assert parse_length(text) == pytest.approx(due, rel=1e-12)
    assert float(parse_prototype(text).feet) == pytest.approx((number * unit).to_value(imperial.foot), rel=1e-12)
    above, below = plain_length(text, None, None)
    assert above / below == pytest.approx(due, rel=1e-12)


def test_names_of_units_lead_to_their_symbols():
    """NIST SP 811, appendix B: in, ft, mm, as its tables write them."""
    names = {"inches": "in", "inch": "in", "feet": "ft", "foot": "ft", "millimetres": "mm", "millimeter": "mm"}
    assert {name: unit_name(name) for name in names} == names


def test_lengths_are_written_as_astropy_turns_them():
    inches = (19.25 * units.mm).to_value(imperial.inch)
    assert float(format_length(19.25, "in").removesuffix(" in")) == pytest.approx(inches, abs=5e-4)
    assert f"{inches:.3f} in" in three_ways(19.25, "HO")


AREAS = [("120 sq ft", 120 * imperial.foot**2), ("4 sq yd", 4 * imperial.yard**2), ("11.1 m2", 11.1 * units.m**2)]
VOLUMES = [
    ("4000 cu ft", 4000 * imperial.foot**3),
    ("10000 US gal", 10000 * imperial.gallon),
    ("113 m3", 113 * units.m**3),
]


@pytest.mark.parametrize(("text", "due"), AREAS)
def test_an_area_is_read_as_astropy_has_it(text, due):
    assert float(parse_area(text).square_feet) == pytest.approx(due.to_value(imperial.foot**2), rel=1e-9)


@pytest.mark.parametrize(("text", "due"), VOLUMES)
def test_a_volume_is_read_as_astropy_has_it(text, due):
    assert float(parse_volume(text).cubic_feet) == pytest.approx(due.to_value(imperial.foot**3), rel=1e-8)


def test_areas_and_volumes_are_written_as_astropy_turns_them():
    metric, inches = area_text(1176)
    assert (metric, inches) == ("1176 mm2", f"{(1176 * units.mm**2).to_value(imperial.inch**2):.4g} sq in")
    metric, inches = volume_text(171_500)
    assert metric == f"{(171_500 * units.mm**3).to_value(units.cm**3):.4g} cm3"
    assert inches == f"{(171_500 * units.mm**3).to_value(imperial.inch**3):.4g} cu in"


def test_limits_are_rounded_as_the_guide_rounds_them():
    """JCGM 100:2008, 7.2.6: 10.057 62 ohm with an uncertainty of 27 milliohm is written 10.058 ohm; from memory."""
    assert with_limits(normal(10.05762, 0.027, "resistor"), "ohm") == "10.058 ± 0.054 ohm"


# --- Scales ----------------------------------------------------------------------------------------------------


def test_a_model_in_another_scale_is_as_the_worked_examples_print_it():
    """scale_examples.csv: 10 ft 6 in in S, N and O; an inch of HO full size."""
    in_s, in_n, in_o = (Fraction(EXAMPLES[name]["printed"]) for name in ("SC5", "SC6", "SC7"))
    assert agrees_with_print(resize(in_s, "S", "N"), EXAMPLES["SC6"]["printed"])
    assert agrees_with_print(in_n * resize_factor("N", "O"), EXAMPLES["SC7"]["printed"])
    assert agrees_with_print(scale("HO").prototype_ft(25.4), EXAMPLES["SC4"]["printed"])
    assert agrees_with_print(scale("HO").prototype(25.4).feet, EXAMPLES["SC4"]["printed"])
    (row,), bad = resize_lines(f"door; {in_o.numerator / in_o.denominator} mm", "O", "S")
    assert not bad
    assert agrees_with_print(row.after_mm[0], EXAMPLES["SC5"]["printed"])


def test_standard_gauge_is_so_wide_full_size():
    """4 ft 8 1/2 in is 1435 mm: MOROP NEM 010, rounded to the millimetre as it is there."""
    assert full_size_text(parse_prototype("4 ft 8 1/2 in")) == ("4' 8 1/2\"", "1.435 m")


def test_track_on_a_drawing_comes_out_at_its_printed_gauge():
    """NMRA S-3.2: standard gauge, 56.5 in, is 0.649 in in HO, 0.883 in in S."""
    ratio = DrawingRatio((KnownSize.of_prototype("gauge", parse_prototype("4 ft 8 1/2 in"), 29.9),))
    assert agrees_with_print(ratio.on_model(29.9, "HO") / 25.4, GAUGES["HO"]["minimum_in"])
    known = KnownSize.of_model("gauge", float(GAUGES["S"]["minimum_in"]) * 25.4, "S", 29.9)
    half_a_digit_ft = 0.0005 * float(scale("S").ratio) / 12
    assert known.full_ft == pytest.approx(56.5 / 12, abs=half_a_digit_ft)


def test_a_sheet_copied_down_one_size_is_so_much_smaller():
    """ISO 216, from memory: A3 onto A4 is 1 to the root of 2; a body of 40 ft in 1:48, copied so."""
    drawn = 40 * 304.8 / 48
    small = DrawingRatio((KnownSize("body", 40.0, drawn * 210 / 297),))
    assert small.copied(StandardRatio(Fraction(48))) == pytest.approx(1 / sqrt(2), rel=1e-3)
    assert floor(1000 * small.copied(StandardRatio(Fraction(48)))) == 707


def test_areas_and_volumes_in_scale_are_the_box_in_the_table():
    """volumes.csv: a box of 35 x 20 x 12 mm is 8400 mm3; NMRA S-1.2: in HO 3.5 mm is a foot."""
    (box,) = (float(row["volume_mm3"]) for row in published_rows("volumes.csv") if row["shape"].startswith("box 35 x"))
    ho, cubic_feet = scale("HO"), Fraction(10) * Fraction(40, 7) * Fraction(24, 7)
    assert float(ho.prototype_volume(box).cubic_feet) == pytest.approx(float(cubic_feet))
    assert float(ho.model_mm3(PrototypeVolume(cubic_feet))) == pytest.approx(box)
    floor_feet = Fraction(10) * Fraction(40, 7)
    assert float(ho.prototype_area(box / 12).square_feet) == pytest.approx(float(floor_feet))
    assert float(ho.model_mm2(PrototypeArea(floor_feet))) == pytest.approx(box / 12)


def test_a_line_away_from_its_points_is_as_sure_as_the_guide_prints():
    """JCGM 100:2008, H.3.4: the thermometer at 30 degrees, line_fit_examples.csv; each axis moved, nothing changes."""
    rows = [row for row in published_rows("line_fit_examples.csv") if row["example"] == "H3"]
    points = [row for row in rows if row["role"] == "point"]
    printed = {row["role"]: row["value"] for row in rows if row["value"]}
    line = fit_line([float(row["x"]) - 25 for row in points], [float(row["y"]) + 3 for row in points])
    value, u = line.at(5)
    assert agrees_with_print(value - 3, printed["at 30"])
    assert agrees_with_print(line.deviation * u, printed["deviation at 30"])


def test_columns_of_readings_are_corrected_as_the_worked_example():
    """ZERO1 of uncertainty_examples.csv, and the step's printed factor: NIST TN 1297."""
    short = Rule(unit="mm", graduation="1", zero_offset="-0.35", scale_error=-0.002, length="100")
    lengths, _, reading_u_mm = short.lengths([float(TYPE_B["ZERO1", "reading"])] * 3)
    assert all(agrees_with_print(each, TYPE_B["ZERO1", "corrected, with 0.2 percent short ruler"]) for each in lengths)
    factor = float(TYPE_B["GUM_TYPEB", "digital resolution step q"])
    assert reading_u_mm == pytest.approx(factor * 0.998, rel=3e-3)


def test_dimensions_far_apart_are_said_to_be_so_at_95_percent_shared_among_them():
    """Tables of the normal distribution: 2.394 for 5 % shared by three (1 - 0.05/6 = 0.99167); from memory.

    Three dimensions of one ratio, one of them off: just below that many deviations nothing is said, just above it is.
    """
    for off, disagrees in ((2.30, False), (2.50, True)):
        u = 0.1
        spread = u * sqrt(1 + 0.5)  # the third beside the ratio of the two others, all as long
        sizes = [normal(100.0, u, "a"), normal(100.0, u, "b"), normal(100.0 + off * spread, u, "c")]
        ratio = DrawingRatio(tuple(KnownSize(name, 10.0, size) for name, size in zip("abc", sizes, strict=True)))
        assert ("disagree" in agreement_text(ratio) or "out by" in agreement_text(ratio)) is disagrees


def test_an_offset_known_to_a_limit_is_in_a_length_from_the_end_as_drawn():
    """numpy: a reading known to 0.1 mm and an offset to 0.3 mm."""
    rule = Rule(unit="mm", graduation="1", zero_offset="2", offset_uncertainty="0.3", reading_uncertainty="0.1")
    random = np.random.default_rng(6)
    drawn = 36 + random.normal(0, 0.1, 200_000) + random.normal(2, 0.3, 200_000)
    found = rule.length("36")
    assert (found.n, found.std_dev) == (pytest.approx(drawn.mean(), abs=0.01), pytest.approx(drawn.std(), rel=0.01))
    assert (rule.offset_source.n + rule.offset.n, rule.offset.std_dev) == (pytest.approx(2 + rule.offset_source.n), 0.3)


def test_a_prototype_size_within_limits_by_the_printed_factor():
    """uncertainty_examples.csv, NIST TN 1297: half width times 0.577; 4 ft 8 1/2 in, give or take an inch."""
    known = KnownSize.of_prototype("gauge", parse_prototype("4 ft 8 1/2 in"), 29.9, parse_prototype("1 in"))
    assert known.full_ft.n == pytest.approx(56.5 / 12)
    assert known.full_ft.std_dev == pytest.approx(float(TYPE_B["GUM_TYPEB", "rectangular"]) / 12, rel=1e-6)
