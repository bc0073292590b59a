"""The ratio of a drawing or a photograph from known dimensions on it, and sizes taken with it.

On a photograph the known and the wanted dimension must lie in one plane square to the line of sight, and away from
the edges of the picture, where a lens bends straight lines: nearer things come out larger, things seen aslant shorter.
No arithmetic on one picture can tell or mend that. Drawings shrink and stretch in copying, and not alike both ways:
so take several known dimensions, and one square to the others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isinf
from statistics import NormalDist
from typing import Any

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.full_size.coverage import effective_dof, half_width, nominal_of, u_of
from modelmath.lengths.full_size.known_sizes import KnownSize, check_above_0
from modelmath.lengths.full_size.standard_ratios import StandardRatio, standard_ratios
from modelmath.lengths.scales import MM_PER_PROTOTYPE_FOOT, Scale, scale_of
from modelmath.lengths.uncertain import Cause, components

DRAWING_UNITS = ("mm", "px")  # what is measured on the drawing: real mm, or pixels of a picture
MOST_KNOWN = 100
ONE_IN = 20  # known dimensions that are all right are said to disagree once in so many drawings
_MM_PER_FOOT = float(MM_PER_PROTOTYPE_FOOT)


@dataclass(frozen=True)
class Deviation:
    """How far one known dimension is from what the others say.

    Attributes
    ----------
    name : str
        The dimension. [-]
    off : uncertain number
        Measured over what the others give, less 1: above 0 it measures too long. [-]
    limit : float
        How many standard uncertainties it may be off. [-]
    """

    name: str
    off: Any
    limit: float

    @property
    def agrees(self) -> bool:
        """Whether it is within the limit."""
        return bool(abs(self.off.n) <= self.limit * self.off.s)


@dataclass(frozen=True)
class DrawingRatio:
    """Full size over drawing, from one or several known dimensions.

    One: the plain quotient. Several: weighted least squares through the origin of the measured on the full sizes,
    each weighted by how exactly it is known. What the measurements share, such as one rule's errors, stays shared:
    two sizes taken with one ratio are as exact to each other as they were measured.

    On a photograph all of them, and what is wanted, lie in one plane square to the line of sight and away from the
    edges of the picture; see this module's head.

    Attributes
    ----------
    known : tuple of KnownSize
        At least one. [ft, and mm or px]
    unit : {"mm", "px"}
        What was measured on the drawing. [-]

    Raises
    ------
    OutOfRange
        If there is none, or among several one was measured without any uncertainty.
    UnknownChoice
        If `unit` is neither.

    References
    ----------
    JCGM 100:2008, 5.1 and 5.2 (propagation, shared sources); least squares through the origin with errors in both
    variables by effective variance: J. Orear, Am. J. Phys. 50 (1982) 912 (from memory).

    Examples
    --------
    >>> from modelmath.lengths.uncertain import rectangular
    >>> body = KnownSize("body", 40.5, rectangular(257.2, 0.25, "measuring body"))
    >>> ratio = DrawingRatio((body,))
    >>> round(ratio.per_unit.n, 2), round(ratio.per_unit.s, 3)
    (48.0, 0.027)
    >>> round(ratio.full_size(53.4).n, 2)
    8.41
    """

    known: tuple[KnownSize, ...]
    unit: str = "mm"

    def __post_init__(self) -> None:
        object.__setattr__(self, "known", tuple(self.known))
        if self.unit not in DRAWING_UNITS:
            raise UnknownChoice("what was measured on the drawing", self.unit, DRAWING_UNITS)
        if not 1 <= len(self.known) <= MOST_KNOWN:
            raise OutOfRange(
                "the number of known dimensions", str(len(self.known)), f"1 to {MOST_KNOWN}", "Give one or a few."
            )
        if len(self.known) > 1:
            for each in self.known:
                if not (u_of(each.measured) or u_of(each.full_ft)):
                    raise OutOfRange(
                        f"{each.name}: uncertainty", "0", "above 0 where several are known", "Write 203.1 mm ± 0.25."
                    )

    @cached_property
    def per_unit(self) -> Any:
        """Full-size mm for each unit on the drawing; with mm, the ratio itself. [mm/mm or mm/px]"""
        return _fitted(self.known)

    @property
    def budget(self) -> list[tuple[Cause, float]]:
        """What makes the ratio uncertain, each source's signed share, the largest first. [mm/mm or mm/px]"""
        return components(self.per_unit)

    @cached_property
    def _alone(self) -> tuple[Deviation, ...]:
        """Each against all others; none for a single one."""
        return tuple(self._from_others(each, None) for each in self.known) if len(self.known) > 1 else ()

    @cached_property
    def _odd(self) -> int | None:
        """Place of the one that is farthest beyond its limit, of three or more."""
        if len(self.known) < 3:
            return None
        far = [abs(each.off.n) / (each.off.s * each.limit) for each in self._alone]
        return far.index(max(far)) if max(far) > 1 else None

    @cached_property
    def deviations(self) -> tuple[Deviation, ...]:
        """How far each known dimension is from what the others say; none for a single one.

        The one that disagrees is left out of what is said to the others, so that it doesn't make good ones look bad.
        """
        if self._odd is None:
            return self._alone
        odd = self.known[self._odd]
        return tuple(
            alone if each is odd else self._from_others(each, odd)
            for each, alone in zip(self.known, self._alone, strict=True)
        )

    def _from_others(self, one: KnownSize, odd: KnownSize | None) -> Deviation:
        ratio = _fitted([each for each in self.known if each is not one and each is not odd])
        off = one.measured * ratio / (one.full_ft * _MM_PER_FOOT) - 1
        tests = len(self.known) if len(self.known) > 2 else 1  # of two, each is off from the other by the same
        return Deviation(one.name, off, _limit(off, tests))

    @property
    def disagreeing(self) -> Deviation | None:
        """The one that is farthest beyond its limit, of three or more; of two it can't be told which."""
        return None if self._odd is None else self._alone[self._odd]

    @property
    def agrees(self) -> bool | None:
        """Whether the known dimensions agree; None for a single one, which nothing checks."""
        return all(each.agrees for each in self._alone) if self._alone else None

    def full_size(self, measured: Any) -> Any:
        """Return the full size of something measured on the drawing.

        Parameters
        ----------
        measured : float or uncertain number
            Its length on the drawing, above 0. [mm or px]

        Returns
        -------
        uncertain number
            Full size; shares the ratio's sources with every other size taken with it. [ft]

        Raises
        ------
        OutOfRange, WrongKind
            If it is no number above 0.

        References
        ----------
        JCGM 100:2008, 5.2 (shared sources).

        Examples
        --------
        >>> from modelmath.lengths.uncertain import rectangular
        >>> ratio = DrawingRatio((KnownSize("body", 40.0, rectangular(254.0, 0.25, "body")),))
        >>> door, window = ratio.full_size(50.8), ratio.full_size(25.4)
        >>> round(door.n, 6), abs((door / window).s) < 1e-12  # the ratio itself cancels
        (8.0, True)
        """
        check_above_0("measured on the drawing", measured, self.unit, "53.4")
        return measured * self.per_unit / _MM_PER_FOOT

    def on_model(self, measured: Any, scale: Scale | str) -> Any:
        """Return the size on a model of something measured on the drawing.

        Parameters
        ----------
        measured : float or uncertain number
            Its length on the drawing, above 0. [mm or px]
        scale : Scale or str
            Scale of the model. [-]

        Returns
        -------
        uncertain number
            Size on the model. [mm]

        Raises
        ------
        UnknownScale
            If nothing is called so.
        OutOfRange, WrongKind
            If it is no number above 0.

        References
        ----------
        Definition of scale: prototype / ratio.

        Examples
        --------
        >>> from modelmath.lengths.uncertain import rectangular
        >>> ratio = DrawingRatio((KnownSize("body", 40.0, rectangular(254.0, 0.25, "body")),))
        >>> round(ratio.on_model(50.8, "HO").n, 6)
        28.0
        """
        return scale_of(scale).model_mm(self.full_size(measured))

    @property
    def standards(self) -> tuple[StandardRatio, ...]:
        """Common ratios within twice the ratio's standard uncertainty, nearest first; none for a picture in pixels."""
        if self.unit == "px":
            return ()
        reach = half_width(self.per_unit)
        within = [each for each in standard_ratios() if self._from(each) <= reach]
        return tuple(sorted(within, key=self._from))

    @property
    def nearest_standard(self) -> StandardRatio | None:
        """The common ratio it is nearest to, within its uncertainty or not; None for a picture in pixels."""
        ranked = sorted(standard_ratios(), key=lambda each: abs(self.copied(each) - 1))
        return ranked[0] if self.unit == "mm" else None

    def copied(self, standard: StandardRatio) -> float:
        """Return how much larger this copy is than a drawing to a common ratio.

        Parameters
        ----------
        standard : StandardRatio
            What it may have been drawn to. [-]

        Returns
        -------
        float
            1 for the same size, 1.02 for a copy enlarged by 2 %. [-]

        References
        ----------
        Ratio over ratio.

        Examples
        --------
        >>> from fractions import Fraction
        >>> ratio = DrawingRatio((KnownSize("body", 40.0, 256.54),))
        >>> round(ratio.copied(StandardRatio(Fraction(48))), 3)
        1.01
        """
        return float(standard.ratio) / nominal_of(self.per_unit)

    def _from(self, standard: StandardRatio) -> float:
        return abs(nominal_of(self.per_unit) - float(standard.ratio))


