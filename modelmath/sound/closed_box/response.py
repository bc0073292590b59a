"""The response of a closed chamber: a high-pass of the second order, by its resonance and total Q."""

from __future__ import annotations

from math import sqrt
from typing import Any

from modelmath.sound.closed_box.checks import check_amount, plain

FLATTEST_Q = sqrt(0.5)  # the Butterworth alignment: past it the response has a peak
WRITE_HZ = "Write it in hertz, such as 500."
WRITE_Q = "Write it as a plain ratio, such as 0.7."


def response(f_hz: Any, fc_hz: Any, qtc: Any) -> Any:
    """Return how much of its level well above resonance a speaker in a closed chamber keeps, and its phase.

    Parameters
    ----------
    f_hz : float or array
        Frequency. [Hz]
    fc_hz : float or array
        Resonance in the chamber. [Hz]
    qtc : float or array
        Total Q in the chamber. [-]

    Returns
    -------
    complex or array
        Sound pressure over that far above resonance, in the shape that all three have together. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a frequency is below 0, or a resonance or Q not above 0.

    References
    ----------
    Small 1972: G(s) = s^2 / (s^2 + s/Qtc + 1) with s = j f/fc.

    Examples
    --------
    >>> round(abs(response(500.0, 500.0, 0.7)), 3)
    0.7
    """
    import numpy as np

    ratio, q = _ratio(f_hz, fc_hz, qtc)
    squared = ratio * ratio
    # With s^2 = -(f/fc)^2 and both sides of the fraction times -1 only its lower side is complex: fewer passes.
    found = np.empty(np.broadcast_shapes(np.shape(ratio), np.shape(q)), complex)
    np.subtract(squared, 1.0, out=found.real)
    np.divide(ratio, -q, out=found.imag)
    np.divide(squared, found, out=found)
    return plain(found)


def response_db(f_hz: Any, fc_hz: Any, qtc: Any) -> Any:
    """Return the level of a speaker in a closed chamber, against that well above resonance.

    Parameters
    ----------
    f_hz : float or array
        Frequency. [Hz]
    fc_hz : float or array
        Resonance in the chamber. [Hz]
    qtc : float or array
        Total Q in the chamber. [-]

    Returns
    -------
    float or array
        Level, in the shape that all three have together; minus infinity at 0 Hz. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        As `response`.

    References
    ----------
    The square of the size of `response`.

    Examples
    --------
    >>> round(response_db(500.0, 500.0, 0.5), 4)
    -6.0206
    """
    import numpy as np

    ratio, q = _ratio(f_hz, fc_hz, qtc)
    squared = ratio * ratio
    below = squared - 1.0
    below *= below
    below = below + squared / q**2
    squared *= squared
    found = np.asarray(squared / below)
    with np.errstate(divide="ignore"):
        np.log10(found, out=found)
    found *= 10.0
    return plain(found)


def cutoff_ratio(qtc: Any) -> Any:
    """Return where the response has fallen to half its power, over the resonance: f3/fc.

    Parameters
    ----------
    qtc : float or array
        Total Q in the chamber. [-]

    Returns
    -------
    float or array
        The -3 dB point over the resonance. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a Q is not above 0.

    References
    ----------
    Small 1972, the second-order high-pass solved for half the power: A = 1/Qtc^2 - 2,
    f3/fc = sqrt((A + sqrt(A^2 + 4)) / 2).

    Examples
    --------
    >>> round(cutoff_ratio(1.0), 4), round(cutoff_ratio(0.5), 4)
    (0.7862, 1.5538)
    """
    check_amount("the total Q", qtc, "", WRITE_Q)
    extra = 1.0 / qtc**2 - 2.0
    return ((extra + (extra**2 + 4.0) ** 0.5) / 2.0) ** 0.5


def peak_db(qtc: Any) -> Any:
    """Return how far the response rises above its level well above resonance.

    Parameters
    ----------
    qtc : float or array
        Total Q in the chamber. [-]

    Returns
    -------
    float or array
        The peak; 0 where there is none, at a Q of 1/sqrt(2) and below. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If a Q is not above 0.

    References
    ----------
    Second-order high-pass: the peak is Qtc^2 / sqrt(Qtc^2 - 1/4).

    Examples
    --------
    >>> round(peak_db(1.0), 4), peak_db(0.6)
    (1.2494, 0.0)
    """
    import numpy as np

    check_amount("the total Q", qtc, "", WRITE_Q)
    squared = np.maximum(qtc, FLATTEST_Q) ** 2
    # At the flattest Q itself rounding would leave a little above or below 0.
    height = np.maximum(10.0 * np.log10(squared**2 / (squared - 0.25)), 0.0)
    return plain(np.asarray(np.where(np.asarray(qtc) > FLATTEST_Q, height, 0.0)))


def peak_ratio(qtc: Any) -> Any:
    """Return where the response peaks, over the resonance.

    Parameters
    ----------
    qtc : float or array
        Total Q in the chamber. [-]

    Returns
    -------
    float or array
        Frequency of the peak over the resonance; no number (nan) where there is no peak. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a Q is not above 0.

    References
    ----------
    Second-order high-pass: the peak is at fc / sqrt(1 - 1/(2 Qtc^2)), for Qtc above 1/sqrt(2).

    Examples
    --------
    >>> round(peak_ratio(1.0), 4), peak_ratio(0.6)
    (1.4142, nan)
    """
    import numpy as np

    check_amount("the total Q", qtc, "", WRITE_Q)
    known = np.where(np.asarray(qtc) > FLATTEST_Q, qtc, np.nan)
    return plain(np.asarray(1.0 / np.sqrt(1.0 - 0.5 / known**2)))


def _ratio(f_hz: Any, fc_hz: Any, qtc: Any) -> tuple[Any, Any]:
    """Return frequency over resonance, and Q, as numpy takes them."""
    import numpy as np

    check_amount("the frequency", f_hz, " Hz", WRITE_HZ, least_0=True)
    check_amount("the resonance", fc_hz, " Hz", WRITE_HZ)
    check_amount("the total Q", qtc, "", WRITE_Q)
    return np.asarray(f_hz, float) / np.asarray(fc_hz, float), np.asarray(qtc, float)
