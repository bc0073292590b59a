"""The shapes a term's distribution may have, their chances right in the tail too."""

from __future__ import annotations

from dataclasses import dataclass
from math import erfc, exp, lgamma, pi, sqrt
from typing import TYPE_CHECKING, TypeAlias

from modelmath.lengths.uncertain import LIMIT_PER_U, Shape

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]

ALL_BEYOND = -6.5  # below it 2 - erfc is less than a float near 2 can show: 2 itself


@dataclass(frozen=True)
class Part:
    """A term's distribution about 0.

    Attributes
    ----------
    shape : {"rectangular", "triangular", "arcsine", "normal", "repeats"}
        Distribution. [-]
    u_mm : float
        Standard uncertainty; the scale of the t-distribution for repeats. [mm]
    dof : float
        Degrees of freedom, for repeats. [-]
    """

    shape: Shape
    u_mm: float
    dof: float

    @property
    def half_width_mm(self) -> float:
        """Distance from 0 to either end, for a shape that has ends. [mm]"""
        return self.u_mm * LIMIT_PER_U[self.shape]


def _erfc(values: Array) -> Array:
    import numpy as np

    found = np.full(values.shape, 2.0)
    less = values > ALL_BEYOND
    found[less] = np.fromiter(map(erfc, values[less].tolist()), float)
    return found


def normal_above(z: Array) -> Array:
    """Return the chance that a standard normal lies above each value.

    Parameters
    ----------
    z : array
        Distance from the middle over the standard deviation. [-]

    Returns
    -------
    array
        The chances, to full relative precision in the tail. [-]

    References
    ----------
    JCGM 101:2008, 6.4.7; the complementary error function of the C standard library.
    """
    return 0.5 * _erfc(z / sqrt(2.0))


def from_end(shape: Shape, share: Array) -> Array:
    """Return the chance that a bounded term lies within a distance of one of its ends.

    Parameters
    ----------
    shape : {"rectangular", "triangular", "arcsine"}
        Distribution. [-]
    share : array
        Distance from that end over the term's full width, 0 to 1. [-]

    Returns
    -------
    array
        The chances, to full relative precision near the end. [-]

    References
    ----------
    JCGM 101:2008, 6.4.2 (rectangular), 6.4.5 (triangular), 6.4.6 (arcsine).
    """
    import numpy as np

    if shape == "rectangular":
        return share
    if shape == "arcsine":
        return np.arcsin(np.sqrt(share)) * (2.0 / pi)
    far = 1.0 - share
    return np.where(share <= 0.5, 2.0 * share * share, 1.0 - 2.0 * far * far)


def part_above(part: Part, x_mm: Array) -> Array:
    """Return the chance that a term lies above each of some values.

    Parameters
    ----------
    part : Part
        The term. [mm]
    x_mm : array
        Values, 0 or more. [mm]

    Returns
    -------
    array
        The chances. [-]

    References
    ----------
    JCGM 101:2008, 6.4.
    """
    import numpy as np

    if part.shape == "repeats":
        from scipy.special import stdtr

        return np.asarray(stdtr(part.dof, -x_mm / part.u_mm), dtype=float)
    if part.shape == "normal":
        return normal_above(x_mm / part.u_mm)
    width = part.half_width_mm
    return from_end(part.shape, np.clip((width - x_mm) / (2.0 * width), 0.0, 1.0))


def t_density(part: Part, x_mm: Array) -> Array:
    """Return the density of a term of repeats at some values.

    Parameters
    ----------
    part : Part
        The term. [mm]
    x_mm : array
        Values. [mm]

    Returns
    -------
    array
        The density. [1/mm]

    References
    ----------
    JCGM 101:2008, 6.4.9.
    """
    import numpy as np

    dof, scale = part.dof, part.u_mm
    top = exp(lgamma((dof + 1.0) / 2.0) - lgamma(dof / 2.0)) / (scale * sqrt(dof * pi))
    return np.asarray(top * np.exp(-(dof + 1.0) / 2.0 * np.log1p((x_mm / scale) ** 2 / dof)))
