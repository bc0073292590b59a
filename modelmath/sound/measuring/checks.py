"""A sweep looked over before and after its fit: each fault says what to take again."""

from __future__ import annotations

from itertools import pairwise
from math import degrees
from typing import TYPE_CHECKING, TypeAlias

from modelmath.sound.measuring.faults import SweepFault
from modelmath.sound.measuring.peaks import LEAST_PEAK, Peaks

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from modelmath.sound.measuring.curve import ImpedanceCurve
    from modelmath.sound.measuring.fit import SweepFit
    from modelmath.sound.measuring.sweep import Sweep

    Array: TypeAlias = NDArray[np.floating]

LEAST_POINTS = 12  # twice the unknowns
ENOUGH_POINTS = 40
LEAST_ACROSS = 5  # points across the peak
WANTED_ACROSS = 8
REACH = 1.8  # how far below and above the peak a sweep must go, as a ratio; a sweep should go to 4
MOST_SCATTER = 0.05
MOST_PHASE_SCATTER = 0.1  # rad
# No voice coil of a small speaker has less than the first; none of a model's has more than the second.
LEAST_RE_OHM, MOST_RE_OHM = 0.8, 2000.0
LEAST_HZ, MOST_HZ = 20.0, 20e3  # no speaker resonates beyond what is heard
BELOW_RE = 0.03
STAND_OUT = 6.0  # standard deviations that no reading of thousands reaches by chance
LEAST_WAVE = 0.003  # relative: a wave below this bends no parameter by more than its own size


def faults_before(sweep: Sweep, f_hz: Array, z_ohm: Array, peaks: Peaks) -> list[SweepFault]:
    """Return what can be seen wrong without a fit.

    Parameters
    ----------
    sweep : Sweep
        The readings as they came. [Hz, ohm]
    f_hz, z_ohm : array
        The same with rising frequencies. [Hz, ohm]
    peaks : Peaks
        What stands out. [-]

    Returns
    -------
    list of SweepFault
        Those that stop a fit among them. [-]

    References
    ----------
    Limits are common practice, no source.
    """
    if len(f_hz) < LEAST_POINTS:
        words = (
            f"{len(f_hz)} points are too few for six unknowns; {LEAST_POINTS} are the least. Take {ENOUGH_POINTS} "
            "or more, closer together about the peak."
        )
        return [SweepFault("too few", words, stops=True)]
    found = [*_unit(z_ohm), *_frequencies(f_hz, peaks), *_order(sweep)]
    if any(fault.stops for fault in found):
        return found
    if not peaks.places:
        return [*found, _no_peak(f_hz, z_ohm)]
    if len(peaks.places) > 1:
        return [*found, _two_peaks(f_hz, peaks)]
    return [*found, *_range(f_hz, f_hz[peaks.places[0]])]


def _unit(z_ohm: Array) -> list[SweepFault]:
    if z_ohm.max() < LEAST_RE_OHM:
        words = (
            f"No reading is above {z_ohm.max():.4g} ohm, which no voice coil has. If the readings are in kohm, write "
            "impedance [kohm] over them; else look for a short circuit, and sweep again."
        )
    elif z_ohm.min() > MOST_RE_OHM:
        words = (
            f"No reading is below {z_ohm.min():.4g} ohm, which no voice coil has. Check the unit over the column and "
            "the value of the series resistor; look for an open circuit, and sweep again."
        )
    else:
        return []
    return [SweepFault("unit", words, stops=True)]


def _frequencies(f_hz: Array, peaks: Peaks) -> list[SweepFault]:
    """Tell frequencies that can't be meant: a speaker's, by another unit."""
    if peaks.places:
        least = most = f_hz[peaks.places[0]]
        where = f"The peak stands at {_frequency(most)}"
    else:
        least, most = f_hz[0], f_hz[-1]
        where = f"The sweep runs up to {_frequency(most)}"
    if most < LEAST_HZ:
        words = "below any speaker's: the frequencies look like kHz. Write frequency [kHz] over them if they are; else"
    elif least > MOST_HZ:
        words = "above any speaker's: check the unit over the frequencies, and write frequency [Hz] if it is Hz; else"
    else:
        return []
    sweep = "sweep again between 20 Hz and 20 kHz."
    return [SweepFault("unit", f"{where}, {words} {sweep}", stops=True)]


