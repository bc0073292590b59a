"""Where a table comes from: a file, its bytes, or text; decoded, and refused when it is too large."""

from __future__ import annotations

import warnings
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, time
from io import BytesIO
from pathlib import Path
from typing import Any

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, WrongKind, shown

MOST_ROWS = 1_000_000
MOST_BYTES = 50_000_000
MOST_UNPACKED = 10 * MOST_BYTES  # a spreadsheet is a zip file; one that swells further is no table of readings
MOST_CELLS = 30_000_000
ENDINGS = (".csv", ".txt", ".tsv", ".xlsx")
IN_PARTS = "Give it in parts."
_ZIP = b"PK\x03\x04"
# A spreadsheet takes 3/4 for a day in spring; the figures are then gone, whatever it shows.
A_DATE = "a date: the spreadsheet took a fraction for one. Format the column as text and write it again"


@dataclass(frozen=True)
class Source:
    """A table as it came: text, or the rows of a spreadsheet.

    Attributes
    ----------
    text : str
        Text with its columns parted by some sign; empty for a spreadsheet. [-]
    rows : sequence of sequence of str, or None
        The rows of a spreadsheet. [-]
    notes : list of str
        What a person should know about how it was read. [-]
    """

    text: str = ""
    rows: Sequence[Sequence[str]] | None = None
    notes: list[str] = field(default_factory=list)


def take(source: Path | str | bytes, sheet: str | None = None) -> Source:
    """Return a table as text or rows, from wherever it is.

    Parameters
    ----------
    source : Path, str or bytes
        A file, or what is in it; one line of text that ends like a file's name is one. [-]
    sheet : str or None
        Sheet of a spreadsheet, the first by default. [-]

    Returns
    -------
    Source
        Its text or rows. [-]

    Raises
    ------
    OutOfRange
        If it is too large.
    UnknownChoice
        If the file is of another kind, or has no sheet of that name.
    WrongKind
        If there is no such file, or it can't be read.

    References
    ----------
    RFC 4180; ECMA-376 for spreadsheets.

    Examples
    --------
    >>> take("roof; 3 3/4").text
    'roof; 3 3/4'
    >>> take("3½".encode("latin-1")).notes
    ['The text is no UTF-8; it was read as Latin-1. Check signs such as ½ and ±.']
    """
    if isinstance(source, str) and "\n" not in source and source.casefold().endswith(ENDINGS):
        source = Path(source)
    if isinstance(source, str):
        _check_size(len(source), "characters")
        _check_whole(source)
        return Source(source.removeprefix("\ufeff"))
    if isinstance(source, bytes):
        return _from_bytes(source, sheet)
    if not isinstance(source, Path):
        raise WrongKind("the table", f"a {type(source).__name__}", "a file, or text", "Give a Path, text or bytes.")
    check_ending(source.name)
    try:
        _check_size(source.stat().st_size, "bytes")
        content = source.read_bytes()
    except (OSError, ValueError) as error:  # a name with a NUL in it is a ValueError
        if isinstance(error, ModelMathError):
            raise
        what = getattr(error, "strerror", None) or "it can't be read"
        raise WrongKind("the file", f"{shown(str(source))} ({what})", "a file to read", "Check its name.") from None
    return _from_bytes(content, sheet)


def check_ending(name: str) -> None:
    """Refuse a file whose name doesn't end like a table's.

    Parameters
    ----------
    name : str
        The file's name. [-]

    Raises
    ------
    UnknownChoice
        If it ends otherwise.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_ending("readings.CSV")
    """
    if Path(name).suffix.casefold() not in ENDINGS:
        raise UnknownChoice("the kind of file", Path(name).suffix or name, ENDINGS)


def _check_whole(text: str) -> None:
    try:
        text.encode()
    except UnicodeEncodeError:
        raise OutOfRange("the table", "broken", "text whose signs are whole", "Copy it again.") from None


def _check_size(size: int, what: str) -> None:
    if size > MOST_BYTES:
        raise OutOfRange("the table", f"{size:,} {what} long", f"{MOST_BYTES:,} or fewer", IN_PARTS)


def _from_bytes(content: bytes, sheet: str | None) -> Source:
    _check_size(len(content), "bytes")
    if content.startswith(_ZIP):
        return Source(rows=_sheet_rows(content, sheet))
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return Source(content.decode("utf-16", errors="replace"))
    try:
        return Source(content.decode("utf-8-sig"))
    except UnicodeDecodeError:
        note = "The text is no UTF-8; it was read as Latin-1. Check signs such as ½ and ±."
        return Source(content.decode("latin-1"), notes=[note])


def _sheet_rows(content: bytes, sheet: str | None) -> list[list[str]]:
    """Return the cells of a sheet as text: values as they were last worked out, never formulas."""
    import openpyxl

    try:
        with zipfile.ZipFile(BytesIO(content)) as packed:
            size = sum(each.file_size for each in packed.infolist())
        if size > MOST_UNPACKED:
            raise OutOfRange("the spreadsheet", f"{size:,} bytes unpacked", f"{MOST_UNPACKED:,} or fewer", IN_PARTS)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of what a spreadsheet holds beside its cells
            book = openpyxl.load_workbook(BytesIO(content), read_only=True, data_only=True)
            try:
                chosen = _sheet_of(book, sheet)
                chosen.reset_dimensions()  # some programs say less than there is; what lay outside would be lost
                return _cells(chosen.iter_rows(values_only=True))
            finally:
                book.close()
    except ModelMathError:
        raise
    except Exception:  # a damaged one comes to grief anywhere in zipfile, the XML parser or openpyxl
        raise WrongKind("the file", "no spreadsheet that can be read", "an .xlsx file", "Save it again.") from None


def _sheet_of(book: Any, sheet: str | None) -> Any:
    if not book.worksheets:
        raise WrongKind("the spreadsheet", "without a sheet of cells", "one with a table", "Put the table on a sheet.")
    names = [each.title for each in book.worksheets]
    if sheet is not None and sheet not in names:
        raise UnknownChoice("sheet", sheet, names)
    return book[sheet] if sheet is not None else book.worksheets[0]


def _cells(values: Any) -> list[list[str]]:
    rows: list[list[str]] = []
    cells = 0
    for row in values:
        cells += len(row)
        check_rows(len(rows) + 1, cells)
        rows.append([_cell(value) for value in row])
    while rows and not any(rows[-1]):
        rows.pop()
    return rows


def check_rows(rows: int, cells: int) -> None:
    """Refuse a table of too many rows or cells.

    Parameters
    ----------
    rows : int
        How many rows there are, or at least are. [-]
    cells : int
        How many cells. [-]

    Raises
    ------
    OutOfRange
        If there are too many of either.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_rows(1_000, 6_000)
    """
    if rows > MOST_ROWS:
        raise OutOfRange("the table", f"{rows:,} rows or more", f"{MOST_ROWS:,} rows or fewer", IN_PARTS)
    if cells > MOST_CELLS:
        raise OutOfRange("the table", f"{cells:,} cells or more", f"{MOST_CELLS:,} or fewer", IN_PARTS)


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.15g}"  # the figures a spreadsheet keeps
    if isinstance(value, (date, time)):
        return f"{value} ({A_DATE})"
    return str(value)
