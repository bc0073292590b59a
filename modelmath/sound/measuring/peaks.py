"""What a sweep shows before any fit: how much its readings scatter, and the peaks that stand out."""

from __future__ import annotations

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
    from scipy.signal import find_peaks as summits

    level = np.log(impedance_ohm)
    scatter = float(np.median(np.abs(np.diff(level, 2)))) / NORMAL_MAD / 6**0.5
    # Where points are sparse the peak's own bend counts as scatter: half the range never hides it.
    least = max(LEAST_PEAK, min(OVER_SCATTER * scatter, 0.5 * float(np.ptp(level))))
    places, found = summits(level, prominence=least)
    order = np.argsort(-found["prominences"], kind="stable")
    return Peaks(scatter, tuple(int(places[each]) for each in order))
