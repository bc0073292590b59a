"""A cut plan as HTML: verdict, stops, strips, sheets, what to buy. Nothing is worked out here."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from modelmath.drawings.sizes import sentence
from modelmath.errors import OutOfRange
from modelmath.job.buying import to_buy
from modelmath.job.several import for_models
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look

if TYPE_CHECKING:
    from modelmath.clearance import Marks
    from modelmath.cutting import CutPlan
    from modelmath.cutting.from_drawer import Cutting
    from modelmath.cutting.sheet_layout import CutSheet, SheetPlan

WIDE = 640
MOST_SNAPS, TOGETHER = 15, 10  # snaps in one table; more are folded, so many at a time


def in_short(cutting: Cutting, models: int = 1) -> str:
    """Return new strips and sheets, scrap, longest offcut, how good that is; and for how many models, if several."""
    cuts, layout = cutting.strips, cutting.layout
    rows: list[tuple[str, str, str]] = []
    if models > 1 and (cuts.strips or layout is not None):
        rows.append(("For", f"{models} models", "mm-big"))
    if cuts.strips:
        rows.append(("Strip", _counts(cuts.new_strips, "strip", [strip.kind for strip in cuts.strips]), "mm-big"))
        left = f"{format_length(cuts.longest_offcut_mm, 'mm')} longest" if cuts.longest_offcut_mm else "none"
        scrap = format_length(cuts.scrap_mm, "mm")
        rows.append(("Left over", f"scrap {scrap} in all; offcuts to keep: {left}", ""))
        rows.append(("How good that is", f"{sentence(cuts.verdict)} {_later(cuts)}".strip(), ""))
    if layout is not None:
        rows.append(("Sheet", _counts(layout.new_sheets, "sheet", [sheet.kind for sheet in layout.sheets]), "mm-big"))
        rows.append(("How good that is", f"{sentence(layout.verdict)} Of its scrap and offcuts nothing is proven.", ""))
    body = "".join(f'<dt>{look.text(label)}</dt><dd class="{css}">{look.text(said)}</dd>' for label, said, css in rows)
    return f'<div class="mm-card" role="status"><dl>{body}</dl></div>' if rows else ""


def _counts(whole: int, word: str, kinds: list[str]) -> str:
    """Return how many whole pieces are cut into, how many of them are to be bought, how many offcuts are used."""
    old, bought = kinds.count("offcut"), kinds.count("to buy")
    offcuts = f"{old} offcut{'' if old == 1 else 's'}"
    if not whole:
        return f"{offcuts}, no whole {word}"
    buy = "none" if not bought else "all" if bought == whole else f"{bought} of them"
    return f"{whole} whole {word}{'' if whole == 1 else 's'}, {buy} to buy" + (f"; {offcuts}" if old else "")


def _later(cuts: CutPlan) -> str:
    """Return which of scrap and longest offcut are proven too, over all kinds of strip."""
    said = []
    for goal, words in (("scrap", "the least scrap"), ("longest offcut", "the longest offcut")):
        proven = all(verdict.stage(goal).proven for verdict in cuts.verdicts)
        said.append(f"{words}{'' if proven else ' not'} proven")
    return f"{', '.join(said).capitalize()}."


def goals(cutting: Cutting) -> str:
    """Return each goal in turn, for each kind of strip, with what is proven."""
    rows = [
        (verdict.stock_name, at, stage.text)
        for verdict in cutting.strips.verdicts
        for at, stage in enumerate(verdict.stages, start=1)
    ]
    if cutting.layout is not None:
        rows += [(verdict.stock_name, 1, sentence(verdict.text)) for verdict in cutting.layout.verdicts]
    table = look.table("Goals, each among the plans as good by those before it", ("Stock", "Rank", "How good"), rows)
    return look.folded("What is proven of this plan, goal by goal", table) if rows else ""


def stops(cuts: CutPlan, marks: Marks | None) -> str:
    """Return the stop settings: where to set the rule, and every piece to cut before it is moved."""
    from modelmath.drawings.figures.stops import figures_of_stops
    from modelmath.drawings.svg import to_svg
    from modelmath.drawings.template import letter_of

    if not cuts.stops:
        return ""
    rows = []
    for number, stop in enumerate(cuts.stops):
        pieces: dict[str, int] = {}
        for strip, part in stop.cuts:
            words = f"{part} from strip {strip}"
            pieces[words] = pieces.get(words, 0) + 1
        for source, part in stop.elsewhere:
            words = f"{part} from {source}"
            pieces[words] = pieces.get(words, 0) + 1
        listed = "; ".join(f"{count} × {words}" for words, count in pieces.items())
        setting = "" if marks is None else _setting(marks, stop.length_mm)
        rows.append((letter_of(number), setting, format_length(stop.length_mm, "mm"), listed))
    heads = ("Stop", "Set the rule at", "Length", "Pieces, all at this stop before it is moved")
    table = look.table("Stops, longest first", heads, rows, "mm-advice")
    if marks is None:
        return table
    return table + "".join(
        _figure(to_svg(each, WIDE), f"Stops on the rule, figure {number}")
        for number, each in enumerate(figures_of_stops(cuts.stops, marks, WIDE), start=1)
    )


def _setting(marks: Marks, length: object) -> str:
    try:
        return marks.setting(length).text  # type: ignore[arg-type]
    except OutOfRange:
        return "longer than the rule"


def strips(cuts: CutPlan) -> str:
    """Return each strip as a bar; the letters are those of the stops."""
    from modelmath.drawings.figures.bars import strip_bars
    from modelmath.drawings.svg import to_svg

    if not cuts.strips:
        return ""
    bars = "".join(to_svg(bar, WIDE) for bar in strip_bars(cuts, WIDE))
    return look.heading("Strips, in proportion") + _figure(bars, "Strips, in proportion")


def sheets(layout: SheetPlan | None, marks: Marks | None) -> str:
    """Return each sheet with its snaps, and the snaps in words."""
    if layout is None:
        return ""
    return look.heading("Sheets: score and snap in this order") + "".join(
        _sheet(sheet, marks) for sheet in layout.sheets
    )


def _sheet(sheet: CutSheet, marks: Marks | None) -> str:
    from modelmath.drawings.figures.sheet_larger import crowded_corner
    from modelmath.drawings.figures.sheet_snaps import TALLEST, sheet_snaps
    from modelmath.drawings.svg import to_svg

    name = f"Sheet {sheet.number}"
    whole = _figure(to_svg(sheet_snaps(sheet, WIDE), WIDE), name)
    corner = crowded_corner(sheet, TALLEST)
    if corner is None:
        return whole + _snaps(sheet, marks)
    larger = _figure(to_svg(sheet_snaps(corner, WIDE, sheet), WIDE), f"{name}, its lower left corner")
    return larger + look.folded(f"{name}, the whole of it", whole) + _snaps(sheet, marks)


def _snaps(sheet: CutSheet, marks: Marks | None) -> str:
    """Return the snaps in words; many of them are folded in tens, of which a phone shows the one in work."""
    heads = ("Snap", *(() if marks is None else ("Set the rule at",)), "Line", "Frees")
    rows = [
        (
            snap.number,
            *(() if marks is None else (_setting(marks, snap.at_mm),)),
            f"{format_length(snap.at_mm, 'mm')} from the {snap.from_edge}",
            snap.frees_text,
        )
        for snap in sheet.snaps
    ]
    whose = f"of sheet {sheet.number}"
    if len(rows) <= MOST_SNAPS:
        return look.table(f"Snaps {whose}", heads, rows)
    tens = [rows[at : at + TOGETHER] for at in range(0, len(rows), TOGETHER)]
    titles = [f"Snaps {ten[0][0]} to {ten[-1][0]} {whose}" for ten in tens]
    return "".join(look.folded(title, look.table(title, heads, ten)) for title, ten in zip(titles, tens, strict=True))


def by_stock(cutting: Cutting) -> str:
    """Return the cut list by stock: what is cut from each strip and sheet."""
    rows = [
        (
            f"strip {strip.number}",
            strip.stock_name,
            f"{format_length(strip.length_mm, 'mm')}, {strip.kind}",
            _counted(f"{cut.part} {format_length(cut.length_mm, 'mm')}" for cut in strip.cuts),
            f"{format_length(strip.offcut_mm, 'mm')}, {'keep' if strip.kept else 'scrap'}"
            if strip.offcut_mm
            else "nothing",
        )
        for strip in cutting.strips.strips
    ]
    for sheet in () if cutting.layout is None else cutting.layout.sheets:
        size = f"{format_length(sheet.length_mm, 'mm')} × {format_length(sheet.width_mm, 'mm')}, {sheet.kind}"
        left = _counted(
            f"{format_length(each.length_mm, 'mm')} × {format_length(each.width_mm, 'mm')}" for each in sheet.offcuts
        )
        rows.append((f"sheet {sheet.number}", sheet.stock_name, size, _counted(p.part for p in sheet.pieces), left))
    return look.table("Cut list by stock", ("Stock", "What", "Size", "Parts", "Left over"), rows, "mm-advice")


def _counted(words: Iterable[str]) -> str:
    counts: dict[str, int] = {}
    for each in words:
        counts[each] = counts.get(each, 0) + 1
    return "; ".join(f"{count} × {each}" for each, count in counts.items())


def shopping(cutting: Cutting, models: int = 1) -> str:
    """Return what to buy, and for how many models, if several."""
    items = to_buy(cutting.strips, cutting.layout)
    said = look.bullets(items) if items else look.paragraph("Nothing: all of it is on hand.")
    return look.heading(f"To buy{for_models(models)}") + said


def _figure(svg: str, name: str) -> str:
    """Return a figure that moves sideways where the page is narrow."""
    return f'<div class="mm-figure mm-wide" tabindex="0" role="region" aria-label="{name}">{svg}</div>'
