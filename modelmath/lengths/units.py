"""The units a length may be written in, exactly, and conversion at array speed.

The allow-list below is the only source of factors: the parser reads it directly, and the pint
registry is built from it, so that typed text never reaches pint's own, far wider, vocabulary.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from modelmath.errors import UnknownChoice, WrongKind, shown
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import Scale, scale_of

if TYPE_CHECKING:
    import pint

MM_PER_INCH = Fraction(254, 10)  # NIST SP 811, appendix B: exact since 1959
MM_PER_FOOT = 12 * MM_PER_INCH

REAL_UNITS: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    "ft": MM_PER_FOOT,
}
SCALE_UNITS = ("scale foot", "scale inch")
UNITS = (*REAL_UNITS, *SCALE_UNITS)

_SPELLINGS = {
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "inch": "in", "inches": "in", '"': "in", "foot": "ft", "feet": "ft", "'": "ft",
    "scale ft": "scale foot", "scale feet": "scale foot", "scale in": "scale inch", "scale inches": "scale inch",
}  # fmt: skip


def unit_name(unit: str) -> str:
    """Return the one name of a unit for any of its spellings.

    Parameters
    ----------
    unit : str
        A name, symbol or plural of a unit. [-]

    Returns
    -------
    str
        One of `UNITS`. [-]

    Raises
    ------
    UnknownChoice
        If the word is no unit of length this package reads.

    References
    ----------
    Names and symbols: NIST SP 811, appendix B; ``scale foot`` and ``scale inch`` are trade terms.

    Examples
    --------
    >>> unit_name("Scale Feet")
    'scale foot'
    """
    if not isinstance(unit, str):
        raise UnknownChoice("unit", str(unit), UNITS)
    if unit in UNITS:
        return unit
    word = " ".join(unit.split()).casefold()
    word = _SPELLINGS.get(word, word)
    if word not in UNITS:
        raise UnknownChoice("unit", unit, UNITS)
    return word


def mm_per(unit: str, scale: Scale | str | None = None) -> Fraction:
    """Return the exact model length of one unit.

    Parameters
    ----------
    unit : str
        One of `UNITS`, or another spelling of it. [-]
    scale : Scale, str or None
        Needed for scale feet and scale inches only. [-]

    Returns
    -------
    Fraction
        Length of one unit. [mm]

    Raises
    ------
    UnknownChoice, UnknownScale
        If the unit or the scale is not known.
    WrongKind
        If a scale unit comes without a scale.

    References
    ----------
    NIST SP 811, appendix B (inch, foot); data/scales.csv (scale foot).

    Examples
    --------
    >>> mm_per("scale foot", "HO"), mm_per("in")
    (Fraction(7, 2), Fraction(127, 5))
    """
    name = unit_name(unit)
    if name in REAL_UNITS:
        return REAL_UNITS[name]
    if scale is None:
        raise WrongKind("scale", "missing", f"the scale whose {name} is meant", 'Add scale="HO", or another scale.')
    foot = scale_of(scale).mm_per_foot
    return foot if name == "scale foot" else foot / 12


@cache
def registry() -> pint.UnitRegistry[Any]:
    """Return the one pint registry: the units above with exact factors, and no others.

    A scale's foot is ``scale_foot_KEY``, its inch ``scale_inch_KEY``, with KEY as in data/scales.csv.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> str(registry().Quantity(1, "inch").to("mm"))
    '127/5 millimeter'
    """
    import pint

    from modelmath.lengths.scales import all_scales

    lines = [
        "millimeter = [length] = mm",
        "centimeter = 10 * millimeter = cm",
        "meter = 1000 * millimeter = m",
        "inch = 127 / 5 * millimeter = in",
        "foot = 12 * inch = ft",
    ]
    for each in all_scales():
        foot = each.mm_per_foot
        lines.append(f"scale_foot_{each.key} = {foot.numerator} / {foot.denominator} * millimeter")
        lines.append(f"scale_inch_{each.key} = 1 / 12 * scale_foot_{each.key}")
    ureg: pint.UnitRegistry[Any] = pint.UnitRegistry(None, non_int_type=Fraction)
    ureg.load_definitions(lines)
    return ureg


_PINT_NAMES = {"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot"}


def _pint_name(unit: str, scale: Scale | None) -> str:
    """Return the registry's name of a unit; a scale of the user's own ratio is defined when it is first met."""
    if unit in REAL_UNITS:
        return _PINT_NAMES[unit]
    foot = mm_per("scale foot", scale)
    assert scale is not None  # mm_per has refused a scale unit without one
    key = scale.key.replace(".", "_")
    if f"scale_foot_{key}" not in registry():
        registry().define(f"scale_foot_{key} = {foot.numerator} / {foot.denominator} * millimeter")
        registry().define(f"scale_inch_{key} = 1 / 12 * scale_foot_{key}")
    return f"{unit.replace(' ', '_')}_{key}"


@cache
def _factor(from_unit: str, to_unit: str, scale: Scale | None) -> float:
    return float(registry().Quantity(1, _pint_name(from_unit, scale)).m_as(_pint_name(to_unit, scale)))


def convert(values: Any, from_unit: str, to_unit: str, scale: Scale | str | None = None) -> Any:
    """Convert lengths from one unit to another.

    Parameters
    ----------
    values : float, uncertain number, array or Series of any shape
        Lengths in `from_unit`. [from_unit]
    from_unit, to_unit : str
        Any of `UNITS`. [-]
    scale : Scale, str or None
        The scale that scale feet and inches belong to. [-]

    Returns
    -------
    same kind and shape as `values`
        The same lengths. [to_unit]

    Raises
    ------
    UnknownChoice, UnknownScale, WrongKind
        As `mm_per` does; also for text, which `parse_length` reads.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> convert(2.0, "in", "mm")
    50.8
    >>> convert(3.5, "scale foot", "mm", scale="HO")
    12.25
    """
    if isinstance(values, str):
        raise WrongKind("values", shown(values), "numbers", "Read text with parse_length.")
    if isinstance(values, PrototypeLength):
        remedy = "Turn it into one with a Scale's model_mm."
        raise WrongKind("values", f"the prototype length {values}", "model lengths", remedy)
    resolved = None if scale is None else scale_of(scale)
    factor = _factor(unit_name(from_unit), unit_name(to_unit), resolved)
    if isinstance(values, (list, tuple)):
        import numpy as np

        values = np.asarray(values)
    return float(values) * factor if isinstance(values, (int, Fraction)) else values * factor
