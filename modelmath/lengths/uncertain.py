"""Uncertain numbers whose every source says what it is and what shape its distribution has."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Any, Literal

from uncertainties import UFloat
from uncertainties.core import Variable

from modelmath.errors import OutOfRange

Shape = Literal["rectangular", "normal"]
# Limits of a source for a worst case: the ends of a rectangle; two standard uncertainties where there is no end.
LIMIT_PER_U: dict[Shape, float] = {"rectangular": sqrt(3.0), "normal": 2.0}


@dataclass(frozen=True)
class Cause:
    """What makes a number uncertain; stands as the tag of its variable.

    Attributes
    ----------
    name : str
        In words, such as ``reading of chassis top``. [-]
    shape : {"rectangular", "normal"}
        Distribution. [-]
    """

    name: str
    shape: Shape

    def __str__(self) -> str:
        return self.name


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
