"""The published relations between a driver's parameters; numbers or arrays alike."""

from __future__ import annotations

from math import pi
from typing import Any

from modelmath.sound.air import ROOM_AIR, Air

MM2, MM3, GRAM = 1e-6, 1e-9, 1e-3  # in m2, m3 and kg


def q_together(one: Any, other: Any) -> Any:
    """Return the Q of two losses together: Qts of Qes and Qms.

    Parameters
    ----------
    one, other : float or array
        The Q of each alone. [-]

    Returns
    -------
    float or array
        The Q of both. [-]

    References
    ----------
    Small 1972: 1/Qts = 1/Qes + 1/Qms.

    Examples
    --------
    >>> q_together(1.0, 4.0)
    0.8
    """
    return one * other / (one + other)


def q_apart(together: Any, one: Any) -> Any:
    """Return the Q of one of two losses from that of both and of the other: Qes of Qts and Qms.

    Parameters
    ----------
    together : float or array
        The Q of both. [-]
    one : float or array
        The Q of the other alone, above it. [-]

    Returns
    -------
    float or array
        The Q of the one alone. [-]

    References
    ----------
    `q_together`, solved.

    Examples
    --------
    >>> q_apart(0.8, 4.0)
    1.0
    """
    return together * one / (one - together)


def compliance_m_n(vas_mm3: Any, sd_mm2: Any, air: Air = ROOM_AIR) -> Any:
    """Return the compliance of a suspension.

    Parameters
    ----------
    vas_mm3 : float or array
        Equivalent volume. [mm3]
    sd_mm2 : float or array
        Cone area. [mm2]
    air : Air
        The air. [-]

    Returns
    -------
    float or array
        Compliance Cms. [m/N]

    References
    ----------
    Small 1972: Vas = rho c^2 Sd^2 Cms.

    Examples
    --------
    >>> round(compliance_m_n(2000.0, 100.0) * 1000, 3)  # mm/N
    1.41
    """
    return vas_mm3 * MM3 / (air.stiffness_pa * (sd_mm2 * MM2) ** 2)


def equivalent_volume_mm3(compliance_m_n: Any, sd_mm2: Any, air: Air = ROOM_AIR) -> Any:
    """Return the volume of air as stiff as a suspension.

    Parameters
    ----------
    compliance_m_n : float or array
        Compliance Cms. [m/N]
    sd_mm2 : float or array
        Cone area. [mm2]
    air : Air
        The air. [-]

    Returns
    -------
    float or array
        Vas. [mm3]

    References
    ----------
    Small 1972: Vas = rho c^2 Sd^2 Cms.

    Examples
    --------
    >>> round(equivalent_volume_mm3(1.41e-3, 100.0))
    2000
    """
    return air.stiffness_pa * (sd_mm2 * MM2) ** 2 * compliance_m_n / MM3


def moving_mass_g(fs_hz: Any, compliance_m_n: Any) -> Any:
    """Return the moving mass.

    Parameters
    ----------
    fs_hz : float or array
        Resonance. [Hz]
    compliance_m_n : float or array
        Compliance Cms. [m/N]

    Returns
    -------
    float or array
        Mms. [g]

    References
    ----------
    A mass on a spring: fs = 1 / (2 pi sqrt(Mms Cms)).

    Examples
    --------
    >>> round(moving_mass_g(500.0, 1.41e-3), 4)
    0.0719
    """
    return 1.0 / ((2 * pi * fs_hz) ** 2 * compliance_m_n) / GRAM


def force_factor_tm(fs_hz: Any, mms_g: Any, re_ohm: Any, qes: Any) -> Any:
    """Return the force factor Bl.

    Parameters
    ----------
    fs_hz : float or array
        Resonance. [Hz]
    mms_g : float or array
        Moving mass. [g]
    re_ohm : float or array
        Voice coil resistance. [ohm]
    qes : float or array
        Electrical Q. [-]

    Returns
    -------
    float or array
        Bl. [T m]

    References
    ----------
    Small 1972: Qes = 2 pi fs Mms Re / Bl^2.

    Examples
    --------
    >>> round(force_factor_tm(500.0, 0.0719, 7.0, 1.0), 2)
    1.26
    """
    return (2 * pi * fs_hz * mms_g * GRAM * re_ohm / qes) ** 0.5


def efficiency(fs_hz: Any, vas_mm3: Any, qes: Any, air: Air = ROOM_AIR) -> Any:
    """Return the reference efficiency into a half space.

    Parameters
    ----------
    fs_hz : float or array
        Resonance. [Hz]
    vas_mm3 : float or array
        Equivalent volume. [mm3]
    qes : float or array
        Electrical Q. [-]
    air : Air
        The air. [-]

    Returns
    -------
    float or array
        Sound power over electrical power. [-]

    References
    ----------
    Small 1972: eta0 = 4 pi^2 fs^3 Vas / (c^3 Qes).

    Examples
    --------
    >>> f"{efficiency(500.0, 2000.0, 1.0):.2e}"
    '2.44e-04'
    """
    return 4 * pi**2 * fs_hz**3 * (vas_mm3 * MM3) / (air.speed_m_s**3 * qes)
