"""Where a falling chance passes a value."""

from __future__ import annotations

from collections.abc import Callable
from math import log
from statistics import NormalDist

LEAST = 1e-320  # stands for a chance of 0, which has no place on normal paper
PROBIT = NormalDist().inv_cdf
MOST_SECANTS = 50  # what is not found by then is a step, which halving gets to in as many more


def where_it_falls(above: Callable[[float], float], chance: float, far_mm: float) -> float:
    """Return where a falling chance passes a value: false position on normal paper, halving at last.

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
    Regula falsi with halving of an end that stays (Illinois variant): G. Dahlquist and A. Bjorck, Numerical Methods
    (from memory). On normal probability paper, where a sum of many terms is nearly straight.

    Examples
    --------
    >>> round(where_it_falls(lambda x: 0.5 - x, 0.1, 0.5), 9)
    0.4
    """
    wanted = PROBIT(chance)
    low, high, side = 0.0, far_mm, 0
    over_low, over_high = -wanted, PROBIT(max(above(far_mm), LEAST)) - wanted
    for turn in range(200):
        if high - low <= 4e-16 * far_mm or over_high >= 0:
            break
        middle = (low + high) / 2
        if turn < MOST_SECANTS:
            secant = low + (high - low) * over_low / (over_low - over_high)
            middle = min(max(secant, low + 1e-16 * far_mm), high - 1e-16 * far_mm)
        found = max(above(middle), LEAST)
        if abs(log(found / chance)) < 1e-12:
            return middle
        over = PROBIT(found) - wanted
        # An end that stays twice counts half, or false position would creep up on the other.
        if over > 0:
            low, over_low, over_high, side = middle, over, over_high / (2.0 if side > 0 else 1.0), 1
        else:
            high, over_high, over_low, side = middle, over, over_low / (2.0 if side < 0 else 1.0), -1
    return high
