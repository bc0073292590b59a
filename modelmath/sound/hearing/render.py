"""A short generated sound as a chamber lets it through: its harmonics by the response, all as loud, faded in."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from math import pi
from typing import TYPE_CHECKING, TypeAlias
from wave import open as open_wave

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.numbers import check_number

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]
    ComplexArray: TypeAlias = NDArray[np.complexfloating]

RATE_HZ = 22050
LENGTH_S = 3.0
LEVEL = 0.06  # root mean square over full scale, the same for all: quiet, about 24 dB below the most there may be
FADE_S = 1.0  # it starts quiet, so that a loud loudspeaker gives time to turn it down
SOFT = 0.02  # over the level, where it starts
HIGHEST_HZ = 9000.0
# Fundamentals of each sound in Hz, and how fast its harmonics fall off: our own, like no real engine's.
SOUNDS: dict[str, tuple[tuple[int, ...], float]] = {
    "three-note whistle": ((311, 370, 466), 0.9),
    "motor turning over": ((11,), 0.35),
}


def sound(name: str, response: Callable[[Array], ComplexArray] | None = None, length_s: float = LENGTH_S) -> Array:
    """Return one of the sounds, as a response lets it through.

    Parameters
    ----------
    name : str
        One of `SOUNDS`. [-]
    response : function or None
        Returns the complex response at frequencies in Hz; None for the sound as it is. [-]
    length_s : float
        How long it lasts, up to 20. [s]

    Returns
    -------
    array
        Samples from -1 to 1, at `RATE_HZ`. [-]

    Raises
    ------
    UnknownChoice
        If there is no such sound.
    OutOfRange
        If it would last longer, or no time.

    References
    ----------
    A linear system passes each harmonic by its own gain and phase. That all are as loud by their root mean square:
    common practice, no source.

    Examples
    --------
    >>> samples = sound("three-note whistle")
    >>> len(samples), round(float((samples[RATE_HZ : 2 * RATE_HZ] ** 2).mean() ** 0.5), 3)
    (66150, 0.06)
    """
    import numpy as np

    if name not in SOUNDS:
        raise UnknownChoice("the sound", name, tuple(SOUNDS))
    check_number("the length of the sound", length_s)
    if not 0 < length_s <= 20:
        raise OutOfRange("the length of the sound", f"{length_s:g} s", "above 0 s, up to 20 s", "Write 3.")
    fundamentals, falls = SOUNDS[name]
    count = max(1, int(length_s * RATE_HZ))
    spectrum = np.zeros(RATE_HZ, complex)  # of which the first half counts
    for number, fundamental in enumerate(fundamentals):
        order = np.arange(1, int(HIGHEST_HZ / fundamental) + 1)
        hz = order * fundamental
        gains = np.ones(order.size, complex) if response is None else response(hz.astype(float))
        # Phases that don't all meet at once, so that no peak towers over the rest.
        phases = pi * order * (order - 1) / order.size + number
        spectrum[hz] += gains * order**-falls * np.exp(1j * phases)
    second = np.fft.irfft(spectrum, RATE_HZ)  # every harmonic is a whole number of Hz, so that a second repeats
    return _matched(np.tile(second, -(-count // RATE_HZ))[:count], np.arange(count) / RATE_HZ)


def _matched(samples: Array, time: Array) -> Array:
    """Return samples at the common level, faded in and out; lower where a peak would not fit."""
    import numpy as np

    mean = float(np.sqrt((samples**2).mean()))
    level = samples * (LEVEL / mean) if mean else samples
    peak = float(np.abs(level).max())
    if peak > 1:
        level = level / peak
    rise = SOFT ** np.clip(1 - time / FADE_S, 0.0, 1.0)
    fall = np.clip((time[-1] - time) / 0.05, 0.0, 1.0)
    found: Array = level * rise * fall
    return found


def wav(samples: Array) -> bytes:
    """Return samples as a sound file.

    Parameters
    ----------
    samples : array
        From -1 to 1, at `RATE_HZ`. [-]

    Returns
    -------
    bytes
        A WAV file of one channel and 16 bits. [-]

    References
    ----------
    RIFF WAVE, PCM.

    Examples
    --------
    >>> wav(sound("three-note whistle", length_s=0.1))[:4]
    b'RIFF'
    """
    import numpy as np

    whole = np.clip(np.round(samples * 32767), -32768, 32767).astype("<i2")
    file = BytesIO()
    with open_wave(file, "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE_HZ)
        out.writeframes(whole.tobytes())
    return file.getvalue()
