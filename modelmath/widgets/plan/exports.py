"""Buttons that write what a plan gives to other programs: flat parts, lists, and solids.

Flat parts go out as SVG and DXF, parts as CSV and spreadsheet, chamber and speaker's seat as STL and 3MF.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.widgets.common import look, places
from modelmath.widgets.common.minding import cautioned

NOTHING = "There is nothing to save yet: fill in or mend the entries above first."
FLAT = (
    "Flat parts as drawings in mm, on the layers cut, drill and score. The lines are where a part ends: what a blade "
    "or a beam takes away is not allowed for. Measure one part on the first print or cut."
)
LISTS = "Parts, holes and cut plan as tables, numbers in mm and in."
SOLIDS = (
    "Chamber and speaker's seat as closed bodies in mm, to print in place of glued strip. Chamber: walls and floor in "
    "one, open where roof and sides of the shell close it; print it floor down. Seat: what carries the speaker. Air: "
    "the space itself, no part; its volume is the plan's gross volume, and a printed one is a dummy to try under the "
    "shell before you cut. Sizes are those of the strips, with no play: a wall has to come out as thick as the plan "
    "counts it. Measure a printed one first, sand it until it slides in, and drill its holes to size. For resin, "
    "fumes, dust and hot parts follow the labels of printer and material."
)
# Of each button its name, and the function that saves; what it needs loads when it is first pressed.
KINDS: dict[str, tuple[str, str, str]] = {
    "svg": ("Drawing as SVG", "modelmath.drawings.cutting.files", "save_cutting_svg"),
    "dxf": ("Drawing as DXF", "modelmath.drawings.cutting.files", "save_cutting_dxf"),
    "csv": ("Parts as CSV", "modelmath.drawings.tables.files", "save_parts_csv"),
    "xlsx": ("Parts as spreadsheet", "modelmath.drawings.tables.files", "save_parts_sheet"),
    "stl": ("Solids as STL", "modelmath.drawings.solids.files", "save_solids_stl"),
    "3mf": ("Solids as 3MF", "modelmath.drawings.solids.files", "save_solids_3mf"),
}
# What is said of a file beside where it is, by the same names.
NOTES: dict[str, tuple[str, str]] = dict.fromkeys(
    ("stl", "3mf"), ("modelmath.drawings.solids.files", "notes_on_solids")
)
ROWS = ((FLAT, ("svg", "dxf")), (LISTS, ("csv", "xlsx")), (SOLIDS, ("stl", "3mf")))


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
            for said, kinds in ROWS
            for part in (w.HTML(look.hint(said)), w.HBox([self.buttons[kind] for kind in kinds]))
        ]
        mind = w.HTML(cautioned("cutting beam", "knife", "sanding"))
        self.view = w.VBox([*rows, mind, self.said])

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

    def save(self, kind: str) -> tuple[Path, ...]:
        """Write what one button writes, and say where it is; where it can't be written, why.

        Parameters
        ----------
        kind : {"svg", "dxf", "csv", "xlsx", "stl", "3mf"}
            Which. [-]

        Returns
        -------
        tuple of Path
            The files; none where nothing was written. [-]

        References
        ----------
        None needed.
        """
        if self.plan is None:
            self.said.value = look.problem(NOTHING)
            return ()
        _, *home = KINDS[kind]
        try:
            written: Path | tuple[Path, ...] = _function(*home)(self.plan, self._folder())
            notes: tuple[str, ...] = _function(*NOTES[kind])(self.plan) if kind in NOTES else ()
        except (ModelMathError, OSError) as reason:
            self.said.value = look.problem(str(reason))
            return ()
        files = written if isinstance(written, tuple) else (written,)
        self.said.value = _written(files) + "".join(look.paragraph(note, "mm-soft") for note in notes)
        return files


def _function(module: str, name: str) -> Any:
    return getattr(import_module(module), name)


def _written(files: Sequence[Path]) -> str:
    """Return where files are that lie in one folder."""
    names = ", ".join(_linked(file) for file in files)
    return f"<p>Saved: {names}</p>{look.paragraph(f'In {files[0].parent}', 'mm-soft')}"


def _linked(file: Path) -> str:
    """Return a file's name, as a link where the workbook's server shows it."""
    name = look.text(file.name)
    with suppress(ValueError):  # outside the workbook folder there is nothing to link to
        return f'<a href="{look.text(places.link(file))}" download>{name}</a>'
    return name
