"""A drawer, a cut plan from it, and a packet without pages: what several tests of faults write."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from modelmath.cutting.from_drawer import Cutting, Settings, cut_list
from modelmath.cutting.typed import read_parts
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import Item, read_item


@cache
def drawer() -> Drawer:
    """Some strip and sheet, none of it made up by the program."""
    rows: tuple[dict[str, str], ...] = (
        {"kind": "strip", "name": "HO 6x6", "length": "280 mm", "count": "3"},
        {"kind": "sheet", "name": ".040 sheet", "length": "300 mm", "width": "150 mm", "count": "1"},
    )
    items: tuple[Item, ...] = tuple(read_item(row) for row in rows)
    return Drawer(items)


@cache
def cutting() -> Cutting:
    """A cut plan that takes strip and sheet out of that drawer and puts offcuts back."""
    parts = read_parts("post; 90 mm; 4; HO 6x6\nwall; 60 x 40 mm; 2; .040 sheet", "HO")
    return cut_list(parts, drawer(), Settings(0, 1, 20, 355, (304, 152)))


def pages_of(folder: Path, content: str) -> Any:
    """Write a packet whose pages take no time: what is looked at is how its files are written."""
    from killing import numbered

    from modelmath.drawings.sheets import packet

    plan: Any = SimpleNamespace(job=numbered(0))  # nothing but its name is asked for
    before = packet.packet_pdf_in_steps
    packet.packet_pdf_in_steps = lambda _plan, _paper, _date: _pages(content)
    try:
        return packet.write_packet(plan, folder / "packets")
    finally:
        packet.packet_pdf_in_steps = before


def _pages(content: str) -> Any:
    from modelmath.steps import Progress

    yield Progress("Drawing")
    return content.encode()
