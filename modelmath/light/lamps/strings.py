"""Several like LEDs: in series strings, and why no two share one resistor."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor

from modelmath.errors import OutOfRange
from modelmath.light.lamps.amounts import Figure, as_known, check_count, told_band, told_share
from modelmath.light.lamps.led import HEADLIGHT_A
from modelmath.light.lamps.preferred import format_ohm
from modelmath.light.lamps.resistor import LedResistor, led_resistor
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

HEADROOM_V = 1.0  # left for a string's resistor, so that the current is steady; common practice, no source


@dataclass(frozen=True)
class LedString:
    """Like strings of LEDs, each with a resistor of its own.

    Attributes
    ----------
    times : int
        How many such strings. [-]
    resistor : LedResistor
        The circuit of each; it knows how many LEDs stand in it. [-]

    References
    ----------
    `series_or_parallel`.
    """

    times: int
    resistor: LedResistor

    @property
    def leds(self) -> int:
        """How many LEDs stand in each string. [-]"""
        return self.resistor.leds

    @property
    def in_words(self) -> str:
        """How many strings, of how many LEDs, with which resistor. [-]"""
        strings = "1 string" if self.times == 1 else f"{self.times} strings"
        leds = "1 LED" if self.leds == 1 else f"{self.leds} LEDs"
        each = " each" if self.times > 1 else ""
        return f"{strings} of {leds}, {format_ohm(self.resistor.best.ohm)}{each}"


@dataclass(frozen=True)
class StringWiring:
    """One way to wire like LEDs to one output.

    Attributes
    ----------
    strings : tuple of LedString
        The longer strings first. [-]

    References
    ----------
    `series_or_parallel`.
    """

    strings: tuple[LedString, ...]

    @property
    def leds(self) -> int:
        """How many LEDs in all. [-]"""
        return sum(each.times * each.leds for each in self.strings)

    @property
    def resistors(self) -> int:
        """How many resistors, one for each string. [-]"""
        return sum(each.times for each in self.strings)

    @property
    def current_a(self) -> Band:
        """What all strings draw together. [A]"""
        return self._sum("current_a")

    @property
    def resistor_w(self) -> Band:
        """Heat of all resistors. [W]"""
        return self._sum("power_w")

    @property
    def lamp_w(self) -> Band:
        """What all LEDs take. [W]"""
        return self._sum("lamp_power_w")

    @property
    def in_words(self) -> str:
        """How it is wired, what it draws, its heat. [-]"""
        parts = " and ".join(each.in_words for each in self.strings)
        return (
            f"{parts}: {told_band(self.current_a, 'current_a')} together, "
            f"{told_band(self.resistor_w, 'power_w')} of heat in the resistors."
        )

    def _sum(self, what: str) -> Band:
        """Return a sum over strings: one supply feeds them all, so that their limits are reached together."""
        parts = [(each.times, getattr(each.resistor.best, what)) for each in self.strings]
        best, low, high = (sum(n * getattr(band, end) for n, band in parts) for end in ("best", "low", "high"))
        return Band(best, low, high)


@dataclass(frozen=True)
class ParallelShare:
    """How two LEDs side by side on one resistor share its current.

    Attributes
    ----------
    together_a : float
        The current of both. [A]
    forward_difference_v : float
        By how much the forward voltage of the one is lower. [V]
    slope_ohm : float
        How steeply an LED's voltage rises with its current. [ohm]

    References
    ----------
    Kirchhoff's laws; each LED as a voltage and a resistance in series.
    """

    together_a: float
    forward_difference_v: float
    slope_ohm: float

    @property
    def difference_a(self) -> float:
        """How much more current the LED of lower voltage takes; all of it at most. [A]"""
        return min(self.forward_difference_v / self.slope_ohm, self.together_a)

    @property
    def shares(self) -> tuple[float, float]:
        """Share of the current of the LED of lower voltage, and of the other. [-]"""
        more = (1 + self.difference_a / self.together_a) / 2
        return more, 1 - more

    @property
    def in_words(self) -> str:
        """What that looks like, and what to do. [-]"""
        more, less = self.shares
        dark = ", which stays dark" if less == 0 else ""
        volts = told(self.forward_difference_v, "forward_v")
        return (
            f"The LED whose forward voltage is {volts} lower takes {told_share(more)} of the current, the other "
            f"{told_share(less)}{dark}. Give each LED a resistor of its own, or put both in series."
            if self.forward_difference_v
            else "Two LEDs exactly alike share the current; no two are. Give each LED a resistor of its own, or put "
            "both in series."
        )


def most_in_series(supply_v: Figure, forward_v: Figure, *, headroom_v: float = HEADROOM_V) -> int:
    """Return how many LEDs a supply lights in one string, at the least favourable limits.

    Parameters
    ----------
    supply_v : float or Known
        What the output gives; its lower limit counts. [V]
    forward_v : float or Known
        Forward voltage of one LED; its upper limit counts. [V]
    headroom_v : float
        What is to be left for the resistor. [V]

    Returns
    -------
    int
        The most; 0 where not even one. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a figure is no finite number above 0; the headroom may be 0.

    References
    ----------
    Kirchhoff's voltage law; the headroom is common practice, no source.

    Examples
    --------
    >>> most_in_series(12, 3.2), most_in_series(12, 2.0), most_in_series(3, 3.2)
    (3, 5, 0)
    """
    supply = as_known("the supply", supply_v, "supply_v").low
    forward = as_known("the forward voltage", forward_v, "forward_v").high
    left = as_known("the headroom", headroom_v, "headroom_v", zero=True).high
    # As decimals, so that 9.6 V are three times 3.2 V.
    exact = (Fraction(repr(supply)) - Fraction(repr(left))) / Fraction(repr(forward))
    return max(0, floor(exact))


def series_or_parallel(
    n: int,
    supply_v: Figure,
    forward_v: Figure,
    current_a: Figure,
    *,
    series: str = "E24",
    tolerance: float = 0.05,
    derate: float = 0.5,
    headroom_v: float = HEADROOM_V,
) -> tuple[StringWiring, ...]:
    """Return every way to wire like LEDs in strings on one supply: one for each number of strings.

    The LEDs are spread over the strings as evenly as they go. Another spread over as many strings draws about the same
    current and makes about as much heat, since each string draws the current wanted from the whole supply.

    Parameters
    ----------
    n : int
        How many LEDs. [-]
    supply_v, forward_v : float or Known
        What the output gives, and what one LED takes. [V]
    current_a : float or Known
        The current wanted through each LED. [A]
    series : str
        Which preferred values may be used. [-]
    tolerance, derate : float
        Of the resistors, as for `led_resistor`. [-]
    headroom_v : float
        What is to be left for each resistor. [V]

    Returns
    -------
    tuple of StringWiring
        The one that draws least first. [-]

    Raises
    ------
    OutOfRange
        If the supply lights not even one, or a figure is not above 0.
    UnknownChoice, WrongKind
        As `led_resistor`.

    References
    ----------
    Kirchhoff's laws.

    Examples
    --------
    >>> for each in series_or_parallel(4, 12, 3.0, 0.002):
    ...     print(each.in_words)
    2 strings of 2 LEDs, 3 kohm each: 4 mA (3.81 to 4.21 mA) together, 24 mW (22.9 to 25.3 mW) of heat in the \
