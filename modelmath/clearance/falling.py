"""Where a falling chance passes a value."""

from __future__ import annotations

from collections.abc import Callable
from math import log
from statistics import NormalDist

LEAST = 1e-320  # stands for a chance of 0, which has no place on normal paper
PROBIT = NormalDist().inv_cdf
CLOSE = 1e-12  # a chance that near, of itself, is the one looked for
MOST_SECANTS = 50  # what is not found by then is a step, which halving gets to in as many more


def where_it_falls(
    above: Callable[[float], float], chance: float, far_mm: float, near_mm: float | None = None
) -> float:
    """Return where a falling chance passes a value: by secants on normal paper, false position and halving.

    Parameters
    ----------
    above : callable
        The chance of lying above a place; 1/2 at 0. [-]
    chance : float
        The value to find, below 1/2. [-]
    far_mm : float
        A place where the chance is lower. [mm]
    near_mm : float or None
        A first guess; None, or one that is not between 0 and the far place, for half way there. [mm]

    Returns
    -------
    float
        The place, on the side of the lower chance where it is not met exactly; the far one if it is not so far. [mm]

    References
    ----------
    Secant method, and where it leaves the bracket, regula falsi with halving of an end that stays (Illinois variant):
    G. Dahlquist and A. Bjorck, Numerical Methods (from memory). On normal probability paper, where a sum of many terms
    is nearly straight.

    Examples
    --------
    >>> round(where_it_falls(lambda x: 0.5 - x, 0.1, 0.5), 9)
    0.4
    """
    wanted = PROBIT(chance)
    low, high, side = 0.0, far_mm, 0
    over_low: float = -wanted
    over_high: float | None = None  # the far end is asked about only where its chance is needed
    before, over_before = low, over_low
    place = near_mm if near_mm is not None and low < near_mm < high else high / 2
    for turn in range(200):
        found = max(above(place), LEAST)
        if abs(log(found / chance)) < CLOSE:
            return place
        over = PROBIT(found) - wanted
        # An end that stays twice counts half, or false position would creep up on the other.
        if over > 0:
            low, over_low, side = place, over, max(side, 0) + 1
            over_high = over_high / 2.0 if over_high is not None and side > 1 else over_high
        else:
            high, over_high, side = place, over, min(side, 0) - 1
            over_low = over_low / 2.0 if side < -1 else over_low
        if high - low <= 4e-16 * far_mm:
            break
        secant = place - over * (place - before) / (over - over_before) if over != over_before else low
        before, over_before = place, over
        if not low < secant < high:
            if over_high is None:
                over_high = PROBIT(max(above(far_mm), LEAST)) - wanted
                if over_high >= 0:
                    break
            secant = low + (high - low) * over_low / (over_low - over_high)
        place = secant if low < secant < high and turn < MOST_SECANTS else (low + high) / 2
    return high
