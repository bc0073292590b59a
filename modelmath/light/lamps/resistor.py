"""The series resistor of an LED or a string of them: exact, the next values that are made, and what each does."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from modelmath.errors import OutOfRange
from modelmath.light.lamps.amounts import (
    ROUNDING,
    Figure,
    as_known,
    check_count,
    check_part,
    told_band,
    told_share,
    told_w,
)
from modelmath.light.lamps.preferred import format_ohm, next_values
from modelmath.light.lamps.ratings import Rating, smallest
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

NOTICED = 0.05  # of the current over what is wanted: less is not seen, and harms no LED (common practice, no source)
UNSTEADY = 0.5  # of the current, either way: the eye sees that much beside a lamp like it (common practice, no source)


@dataclass(frozen=True)
class ResistorChoice:
    """One resistor before an LED or a string, and what it does there.

    Attributes
    ----------
    ohm : float
        Its marked resistance. [ohm]
    current_a : Band
        The current through resistor and LEDs. [A]
    power_w : Band
        The heat that the resistor makes. [W]
    lamp_power_w : Band
        What the LEDs take together; most of it becomes heat too. [W]
    brightness : Band
        Light over the light wanted, as the currents are to each other. [-]
    leaded, chip : Rating or None
        The smallest resistor of each style that is enough; None where the table has none. [-]

    References
    ----------
    Ohm's and Kirchhoff's laws.
    """

    ohm: float
    current_a: Band
    power_w: Band
    lamp_power_w: Band
    brightness: Band
    leaded: Rating | None
    chip: Rating | None

    @property
    def rating_w(self) -> float | None:
        """Rating of the smallest leaded resistor that is enough. [W]"""
        return self.leaded.rating_w if self.leaded else None

    @property
    def size_in_words(self) -> str:
        """The sizes that are enough, without a full stop. [-]"""
        sizes = [each.in_words for each in (self.leaded, self.chip) if each]
        if sizes:
            return f"a {' or a '.join(sizes)} is enough"
        return "no size in the table is enough: lower the current, or share the voltage among several resistors"

    @property
    def in_words(self) -> str:
        """Current, light, heat and size. [-]"""
        return (
            f"{format_ohm(self.ohm)}: {told_band(self.current_a, 'current_a')}, {told_share(self.brightness.best)} of "
            f"the light wanted; the resistor makes {told_w(self.power_w.high)} of heat at most, "
            f"{self.size_in_words}."
        )


@dataclass(frozen=True)
class LedResistor:
    """The series resistor of one LED or of a string.

    Attributes
    ----------
    supply_v : Known
        What the output gives. [V]
    forward_v : Known
        Forward voltage of one LED. [V]
    wanted_a : Known
        The current wanted. [A]
    leds : int
        How many stand in series. [-]
    series : str
        The preferred values that may be used. [-]
    tolerance : float
        How far a resistor may be off its marking, 0.05 for 5 %. [-]
    derate : float
        The share of a resistor's rating that is used. [-]

    References
    ----------
    ``R = (Vs - n Vf) / I``, Ohm's law.
    """

    supply_v: Known
    forward_v: Known
    wanted_a: Known
    leds: int = 1
    series: str = "E24"
    tolerance: float = 0.05
    derate: float = 0.5

    @property
    def drop_v(self) -> Band:
        """What is left for the resistor; below 0 where the LEDs may take more than there is. [V]"""
        supply, forward = self.supply_v, self.forward_v
        return Band(
            supply.value - self.leds * forward.value,
            supply.low - self.leds * forward.high,
            supply.high - self.leds * forward.low,
        )

    @property
    def exact_ohm(self) -> float:
        """The resistance that gives the current wanted, by the best values. [ohm]"""
        return self.drop_v.best / self.wanted_a.value

    @property
    def exact_band_ohm(self) -> Band:
        """The same with its limits. [ohm]"""
        drop, wanted = self.drop_v, self.wanted_a
        return Band(self.exact_ohm, max(0.0, drop.low) / wanted.high, drop.high / wanted.low)

    @cached_property
    def below(self) -> ResistorChoice:
        """The next value below: no less light than wanted, and more current. [-]"""
        return self.with_resistor(next_values(self.exact_ohm, self.series)[0])

    @cached_property
    def above(self) -> ResistorChoice:
        """The next value above: no more current than wanted, by the best values. [-]"""
        return self.with_resistor(next_values(self.exact_ohm, self.series)[1])

    @property
    def best(self) -> ResistorChoice:
        """The safe one of the two: the one above. [-]"""
        return self.above

    @cached_property
    def never_above(self) -> ResistorChoice:
        """The next value with which the current stays within what is wanted at every limit. [-]

        The least favourable case counts: most volts of supply, an LED that takes the least, a resistor that is low.
        """
        least_ohm = self.drop_v.high / self.wanted_a.high / (1 - self.tolerance)
        return self.with_resistor(next_values(least_ohm, self.series)[1])

    def with_resistor(self, ohm: float) -> ResistorChoice:
        """Return what a resistor of any value does here, such as one from the drawer.

        Parameters
        ----------
        ohm : float
            Its marked resistance. [ohm]

        Returns
        -------
        ResistorChoice
            Current, heat and light. [-]

        Raises
        ------
        OutOfRange, WrongKind
            If it is no finite number above 0.

        References
        ----------
        Ohm's and Kirchhoff's laws. An LED passes nothing backwards, so that a current is never below 0.

        Examples
        --------
        >>> choice = led_resistor(12, 1.8, 0.005).with_resistor(4700)
        >>> round(choice.current_a.best, 6), round(choice.brightness.best, 3)
        (0.00217, 0.434)
        """
        marked = as_known("the resistor", ohm, "exact_ohm").value
        least, most = marked * (1 - self.tolerance), marked * (1 + self.tolerance)
        drop, wanted_a = self.drop_v, self.wanted_a.value
        low_v = max(0.0, drop.low)
        current = Band(drop.best / marked, low_v / most, drop.high / least)
        power = Band(drop.best**2 / marked, low_v**2 / most, drop.high**2 / least)
        light = Band(*(each / wanted_a for each in (current.best, current.low, current.high)))
        sizes = [smallest(power.high, style, self.derate) for style in ("leaded", "chip")]
        return ResistorChoice(marked, current, power, self._lamps_w(marked, least, most), light, sizes[0], sizes[1])

    def _lamps_w(self, marked: float, least: float, most: float) -> Band:
        """Return what the LEDs take: greatest where they take half of the supply, if their limits reach that."""
        supply = self.supply_v
        low_v, best_v, high_v = (self.leds * each for each in self._forwards)
        half_v = min(max(low_v, supply.high / 2), high_v)
        lowest = min(each * max(0.0, supply.low - each) for each in (low_v, high_v))
        return Band(
            best_v * (supply.value - best_v) / marked, lowest / most, half_v * max(0.0, supply.high - half_v) / least
        )

    @property
    def _forwards(self) -> tuple[float, float, float]:
        return self.forward_v.low, self.forward_v.value, self.forward_v.high

    @property
    def in_words(self) -> str:
        """Which resistor to take, what it does, and what the limits may do to it. [-]"""
        return " ".join([f"Take {self.best.in_words}", *self.warnings])

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the limits of supply, LED and resistor may do, in sentences; none where they do little. [-]"""
        current, most_a = self.best.current_a, self.wanted_a.high
        found = []
        if current.high > most_a * (1 + NOTICED):
            over = current.high / most_a - 1
            surely = format_ohm(self.never_above.ohm)
            found.append(
                f"At the limits it may be {told(current.high, 'current_a')}, {told_share(over)} over; "
                f"{surely} is never above what is wanted."
            )
        if current.low == 0:
            found.append("At the other limit it may not light at all.")
        if current.high > (1 + UNSTEADY) * current.best or current.low < (1 - UNSTEADY) * current.best:
            found.append(
                f"The light is not steady: only {told(self.drop_v.best, 'drop_v')} is left for the resistor, so that "
                "a small change of the supply changes the current much."
            )
        return tuple(found)


