"""What each lamp of the job is: its resistor, what it draws, how warm that gets, and what is still to be entered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, NotYetKnown
from modelmath.light.feeding.loads import Load
from modelmath.light.lamps.bulbs import Bulb
from modelmath.light.lamps.dropping import BulbChoice
from modelmath.light.lamps.filament import NEAR_PLASTIC
from modelmath.light.lamps.led import HEADLIGHT_A, LED_KINDS, forward_of
from modelmath.light.lamps.preferred import format_ohm
from modelmath.light.lamps.resistor import LedResistor, ResistorChoice, led_resistor
from modelmath.light.lamps.sources import Direct
from modelmath.quantities.band import Band
from modelmath.quantities.text import told

if TYPE_CHECKING:
    from modelmath.job.bench.lights import Circuit, Feed
    from modelmath.job.plan import Plan
    from modelmath.quantities.known import Known

USUAL_LED = "white"


@dataclass(frozen=True)
class LampLine:
    """One lamp of the job on its output.

    Attributes
    ----------
    name : str
        The lamp. [-]
    circuit : Circuit or None
        What it is, as entered; None where nothing of it is. [-]
    forward, current : Known or None
        What it is counted with. [V, A]
    led : LedResistor or None
        The resistor of an LED: exact, next values, limits. [-]
    chosen : ResistorChoice, BulbChoice or None
        The resistor that is fitted or to be fitted; None where none is needed or it can't be told. [-]
    load : Load or None
        What it draws; None where that can't be told. [A, W]
    assumed : tuple of str
        What was assumed for want of an entry. [-]
    problem : ModelMathError or None
        Why it can't be worked out, and what to enter. [-]
    """

    name: str
    circuit: Circuit | None
    forward: Known | None = None
    current: Known | None = None
    led: LedResistor | None = None
    chosen: ResistorChoice | BulbChoice | None = None
    load: Load | None = None
    assumed: tuple[str, ...] = ()
    problem: ModelMathError | None = None

    @property
    def output(self) -> str | None:
        """The output that drives it. [-]"""
        return None if self.circuit is None else self.circuit.entry.output

    @property
    def source(self) -> str:
        """What it is: LED, bulb or ready made; empty where nothing of it is entered. [-]"""
        return "" if self.circuit is None else self.circuit.entry.source

    @property
    def resistor(self) -> str:
        """The resistor in words; empty where there is none. [-]"""
        return "" if self.chosen is None else format_ohm(self.chosen.ohm)

    @property
    def fitted(self) -> bool:
        """Whether the resistor is one that is entered as fitted. [-]"""
        return self.circuit is not None and self.circuit.resistor is not None

    @property
    def in_words(self) -> str:
        """What to fit and what it does, in sentences. [-]"""
        if self.problem is not None:
            return str(self.problem)
        if self.chosen is None:
            return "Straight on its output: it needs no resistor."
        verb = "With the" if self.fitted else "Take a"
        warnings = self.led.warnings if self.led is not None and not self.fitted else ()
        near = (NEAR_PLASTIC,) if self.source == "bulb" else ()
        return " ".join([f"{verb} resistor of {self.chosen.in_words}", *warnings, *near])


def lamp_lines(plan: Plan) -> tuple[LampLine, ...]:
    """Work out every lamp of the job.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of LampLine
        In the job's order. [-]

    References
    ----------
    `led_resistor`, `Bulb.dropping_resistor`, `Direct`.
    """
    lights, series = plan.bench.lights, plan.job.light.feed.series
    by_lamp = {each.entry.lamp: each for each in lights.circuits}
    return tuple(_line(lamp.name, by_lamp.get(lamp.name), lights.feed, series) for lamp in plan.job.lamps)


def _line(name: str, circuit: Circuit | None, feed: Feed, series: str) -> LampLine:
    if circuit is None:
        return LampLine(name, None)
    try:
        if circuit.entry.source == "LED":
            return _led(name, circuit, feed, series)
        return _bulb(name, circuit, feed, series) if circuit.entry.source == "bulb" else _ready(name, circuit, feed)
    except ModelMathError as reason:
        return LampLine(name, circuit, problem=reason)


def _led(name: str, circuit: Circuit, feed: Feed, series: str) -> LampLine:
    assumed: list[str] = []
    current = circuit.current
    if current is None:
        current = HEADLIGHT_A
        assumed.append(f"The current of {name} is not entered: {told(current.value, 'a')} counts, {current.why}.")
    forward = circuit.forward
    if forward is None:
        kind = _kind(circuit.entry.colour or USUAL_LED)
        forward = forward_of(kind, current.value)
        within = f"{told(forward.low, 'v').removesuffix(' V')} to {told(forward.high, 'v')}"
        assumed.append(f"The voltage across the LED of {name} is not entered: {within} counts, {forward.why}.")
    supply = _supply(feed, "The resistor")
    entry = circuit.entry
    found = led_resistor(supply, forward, current, entry.leds, series=series)
    chosen = found.best if circuit.resistor is None else found.with_resistor(circuit.resistor.value)
    load = Load.of(name, entry.output, chosen.current_a, resistor_w=chosen.power_w, lamp_w=chosen.lamp_power_w)
    return LampLine(name, circuit, forward, current, found, chosen, load, tuple(assumed))


def _kind(colour: str) -> str:
    """Return the kind of LED that a colour means: as it is written, else refused with those there are."""
    plain = " ".join(colour.casefold().split())
    return plain if plain in LED_KINDS else colour


def _bulb(name: str, circuit: Circuit, feed: Feed, series: str) -> LampLine:
    if circuit.rated is None or circuit.current is None:
        missing = "the voltage it is rated for" if circuit.rated is None else "the current it is rated for"
        raise NotYetKnown(f"The resistor of {name}", missing)
    supply, bulb = _supply(feed, "The resistor"), Bulb(circuit.rated, circuit.current)
    output = circuit.entry.output
    if circuit.resistor is None and supply.value <= circuit.rated.value:
        drawn, power = bulb.current_a(supply), bulb.power_w(supply)
        load = Load.of(name, output, drawn, lamp_w=power)
        return LampLine(name, circuit, circuit.rated, circuit.current, load=load)
    found = bulb.dropping_resistor(supply, series=series)
    chosen = found.best if circuit.resistor is None else found.with_resistor(circuit.resistor.value)
    load = Load.of(name, output, chosen.current_a, resistor_w=chosen.power_w, lamp_w=chosen.bulb_power_w)
    return LampLine(name, circuit, circuit.rated, circuit.current, None, chosen, load)


def _ready(name: str, circuit: Circuit, feed: Feed) -> LampLine:
    if circuit.current is None:
        raise NotYetKnown(f"What {name} needs of its output", "the current it draws")
    current = circuit.current
    power = Band(0.0, 0.0, 0.0) if feed.supply is None else Direct(current).on(feed.supply).power_w
    load = Load.of(name, circuit.entry.output, current, lamp_w=power)
    return LampLine(name, circuit, None, current, load=load)


def _supply(feed: Feed, what: str) -> Known:
    if feed.supply is None:
        raise NotYetKnown(what, "the voltage that the lamps run on, from the decoder's own sheet")
    return feed.supply
