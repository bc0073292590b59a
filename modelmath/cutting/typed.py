"""Parts as a person lists them: one a line, name, size, count and what it is cut from."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from modelmath.cutting.sheet_layout import SheetPart
from modelmath.cutting.stock import CutPart
from modelmath.errors import OutOfRange, UnreadableLength
from modelmath.lengths.lines import BadLine, columns_of, read_lines
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import Scale
from modelmath.materials import Sheet, parse_stock

EXAMPLE = "corner post; 21 mm; 4; HO 6x10"
EXAMPLE_SHEET = "bulkhead; 21 x 18.5 mm; 1; .040 sheet"
MOST_LINES = 500
MOST_PIECES = 2_000  # of one part: more is a slip
_BY = re.compile(r"\s*(?:[x×]|\bby\b)\s*")
_UNIT = re.compile(r".*?[0-9¼½¾⅛⅜⅝⅞]\s*(?P<unit>[^0-9¼½¾⅛⅜⅝⅞.,/]+)$")


@dataclass(frozen=True)
class ListedParts:
    """Parts that were listed.

    Attributes
    ----------
    strips : tuple of CutPart
        Those cut from strip. [mm]
    sheets : tuple of SheetPart
        Those cut from sheet. [mm]
    kinds : tuple of Sheet
        The sheet that is named, each once. [mm]
    bad : tuple of BadLine
        Lines that can't be read. [-]
    """

    strips: tuple[CutPart, ...]
    sheets: tuple[SheetPart, ...]
    kinds: tuple[Sheet, ...]
    bad: tuple[BadLine, ...]


def read_parts(text: str, scale: Scale | str | None = None) -> ListedParts:
    r"""Read a list of parts: ``name; size; count; stock``, and for parts that must be equal a fifth column, their set.

    The size of a part cut from strip is one length; of one cut from sheet it is two, ``21 x 18.5 mm``.

    Parameters
    ----------
    text : str
        The lines. [-]
    scale : Scale, str or None
        Scale of lumber sizes and scale feet without a name. [-]

    Returns
    -------
    ListedParts
        The parts, and the lines that can't be read. [mm]

    Raises
    ------
    OutOfRange
        If there are too many lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> found = read_parts("corner post; 21 mm; 4; HO 6x10\nbulkhead; 21 x 18.5 mm; 1; .040 sheet")
    >>> found.strips[0].stock_name, float(found.sheets[0].width_mm)
    ('HO 6x10', 18.5)
    """
    sheets: dict[str, Sheet] = {}

    def read(_number: int, line: str) -> CutPart | SheetPart:
        columns = columns_of(line)
        if len(columns) not in (4, 5) or not all(columns[:4]):
            advice = f"name; size; count; what it is cut from, such as {EXAMPLE}"
            raise UnreadableLength(line, "it has not four columns", advice)
        name, size, count, stock = columns[:4]
        equal_set = columns[4] or None if len(columns) == 5 else None
        made = parse_stock(stock, scale)
        if isinstance(made, Sheet):
            sheet = made
            sheets.setdefault(sheet.name, sheet)
            long, wide = _two_sides(size, scale)
            return SheetPart(name, long, wide, _count(count), sheet.name, equal_set=equal_set)
        length = parse_length_exact(size, scale=scale)
        return CutPart(name, length, _count(count), made.name, equal_set)

    found, bad = read_lines(text, read, "the list of parts", MOST_LINES)
    return ListedParts(
        tuple(part for part in found if isinstance(part, CutPart)),
        tuple(part for part in found if isinstance(part, SheetPart)),
        tuple(sheets.values()),
        tuple(bad),
    )


def _count(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or len(text) > 9 or not 1 <= int(text) <= MOST_PIECES:
        raise OutOfRange("count", repr(text), f"a whole number, 1 to {MOST_PIECES}", "Write 4 for four of them.")
    return int(text)


def _two_sides(text: str, scale: Scale | str | None) -> tuple[Fraction, Fraction]:
    """Read ``21 x 18.5 mm``: a side without a unit has that of the other."""
    sides = _BY.split(text.strip())
    if len(sides) != 2 or not all(sides):
        raise UnreadableLength(text, "a part of sheet has two sides", f"length x width, such as {EXAMPLE_SHEET}")
    unit = _UNIT.fullmatch(sides[1])
    first = sides[0] if unit is None or _UNIT.fullmatch(sides[0]) else f"{sides[0]} {unit['unit'].strip()}"
    return parse_length_exact(first, scale=scale), parse_length_exact(sides[1], scale=scale)
