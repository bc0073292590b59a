"""Where a falling chance passes a value."""

from __future__ import annotations

from collections.abc import Callable
from math import log


def where_it_falls(above: Callable[[float], float], chance: float, far_mm: float) -> float:
    """Return where a falling chance passes a value; false position, with a bisection in every third turn.

    Parameters
    ----------
    above : callable
        The chance of lying above a place; 1/2 at 0. [-]
    chance : float
        The value to find, below 1/2. [-]
    far_mm : float
        A place where the chance is lower. [mm]

    Returns
    -------
    float
        The place, on the side of the lower chance where it is not met exactly. [mm]

    References
    ----------
    Regula falsi with halving of an end that stays (Illinois variant), on the logarithm of the chance: G. Dahlquist
    and A. Bjorck, Numerical Methods (from memory).

    Examples
    --------
    >>> round(where_it_falls(lambda x: 0.5 - x, 0.1, 0.5), 9)
    0.4
    """

    def over(x_mm: float) -> float:
        return log(max(above(x_mm), 1e-320) / chance)

    low, high, over_low, over_high, side = 0.0, far_mm, log(0.5 / chance), over(far_mm), 0
    for turn in range(200):
        if high - low <= 4e-16 * far_mm or over_high >= 0:
            break
        middle = (low + high) / 2.0
        if turn % 3 < 2:
            secant = low + (high - low) * over_low / (over_low - over_high)
            middle = min(max(secant, low + 1e-16 * far_mm), high - 1e-16 * far_mm)
        found = over(middle)
        if abs(found) < 1e-12:
            return middle
        # An end that stays twice counts half, or false position would creep up on the other.
        if found > 0:
            low, over_low, over_high, side = middle, found, over_high / (2.0 if side > 0 else 1.0), 1
        else:
            high, over_high, over_low, side = middle, found, over_low / (2.0 if side < 0 else 1.0), -1
    return high
