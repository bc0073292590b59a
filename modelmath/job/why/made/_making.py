"""Figures of how parts are made: what the mark leaves, where to set the rule for their places, strips that will do."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.errors import OutOfRange
from modelmath.job.volume import as_cut
from modelmath.job.why._words import SETTING, in_mm
from modelmath.job.why.figures import Figure
from modelmath.job.why.made._sizes import size_name

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.plan import Plan
    from modelmath.job.stock import PartLine
    from modelmath.materials import StripPick

MOST = 4  # strips named for a part, the best first
TABLES = "data/strip_series.csv and the drawer"


def parts(plan: Plan) -> Iterator[Figure]:
    """Yield of each part how many, what its mark leaves to its exact size, and the setting for its place."""
    for line in plan.lines:
        part = line.part
        size, rule = size_name(plan, part), f"rule: {plan.marks.rule.name}"
        left = f"exactly {in_mm(Fraction(part.cut.exact_mm))}, {_left_over(part)}"
        cut = in_mm(as_cut(plan, part.cut.cut_mm))
        how = f"{in_mm(part.cut.cut_mm)} is on a mark; as cut {cut}{_section(part)}. Made to: {part.made_to}"
        yield Figure(f"making of {part.name}", f"{part.count} × {part.name}, {left}", how, "arithmetic", (size, rule))
        yield from _shape(part, size)
        at = part.position_mm
        if at is not None and line.place is not None:
            where = f"{in_mm(abs(at))} from the {plan.mark_name}; {SETTING}"
            below = (f"{part.name} place", rule)
            yield Figure(f"{part.name} place setting", line.place.text, where, "arithmetic", below)


def _shape(part: Part, size: str) -> Iterator[Figure]:
    """Yield the outline of a wall that follows the shell, and where a light barrier is drilled for its strand."""
    if part.outline:
        value = ", ".join(f"{in_mm(2 * half)} at {in_mm(up)}" for up, half in part.outline)
        how = "its width at each height above its lower edge, as the shell's section has it"
        yield Figure(f"{part.name} outline", value, how, "elementary geometry", (size,))
    for opening in part.openings if part.kind == "barrier" else ():
        left = Fraction(opening.centre_mm) - _from_left(part)
        value = f"{in_mm(left)} from the left, {in_mm(Fraction(opening.from_edge_mm))} up"
        how = f"for {opening.words}, {in_mm(Fraction(opening.wide_mm))} across, where the strand passes"
        yield Figure(f"{part.name}, hole for {opening.words}", value, how, "arithmetic", (size, "hole clearance"))


def _from_left(part: Part) -> Fraction:
    """Return how far right of the chamber's centre line a part's left edge lies, as wide as it is at its widest."""
    half = max((Fraction(half) for _, half in part.outline), default=Fraction(part.width_mm or 0) / 2)
    sides = [(Fraction(block.left_mm), Fraction(block.right_mm)) for block in part.blocks]
    if not sides:
        return -half
    return (min(left for left, _ in sides) + max(right for _, right in sides)) / 2 - half


def _left_over(part: Part) -> str:
    over = part.cut.cut_mm - part.cut.exact_mm
    if over == 0:
        return "on the mark"
    return f"{in_mm(over)} to sand off" if over > 0 else f"{in_mm(-over)} room left"


def _section(part: Part) -> str:
    said = ""
    if part.section_mm is not None:
        which = "thickness" if part.use == "flat" else "width"
        said += f"; its {which} is to be {in_mm(part.section_mm)}"
    if part.width_mm is not None:
        said += f"; {in_mm(part.width_mm)} wide"
    if part.thickness_mm is not None:
        said += f"; {in_mm(part.thickness_mm)} thick in the layout"
    return said


def strips(plan: Plan) -> Iterator[Figure]:
    """Yield which strips will do for each part, with how far each is off and what to do with it."""
    alike: dict[tuple[StripPick, ...], list[PartLine]] = {}
    for line in plan.lines:
        if line.picks:
            alike.setdefault(line.picks[:MOST], []).append(line)
    for picks, lines in alike.items():
        named = ", ".join(line.part.name for line in lines)
        value = "; ".join(pick.name for pick in picks)
        how = " ".join(f"{pick.name}: {_advice(pick)}" for pick in picks)
        below = tuple(size_name(plan, line.part) for line in lines)
        yield Figure(f"strips that will do: {named}", value, how, TABLES, below)
    for line in plan.lines:
        if line.part.width_mm is not None:
            yield from _across(plan, line)


def _across(plan: Plan, line: PartLine) -> Iterator[Figure]:
    """Yield the setting for the width that a part has across its strip of sheet."""
    width = line.part.width_mm
    assert width is not None
    try:
        setting = plan.marks.setting(width).text
    except OutOfRange:
        return  # wider than the rule is long
    below = (size_name(plan, line.part), f"rule: {plan.marks.rule.name}")
    yield Figure(f"{line.part.name}, setting across", setting, f"{in_mm(width)} wide; {SETTING}", "arithmetic", below)


def _advice(pick: StripPick) -> str:
    off = "no section error" if pick.error_mm == 0 else f"{pick.error_mm:+.2f} mm{_in_scale(pick)}"
    advice = pick.advice if pick.sheet is None else ""  # what to do with sheet is the same for every sheet
    return f"{off}. {f'{advice} {pick.remark}'.strip()}".strip()


def _in_scale(pick: StripPick) -> str:
    return "" if pick.error_scale_in is None else f", {pick.error_scale_in:+.2f} scale in"