def _order(sweep: Sweep) -> list[SweepFault]:
    """Tell frequencies that go up and down, or stand twice; a sweep that falls throughout is as good."""
    f_hz = sweep.frequency_hz
    if f_hz[0] > f_hz[-1]:
        f_hz = f_hz[::-1]
    again = next(((one, other) for one, other in pairwise(f_hz) if other <= one), None)
    if again is None:
        return []
    one, other = again
    what = f"{one:g} Hz stands twice" if one == other else f"{other:g} Hz comes after {one:g} Hz"
    words = (
        f"The frequencies don't run one way: {what}. All readings were used; if two sweeps got mixed, take one of them "
        "alone."
    )
    return [SweepFault("order", words)]


def _no_peak(f_hz: Array, z_ohm: Array) -> SweepFault:
    """Tell why no peak is seen, by where the impedance is highest."""
    top = int(z_ohm.argmax())
    flat = z_ohm.max() < z_ohm.min() * (1 + LEAST_PEAK)
    if top <= 1 and not flat:
        words = (
            f"The impedance is highest at the lower end, {f_hz[0]:.4g} Hz: the resonance lies there or lower. Sweep "
            f"again from {_round(f_hz[0] / 8)} Hz."
        )
    elif top >= len(f_hz) - 2 and not flat:
        words = (
            f"The impedance is highest at the upper end, {f_hz[-1]:.4g} Hz, and no peak stands below it. Sweep again "
            f"up to {_round(f_hz[-1] * 8)} Hz; if that shows none either, take the points closer together."
        )
    else:
        words = (
            f"No peak stands out between {f_hz[0]:.4g} and {f_hz[-1]:.4g} Hz. Check that the cone moves freely and "
            "that the speaker is connected, then sweep with points closer together."
        )
        return SweepFault("no peak", words, stops=True)
    return SweepFault("peak at an end", words, stops=True)


def _range(f_hz: Array, fs_hz: float) -> list[SweepFault]:
    wanted = f"Sweep from {_round(fs_hz / 4)} to {_round(fs_hz * 4)} Hz, a quarter to four times the resonance."
    found = []
    for lacks, ends, side in (
        (f_hz[0] * REACH > fs_hz, f"begins at {f_hz[0]:.4g} Hz", "below"),
        (f_hz[-1] < fs_hz * REACH, f"ends at {f_hz[-1]:.4g} Hz", "above"),
    ):
        if lacks:
            words = f"The sweep {ends}: too little of it lies {side} the peak at {fs_hz:.4g} Hz. {wanted}"
            found.append(SweepFault("range", words))
    return found


def _two_peaks(f_hz: Array, peaks: Peaks) -> SweepFault:
    """Tell several peaks, none of them as the speaker's own."""
    *others, last = (f"{f:.4g} Hz" for f in sorted(f_hz[place] for place in peaks.places[:4]))
    count = {2: "Two", 3: "Three", 4: "Four"}.get(len(peaks.places), f"{len(peaks.places)}")
    among = ", the strongest" if len(peaks.places) > 4 else ""
    words = (
        f"{count} peaks stand out{among} at {', '.join(others)} and {last}. Which is the speaker's own can't be told: "
        "something else resonates, such as a buzzing enclosure, a loose clamp or the bench. Take it again in free air, "
        "the speaker held by its rim."
    )
    return SweepFault("two peaks", words)


def faults_after(fit: SweepFit, peaks: Peaks) -> list[SweepFault]:
    """Return what the fitted curve shows wrong.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]
    peaks : Peaks
        What stands out of the sweep. [-]

    Returns
    -------
    list of SweepFault
        None of them stops the fit. [-]

    References
    ----------
    A resistance in series with passive impedances is never less than itself; limits are common practice, no source.
    """
    import numpy as np

    assert fit.curve is not None
    f_hz, z_ohm = np.array(fit.sweep.frequency_hz), np.array(fit.sweep.impedance_ohm)
    across = [] if len(peaks.places) > 1 else _sparse(f_hz, fit.curve)
    found = [*across, *_scatter(fit, peaks), *_below_re(f_hz, z_ohm, fit.curve, peaks)]
    # What scatters, or peaks twice, leaves the curve for that reason.
    told = any(fault.kind in ("scatter", "two peaks") for fault in (*fit.faults, *found))
    return found if told else [*found, *_misfit(f_hz, fit)]


