"""What lights, as far as it is entered: the decoder's outputs, lamps, strands with their lenses, leads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, WrongKind
from modelmath.job.bench.noted import AlreadyNoted
from modelmath.job.bench.sounds import quantity
from modelmath.lengths.parse import parse_prototype
from modelmath.materials.drills.wire import Wire, awg

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.document import CircuitEntry, LeadEntry, SpotEntry, StrandEntry
    from modelmath.lengths.prototype import PrototypeLength
    from modelmath.quantities.known import Known

Place = tuple[str | int, ...]
KINDS = {
    "supply": "voltage", "each": "current", "all": "current", "whole": "current", "idle": "power", "motor": "current",
    "sound": "current", "forward": "voltage", "current": "current", "rated": "voltage", "resistor": "resistance",
    "capacitance": "capacitance", "least": "voltage", "load": "current", "over": "time", "most": "current",
    "most_drop": "voltage",
}  # fmt: skip


@dataclass(frozen=True)
class Spot:
    """A place in the shell.

    Attributes
    ----------
    along_mm, right_mm, up_mm : Fraction
        Behind the fore-aft mark, right of the centre line to one who looks to the rear, above the seat. [mm]
    """

    along_mm: Fraction
    right_mm: Fraction
    up_mm: Fraction


@dataclass(frozen=True)
class Feed:
    """What the decoder's own sheet says, and what else it feeds; None for what is not entered.

    Attributes
    ----------
    supply, each, all, whole, idle, motor, sound : Known or None
        As the document's fields. [V, A, A, A, W, A, A]
    """

    supply: Known | None = None
    each: Known | None = None
    all: Known | None = None
    whole: Known | None = None
    idle: Known | None = None
    motor: Known | None = None
    sound: Known | None = None


@dataclass(frozen=True)
class Circuit:
    """One lamp of the job with its source of light.

    Attributes
    ----------
    entry : CircuitEntry
        As entered. [-]
    forward, current, rated, resistor : Known or None
        As far as they are entered. [V, A, V, ohm]
    emitter_mm : Fraction or None
        How wide what shines is. [mm]
    at : Spot or None
        Where it stands. [mm]
    """

    entry: CircuitEntry
    forward: Known | None
    current: Known | None
    rated: Known | None
    resistor: Known | None
    emitter_mm: Fraction | None
    at: Spot | None


@dataclass(frozen=True)
class Strand:
    """One strand with its lens.

    Attributes
    ----------
    entry : StrandEntry
        As entered. [-]
    diameter_mm : Fraction
        Its lamp's strands' diameter. [mm]
    to : Spot
        Where its lens ends, in the casting. [mm]
    via : tuple of Spot
        What it is led past, from the lamp on. [mm]
    radius_mm, slack_mm, trim_mm, play_mm : Fraction
        Of its bends; what it is longer by; what is cut off a cloudy end; by how much the lens is narrower than the
        bore. [mm]
    bore_mm, lens_mm, length_mm : Fraction or None
        Bore of its casting, diameter and length of the lens, where they are entered. [mm]
    prototype : PrototypeLength or None
        Diameter of the prototype's lens. [-]
    """

    entry: StrandEntry
    diameter_mm: Fraction
    to: Spot
    via: tuple[Spot, ...]
    radius_mm: Fraction
    slack_mm: Fraction
    trim_mm: Fraction
    play_mm: Fraction
    bore_mm: Fraction | None
    lens_mm: Fraction | None
    length_mm: Fraction | None
    prototype: PrototypeLength | None


@dataclass(frozen=True)
class Lead:
    """Wires that run together.

    Attributes
    ----------
    entry : LeadEntry
        As entered. [-]
    run_mm, slack_mm : Fraction
        How far each runs, and what it is longer by. [mm]
    current : Known or None
        What each carries. [A]
    wire : Wire or None
        Its gauge, where it is entered. [-]
    """

    entry: LeadEntry
    run_mm: Fraction
    slack_mm: Fraction
    current: Known | None
    wire: Wire | None


@dataclass(frozen=True)
class KeepAlive:
    """Capacitors that carry the decoder over a gap; None for what is not entered.

    Attributes
    ----------
    capacitance, least, load, over : Known or None
        As the document's fields. [F, V, A, s]
    """

    capacitance: Known | None = None
    least: Known | None = None
    load: Known | None = None
    over: Known | None = None


@dataclass(frozen=True)
class Lights:
    """All that lights, as far as it is entered.

    Attributes
    ----------
    feed : Feed
        What feeds the lamps. [-]
    circuits : tuple of Circuit
        The lamps. [-]
    strands : tuple of Strand
        The strands. [-]
    leads : tuple of Lead
        The leads. [-]
    most_drop_v : float
        What a lead may lose. [V]
    keep_alive : KeepAlive or None
        Capacitors. [-]
    plug_most : Known or None
        The current of one pole of the plug. [A]
    """

    feed: Feed
    circuits: tuple[Circuit, ...] = ()
    strands: tuple[Strand, ...] = ()
    leads: tuple[Lead, ...] = ()
    most_drop_v: float = 0.1
    keep_alive: KeepAlive | None = None
    plug_most: Known | None = None

    @property
    def entered(self) -> bool:
        """Whether anything of it is. [-]"""
        fed = any(getattr(self.feed, each.name) is not None for each in fields(Feed))
        return bool(fed or self.circuits or self.strands or self.leads or self.keep_alive)


def lights_of(bench: Bench) -> Lights:
    """Read all that lights; what can't be read is a fault of the bench.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Lights
        As far as it is entered. [-]

    References
    ----------
    None needed.
    """
    light = bench.job.light
    _check_named(bench)
    feed, most_drop, keep_alive, plug = Feed(), 0.1, None, None
    with bench.at("light", "feed"):
        feed = Feed(**_known(bench, light.feed, (each.name for each in fields(Feed)), ("light", "feed")))
    with bench.at("light", "most_drop"):
        most_drop = quantity(bench, light.most_drop, "voltage", "light", "most_drop").value
    if light.keep_alive is not None:
        with bench.at("light", "keep_alive"):
            names = [each.name for each in fields(KeepAlive)]
            keep_alive = KeepAlive(**_known(bench, light.keep_alive, names, ("light", "keep_alive")))
    if light.plug is not None and light.plug.most is not None:
        with bench.at("light", "plug", "most"):
            plug = quantity(bench, light.plug.most, "current", "light", "plug", "most")
    circuits, strands, leads = [], [], []
    for place, circuit in enumerate(light.circuits):
        with bench.at("light", "circuits", place):
            circuits.append(_circuit(bench, circuit, ("light", "circuits", place)))
    for place, strand in enumerate(light.strands):
        with bench.at("light", "strands", place):
            strands.append(_strand(bench, strand, ("light", "strands", place)))
    for place, lead in enumerate(light.leads):
        with bench.at("light", "leads", place):
            leads.append(_lead(bench, lead, ("light", "leads", place)))
    return Lights(feed, tuple(circuits), tuple(strands), tuple(leads), most_drop, keep_alive, plug)


def _known(bench: Bench, entry: Any, names: Iterable[str], where: Place) -> dict[str, Known | None]:
    """Return the quantities of a table that are entered, the others as None."""
    found: dict[str, Known | None] = {}
    for name in names:
        text = getattr(entry, name)
        found[name] = None if text is None else quantity(bench, text, KINDS[name], *where, name)
    return found


def _spot(bench: Bench, entry: SpotEntry, where: Place) -> Spot:
    return Spot(
        bench.place(entry.along, *where, "along"),
        bench.place(entry.right, *where, "right"),
        bench.length(entry.up, *where, "up"),
    )


def _size(bench: Bench, entry: Any, name: str, where: Place) -> Fraction | None:
    text = getattr(entry, name)
    return None if text is None else bench.length(text, *where, name, zero=False)


def _circuit(bench: Bench, entry: CircuitEntry, where: Place) -> Circuit:
    known = _known(bench, entry, ("forward", "current", "rated", "resistor"), where)
    at = None if entry.at is None else _spot(bench, entry.at, (*where, "at"))
    return Circuit(entry, **known, emitter_mm=_size(bench, entry, "emitter", where), at=at)


def _strand(bench: Bench, entry: StrandEntry, where: Place) -> Strand:
    found = next(((n, each) for n, each in enumerate(bench.job.lamps) if each.name == entry.lamp), None)
    if found is None:
        raise AlreadyNoted
    place, lamp = found
    if lamp.strand is None:
        problem = f"a lamp that has strands; of {entry.lamp} it is not entered how thick they are"
        raise bench.located((*where, "lamp"), WrongKind("the lamp", repr(entry.lamp), problem, "Enter that first."))
    sizes = {name: _size(bench, entry, name, where) for name in ("bore", "diameter", "length")}
    ways = [name for name in ("bore", "prototype", "diameter") if getattr(entry, name) is not None]
    if len(ways) > 1:
        given = " and ".join(ways)
        twice = OutOfRange("the lens", f"given by {given}", "given by one of them", "Leave out the others.")
        raise bench.located((*where, ways[1]), twice)
    lengths = {name: bench.length(getattr(entry, name), *where, name) for name in ("slack", "trim", "play")}
    prototype = None
    if entry.prototype is not None:
        try:
            prototype = parse_prototype(entry.prototype)
        except ModelMathError as fault:
            raise bench.located((*where, "prototype"), fault) from None
    return Strand(
        entry,
        bench.length(lamp.strand, "lamps", place, "strand", zero=False),
        _spot(bench, entry.to, (*where, "to")),
        tuple(_spot(bench, each, (*where, "via", n)) for n, each in enumerate(entry.via)),
        bench.length(entry.radius, *where, "radius", zero=False),
        lengths["slack"],
        lengths["trim"],
        lengths["play"],
        sizes["bore"],
        sizes["diameter"],
        sizes["length"],
        prototype,
    )


def _lead(bench: Bench, entry: LeadEntry, where: Place) -> Lead:
    wire = None
    if entry.gauge is not None:
        wire = bench.working_out((*where, "gauge"), lambda: awg(entry.gauge or ""))
    current = None if entry.current is None else quantity(bench, entry.current, "current", *where, "current")
    run = bench.length(entry.run, *where, "run", zero=False)
    return Lead(entry, run, bench.length(entry.slack, *where, "slack"), current, wire)


def _check_named(bench: Bench) -> None:
    """Refuse names that stand twice, and lamps, outputs and wires that the job does not have."""
    light, job = bench.job.light, bench.job
    lamps, wires = [each.name for each in job.lamps], [each.name for each in job.wires]
    for table, name in (("circuits", "lamp"), ("strands", "name"), ("leads", "name")):
        seen: set[str] = set()
        for place, entry in enumerate(getattr(light, table)):
            with bench.at("light", table, place, name):
                called = getattr(entry, name)
                if called in seen:
                    what = "the lamp" if name == "lamp" else "the name"
                    raise WrongKind(what, repr(called), "one that stands once", "Leave out one, or give it another.")
                seen.add(called)
    for table, name, what, known in (
        ("circuits", "lamp", "the lamp", lamps),
        ("strands", "lamp", "the lamp", lamps),
        ("circuits", "output", "the output", light.feed.outputs),
        ("leads", "output", "the output", light.feed.outputs),
        ("leads", "wires", "the wires", wires),
    ):
        for place, entry in enumerate(getattr(light, table)):
            with bench.at("light", table, place, name):
                called = getattr(entry, name)
                if called is None or called in known or (not known and name == "output"):
                    continue
                if len(set(known)) == len(known):  # of two of one name the later is another's wrong name: said already
                    raise UnknownChoice(what, called, known)
    for number, output in enumerate(light.feed.outputs):
        with bench.at("light", "feed", "outputs", number):
            if output in light.feed.outputs[:number]:
                raise WrongKind("the output", repr(output), "one that stands once", "Leave out one of the two.")
