"""The tables of a job document that say what lights: strands and their lenses, lamps, what feeds them, leads."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from modelmath.job.fields.base import Entry, LengthText, SignedLengthText, Text
from modelmath.job.fields.sound import QuantityText

Series = Literal["E6", "E12", "E24", "E48", "E96"]


class SpotEntry(Entry):
    """A place in the shell: behind the fore-aft mark, above the seat, right of the centre line looking to the rear."""

    along: SignedLengthText
    up: LengthText
    right: SignedLengthText = "0 mm"


class StrandEntry(Entry):
    """One strand from its lamp to its lens.

    `to`: where its lens ends, in the casting; `via`: the places it is led past; `radius` that its bends have at least,
    or just that where they are `formed` with heat. The lens: `bore` of its casting, less `play`; or the `prototype`
    lens; or its `diameter`; `length` of one that is longer than round, from strand to tip. `trial`: what trial ends of
    this strand took, over what their volume asks.
    """

    name: Text
    lamp: Text
    to: SpotEntry
    via: Annotated[list[SpotEntry], Field(max_length=20)] = Field(default_factory=list)
    radius: LengthText = "5 mm"
    formed: bool = False
    bore: LengthText | None = None
    play: LengthText = "0.1 mm"
    prototype: Annotated[str, Field(min_length=1, max_length=60)] | None = None
    diameter: LengthText | None = None
    length: LengthText | None = None
    trial: Annotated[float, Field(ge=0.2, le=5)] = 1.0
    slack: LengthText = "3 mm"
    trim: LengthText = "3 mm"


class CircuitEntry(Entry):
    """What one lamp of the job is, and which output drives it.

    `source`: LEDs with a resistor, a bulb, or a ready made lamp that needs nothing. `leds`: how many stand in series
    on the resistor. `forward` and `current` are those of one LED, `rated` is a bulb's voltage.
    """

    lamp: Text
    source: Literal["LED", "bulb", "ready made"] = "LED"
    leds: Annotated[int, Field(ge=1, le=20)] = 1
    colour: Text | None = None
    forward: QuantityText | None = None
    current: QuantityText | None = None
    rated: QuantityText | None = None
    resistor: QuantityText | None = None
    output: Text | None = None
    emitter: LengthText | None = None
    at: SpotEntry | None = None


class KeepAliveEntry(Entry):
    """Capacitors that carry the decoder over a gap: `least` is the voltage at which it stops, `over` how long."""

    capacitance: QuantityText | None = None
    least: QuantityText | None = None
    load: QuantityText | None = None
    over: QuantityText | None = None


class PlugEntry(Entry):
    """A plug between shell and chassis: `most` is the current of one of its poles."""

    name: Text = "plug"
    poles: Annotated[int, Field(ge=1, le=99)]
    most: QuantityText | None = None


class FeedEntry(Entry):
    """What the decoder's own sheet says of its function outputs, and what else it feeds.

    `each`: what one output gives; `all`: all of them together; `whole`: the decoder in all, `motor` and `sound` with
    them; `idle`: what it turns into heat by itself. `series`: the resistors at hand.
    """

    supply: QuantityText | None = None
    outputs: Annotated[list[Text], Field(max_length=40)] = Field(default_factory=list)
    each: QuantityText | None = None
    all: QuantityText | None = None
    whole: QuantityText | None = None
    idle: QuantityText | None = None
    motor: QuantityText | None = None
    sound: QuantityText | None = None
    series: Series = "E24"


class LeadEntry(Entry):
    """Wires that run together from here to there: how far, how thick, of which colour, and what they carry.

    `crosses`: they go from chassis to shell. `wires`: the table of wires whose holes they pass.
    """

    name: Text
    run: LengthText
    slack: LengthText = "15 mm"
    count: Annotated[int, Field(ge=1, le=99)] = 1
    gauge: Text | None = None
    colour: Text | None = None
    current: QuantityText | None = None
    output: Text | None = None
    wires: Text | None = None
    crosses: bool = False


class LightEntry(Entry):
    """What lights: strands and lenses, lamps, what feeds them, leads. `most_drop`: what a lead may lose."""

    feed: FeedEntry = Field(default_factory=FeedEntry)
    circuits: Annotated[list[CircuitEntry], Field(max_length=50)] = Field(default_factory=list)
    strands: Annotated[list[StrandEntry], Field(max_length=99)] = Field(default_factory=list)
    leads: Annotated[list[LeadEntry], Field(max_length=99)] = Field(default_factory=list)
    most_drop: QuantityText = "0.1 V"
    keep_alive: KeepAliveEntry | None = None
    plug: PlugEntry | None = None
