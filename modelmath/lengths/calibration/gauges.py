"""Known lengths that a rule is read against: drill shanks, feeler leaves, strips measured by caliper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import isfinite, sqrt
from numbers import Real
from typing import TYPE_CHECKING, Any

from uncertainties import UFloat

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind, shown
from modelmath.lengths.calibration.line_fit import Line, fit_line
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.instruments import DATUMS, Given
from modelmath.lengths.rules.marking import mark_text
from modelmath.lengths.rules.repeats import Repeats
from modelmath.lengths.text import format_length
from modelmath.lengths.uncertain import normal, rectangular

if TYPE_CHECKING:
    from modelmath.lengths.calibration.line_fit import Array


@dataclass(frozen=True)
class Gauge:
    """A known length, and the mark it was read at with the rule that is calibrated.

    Attributes
    ----------
    name : str
        What it is, such as ``#43 drill shank``. [-]
    size : Fraction, float, text with its unit, or uncertain number
        Its length; strips measured with one caliper are uncertain numbers that share its variables. [mm]
    mark : text, number, or sequence of them
        Where it was read; several readings of the same gauge count by their mean. [rule's unit]
    datum : {"end", "zero"}
        What of the rule stood against it: its end, or its zero mark. [-]
    tolerance_mm : float
        The size lies within this of `size`, all values alike. [mm]
    u_mm : float
        Standard uncertainty of the size, in place of a tolerance. [mm]

    Raises
    ------
    OutOfRange
        If the size is not above 0, it is known in two ways at once, or there is no reading.
    UnknownChoice, UnreadableLength, WrongKind
        If a field can't be read.

    Examples
    --------
    >>> Gauge("#43 drill shank", ".089 in", "-1/4", tolerance_mm=0.01).nominal_mm
    Fraction(11303, 5000)
    """

    name: str
    size: Any
    mark: Any
    datum: str = "end"
    tolerance_mm: float = 0.0
    u_mm: float = 0.0

    def __post_init__(self) -> None:
        if self.datum not in DATUMS:
            raise UnknownChoice(f"datum of {self.name}", self.datum, DATUMS)
        if not self.marks:
            raise OutOfRange(f"readings of {self.name}", "none", "one mark or more", "Write where it was read.")
        if not isfinite(float(self.nominal_mm)) or self.nominal_mm <= 0:
            remedy = "Write the length of the gauge, such as 2.26 mm."
            raise OutOfRange(f"size of {self.name}", f"{float(self.nominal_mm):g} mm", "above 0", remedy)
        if sum((self.tolerance_mm != 0, self.u_mm != 0, hasattr(self.size, "std_dev"))) > 1:
            remedy = "Leave the tolerance or the standard uncertainty out."
            raise OutOfRange(f"uncertainty of {self.name}", "stated twice", "stated once", remedy)
        _ = self.size_mm  # refuses an uncertainty that is none

    @cached_property
    def nominal_mm(self) -> Fraction | float:
        """Its length, nominal; exact where it was given so. [mm]"""
        if hasattr(self.size, "nominal_value"):
            return float(self.size.nominal_value)
        if isinstance(self.size, str):
            return parse_length_exact(self.size)
        if isinstance(self.size, bool) or not isinstance(self.size, Real):
            remedy = 'Write 2.26 for 2.26 mm, or text such as ".089 in".'
            raise WrongKind(f"size of {self.name}", shown(str(self.size)), "a length in mm", remedy)
        return self.size if isinstance(self.size, Fraction) else float(self.size)

    @cached_property
    def size_mm(self) -> UFloat:
        """Its length with its uncertainty. [mm]"""
        if hasattr(self.size, "std_dev"):
            return self.size
        what = f"size of {self.name}"
        if self.tolerance_mm:
            return rectangular(float(self.nominal_mm), self.tolerance_mm, what)
        return normal(float(self.nominal_mm), self.u_mm, what)

    @property
    def marks(self) -> tuple[Given, ...]:
        """Every mark it was read at. [rule's unit]"""
        return tuple(self.mark) if isinstance(self.mark, (list, tuple)) else (self.mark,)

    def seen_with(self, rule: Rule) -> Seen:
        """Return where a rule shows it.

        The mark may lie below the rule's end, as that is stated: where it lies is what is sought.

        Parameters
        ----------
        rule : Rule
            The rule it was read with. [-]

        Returns
        -------
        Seen
            Mean of its readings, and their uncertainty. [mm]

        Raises
        ------
        UnreadableLength, WrongKind
            If a mark can't be read.
        OutOfRange
            If a mark lies beyond the rule's last one, or not beyond its zero where that stood against the gauge.

        References
        ----------
        JCGM 100:2008, 4.2 (scatter of repeats) and F.2.2.1 (resolution, which repeats leave as it is).

        Examples
        --------
        >>> seen = Gauge("strip", 12.0, ["12", "12.5"]).seen_with(Rule(unit="mm", graduation="0.5"))
        >>> seen.mark_mm, round(seen.u_mm, 4)
        (Fraction(49, 4), 0.2887)
        """
        marks = [rule.given_mm(mark) for mark in self.marks]
        for mark in marks:
            if rule.length_mm is not None and mark > rule.length_mm:
                expected = f"on {rule.name}, whose last mark is {mark_text(rule, rule.length_mm)}"
                raise OutOfRange(f"reading of {self.name}", mark_text(rule, mark), expected, "Read it again.")
            if self.datum == "zero" and mark <= 0:
                remedy = "Read it again, or write that the rule's end stood against it."
                raise OutOfRange(f"reading of {self.name}", mark_text(rule, mark), "beyond the zero mark", remedy)
        repeats = Repeats(tuple(marks), rule.read_to_mm)
        spread = repeats.mean_u_mm
        return Seen(repeats.mean_mm + rule.lean_mm, sqrt(rule.reading_u_mm**2 + spread**2))

    def __str__(self) -> str:
        return f"{self.name}, {format_length(self.nominal_mm, 'mm')}"


@dataclass(frozen=True)
class Seen:
    """Where a rule shows a gauge.

    Attributes
    ----------
    mark_mm : Fraction
        The mark, or the mean of several. [mm]
    u_mm : float
        Standard uncertainty of that reading. [mm]
    """

    mark_mm: Fraction
    u_mm: float


def merged(gauges: Iterable[Gauge]) -> tuple[Gauge, ...]:
    """Join the readings of one gauge that is listed several times: its own error is the same in all of them.

    Parameters
    ----------
    gauges : iterable of Gauge
        The gauges. [mm]

    Returns
    -------
    tuple of Gauge
        Each once, in the order in which they came. [mm]

    References
    ----------
    JCGM 100:2008, 5.2: inputs that share a cause are correlated.

    Examples
    --------
    >>> [gauge.marks for gauge in merged([Gauge("drill", 2.26, "1/2"), Gauge("drill", 2.26, "3/4")])]
    [('1/2', '3/4')]
    """
    found: dict[tuple[object, ...], Gauge] = {}
    for each in gauges:
        if not isinstance(each, Gauge):
            raise WrongKind("a gauge", shown(str(each)), "a Gauge", 'Write Gauge("drill shank", 2.26, "1/2").')
        size = id(each.size) if hasattr(each.size, "std_dev") else each.nominal_mm
        key = (each.name, size, each.datum, each.tolerance_mm, each.u_mm)
        found[key] = replace(found[key], mark=(*found[key].marks, *each.marks)) if key in found else each
    return tuple(found.values())


def line_through(seen: Sequence[tuple[Gauge, Seen]], slope: float | None = None, among: Array | None = None) -> Line:
    """Fit the line of lengths over marks to gauges and their readings.

    Parameters
    ----------
    seen : sequence of (Gauge, Seen)
        The gauges, and where they were read. [mm]
    slope : float or None
        1 + the scale error, where that is known. [-]
    among : array or None
        Covariance of the sizes as `covariance_of` gives it, where it is known already. [mm2]

    Returns
    -------
    Line
        Length over mark. [mm]

    References
    ----------
    JCGM 100:2008, H.3; with the full covariance of the sizes.

    Examples
    --------
    >>> rule = Rule(unit="mm", graduation="0.5")
    >>> gauges = [Gauge("leaf", 2.0, "1"), Gauge("strip", 30.0, "29")]
    >>> round(line_through([(each, each.seen_with(rule)) for each in gauges]).intercept, 9)
    1.0
    """
    gauges = [gauge for gauge, _ in seen]
    return fit_line(
        [float(each.mark_mm) for _, each in seen],
        [gauge.size_mm.nominal_value for gauge in gauges],
        covariance_of(gauges) if among is None else among,
        [each.u_mm**2 for _, each in seen],
        [gauge.datum == "zero" for gauge in gauges],
        slope,
    )


def covariance_of(gauges: Sequence[Gauge]) -> Array:
    """Return the covariance matrix of the sizes of gauges, of which some may share a cause.

    Parameters
    ----------
    gauges : sequence of Gauge
        The gauges. [mm]

    Returns
    -------
    square array
        Variances, and covariances beside them. [mm2]

    References
    ----------
    JCGM 100:2008, 5.2.

    Examples
    --------
    >>> covariance_of([Gauge("leaf", 2.0, "1", u_mm=0.1), Gauge("strip", 30.0, "29")]).round(6).tolist()
    [[0.01, 0.0], [0.0, 0.0]]
    """
    import numpy as np
    from uncertainties import covariance_matrix

    return np.asarray(covariance_matrix([gauge.size_mm for gauge in gauges]), dtype=float)
