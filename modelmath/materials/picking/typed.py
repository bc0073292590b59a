"""Sets, shims and strip on hand as people type them: one thing a line."""

from __future__ import annotations

from fractions import Fraction

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.lines import BadLine, columns_of, read_lines
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import Scale
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.picking.by_use import wanted_of
from modelmath.materials.picking.held import check_count
from modelmath.materials.picking.sets import SetPart
from modelmath.materials.picking.shims import Shim
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.strips import parse_strip

MOST_LINES = 200
MOST_PIECES = 2_000  # of one thing: more is a slip
PART = "post; 31.5 mm; on end; 4"
WASHER = "washer; 0.5 mm; 0.05 mm; 4, or a name alone, such as .010 sheet"
STOCK = "HO 6x10; 280 mm; 2"


def read_set(text: str, scale: Scale | str | None = None) -> tuple[list[SetPart], list[BadLine]]:
    r"""Read the parts of a set, one a line: name, height, use, count, then width and length where they matter.

    Parameters
    ----------
    text : str
        Lines such as ``post; 31.5 mm; on end; 4`` or ``bulkhead; 31.5 mm; across; 2; 18.5 mm``. [-]
    scale : Scale, str or None
        The scale of scale feet and inches. [-]

    Returns
    -------
    tuple of (list of SetPart, list of BadLine)
        The parts in order, and the lines that could not be read, by number. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 200 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> parts, bad = read_set("post; 31.5 mm; on end; 4\nrail; 2 mm; sideways; 2")
    >>> [(part.name, part.count) for part in parts], bad[0].number
    ([('post', 4)], 2)
    """
    return read_lines(text, lambda number, line: _part(columns_of(line), number, scale), "the set", MOST_LINES)


def _part(columns: list[str], number: int, scale: Scale | str | None) -> SetPart:
    name, height, use, count, width, length = _columns(columns, 3, 6, "a name, a height, a use, a count", PART)
    part = SetPart(
        name or f"line {number}",
        parse_length_exact(height, None, scale),
        " ".join(use.casefold().split()),
        _count(count) or 1,
        parse_length_exact(width, None, scale) if width else None,
        None,
        parse_length_exact(length, None, scale) if length else None,
    )
    wanted_of(part.height_mm, part.use, None, part.width_mm)  # what is wrong is said at its own line
    return part


def read_shims(text: str, scale: Scale | str | None = None) -> tuple[list[Shim], list[BadLine]]:
    r"""Read what is on hand to shim with, one a line: name, thickness, tolerance, count.

    A strip or a sheet needs its name alone. Without a count there are enough.

    Parameters
    ----------
    text : str
        Lines such as ``washer; 0.5 mm; 0.05 mm; 4`` or ``.010 sheet``. [-]
    scale : Scale, str or None
        The scale of strip named by scale inches alone. [-]

    Returns
    -------
    tuple of (list of Shim, list of BadLine)
        What there is, in order, and the lines that could not be read, by number. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 200 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> shims, bad = read_shims("washer; 0.5 mm; 0.05 mm; 4\n.010 sheet\nwasher; thin")
    >>> [(shim.name, shim.count) for shim in shims], bad[0].number
    ([('washer', 4), ('.010 sheet', None)], 3)
    """
    return read_lines(text, lambda number, line: _shim(columns_of(line), scale), "what is on hand", MOST_LINES)


def _shim(columns: list[str], scale: Scale | str | None) -> Shim:
    name, thickness, tolerance, count = _columns(columns, 1, 4, "a name, a thickness, a tolerance, a count", WASHER)
    if not thickness:
        stock = parse_sheet(name) if "sheet" in name.casefold() else parse_strip(name, scale)
        known = Shim.of(stock, _count(count))
        return known if not tolerance else Shim(known.name, known.thickness_mm, _tolerance(tolerance), known.count)
    given = _tolerance(tolerance) if tolerance else Fraction(0)
    return Shim(name or "shim", parse_length_exact(thickness, None, scale), given, _count(count))


def read_strips(text: str, scale: Scale | str | None = None) -> tuple[list[StockStrip], list[BadLine]]:
    r"""Read strip on hand, one a line: its name, the length of each piece, the count.

    Parameters
    ----------
    text : str
        Lines such as ``HO 6x10; 280 mm; 2``. [-]
    scale : Scale, str or None
        The scale of strip named by scale inches alone. [-]

    Returns
    -------
    tuple of (list of StockStrip, list of BadLine)
        What there is, in order, and the lines that could not be read, by number. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 200 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> stock, bad = read_strips("6x10; 280 mm; 2\n.040 sq; 14 in", "HO")
    >>> [(each.name, float(each.length_mm), each.count) for each in stock], bad
    ([('HO 6x10', 280.0, 2), ('.040 sq', 355.6, 1)], [])
    """
    return read_lines(text, lambda number, line: _stock(columns_of(line), scale), "the drawer", MOST_LINES)


def _stock(columns: list[str], scale: Scale | str | None) -> StockStrip:
    name, length, count = _columns(columns, 2, 3, "a strip, a length, a count", STOCK)
    return StockStrip(parse_strip(name, scale), parse_length_exact(length, None, scale), _count(count) or 1)


def _columns(columns: list[str], least: int, most: int, expected: str, example: str) -> list[str]:
    if not least <= len(columns) <= most:
        given = "1 part long" if len(columns) == 1 else f"{len(columns)} parts long"
        raise WrongKind("the line", given, expected, f"Write {example}.")
    return columns + [""] * (most - len(columns))


def _count(text: str) -> int | None:
    if not text:
        return None
    if not text.isascii() or not text.isdecimal():
        raise WrongKind("the count", shown(text), "a whole number", "Write how many there are, such as 4.")
    if len(text) > 9 or int(text) > MOST_PIECES:
        raise OutOfRange("the count", shown(text), f"{MOST_PIECES} or fewer", "Write how many there are, such as 4.")
    return check_count(int(text))


def _tolerance(text: str) -> Fraction:
    return parse_length_exact(text.lstrip("±+/- "))
