"""The impedance of a speaker in free air or in a closed box, as a curve over frequency, and its slopes."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]
    Complex: TypeAlias = NDArray[np.complexfloating]

LEAST_POWER, MOST_POWER = 0.4, 1.0


@dataclass(frozen=True)
class ImpedanceCurve:
    """The impedance of a speaker.

    Attributes
    ----------
    re_ohm : float
        Resistance of the voice coil. [ohm]
    fs_hz : float
        Resonance. [Hz]
    qms : float
        Mechanical Q at resonance. [-]
    res_ohm : float
        What the resonance adds to the resistance at its peak. [ohm]
    coil_ohm : float
        Modulus of the voice coil's semi-inductance at `coil_hz`; 0 for none. [ohm]
    coil_power : float
        Power of the frequency that it grows with, 0.4 to 1; 1 for a plain inductance. [-]
    coil_hz : float
        Frequency at which `coil_ohm` is meant. [Hz]

    References
    ----------
    R. H. Small, Direct-Radiator Loudspeaker System Analysis, J. Audio Eng. Soc. 20(5), 1972, for Re and the resonance;
    J. Vanderkooy, A Model of Loudspeaker Driver Impedance Incorporating Eddy Currents in the Pole Structure, J. Audio
    Eng. Soc. 37(3), 1989, for the semi-inductance K (j w)^n, from memory.

    Examples
    --------
    >>> curve = ImpedanceCurve(7.0, 450.0, 4.0, 14.0)
    >>> abs(curve.impedance_ohm(450.0)), curve.qes, round(curve.qts, 4)
    (21.0, 2.0, 1.3333)
    """

    re_ohm: float
    fs_hz: float
    qms: float
    res_ohm: float
    coil_ohm: float = 0.0
    coil_power: float = MOST_POWER
    coil_hz: float = 1000.0

    @property
    def qes(self) -> float:
        """Electrical Q. [-]"""
        return self.qms * self.re_ohm / self.res_ohm

    @property
    def qts(self) -> float:
        """Total Q. [-]"""
        return self.qms * self.re_ohm / (self.re_ohm + self.res_ohm)

    @property
    def peak_width_hz(self) -> float:
        """Distance of the two frequencies at which the impedance is the geometric mean of Re and its peak. [Hz]"""
        return self.fs_hz * sqrt((self.re_ohm + self.res_ohm) / self.re_ohm) / self.qms

    def impedance_ohm(self, f_hz: Any) -> Any:
        """Return the impedance.

        Parameters
        ----------
        f_hz : float or array
            Frequency, above 0. [Hz]

        Returns
        -------
        complex or array of complex
            Impedance; its angle is positive where the voltage leads. [ohm]

        References
        ----------
        Small 1972: Z = Re + K (j w)^n + Res / (1 + j Qms (f/fs - fs/f)).
        """
        coil = self.coil_ohm * (1j * f_hz / self.coil_hz) ** self.coil_power
        return self.re_ohm + coil + self.res_ohm / (1 + 1j * self.qms * (f_hz / self.fs_hz - self.fs_hz / f_hz))


def logarithm_and_slopes(f_hz: Array, coil_hz: float, theta: Array) -> tuple[Complex, Complex]:
    """Return the complex logarithm of a curve and how it changes with each unknown.

    Parameters
    ----------
    f_hz : array of shape (points,)
        Frequencies. [Hz]
    coil_hz : float
        Frequency at which the semi-inductance is meant. [Hz]
    theta : array of shape (6,)
        Natural logarithms of Re [ohm], fs [Hz], Qms and Res [ohm], then `coil_ohm` and `coil_power`. [-]

    Returns
    -------
    tuple of (array, array of shape (points, 6))
        Real parts are of the log modulus, imaginary parts of the phase. [-, rad]

    References
    ----------
    The curve's own formula, differentiated.

    Examples
    --------
    >>> import numpy as np
    >>> theta = np.array([np.log(7), np.log(450), np.log(4), np.log(14), 0.0, 1.0])
    >>> value, slopes = logarithm_and_slopes(np.array([450.0]), 1000.0, theta)
    >>> round(float(np.exp(value[0].real)), 9), slopes.shape
    (21.0, (1, 6))
    """
    import numpy as np

    re, fs, qms, res = np.exp(theta[:4])
    coil, power = theta[4], theta[5]
    turned = 1j * f_hz / coil_hz
    unit = turned**power
    ratio = f_hz / fs
    detuned = 1j * qms * (ratio - 1 / ratio)
    moving = res / (1 + detuned)
    whole = re + coil * unit + moving
    slopes = np.empty((len(f_hz), 6), complex)
    slopes[:, 0] = re
    slopes[:, 1] = moving * 1j * qms * (ratio + 1 / ratio) / (1 + detuned)
    slopes[:, 2] = -moving * detuned / (1 + detuned)
    slopes[:, 3] = moving
    slopes[:, 4] = unit
    slopes[:, 5] = coil * unit * np.log(turned)
    return np.log(whole), slopes / whole[:, np.newaxis]
