"""Wire by gauge: its copper's diameter, area and resistance, and the gauge of a measured wire.

All sizes are of the bare copper. How much current a wire may carry is not told here.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from modelmath.errors import OutOfRange, UnreadableLength, WrongKind
from modelmath.lengths.plain import LONGEST
from modelmath.materials.drills.bundles import MOST_STRANDS, bundle_mm
from modelmath.materials.exact import exact_mm
from modelmath.tables import rows

ANCHOR_GAUGE, ANCHOR_MM = 36, 0.127  # ASTM B258: AWG 36 is 0.0050 in
STEPS, RATIO = 39, 92.0  # ASTM B258: from 0.0050 in to 0.4600 in, AWG 4/0, in 39 steps
THICKEST, THINNEST = -3, 50  # 4/0 is counted as -3, as the formula does
COPPER_OHM_MM2_PER_M = 1 / 58  # IEC 60028: annealed copper at 20 °C
COPPER_PER_K = 0.00393  # IEC 60028: at 20 °C, constant mass
COPPER_AT_C = 20.0
STRAIGHT_C = (-50.0, 150.0)  # from memory: where one coefficient serves; past it the straight line is not offered
GAUGE_FORMS = "a gauge such as 30, 2/0, 0000, or strands and gauge such as 7/38"

_STRANDED = re.compile(r"([0-9]+)\s*/\s*([0-9]+)")
_ROUND_MM = 9  # decimals of a mm kept where a float is snapped to the nearest gauge


@dataclass(frozen=True)
class Wire:
    """The bare copper of a wire.

    Attributes
    ----------
    name : str
        As it is asked for: ``AWG 30``, ``AWG 2/0``, ``7/38`` for 7 strands of AWG 38. [-]
    gauge : int
        Gauge of the wire or of each strand; 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0. [-]
    strands : int
        How many strands; 1 when solid. [-]
    strand_mm : float
        Diameter of one strand. [mm]
    diameter_mm : float
        Diameter over all; of strands, the closest they can lie. [mm]
    area_mm2 : float
        Copper's section, all strands together. [mm2]
    """

    name: str
    gauge: int
    strands: int
    strand_mm: float
    diameter_mm: float
    area_mm2: float

    def ohm_per_m(self, temperature_c: float = COPPER_AT_C) -> float:
        """Return the resistance of a metre of this wire in annealed copper.

        Strands are taken as straight and side by side; twisted ones are a few percent longer than the wire.

        Parameters
        ----------
        temperature_c : float
            Temperature of the copper. [degC]

        Returns
        -------
        float
            Resistance per length. [ohm/m]

        Raises
        ------
        OutOfRange
            If the temperature is no number from -50 to 150 degC.

        References
        ----------
        IEC 60028: 1/58 ohm mm2/m at 20 degC, 0.00393 per K. The limits of temperature: from memory.

        Examples
        --------
        >>> round(awg(30).ohm_per_m(), 4)
        0.3386
        """
        low, high = STRAIGHT_C
        if not low <= temperature_c <= high:  # a number that is none compares false too
            expected = f"from {low:g} to {high:g} °C"
            raise OutOfRange("temperature_c", f"{temperature_c} °C", expected, f"Leave it out for {COPPER_AT_C:g} °C.")
        warmth = 1 + COPPER_PER_K * (temperature_c - COPPER_AT_C)
        return COPPER_OHM_MM2_PER_M / self.area_mm2 * warmth


@dataclass(frozen=True)
class NearGauge:
    """The gauge nearest to a measured diameter of bare copper.

    Attributes
    ----------
    measured_mm : float
        What was measured. [mm]
    wire : Wire
        The nearest gauge, by diameter. [-]
    thicker : Wire or None
        The next gauge thicker than that; None past 4/0. [-]
    thinner : Wire or None
        The next gauge thinner than that; None past 50. [-]
    """

    measured_mm: float
    wire: Wire
    thicker: Wire | None
    thinner: Wire | None

    @property
    def difference_mm(self) -> float:
        """The measured diameter less that of the gauge. [mm]"""
        return self.measured_mm - self.wire.diameter_mm


@dataclass(frozen=True)
class UsualOutside:
    """What a wire with its insulation usually measures; measure your own before drilling.

    Attributes
    ----------
    wire : str
        What sort of wire. [-]
    gauge : int
        Its gauge. [-]
    least_mm, most_mm : float
        Between what its outside usually is. [mm]
    source : str
        Where that comes from. [-]
    """

    wire: str
    gauge: int
    least_mm: float
    most_mm: float
    source: str


def gauge_mm(gauge: int) -> float:
    """Return the diameter of a gauge.

    Parameters
    ----------
    gauge : int
        0 for 1/0, -1 for 2/0, down to -3 for 4/0; up to 50. [-]

    Returns
    -------
    float
        Diameter of the bare wire. [mm]

    Raises
    ------
    OutOfRange
        If there is no such gauge.

    References
    ----------
    ASTM B258: 0.005 in x 92^((36 - gauge) / 39).

    Examples
    --------
    >>> gauge_mm(36), round(gauge_mm(-3) / 25.4, 4)
    (0.127, 0.46)
    """
    if not THICKEST <= gauge <= THINNEST:
        nearest = THICKEST if gauge < THICKEST else THINNEST
        advice = f"Write {_gauge_name(nearest)} for the nearest."
        raise OutOfRange("AWG", _gauge_name(gauge), f"from 4/0 to {THINNEST}", advice)
    return ANCHOR_MM * math.exp(math.log(RATIO) * (ANCHOR_GAUGE - gauge) / STEPS)


def _gauge_name(gauge: int) -> str:
    """Return a gauge as it is asked for: 30, 0, 2/0."""
    return str(gauge) if gauge >= 0 else f"{1 - gauge}/0"


def _made(gauge: int, strands: int) -> Wire:
    single = gauge_mm(gauge)
    # 7/00 rather than 7/2/0: noughts are spelled out behind a stroke, so that the name is read back.
    name = f"AWG {_gauge_name(gauge)}" if strands == 1 else f"{strands}/{gauge if gauge > 0 else '0' * (1 - gauge)}"
    area = strands * math.pi / 4 * single**2
    return Wire(name, gauge, strands, single, float(bundle_mm(single, strands)), area)


def awg(name: str | int) -> Wire:
    """Return the wire that a gauge names.

    Read are a number from 0 to 50, the thick ones as ``2/0`` or ``00``, and stranded wire as strands and gauge of
    each, ``7/38``; ``AWG`` may stand before or behind.

    Parameters
    ----------
    name : str or int
        The gauge; a number must be 0 to 50. [-]

    Returns
    -------
    Wire
        The bare copper: its diameter, area and resistance.

    Raises
    ------
    UnreadableLength
        If the text is no gauge; says what to write.
    OutOfRange
        If there is no such gauge, or more strands than a close packing is tabled for.
    WrongKind
        If it is neither text nor a whole number.

    Notes
    -----
    The diameter of stranded wire is that of the closest packing of its strands in a circle. Wire stranded another
    way is thicker: 19 strands laid in rings round one are 5 strands across, packed closest 4.86.

    References
    ----------
    ASTM B258 for the gauges; data/circle_packing.csv for strands.

    Examples
    --------
    >>> round(awg("2/0").diameter_mm, 3), awg("0000").name
    (9.266, 'AWG 4/0')
    >>> wire = awg("7/38")
    >>> wire.strands, round(wire.diameter_mm, 3), round(wire.area_mm2, 4)
    (7, 0.302, 0.0558)
    """
    if isinstance(name, bool) or not isinstance(name, (str, int)):
        raise WrongKind("AWG", repr(name), "text or a whole number", f"Write {GAUGE_FORMS}.")
    if isinstance(name, int):
        if name < 0:
            raise OutOfRange("AWG", str(name), "0 to 50, or text", "Write '2/0' for two noughts.")
        return _made(name, 1)
    if len(name) > LONGEST:
        raise UnreadableLength(name, f"it is longer than {LONGEST} characters", GAUGE_FORMS)
    plain = " ".join(name.replace("⁄", "/").casefold().split())
    plain = re.sub(r"^awg\s*|\s*awg$", "", plain)
    if re.fullmatch("0+", plain):
        return _made(1 - len(plain), 1)
    if plain.isascii() and plain.isdigit():
        return _made(int(plain), 1)
    match = _STRANDED.fullmatch(plain)
    if match is None:
        raise UnreadableLength(name, "it is no wire gauge", GAUGE_FORMS)
    return _of_two(int(match[1]), match[2], name)


def _of_two(first: int, second: str, given: str) -> Wire:
    """Return the wire of text in two parts: noughts, as 2/0, or strands of a gauge, as 7/38."""
    if second == "0":
        return _made(1 - first, 1)
    if first < 2:
        raise UnreadableLength(given, "it is one strand or none", f"{second} for a solid wire")
    if first > MOST_STRANDS:
        problem = f"close packings are tabled up to {MOST_STRANDS} strands"
        raise UnreadableLength(given, problem, f"{second} for one strand, and measure the wire over all")
    return _made(1 - len(second), first) if set(second) == {"0"} else _made(int(second), first)


def nearest_awg(diameter_mm: Fraction | float) -> NearGauge:
    """Return the gauge nearest to a measured diameter of bare solid wire.

    Parameters
    ----------
    diameter_mm : Fraction or float
        Measured over the bare copper, without insulation or enamel. [mm]

    Returns
    -------
    NearGauge
        The nearest gauge by diameter, with its neighbours.

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no usable length, or lies half a step and more past the gauges.

    References
    ----------
    ASTM B258, its formula turned round.

    Examples
    --------
    >>> near = nearest_awg(0.25)
    >>> near.wire.name, round(near.difference_mm, 4)
    ('AWG 30', -0.0046)
    """
    measured = float(exact_mm(diameter_mm, "diameter_mm"))
    gauge = ANCHOR_GAUGE - STEPS * math.log(measured / ANCHOR_MM) / math.log(RATIO)
    if not THICKEST - 0.5 < gauge < THINNEST + 0.5:
        expected = f"from {gauge_mm(THINNEST):.4f} mm, AWG {THINNEST}, to {gauge_mm(THICKEST):.3f} mm, AWG 4/0"
        raise OutOfRange("diameter_mm", f"{measured:g} mm", expected, "Measure the bare wire, without its insulation.")
    near = [each for each in (math.floor(gauge), math.floor(gauge) + 1) if THICKEST <= each <= THINNEST]
    best = min(near, key=lambda each: (round(abs(gauge_mm(each) - measured), _ROUND_MM), each))
    thicker, thinner = (_made(best + step, 1) if THICKEST <= best + step <= THINNEST else None for step in (-1, 1))
    return NearGauge(measured, _made(best, 1), thicker, thinner)


@cache
def usual_outsides() -> tuple[UsualOutside, ...]:
    """Return what some wires with their insulation usually measure, in the order of the table.

    Returns
    -------
    tuple of UsualOutside
        Each with its source.

    References
    ----------
    data/wire_insulated.csv: common practice, no source.

    Examples
    --------
    >>> [(each.gauge, each.least_mm, each.most_mm) for each in usual_outsides()][:2]
    [(30, 0.5, 0.8), (32, 0.45, 0.6)]
    """
    return tuple(
        UsualOutside(row["wire"], int(row["gauge"]), float(row["least_mm"]), float(row["most_mm"]), row["source"])
        for _, row in rows("wire_insulated.csv")
    )
