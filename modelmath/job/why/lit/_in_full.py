"""Figures of what lights, in full: what each resistor does, what all lamps need, heat, keep-alive, bends, gauges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.several import for_models
from modelmath.job.why._words import in_mm
from modelmath.job.why.figures import Figure
from modelmath.job.why.lit._lamps_and_strands import ALL_LAMPS, ENTERED, FEED, OHM, SUPPLY
from modelmath.light.feeding.amounts import banded

if TYPE_CHECKING:
    from modelmath.job.light.strands import StrandLine
    from modelmath.job.plan import Plan

RATINGS = f"{OHM}; data/resistor_ratings.csv"
LIMITS = "data/feeding_limits.csv; the job, light"


def lamps(plan: Plan) -> Iterator[Figure]:
    """Yield what each lamp's resistor does, what the lamps need of the decoder, the heat, the keep-alive, the leads."""
    if not plan.light.entered:
        return
    supplied = plan.bench.lights.feed.supply is not None
    for line in plan.light.lamps:
        if line.circuit is None:
            continue
        below = (f"current of {line.name}",) if line.load is not None else ((SUPPLY,) if supplied else ())
        draws = "nothing known" if line.load is None else banded(line.load.current_a, "a")
        said = " ".join((line.in_words, *line.assumed))
        yield Figure(f"what {line.name} does", draws, said, f"{RATINGS}; the job, light", below)
    yield from _fed(plan)
    yield from _leads(plan)


def _fed(plan: Plan) -> Iterator[Figure]:
    found, heat, kept = plan.light.budget, plan.light.heat, plan.light.keep_alive
    feed = plan.bench.lights.feed
    limits = tuple(words for name, words in FEED.items() if getattr(feed, name) is not None)
    if found is not None:
        said = " ".join((found.in_words, *found.faults, *found.doubts, *found.notes))
        yield Figure("what the lamps need", banded(found.together.current_a, "a"), said, LIMITS, (ALL_LAMPS, *limits))
    if heat is not None:
        below = (ALL_LAMPS,) if found is not None else ("scale",)  # the shell's size is in it
        yield Figure("heat of lamps and decoder", banded(heat.total_w, "w"), heat.in_words, LIMITS, below)
    if kept is not None:
        said = "as entered" if kept.does is None else kept.does.in_words
        yield Figure("keep-alive", _capacitance(plan), said, "the job, light; data/keep_alive.csv")


def _capacitance(plan: Plan) -> str:
    entered = plan.job.light.keep_alive
    return "none" if entered is None or entered.capacitance is None else f"{entered.capacitance}"


def _leads(plan: Plan) -> Iterator[Figure]:
    for line in plan.light.leads:
        value = f"{line.count * plan.models} × {line.name}"
        how = f"as many as it has wires{for_models(plan.models)}; gauge {line.gauge or 'not chosen'}"
        yield Figure(f"wires of lead {line.name}", value, how, ENTERED, (f"length of lead {line.name}",))
    contacts = plan.light.contacts
    if contacts is not None:
        below = tuple(f"wires of lead {line.name}" for line in plan.light.leads)
        said = " ".join((contacts.in_words, *contacts.faults))
        yield Figure("contacts of the plugs", said.partition(".")[0], said, ENTERED, below)


def strands(plan: Plan) -> Iterator[Figure]:
    """Yield what to mind of each strand, and its gauge holes; where holes are spread that takes a search."""
    if plan.job.hole_layout.way == "row":
        yield from _strands(plan)


def spread(plan: Plan) -> Iterator[Figure]:
    """Yield the same where holes are spread."""
    if plan.job.hole_layout.way != "row":
        yield from _strands(plan)


def _strands(plan: Plan) -> Iterator[Figure]:
    for line in plan.light.strands:
        yield from _strand(line)
    for lamp, match in plan.light.matched:
        below = tuple(f"way of {each.name}" for each in plan.light.strands if each.lamp == lamp and each.route)
        yield Figure(f"lenses of {lamp}", match.in_words, "light through each strand", "data/fibre.csv", below)
    for strip in plan.light.gauge_strips:
        below = tuple(f"lens of {name}" for name in strip.strands)
        holes = ", ".join(f"{hole.name} ({in_mm(hole.diameter_mm)})" for hole in strip.holes)
        name = f"gauge strip for {', '.join(strip.strands)}"
        how = f"the drills next to that size: {holes}"
        yield Figure(name, in_mm(strip.lens_mm), how, "the drills' own tables", below)


def _few(text: str) -> str:
    """Return the first sentence."""
    return f"{text.partition('. ')[0].removesuffix('.')}."


def _strand(line: StrandLine) -> Iterator[Figure]:
    name = line.name
    if line.notes:
        # Places along the model scale, whether or not they give a way.
        below = (f"way of {name}",) if line.route is not None and line.length is not None else ("scale",)
        source = "data/fibre.csv; geometry; the job, light"
        yield Figure(f"what to mind of {name}", _few(line.notes[0]), " ".join(line.notes), source, below)
    if line.length is not None and line.route is not None:
        exact = in_mm(line.length.cut_mm)
        to_cut = f"{float(line.length.cut_mm):.0f} mm"
        how = f"{exact}, to the nearest mm; to a tenth {float(line.length.cut_mm):.1f} mm"
        yield Figure(f"to cut of {name}", to_cut, how, "rounding", (f"length of {name}",))
    if line.melt is not None:
        how = f"{line.melt.melted_mm:.2f} mm, to a tenth"
        value = f"{line.melt.melted_mm:.1f} mm melted"
        yield Figure(f"to melt of {name}", value, how, "rounding", (f"melted for {name}",))