@dataclass(frozen=True)
class Directions:
    """Whether a drawing is to one ratio both ways.

    Attributes
    ----------
    along, upright : DrawingRatio
        From dimensions in one direction, and square to them. [mm/mm or mm/px]
    """

    along: DrawingRatio
    upright: DrawingRatio

    def __post_init__(self) -> None:
        if self.along.unit != self.upright.unit:
            expected = f"measured in {self.along.unit} too"
            raise WrongKind("the upright dimension", f"measured in {self.upright.unit}", expected, "Use one unit.")

    @property
    def off(self) -> Any:
        """How much longer along than upright the drawing shows a thing that is as long as high. [-]"""
        return self.upright.per_unit / self.along.per_unit - 1

    @property
    def agree(self) -> bool:
        """Whether the difference is within what the measurements can tell, at 95 %."""
        return bool(abs(nominal_of(self.off)) <= half_width(self.off))


def _fitted(known: Sequence[KnownSize]) -> Any:
    """Return full-size mm for each unit on the drawing."""
    if len(known) == 1:
        return known[0].full_ft * _MM_PER_FOOT / known[0].measured
    slope = sum(nominal_of(each.measured) for each in known) / sum(nominal_of(each.full_ft) for each in known)
    # The weights are numbers, not results: what is uncertain about them is of second order.
    weights = [1 / (u_of(each.measured) ** 2 + (slope * u_of(each.full_ft)) ** 2) for each in known]
    pairs = list(zip(weights, known, strict=True))
    upper = sum(weight * each.full_ft * each.measured for weight, each in pairs)
    lower = sum(weight * each.full_ft * each.full_ft for weight, each in pairs)
    return _MM_PER_FOOT * lower / upper


def _limit(off: Any, tests: int) -> float:
    """Return how many standard uncertainties one of several may be off, all together wrong once in `ONE_IN`."""
    chance = 1 - 1 / (2 * ONE_IN * tests)  # two-sided, shared among the tests (Bonferroni)
    dof = effective_dof(off)
    if isinf(dof):
        return NormalDist().inv_cdf(chance)
    from scipy.special import stdtrit

    return float(stdtrit(dof, chance))
