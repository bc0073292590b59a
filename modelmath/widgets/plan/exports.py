"""Buttons that write what a plan gives to other programs: flat parts as SVG and DXF, parts as CSV and spreadsheet."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.widgets.common import look, places

NOTHING = "There is nothing to save yet: fill in or mend the entries above first."
FLAT = (
    "Flat parts as drawings in mm, on the layers cut, drill and score. The lines are where a part ends: what a blade "
    "or a beam takes away is not allowed for. Measure one part on the first print or cut."
)
LISTS = "Parts, holes and cut plan as tables, numbers in mm and in."
# Of each button its name, and the function that saves; what it needs loads when it is first pressed.
KINDS: dict[str, tuple[str, str, str]] = {
    "svg": ("Drawing as SVG", "modelmath.drawings.cutting.files", "save_cutting_svg"),
    "dxf": ("Drawing as DXF", "modelmath.drawings.cutting.files", "save_cutting_dxf"),
    "csv": ("Parts as CSV", "modelmath.drawings.tables.files", "save_parts_csv"),
    "xlsx": ("Parts as spreadsheet", "modelmath.drawings.tables.files", "save_parts_sheet"),
}


class Exports:
    """Buttons for files that other programs read; each says where its file went.

    Parameters
    ----------
    folder : callable or None
        Gives the folder to write into; None for ``packets`` in the workbook folder. [-]
    """

    def __init__(self, folder: Callable[[], Path] | None = None) -> None:
        self._folder = folder or (lambda: places.workbook_folder() / "packets")
        self.plan: Plan | None = None
        self.said = w.HTML()
        self.buttons = {kind: w.Button(description=name) for kind, (name, _, _) in KINDS.items()}
        for kind, button in self.buttons.items():
            button.layout.width = "auto"
            button.on_click(lambda _button, kind=kind: self.save(kind))
        rows = [
            part
            for said, kinds in ((FLAT, ("svg", "dxf")), (LISTS, ("csv", "xlsx")))
            for part in (w.HTML(look.hint(said)), w.HBox([self.buttons[kind] for kind in kinds]))
        ]
        self.view = w.VBox([*rows, self.said])

    def show(self, plan: Plan) -> None:
        """Write from this plan from now on; what was said of another one goes.

        Parameters
        ----------
        plan : Plan
            The plan. [-]

        References
        ----------
        None needed.
        """
        self.plan, self.said.value = plan, ""

    def clear(self) -> None:
        """Write nothing as long as there is no plan."""
        self.plan, self.said.value = None, ""

    def save(self, kind: str) -> Path | None:
        """Write one file, and say where it is; where it can't be written, why.

        Parameters
        ----------
        kind : {"svg", "dxf", "csv", "xlsx"}
            Which. [-]

        Returns
        -------
        Path or None
            The file; None where nothing was written. [-]

        References
        ----------
        None needed.
        """
        if self.plan is None:
            self.said.value = look.problem(NOTHING)
            return None
        _, module, name = KINDS[kind]
        write: Any = getattr(import_module(module), name)
        try:
            file: Path = write(self.plan, self._folder())
        except (ModelMathError, OSError) as reason:
            self.said.value = look.problem(str(reason))
            return None
        self.said.value = _written(file)
        return file


def _written(file: Path) -> str:
    """Return where a file is, with a link where the workbook's server shows it."""
    name = look.text(file.name)
    with suppress(ValueError):  # outside the workbook folder there is nothing to link to
        name = f'<a href="{look.text(places.link(file))}" download>{name}</a>'
    return f"<p>Saved: {name}</p>{look.paragraph(f'In {file.parent}', 'mm-soft')}"
