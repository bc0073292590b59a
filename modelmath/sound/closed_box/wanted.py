"""The chamber for a wanted Qtc, and what other volumes would give."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isinf
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.quantities.band import Band
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box.cases import WRITE_MM3, BoxCases, band_of
from modelmath.sound.closed_box.checks import check_amount, plain
from modelmath.sound.closed_box.response import WRITE_Q, cutoff_ratio, response_db
from modelmath.sound.closed_box.stuffing import UNFILLED, Stuffing
from modelmath.sound.driver.cases import INDEPENDENT, Cases, cases_of
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import Driver


@dataclass(frozen=True)
class _Wanted:
    """A Qtc asked for, what it takes in each case, and between which two values of Qtc chambers can be had."""

    driver: Driver
    qtc: float
    stuffing: Stuffing
    volume_mm3: Any  # endless where no chamber is large enough, 0 where none is small enough
    qts: Any
    endless: Any  # Qtc of an endless chamber
    no_room: Any  # Qtc of one without any room
    cases: Cases

    @property
    def filled(self) -> bool:
        """Whether the filling takes a part of the motion."""
        return not isinf(self.stuffing.q_box[1])


def _wanted(driver: Driver, qtc: float, stuffing: Stuffing, air: Air) -> _Wanted:
    import numpy as np

    check_amount("the wanted Qtc", qtc, "", WRITE_Q)
    known = complete(driver, air)
    cases = cases_of(known, air)
    gain, q_box = np.array(list(stuffing.cases), float).T
    qts, vas = cases.qts[:, None], cases.vas_mm3[:, None]
    endless = 1.0 / (1.0 / qts + 1.0 / q_box)
    left = 1.0 / qtc - 1.0 / q_box  # the loss that the speaker itself may have in the chamber
    with np.errstate(divide="ignore"):
        alpha = (1.0 / (qts * left)) ** 2 - 1.0
        volume = vas / (alpha * gain)
    volume = np.where(qtc <= endless, inf, np.where(left <= 0, 0.0, volume))
    return _Wanted(known, float(qtc), stuffing, volume, cases.qts, endless, q_box, cases)


def volume_for(driver: Driver, qtc: float, *, stuffing: Stuffing = UNFILLED, air: Air = ROOM_AIR) -> Band:
    """Return the volume of the sealed chamber in which a speaker has a wanted Qtc.

    Parameters
    ----------
    driver : Driver
        The speaker; what is not known of it is derived or bounded. [-]
    qtc : float
        The wanted total Q. [-]
    stuffing : Stuffing
        What fills the chamber. [-]
    air : Air
        The air. [-]

    Returns
    -------
    Band
        The chamber's net volume, as little as the filling needs. Its upper end is infinite where the speaker may be one
        that no chamber gives that Qtc; `wanted_in_words` says so. [mm3]

    Raises
    ------
    OutOfRange
        If with the best values no chamber gives it: the speaker's own Qts is not below it, or the filling takes so much
        that not even the smallest chamber has so high a Qtc.
    WrongKind
        If it is no number.

    References
    ----------
    Small 1972, solved: Vb = Vas / ((Qtc/Qts)^2 - 1), over the volume gain. A loss in the filling comes off 1/Qtc first.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> round(volume_for(sample, 1.2).best)
    1600
    """
    asked = _wanted(driver, qtc, stuffing, air)
    refusal = _refusal(asked)
    if refusal is not None:
        raise refusal
    return band_of(asked.volume_mm3)


def _refusal(asked: _Wanted) -> OutOfRange | None:
    """Return why with the best values no chamber gives the wanted Qtc; None where one does."""
    best = float(asked.volume_mm3[0, 0])
    if isinf(best):
        return _too_low(asked)
    if best > 0:
        return None
    most = f"below {asked.no_room[0]:.4g}, which the loss in the filling leaves however small the chamber is"
    write = "Take the filling out, or ask for less."
    return OutOfRange(f"the wanted Qtc of the {asked.driver.name}", f"{asked.qtc:.4g}", most, write)


def _too_low(asked: _Wanted) -> OutOfRange:
    least, own = band_of(asked.endless), _ranged(band_of(asked.qts), "")
    if asked.filled:
        expected = f"above {_ranged(least, '')}, which its own Qts of {own} comes to with the loss in the filling"
    else:
        expected = f"above {own}, its own Qts"
    write = (
        "No closed chamber brings it down there: a larger one is always flatter, and its Qtc only comes nearer to that."
        f" Make the chamber as large as the space allows, or ask for a Qtc above {least.best:.4g}."
    )
    return OutOfRange(f"the wanted Qtc of the {asked.driver.name}", f"{asked.qtc:.4g}", expected, write)


def wanted_in_words(
    driver: Driver, qtc: float, at_hand_mm3: float | None = None, *, stuffing: Stuffing = UNFILLED, air: Air = ROOM_AIR
) -> str:
    """Return which chamber a wanted Qtc takes, or why none gives it, and what the one at hand gives.

    Parameters
    ----------
    driver : Driver
        The speaker; what is not known of it is derived or bounded. [-]
    qtc : float
        The wanted total Q. [-]
    at_hand_mm3 : float or None
        Net volume of the chamber at hand. [mm3]
    stuffing : Stuffing
        What fills the chamber. [-]
    air : Air
        The air. [-]

    Returns
    -------
    str
        In plain sentences. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If Qtc or volume is no finite number above 0.

    References
    ----------
    `volume_for`, `volume_curve`.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> print(wanted_in_words(sample, 1.2, 2000))
    For a Qtc of 1.2 the sample needs a chamber of 1.6 cm3. The chamber at hand, 2 cm3, gives a Qtc of 1.13 and a -3 \
