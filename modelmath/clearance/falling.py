"""Where a falling chance passes a value."""

from __future__ import annotations

from collections.abc import Callable
from math import log
from statistics import NormalDist

LEAST = 1e-320  # stands for a chance of 0, which has no place on normal paper
PROBIT = NormalDist().inv_cdf
CLOSE = 1e-12  # a chance that near, of itself, is the one looked for
SECANTS = 8  # what they do not find by then is bent or a step, and every other turn halves what is left


def where_it_falls(
    above: Callable[[float], float], chance: float, far_mm: float, near_mm: float | None = None
) -> float:
    """Return where a falling chance passes a value: by secants on normal paper, or halving.

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
    Secant method, and bisection where it leaves the bracket: G. Dahlquist and A. Bjorck, Numerical Methods (from
    memory). On normal probability paper, where a sum of many terms is nearly straight.

    Examples
    --------
    >>> round(where_it_falls(lambda x: 0.5 - x, 0.1, 0.5), 9)
    0.4
    """
    wanted = PROBIT(chance)
    low, high = 0.0, far_mm
    before, over_before = low, -wanted
    place = near_mm if near_mm is not None and low < near_mm < high else high / 2
    turn = 0
    while high - low > 4e-16 * far_mm:
        found = max(above(place), LEAST)
        if abs(log(found / chance)) < CLOSE:
            return place
        over = PROBIT(found) - wanted
        low, high = (place, high) if over > 0 else (low, place)
        secant = place - over * (place - before) / (over - over_before) if over != over_before else low
        before, over_before, turn = place, over, turn + 1
        inside = low < secant < high and (turn < SECANTS or turn % 2)
        place = secant if inside else (low + high) / 2
    return high
