"""Figures of what lights: resistors and currents, what the outputs give, strands, lens ends, leads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.why._words import in_mm
from modelmath.job.why.figures import Figure
from modelmath.lengths.text import format_length
from modelmath.light.feeding.amounts import banded
from modelmath.light.lamps.preferred import format_ohm
from modelmath.quantities.text import told

if TYPE_CHECKING:
    from modelmath.job.bench.lights import Spot, Strand
    from modelmath.job.light.lamps import LampLine
    from modelmath.job.light.strands import StrandLine
    from modelmath.job.plan import Plan
    from modelmath.quantities.known import Known

SUPPLY, ALL_LAMPS = "voltage the lamps run on", "current of all lamps"
FEED = {"each": "limit of one output", "all": "limit of all outputs", "whole": "limit of the decoder"}
OHM = "Ohm's and Kirchhoff's laws; preferred values by IEC 60063"
SHEET = "the job, light: the decoder's own sheet"
ENTERED, PLACED = "the job, light", "the job, light: places, castings and runs"


def lamps(plan: Plan) -> Iterator[Figure]:
    """Yield the supply, each lamp's voltage, current and resistor, and what all draw."""
    if not plan.light.entered:
        return
    feed = plan.bench.lights.feed
    if feed.supply is not None:
        yield Figure(SUPPLY, told(feed.supply.value, "v"), "as entered", SHEET)
    for name, words in FEED.items():
        known: Known | None = getattr(feed, name)
        if known is not None:
            yield Figure(words, told(known.value, "a"), "as entered", SHEET)
    drawn = []
    for line in plan.light.lamps:
        yield from _lamp(line, feed.supply is not None)
        if line.load is not None:
            drawn.append(f"current of {line.name}")
    found = plan.light.budget
    if found is not None:
        below = (*drawn, *(words for name, words in FEED.items() if getattr(feed, name) is not None))
        yield Figure(ALL_LAMPS, banded(found.together.current_a, "a"), "the sum of theirs", "Kirchhoff's laws", below)


def _lamp(line: LampLine, supplied: bool) -> Iterator[Figure]:
    below = [SUPPLY] if supplied else []
    if line.forward is not None and line.source == "LED":
        name = f"voltage across the LED of {line.name}"
        yield Figure(name, _limits(line.forward, "v"), _origin(line.forward), "the job, light; data/led_kinds.csv")
        below.append(name)
    if line.current is not None and line.source == "LED":
        name = f"current wanted of {line.name}"
        yield Figure(name, _limits(line.current, "a"), _origin(line.current), "the job, light")
        below.append(name)
    if line.chosen is not None:
        exact = "" if line.led is None else f"; exactly {format_ohm(line.led.exact_ohm)}"
        how = "as entered" if line.fitted else f"(supply - what the lamp takes) / current, the next value up{exact}"
        yield Figure(f"resistor of {line.name}", line.resistor, how, OHM, tuple(below))
        below = [*below, f"resistor of {line.name}"]
    if line.load is not None:
        how = "what is left of the supply, over the resistor" if line.chosen is not None else "as entered"
        yield Figure(f"current of {line.name}", banded(line.load.current_a, "a"), how, OHM, tuple(below))


def _limits(known: Known, field: str) -> str:
    value, low, high = (told(each, field) for each in (known.value, known.low, known.high))
    return value if known.exact else f"{value}, from {low} to {high}"


def _origin(known: Known) -> str:
    return f"assumed: {known.why}" if known.origin == "estimated" and known.why else "as entered"


def strands(plan: Plan) -> Iterator[Figure]:
    """Yield each strand with its lens; where holes are spread that takes a search, too slow for every figure."""
    if plan.job.hole_layout.way == "row":
        yield from _ways(plan)


def spread(plan: Plan) -> Iterator[Figure]:
    """Yield the same where holes are spread."""
    if plan.job.hole_layout.way != "row":
        yield from _ways(plan)


def _ways(plan: Plan) -> Iterator[Figure]:
    for line, strand in zip(plan.light.strands, plan.bench.lights.strands, strict=True):
        yield from _lens(line, strand)
        if line.route is None or line.length is None:
            continue
        ends = f"where {line.name} ends"
        yield Figure(ends, _place(strand.to), "behind the mark, above the seat, right of the middle", PLACED)
        below = (ends, *((f"hole: {line.hole}",) if line.hole else ()))
        how = f"from place to place, its bends counted as arcs: {len(line.route.bends)}"
        yield Figure(f"way of {line.name}", in_mm(line.route.length_mm), how, "geometry; places as entered", below)
        melted = (f"shortening by the lens of {line.name}",) if line.melt is not None else ()
        below = (f"way of {line.name}", *melted)
        yield Figure(f"length of {line.name}", in_mm(line.length.cut_mm), line.length.in_words, "addition", below)


def _place(spot: Spot) -> str:
    return f"{in_mm(spot.along_mm)}, {in_mm(spot.up_mm)}, {in_mm(spot.right_mm)}"


def _lens(line: StrandLine, strand: Strand) -> Iterator[Figure]:
    if line.lens_mm is None or line.melt is None:
        return
    asked, entry = f"lens asked for of {line.name}", strand.entry
    if entry.prototype is not None:
        yield Figure(asked, entry.prototype, "the prototype's, as entered", ENTERED)
    else:
        size = strand.bore_mm if strand.bore_mm is not None else strand.lens_mm
        what = "the bore of its casting" if strand.bore_mm is not None else "its diameter"
        assert size is not None  # a lens follows from one of the three
        yield Figure(asked, in_mm(size), f"{what}, as entered", PLACED)
    scaled = ("scale",) if entry.prototype is not None else ()
    yield Figure(f"lens of {line.name}", in_mm(line.lens_mm), line.lens_from, "scale arithmetic", (asked, *scaled))
    below = (f"lens of {line.name}",)
    how = f"volume of the head over the section of a strand of {format_length(line.diameter_mm, 'mm')}"
    source = "geometry of a spheroid; the user's trial ends"
    yield Figure(f"melted for {line.name}", in_mm(line.melt.melted_mm), how, source, below)
    shorter = f"shortening by the lens of {line.name}"
    how = "what is melted, less what the head stands out"
    yield Figure(shorter, in_mm(line.melt.shortens_by_mm), how, "geometry", (*below, f"melted for {line.name}"))


def leads(plan: Plan) -> Iterator[Figure]:
    """Yield each lead's length, current, gauge and loss."""
    for line, lead in zip(plan.light.leads, plan.bench.lights.leads, strict=True):
        lengths, run = f"length of lead {line.name}", f"run of lead {line.name}"
        yield Figure(run, in_mm(lead.run_mm), "as entered", PLACED)
        how = f"its run, and {in_mm(lead.slack_mm)} by which it is longer"
        yield Figure(lengths, in_mm(line.cut_mm), how, "addition", (run,))
        if line.drop_v is None or line.current_a is None:
            continue
        how = f"I R there and back with {line.gauge} and {banded(line.current_a, 'a')}"
        yield Figure(f"loss of lead {line.name}", banded(line.drop_v, "v"), how, "ASTM B258; IEC 60028", (lengths,))
