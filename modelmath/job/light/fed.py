"""What feeds the lamps of a plan: the decoder's outputs, heat, keep-alive, leads and the plug to the shell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, NotYetKnown
from modelmath.lengths.text import format_length
from modelmath.light.feeding.budget import Budget, budget
from modelmath.light.feeding.drop import drop_v
from modelmath.light.feeding.heat import Heat, heat_of
from modelmath.light.feeding.keep_alive import KeepAlive, capacitance_for, keep_alive
from modelmath.light.feeding.plugs import Contacts, Crossing, Plug, contacts
from modelmath.light.feeding.sheet import DecoderSheet
from modelmath.materials.drills.gauge_for import GaugePick, gauges_for
from modelmath.materials.drills.wire import Wire, awg
from modelmath.quantities.band import Band

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from modelmath.job.bench.lights import Lead, Lights
    from modelmath.job.light.lamps import LampLine
    from modelmath.job.plan import Plan
    from modelmath.quantities.known import Known


THINNEST = 36  # AWG of a lead that is handled at the bench; common practice, no source


@dataclass(frozen=True)
class LeadLine:
    """One lead: how long to cut it, how thick it has to be, and what it loses.

    Attributes
    ----------
    name : str
        The lead. [-]
    count : int
        How many wires are in it. [-]
    colour : str
        The user's own; empty for none. [-]
    cut_mm : Fraction
        Length to cut each to. [mm]
    current_a : Band or None
        What each carries; None where that is not known. [A]
    pick : GaugePick or None
        The gauges that do; None without a current. [-]
    gauge : str
        The gauge entered, or else the thinnest to take; empty while neither is known. [-]
    drop_v : Band or None
        What it loses there and back with that gauge. [V]
    problem : str
        What is wrong or still to be entered; empty where nothing is. [-]
    """

    name: str
    count: int
    colour: str
    cut_mm: Fraction
    current_a: Band | None = None
    pick: GaugePick | None = None
    gauge: str = ""
    drop_v: Band | None = None
    problem: str = ""


@dataclass(frozen=True)
class KeptAlive:
    """What keep-alive capacitors do, or how large they would have to be.

    Attributes
    ----------
    does : KeepAlive or None
        With the capacitance entered. [s, J]
    needed_f : Band or None
        The capacitance that carries over the gap entered. [F]
    problem : ModelMathError or None
        What is still to be entered, or is wrong. [-]
    """

    does: KeepAlive | None = None
    needed_f: Band | None = None
    problem: ModelMathError | None = None


def sheet_of(plan: Plan) -> DecoderSheet:
    """Return what the decoder's own sheet says.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    DecoderSheet
        As far as it is entered. [-]

    References
    ----------
    The user's own sheet; nothing is built in.
    """
    feed = plan.bench.lights.feed
    outputs = tuple(plan.job.light.feed.outputs)
    return DecoderSheet(feed.supply, feed.each, feed.all, feed.whole, feed.idle, outputs)


def budget_of(plan: Plan, lines: Sequence[LampLine]) -> Budget | None:
    """Return what the lamps need of the decoder.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    lines : sequence of LampLine
        The lamps. [-]

    Returns
    -------
    Budget or None
        None while no lamp's current is known. [-]

    References
    ----------
    `budget`.
    """
    loads, feed = [each.load for each in lines if each.load is not None], plan.bench.lights.feed
    return budget(loads, sheet_of(plan), sound_a=feed.sound, motor_a=feed.motor) if loads else None


def heat_in(plan: Plan, lines: Sequence[LampLine]) -> Heat | None:
    """Return the heat of the lamps and the decoder, and how much warmer the shell gets.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    lines : sequence of LampLine
        The lamps. [-]

    Returns
    -------
    Heat or None
        None while neither a lamp's current nor the decoder's heat is known. [-]

    References
    ----------
    `heat_of`. The shell counts as a box without a floor, as large as its inside.
    """
    loads, idle = [each.load for each in lines if each.load is not None], plan.bench.lights.feed.idle
    if not loads and idle is None:
        return None
    return heat_of(loads, idle, shell_area_mm2(plan))


def shell_area_mm2(plan: Plan) -> float | None:
    """Return the area of roof, sides and ends of a shell, from its inside.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    float or None
        None while there is no cavity. [mm2]

    References
    ----------
    Elementary geometry; sides reach down to the seat.
    """
    if plan.enclosure is None:
        return None
    zones = plan.enclosure.cavity.zones
    long = [float(zone.end_mm) - float(zone.start_mm) for zone in zones]
    girths = [float(zone.width_mm) + 2 * float(zone.roof_mm) for zone in zones]
    found = sum(length * girth for length, girth in zip(long, girths, strict=True))
    return found + sum(float(zone.width_mm) * float(zone.roof_mm) for zone in (zones[0], zones[-1]))


def kept_alive(lights: Lights) -> KeptAlive | None:
    """Return what the keep-alive does.

    Parameters
    ----------
    lights : Lights
        What is entered. [-]

    Returns
    -------
    KeptAlive or None
        None where none is entered. [-]

    References
    ----------
    `keep_alive`, `capacitance_for`.
    """
    kept, supply = lights.keep_alive, lights.feed.supply
    if kept is None:
        return None
    needs: tuple[tuple[Known | None, str], ...] = (
        (supply, "the voltage that the lamps run on, to which it is charged"),
        (kept.least, "the voltage at which the decoder stops"),
        (kept.load, "what the decoder draws meanwhile"),
    )
    for given, what in needs:
        if given is None:
            return KeptAlive(problem=NotYetKnown("What the keep-alive does", what))
    assert supply is not None
    assert kept.least is not None
    assert kept.load is not None
    try:
        does = None if kept.capacitance is None else keep_alive(kept.capacitance, supply, kept.least, kept.load)
        needed = None if kept.over is None else capacitance_for(kept.over, supply, kept.least, kept.load)
    except ModelMathError as reason:
        return KeptAlive(problem=reason)
    return KeptAlive(does, needed)


def lead_lines(plan: Plan, lamps: Sequence[LampLine]) -> tuple[LeadLine, ...]:
    """Work out every lead.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    lamps : sequence of LampLine
        The lamps: a lead from an output carries what its lamps draw. [-]

    Returns
    -------
    tuple of LeadLine
        In the job's order. [-]

    References
    ----------
    `gauges_for`, `drop_v`.
    """
    return tuple(_lead(each, plan.bench.lights.most_drop_v, lamps) for each in plan.bench.lights.leads)


def _lead(lead: Lead, most_drop_v: float, lamps: Sequence[LampLine]) -> LeadLine:
    entry = lead.entry
    known = (entry.name, entry.count, entry.colour or "", lead.run_mm + lead.slack_mm)
    current = _current(lead, lamps)
    wire = lead.wire
    if current is None:
        told = "" if wire is not None else f"Enter what {entry.name} carries, or the output it comes from."
        return LeadLine(*known, gauge="" if wire is None else wire.name, problem=told)
    length, problem = lead.run_mm + lead.slack_mm, ""
    pick = None
    try:
        pick = gauges_for(current.high, length, most_drop_v=most_drop_v)
    except ModelMathError as reason:
        problem = str(reason)
    wire = wire or (None if pick is None else handled(pick))
    if wire is None:
        return LeadLine(*known, current, problem=problem)
    lost = drop_v(current, length, wire.ohm_per_m())
    if lead.wire is not None and lost.high > most_drop_v:
        best = "" if pick is None else f"; {pick.best.wire.name} would do"
        problem = (
            f"{wire.name} loses {lost.high:.2g} V over {format_length(length, 'mm')} there and back, more than the "
            f"{most_drop_v:g} V allowed{best}."
        )
    return LeadLine(*known, current, pick, wire.name, lost, problem)


def handled(pick: GaugePick) -> Wire:
    """Return the wire to take of the gauges that do: none so thin that it breaks where it is bent at the bench.

    Parameters
    ----------
    pick : GaugePick
        The gauges that do. [-]

    Returns
    -------
    Wire
        The thinnest of them, or AWG 36 where even a thinner one would do. [-]

    References
    ----------
    AWG 36 as the thinnest for leads that are handled: common practice, no source.
    """
    return pick.best.wire if pick.best.wire.gauge <= THINNEST else awg(THINNEST)


def _current(lead: Lead, lamps: Sequence[LampLine]) -> Band | None:
    if lead.current is not None:
        return Band(lead.current.value, lead.current.low, lead.current.high)
    loads = [each.load for each in lamps if each.load is not None and each.output == lead.entry.output]
    if lead.entry.output is None or not loads:
        return None
    currents = [each.current_a for each in loads]
    return Band(
        sum(each.best for each in currents), sum(each.low for each in currents), sum(each.high for each in currents)
    )


def contacts_of(plan: Plan, leads: Sequence[LeadLine]) -> Contacts | None:
    """Return how many poles the leads that cross take, against those of the plug.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    leads : sequence of LeadLine
        The leads. [-]

    Returns
    -------
    Contacts or None
        None where no lead crosses. [-]

    References
    ----------
    `contacts`.
    """
    crossing = [line for line, lead in zip(leads, plan.bench.lights.leads, strict=True) if lead.entry.crosses]
    wires = [
        Crossing(line.name if line.count == 1 else f"{line.name} {number}", line.current_a)
        for line in crossing
        for number in range(1, line.count + 1)
    ]
    if not wires:
        return None
    entry = plan.job.light.plug
    plugs = [] if entry is None else [Plug(entry.name, entry.poles, plan.bench.lights.plug_most)]
    return contacts(wires, plugs)
