"""Uncertain numbers whose every source says what it is and what shape its distribution has."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from math import inf, isinf, sqrt
from typing import Any, Literal

from uncertainties import UFloat
from uncertainties.core import Variable

from modelmath.errors import OutOfRange

Shape = Literal["rectangular", "triangular", "arcsine", "normal", "repeats"]
SHAPES: tuple[Shape, ...] = ("rectangular", "triangular", "arcsine", "normal", "repeats")
# Limits of a source over its standard uncertainty, for a worst case; two of them where the shape has no ends.
LIMIT_PER_U: dict[Shape, float] = {
    "rectangular": sqrt(3.0),  # JCGM 100:2008, 4.3.7
    "triangular": sqrt(6.0),  # JCGM 100:2008, 4.3.9
    "arcsine": sqrt(2.0),  # JCGM 101:2008, 6.4.6
    "normal": 2.0,
}
LEAST_DOF = 3  # below this a t-distribution has no finite variance
COVERAGE = 0.9545  # what lies within two standard uncertainties of a normal distribution


@dataclass(frozen=True)
class Cause:
    """What makes a number uncertain; stands as the tag of its variable.

    Attributes
    ----------
    name : str
        In words, such as ``reading of chassis top``. [-]
    shape : {"rectangular", "triangular", "arcsine", "normal", "repeats"}
        Distribution; ``repeats`` is the scaled and shifted t-distribution of a mean of repeated readings. [-]
    dof : float
        Degrees of freedom of the standard uncertainty; infinite unless it was found from repeats. [-]
    """

    name: str
    shape: Shape
    dof: float = inf

    def __str__(self) -> str:
        return self.name


@cache
def limit_per_u(shape: Shape, dof: float = inf) -> float:
    """Return how many standard uncertainties out the limits of a source stand, for a worst case.

    Parameters
    ----------
    shape : {"rectangular", "triangular", "arcsine", "normal", "repeats"}
        Distribution. [-]
    dof : float
        Degrees of freedom, for repeats only. [-]

    Returns
    -------
    float
        Half width over standard uncertainty; where the shape has no ends, the half width that holds 95.45 %. [-]

    References
    ----------
    JCGM 100:2008, 4.3.7, 4.3.9 and table G.2; JCGM 101:2008, 6.4.6.

    Examples
    --------
    >>> round(limit_per_u("triangular"), 4), round(limit_per_u("repeats", 2), 2)
    (2.4495, 4.53)
    """
    if shape != "repeats" or isinf(dof):
        return LIMIT_PER_U["normal" if shape == "repeats" else shape]
    from scipy.special import stdtrit

    return float(stdtrit(dof, (1 + COVERAGE) / 2))


def rectangular(value_mm: float, half_width_mm: float, name: str) -> UFloat:
    """Return a length known only to lie within limits, all values between them alike.

    Parameters
    ----------
    value_mm, half_width_mm : float
        Middle, and distance from there to either limit. [mm]
    name : str
        What makes it uncertain. [-]

    Returns
    -------
    uncertain number
        With standard uncertainty half width / sqrt(3). [mm]

    Raises
    ------
    OutOfRange
        If the half width is below 0 or no number.

    References
    ----------
    JCGM 100:2008, 4.3.7.

    Examples
    --------
    >>> round(rectangular(1.0, 0.3, "sheet").std_dev, 4)
    0.1732
    """
    _check(name, half_width_mm)
    return Variable(value_mm, half_width_mm / LIMIT_PER_U["rectangular"], tag=Cause(name, "rectangular"))


def _check(name: str, width: float) -> None:
    if not 0 <= width < float("inf"):
        raise OutOfRange(f"{name}: uncertainty", f"{width:g}", "0 or more", "Write 0.05 for plus or minus 0.05.")


def triangular(value_mm: float, half_width_mm: float, name: str) -> UFloat:
    """Return a length known to lie within limits, the more likely the nearer to their middle.

    Parameters
    ----------
    value_mm, half_width_mm : float
        Middle, and distance from there to either limit. [mm]
    name : str
        What makes it uncertain. [-]

    Returns
    -------
    uncertain number
        With standard uncertainty half width / sqrt(6). [mm]

    Raises
    ------
    OutOfRange
        If the half width is below 0 or no number.

    References
    ----------
    JCGM 100:2008, 4.3.9.

    Examples
    --------
    >>> round(triangular(1.0, 0.3, "glue line").std_dev, 4)
    0.1225
    """
    _check(name, half_width_mm)
    return Variable(value_mm, half_width_mm / LIMIT_PER_U["triangular"], tag=Cause(name, "triangular"))


def repeated(value_mm: float, standard_uncertainty_mm: float, dof: float, name: str) -> UFloat:
    """Return a mean of repeated readings, whose uncertainty was found from their scatter.

    Parameters
    ----------
    value_mm, standard_uncertainty_mm : float
        Mean, and its experimental standard deviation. [mm]
    dof : float
        Degrees of freedom: one less than there are readings. [-]
    name : str
        What makes it uncertain. [-]

    Returns
    -------
    uncertain number
        With that standard uncertainty. [mm]

    Raises
    ------
    OutOfRange
        If the uncertainty is below 0 or no number, or there are no degrees of freedom.

    Notes
    -----
    From four readings on the mean has the t-distribution of its degrees of freedom. That of two or three has no finite
    variance: its tails would have a rule misread by a hand's breadth. Readings are off by a mark or two at most, so
    that such a mean is taken as a rectangle of the same standard uncertainty; its degrees of freedom stay.

    References
    ----------
    JCGM 100:2008, 4.2.3; JCGM 101:2008, 6.4.9.

    Examples
    --------
    >>> repeated(12.0, 0.05, 2, "three readings of the roof").tag
    Cause(name='three readings of the roof', shape='rectangular', dof=2)
    >>> repeated(12.0, 0.05, 3, "four readings of the roof").tag.shape
    'repeats'
    """
    _check(name, standard_uncertainty_mm)
    if not dof >= 1:
        raise OutOfRange(f"{name}: degrees of freedom", f"{dof:g}", "1 or more", "Read it twice or more.")
    shape: Shape = "repeats" if dof >= LEAST_DOF else "rectangular"
    return Variable(value_mm, standard_uncertainty_mm, tag=Cause(name, shape, dof))


def normal(value: float, standard_uncertainty: float, name: str) -> UFloat:
    """Return a value with a standard uncertainty, normally distributed.

    Parameters
    ----------
    value, standard_uncertainty : float
        Best value and its standard uncertainty. [mm, or - for a ratio]
    name : str
        What makes it uncertain. [-]

    Returns
    -------
    uncertain number
        The same. [mm, or - for a ratio]

    Raises
    ------
    OutOfRange
        If the uncertainty is below 0 or no number.

    References
    ----------
    JCGM 100:2008, 4.3.3.

    Examples
    --------
    >>> normal(1.0, 0.05, "zero offset").std_dev
    0.05
    """
    _check(name, standard_uncertainty)
    # A Variable rather than ufloat(): one known exactly still shows whether a result depends on it.
    return Variable(value, standard_uncertainty, tag=Cause(name, "normal"))


def components(value: Any) -> list[tuple[Cause, float]]:
    """Return each source's signed share of a value's standard uncertainty, the largest first.

    Parameters
    ----------
    value : uncertain number or float
        Any result computed from uncertain numbers. [mm]

    Returns
    -------
    list of (Cause, float)
        Sensitivity times standard uncertainty; none for a plain float. [mm]

    References
    ----------
    JCGM 100:2008, 5.1.3.

    Examples
    --------
    >>> depth = rectangular(10.0, 0.3, "roof") - rectangular(4.0, 0.1, "chassis")
    >>> [(cause.name, round(share, 3)) for cause, share in components(depth)]
    [('roof', 0.173), ('chassis', -0.058)]
    """
    derivatives = getattr(value, "derivatives", {})
    shares = [
        (source.tag if isinstance(source.tag, Cause) else Cause(str(source.tag), "normal"), slope * source.std_dev)
        for source, slope in derivatives.items()
        if slope * source.std_dev
    ]
    return sorted(shares, key=lambda share: (-abs(share[1]), share[0].name))


def welch_satterthwaite(shares: Iterable[tuple[float, float]]) -> float:
    """Return the effective degrees of freedom of a combined standard uncertainty.

    Parameters
    ----------
    shares : iterable of (float, float)
        Of each source its share of the standard uncertainty, and its degrees of freedom. [any unit, -]

    Returns
    -------
    float
        Not cut to a whole number; infinite where all sources' are, or nothing is uncertain. [-]

    References
    ----------
    JCGM 100:2008, G.4.1.

    Examples
    --------
    >>> welch_satterthwaite([(0.05, 2), (0.05, 2)])
    4.0
    """
    known = [(u, dof) for u, dof in shares if u]
    total = sqrt(sum(u * u for u, _ in known))
    lost = sum((u / total) ** 4 / dof for u, dof in known)
    return round(1 / lost, 9) if lost else inf
