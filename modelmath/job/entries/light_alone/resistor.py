"""A resistor for an LED, without a job: supply, LED, current, LEDs in series and the resistors at hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from modelmath.errors import UnknownChoice
from modelmath.job.entries.light_alone.reading import Found, Reading
from modelmath.job.entries.light_alone.texts import in_range, said_of
from modelmath.light.lamps.amounts import ROUNDING
from modelmath.light.lamps.led import HEADLIGHT_A, LED_KINDS, LedKind, forward_of
from modelmath.light.lamps.preferred import SERIES, following, next_values
from modelmath.light.lamps.resistor import LedResistor, ResistorChoice, led_resistor
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

FIELDS = ("supply", "lamp", "current", "leds", "series")
DEMO = {"supply": "12 V", "lamp": "warm white", "current": "2 mA", "leds": "1", "series": "E24"}
MOST_LEDS = 20
NEEDS_SUPPLY, NEEDS_LED = "the supply at the output", "the LED, by its colour or its voltage"


@dataclass(frozen=True)
class Resistor:
    """The resistor of an LED, with those next to it.

    Attributes
    ----------
    circuit : LedResistor
        Supply, LEDs, and what any resistor does there. [-]
    lower, chosen, higher : ResistorChoice
        The safe one of those next to the exact resistance, and the values that are made beside it. [ohm]
    notes : tuple of str
        What was assumed, and what to check. [-]

    References
    ----------
    `led_resistor`.
    """

    circuit: LedResistor
    lower: ResistorChoice
    chosen: ResistorChoice
    higher: ResistorChoice
    notes: tuple[str, ...] = ()


def read_resistor(typed: Mapping[str, str]) -> Found[Resistor]:
    """Read the form.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS`. [-]

    Returns
    -------
    Found
        The resistor, or what is wrong or missing. [-]

    References
    ----------
    `led_resistor`.

    Examples
    --------
    >>> found = read_resistor(DEMO | {"lamp": "1.8 V", "current": "5 mA"})
    >>> [each.ohm for each in (found.answer.lower, found.answer.chosen, found.answer.higher)]
    [2000.0, 2200.0, 2400.0]
    >>> read_resistor(DEMO | {"supply": "12"}).messages
    {'supply': "'12': it has no unit; write a number with its unit, such as 2.5 V."}
    """
    reading = Reading(typed, FIELDS)
    supply = reading.known("supply", "voltage", "the supply", NEEDS_SUPPLY)
    current = reading.known("current", "current", "the current")
    if not reading.typed["current"]:
        reading.echoes["current"] = f"{told(HEADLIGHT_A.value, 'a')} counts: {HEADLIGHT_A.why}"
        current = HEADLIGHT_A
    led = reading.read("lamp", lambda text: _led(text, current), _led_said, NEEDS_LED)
    leds = reading.count("leds", "the number of LEDs in series", MOST_LEDS)
    series = reading.choice("series", "the resistors at hand", tuple(SERIES), "E24")

    def work() -> Resistor:
        assert supply is not None
        assert current is not None
        assert led is not None
        forward, kind = led
        return _beside(led_resistor(supply, forward, current, leds, series=series), _notes(kind, current))

    return reading.found(work, "supply")


def previous(ohm: float, series: str) -> float:
    """Return the preferred value before one, downward.

    Parameters
    ----------
    ohm : float
        A resistance. [ohm]
    series : str
        One of `SERIES`. [-]

    Returns
    -------
    float
        The next smaller preferred value. [ohm]

    Raises
    ------
    OutOfRange, WrongKind, UnknownChoice
        As `next_values`.

    References
    ----------
    IEC 60063.

    Examples
    --------
    >>> previous(10000.0, "E12")
    8200.0
    """
    return next_values(ohm * (1 - 2 * ROUNDING), series)[0]


def _beside(circuit: LedResistor, notes: tuple[str, ...]) -> Resistor:
    chosen, series = circuit.best, circuit.series
    lower, higher = (circuit.with_resistor(step(chosen.ohm, series)) for step in (previous, following))
    return Resistor(circuit, lower, chosen, higher, notes)


def _led(text: str, current: Known | None) -> tuple[Known, LedKind | None]:
    """Return an LED's voltage, and its kind where its colour is written."""
    if not text[:1].isalpha():
        return in_range(text, "voltage", "the voltage across the LED"), None
    name = " ".join(text.casefold().split())
    if name not in LED_KINDS:
        raise UnknownChoice("the colour of the LED", text, tuple(LED_KINDS))
    return forward_of(name, None if current is None else current.value), LED_KINDS[name]


def _led_said(led: tuple[Known, LedKind | None]) -> str:
    forward, kind = led
    if kind is None:
        return said_of(forward, "voltage")
    low, high = (told(each, "v") for each in (forward.low, forward.high))
    return f"{low} to {high}, {forward.why}"


def _notes(kind: LedKind | None, current: Known) -> tuple[str, ...]:
    """Return what to check of an LED that is known by its colour only."""
    if kind is None:
        return ()
    found = [
        "The LED's voltage is taken by its colour: measure it, or take it from its own sheet, for a closer answer."
    ]
    if current.high > kind.to_a:
        most = told(kind.to_a, "a")
        found.append(f"Most small LEDs bear {most} at most: see on its sheet whether yours bears more.")
    return tuple(found)
