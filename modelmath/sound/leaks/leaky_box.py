"""A speaker in a chamber that leaks: response, -3 dB point, and the loss as Ql."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, log10
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_number
from modelmath.lengths.text import to_digits
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.driver.driver import Driver
from modelmath.sound.leaks.circuit import Circuit, box_compliance, loss_q
from modelmath.sound.leaks.leak import Leak
from modelmath.sound.leaks.sealing import LEAST_QL, MOST_SHIFT

HARMLESS, HEARD, RUINED = "harmless", "heard", "ruins the low end"
HEARD_DB = 1.5  # a rise that is surely noticed; common practice, no source
# Where a leak is past mending by the ear: four times the shift and a tenth of the Ql that are harmless, or a boom of
# twice the sound pressure. Common practice, no source.
RUINED_SHIFT, RUINED_QL, RUINED_DB = 0.20, 2.0, 6.0
GRID_AROUND, GRID_STEPS = 20.0, 600  # the boom is looked for from a twentieth to 20 times the resonance


def leaky_response(
    f_hz: Any, driver: Driver, volume_mm3: float, leaks: Sequence[Leak] = (), *, air: Air = ROOM_AIR
) -> Any:
    """Return the response of a speaker in a chamber with leaks; 1 at high frequencies.

    Parameters
    ----------
    f_hz : float or array
        Frequency, above 0. [Hz]
    driver : Driver
        Its parameters; what is missing is completed; the best values count. [-]
    volume_mm3 : float
        The chamber. [mm3]
    leaks : sequence of Leak
        Its openings; none for a sealed chamber, which has the second-order response of its resonance and Qtc. [-]
    air : Air
        The air. [-]

    Returns
    -------
    complex or array
        The response. [-]

    Raises
    ------
    NotYetKnown
        If a parameter is not known and follows from nothing.
    OutOfRange, WrongKind
        If the volume or a frequency is no number above 0, or two parameters contradict each other.

    Notes
    -----
    ``Z_box = 1 / (j w C + sum 1 / Z_leak)``. The cone moves by ``Bl / Re`` a volt against ``Rms + Bl^2/Re + j w Mms +
    1/(j w Cms) + Sd^2 Z_box``. Leaks push the air out while the cone draws it in, so that the sound far away is that of
    the cone's volume flow less that of the leaks: an open back cancels the low notes. Holds while cone and leaks lie
    much closer together than a wavelength, within the lumped theory, and for an unfilled chamber. An opening of a
    few mm resonates with the chamber: around there the sound grows, below it the low notes are gone.

    References
    ----------
    Beranek, Acoustics (from memory); R. H. Small, Vented-Box Loudspeaker Systems, J. Audio Eng. Soc. 21, 1973, for the
    flow of cone, port and leaks together.

    Examples
    --------
    >>> from modelmath.sound.leaks.leak import open_back
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> round(abs(leaky_response(600.0, sample, 8000.0)), 3)
    0.952
    >>> round(abs(leaky_response(600.0, sample, 8000.0, [open_back(200.0, 1.0)])), 3)
    0.069
    """
    return Circuit.of(driver, volume_mm3, air).response(f_hz, leaks)


def leaky_cutoff_hz(driver: Driver, volume_mm3: float, leaks: Sequence[Leak] = (), *, air: Air = ROOM_AIR) -> float:
    """Return the -3 dB point of a speaker in a chamber with leaks.

    Parameters
    ----------
    driver : Driver
        Its parameters; what is missing is completed; the best values count. [-]
    volume_mm3 : float
        The chamber. [mm3]
    leaks : sequence of Leak
        Its openings; none for a sealed chamber. [-]
    air : Air
        The air. [-]

    Returns
    -------
    float
        The highest frequency where the response crosses half the power of high frequencies. [Hz]

    Raises
    ------
    NotYetKnown, OutOfRange, WrongKind
        As `leaky_response`.

    References
    ----------
    Bisection on `leaky_response`.

    Examples
    --------
    >>> from modelmath.sound.leaks.leak import hole
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> round(leaky_cutoff_hz(sample, 8000.0)), round(leaky_cutoff_hz(sample, 8000.0, [hole(2.0, 1.0)]))
    (465, 458)
    """
    return Circuit.of(driver, volume_mm3, air).cutoff_hz(leaks)


def ql(leak: Leak | Sequence[Leak], volume_mm3: float, fc_hz: float, *, air: Air = ROOM_AIR) -> float:
    """Return the Q that a chamber's leaks alone would leave it.

    Parameters
    ----------
    leak : Leak or sequence of Leak
        One opening, or all. [-]
    volume_mm3 : float
        The chamber. [mm3]
    fc_hz : float
        Resonance of the speaker in it. [Hz]
    air : Air
        The air. [-]

    Returns
    -------
    float
        Ql; infinite for an opening without loss, which still cancels low notes: see `leaky_cutoff_hz`. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the volume or the resonance is no number above 0.

    Notes
    -----
    ``Ql = w C R`` of a narrow leak. Where the leak's mass counts, R is that beside the chamber's compliance: 1 over the
    real part of the leak's admittance. So Ql falls as a gap widens only until its air swings more than it rubs, at some
    0.2 mm; past that judge by `leaky_cutoff_hz`.

    References
    ----------
    R. H. Small, Vented-Box Loudspeaker Systems, 1973: ``Ql = w C_ab R_al``; 5 to 20 there is usual for wooden boxes,
    from memory.

    Examples
    --------
    >>> from modelmath.sound.leaks.leak import slot
    >>> round(ql(slot(60.0, 0.04, 2.0), 8000.0, 560.0), 1)
    22.5
    """
    check_number("the resonance", fc_hz)
    if fc_hz <= 0:
        raise OutOfRange("the resonance", f"{fc_hz:g} Hz", "above 0", "Write it in hertz, such as 600.")
    leaks = [leak] if isinstance(leak, Leak) else leak
    return loss_q(leaks, box_compliance(volume_mm3, air), fc_hz)


@dataclass(frozen=True)
class LeakEffect:
    """What leaks do to a speaker in a chamber.

    Attributes
    ----------
    leaks : tuple of Leak
        The openings. [-]
    fc_hz : float
        Resonance, sealed. [Hz]
    sealed_f3_hz, f3_hz : float
        The -3 dB point sealed, and with the leaks. [Hz]
    ql : float
        Q of the leaks at the sealed resonance. [-]
    change_db, octave_lower_db : float
        The sound at the sealed resonance and an octave lower, over that of the sealed chamber. [dB]
    boom_hz : float
        Where the leaks raise the sound most over that of the sealed chamber. [Hz]
    boom_db : float
        By how much there. [dB]
    peak_rise_db : float
        How much higher the highest point of the whole response is than that of the sealed chamber. [dB]

    References
    ----------
    See `leaky_response`.
    """

    leaks: tuple[Leak, ...]
    fc_hz: float
    sealed_f3_hz: float
    f3_hz: float
    ql: float
    change_db: float
    octave_lower_db: float
    boom_hz: float
    boom_db: float
    peak_rise_db: float

    @property
    def booms(self) -> bool:
        """Whether the leaks raise one pitch so that it is heard, as a port does. [-]"""
        return self.boom_db >= HEARD_DB and self.verdict != HARMLESS

    @property
    def verdict(self) -> str:
        """What it comes to: harmless, heard, or ruins the low end. [-]"""
        shift, rise = abs(self.shift), self.peak_rise_db
        if shift > RUINED_SHIFT or self.ql < RUINED_QL or rise > RUINED_DB:
            return RUINED
        return HEARD if shift > MOST_SHIFT or self.ql < LEAST_QL or rise > HEARD_DB else HARMLESS

    @property
    def shift(self) -> float:
        """How far the -3 dB point moves, over where it was. [-]"""
        return self.f3_hz / self.sealed_f3_hz - 1

    @property
    def in_words(self) -> str:
        """One sentence. [-]"""
        if not self.leaks:
            return f"Sealed, the -3 dB point is {self.sealed_f3_hz:.0f} Hz."
        names = " and ".join(each.words for each in self.leaks)
        loss = "" if self.ql == inf else f" (Ql {self.ql:.3g})"
        booms = f"; {self.port_in_words}" if self.booms else ""
        return (
            f"With {names}{loss} the -3 dB point is {self.f3_hz:.0f} Hz, sealed {self.sealed_f3_hz:.0f} Hz: "
            f"{self.verdict}{booms}."
        )

    @property
    def port_in_words(self) -> str:
        """What an opening does that raises one pitch, without a capital or a full stop. [-]"""
        near = to_digits(self.boom_hz)
        return (
            f"the opening acts as a port: one pitch booms, near {near} Hz, and below it the sound falls faster and the "
            "cone moves further"
        )


def leak_effect(driver: Driver, volume_mm3: float, leaks: Sequence[Leak], *, air: Air = ROOM_AIR) -> LeakEffect:
    """Return what leaks do to a speaker in a chamber.

    Parameters
    ----------
    driver : Driver
        Its parameters; what is missing is completed; the best values count. [-]
    volume_mm3 : float
        The chamber. [mm3]
    leaks : sequence of Leak
        Its openings. [-]
    air : Air
        The air. [-]

    Returns
    -------
    LeakEffect
        In numbers and words. [-]

    Raises
    ------
    NotYetKnown, OutOfRange, WrongKind
        As `leaky_response`.

    References
    ----------
    See `leaky_response`.

    Examples
    --------
    >>> from modelmath.sound.leaks.leak import hole
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> leak_effect(sample, 8000.0, [hole(2.0, 1.0)]).in_words
    'With a hole of 2 mm (Ql 10.5) the -3 dB point is 458 Hz, sealed 465 Hz: ruins the low end; the opening acts as ...'
    """
    circuit = Circuit.of(driver, volume_mm3, air)
    change_db, octave_lower_db = (
        20 * log10(abs(circuit.response(f_hz, leaks)) / abs(circuit.response(f_hz, ())))
        for f_hz in (circuit.fc_hz, circuit.fc_hz / 2)
    )
    boom_hz, boom_db, peak_rise_db = _boom(circuit, leaks)
    return LeakEffect(
        leaks=tuple(leaks),
        fc_hz=circuit.fc_hz,
        sealed_f3_hz=circuit.cutoff_hz(()),
        f3_hz=circuit.cutoff_hz(leaks),
        ql=circuit.ql(leaks),
        change_db=change_db,
        octave_lower_db=octave_lower_db,
        boom_hz=boom_hz,
        boom_db=boom_db,
        peak_rise_db=peak_rise_db,
    )


def _boom(circuit: Circuit, leaks: Sequence[Leak]) -> tuple[float, float, float]:
    """Return where leaks raise the sound most, by how much, and by how much the highest point of all rises."""
    import numpy as np

    grid = np.geomspace(circuit.fc_hz / GRID_AROUND, circuit.fc_hz * GRID_AROUND, GRID_STEPS)
    sealed, leaky = (20 * np.log10(abs(circuit.response(grid, each))) for each in ((), leaks))
    most = int(np.argmax(leaky - sealed))
    # Sealed, the response ends at 0 dB far above the resonance, which may lie beyond the grid.
    return float(grid[most]), float(leaky[most] - sealed[most]), float(max(0.0, leaky.max()) - max(0.0, sealed.max()))
