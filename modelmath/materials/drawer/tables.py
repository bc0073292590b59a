"""The drawer to a spreadsheet or CSV file and back."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, WrongKind
from modelmath.files import write_whole
from modelmath.lengths.scales import Scale
from modelmath.lengths.table.cells import to_cells
from modelmath.lengths.table.guard import guarded, in_xml
from modelmath.lengths.table.heads import plain_head
from modelmath.lengths.table.packed import book_bytes
from modelmath.lengths.table.sources import take
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import COLUMNS, SIZES, BadCell, Item, cells, read_item

MOST_ROWS = 5_000
WRITES = (".csv", ".xlsx")
_WORDS = {
    "kind": ("kind", "type", "sort"),
    "name": ("name", "what", "section", "strip", "stock"),
    "length": ("length", "long"),
    "width": ("width", "wide"),
    "diameter": ("diameter", "across"),
    "count": ("count", "number", "pieces", "how many", "quantity"),
    "offcut": ("offcut",),
    "note": ("note", "notes", "remark", "remarks"),
}
# Of a plain head, which has single spaces.
_HEAD = re.compile(r"(?P<word>[a-z]+?(?: [a-z]+?)*?) ?[(,]? ?(?P<unit>mm|cm|in|inch|inches)? ?\)?")
_BARE = re.compile(r"[0-9.,/ ¼½¾⅛⅜⅝⅞-]+")


@dataclass(frozen=True)
class BadRow:
    """A row that could not be read.

    Attributes
    ----------
    number : int
        Its number as a spreadsheet shows it. [-]
    column : str
        The column at fault. [-]
    message : str
        What is wrong, and what to write. [-]
    text : str
        The row as it stands. [-]
    """

    number: int
    column: str
    message: str
    text: str


def read_drawer(source: Path | str | bytes, scale: Scale | str | None = None) -> tuple[Drawer, list[BadRow]]:
    r"""Read a drawer from a .csv, .txt, .tsv or .xlsx file, or from text with heads.

    A head may name the unit of the bare numbers below it, such as ``length mm``.

    Parameters
    ----------
    source : Path, str or bytes
        The file, or what is in it. [-]
    scale : Scale, str or None
        The scale of strip named by scale inches alone. [-]

    Returns
    -------
    tuple of (Drawer, list of BadRow)
        The rows that could be read, in order, and those that could not. [mm]

    Raises
    ------
    WrongKind, OutOfRange, UnknownChoice
        If there is no such file, it is too large, or its heads don't name the columns.

    References
    ----------
    RFC 4180; ECMA-376 for spreadsheets.

    Examples
    --------
    >>> drawer, bad = read_drawer("kind;name;length;count\nstrip;HO 6x10;280 mm;2\nstrip;HO 6x10;long;1")
    >>> drawer.items[0].said, bad[0].number, bad[0].column
    ('HO 6x10, 280 mm', 3, 'length')
    """
    table = to_cells(take(source), _are_heads)
    if table.heads is None:
        raise WrongKind("the first row", "not one of heads", "heads such as kind; name; length; count",
                        f"Write above the columns {', '.join(COLUMNS)}.")  # fmt: skip
    if table.count > MOST_ROWS + table.head_row:
        raise OutOfRange("the drawer", f"{table.count} rows long", f"{MOST_ROWS} rows or fewer", "Read it in parts.")
    places = _places(table.heads)
    good: list[Item] = []
    bad: list[BadRow] = []
    for at in range(table.head_row, table.count):
        row = [str(column[at]) for column in table.columns]
        if any(cell.strip() for cell in row):
            text = "; ".join(row).rstrip("; ")
            try:
                _check_surplus(row, table.heads)
                good.append(read_item(_cells(row, places), scale))
            except BadCell as fault:
                bad.append(BadRow(at + 1, fault.column, fault.message, text))
            except ModelMathError as fault:
                bad.append(BadRow(at + 1, "", str(fault), text))
    return Drawer(tuple(good)), bad


def _head(text: str) -> tuple[str, str]:
    """Return what a head stands for and the unit it names; empty for a head that is not understood."""
    found = _HEAD.fullmatch(plain_head(text))
    word, unit = (found["word"], found["unit"] or "") if found else ("", "")
    return next((role for role, words in _WORDS.items() if word in words), ""), unit


def _are_heads(row: Sequence[str]) -> bool:
    return {"kind", "name"} <= {_head(cell)[0] for cell in row}


def _places(heads: Sequence[str]) -> dict[str, tuple[int, str]]:
    places: dict[str, tuple[int, str]] = {}
    for at, text in enumerate(heads):
        role, unit = _head(text)
        if not role and text.strip():
            raise UnknownChoice("a column's head", text, COLUMNS)
        if role in places:
            advice = "Keep one of the two columns."
            raise OutOfRange("the heads", f"two columns for the {role}", "one column for each", advice)
        if role:
            places[role] = (at, unit)
    return places


def _check_surplus(row: Sequence[str], heads: Sequence[str]) -> None:
    beyond = [cell for cell in row[len(heads) :] if cell.strip()]
    if beyond:
        advice = "Part the columns by semicolons or tabs, or put quotes round a cell with a comma."
        raise OutOfRange("the row", f"{len(row)} columns wide", f"{len(heads)}, as the heads are", advice)


def _cells(row: Sequence[str], places: dict[str, tuple[int, str]]) -> dict[str, str]:
    found = {}
    for role, (at, unit) in places.items():
        cell = row[at].strip() if at < len(row) else ""
        bare = role in SIZES and unit and cell and _BARE.fullmatch(cell)
        found[role] = f"{cell} {unit}" if bare else cell
    return found


def write_drawer(drawer: Drawer, path: Path | str) -> Path:
    """Write the drawer to a file for a spreadsheet; `read_drawer` gives its rows back.

    Parameters
    ----------
    drawer : Drawer
        The drawer. [mm]
    path : Path or str
        A .csv or .xlsx file; one that is there is replaced whole. [-]

    Returns
    -------
    Path
        The file. [-]

    Raises
    ------
    UnknownChoice
        If the file's name ends otherwise.
    OSError
        If it can't be written; the old file is then untouched.

    References
    ----------
    RFC 4180; OWASP, "CSV Injection".
    """
    file = Path(path)
    ending = file.suffix.casefold()
    if ending not in WRITES:
        raise UnknownChoice("the kind of file", file.suffix or file.name, WRITES)
    write_whole(file, as_csv(drawer) if ending == ".csv" else as_sheet(drawer))
    return file


def _rows(drawer: Drawer) -> list[list[str]]:
    return [list(COLUMNS), *([cells(item)[column] for column in COLUMNS] for item in drawer.items)]


def as_csv(drawer: Drawer) -> bytes:
    r"""Return the drawer as CSV text that is safe to open in a spreadsheet.

    Parameters
    ----------
    drawer : Drawer
        The drawer. [mm]

    Returns
    -------
    bytes
        UTF-8, with the mark that tells spreadsheets so. [-]

    References
    ----------
    RFC 4180; OWASP, "CSV Injection".

    Examples
    --------
    >>> as_csv(Drawer((Item("drill", "#67"),))).decode("utf-8-sig").splitlines()[1]
    'drill,#67,,,,1,,'
    """
    text = StringIO(newline="")
    csv.writer(text).writerows([guarded(cell) for cell in row] for row in _rows(drawer))
    return text.getvalue().encode("utf-8-sig")


def as_sheet(drawer: Drawer) -> bytes:
    """Return the drawer as a spreadsheet; every cell but the count is text.

    Parameters
    ----------
    drawer : Drawer
        The drawer. [mm]

    Returns
    -------
    bytes
        An .xlsx file. [-]

    References
    ----------
    ECMA-376.
    """
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell

    book = Workbook(write_only=True)
    sheet = book.create_sheet("drawer")
    for at, width in enumerate((9, 24, 14, 14, 14, 8, 8, 40)):
        sheet.column_dimensions["ABCDEFGH"[at]].width = width
    for number, row in enumerate(_rows(drawer)):
        made = []
        for column, text in zip(COLUMNS, row, strict=True):
            if number and column == "count":
                made.append(int(text))
                continue
            cell = WriteOnlyCell(sheet, in_xml(text))
            cell.data_type = "s"  # never a formula, nor an error
            cell.number_format = "@"  # a size that is written anew stays text, not a date
            made.append(cell)
        sheet.append(made)
    return book_bytes(book)
