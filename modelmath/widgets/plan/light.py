"""What lights in the plan, as HTML: lamps and their outputs, strands and lenses, leads, and the wiring drawn."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job import Plan
from modelmath.job.several import each_for, for_models
from modelmath.lengths.text import format_length
from modelmath.light.feeding.amounts import banded
from modelmath.light.feeding.keep_alive import keep_alive_cautions
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.plan.folds import figure

if TYPE_CHECKING:
    from modelmath.job.light.fed import LeadLine
    from modelmath.job.light.lamps import LampLine
    from modelmath.job.light.strands import StrandLine
    from modelmath.quantities.band import Band

NO_LAMPS = "Enter a lamp under “Lamps and wires”, and here what it is: then its resistor and its output follow."
NO_STRANDS = "Enter where a strand leads from its lamp: then its length, its bends and its lens follow."
NO_LEADS = "Enter how far a lead runs, and what it carries or the output it comes from: then its gauge follows."


def lamps(plan: Plan) -> str:
    """Return every lamp with its resistor and its output, and what the outputs give."""
    lines = plan.light.lamps
    if not lines:
        return look.paragraph(NO_LAMPS)
    rows = [_lamp(each) for each in lines]
    heads = ("Lamp", "Is", "Output", "Resistor", "Draws", "What to fit, and what it does")
    shown = look.table("Lamps", heads, rows, "mm-advice")
    assumed = [sentence for each in lines for sentence in each.assumed]
    notes = look.bullets(assumed) if assumed else ""
    return shown + notes + _budget(plan) + _heat(plan) + _kept(plan) + cautioned("lamps", "hot iron")


def _lamp(line: LampLine) -> tuple[str, ...]:
    if line.circuit is None:
        return line.name, "-", "-", "-", "-", "Enter above what it is."
    entry = line.circuit.entry
    what = f"{entry.leds} LEDs in series" if line.source == "LED" and entry.leds > 1 else line.source
    drawn = "-" if line.load is None else banded(line.load.current_a, "a")
    resistor = f"{line.resistor}, fitted" if line.resistor and line.fitted else line.resistor or "none"
    return line.name, what, line.output or "none yet", resistor, drawn, line.in_words


def _budget(plan: Plan) -> str:
    found = plan.light.budget
    if found is None:
        return ""
    said = look.heading("What the decoder has to give") + look.paragraph(found.in_words)
    said += "".join(look.problem(each) for each in found.faults)
    others = (*found.doubts, *found.notes)
    return said + (look.bullets(others) if others else "")


def _heat(plan: Plan) -> str:
    found = plan.light.heat
    return "" if found is None else look.heading("How warm it gets") + look.paragraph(found.in_words)


def _kept(plan: Plan) -> str:
    found = plan.light.keep_alive
    if found is None:
        return ""
    said = look.heading("Keep-alive")
    if found.problem is not None:
        return said + look.problem(str(found.problem))
    if found.does is not None:
        said += look.paragraph(found.does.in_words) + "".join(look.problem(each) for each in found.does.faults)
        said += look.bullets(found.does.cautions)
    if found.needed_f is not None:
        said += look.paragraph(f"The gap entered takes {_capacitance(found.needed_f)}.")
        if found.does is None:
            said += look.bullets(keep_alive_cautions())
    return said


def _capacitance(needed: Band) -> str:
    return banded(needed, "f")


# Strands and lenses.


def strands(plan: Plan) -> str:
    """Return every strand: its length, its hole, its bends, its light, and its lens with the cautions."""
    lines = plan.light.strands
    if not lines:
        return look.paragraph(NO_STRANDS)
    heads = ("Strand", "From", "Thick", "Cut", "Through", "Lens", "Melted", "Shorter by")
    shown = look.table(f"Strands and lens ends{each_for(plan.models)}", heads, [_strand(each) for each in lines], "")
    return shown + "".join(_notes(each) for each in lines) + _matched(plan) + _gauges(plan) + _mind(plan)


def _strand(line: StrandLine) -> tuple[str, ...]:
    thick = format_length(line.diameter_mm, "mm")
    cut = "-" if line.length is None else f"{float(line.length.cut_mm):.1f} mm"
    through = f"{line.hole} in the {line.wall}, {line.drill}" if line.hole else "no wall"
    if line.lens_mm is None or line.melt is None:
        return line.name, line.lamp, thick, cut, through, "none", "-", "-"
    lens = f"{line.lens_mm:.2f} mm, {line.lens_from}"
    return (
        line.name, line.lamp, thick, cut, through, lens, f"{line.melt.melted_mm:.2f} mm",
        f"{line.melt.shortens_by_mm:.2f} mm",
    )  # fmt: skip


def _notes(line: StrandLine) -> str:
    wrong = "" if line.problem is None else look.problem(f"{line.name}: {line.problem}")
    said = [*([line.length.in_words] if line.length is not None else []), *line.notes]
    if not said:
        return wrong
    return f"{wrong}<details><summary>{look.text(line.name)}</summary>{look.bullets(said)}</details>"


def _matched(plan: Plan) -> str:
    found = plan.light.matched
    if not found:
        return ""
    said = look.heading("How alike they shine") + cautioned("lamps")
    for lamp, match in found:
        rows = [(each.name, f"{each.percent:.0f} %", f"{each.below_db:.1f} dB") for each in match.lenses]
        said += look.table(f"The lenses of {lamp}", ("Lens", "Of the brightest", "Below it"), rows, "mm-short")
        said += look.paragraph(match.in_words)
    return said


def _gauges(plan: Plan) -> str:
    found = plan.light.gauge_strips
    if not found:
        return ""
    said = look.heading("Strips of holes to match them by")
    said += look.paragraph(
        "Drill these in scrap sheet; the packet has them at true size. Two ends match that go into the same hole and "
        "not into the next smaller one."
    )
    rows = [
        (", ".join(each.strands), f"{each.lens_mm:.2f} mm", ", ".join(hole.name for hole in each.holes))
        for each in found
    ]
    return said + look.table("Gauge strips", ("For", "Lens", "Holes"), rows)


def _mind(plan: Plan) -> str:
    lines = plan.light.strands
    formed = ("hot air and water",) if any(each.to_form for each in lines) else ()
    drilled = ("small drills",) if plan.light.gauge_strips else ()
    cold = cautioned("knife", *drilled, *formed)
    if not any(each.melt is not None for each in lines):
        return cold
    return cold + look.heading("Before you form a lens") + cautioned("flame", "hot iron")


# Leads.


def leads(plan: Plan) -> str:
    """Return every lead, and what crosses from chassis to shell."""
    lines = plan.light.leads
    if not lines:
        return look.paragraph(NO_LEADS)
    heads = ("Lead", "Wires", "Cut each", "Colour", "Carries", "Gauge", "Loses")
    shown = look.table(f"Leads{for_models(plan.models)}", heads, [_lead(each, plan.models) for each in lines], "")
    wrong = "".join(look.problem(each.problem) for each in lines if each.problem)
    contacts, mind = plan.light.contacts, cautioned("knife", "hot iron", "electricity")
    if contacts is None:
        return shown + wrong + mind
    said = look.paragraph(contacts.in_words) + "".join(look.problem(each) for each in contacts.faults)
    return shown + wrong + said + (look.bullets(contacts.notes) if contacts.notes else "") + mind


def _lead(line: LeadLine, models: int) -> tuple[str, ...]:
    carries = "-" if line.current_a is None else banded(line.current_a, "a")
    lost = "-" if line.drop_v is None else banded(line.drop_v, "v")
    cut = format_length(line.cut_mm, "mm")
    return line.name, str(line.count * models), cut, line.colour or "-", carries, line.gauge or "-", lost


def diagram(plan: Plan) -> str:
    """Return the wiring, drawn."""
    if not any(_drawn(plan)):
        return ""
    from modelmath.drawings.wiring.diagram import wiring_svg

    return look.heading("Wiring diagram") + figure(wiring_svg(plan))


def _drawn(plan: Plan) -> Iterator[bool]:
    yield plan.light.entered
    yield any(each.circuit is not None for each in plan.light.lamps)