dB point of 530 Hz.
    """
    asked = _wanted(driver, qtc, stuffing, air)
    refusal = _refusal(asked)
    answer = _given(asked) if refusal is None else str(refusal)
    answer = answer[0].upper() + answer[1:]
    if at_hand_mm3 is None:
        return answer
    f3_hz, found = volume_curve(driver, at_hand_mm3, stuffing=stuffing, air=air)
    at_hand = f"The chamber at hand, {at_hand_mm3 / 1000:.3g} cm3, gives a Qtc of {found:.3g}"
    return f"{answer} {at_hand} and a -3 dB point of {float(f'{f3_hz:.3g}'):.0f} Hz."


def _given(asked: _Wanted) -> str:
    """Return which chamber the wanted Qtc takes, and where that may not hold."""
    volume = band_of(asked.volume_mm3 / 1000)
    needs = f"for a Qtc of {asked.qtc:.4g} the {asked.driver.name} needs a chamber of"
    if not volume.low and not isinf(volume.high):
        most = f"up to {volume.high:.3g} cm3; by some of its limits no chamber is small enough"
        return f"{needs} {volume.best:.3g} cm3 ({most})."
    if not isinf(volume.high):
        return f"{needs} {_ranged(volume, ' cm3', digits=3)}."
    return (
        f"{needs} {volume.best:.3g} cm3 ({volume.low:.3g} cm3 or more). Its own Qts is not known closely enough to be"
        f" sure: it may be as high as {float(asked.qts.max()):.3g}, and then no closed chamber gives {asked.qtc:.4g}; a"
        " larger one is always flatter and comes nearer to that."
    )


def _ranged(band: Band, unit: str, digits: int = 4) -> str:
    best, low, high = (f"{each:.{digits}g}" for each in (band.best, band.low, band.high))
    return f"{best}{unit}" if low == high else f"{best}{unit} (from {low} to {high}{unit})"


def volume_curve(
    driver: Driver, volumes_mm3: Any, *, stuffing: Stuffing = UNFILLED, air: Air = ROOM_AIR
) -> tuple[Any, Any]:
    """Return the -3 dB point and the total Q that a speaker has in chambers of different volumes.

    Parameters
    ----------
    driver : Driver
        The speaker; what is not known of it is derived or bounded, and its best values count. [-]
    volumes_mm3 : float or array
        The chambers' net volumes. [mm3]
    stuffing : Stuffing
        What fills the chambers. [-]
    air : Air
        The air. [-]

    Returns
    -------
    tuple of float or array
        The -3 dB points and the Qtc, in the shape of the volumes. [Hz, -]

    Raises
    ------
    OutOfRange, WrongKind
        If a volume is no finite number above 0.

    References
    ----------
    Small 1972, as `closed_box`.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> f3_hz, qtc = volume_curve(sample, 2000)
    >>> round(f3_hz, 1), round(qtc, 3)
    (529.9, 1.131)
    """
    fc_hz, qtc = _in_chambers(driver, volumes_mm3, stuffing, air)
    return plain(fc_hz * cutoff_ratio(qtc)), plain(qtc)


def responses_db(
    driver: Driver, f_hz: Any, volumes_mm3: Any, *, stuffing: Stuffing = UNFILLED, air: Air = ROOM_AIR
) -> Any:
    """Return the response of a speaker in chambers of different volumes.

    Parameters
    ----------
    driver : Driver
        The speaker; what is not known of it is derived or bounded, and its best values count. [-]
    f_hz : float or array
        Frequencies. [Hz]
    volumes_mm3 : float or array
        The chambers' net volumes. [mm3]
    stuffing : Stuffing
        What fills the chambers. [-]
    air : Air
        The air. [-]

    Returns
    -------
    float or array
        Level against that well above resonance; the shape of the volumes first, then that of the frequencies. [dB]

    Raises
    ------
    OutOfRange, WrongKind
        If a volume is no finite number above 0, or a frequency is below 0.

    References
    ----------
    `closed_box.response.response_db`.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> responses_db(sample, [500, 1000], [1000, 2000, 4000]).shape
    (3, 2)
    """
    import numpy as np

    fc_hz, qtc = _in_chambers(driver, volumes_mm3, stuffing, air)
    apart = fc_hz.shape + (1,) * np.ndim(f_hz)
    return response_db(f_hz, fc_hz.reshape(apart), qtc.reshape(apart))


def _in_chambers(driver: Driver, volumes_mm3: Any, stuffing: Stuffing, air: Air) -> tuple[Any, Any]:
    """Return resonance and total Q with the best values of everything, in the shape of the volumes."""
    import numpy as np

    check_amount("the volume of the chamber", volumes_mm3, " mm3", WRITE_MM3)
    volumes = np.asarray(volumes_mm3, float)
    every = cases_of(complete(driver, air), air)
    best = Cases(**{name: getattr(every, name)[:1] for name in INDEPENDENT}, air=air)
    gain, q_box = next(stuffing.cases)
    cases = BoxCases(best, volumes.ravel(), np.array([gain]), np.array([q_box]))
    return cases.fc_hz[0].reshape(volumes.shape), cases.qtc[0].reshape(volumes.shape)
