"""Units against their definitions and against two general-purpose units libraries."""

import re
from fractions import Fraction

import numpy as np
import pytest
from astropy import units
from hypothesis import given
from hypothesis import strategies as st
from published import published_rows

from modelmath.errors import UnknownChoice, UnknownScale, WrongKind
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import all_scales, scale
from modelmath.lengths.units import REAL_UNITS, SCALE_UNITS, UNITS, convert, mm_per, registry, unit_name

values = st.floats(-1e6, 1e6, allow_nan=False)
real = st.sampled_from(list(REAL_UNITS))
PINT_NAMES = {"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot"}


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize("row", published_rows("length_units.csv"), ids=lambda row: row["unit"])
def test_inch_and_foot_are_exact(row):
    """NIST SP 811, appendix B; international yard and pound agreement, 1959."""
    parts = {"inch": mm_per("in"), "foot": mm_per("ft"), "1/64 inch": mm_per("in") / 64}
    assert parts[row["unit"]] == Fraction(row["mm"])


@given(values, real, real)
def test_astropy_agrees(value, from_unit, to_unit):
    """Outside check: astropy.units, whose inch and foot are its own definitions."""
    names = {"in": "imperial.inch", "ft": "imperial.foot"}

    def theirs(name):
        module, _, unit = names.get(name, name).rpartition(".")
        return getattr(getattr(units, module) if module else units, unit)

    expected = (value * theirs(from_unit)).to_value(theirs(to_unit))
    assert convert(value, from_unit, to_unit) == pytest.approx(expected, rel=1e-12, abs=1e-300)


@given(values, st.sampled_from(UNITS), st.sampled_from(UNITS), st.sampled_from(all_scales()))
def test_convert_round_trips(value, from_unit, to_unit, each):
    there = convert(value, from_unit, to_unit, scale=each)
    assert convert(there, to_unit, from_unit, scale=each) == pytest.approx(value, rel=1e-12, abs=1e-300)


@pytest.mark.parametrize("unit", REAL_UNITS)
def test_pint_registry_agrees_with_the_allow_list(unit):
    assert registry().Quantity(1, PINT_NAMES[unit]).to("mm").magnitude == mm_per(unit)
    assert registry().Quantity(1, unit).to("mm").magnitude == mm_per(unit)


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
def test_pint_registry_knows_every_scale(each):
    foot = registry().Quantity(1, f"scale_foot_{each.key}").to("mm").magnitude
    inch = registry().Quantity(1, f"scale_inch_{each.key}").to("mm").magnitude
    assert foot == mm_per("scale foot", each) == each.mm_per_foot
    assert inch == mm_per("scale inch", each) == each.mm_per_inch


@pytest.mark.parametrize("stray", ["yard", "mil", "degC", "second", "pt"])
def test_pint_registry_has_no_other_units(stray):
    assert stray not in registry()


def test_convert_keeps_the_kind():
    import pandas as pd
    from uncertainties import ufloat

    array = convert(np.array([[1.0, 2.0]]), "in", "mm")
    assert array.tolist() == [[25.4, 50.8]]
    series = convert(pd.Series([4.0], index=["roof"], name="height"), "scale foot", "mm", scale="HO")
    assert (series.name, series["roof"]) == ("height", 14.0)
    assert convert([1, 2], "cm", "mm").tolist() == [10.0, 20.0]
    length = ufloat(2.0, 0.1)
    doubled = convert(length, "cm", "mm")
    assert (doubled - 10 * length).std_dev == pytest.approx(0.0, abs=1e-12)  # it stays the same variable
    assert convert(Fraction(1, 4), "scale foot", "mm", scale="HO") == 0.875
    assert convert(3, "ft", "in") == 36.0


@pytest.mark.parametrize(
    ("spelling", "name"),
    [("Inches", "in"), (" scale  FEET ", "scale foot"), ("'", "ft"), ('"', "in"), ("millimetres", "mm"), ("M", "m")],
)
def test_unit_spellings(spelling, name):
    assert unit_name(spelling) == name


def test_unknown_unit_says_what_to_write():
    message = "unit is 'inchs'; write one of mm, cm, m, in, ft, scale foot, scale inch."
    with pytest.raises(UnknownChoice, match=whole(message + " Did you mean 'in'?")):
        convert(1.0, "inchs", "mm")


@pytest.mark.parametrize("unit", SCALE_UNITS)
def test_scale_unit_without_a_scale_is_refused(unit):
    message = f'scale is missing; expected the scale whose {unit} is meant. Add scale="HO", or another scale.'
    with pytest.raises(WrongKind, match=whole(message)):
        mm_per(unit)


def test_unknown_scale_is_refused_even_between_real_units():
    with pytest.raises(UnknownScale, match=whole("No scale is called 'HOO'; did you mean OO, HO, O?")):
        convert(1.0, "in", "mm", scale="HOO")


def test_convert_refuses_text_and_prototype_lengths():
    with pytest.raises(WrongKind, match=whole("values is “3' 4\"”; expected numbers. Read text with parse_length.")):
        convert("3' 4\"", "ft", "mm")
    message = (
        "values is the prototype length 40' 0\"; expected model lengths. Turn it into one with a Scale's model_mm."
    )
    with pytest.raises(WrongKind, match=whole(message)):
        convert(PrototypeLength(Fraction(40)), "ft", "mm")


def test_ho_foot_is_not_the_h0_foot():
    assert mm_per("scale foot", "HO") == Fraction(7, 2)
    assert mm_per("scale foot", scale("H0")) == Fraction(3048, 870)
