"""Figures of the cut plan: losses, stops, strips, what each goal came to; sheets with their snaps, what to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.errors import OutOfRange
from modelmath.job.why._words import SETTING, in_mm
from modelmath.job.why.figures import Figure
from modelmath.job.why.made._sizes import size_name

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan
    from modelmath.cutting.plan import CutStrip
    from modelmath.cutting.sheet_layout import CutSheet
    from modelmath.job.plan import Plan

LOST, TRIM, KEPT = "lost at each saw cut", "trimmed off one end", "least offcut kept"
PROVEN = "column generation and its exact bound"
PARTED = "sheets parted right across; each bound from sides and areas"


def cuts(plan: Plan) -> Iterator[Figure]:
    """Yield what is lost, each stop, each strip, how good the plan is, and what to buy of strip."""
    found, build = plan.cuts, plan.job.build
    entered = ((LOST, found.kerf_mm, build.kerf), (TRIM, found.end_trim_mm, build.end_trim))
    for name, value, typed in (*entered, (KEPT, found.least_offcut_mm, build.least_offcut)):
        yield Figure(name, in_mm(value), f"as entered, {typed}", "the job, build; common practice, no source")
    for strip in found.strips:
        yield _strip(plan, strip)
    yield from _stops(plan)
    for strip_of_sheet in found.sheets:
        pieces = "; ".join(f"{each.count} × {each.name}, {in_mm(each.length_mm)}" for each in strip_of_sheet.blanks)
        below = _sizes(plan, {each.name for each in strip_of_sheet.blanks})
        name = f"strip of {strip_of_sheet.sheet.name}, {', '.join(each.name for each in strip_of_sheet.blanks)}"
        how = f"{pieces}. {strip_of_sheet.text}"
        yield Figure(name, in_mm(strip_of_sheet.length_mm), how, "the lengths of its pieces, added", below)
    below = tuple(f"strip {each.number}" for each in found.strips)
    for number, (name, text) in enumerate(found.goals, start=1):
        yield Figure(f"goal {number} of the cut plan: {name}", text, "compared with its bound", PROVEN, below)
    yield from _bought(plan, found, below)


def _bought(plan: Plan, found: CutPlan, below: tuple[str, ...]) -> Iterator[Figure]:
    for each in found.shopping:
        value = f"{each.count} × {each.stock_name}, {in_mm(each.length_mm)} long"
        how = "new strips that the cut plan cuts into and the drawer has not"
        yield Figure(f"to buy: {each.stock_name}", value, how, "the drawer; data/strip_series.csv", below)
    for sheet in found.sheet_shopping:
        named = {blank.name for strip in sheet.strips for blank in strip.blanks}
        how = "sheet for the strips cut from it"
        below = _sizes(plan, named)
        yield Figure(f"to buy: {sheet.sheet.name}", sheet.text, how, "the drawer; data/strip_series.csv", below)


def _strip(plan: Plan, strip: CutStrip) -> Figure:
    pieces = Counter((cut.part, cut.length_mm) for cut in strip.cuts)
    listed = "; ".join(f"{count} × {part} {in_mm(length)}" for (part, length), count in pieces.items())
    value = f"{in_mm(strip.offcut_mm)}, {'kept' if strip.kept else 'scrap'}" if strip.offcut_mm else "nothing left over"
    how = f"{strip.stock_name}, {in_mm(strip.length_mm)}, {strip.kind}, less {listed} and what is lost"
    below = (*_sizes(plan, {cut.part for cut in strip.cuts}), LOST, TRIM, KEPT)
    return Figure(f"strip {strip.number}", value, how, "addition", below)


def _stops(plan: Plan) -> Iterator[Figure]:
    """Yield each stop; a length that two models share, or a part's size, is one."""
    for stop in plan.cuts.stops:
        pieces = Counter(("strip " + str(number), part) for number, part in stop.cuts) + Counter(stop.elsewhere)
        listed = "; ".join(f"{count} × {part} from {source}" for (source, part), count in pieces.items())
        try:
            value = plan.marks.setting(stop.length_mm).text
        except OutOfRange:
            value = "longer than the rule"
        how = f"{SETTING}; {in_mm(stop.length_mm)}, {stop.count} pieces: {listed}"
        below = (*_sizes(plan, {part for _, part in pieces}), f"rule: {plan.marks.rule.name}")
        yield Figure(f"stop at {in_mm(stop.length_mm)}", value, how, "arithmetic", below)


def _sizes(plan: Plan, names: set[str]) -> tuple[str, ...]:
    """Return the figures of the sizes of named parts; of made-up ones there are none."""
    found = tuple(size_name(plan, line.part) for line in plan.lines if line.part.name in names)
    return found or ("finest mark",)


def sheets(plan: Plan) -> Iterator[Figure]:
    """Yield how good the sheet layout is, each sheet with what lies on it, each snap, and what to buy of it."""
    layout = plan.sheet_layout.layout
    if layout is None:
        return
    parts = {piece.part for sheet in layout.sheets for piece in sheet.pieces}
    below = _sizes(plan, parts)
    many = str(len(layout.sheets))
    yield Figure("sheets cut into", many, layout.verdict, PARTED, below)
    for sheet in layout.sheets:
        yield from _sheet(plan, sheet)
    for each in layout.shopping:
        how = "new sheets that the layout cuts into and the drawer has not"
        yield Figure(f"to buy: {each.text}", each.text, how, "the drawer; the job, build", ("sheets cut into",))


def _sheet(plan: Plan, sheet: CutSheet) -> Iterator[Figure]:
    listed = "; ".join(f"{piece.part}, {_across(piece.length_mm, piece.width_mm)}" for piece in sheet.pieces)
    kept = "; ".join(_across(each.length_mm, each.width_mm) for each in sheet.offcuts) or "nothing"
    value = f"{sheet.stock_name}, {_across(sheet.length_mm, sheet.width_mm)}, {sheet.kind}"
    name = f"sheet {sheet.number}"
    below = (*_sizes(plan, {piece.part for piece in sheet.pieces}), KEPT)
    yield Figure(name, value, f"on it {listed}; kept {kept}", PARTED, below)
    for snap in sheet.snaps:
        try:
            setting = plan.marks.setting(snap.at_mm).text
        except OutOfRange:
            setting = "longer than the rule"
        how = f"{in_mm(snap.at_mm)} from the {snap.from_edge}; {SETTING}"
        yield Figure(f"{name}, snap {snap.number}", setting, how, PARTED, (name, f"rule: {plan.marks.rule.name}"))


def _across(length_mm: Fraction, width_mm: Fraction) -> str:
    return f"{in_mm(length_mm).removesuffix(' mm')} × {in_mm(width_mm)}"
