"""Which wire gauge for a current over a length: by the voltage it may lose, with its heat and its outside shown."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import ceil, floor, isfinite, log10
from numbers import Real

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.materials.drills.wire import THINNEST as THINNEST_STRAND
from modelmath.materials.drills.wire import UsualOutside, Wire, awg, usual_outsides
from modelmath.materials.exact import exact_mm
from modelmath.quantities.known import Known
from modelmath.quantities.text import told
from modelmath.tables import rows

THICKEST, THINNEST = 16, 44  # wires of a model; past them a handbook's table of hook-up and lamp wire ends
STRANDS, FINER = 7, 8  # stranded wire is most often 7 strands, each 8 gauges finer: common practice, no source
NEXT = 3  # gauges thicker than the thinnest that are shown beside it
MM_PER_M = 1000
SAME_V = 1e-9  # a smaller difference of two voltages is float noise
_SORTS = {True: "stranded", False: "solid"}  # how a row of data/wire_insulated.csv begins


@dataclass(frozen=True)
class GaugeLoss:
    """What a gauge loses with a current over a length.

    Attributes
    ----------
    wire : Wire
        Its copper, counted with the section of the solid gauge. [-]
    made_of : str
        Its usual make-up: ``solid``, or strands such as ``7/38``. [-]
    drop_v : float
        The voltage it loses there and back. [V]
    w_per_m : float
        The heat of a metre of it. [W/m]
    a_per_mm2 : float
        Current through its section. [A/mm2]
    dense : bool
        Whether that is past the usual limit of data/wire_limits.csv; shown, not enforced. [-]
    outsides : tuple of UsualOutside
        What such wire usually measures with its insulation; nothing where that is not tabled. [-]

    References
    ----------
    As `gauges_for`.
    """

    wire: Wire
    made_of: str
    drop_v: float
    w_per_m: float
    a_per_mm2: float
    dense: bool
    outsides: tuple[UsualOutside, ...]

    @property
    def in_words(self) -> str:
        """What that means, in a sentence or two. [-]"""
        head = f"{self.wire.name} ({self.made_of}) loses {told(self.drop_v, 'v')} there and back"
        spans = [f"{each.least_mm:g} to {each.most_mm:g} mm" for each in self.outsides]
        over_all = f"{' or '.join(spans)} over its insulation, usually" if spans else "measure it over its insulation"
        limit = f" That is dense, past {density_limit():g} A/mm2: keep it out of a tight bundle." if self.dense else ""
        return f"{head}, at {self.a_per_mm2:.2g} A/mm2; {over_all}.{limit}"


@dataclass(frozen=True)
class GaugePick:
    """The gauges that do for a current over a length.

    Attributes
    ----------
    current_a : float
        The greatest current it was picked for. [A]
    length_mm : Fraction
        From one end of the wire to the other. [mm]
    most_drop_v : float
        What may be lost there and back. [V]
    picks : tuple of GaugeLoss
        The thinnest that does, then the next ones, each thicker. [-]
    too_thin : GaugeLoss or None
        The next thinner one, that loses too much; None where even the thinnest of all does. [-]

    References
    ----------
    As `gauges_for`.
    """

    current_a: float
    length_mm: Fraction
    most_drop_v: float
    picks: tuple[GaugeLoss, ...]
    too_thin: GaugeLoss | None

    @property
    def best(self) -> GaugeLoss:
        """The thinnest that does. [-]"""
        return self.picks[0]

    @property
    def in_words(self) -> str:
        """What that means, in a sentence or two. [-]"""
        thinner = self.too_thin
        why = f" {thinner.wire.name} would lose {told(thinner.drop_v, 'v')}." if thinner is not None else ""
        return f"{self.best.in_words}{why}"


def gauges_for(
    current_a: Known | float, length_mm: Fraction | float, *, most_drop_v: float, stranded: bool = False
) -> GaugePick:
    """Return the thinnest gauge whose loss there and back is within what is allowed, and the next thicker ones.

    Parameters
    ----------
    current_a : Known or float
        The current; of one with limits the greatest counts. [A]
    length_mm : Fraction or float
        From one end to the other; the current comes back through as long a wire. [mm]
    most_drop_v : float
        What may be lost there and back. [V]
    stranded : bool
        Whether the wire is stranded. [-]

    Returns
    -------
    GaugePick
        The gauges from 16 to 44 that do, stranded ones to 42, the thinnest first, no more than four.

    Raises
    ------
    WrongKind
        If a figure is no plain number.
    OutOfRange
        If a figure is not above 0, or even AWG 16 loses more.

    Notes
    -----
    Stranded wire is counted with the section of its gauge in one piece. Seven strands eight gauges finer have a tenth
    more copper, and their twist makes them some percent longer: it loses no more than is told.

    References
    ----------
    V = I R; ASTM B258 and IEC 60028 for R; heat of a metre I^2 R. Make-up of strands and the limit of current through a
    section: common practice, no source.

    Examples
    --------
    >>> pick = gauges_for(0.1, 1000, most_drop_v=0.12)
    >>> pick.best.wire.name, round(pick.best.drop_v, 4), round(pick.too_thin.drop_v, 4)
    ('AWG 32', 0.1077, 0.1358)
    """
    current = _greatest(current_a)
    _check_positive("what may be lost", most_drop_v, "V")
    length = exact_mm(length_mm, "length_mm")
    ohm_allowed = (most_drop_v + SAME_V) / current / (2 * float(length) / MM_PER_M)  # of a metre
    gauges = _gauges(stranded)
    doing = [each for each in gauges if each[1] <= ohm_allowed]
    if not doing:
        least = _rounded_up(_loss(gauges[-1], current, length, stranded).drop_v)
        expected = f"{told(least, 'v')} or more, which AWG {THICKEST} loses"
        write = "Shorten the wire, or use two side by side."
        raise OutOfRange("what may be lost", told(most_drop_v, "v"), expected, write)
    first = len(gauges) - len(doing)
    picks = tuple(_loss(each, current, length, stranded) for each in doing[: NEXT + 1])
    too_thin = _loss(gauges[first - 1], current, length, stranded) if first else None
    return GaugePick(current, length, float(most_drop_v), picks, too_thin)


@cache
def density_limit() -> float:
    """Return the usual limit of current through a section of copper.

    Returns
    -------
    float
        The limit, shown and not enforced. [A/mm2]

    References
    ----------
    data/wire_limits.csv: common practice, no source.

    Examples
    --------
    >>> density_limit()
    5.0
    """
    return next(float(row["value"]) for _, row in rows("wire_limits.csv") if row["name"] == "current_density")


@cache
def _gauges(stranded: bool) -> tuple[tuple[Wire, float], ...]:
    """Return the wires of a model with the resistance of a metre, the thinnest first."""
    thinnest = min(THINNEST, THINNEST_STRAND - FINER) if stranded else THINNEST
    return tuple((awg(gauge), awg(gauge).ohm_per_m()) for gauge in range(thinnest, THICKEST - 1, -1))


def _loss(wire: tuple[Wire, float], current_a: float, length_mm: Fraction, stranded: bool) -> GaugeLoss:
    copper, ohm_per_m = wire
    density = current_a / copper.area_mm2
    return GaugeLoss(
        copper,
        f"{STRANDS}/{copper.gauge + FINER}" if stranded else "solid",
        current_a * ohm_per_m * 2 * float(length_mm) / MM_PER_M,
        current_a**2 * ohm_per_m,
        density,
        density > density_limit(),
        _outsides(copper.gauge, stranded),
    )


@cache
def _outsides(gauge: int, stranded: bool) -> tuple[UsualOutside, ...]:
    sort = _SORTS[stranded]
    return tuple(each for each in usual_outsides() if each.gauge == gauge and each.wire.startswith(sort))


def _rounded_up(value: float) -> float:
    """Return a voltage in three digits, none of them too small, so that what a message asks for is enough."""
    step = floor(log10(value)) - 2
    return ceil(value / 10.0**step) * 10.0**step


def _greatest(current_a: Known | float) -> float:
    """Return the greatest current, once it is sure that it is one."""
    greatest = current_a.high if isinstance(current_a, Known) else current_a
    _check_positive("current_a", greatest, "A")
    return float(greatest)


def _check_positive(name: str, value: object, unit: str) -> None:
    if isinstance(value, bool) or not isinstance(value, Real):
        remedy = f"Write it as a number of {unit}, or read text with parse_quantity first."
        raise WrongKind(name, shown(str(value)), f"a plain number of {unit}", remedy)
    if not isfinite(value) or value <= 0:
        raise OutOfRange(name, f"{float(value):g} {unit}", f"above 0 {unit}", "Check the figure behind it.")
