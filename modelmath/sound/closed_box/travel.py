"""How far the cone moves, one way, at a power and a frequency."""

from __future__ import annotations

from math import sqrt
from typing import Any

from modelmath.sound.closed_box.response import FLATTEST_Q


def resting_travel_mm(power_w: Any, bl_tm: Any, re_ohm: Any, compliance_m_n: Any, alpha: Any) -> Any:
    """Return how far the cone goes far below resonance, where only stiffness holds it.

    Parameters
    ----------
    power_w : float or array
        Power that the voltage would put into Re alone. [W]
    bl_tm : float or array
        Force factor. [T m]
    re_ohm : float or array
        Resistance of the voice coil. [ohm]
    compliance_m_n : float or array
        Compliance of the suspension. [m/N]
    alpha : float or array
        Stiffness of the air in the chamber over that of the suspension. [-]

    Returns
    -------
    float or array
        Travel, peak, one way. [mm]

    References
    ----------
    A sine of the effective voltage sqrt(P Re) drives Bl V / Re onto both springs: sqrt(2) Bl sqrt(P Re) / Re times
    Cms / (1 + alpha).

    Examples
    --------
    >>> round(resting_travel_mm(0.5, 1.26, 7.0, 1.41e-3, 1.0), 3)
    0.336
    """
    force_n = sqrt(2.0) * bl_tm * (power_w / re_ohm) ** 0.5
    return force_n * compliance_m_n / (1.0 + alpha) * 1000.0


def travel_mm(f_hz: Any, fc_hz: Any, qtc: Any, resting_mm: Any) -> Any:
    """Return how far the cone goes at a frequency.

    Parameters
    ----------
    f_hz : float or array
        Frequency. [Hz]
    fc_hz : float or array
        Resonance in the chamber. [Hz]
    qtc : float or array
        Total Q in the chamber. [-]
    resting_mm : float or array
        Travel far below resonance. [mm]

    Returns
    -------
    float or array
        Travel, peak, one way, in the shape that all have together. [mm]

    References
    ----------
    A driven mass on a spring with losses: X(0) / |1 - (f/fc)^2 + j f/(fc Qtc)|.

    Examples
    --------
    >>> travel_mm(500.0, 500.0, 0.8, 0.25)
    0.2
    """
    squared = (f_hz / fc_hz) ** 2
    return resting_mm / ((1.0 - squared) ** 2 + squared / qtc**2) ** 0.5


def greatest_travel_hz(fc_hz: Any, qtc: Any, from_hz: float) -> Any:
    """Return at which frequency the cone goes farthest.

    Parameters
    ----------
    fc_hz : float or array
        Resonance in the chamber. [Hz]
    qtc : float or array
        Total Q in the chamber. [-]
    from_hz : float
        Lowest frequency that is played. [Hz]

    Returns
    -------
    float or array
        At fc sqrt(1 - 1/(2 Qtc^2)) for a Qtc above 1/sqrt(2) and at 0 otherwise, but never below the lowest that is
        played: past its peak the travel only falls. [Hz]

    References
    ----------
    The size of `travel_mm`, differentiated.

    Examples
    --------
    >>> round(float(greatest_travel_hz(700.0, 1.0, 100.0)))
    495
    """
    import numpy as np

    at = fc_hz * np.sqrt(1.0 - 0.5 / np.maximum(qtc, FLATTEST_Q) ** 2)
    return np.maximum(at, from_hz)
