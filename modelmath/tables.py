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

    Raises
    ------
    TableError
        If a row has no source.
    """
    text = (data_folder() / file).read_text("utf-8")
    for line, row in enumerate(csv.DictReader(text.splitlines()), start=2):
        if not row.get("source"):
            raise TableError(file, line, "no source; name one, or write 'from memory'")
        yield line, row
