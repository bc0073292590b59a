"""A list of parts cut from a drawer and from what may be bought: strips and sheets in one answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeVar

from modelmath.cutting.plan import CutPlan
from modelmath.cutting.sheet_layout import SheetPart, SheetPlan, SheetStock
from modelmath.cutting.sheet_layout.layout import lay_out_sheet_in_steps
from modelmath.cutting.stock import CutPart, CutStock, stock_of
from modelmath.cutting.strips import plan_cuts_in_steps
from modelmath.cutting.typed import ListedParts
from modelmath.errors import DoesNotFit
from modelmath.materials import OnHand, Sheet
from modelmath.steps import InSteps, Progress, at_once, part_of

_Part = TypeVar("_Part", CutPart, SheetPart)
_Plan = TypeVar("_Plan")
STRIPS = 0.7  # how much of the whole the strips are, as it is told; roughly what they take


@dataclass(frozen=True)
class Settings:
    """How strip and sheet are cut, and what may be bought.

    Attributes
    ----------
    kerf_mm, end_trim_mm, least_offcut_mm : Fraction
        Saw cut on strip, end trim of strip, the shortest offcut worth keeping. [mm]
    new_strip_mm : Fraction
        Length of strip as sold. [mm]
    new_sheet_mm : tuple of Fraction
        Length and width of sheet as sold. [mm]
    """

    kerf_mm: Fraction
    end_trim_mm: Fraction
    least_offcut_mm: Fraction
    new_strip_mm: Fraction
    new_sheet_mm: tuple[Fraction, Fraction]


@dataclass(frozen=True)
class Cutting:
    """All that is cut.

    Attributes
    ----------
    strips : CutPlan
        From strip. [mm]
    layout : SheetPlan or None
        From sheet; None if nothing is. [mm]
    left_out : tuple of str
        Parts that no strip or sheet holds, and why, in words. [-]
    """

    strips: CutPlan
    layout: SheetPlan | None
    left_out: tuple[str, ...] = ()


def cut_list(parts: ListedParts, on_hand: OnHand | None, settings: Settings) -> Cutting:
    """Plan the cuts of listed parts from what is on hand and from new stock.

    A part that is too large for all of it, or too narrow to be snapped off, is left out and said.

    Parameters
    ----------
    parts : ListedParts
        What to cut. [mm]
    on_hand : OnHand or None
        The drawer; None to cut all from new stock. [mm]
    settings : Settings
        How. [mm]

    Returns
    -------
    Cutting
        Strips and sheets with their cuts. [mm]

    Raises
    ------
    DoesNotFit, OutOfRange
        If no place is found for all the parts together, or parts of one equal set differ.

    References
    ----------
    `plan_cuts`, `lay_out_sheet`.

    Examples
    --------
    >>> from modelmath.cutting.typed import read_parts
    >>> how = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction(300), (Fraction(300), Fraction(150)))
    >>> cutting = cut_list(read_parts("post; 21 mm; 4; HO 6x10"), None, how)
    >>> cutting.strips.new_strips, cutting.layout
    (1, None)
    """
    return at_once(cut_list_in_steps(parts, on_hand, settings))


def cut_list_in_steps(parts: ListedParts, on_hand: OnHand | None, settings: Settings) -> InSteps[Cutting]:
    """Plan the cuts of listed parts as `cut_list` does, one kind of strip or sheet after the other.

    Parameters
    ----------
    parts, on_hand, settings : as for `cut_list`
        What to cut, from what, and how. [mm]

    Yields
    ------
    Progress
        Before each kind of strip and of sheet. [-]

    Returns
    -------
    Cutting
        As `cut_list`. [mm]

    Raises
    ------
    DoesNotFit, OutOfRange
        As `cut_list`.

    References
    ----------
    `cut_list`.
    """
    held = [] if on_hand is None else stock_of([*on_hand.strips, *on_hand.shapes])
    names = dict.fromkeys(part.stock_name for part in parts.strips)
    stock = held + [CutStock(name, settings.new_strip_mm) for name in names]

    def strips_of(some: Sequence[CutPart]) -> InSteps[CutPlan]:
        return plan_cuts_in_steps(some, stock, settings.kerf_mm, settings.end_trim_mm, settings.least_offcut_mm)

    sheets = sheet_stock(parts.kinds, on_hand, settings.new_sheet_mm)

    strips, too_long = yield from part_of(_with_what_fits(parts.strips, strips_of), 0.0, STRIPS)
    laying_out = lay_out_what_fits_in_steps(parts.sheets, sheets, settings.least_offcut_mm)
    layout, too_large = yield from part_of(laying_out, STRIPS, 1.0)
    return Cutting(strips, layout, (*too_long, *too_large))


def lay_out_what_fits(
    parts: Sequence[SheetPart], stock: Sequence[SheetStock], least_offcut_mm: Fraction
) -> tuple[SheetPlan | None, tuple[str, ...]]:
    """Lay out the parts that sheet can give, and say of each of the others why it can't.

    Parameters
    ----------
    parts : sequence of SheetPart
        What is cut. [mm]
    stock : sequence of SheetStock
        Sheet on hand and to buy. [mm]
    least_offcut_mm : Fraction
        Least size of an offcut worth keeping. [mm]

    Returns
    -------
    layout : SheetPlan or None
        The layout of the parts that fit; None where none does. [mm]
    left_out : tuple of str
        Of each other part why it can't be cut, and what to do. [-]

    Raises
    ------
    DoesNotFit
        If each part has a place alone, but not all of them together.

    References
    ----------
    `lay_out_sheet`.
    """
    return at_once(lay_out_what_fits_in_steps(parts, stock, least_offcut_mm))


def lay_out_what_fits_in_steps(
    parts: Sequence[SheetPart], stock: Sequence[SheetStock], least_offcut_mm: Fraction
) -> InSteps[tuple[SheetPlan | None, tuple[str, ...]]]:
    """Lay out parts as `lay_out_what_fits` does, one kind of sheet after the other.

    Parameters
    ----------
    parts, stock, least_offcut_mm : as for `lay_out_what_fits`
        What is cut, from what, and how. [mm]

    Yields
    ------
    Progress
        Before each kind of sheet. [-]

    Returns
    -------
    tuple of SheetPlan or None, and tuple of str
        As `lay_out_what_fits`. [mm]

    Raises
    ------
    DoesNotFit
        As `lay_out_what_fits`.

    References
    ----------
    `lay_out_sheet`.
    """

    def layout_of(some: Sequence[SheetPart]) -> InSteps[SheetPlan | None]:
        return (yield from lay_out_sheet_in_steps(some, stock, None, least_offcut_mm)) if some else None

    layout, left_out = yield from _with_what_fits(parts, layout_of)
    return layout, tuple(left_out)


def _with_what_fits(
    parts: Sequence[_Part], plan_of: Callable[[Sequence[_Part]], InSteps[_Plan]]
) -> InSteps[tuple[_Plan, list[str]]]:
    """Return the plan of the parts that can be cut at all, and what is said of the others."""
    try:
        return (yield from plan_of(parts)), []
    except DoesNotFit:
        said = []
        for part in parts:
            yield Progress(f"Looking for a place for {part.name}")
            said.append(_why_not(part, plan_of))
        if not any(said):
            raise  # each has a place, but not all of them together
    fit = [part for part, why in zip(parts, said, strict=True) if why is None]
    return (yield from plan_of(fit)), [why for why in said if why is not None]


def _why_not(part: _Part, plan_of: Callable[[Sequence[_Part]], InSteps[object]]) -> str | None:
    try:
        at_once(plan_of([replace(part, count=1)]))
    except DoesNotFit as reason:
        return str(reason)
    return None


def sheet_stock(
    kinds: Sequence[Sheet], on_hand: OnHand | None, new_sheet_mm: tuple[Fraction, Fraction]
) -> list[SheetStock]:
    """Return the sheet on hand of the kinds asked for, and of each kind new sheet, as many as needed.

    Parameters
    ----------
    kinds : sequence of Sheet
        The sheet that parts are cut from. [mm]
    on_hand : OnHand or None
        The drawer. [mm]
    new_sheet_mm : tuple of Fraction
        Length and width of new sheet. [mm]

    Returns
    -------
    list of SheetStock
        The stock. [mm]

    References
    ----------
    None needed.
    """
    thick = {sheet.name: sheet.thickness_mm for sheet in kinds}
    held = [
        SheetStock(each.name, each.length_mm, each.width_mm, each.count, each.offcut, each.sheet.thickness_mm)
        for each in (() if on_hand is None else on_hand.sheets)
        if each.name in thick
    ]
    return held + [SheetStock(name, *new_sheet_mm, None, False, each) for name, each in thick.items()]
