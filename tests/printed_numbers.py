"""Every text that a packet prints, as it is set on its pages, with the unit that the head of a column gives."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from unittest import mock

from reportlab.platypus import KeepTogether, Paragraph, Table

from modelmath.drawings.shapes import Label, plain
from modelmath.drawings.sheets import packet
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import Headline, held_in
from modelmath.job.why.finding import UNITS


@dataclass(frozen=True)
class Printed:
    """A text on a page: its section, the text, the unit that its column's head gives, whether it is in a drawing."""

    section: str
    text: str
    unit: str = ""
    drawn: bool = False


class Drawn(str):
    """A text in a drawing, where a length in mm stands without its unit."""


def printed(plan: Any, paper: str = "A4") -> list[Printed]:
    """Return every text of a plan's packet, section by section, in the order of its pages."""
    story: list[Any] = []

    def caught(content: Any, *_rest: Any) -> bytes:
        story.extend(content)
        return b""

    with mock.patch.object(packet, "bind", caught):
        packet.packet_pdf(plan, paper)
    section, found = "Bench card", []
    for each in story:
        for text, unit in _texts(each):
            if isinstance(text, Headline):
                section = text.text or section
            words = re.sub("[\u00a0\u202f]", " ", text.getPlainText() if isinstance(text, Paragraph) else text)
            found.append(Printed(section, words, unit, isinstance(text, Drawn)))
    return found


def _texts(each: Any, unit: str = "") -> Iterator[tuple[Any, str]]:
    if isinstance(each, str | Paragraph):
        yield each, unit
    elif isinstance(each, KeepTogether):
        for one in held_in(each):
            yield from _texts(one, unit)
    elif isinstance(each, Sketch):
        yield from ((Drawn(plain(shape.text)), "mm") for shape in each.drawing.shapes if isinstance(shape, Label))
    elif isinstance(each, list | tuple):
        for one in each:
            yield from _texts(one, unit)
    elif isinstance(each, Table):
        yield from _cells(each)


def _cells(table: Table) -> Iterator[tuple[Any, str]]:
    """Yield the texts of a table; a column headed `Free depth, mm`, or `mm` alone, gives its numbers that unit."""
    rows = table._cellvalues
    units = [""] * len(rows[0])
    if table.repeatRows:
        heads = [" ".join(_words(cell)) for cell in rows[0]]
        units = [next((name for name in UNITS if re.fullmatch(rf"(?:.*, )?{name}", head)), "") for head in heads]
    for row in rows:
        for cell, unit in zip(row, units, strict=True):
            yield from _texts(cell, unit)


def _words(cell: Any) -> list[str]:
    return [text.getPlainText() if isinstance(text, Paragraph) else text for text, _ in _texts(cell)]