resistors.
    1 string of 2 LEDs, 3 kohm and 2 strings of 1 LED, 4.7 kohm each: 5.83 mA (5.55 to 6.14 mA) together, 46.5 mW \
(44.3 to 48.9 mW) of heat in the resistors.
    4 strings of 1 LED, 4.7 kohm each: 7.66 mA (7.29 to 8.06 mA) together, 68.9 mW (65.7 to 72.6 mW) of heat in \
the resistors.
    """
    count = check_count("the number of LEDs", n)
    supply = as_known("the supply", supply_v, "supply_v")
    forward = as_known("the forward voltage", forward_v, "forward_v")
    most = most_in_series(supply, forward, headroom_v=headroom_v)
    if not most:
        raise _none_lights(supply, forward, headroom_v)
    options = {"series": series, "tolerance": tolerance, "derate": derate}
    circuits: dict[int, LedResistor] = {}
    found = []
    for strings in range(-(-count // most), count + 1):
        short, longer = divmod(count, strings)
        split = [(longer, short + 1), (strings - longer, short)]
        for _, leds in split:
            if leds not in circuits and 1 <= leds <= most:
                circuits[leds] = led_resistor(supply, forward, current_a, leds, **options)  # type: ignore[arg-type]
        found.append(StringWiring(tuple(LedString(times, circuits[leds]) for times, leds in split if times)))
    return tuple(found)


def _none_lights(supply: Known, forward: Known, headroom_v: float) -> OutOfRange:
    needed = told(forward.high + headroom_v, "supply_v")
    return OutOfRange(
        "the supply",
        told(supply.low, "supply_v"),
        f"{needed} or more: {told(forward.high, 'forward_v')} for one LED, "
        f"{told(headroom_v, 'headroom_v')} for its resistor",
        "Use a higher supply, an LED that takes less, or less headroom.",
    )


def parallel_share(
    forward_difference_v: float, slope_ohm: float, *, together_a: float = 2 * HEADLIGHT_A.value
) -> ParallelShare:
    """Return how two LEDs side by side on one resistor share its current.

    Near its working current an LED's voltage is a fixed part and a part that rises with the current. Both see one
    voltage, so that ``I1 - I2 = dV / r``. The bend of the diode law near no current is left out.

    Parameters
    ----------
    forward_difference_v : float
        By how much their forward voltages differ at one current. [V]
    slope_ohm : float
        How steeply an LED's voltage rises: n kT/q over its current and its own resistance, some 50 ohm at 1 mA. [ohm]
    together_a : float
        The current of both; twice a headlight's unless given. [A]

    Returns
    -------
    ParallelShare
        The two shares, and what to do. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a figure is no finite number above 0; the difference may be 0.

    References
    ----------
    Kirchhoff's laws; slope of the diode law, W. Shockley, Bell System Technical Journal 28 (1949).

    Examples
    --------
    >>> share = parallel_share(0.05, 50.0, together_a=0.002)
    >>> [round(each, 3) for each in share.shares]
    [0.75, 0.25]
    >>> parallel_share(0.2, 50.0).shares
    (1.0, 0.0)
    """
    difference = as_known("the difference of forward voltages", forward_difference_v, "forward_v", zero=True)
    slope = as_known("the slope", slope_ohm, "slope_ohm")
    together = as_known("the current of both", together_a, "together_a")
    return ParallelShare(together.value, difference.value, slope.value)