def _sparse(f_hz: Array, curve: ImpedanceCurve) -> list[SweepFault]:
    wide = curve.peak_width_hz
    across = int((abs(f_hz - curve.fs_hz) <= wide / 2).sum())
    if across >= LEAST_ACROSS:
        return []
    words = (
        f"The peak at {curve.fs_hz:.4g} Hz is {wide:.3g} Hz wide, and {across} of the points lie across it; "
        f"{LEAST_ACROSS} are the least. Sweep again with steps of {_round(wide / WANTED_ACROSS)} Hz or less there."
    )
    return [SweepFault("sparse", words)]


def _scatter(fit: SweepFit, peaks: Peaks) -> list[SweepFault]:
    what = ""
    if min(fit.scatter, peaks.scatter) > MOST_SCATTER:  # what lies far from the curve but smoothly is a misfit
        what = f"The readings scatter about the curve by {fit.scatter:.0%}".replace("%", " %")
    elif fit.phase_scatter_rad is not None and fit.phase_scatter_rad > MOST_PHASE_SCATTER:
        what = f"The phase scatters about the curve by {degrees(fit.phase_scatter_rad):.0f} degrees"
    if not what:
        return []
    words = (
        f"{what}. Take it again in a quiet room, with good contacts and nothing touching the cone, and average longer "
        "at each frequency."
    )
    return [SweepFault("scatter", words)]


def _below_re(f_hz: Array, z_ohm: Array, curve: ImpedanceCurve, peaks: Peaks) -> list[SweepFault]:
    least = curve.re_ohm * (1 - max(BELOW_RE, STAND_OUT * peaks.scatter))
    if z_ohm.min() >= max(least, LEAST_RE_OHM):
        return []
    return [below_re(f_hz, z_ohm, f"the resistance of the voice coil, {curve.re_ohm:.3g} ohm", stops=False)]


def below_re(f_hz: Array, z_ohm: Array, than: str = "any resistance that would fit", stops: bool = True) -> SweepFault:
    """Return the fault of an impedance that falls lower than a voice coil lets it.

    Parameters
    ----------
    f_hz, z_ohm : array
        The readings. [Hz, ohm]
    than : str
        What it falls below. [-]
    stops : bool
        Whether no parameters can be had. [-]

    Returns
    -------
    SweepFault
        The fault. [-]

    References
    ----------
    A resistance in series with passive impedances: none is less than itself.
    """
    words = (
        f"The impedance falls to {z_ohm.min():.3g} ohm at {f_hz[z_ohm.argmin()]:.4g} Hz, below {than}, which no "
        "speaker does alone. Check the contacts and the series resistor, leave no capacitor or second speaker "
        "connected, and sweep again."
    )
    return SweepFault("below Re", words, stops)


def _misfit(f_hz: Array, fit: SweepFit) -> list[SweepFault]:
    """Tell residuals that run together: a wave that the curve has no part for."""
    import numpy as np

    order = np.argsort(f_hz, kind="stable")
    left = np.array(fit.residuals)[order]
    together = float((left[1:] * left[:-1]).sum() / max((left**2).sum(), 1e-300))
    mean = np.convolve(left, np.ones(3) / 3, "valid")
    place = int(abs(mean).argmax())
    wave = float(abs(mean[place]))
    if together < 4 / len(left) ** 0.5 or wave < LEAST_WAVE:
        return []
    words = (
        f"About {f_hz[order][place + 1]:.4g} Hz the readings leave the curve by {_round(100 * wave, 1)} %, several in "
        "a row: another resonance or a drifting level. The intervals are too narrow then. Take it again in free air, "
        "at a lower level."
    )
    return [SweepFault("misfit", words)]


def _frequency(f_hz: float) -> str:
    return f"{f_hz:.4g} Hz" if f_hz < MOST_HZ else f"{f_hz / 1000:.4g} kHz"


def _round(value: float, figures: int = 2) -> str:
    """Return a frequency or a step to a few figures, as one would set it."""
    return f"{float(f'{value:.{figures}g}'):g}"
