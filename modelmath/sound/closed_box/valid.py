"""Where the theory of one moving mass on one spring of air ends: a chamber as long as a share of the wave."""

from __future__ import annotations

from math import pi
from typing import Any

from modelmath.lengths.text import to_digits
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box.checks import check_amount

WRITE_MM = "Write the longest inside length of the chamber in mm, such as 30."


def lumped_limit_hz(longest_mm: Any, air: Air = ROOM_AIR) -> Any:
    """Return the frequency up to which the air in a chamber acts as one spring.

    Parameters
    ----------
    longest_mm : float or array
        Longest inside length of the chamber. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    float or array
        The frequency at which the wave number times the length is 1: f = c / (2 pi L). [Hz]

    Raises
    ------
    OutOfRange, WrongKind
        If the length is not above 0.

    References
    ----------
    Lumped acoustics hold where k L is well below 1; acoustics textbooks, from memory. In a closed tube the stiffness
    goes with k L cot(k L): at k L = 1 it is 0.64 of what the volume alone gives.

    Examples
    --------
    >>> round(lumped_limit_hz(30.0))
    1821
    """
    check_amount("the longest inside length", longest_mm, " mm", WRITE_MM)
    return air.speed_m_s * 1000.0 / (2 * pi * longest_mm)


def first_standing_wave_hz(longest_mm: Any, air: Air = ROOM_AIR) -> Any:
    """Return the frequency of the first standing wave between the ends of a chamber.

    Parameters
    ----------
    longest_mm : float or array
        Longest inside length of the chamber. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    float or array
        The frequency whose half wave is as long: f = c / (2 L). [Hz]

    Raises
    ------
    OutOfRange, WrongKind
        If the length is not above 0.

    References
    ----------
    A tube closed at both ends; acoustics textbooks, from memory.

    Examples
    --------
    >>> round(first_standing_wave_hz(30.0))
    5720
    """
    check_amount("the longest inside length", longest_mm, " mm", WRITE_MM)
    return air.speed_m_s * 1000.0 / (2.0 * longest_mm)


def limits_in_words(longest_mm: float, air: Air = ROOM_AIR) -> str:
    """Return where the theory ends, as a sentence to stand beside a response.

    Parameters
    ----------
    longest_mm : float
        Longest inside length of the chamber. [mm]
    air : Air
        The air. [-]

    Returns
    -------
    str
        Both frequencies and what they mean. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the length is not above 0.

    References
    ----------
    `lumped_limit_hz`, `first_standing_wave_hz`.

    Examples
    --------
    >>> print(limits_in_words(30.0))
    The chamber is 30 mm long inside: up to about 1800 Hz its air acts as one spring, and the curves hold; above that \
they are rough, and at about 5700 Hz the first standing wave forms between its ends.
    """
    spring, wave = lumped_limit_hz(longest_mm, air), first_standing_wave_hz(longest_mm, air)
    return (
        f"The chamber is {float(longest_mm):.3g} mm long inside: up to about {to_digits(spring)} Hz its air acts as one"
        f" spring, and the curves hold; above that they are rough, and at about {to_digits(wave)} Hz the first standing"
        " wave forms between its ends."
    )
