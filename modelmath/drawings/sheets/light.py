"""Light and wiring in the packet: the diagram, lamps, leads, strands with their lenses, gauge strips at true size."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether

from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, SECTION, STRONG, gap, table, words
from modelmath.job.several import each_for, for_models
from modelmath.lengths.text import format_length
from modelmath.light.feeding.amounts import banded

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.light.lamps import LampLine
    from modelmath.job.light.strands import StrandLine

SMALLER = 0.575  # of drawings whose letters are made for the screen: 8 pt on paper


def light_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build what lights in the model. Empty where nothing of it is entered.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    `wiring_diagram`, `led_resistor`, `lens_melt_length`, `budget`.
    """
    if not plan.light.entered:
        return []
    return [
        words("Light and wiring", PAGE),
        *_diagram(plan),
        *_lamps(plan, width),
        *_leads(plan, width),
        *_strands(plan, width),
        *_gauge_strips(plan),
    ]


def _diagram(plan: Plan) -> Iterator[Flowable]:
    from modelmath.drawings.wiring.diagram import wiring_diagram

    if any(each.circuit is not None for each in plan.light.lamps):
        yield Sketch(wiring_diagram(plan), SMALLER)
        yield words("The decoder's own sheet decides what its terminals are called and which is the common.", NOTE)


def _lamps(plan: Plan, width: float) -> Iterator[Flowable]:
    lines = [each for each in plan.light.lamps if each.circuit is not None]
    if not lines:
        return
    yield words("Lamps", SECTION)
    widths = [26 * mm, 18 * mm, 20 * mm, 28 * mm, width - 92 * mm]
    yield table(("Lamp", "Output", "Resistor", "Draws", "What it does"), [_lamp(each) for each in lines], widths)
    for line in lines:
        for sentence in line.assumed:
            yield words(sentence, NOTE)
    found, heat, kept = plan.light.budget, plan.light.heat, plan.light.keep_alive
    if found is not None:
        yield gap(1)
        yield words(found.in_words, BODY)
        for fault in found.faults:
            yield words(fault, STRONG)
        for note in (*found.doubts, *found.notes):
            yield words(note, NOTE)
    if heat is not None:
        yield words(heat.in_words, BODY)
    if kept is not None and kept.does is not None:
        yield words(f"Keep-alive: {kept.does.in_words}", BODY)
        for caution in kept.does.cautions:
            yield words(f"Caution, keep-alive: {caution}", NOTE)
    yield from cautioned("lamps", "hot iron")


def _lamp(line: LampLine) -> list[str]:
    drawn = "—" if line.load is None else banded(line.load.current_a, "a")
    return [line.name, line.output or "none yet", line.resistor or "none", drawn, line.in_words]


def _leads(plan: Plan, width: float) -> Iterator[Flowable]:
    lines = plan.light.leads
    if not lines:
        return
    rows = [
        [each.name, str(each.count * plan.models), format_length(each.cut_mm, "mm"), each.colour or "—",
         each.gauge or "—", "—" if each.drop_v is None else banded(each.drop_v, "v")]
        for each in lines
    ]  # fmt: skip
    widths = [width - 134 * mm, 14 * mm, 22 * mm, 18 * mm, 18 * mm, 62 * mm]
    shown = table(("Lead", "Wires", "Cut each", "Colour", "Gauge", "Loses"), rows, widths)
    yield KeepTogether([words(f"Leads{for_models(plan.models)}", SECTION), shown])
    for each in lines:
        if each.problem:
            yield words(each.problem, STRONG)
    contacts = plan.light.contacts
    if contacts is not None:
        yield words(contacts.in_words, BODY)
        for fault in contacts.faults:
            yield words(fault, STRONG)
    yield from cautioned("knife", "electricity")


def _strands(plan: Plan, width: float) -> Iterator[Flowable]:
    lines = plan.light.strands
    if not lines:
        return
    widths = [width - 142 * mm, 28 * mm, 20 * mm, 36 * mm, 18 * mm, 18 * mm, 22 * mm]
    heads = ("Strand", "From", "Cut", "Through", "Lens", "Melted", "Shorter by")
    title = f"Strands and lens ends{each_for(plan.models)}"
    yield KeepTogether([words(title, SECTION), table(heads, [_strand(each) for each in lines], widths)])
    notes: dict[str, list[str]] = {}  # what is said of several is said once
    for line in lines:
        said = " ".join([*([] if line.problem is None else [str(line.problem)]), *line.notes])
        notes.setdefault(said, []).append(line.name)
    for said, names in notes.items():
        if said:
            yield words(f"{', '.join(names)}: {said}", NOTE)
    for lamp, match in plan.light.matched:
        yield words(f"The lenses of {lamp}: {match.in_words}", BODY)
    melted = ("flame",) if any(line.melt is not None for line in lines) else ()
    formed = ("hot air and water",) if any(line.to_form for line in lines) else ()
    yield from cautioned("knife", *melted, *formed)


def _strand(line: StrandLine) -> list[str]:
    cut = "—" if line.length is None else f"{float(line.length.cut_mm):.1f} mm"
    through = f"{line.hole}, {line.drill}" if line.hole else "no wall"
    if line.lens_mm is None or line.melt is None:
        return [line.name, line.lamp, cut, through, "none", "—", "—"]
    return [
        line.name, line.lamp, cut, through, f"{line.lens_mm:.2f} mm", f"{line.melt.melted_mm:.2f} mm",
        f"{line.melt.shortens_by_mm:.2f} mm",
    ]  # fmt: skip


def _gauge_strips(plan: Plan) -> Iterator[Flowable]:
    """Yield each strip at true size: two lens ends match where they go into the same hole and not into the next."""
    from modelmath.drawings.wiring.gauge_strip import gauge_strip_template

    mind = cautioned("small drills")  # once, beside the first of them
    for strip in plan.light.gauge_strips:
        names = ", ".join(strip.strands)
        said = (
            f"Gauge strip for {names}, {strip.lens_mm:.2f} mm, at true size: drill these holes in scrap sheet. Two "
            "ends match that go into the same hole and not into the next smaller one."
        )
        yield KeepTogether([gap(2), words(said, BODY), *mind, Sketch(gauge_strip_template(strip), mm, true_size=True)])
        mind = []
