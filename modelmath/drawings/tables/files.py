"""The tables of a plan as CSV and as a spreadsheet, as bytes and as files in a folder."""

from __future__ import annotations

import csv
import os
import re
import zipfile
from collections.abc import Sequence
from io import BytesIO, StringIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from modelmath.drawings.into_folder import write_into
from modelmath.drawings.shapes import plain
from modelmath.drawings.tables.rows import Cell, Table, parts_table, tables_of
from modelmath.files import file_name
from modelmath.lengths.table.guard import guarded
from modelmath.lengths.table.packed import LONG_AGO, book_bytes

if TYPE_CHECKING:
    from modelmath.job import Plan

WIDEST, NARROWEST = 46, 9  # columns of the spreadsheet, in signs
_DATES = re.compile(rb"<dcterms:(created|modified)\b[^>]*>[^<]*</dcterms:\1>")


def parts_csv(plan: Plan) -> bytes:
    """Return the parts of a plan as CSV text that is safe to open in a spreadsheet.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    bytes
        UTF-8, with the mark that tells spreadsheets so; numbers with a point. [-]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    OutOfRange
        If a part is longer than the rule.

    References
    ----------
    RFC 4180; OWASP, "CSV Injection".
    """
    table, out = parts_table(plan), StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(table.heads)
    for row in table.rows:
        writer.writerow(
            ["" if cell is None else guarded(plain(cell)) if isinstance(cell, str) else cell for cell in row]
        )
    return out.getvalue().encode("utf-8-sig")


def parts_sheet_file(plan: Plan) -> bytes:
    """Return the parts, holes and cut plan of a plan as a spreadsheet of three sheets.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    bytes
        An .xlsx file; numbers are numbers, and text is never a formula; the same plan gives the same bytes. [-]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    OutOfRange
        If a part is longer than the rule.

    References
    ----------
    ECMA-376; its part 2, in which the dates of a file's properties may be left out.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    for table in tables_of(plan)[0]:
        _fill(book.create_sheet(table.name), table)
    book.properties.title = plain(plan.job.name)
    book.properties.creator = "modelmath"
    return _undated(book_bytes(book))


def _undated(book: bytes) -> bytes:
    """Return a spreadsheet without the time at which it was made, which its packing and its properties carry."""
    out = BytesIO()
    with zipfile.ZipFile(BytesIO(book)) as made, zipfile.ZipFile(out, "w") as kept:
        for name in made.namelist():
            content = made.read(name)
            entry = zipfile.ZipInfo(name, LONG_AGO)
            entry.create_system, entry.compress_type = 3, zipfile.ZIP_DEFLATED
            kept.writestr(entry, _DATES.sub(b"", content) if name == "docProps/core.xml" else content)
    return out.getvalue()


def _fill(sheet: Any, table: Table) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    for row, cells in enumerate((table.heads, *table.rows), start=1):
        for column, value in enumerate(cells, start=1):
            _put(sheet.cell(row, column), value)
    for cell in sheet[1]:
        cell.font, cell.alignment = Font(bold=True), Alignment(wrap_text=True, vertical="top")
    for column in range(len(table.heads)):
        sheet.column_dimensions[get_column_letter(column + 1)].width = _wide([row[column] for row in table.rows])
    sheet.freeze_panes = "B2"
    sheet.page_setup.orientation, sheet.page_setup.fitToHeight = "landscape", 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"


def _put(cell: Any, value: Cell) -> None:
    if value is None:
        return
    if not isinstance(value, str):
        cell.value = value
        return
    cell.value = plain(value)
    cell.data_type = "s"  # never a formula, nor an error
    cell.number_format = "@"  # a size that is written anew stays text, not a date
    cell.quotePrefix = True


def _wide(cells: Sequence[Cell]) -> int:
    return min(WIDEST, max((NARROWEST, *(len(str(cell)) + 2 for cell in cells if cell is not None))))


def save_parts_csv(plan: Plan, folder: str | os.PathLike[str]) -> Path:
    """Write the parts of a plan as a CSV file.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]

    Returns
    -------
    Path
        The file, named after the job. [-]

    Raises
    ------
    DoesNotFit, OutOfRange
        If there are no parts to list.
    JobError
        If the file can't be written; an older one of that name is untouched.

    References
    ----------
    `parts_csv`.
    """
    name = f"{file_name(plan.job.name)}-parts.csv"
    return write_into(folder, name, parts_csv(plan), "the table", plan.job.name)


def save_parts_sheet(plan: Plan, folder: str | os.PathLike[str]) -> Path:
    """Write parts, holes and cut plan of a plan as a spreadsheet.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]

    Returns
    -------
    Path
        The file, named after the job. [-]

    Raises
    ------
    DoesNotFit, OutOfRange
        If there are no parts to list.
    JobError
        If the file can't be written; an older one of that name is untouched.

    References
    ----------
    `parts_sheet_file`.
    """
    name = f"{file_name(plan.job.name)}-parts.xlsx"
    return write_into(folder, name, parts_sheet_file(plan), "the spreadsheet", plan.job.name)
