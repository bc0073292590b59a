"""What a plan has to buy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan
    from modelmath.cutting.sheet_layout import SheetPlan


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
    strips = [f"{each.count} × {each.stock_name}, {format_length(each.length_mm, 'mm')} long" for each in cuts.shopping]
    sheets = [each.text for each in (() if layout is None else layout.shopping)]
    return (*strips, *sheets, *(each.text for each in cuts.sheet_shopping))
