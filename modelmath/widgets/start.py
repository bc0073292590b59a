"""The start page: what is here, by task."""

from __future__ import annotations

import ipywidgets as w

from modelmath.job.cautions import cautions_on
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import page

TASKS = (
    ("enclosure", "I want a speaker in a sealed chamber", "from two readings to the bench card you cut from"),
    ("clearance", "How much should I leave?", "the chance of touching, mark by mark, and what to measure again first"),
    ("moving", "Trucks swing in there", "what trucks, drive line and flywheel sweep; a shell that hinges off"),
    ("sound", "What will this chamber do?", "-3 dB point, level, load and leaks from a speaker's size and a volume"),
    ("light", "Which resistor, which strand?", "LED resistors, bulbs, strands and their lenses, wire, keep-alive"),
    ("measure", "Measure a speaker", "its resonance, Q and Vas from an impedance sweep, each with its uncertainty"),
    ("readings", "I have a reading", "a mark on a rule whose zero stands in from its end, as a length"),
    ("tables", "I have a whole table of readings", "mixed units and rules, pasted or from a file, row by row"),
    ("calibrate", "Is my rule right?", "its zero and its scale, from drill shanks and other sizes you know"),
    ("prototype", "I have the prototype's size", "full size to any scale and back; sizes from a drawing or photograph"),
    ("strips", "I need a strip of this height", "by how the strip is used; glued up; one for a set; shims; names"),
    ("drills", "Which drill passes this?", "strands, wires and bundles; four drill sets; wire gauges"),
    ("cuts", "I want to cut it all", "strips and sheets with little waste, where to set the rule, what to buy"),
    (
        "fleet",
        "I have several models",
        "all jobs as a table; two compared; one cut plan and shopping list; what is next on each",
    ),
    ("drawer", "What do I have?", "strip, sheet, wire, strand and drills on hand, with their offcuts"),
)


def start_page() -> w.VBox:
    """Return the start page: the tasks, the main path first, and how to begin."""
    items = "".join(
        f'<li><a href="{look.text(name)}.ipynb"><strong>{look.text(task)}</strong></a><br>'
        f'<span class="mm-soft">{look.text(what)}</span></li>'
        for name, task, what in TASKS
    )
    how = (
        "Each page works as soon as it opens. Type what you read, press Enter, and see what follows. A half-typed or "
        "impossible entry gets a message beside it, and the last good result stays."
    )
    mind = "".join(look.paragraph(each.text, "mm-soft") for each in cautions_on("numbers"))
    return page(w.HTML(f"<ul>{items}</ul>{look.paragraph(how)}{mind}"))
