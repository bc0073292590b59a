"""What a plan has to buy, and what is cut off a sheet as a strip because no layout holds it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan
    from modelmath.cutting.sheet_layout import SheetPlan
    from modelmath.cutting.sheets import SheetStrip


def cut_as_strips(cuts: CutPlan, layout: SheetPlan | None) -> tuple[SheetStrip, ...]:
    """Return the strips to cut off a sheet whose parts are in no layout.

    Parameters
    ----------
    cuts : CutPlan
        The cuts. [mm]
    layout : SheetPlan or None
        The layout of what is cut from sheet and has a known width. [mm]

    Returns
    -------
    tuple of SheetStrip
        All where there is no layout; else those as wide as the shell is inside. [mm]

    References
    ----------
    None needed.
    """
    return tuple(strip for strip in cuts.sheets if layout is None or strip.width_mm is None)


def to_buy(cuts: CutPlan, layout: SheetPlan | None) -> tuple[str, ...]:
    """Return the shopping list, strips first.

    Parameters
    ----------
    cuts : CutPlan
        The cuts. [mm]
    layout : SheetPlan or None
        The layout of what is cut from sheet. [mm]

    Returns
    -------
    tuple of str
        What to ask for, line by line; nothing where all is on hand. [-]

    References
    ----------
    None needed.
    """
    from modelmath.cutting.sheets import sheets_to_buy

    strips = [f"{each.count} × {each.stock_name}, {format_length(each.length_mm, 'mm')} long" for each in cuts.shopping]
    sheets = [each.text for each in (() if layout is None else layout.shopping)]
    return (*strips, *sheets, *(each.text for each in sheets_to_buy(cut_as_strips(cuts, layout))))
