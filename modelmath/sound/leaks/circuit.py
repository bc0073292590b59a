"""A speaker, its chamber and the chamber's openings as one acoustic circuit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, pi, sqrt
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_number
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box.checks import check_amount
from modelmath.sound.driver.cases import INDEPENDENT, cases_of
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.relations import GRAM, MM2, MM3
from modelmath.sound.leaks.leak import Leak

MINUS_3_DB = 1 / sqrt(2)
LEAST_RATIO, MOST_RATIO = 0.01, 100.0  # around the resonances, where the -3 dB point is looked for
STEPS, HALVINGS = 600, 36


@dataclass(frozen=True)
class Circuit:
    """A speaker with its chamber as one acoustic circuit, best values.

    Attributes
    ----------
    mass_kg : float
        Moving mass. [kg]
    damping : float
        Mechanical resistance of the suspension and of the voice coil together. [N s/m]
    compliance_m_n : float
        Compliance of the suspension. [m/N]
    sd_m2 : float
        Cone area. [m2]
    box : float
        Compliance of the chamber's air, ``V / (rho c^2)``. [m3/Pa]

    References
    ----------
    Beranek, Acoustics (from memory); Small 1972.
    """

    mass_kg: float
    damping: float
    compliance_m_n: float
    sd_m2: float
    box: float

    @classmethod
    def of(cls, driver: Driver, volume_mm3: float, air: Air = ROOM_AIR) -> Circuit:
        """Return the circuit of a driver in a chamber.

        Parameters
        ----------
        driver : Driver
            Its parameters. [-]
        volume_mm3 : float
            The chamber. [mm3]
        air : Air
            The air. [-]

        Returns
        -------
        Circuit
            In SI units. [-]

        Raises
        ------
        NotYetKnown
            If a parameter is not known and follows from nothing.
        OutOfRange, WrongKind
            If the volume is no number above 0, or two parameters contradict each other.

        References
        ----------
        Small 1972, `modelmath.sound.driver.relations`.
        """
        known = all(driver.known(field) is not None for field in INDEPENDENT)
        case = cases_of(driver if known else complete(driver, air), air)
        mass_kg = float(case.mms_g[0]) * GRAM
        damping = 2 * pi * float(case.fs_hz[0]) * mass_kg / float(case.qts[0])
        sd_m2 = float(case.sd_mm2[0]) * MM2
        return cls(mass_kg, damping, float(case.compliance_m_n[0]), sd_m2, box_compliance(volume_mm3, air))

    @property
    def fc_hz(self) -> float:
        """Resonance of the speaker in the chamber without leaks. [Hz]"""
        stiffness = 1 / self.compliance_m_n + self.sd_m2**2 / self.box
        return sqrt(stiffness / self.mass_kg) / (2 * pi)

    @property
    def qtc(self) -> float:
        """Its Q. [-]"""
        return 2 * pi * self.fc_hz * self.mass_kg / self.damping

    def response(self, f_hz: Any, leaks: Sequence[Leak]) -> Any:
        """Return the sound of cone and leaks together, over that of the cone at high frequencies.

        Parameters
        ----------
        f_hz : float or array
            Frequency, above 0. [Hz]
        leaks : sequence of Leak
            The openings; none for a sealed chamber. [-]

        Returns
        -------
        complex or array
            The response. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If a frequency is no number above 0.

        References
        ----------
        See `leaky_response`.
        """
        import numpy as np

        check_amount("the frequency", f_hz, " Hz", "Write it in hertz, such as 500.")
        s = 2j * pi * np.asarray(f_hz, float)
        chamber = s * self.box
        opened = chamber + sum(1 / leak.impedance(f_hz) for leak in leaks)
        cone = s * self.mass_kg + self.damping + 1 / (s * self.compliance_m_n)
        # The chamber's admittance multiplies both sides, so that nothing is divided by 0 where a lossless leak
        # resonates with the chamber. Cone less leaks is what goes into the chamber's compliance.
        found = s * self.mass_kg * chamber / (cone * opened + self.sd_m2**2)
        return found if np.ndim(found) else complex(found)

    def cutoff_hz(self, leaks: Sequence[Leak]) -> float:
        """Return the -3 dB point.

        Parameters
        ----------
        leaks : sequence of Leak
            The openings; none for a sealed chamber. [-]

        Returns
        -------
        float
            Above it the response stays within 3 dB below that of high frequencies, or above it. [Hz]

        References
        ----------
        Bisection, from the highest crossing of a fine grid.
        """
        import numpy as np

        inertance = 1 / sum(1 / leak.mass for leak in leaks) if leaks else inf
        highest = max(self.fc_hz, self.fc_hz / self.qtc, 1 / (2 * pi * sqrt(inertance * self.box)))
        grid = np.geomspace(LEAST_RATIO * self.fc_hz, MOST_RATIO * highest, STEPS)
        below = np.flatnonzero(abs(self.response(grid, leaks)) < MINUS_3_DB)
        low, high = float(grid[below[-1]]), float(grid[below[-1] + 1])
        for _ in range(HALVINGS):
            middle = sqrt(low * high)
            low, high = (middle, high) if abs(self.response(middle, leaks)) < MINUS_3_DB else (low, middle)
        return sqrt(low * high)

    def ql(self, leaks: Sequence[Leak], f_hz: float | None = None) -> float:
        """Return the Q of the leaks alone.

        Parameters
        ----------
        leaks : sequence of Leak
            The openings. [-]
        f_hz : float or None
            Where; the sealed chamber's resonance if not given. [Hz]

        Returns
        -------
        float
            Ql; infinite without loss. [-]

        References
        ----------
        See `ql`.
        """
        at_hz = self.fc_hz if f_hz is None else f_hz
        return loss_q(leaks, self.box, at_hz)


def box_compliance(volume_mm3: float, air: Air = ROOM_AIR) -> float:
    """Return the acoustic compliance of a chamber.

    Parameters
    ----------
    volume_mm3 : float
        Its volume. [mm3]
    air : Air
        The air. [-]

    Returns
    -------
    float
        ``V / (rho c^2)``: sound is too quick for heat to leave the air. [m3/Pa]

    Raises
    ------
    OutOfRange, WrongKind
        If the volume is no number above 0.

    References
    ----------
    Beranek, Acoustics (from memory).

    Examples
    --------
    >>> f"{box_compliance(8000.0):.2e}"
    '5.64e-11'
    """
    check_number("the volume of the chamber", volume_mm3)
    if volume_mm3 <= 0:
        raise OutOfRange(
            "the volume of the chamber", f"{volume_mm3:g} mm3", "above 0", "Write it in mm3, such as 8000."
        )
    return volume_mm3 * MM3 / air.stiffness_pa


def loss_q(leaks: Sequence[Leak], box: float, f_hz: float) -> float:
    """Return the Q that leaks alone would leave a compliance.

    Parameters
    ----------
    leaks : sequence of Leak
        The openings. [-]
    box : float
        Compliance of the chamber. [m3/Pa]
    f_hz : float
        Where, above 0. [Hz]

    Returns
    -------
    float
        Angular frequency times compliance, over the real part of the leaks' admittance; infinite without loss. [-]

    References
    ----------
    Small 1973.

    Examples
    --------
    >>> loss_q([], 1e-10, 500.0)
    inf
    """
    loss: float = sum((1 / leak.impedance(f_hz)).real for leak in leaks)
    return 2 * pi * f_hz * box / loss if loss > 0 else inf
