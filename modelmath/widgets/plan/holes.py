"""Where the holes lie on each wall, as HTML."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.job import Plan
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.plan.folds import figure

if TYPE_CHECKING:
    from modelmath.job.space.hole_places import WallHoles

NONE = (
    "No holes are laid out yet: enter lamps, strands or wires, and the shell's inside width, so that there is a "
    "bulkhead they pass."
)


def holes(plan: Plan) -> str:
    """Return the holes wall by wall: a figure, what to mark out, the least web, each web that is too thin."""
    walls = plan.hole_places
    if not walls:
        return look.paragraph(NONE)
    return "".join(_wall(each) for each in walls) + cautioned("small drills")


def _wall(each: WallHoles) -> str:
    from modelmath.drawings.figures.views.holes import holes_svg

    head = look.heading(f"Holes in the {each.wall}")
    if each.layout is None:
        return head + look.problem(each.problem)
    thin = {f"{web.text} {web.remedy}" for web in each.layout.too_thin}
    marked = each.layout.marking_out
    said = [words for words in each.sentences if words not in marked]
    rest = "".join(look.problem(words) if words in thin else look.paragraph(words) for words in said)
    return head + figure(holes_svg(each)) + look.bullets(marked) + rest
