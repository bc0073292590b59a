"""What a speaker in a chamber may be: each case of the driver with each case of the chamber and its filling."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import TYPE_CHECKING, Any, TypeAlias

from modelmath.errors import OutOfRange
from modelmath.quantities.band import Band
from modelmath.sound.closed_box.checks import check_amount
from modelmath.sound.closed_box.response import FLATTEST_Q, cutoff_ratio
from modelmath.sound.closed_box.stuffing import Stuffing
from modelmath.sound.driver.cases import Cases

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]

COVERED_U = 2.0  # how many standard uncertainties an uncertain volume may be off either way
WRITE_MM3 = "Write the volume in mm3; 1 cm3 is 1000 mm3."


def volume_band(volume_mm3: Any) -> Band:
    """Return a chamber's volume as a band.

    Parameters
    ----------
    volume_mm3 : float, uncertain number or Band
        The volume; of an uncertain number two standard uncertainties count either way. [mm3]

    Returns
    -------
    Band
        Best, least and greatest. [mm3]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no finite number above 0, or may be none.

    References
    ----------
    JCGM 100:2008, 6.2: an interval of two standard uncertainties either way.

    Examples
    --------
    >>> volume_band(2000)
    Band(best=2000.0, low=2000.0, high=2000.0)
    """
    if isinstance(volume_mm3, Band):
        found = volume_mm3
    elif hasattr(volume_mm3, "std_dev"):
        best, off = float(volume_mm3.nominal_value), COVERED_U * float(volume_mm3.std_dev)
        found = Band(best, best - off, best + off)
    else:
        check_amount("the volume of the chamber", volume_mm3, " mm3", WRITE_MM3)
        return Band.over([volume_mm3])
    check_amount("the volume of the chamber", [found.best, found.high], " mm3", WRITE_MM3)
    if not 0 < found.low <= found.best <= found.high:
        given = f"{found.best:g} mm3, from {found.low:g} to {found.high:g} mm3"
        raise OutOfRange("the volume of the chamber", given, "above 0 throughout", "Measure the chamber more closely.")
    return found


@dataclass(frozen=True, eq=False)
class BoxCases:
    """The driver's cases down, the chamber's across; the best of all in the first place.

    Attributes
    ----------
    driver : Cases
        What the driver may be. [-]
    volume_mm3 : array of shape (chamber's cases,)
        What the chamber's volume may be. [mm3]
    volume_gain : array of shape (chamber's cases,)
        How many times its volume it acts as. [-]
    q_box : array of shape (chamber's cases,)
        The Q that the loss in its filling alone would leave; infinite for none. [-]

    References
    ----------
    Small 1972.
    """

    driver: Cases
    volume_mm3: Array
    volume_gain: Array
    q_box: Array

    @classmethod
    def of(cls, driver: Cases, volume: Band, stuffing: Stuffing) -> BoxCases:
        """Return every combination of what a driver, a volume and a stuffing may be.

        Parameters
        ----------
        driver : Cases
            What the driver may be. [-]
        volume : Band
            The chamber's volume. [mm3]
        stuffing : Stuffing
            What fills it. [-]

        Returns
        -------
        BoxCases
            The best of all first. [-]

        References
        ----------
        Interval arithmetic by its end points, as `cases_of`.
        """
        import numpy as np

        volumes = dict.fromkeys((volume.best, volume.low, volume.high))
        columns = np.array([(each, *filled) for each, filled in product(volumes, stuffing.cases)], float).T
        return cls(driver, *columns)

    @cached_property
    def alpha(self) -> Array:
        """Vas over the volume that the chamber acts as. [-]"""
        return self.driver.vas_mm3[:, None] / (self.volume_mm3 * self.volume_gain)

    @cached_property
    def stiffening(self) -> Array:
        """How many times the chamber raises the resonance: sqrt(1 + alpha). [-]"""
        return (1.0 + self.alpha) ** 0.5

    @cached_property
    def fc_hz(self) -> Array:
        """Resonance in the chamber: fs sqrt(1 + alpha). [Hz]"""
        return self.driver.fs_hz[:, None] * self.stiffening

    @cached_property
    def qec(self) -> Array:
        """Electrical Q in the chamber: Qes sqrt(1 + alpha). [-]"""
        return self.driver.qes[:, None] * self.stiffening

    @cached_property
    def qmc(self) -> Array:
        """Mechanical Q in the chamber: Qms sqrt(1 + alpha) and the filling's loss together. [-]"""
        return 1.0 / (1.0 / (self.driver.qms[:, None] * self.stiffening) + 1.0 / self.q_box)

    @cached_property
    def qtc(self) -> Array:
        """Total Q in the chamber: 1/Qtc = 1/Qec + 1/Qmc. [-]"""
        return 1.0 / (1.0 / self.qec + 1.0 / self.qmc)

    @cached_property
    def f3_hz(self) -> Array:
        """The -3 dB point. [Hz]"""
        found: Array = self.fc_hz * cutoff_ratio(self.qtc)
        return found

    @property
    def least_f3_hz(self) -> float:
        """The least -3 dB point between the cases: of one speaker it is lowest at a Qtc of 1/sqrt 2. [Hz]

        Infinite where no chamber between the least and the greatest gives that; a filling's loss is left out.
        """
        import numpy as np

        qts, fs_hz = self.driver.qts, self.driver.fs_hz
        wanted = FLATTEST_Q / qts
        between = (self.stiffening.min() <= wanted) & (wanted <= self.stiffening.max())
        return float(np.where(between, fs_hz * wanted, np.inf).min())


def band_of(values: Any) -> Band:
    """Return the band of a result worked out for every case, as `Band.over`, for arrays of any shape.

    Parameters
    ----------
    values : array
        The result, for the best case in the first place. [its own unit]

    Returns
    -------
    Band
        Best, least and greatest. [its own unit]

    References
    ----------
    None needed.
    """
    return Band(float(values.flat[0]), float(values.min()), float(values.max()))
