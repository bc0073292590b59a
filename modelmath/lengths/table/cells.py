"""Text or rows to columns of cells: which sign parts the columns, whether there are heads, what stands where."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import StringIO
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.lengths.table.guard import may_be_guarded, unguarded
from modelmath.lengths.table.sources import MOST_CELLS, Source, check_rows

_PARTING_COMMA = re.compile(r"(?<![0-9]),|,(?![0-9])")  # between two digits it is a decimal comma: 3,5 mm
_LINE_END = re.compile(r"\r\n?|\n")
_PARTERS = ("\t", ";", ":")
SHORT = 100_000  # signs; a longer text is worth loading what reads at array speed
_LOST = "\ufffd"  # stands for a NUL, at which some releases of pandas end a cell: 1, NUL, 5 would be read as 1
_UNCLOSED = re.compile(r"EOF inside string starting at row ([0-9]+)")

Heads = Sequence[str]


@dataclass(frozen=True)
class Cells:
    """A table as columns of text, row by row as a spreadsheet counts them.

    Attributes
    ----------
    columns : list of array of str
        One for each column; all rows, the heads among them. [-]
    heads : list of str or None
        The heads, if the table has some. [-]
    head_row : int
        Rows up to and with the heads; 0 without. [-]
    """

    columns: list[Any]
    heads: list[str] | None
    head_row: int

    @property
    def count(self) -> int:
        """How many rows there are, heads and empty ones among them."""
        return len(self.columns[0]) if self.columns else 0


def to_cells(source: Source, are_heads: Callable[[Heads], bool]) -> Cells:
    r"""Return a table as columns of cells.

    The columns are parted by tabs, semicolons or commas, as the row of heads is. A table without heads is parted
    line by line: at a tab, semicolon or colon, else at a comma that does not stand between two digits.

    Parameters
    ----------
    source : Source
        The table as it came. [-]
    are_heads : function
        Whether a row is one of heads. [-]

    Returns
    -------
    Cells
        Its columns. [-]

    Raises
    ------
    OutOfRange
        If the table is too large, or a quote in it is never closed.

    References
    ----------
    RFC 4180.

    Examples
    --------
    >>> cells = to_cells(Source("name;mark\nroof;3,5 mm"), lambda heads: "mark" in heads)
    >>> cells.heads, [list(column) for column in cells.columns]
    (['name', 'mark'], [['name', 'roof'], ['mark', '3,5 mm']])
    """
    if source.rows is not None:
        return _from_rows(source.rows, are_heads)
    if not source.text.strip():
        return _from_rows([], are_heads)
    cells = _from_text(source.text.replace("\0", _LOST), are_heads)
    if not may_be_guarded(source.text):
        return cells
    heads = None if cells.heads is None else [unguarded(head) for head in cells.heads]
    return Cells([_unguarded_column(column) for column in cells.columns], heads, cells.head_row)


def _unguarded_column(column: Any) -> Any:
    import numpy as np

    return np.array([unguarded(cell) if cell[:1] == "'" else cell for cell in column.tolist()], dtype=object)


def _from_text(text: str, are_heads: Callable[[Heads], bool]) -> Cells:
    for parter in ("\t", ";", ","):
        number, first = _first_row(text, parter)
        if are_heads(first):
            return Cells(_parted(text, parter, len(first)), first, number)
    lines = _LINE_END.split(text)
    check_rows(len(lines), 0)
    for parter in ("\t", ";"):
        if all(parter in line for line in lines if line.strip()):
            return Cells(_parted(text, parter, max(2, len(_first_row(text, parter)[1]))), None, 0)
    return Cells(_as_columns([_loose(line) for line in lines]), None, 0)


def _first_row(text: str, parter: str) -> tuple[int, list[str]]:
    """Return the number and the cells of the first row that is not empty."""
    try:
        for number, row in enumerate(csv.reader(StringIO(text, newline=""), delimiter=parter), start=1):
            if any(cell.strip() for cell in row):
                return number, row
    except csv.Error:
        pass  # a cell of more than 128 kB is no head
    return 1, []


def _loose(line: str) -> list[str]:
    """Return the cells of a line that was typed by hand."""
    for mark in _PARTERS:
        if mark in line:
            return line.split(mark)
    *names, mark = _PARTING_COMMA.split(line)
    return [",".join(names), mark] if names else [line]


def _parted(text: str, parter: str, width: int) -> list[Any]:
    """Return the columns of regular text; where a row is wider than the first, that many more columns."""
    rows = _plain_rows(text, parter, width) if len(text) <= SHORT else None
    return _parted_fast(text, parter, width) if rows is None else _as_columns(rows)


def _plain_rows(text: str, parter: str, width: int) -> list[list[str]] | None:
    """Return the rows of a short text, each as wide as the first; None where anything about it is out of the plain."""
    try:
        rows = list(csv.reader(StringIO(text, newline=""), delimiter=parter, strict=True))
    except csv.Error:
        return None
    if any(len(row) > width for row in rows):
        return None
    return [row + [""] * (width - len(row)) for row in rows]


def _parted_fast(text: str, parter: str, width: int) -> list[Any]:
    """Return the columns at array speed; what is wrong is said in words."""
    import pandas as pd

    def read(width: int) -> Any:
        return pd.read_csv(
            StringIO(text), sep=parter, names=list(range(width)), header=None, index_col=False, dtype=str,
            na_filter=False, skip_blank_lines=False, low_memory=False,
        )  # fmt: skip

    lines = text.count("\n") + 1
    check_rows(0, lines * width)
    try:
        try:
            frame = read(width)
        except pd.errors.ParserError as error:
            if "EOF" in str(error):
                raise
            widest = 1 + max(line.count(parter) for line in text.splitlines())
            if lines * widest > MOST_CELLS:
                raise OutOfRange(
                    "the table", f"{widest:,} columns wide", "narrower", "Take its longest row out."
                ) from None
            frame = read(widest)
    except pd.errors.ParserError as error:
        unclosed = _UNCLOSED.search(str(error))
        row = f"row {int(unclosed[1]) + 1}" if unclosed else "a row"
        raise OutOfRange(
            "the table",
            f"without an end to the quote that opens in {row}",
            "closed",
            'Write inches as 9 1/2 in, or 9 1/2".',
        ) from None
    check_rows(len(frame), 0)
    return [frame[column].to_numpy(object) for column in frame.columns]


def _from_rows(rows: Sequence[Sequence[str]], are_heads: Callable[[Heads], bool]) -> Cells:
    for number, row in enumerate(rows, start=1):
        if any(cell.strip() for cell in row):
            heads = list(row) if are_heads(row) else None
            return Cells(_as_columns(rows), heads, number if heads else 0)
    return Cells(_as_columns([[""]]), None, 0)


def _as_columns(rows: Sequence[Sequence[str]]) -> list[Any]:
    import numpy as np

    width = max(len(row) for row in rows)
    check_rows(len(rows), len(rows) * width)
    columns = [np.full(len(rows), "", dtype=object) for _ in range(width)]
    for index, row in enumerate(rows):
        for column, cell in zip(columns, row, strict=False):
            column[index] = cell
    return columns
