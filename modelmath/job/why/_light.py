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
    from modelmath.job.light.lamps import LampLine
    from modelmath.job.light.strands import StrandLine
    from modelmath.job.plan import Plan
    from modelmath.quantities.known import Known

SUPPLY, ALL_LAMPS = "voltage the lamps run on", "current of all lamps"
FEED = {"each": "limit of one output", "all": "limit of all outputs", "whole": "limit of the decoder"}
OHM = "Ohm's and Kirchhoff's laws; preferred values by IEC 60063"
SHEET = "the job, light: the decoder's own sheet"


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
    if plan.job.hole_layout.way != "row":
        return
    for line in plan.light.strands:
        yield from _lens(line)
        if line.route is None or line.length is None:
            continue
        holes = (f"hole: {line.hole}",) if line.hole else ()
        how = f"from place to place, its bends counted as arcs: {len(line.route.bends)}"
        yield Figure(f"way of {line.name}", in_mm(line.route.length_mm), how, "geometry; places as entered", holes)
        melted = (f"shortening by the lens of {line.name}",) if line.melt is not None else ()
        below = (f"way of {line.name}", *melted)
        yield Figure(
            f"length of {line.name}", in_mm(line.length.cut_mm), line.length.in_words, "addition", below
        )


def _lens(line: StrandLine) -> Iterator[Figure]:
    if line.lens_mm is None or line.melt is None:
        return
    yield Figure(f"lens of {line.name}", in_mm(line.lens_mm), line.lens_from, "its casting, or the prototype's lens, as entered")
    below = (f"lens of {line.name}",)
    how = f"volume of the head over the section of a strand of {format_length(line.diameter_mm, 'mm')}"
    source = "geometry of a spheroid; the user's trial ends"
    yield Figure(f"melted for {line.name}", in_mm(line.melt.melted_mm), how, source, below)
    shorter = f"shortening by the lens of {line.name}"
    how = "what is melted, less what the head stands out"
    yield Figure(shorter, in_mm(line.melt.shortens_by_mm), how, "geometry", (*below, f"melted for {line.name}"))


def leads(plan: Plan) -> Iterator[Figure]:
    """Yield each lead's length, current, gauge and loss."""
    for line in plan.light.leads:
        lengths = f"length of lead {line.name}"
        yield Figure(lengths, in_mm(line.cut_mm), "its run and what it is longer by", "addition")
        if line.drop_v is None or line.current_a is None:
            continue
        how = f"I R there and back with {line.gauge} and {banded(line.current_a, 'a')}"
        yield Figure(f"loss of lead {line.name}", banded(line.drop_v, "v"), how, "ASTM B258; IEC 60028", (lengths,))
