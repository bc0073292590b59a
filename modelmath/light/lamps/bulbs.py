"""Incandescent bulbs: current, light, life and heat by voltage, and the resistor that lowers it."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.errors import OutOfRange
from modelmath.light.lamps.amounts import ROUNDING, Figure, as_known, check_part
from modelmath.light.lamps.dropping import BulbResistor
from modelmath.light.lamps.filament import COLD, CURRENT, LIFE, LIGHT, power_law
from modelmath.light.lamps.preferred import next_values
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told


@dataclass(frozen=True)
class Bulb:
    """An incandescent bulb by its rating.

    Attributes
    ----------
    rated_v : float or Known
        Rated voltage. [V]
    rated_a : float or Known
        Current at that voltage. [A]

    References
    ----------
    Exponents of lamp handbooks, from memory.

    Examples
    --------
    >>> bulb = Bulb(12, 0.05)
    >>> round(bulb.power_w().best, 3), round(bulb.light_share(10).best, 2), round(bulb.life_share(10).best, 1)
    (0.6, 0.54, 10.7)
    """

    rated_v: Figure
    rated_a: Figure

    def __post_init__(self) -> None:
        object.__setattr__(self, "rated_v", as_known("the rated voltage", self.rated_v, "rated_v"))
        object.__setattr__(self, "rated_a", as_known("the rated current", self.rated_a, "rated_a"))

    @property
    def known_v(self) -> Known:
        """Rated voltage with its limits. [V]"""
        return as_known("the rated voltage", self.rated_v, "rated_v")

    @property
    def known_a(self) -> Known:
        """Rated current with its limits. [A]"""
        return as_known("the rated current", self.rated_a, "rated_a")

    def current_a(self, at_v: Figure | None = None) -> Band:
        """Return the current at a voltage, once it is hot.

        Parameters
        ----------
        at_v : float, Known or None
            The voltage across the bulb; None for the rated one. [V]

        Returns
        -------
        Band
            ``I = I0 (V / V0)^0.55``. [A]

        Raises
        ------
        OutOfRange, WrongKind
            If the voltage is no finite number above 0.

        References
        ----------
        Exponent from lamp handbooks, from memory.

        Examples
        --------
        >>> Bulb(12, 0.05).current_a(6).best < 0.05, Bulb(12, 0.05).current_a(6).best > 0.025
        (True, True)
        """
        rated = self.known_a
        if at_v is None:
            return Band(rated.value, rated.low, rated.high)
        ratio = self._ratio(at_v)
        return Band(rated.value * ratio.best**CURRENT, rated.low * ratio.low**CURRENT, rated.high * ratio.high**CURRENT)

    def power_w(self, at_v: Figure | None = None) -> Band:
        """Return what it takes at a voltage; nearly all of it becomes heat.

        Parameters
        ----------
        at_v : float, Known or None
            The voltage across the bulb; None for the rated one. [V]

        Returns
        -------
        Band
            The power. [W]

        Raises
        ------
        OutOfRange, WrongKind
            If the voltage is no finite number above 0.

        References
        ----------
        ``P = V I``.

        Examples
        --------
        >>> round(Bulb(12, 0.05).power_w().best, 3)
        0.6
        """
        volts, current = self.known_v if at_v is None else as_known("the voltage", at_v, "at_v"), self.current_a(at_v)
        return Band(volts.value * current.best, volts.low * current.low, volts.high * current.high)

    def light_share(self, at_v: Figure) -> Band:
        """Return light over the light at the rated voltage.

        Parameters
        ----------
        at_v : float or Known
            The voltage across the bulb. [V]

        Returns
        -------
        Band
            ``(V / V0)^3.4``, with limits of the exponent. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If the voltage is no finite number above 0.

        References
        ----------
        Exponent from lamp handbooks, from memory.

        Examples
        --------
        >>> Bulb(12, 0.05).light_share(12)
        Band(best=1.0, low=1.0, high=1.0)
        """
        return power_law(self._ratio(at_v), LIGHT)

    def life_share(self, at_v: Figure) -> Band:
        """Return life over the life at the rated voltage.

        Parameters
        ----------
        at_v : float or Known
            The voltage across the bulb. [V]

        Returns
        -------
        Band
            ``(V / V0)^-13``, with limits of the exponent. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If the voltage is no finite number above 0.

        References
        ----------
        Exponent from lamp handbooks, from memory.

        Examples
        --------
        >>> round(Bulb(12, 0.05).life_share(13.2).best, 2)
        0.29
        """
        return power_law(self._ratio(at_v), LIFE)

    def inrush_a(self, supply_v: Figure, ohm: float = 0.0) -> Band:
        """Return the current at the moment of switching on, while the wire in it is cold.

        Parameters
        ----------
        supply_v : float or Known
            What the output gives. [V]
        ohm : float
            Of a resistor before it, if any. [ohm]

        Returns
        -------
        Band
            The current, for some milliseconds. [A]

        Raises
        ------
        OutOfRange, WrongKind
            If a figure is no finite number above 0; the resistor may be 0.

        References
        ----------
        About a tenth of the hot resistance when cold: common practice, no source; `COLD`.

        Examples
        --------
        >>> Bulb(12, 0.05).inrush_a(12).best
        0.5
        """
        supply = as_known("the supply", supply_v, "supply_v")
        before = as_known("the resistor", ohm, "exact_ohm", zero=True).value
        volts, amps = self.known_v, self.known_a
        best = supply.value / (before + volts.value / amps.value / COLD.best)
        low = supply.low / (before + volts.high / amps.low / COLD.low)
        return Band(best, low, supply.high / (before + volts.low / amps.high / COLD.high))

    def dropping_resistor(
        self,
        supply_v: Figure,
        wanted_v: float | None = None,
        *,
        series: str = "E24",
        tolerance: float = 0.05,
        derate: float = 0.5,
    ) -> BulbResistor:
        """Return the resistor that leaves a voltage for the bulb.

        Parameters
        ----------
        supply_v : float or Known
            What the output gives. [V]
        wanted_v : float or None
            The voltage wanted across the bulb; None for the rated one. [V]
        series : {"E3", "E6", "E12", "E24", "E48", "E96"}
            Which values may be used. [-]
        tolerance : float
            How far a resistor may be off its marking. [-]
        derate : float
            The share of its rating that is used. [-]

        Returns
        -------
        BulbResistor
            The exact resistance, the next values, and what they do. [-]

        Raises
        ------
        OutOfRange
            If the supply is no more than the voltage wanted, or a figure is not above 0.
        UnknownChoice, WrongKind
            If there is no such series, or a figure is no number.

        References
        ----------
        ``R = (Vs - V) / I(V)``, Ohm's law.

        Examples
        --------
        >>> found = Bulb(1.5, 0.03).dropping_resistor(12)
        >>> round(found.exact_ohm, 6), found.above.ohm, found.above.leaded.name
        (350.0, 360.0, '1 W')
        """
        supply = as_known("the supply", supply_v, "supply_v")
        wanted = self.known_v.value if wanted_v is None else as_known("the voltage wanted", wanted_v, "at_v").value
        tolerance = check_part("the tolerance", tolerance, zero=True, one=False)
        derate = check_part("the share of its rating", derate, zero=False, one=True)
        if supply.value <= wanted * (1 + ROUNDING):
            expected = f"above {told(wanted, 'wanted_v')}, the voltage wanted across the bulb"
            advice = "At that very voltage no resistor is needed; above it the supply can't go."
            raise OutOfRange("the supply", told(supply.value, "supply_v"), expected, advice)
        found = BulbResistor(self, supply, wanted, series, tolerance, derate)
        next_values(found.exact_ohm, series)  # an unknown series is refused here, not when it is first asked for
        return found

    def _ratio(self, at_v: Figure) -> Band:
        volts, rated = as_known("the voltage", at_v, "at_v"), self.known_v
        return Band(volts.value / rated.value, volts.low / rated.high, volts.high / rated.low)
