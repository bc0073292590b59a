"""A table of readings to a file that is safe to open in a spreadsheet, and that reads back as the same table."""

from __future__ import annotations

import csv
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from modelmath.errors import UnknownChoice
from modelmath.files import write_whole
from modelmath.lengths.table.guard import guarded, in_xml
from modelmath.lengths.table.heads import PROBLEM, RESULTS
from modelmath.lengths.table.packed import book_bytes
from modelmath.steps import InSteps, Progress, at_once

if TYPE_CHECKING:
    from modelmath.lengths.table.reading import ReadingTable

WRITES = (".csv", ".xlsx")
# Figures below a reading's uncertainty by far; the lengths are found anew from the marks when the file is read.
DECIMALS = {"length_in": 5, "u_mm": 5, "u_reading_mm": 5}
USUAL_DECIMALS = 4
ROWS_AT_A_TIME = 500  # of a spreadsheet, between two steps


def write_table(table: ReadingTable, path: Path | str) -> Path:
    """Write a table of readings, with the rows kept aside at its foot, to a file for a spreadsheet.

    Read again, the file gives the same table. In a .csv file a text that a spreadsheet could take for a formula gets
    an apostrophe before it, which reading takes off. In a spreadsheet such a text is stored as text; lines within a
    cell end in line feeds there.

    Parameters
    ----------
    table : ReadingTable
        What to write. [mm, in, scale ft]
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
    OWASP, "CSV Injection"; RFC 4180; a byte order mark tells spreadsheets that the text is UTF-8.

    Examples
    --------
    >>> import tempfile
    >>> from modelmath.lengths.rules import Rule
    >>> from modelmath.lengths.table.reading import read_table
    >>> table = read_table("=roof; 9 1/2", Rule(scale="HO", graduation="1/4"))
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     print(write_table(table, Path(folder) / "readings.csv").read_text("utf-8-sig"))
    "name","mark","rule","datum","length_mm","length_in","length_scale_ft","u_mm","u_reading_mm"
    "'=roof","9 1/2","rule","end",33.25,1.30906,9.5,0.25259,0.25259
    <BLANKLINE>
    """
    return at_once(write_table_in_steps(table, path))


def write_table_in_steps(table: ReadingTable, path: Path | str) -> InSteps[Path]:
    """Write a table of readings as `write_table` does, some rows at a time; the file is there once all is done.

    Parameters
    ----------
    table : ReadingTable
        What to write. [mm, in, scale ft]
    path : Path or str
        A .csv or .xlsx file; one that is there is replaced whole. [-]

    Yields
    ------
    Progress
        Before some rows of a spreadsheet, and before the file is written. [-]

    Returns
    -------
    Path
        The file. [-]

    Raises
    ------
    UnknownChoice, OSError
        As `write_table`.

    References
    ----------
    `write_table`.
    """
    file = Path(path)
    ending = file.suffix.casefold()
    if ending not in WRITES:
        raise UnknownChoice("the kind of file", file.suffix or file.name, WRITES)
    heads, rows = _rows(table)
    content = _as_csv(heads, rows) if ending == ".csv" else (yield from _as_sheet(heads, rows))
    yield Progress(f"Writing {file.name}", 0.9)
    write_whole(file, content)
    return file


def _rows(table: ReadingTable) -> tuple[list[str], list[list[Any]]]:
    """Return the heads and all rows, the good ones first; None where a cell is empty."""
    frame, aside = table.frame, table.aside
    columns: dict[str, list[Any]] = {
        head: frame[head].round(DECIMALS.get(head, USUAL_DECIMALS)).tolist()
        if head in RESULTS and frame[head].dtype.kind == "f"
        else frame[head].tolist()
        for head in frame.columns
    }
    heads = list(columns)
    if len(aside):
        heads += [head for head in aside.columns if head not in columns and head != PROBLEM] + [PROBLEM]
    rows = [list(row) for row in zip(*columns.values(), strict=True)]
    spare = [None] * (len(heads) - len(columns))
    below = [[row.get(head) for head in heads] for row in aside.to_dict("records")]
    return heads, [*([*row, *spare] for row in rows), *below]


def _as_csv(heads: list[str], rows: list[list[Any]]) -> bytes:
    text = StringIO(newline="")
    writer = csv.writer(text, quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow([guarded(head) for head in heads])
    for row in rows:
        writer.writerow([guarded(cell) if isinstance(cell, str) else _number(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig", errors="replace")


def _number(cell: Any) -> Any:
    """Return a number; nothing for a missing one."""
    return "" if cell is None or cell != cell else cell  # noqa: PLR0124  NaN is not itself


def _as_sheet(heads: list[str], rows: list[list[Any]]) -> InSteps[bytes]:
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell

    book = Workbook(write_only=True)
    sheet = book.create_sheet("readings")

    def cell(value: Any, head: str) -> Any:
        if not isinstance(value, str):
            return None if value is None or value != value else value  # noqa: PLR0124
        lines = value.replace("\r\n", "\n").replace("\r", "\n")  # XML knows no other end of a line
        text = in_xml(lines)
        if head != "mark" and not text.startswith(("=", "#")):
            return text  # nothing but text can be made of it
        made = WriteOnlyCell(sheet, text)
        made.data_type = "s"  # never a formula, nor an error
        if head == "mark":
            made.number_format = "@"  # a mark that is written anew stays text, not a date
        return made

    content = b""
    try:
        for number, row in enumerate((heads, *rows)):
            if number % ROWS_AT_A_TIME == 0:
                yield Progress(
                    f"Filling the spreadsheet, row {number:,} of {len(rows):,}", 0.9 * number / (1 + len(rows))
                )
            sheet.append([cell(value, head) for value, head in zip(row, heads, strict=True)])
    finally:  # left off too: only what is saved gives its working files back
        content = book_bytes(book)
    return content
