"""The one door to data/*.csv: every row is read once and must name its source."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from modelmath.errors import TableError


def data_folder() -> Traversable:
    """Return the data folder: inside the package when installed from a wheel, beside it in a checkout."""
    shipped = files("modelmath") / "data"
    return shipped if shipped.is_dir() else Path(__file__).resolve().parents[1] / "data"


def notebooks_folder() -> Traversable:
    """Return the folder of the workbook's notebooks, found like `data_folder`."""
    shipped = files("modelmath") / "notebooks"
    return shipped if shipped.is_dir() else Path(__file__).resolve().parents[1] / "notebooks"


def rows(file: str) -> Iterator[tuple[int, dict[str, str]]]:
    """Yield (line number, row) of a reference table.

    Parameters
    ----------
    file : str
        Its name in the data folder. [-]

    Yields
    ------
    tuple of int and dict
        Line in the file, and the row's fields by column name. [-]

    Raises
    ------
    TableError
        If a row has no source, or more or fewer fields than the header.

    References
    ----------
    RFC 4180 for the form of the file.

    Examples
    --------
    >>> next(rows("scales.csv"))[1]["name"]
    'Z (NEM)'
    """
    reader = csv.DictReader((data_folder() / file).read_text("utf-8").splitlines())
    for row in reader:
        # DictReader keeps surplus fields under None and fills missing ones with None: an unquoted comma shows here.
        if None in row or None in row.values():
            raise TableError(file, reader.line_num, "it has more or fewer fields than the header")
        if not row.get("source", "").strip():
            raise TableError(file, reader.line_num, "no source; name one, or write 'from memory'")
        yield reader.line_num, row