def led_resistor(
    supply_v: Figure,
    forward_v: Figure,
    current_a: Figure,
    leds: int = 1,
    *,
    series: str = "E24",
    tolerance: float = 0.05,
    derate: float = 0.5,
) -> LedResistor:
    """Return the series resistor of an LED, or of several like ones in a string.

    Forward voltage counts as the same at every current that the limits allow; in truth it falls a little with the
    current (`led.forward_of` takes that in).

    Parameters
    ----------
    supply_v : float or Known
        What the output gives. [V]
    forward_v : float or Known
        Forward voltage of one LED. [V]
    current_a : float or Known
        The current wanted. [A]
    leds : int
        How many in series. [-]
    series : {"E3", "E6", "E12", "E24", "E48", "E96"}
        Which values may be used. [-]
    tolerance : float
        How far a resistor may be off its marking. [-]
    derate : float
        The share of its rating that is used; half in a shell with no draught (common practice, no source). [-]

    Returns
    -------
    LedResistor
        The exact resistance, the next values, and what they do. [-]

    Raises
    ------
    OutOfRange
        If the supply is no more than the LEDs take, or a figure is not above 0.
    UnknownChoice, WrongKind
        If there is no such series, or a figure is no number.

    References
    ----------
    ``R = (Vs - n Vf) / I``, Ohm's law; preferred values by IEC 60063.

    Examples
    --------
    >>> found = led_resistor(12, 1.8, 0.005)
    >>> round(found.exact_ohm, 6), found.below.ohm, found.above.ohm, found.best.leaded.name
    (2040.0, 2000.0, 2200.0, '1/8 W')
    >>> led_resistor(9, 3.2, 0.002, 3)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the supply is 9 V; it must be above 9.6 V, which 3 LEDs take in series. Put at most 2 \
in a string.
    """
    count = check_count("the number of LEDs", leds)
    supply = as_known("the supply", supply_v, "supply_v")
    forward = as_known("the forward voltage", forward_v, "forward_v")
    wanted = as_known("the current", current_a, "current_a")
    tolerance = check_part("the tolerance", tolerance, zero=True, one=False)
    derate = check_part("the share of its rating", derate, zero=False, one=True)
    if supply.value <= count * forward.value * (1 + ROUNDING):
        raise _too_little(supply, forward, count)
    found = LedResistor(supply, forward, wanted, count, series, tolerance, derate)
    next_values(found.exact_ohm, series)  # an unknown series is refused here, not when it is first asked for
    return found


def _too_little(supply: Known, forward: Known, leds: int) -> OutOfRange:
    taken = f"{told(leds * forward.value, 'forward_v')}, which {leds} LEDs take in series"
    most = next((fewer for fewer in range(leds - 1, 0, -1) if fewer * forward.value < supply.value), 0)
    if leds == 1:
        taken = f"{told(forward.value, 'forward_v')}, which the LED takes"
    advice = f"Put at most {most} in a string." if most else "Use a higher supply, or an LED that takes less."
    return OutOfRange("the supply", told(supply.value, "supply_v"), f"above {taken}", advice)
