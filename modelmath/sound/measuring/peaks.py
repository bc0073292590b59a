"""What a sweep shows before any fit: how much its readings scatter, and the peaks that stand out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]

NORMAL_MAD = 0.6745  # median of the absolute value of a standard normal deviate
LEAST_PEAK = 0.05  # of the log modulus: a lower hump is no resonance to fit
OVER_SCATTER = 8.0  # how far above the scatter a hump must stand: the range of hundreds of normal deviates


@dataclass(frozen=True)
class Peaks:
    """The peaks of a sweep.

    Attributes
    ----------
    scatter : float
        Standard deviation of neighbouring readings about a smooth curve, relative. [-]
    places : tuple of int
        Where each peak stands among the rising frequencies, the most prominent first. [-]

    References
    ----------
    None needed.
    """

    scatter: float
    places: tuple[int, ...]


def find_peaks(impedance_ohm: Array) -> Peaks:
    """Return the scatter of a sweep and the peaks that stand out of it.

    Parameters
    ----------
    impedance_ohm : array of 3 or more
        Modulus at rising frequencies. [ohm]

    Returns
    -------
    Peaks
        The most prominent first. [-]

    References
    ----------
    The scatter is the median absolute second difference over sqrt(6) times that of the normal distribution: a smooth
    curve drops out of it. Prominence as topography counts it.

    Examples
    --------
    >>> import numpy as np
    >>> find_peaks(np.array([7.0, 7.5, 9.0, 20.0, 9.0, 7.5, 7.0])).places
    (3,)
    """
    import numpy as np

    level = np.log(impedance_ohm)
    scatter = float(np.median(np.abs(np.diff(level, 2)))) / NORMAL_MAD / 6**0.5
    # Where points are sparse the peak's own bend counts as scatter: half the range never hides it.
    least = max(LEAST_PEAK, min(OVER_SCATTER * scatter, 0.5 * float(np.ptp(level))))
    heights = level.tolist()
    before, after = _lowest_before(heights), _lowest_before(heights[::-1])[::-1]
    stands_out = {at: heights[at] - max(before[at], after[at]) for at in _summits(heights)}
    tall = [at for at, by in stands_out.items() if by >= least]
    return Peaks(scatter, tuple(sorted(tall, key=lambda at: -stands_out[at])))


def _summits(heights: Sequence[float]) -> Iterator[int]:
    """Yield where the ground falls on both sides; of a level summit its middle."""
    start = 0
    for at in range(1, len(heights)):
        if heights[at] == heights[start]:
            continue
        if start and heights[start - 1] < heights[start] > heights[at]:
            yield (start + at - 1) // 2
        start = at


def _lowest_before(heights: Sequence[float]) -> list[float]:
    """Return for each place the lowest ground between it and the nearest higher one before it."""
    found: list[float] = []
    higher: list[tuple[float, float]] = []  # height, and the lowest ground since the one before in this list
    for height in heights:
        low = height
        while higher and higher[-1][0] <= height:
            low = min(low, higher.pop()[1])
        found.append(low)
        higher.append((height, low))
    return found
