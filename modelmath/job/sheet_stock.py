"""The parts of a plan that come from sheet, laid out for scoring and snapping."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError
from modelmath.job.bench.bench import Bench
from modelmath.job.stock import blanks_of

if TYPE_CHECKING:
    from modelmath.cutting import Blank
    from modelmath.cutting.sheet_layout import SheetPlan, SheetStock
    from modelmath.job.stock import PartLine


@dataclass(frozen=True)
class SheetAnswer:
    """A layout, or why there is none.

    Attributes
    ----------
    layout : SheetPlan or None
        The layout of all parts whose width is known and that sheet can give; None where there is none. [mm]
    reason : str
        What can't be laid out and why, or what is left to the bench; empty if nothing is. [-]
    """

    layout: SheetPlan | None
    reason: str = ""


def sheet_answer(lines: Sequence[PartLine], bench: Bench) -> SheetAnswer:
    """Lay out the parts that are cut from sheet, from the sheet on hand and new sheet.

    A part that is held against the shell and trimmed has no width to lay out; it is named in the reason.

    Parameters
    ----------
    lines : sequence of PartLine
        The parts with what they are cut from. [mm]
    bench : Bench
        For the sheet on hand, the size of new sheet and the least offcut. [mm]

    Returns
    -------
    SheetAnswer
        The layout. [mm]

    References
    ----------
    `lay_out_sheet`.
    """
    cut = blanks_of(lines, bench.job.build.count)
    known = [each for each in cut if each.width_mm is not None]
    held = ", ".join(each.name for each in cut if each.width_mm is None)
    rest = f"Not laid out, as they are held against the shell and trimmed: {held}." if held else ""
    if not known:
        return SheetAnswer(None, rest)
    from modelmath.cutting.from_drawer import lay_out_what_fits
    from modelmath.cutting.sheet_layout import SheetPart

    parts = [
        SheetPart(each.name, each.length_mm, each.width_mm, each.count, each.sheet.name)
        for each in known
        if each.width_mm is not None
    ]
    useful = bench.length(bench.job.build.least_offcut, "build", "least_offcut")
    try:
        layout, left_out = lay_out_what_fits(parts, _stock(known, bench), useful)
    except ModelMathError as reason:
        return SheetAnswer(None, f"{reason} {rest}".strip())
    return SheetAnswer(layout, " ".join([*left_out, rest]).strip())


def _stock(blanks: Sequence[Blank], bench: Bench) -> list[SheetStock]:
    """Return the sheet on hand and, of each kind asked for, new sheet as many as needed."""
    from modelmath.cutting.from_drawer import sheet_stock

    build = bench.job.build
    long, wide = (
        bench.length(getattr(build, name), "build", name, zero=False)
        for name in ("new_sheet_length", "new_sheet_width")
    )
    kinds = tuple(dict.fromkeys(each.sheet for each in blanks))
    return sheet_stock(kinds, bench.on_hand, (long, wide))
