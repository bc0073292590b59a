"""A speaker in a sealed chamber: what it does, and how far that is known."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from math import isnan, log10, pi
from typing import Any

from modelmath.quantities.band import Band
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box import response as of_second_order
from modelmath.sound.closed_box import travel
from modelmath.sound.closed_box.cases import BoxCases, band_of, volume_band
from modelmath.sound.closed_box.checks import check_amount, check_efficiency, plain
from modelmath.sound.closed_box.stuffing import UNFILLED, Stuffing
from modelmath.sound.driver.cases import cases_of
from modelmath.sound.driver.completing import complete
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.relations import efficiency

HEARING_PA = 20e-6  # sound pressure of 0 dB; ISO 1683
WRITE_W = "Write it in watts, such as 0.5."
FROM_HZ = 100.0  # what a decoder's small amplifier plays at the least; common practice, no source


def half_space_db(air: Air = ROOM_AIR) -> float:
    """Return the sound pressure level of one acoustic watt at 1 m, where half the space is open.

    Parameters
    ----------
    air : Air
        The air. [-]

    Returns
    -------
    float
        Level against 20 uPa. [dB]

    References
    ----------
    One watt over a half sphere of radius 1 m: p^2 = rho c W / (2 pi). At 20 C 112.16 dB; printed as 112.0 to 112.2.

    Examples
    --------
    >>> round(half_space_db(), 2)
    112.16
    """
    return 10 * log10(air.density_kg_m3 * air.speed_m_s / (2 * pi) / HEARING_PA**2)


@dataclass(frozen=True)
class ClosedBox:
    """A speaker in a sealed chamber.

    Bands run over every combination of the limits of what it follows from: the driver's parameters, the volume, what
    the filling does. Curves are those of the best case unless they say otherwise.

    Attributes
    ----------
    driver : Driver
        The speaker, each parameter known. [-]
    volume_mm3 : Band
        The chamber's net volume. [mm3]
    stuffing : Stuffing
        What fills it. [-]
    air : Air
        The air. [-]
    cases : BoxCases
        Every combination, the best first. [-]

    Notes
    -----
    The chamber is sealed, the wave long against it (`valid.limits_in_words`), the travel small; the inductance of the
    voice coil is left out. Levels are those of a speaker in a large wall; a small model standing free gives less at low
    frequencies.

    References
    ----------
    R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20(10), 1972, and 21(1), 1973.
    """

    driver: Driver
    volume_mm3: Band
    stuffing: Stuffing
    air: Air
    cases: BoxCases = field(compare=False, repr=False)

    @cached_property
    def alpha(self) -> Band:
        """Stiffness of the air in the chamber over that of the suspension. [-]"""
        return band_of(self.cases.alpha)

    @cached_property
    def fc_hz(self) -> Band:
        """Resonance in the chamber. [Hz]"""
        return band_of(self.cases.fc_hz)

    @cached_property
    def qtc(self) -> Band:
        """Total Q in the chamber. [-]"""
        return band_of(self.cases.qtc)

    @cached_property
    def f3_hz(self) -> Band:
        """Where the response has fallen to half its power: the -3 dB point. [Hz]"""
        found = band_of(self.cases.f3_hz)
        return replace(found, low=min(found.low, self.cases.least_f3_hz))

    @cached_property
    def peak_db(self) -> Band:
        """How far the response rises above its level well above resonance; 0 where it does not. [dB]"""
        qtc = self.qtc  # the peak grows with Q throughout
        return Band(*(of_second_order.peak_db(each) for each in (qtc.best, qtc.low, qtc.high)))

    @cached_property
    def sensitivity_db(self) -> Band:
        """Sound pressure level well above resonance for 1 W into Re at 1 m, where half the space is open. [dB]"""
        return band_of(self._sensitivities_db)

    @cached_property
    def _sensitivities_db(self) -> Any:
        import numpy as np

        driver = self.cases.driver
        eta = efficiency(driver.fs_hz, driver.vas_mm3, driver.qes, self.air)
        return half_space_db(self.air) + 10 * np.log10(eta)

    def response_db(self, f_hz: Any) -> Any:
        """Return the response of the best case, against its level well above resonance.

        Parameters
        ----------
        f_hz : float or array
            Frequency. [Hz]

        Returns
        -------
        float or array
            Level. [dB]

        Raises
        ------
        OutOfRange, WrongKind
            If a frequency is below 0.

        References
        ----------
        `closed_box.response.response`.
        """
        return of_second_order.response_db(f_hz, self.fc_hz.best, self.qtc.best)

    def response_band_db(self, f_hz: Any) -> tuple[Any, Any]:
        """Return between what levels the response lies at each frequency, whatever the resonance within its limits.

        Parameters
        ----------
        f_hz : float or array
            Frequency. [Hz]

        Returns
        -------
        tuple of float or array
            No lower and no higher than these. [dB]

        Raises
        ------
        OutOfRange, WrongKind
            If a frequency is below 0.

        References
        ----------
        `closed_box.response.response`. At any frequency the level grows with Q. Of one Q it rises and then falls as the
        resonance goes up, so that it is lowest at an end; it is highest where the peak lies at that frequency, which
        may be between. Resonance and Q count as if each could be anywhere within its own limits.
        """
        import numpy as np

        fc_hz, qtc = self.fc_hz, self.qtc
        ends = (fc_hz.low, fc_hz.high)
        low = np.minimum(*(of_second_order.response_db(f_hz, each, qtc.low) for each in ends))
        high = np.maximum(*(of_second_order.response_db(f_hz, each, qtc.high) for each in ends))
        peak_ratio = of_second_order.peak_ratio(qtc.high)
        if not isnan(peak_ratio):
            between = np.clip(np.asarray(f_hz, float) / peak_ratio, *ends)
            high = np.maximum(high, of_second_order.response_db(f_hz, between, qtc.high))
        return plain(low), plain(high)

    def level_db(self, f_hz: Any, power_w: float) -> Any:
        """Return the sound pressure level of the best case at 1 m, where half the space is open.

        Parameters
        ----------
        f_hz : float or array
            Frequency. [Hz]
        power_w : float
            Power by the rated impedance: the square of the voltage over it. [W]

        Returns
        -------
        float or array
            Level against 20 uPa. [dB]

        Raises
        ------
        OutOfRange, WrongKind
            If a frequency is below 0, or the power not above 0.

        References
        ----------
        Small 1972: the reference efficiency, times the power, times the square of the response.
        """
        check_amount("the power", power_w, " W", WRITE_W)
        return self.response_db(f_hz) + self.loudness_db(power_w).best

    @property
    def rated_ohm(self) -> float:
        """The impedance that powers count by: the rated one, or Re where none is rated. [ohm]"""
        rated, coil = self.driver.known("impedance_ohm"), self.driver.known("re_ohm")
        assert coil is not None
        unrated = rated is None or (rated.origin == "estimated" and rated.why)  # what one estimates oneself counts
        return coil.value if rated is None or unrated else rated.value

    def loudness_db(self, power_w: float) -> Band:
        """Return the sound pressure level well above resonance at 1 m, where half the space is open.

        An output holds its voltage, so that a lower Re takes more than the power counted by the rated impedance.

        Parameters
        ----------
        power_w : float
            Power by the rated impedance: the square of the voltage over it. [W]

        Returns
        -------
        Band
            Level against 20 uPa. [dB]

        Raises
        ------
        OutOfRange, WrongKind
            If the power is not above 0.

        References
        ----------
        Small 1972: the reference efficiency, times the power that the voltage puts into Re.
        """
        import numpy as np

        check_amount("the power", power_w, " W", WRITE_W)
        return band_of(self._sensitivities_db + 10 * np.log10(power_w * self.rated_ohm / self.cases.driver.re_ohm))

    def travel_mm(self, f_hz: Any, power_w: float) -> Any:
        """Return how far the cone of the best case goes.

        Parameters
        ----------
        f_hz : float or array
            Frequency. [Hz]
        power_w : float
            Power by the rated impedance: the square of the voltage over it. [W]

        Returns
        -------
        float or array
            Travel, peak, one way from rest. [mm]

        Raises
        ------
        OutOfRange, WrongKind
            If a frequency is below 0, or the power not above 0.

        References
        ----------
        `closed_box.travel.travel_mm`.
        """
        import numpy as np

        check_amount("the frequency", f_hz, " Hz", of_second_order.WRITE_HZ, least_0=True)
        resting = self._resting_mm(power_w).flat[0]
        return plain(travel.travel_mm(np.asarray(f_hz, float), self.fc_hz.best, self.qtc.best, resting))

    def greatest_travel_mm(self, power_w: float, from_hz: float = FROM_HZ) -> Band:
        """Return how far the cone goes at the frequency where it goes farthest.

        Parameters
        ----------
        power_w : float
            Power by the rated impedance: the square of the voltage over it. [W]
        from_hz : float
            Lowest frequency that is played. [Hz]

        Returns
        -------
        Band
            Travel, peak, one way from rest. [mm]

        Raises
        ------
        OutOfRange, WrongKind
            If the power is not above 0, or the frequency below 0.

        References
        ----------
        `closed_box.travel.greatest_travel_hz`.
        """
        check_amount("the lowest frequency", from_hz, " Hz", of_second_order.WRITE_HZ, least_0=True)
        cases = self.cases
        at = travel.greatest_travel_hz(cases.fc_hz, cases.qtc, from_hz)
        return band_of(travel.travel_mm(at, cases.fc_hz, cases.qtc, self._resting_mm(power_w)))

    def safe_power_w(self, from_hz: float = FROM_HZ) -> Band | None:
        """Return the power at which the cone goes just as far as it may.

        Parameters
        ----------
        from_hz : float
            Lowest frequency that is played. [Hz]

        Returns
        -------
        Band or None
            Power by the rated impedance; least with the least travel allowed and the most that the cone goes. None
            where Xmax is not known. The voice coil may stand less than that: its rated power counts too. [W]

        Raises
        ------
        OutOfRange, WrongKind
            If the frequency is below 0.

        References
        ----------
        Travel goes with the root of the power.
        """
        allowed = self.driver.known("xmax_mm")
        if allowed is None:
            return None
        goes = self.greatest_travel_mm(1.0, from_hz)  # for 1 W
        pairs = ((allowed.value, goes.best), (allowed.low, goes.high), (allowed.high, goes.low))
        return Band(*((xmax / each) ** 2 for xmax, each in pairs))

    def _resting_mm(self, power_w: float) -> Any:
        """Return the travel far below resonance in each case."""
        check_amount("the power", power_w, " W", WRITE_W)
        driver = self.cases.driver
        force, coil, compliance = (each[:, None] for each in (driver.bl_tm, driver.re_ohm, driver.compliance_m_n))
        return travel.resting_travel_mm(power_w * self.rated_ohm / coil, force, coil, compliance, self.cases.alpha)


def closed_box(driver: Driver, volume_mm3: Any, *, stuffing: Stuffing = UNFILLED, air: Air = ROOM_AIR) -> ClosedBox:
    """Return what a speaker does in a sealed chamber.

    Parameters
    ----------
    driver : Driver
        The speaker; what is not known of it is derived or bounded. [-]
    volume_mm3 : float, uncertain number or Band
        The chamber's net volume; of an uncertain number two standard uncertainties count either way. [mm3]
    stuffing : Stuffing
        What fills the chamber. [-]
    air : Air
        The air. [-]

    Returns
    -------
    ClosedBox
        Resonance, Q, -3 dB point, response, level and travel. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the volume is no finite number above 0, or what is known of the driver contradicts itself.

    References
    ----------
    R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20(10), 1972: alpha = Vas/Vb,
    fc = fs sqrt(1 + alpha), Qtc = Qts sqrt(1 + alpha); the filling as `Stuffing` says.

    Examples
    --------
    >>> sample = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    >>> box = closed_box(sample, 2000)
    >>> round(box.fc_hz.best, 1), round(box.qtc.best, 3), round(box.f3_hz.best, 1)
    (707.1, 1.131, 529.9)
    """
    known = complete(driver, air)
    volume = volume_band(volume_mm3)
    check_efficiency(known, air)
    return ClosedBox(known, volume, stuffing, air, BoxCases.of(cases_of(known, air), volume, stuffing))
