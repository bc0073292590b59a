"""Which reading's uncertainty costs the most clearance, and what a better instrument would free."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from modelmath.clearance import Stack, Term
from modelmath.job.room_left.spots import governing_room
from modelmath.lengths.rules.kinds import instrument
from modelmath.lengths.uncertain import rectangular

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

LEAST_MM = 0.005  # what shows as 0.00 mm frees nothing


@dataclass(frozen=True)
class Remeasure:
    """One thing that could be measured better.

    Attributes
    ----------
    what : str
        The reading, or what of a rule is not known well. [-]
    limit_mm : float
        How far it may be off, either way. [mm]
    costs_mm : float
        Clearance that has to be kept because of it. [mm]
    better : str
        What would measure it better, in words. [-]
    frees_mm : float
        Clearance that would free: that of the whole reading taken anew, so that an offset it shared with another no
        longer cancels, or no longer counts. [mm]
    """

    what: str
    limit_mm: float
    costs_mm: float
    better: str
    frees_mm: float


def remeasure(plan: Plan) -> tuple[Remeasure, ...]:
    """Rank readings, and what is not known of the rules, by the clearance that their uncertainty costs.

    Clearance counts as the room that has to be left for no more than the accepted chance of touching.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Remeasure
        The costliest first; what adds to the room left by accident, and costs nothing, is left out. [mm]

    References
    ----------
    `Stack.allowance`; what a caliper reads to: data/instruments.csv.
    """
    stack, chance = plan.gap.stack, plan.gap.wanted_chance
    caliper = instrument("caliper")
    finest = float(caliper.read_to_mm) / 2
    found = []
    for what, names in _of_readings(plan, stack):
        terms = [term for term in stack.terms if term.name in names]
        limit = sum(term.tolerance_mm for term in terms)
        costs = plan.gap.allowance_mm - _changed(stack, names, 0.0).allowance(chance)
        if costs < LEAST_MM:
            continue
        frees, better = 0.0, "nothing usual reads it finer"
        if limit > finest:
            reread = _reread(plan, what, finest) if what in plan.bench.readings else _changed(stack, names, finest)
            frees = plan.gap.allowance_mm - reread.allowance(chance)
            better = f"{_instead(what)}, to ±{finest:.2f} mm"
            if frees < LEAST_MM:
                better = f"{better}, the other heights too: alone it lets the zero offset in"
        found.append(Remeasure(what, limit, costs, better, max(frees, 0.0)))
    return tuple(sorted(found, key=lambda each: (-round(each.costs_mm, 6), -each.frees_mm, each.what)))


def _reread(plan: Plan, name: str, finest_mm: float) -> Stack:
    """Return the stack with one reading taken by a caliper, which shares no offset with what it was read with."""
    room, value = governing_room(plan), plan.bench.readings[name].value
    own = next(source for source in value.derivatives if str(source.tag) == f"reading of {name}")
    slope = room.derivatives[own] / value.derivatives[own]
    other = room - slope * value + slope * rectangular(0.0, finest_mm, f"reading of {name}")
    return Stack(tuple(Stack.sources(other)))


def _of_readings(plan: Plan, stack: Stack) -> Iterator[tuple[str, set[str]]]:
    """Yield each reading or rule with the names of its terms."""
    present = {term.name for term in stack.terms if term.tolerance_mm}
    for name in plan.bench.readings:
        names = {f"reading of {name}", f"scatter of {name}"} & present
        if names:
            yield name, names
    for rule in plan.bench.rules:
        for what in (f"zero offset of {rule}", f"scale error of {rule}"):
            if what in present:
                yield what, {what}


def _changed(stack: Stack, names: set[str], limit_mm: float) -> Stack:
    """Return the stack with these terms no further off than a limit; of several, the first carries it."""
    terms: list[Term] = []
    left = limit_mm
    for term in stack.terms:
        if term.name not in names:
            terms.append(term)
            continue
        terms.append(replace(term, tolerance_mm=left, shape="rectangular"))
        left = 0.0
    return Stack(tuple(terms))


def _instead(what: str) -> str:
    if what.startswith(("zero offset of", "scale error of")):
        return "calibrate the rule on known sizes"
    return "a caliper or depth gauge"
