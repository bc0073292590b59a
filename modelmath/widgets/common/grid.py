"""A table of cells to edit in the page: cells go to Python as text, and what is wrong with one comes back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import anywidget
import traitlets

_HERE = Path(__file__).parent


class Grid(anywidget.AnyWidget):
    """Rows of text cells; Enter and the arrows move between rows, cells of a spreadsheet can be pasted in.

    Attributes
    ----------
    name : str
        Tells its messages from those of other grids of the page. [-]
    caption, adds : str
        What the table holds, and the words of the button that adds a row. [-]
    columns : list of dict
        ``key``, ``label``, ``width``; ``options`` for a choice, ``carried`` where a new row takes the value above,
        ``first`` for what a new row has, ``whole`` for whole numbers, ``only`` (``key``, ``values``) where a column
        has a meaning only in rows in which another has one of some values. [-]
    starts_at : int
        Column in which a new row is begun. [-]
    rows : list of dict
        Text by column key. [-]
    faults : list of dict
        ``row`` from 0, ``key``, ``message``. [-]
    """

    _esm = _HERE / "grid.js"
    _css = _HERE / "grid.css"
    name = traitlets.Unicode("grid").tag(sync=True)
    caption = traitlets.Unicode("").tag(sync=True)
    adds = traitlets.Unicode("Add a row").tag(sync=True)
    columns: Any = traitlets.List([]).tag(sync=True)
    starts_at = traitlets.Int(0).tag(sync=True)
    rows: Any = traitlets.List([]).tag(sync=True)
    faults: Any = traitlets.List([]).tag(sync=True)

    def show(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Show these rows in place of those that are there."""
        keys = [column["key"] for column in self.columns]
        self.rows = [{key: str(row.get(key, "")) for key in keys} for row in rows]

    def cells(self) -> list[dict[str, str]]:
        """Return the rows as text, whatever a page sent."""
        keys = [column["key"] for column in self.columns]
        given: list[Any] = self.rows
        return [{key: str(row.get(key) or "") for key in keys} for row in given if isinstance(row, dict)]
