"""A driver's parameters from an impedance sweep, by least squares, with their uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, exp, log
from typing import TYPE_CHECKING, Any, TypeAlias

from modelmath.errors import NotYetKnown
from modelmath.sound.measuring.checks import below_re, faults_after, faults_before
from modelmath.sound.measuring.curve import LEAST_POWER, MOST_POWER, ImpedanceCurve, logarithm_and_slopes
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.faults import NO_UNIT, REVERSED, SENSELESS, UNTRUSTED, SweepFault
from modelmath.sound.measuring.peaks import Peaks, find_peaks
from modelmath.sound.measuring.sweep import Sweep

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.floating]

START_POWERS = (0.9, 0.6)
ROUNDS = 3  # times that the weights of modulus and phase are set anew
STEPS = 100
MOST_RADIANS = 1.6  # a quarter turn, rounded up
LEAST_SWING = 20.0  # degrees
NEAR = 1e-4  # of its range: an unknown this near a limit is at it


@dataclass(frozen=True)
class SweepFit:
    """What a sweep says of a speaker.

    Attributes
    ----------
    sweep : Sweep
        The readings. [-]
    faults : tuple of SweepFault
        What is wrong with the sweep, and what to take again; empty where nothing is. [-]
    curve : ImpedanceCurve or None
        The fitted curve; None where a fault stops the fit. [-]
    logs : tuple of float
        Natural logarithms of Re [ohm], fs [Hz], Qms and Res [ohm]. [-]
    covariance : tuple of tuples of float
        Of these logarithms. [-]
    residuals : tuple of float
        Of each reading of the modulus, its natural logarithm less the curve's: relative differences. [-]
    phase_residuals_rad : tuple of float or None
        The same of the phase. [rad]
    scatter : float
        Standard deviation of the residuals of the modulus. [-]
    phase_scatter_rad : float or None
        That of the phase. [rad]
    dof : int
        Readings less unknowns. [-]

    References
    ----------
    None needed.
    """

    sweep: Sweep
    faults: tuple[SweepFault, ...]
    curve: ImpedanceCurve | None = None
    logs: tuple[float, ...] = ()
    covariance: tuple[tuple[float, ...], ...] = ()
    residuals: tuple[float, ...] = ()
    phase_residuals_rad: tuple[float, ...] | None = None
    scatter: float = 0.0
    phase_scatter_rad: float | None = None
    dof: int = 0

    @property
    def fitted(self) -> bool:
        """Whether there are parameters; with faults they may be no good all the same. [-]"""
        return self.curve is not None

    @property
    def untrusted(self) -> str:
        """Why the parameters are no good for a job; empty where nothing speaks against them. [-]"""
        return "; ".join(dict.fromkeys(UNTRUSTED[each.kind] for each in self.faults if each.kind in UNTRUSTED))

    @property
    def re(self) -> Estimate:
        """Resistance of the voice coil. [ohm]"""
        return self._estimate((1, 0, 0, 0))

    @property
    def fs(self) -> Estimate:
        """Resonance. [Hz]"""
        return self._estimate((0, 1, 0, 0))

    @property
    def qms(self) -> Estimate:
        """Mechanical Q. [-]"""
        return self._estimate((0, 0, 1, 0))

    @property
    def qes(self) -> Estimate:
        """Electrical Q, Qms Re / Res. [-]"""
        return self._estimate((1, 0, 1, -1))

    @property
    def qts(self) -> Estimate:
        """Total Q, Qms Re / (Re + Res). [-]"""
        curve = self._checked()
        moving = curve.res_ohm / (curve.re_ohm + curve.res_ohm)
        return self._estimate((moving, 0, 1, -moving), curve.qts)

    def uncertain(self, tag: str = "sweep") -> tuple[Any, Any]:
        """Return fs and Qes as uncertain numbers that know of each other, for what is worked out from both.

        Parameters
        ----------
        tag : str
            What their uncertainty is called. [-]

        Returns
        -------
        tuple of two uncertain numbers
            fs and Qes. [Hz, -]

        Raises
        ------
        NotYetKnown
            If the sweep gave no parameters.

        References
        ----------
        JCGM 100:2008, 5.2.
        """
        from uncertainties import correlated_values, umath

        self._checked()
        re, fs, qms, res = correlated_values(self.logs, self.covariance, tags=(tag,) * 4)
        return umath.exp(fs), umath.exp(qms + re - res)

    def _checked(self) -> ImpedanceCurve:
        if self.curve is None:
            first = next((fault.message for fault in self.faults), "")
            raise NotYetKnown("What this sweep says of the speaker", f"a better sweep: {first.rstrip('.')}")
        return self.curve

    def _estimate(self, weights: tuple[float, ...], value: float | None = None) -> Estimate:
        """Return a product of powers of Re, fs, Qms and Res, or what changes as one and has this value."""
        import numpy as np

        self._checked()
        powers = np.array(weights)
        variance = float(powers @ np.array(self.covariance) @ powers)
        if value is None:
            value = exp(powers @ np.array(self.logs))
        return Estimate.of_ratio(value, max(variance, 0.0) ** 0.5, self.dof)


def fit_sweep(sweep: Sweep) -> SweepFit:
    """Return the parameters that a sweep gives, with their uncertainty, and what is wrong with the sweep.

    The logarithm of the modulus, and the phase where it was taken, are fitted by least squares. How much each scatters
    is estimated from what is left over.

    Parameters
    ----------
    sweep : Sweep
        The readings. [Hz, ohm, rad]

    Returns
    -------
    SweepFit
        Parameters and faults; no parameters where a fault stops the fit. [-]

    References
    ----------
    Small 1972 and Vanderkooy 1989 for the curve; JCGM 100:2008, annexes G and H.3, for least squares and intervals.

    Examples
    --------
    >>> import numpy as np
    >>> f = np.geomspace(100, 2000, 60)
    >>> true = ImpedanceCurve(7.0, 450.0, 4.0, 14.0, 0.5, 0.7)
    >>> z = np.abs(true.impedance_ohm(f)) * (1 + 0.002 * np.sin(1e4 * np.arange(60)))
    >>> found = fit_sweep(Sweep(tuple(f), tuple(z)))
    >>> found.faults, round(found.fs.value), round(found.qes.value, 1)
    ((), 450, 2.0)
    """
    import numpy as np

    f_hz, z_ohm = np.array(sweep.frequency_hz), np.array(sweep.impedance_ohm)
    order = np.argsort(f_hz, kind="stable")
    peaks = find_peaks(z_ohm[order]) if len(order) > 2 else Peaks(0.0, ())
    faults = faults_before(sweep, f_hz[order], z_ohm[order], peaks)
    if any(fault.stops for fault in faults):
        return SweepFit(sweep, tuple(faults))
    phase = None if sweep.phase_rad is None else np.array(sweep.phase_rad)
    solver = _Solver(f_hz, np.log(z_ohm), None)
    theta = min((solver.solve(start) for start in _starts(f_hz[order], z_ohm[order], peaks)), key=solver.cost)
    if phase is not None:
        of_curve = logarithm_and_slopes(f_hz, solver.coil_hz, theta)[0].imag
        if not sweep.phase_unit and _looks_like_radians(phase, of_curve):
            faults.append(NO_UNIT)
        elif _runs_backwards(phase, of_curve):
            faults.append(REVERSED)
        else:
            solver = _Solver(f_hz, np.log(z_ohm), phase)
            for _ in range(ROUNDS):
                theta = solver.solve(theta)
                solver.weigh(theta)
    if any(solver.at_limit(theta)[:4]):
        falls = solver.at_limit(theta)[0] and theta[0] < np.log(z_ohm.min())
        return SweepFit(sweep, (*faults, below_re(f_hz, z_ohm) if falls else SENSELESS))
    found = solver.result(theta)
    fit = SweepFit(sweep, tuple(faults), solver.curve(theta), tuple(map(float, theta[:4])), **found)
    return _with_faults(fit, faults_after(fit, peaks))


def _with_faults(fit: SweepFit, more: list[SweepFault]) -> SweepFit:
    from dataclasses import replace

    return replace(fit, faults=(*fit.faults, *more))


def _looks_like_radians(phase: Array, of_curve: Array) -> bool:
    """Whether a phase taken for degrees stays within a quarter turn in radians where the curve swings by far more."""
    return bool(degrees(abs(phase).max()) <= MOST_RADIANS and degrees(of_curve.max() - of_curve.min()) >= LEAST_SWING)


def _runs_backwards(phase: Array, of_curve: Array) -> bool:
    """Whether the phase has the sign turned over: it follows the mirrored curve better."""
    import numpy as np

    over, as_is = (np.angle(np.exp(1j * each)) for each in (phase + of_curve, phase - of_curve))
    return bool(np.sum(over**2) < np.sum(as_is**2))


def _starts(f_hz: Array, z_ohm: Array, peaks: Peaks) -> list[Array]:
    """Return where to begin: from the peak, its width at the geometric mean, and the upper end."""
    import numpy as np

    top = peaks.places[0]
    fs, most = f_hz[top], z_ohm[top]
    re = 0.97 * min(z_ohm[: top + 1].min(), z_ohm[top:].min())
    middle = (re * most) ** 0.5
    below = f_hz[:top][z_ohm[:top] < middle]
    above = f_hz[top:][z_ohm[top:] < middle]
    low, high = (below[-1] if len(below) else fs / 2), (above[0] if len(above) else fs * 2)
    qms = fs * (most / re) ** 0.5 / (high - low)
    coil = (z_ohm[-1] ** 2 - re**2) ** 0.5  # re is below every reading
    logs = [log(re), log(fs), log(min(max(qms, 0.2), 50.0)), log(most - re)]
    return [np.array([*logs, coil, power]) for power in START_POWERS]


class _Solver:
    """Least squares on the logarithm of the modulus, and on the phase where there is one."""

    def __init__(self, f_hz: Array, level: Array, phase: Array | None) -> None:
        import numpy as np

        self.f_hz, self.level, self.phase = f_hz, level, phase
        self.coil_hz = float(f_hz.max())
        self.scatter: tuple[float, float] = (1.0, 1.0)  # of the modulus and of the phase, as weights
        ratio = float(np.exp(level).max())
        least, most = float(level.min()), float(level.max())
        self.low = np.array([least - 3, log(f_hz.min()), log(0.05), least - 7, 0.0, LEAST_POWER])
        self.high = np.array([most, log(f_hz.max()), log(200.0), most + 3, 10 * ratio, MOST_POWER])

    def left(self, theta: Array) -> tuple[Array, Array | None]:
        """Return what is left of the modulus and of the phase. [-, rad]"""
        import numpy as np

        value, _ = logarithm_and_slopes(self.f_hz, self.coil_hz, theta)
        phase = None if self.phase is None else np.angle(np.exp(1j * (self.phase - value.imag)))
        return self.level - value.real, phase

    def residuals(self, theta: Array) -> Array:
        import numpy as np

        modulus, phase = self.left(theta)
        whole = -modulus / self.scatter[0]
        return whole if phase is None else np.concatenate([whole, -phase / self.scatter[1]])

    def slopes(self, theta: Array) -> Array:
        import numpy as np

        _, slopes = logarithm_and_slopes(self.f_hz, self.coil_hz, theta)
        modulus = slopes.real / self.scatter[0]
        return modulus if self.phase is None else np.concatenate([modulus, slopes.imag / self.scatter[1]])

    def cost(self, theta: Array) -> float:
        return float((self.residuals(theta) ** 2).sum())

    def solve(self, start: Array) -> Array:
        from scipy.optimize import least_squares

        margin = 1e-6 * (self.high - self.low)
        inside = start.clip(self.low + margin, self.high - margin)
        limits = (self.low, self.high)
        found: Array = least_squares(
            self.residuals, inside, self.slopes, limits, x_scale="jac", max_nfev=STEPS, xtol=1e-9, ftol=1e-10
        ).x
        return found

    def at_limit(self, theta: Array) -> Array:
        """Whether each unknown stands at one of its limits."""
        near = NEAR * (self.high - self.low)
        found: Array = (theta - self.low < near) | (self.high - theta < near)
        return found

    def _basis(self, theta: Array) -> Array:
        """Return the slopes of the unknowns that count.

        A semi-inductance at a limit still counts as unknown: to hold it there would make the rest look better known.
        """
        slopes = self.slopes(theta)
        some = theta[4] >= NEAR * self.high[4]
        return slopes if some else slopes[:, :5]  # without any semi-inductance its power means nothing

    def weigh(self, theta: Array) -> None:
        """Estimate how much modulus and phase scatter, each by its own share of the unknowns."""
        import numpy as np

        count = len(self.level)
        share = (np.linalg.qr(self._basis(theta))[0] ** 2).sum(axis=1)
        modulus, phase = self.left(theta)
        one, other = float((modulus**2).sum() / (count - share[:count].sum())) ** 0.5, 1.0
        if phase is not None:
            other = float((phase**2).sum() / (count - share[count:].sum())) ** 0.5
        self.scatter = (max(one, 1e-9), max(other, 1e-9))  # a curve without scatter still has weights

    def result(self, theta: Array) -> dict[str, Any]:
        """Return scatter, degrees of freedom, residuals, and the covariance of the first four unknowns."""
        import numpy as np

        self.weigh(theta)
        basis = self._basis(theta)
        covariance = np.linalg.pinv(basis.T @ basis)[:4, :4]
        modulus, phase = self.left(theta)
        return {
            "covariance": tuple(tuple(map(float, row)) for row in covariance),
            "residuals": tuple(map(float, modulus)),
            "phase_residuals_rad": None if phase is None else tuple(map(float, phase)),
            "scatter": self.scatter[0],
            "phase_scatter_rad": None if phase is None else self.scatter[1],
            "dof": basis.shape[0] - basis.shape[1],
        }

    def curve(self, theta: Array) -> ImpedanceCurve:
        import numpy as np

        re, fs, qms, res = map(float, np.exp(theta[:4]))
        return ImpedanceCurve(re, fs, qms, res, float(theta[4]), float(theta[5]), self.coil_hz)
