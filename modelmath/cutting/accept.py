"""What cutting a plan does to the drawer: what it takes out, and the offcuts it puts back."""

from __future__ import annotations

from modelmath.cutting.from_drawer import Cutting
from modelmath.materials import Section, parse_stock
from modelmath.materials.drawer.drawer import Drawer, Use, take_out
from modelmath.materials.drawer.items import Item


def uses_of(cutting: Cutting) -> tuple[list[Use], list[Item]]:
    """Return what a plan takes out of the drawer, and the offcuts worth keeping that it leaves.

    What is bought is not taken out; its offcuts go into the drawer like the others.

    Parameters
    ----------
    cutting : Cutting
        The plan. [mm]

    Returns
    -------
    tuple of (list of Use, list of Item)
        Pieces taken out, and offcuts put back. [mm]

    References
    ----------
    None needed.
    """
    strips, layout = cutting.strips.strips, cutting.layout
    sheets = () if layout is None else layout.sheets
    takes = [
        Use(_kind(each.stock_name), each.stock_name, each.length_mm, None, 1, each.kind == "offcut")
        for each in strips
        if each.kind != "to buy"
    ]
    takes += [
        Use("sheet", each.stock_name, each.length_mm, each.width_mm, 1, each.kind == "offcut")
        for each in sheets
        if each.kind != "to buy"
    ]
    back = [
        Item(_kind(each.stock_name), each.stock_name, each.offcut_mm, None, 1, True) for each in strips if each.kept
    ]
    back += [
        Item("sheet", sheet.stock_name, max(each.length_mm, each.width_mm), min(each.length_mm, each.width_mm), 1, True)
        for sheet in sheets
        for each in sheet.offcuts
    ]
    return takes, back


def _kind(name: str) -> str:
    """Return whether what is cut to length is strip or a shape."""
    return "shape" if isinstance(parse_stock(name), Section) else "strip"


def after_cutting(drawer: Drawer, cutting: Cutting) -> Drawer:
    """Return the drawer once a plan is cut.

    Parameters
    ----------
    drawer : Drawer
        The drawer. [mm]
    cutting : Cutting
        The plan. [mm]

    Returns
    -------
    Drawer
        Without what the plan cuts, and with its offcuts. [mm]

    Raises
    ------
    NotInDrawer
        If something the plan cuts is no longer there; nothing is taken out then.

    References
    ----------
    None needed.
    """
    return take_out(drawer, *uses_of(cutting))
