"""The drawer in a grid: what is on hand, edited, saved, undone, taken from files and written to them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.files import file_name
from modelmath.lengths.table.sources import ENDINGS, check_ending
from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer, put_in
from modelmath.materials.drawer.items import COLUMNS, KINDS, NEEDS, SIZES, BadCell, Item, cells, read_item
from modelmath.materials.drawer.store import DrawerChanged, Kept, load_drawer, redo, save_drawer, undo
from modelmath.materials.drawer.tables import read_drawer, write_drawer
from modelmath.materials.drills.ranges import drill_range
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row, scale_names
from modelmath.widgets.common.grid import Grid

SHOWN_BAD = 20
HINT = (
    "Sizes with their unit: 280 mm, 11 in, .030 in. Length is that of each piece; sheet has a width, wire and strand a "
    "diameter over all. Enter and the arrow keys go from row to row; cells copied in a spreadsheet can be pasted in."
)
FILE_HINT = "The columns are those of the table above, with heads; a head may name a unit, such as length mm."
BEGUN = (("count", "1"), ("offcut", ""))  # what a row that was only begun has
REPLACE, ADD = "in place of what is here", "added to what is here"
_WIDTHS = {"kind": "5.6rem", **dict.fromkeys(SIZES, "6.6rem"), "count": "4rem", "offcut": "4.4rem"}


def _columns() -> list[dict[str, object]]:
    """Return the grid's columns, those of the drawer."""
    found: list[dict[str, object]] = []
    for key in COLUMNS:
        column: dict[str, object] = {"key": key, "label": key.capitalize(), "width": _WIDTHS.get(key, "auto")}
        if key == "kind":
            column |= {"options": list(KINDS), "carried": True, "first": "strip"}
        if key == "offcut":
            column |= {"options": ["", "yes"], "empty": "no"}
        if key in SIZES:
            column["only"] = {"key": "kind", "values": [kind for kind in KINDS if key in NEEDS[kind]]}
        if key == "count":
            column |= {"first": "1", "whole": True}
        found.append(column)
    return found


class DrawerPanel:
    """What is on hand.

    Parameters
    ----------
    folder : Path or None
        Where the drawer is kept; None for the workbook's folder. [-]
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or places.workbook_folder()
        self.file = self.folder / places.DRAWER
        self.kept, self._words = Kept(Drawer()), ""
        self.fields = {
            "scale": Field("Scale", "of strip named by scale inches alone, such as 6x10", options=scale_names()),
            "first": Field("Drills from", "by name, such as #61", "#61"),
            "last": Field("to", "of the same set", "#80"),
            "how": Field("What the file holds goes", "undone with the drawer's own undo", options=(REPLACE, ADD)),
            "file": Field("Name of the file", f"it goes into {self.folder / 'tables'}", "drawer"),
        }
        self.grid = Grid(name="drawer", caption="On hand, the oldest first", adds="Add a row", columns=_columns(),
                         starts_at=COLUMNS.index("name"))  # fmt: skip
        self.answer, self.state, self.note, self.taken, self.saved = (w.HTML() for _ in range(5))
        self.save = self._button("Save the drawer", self._save)
        self.back = self._button("Undo", lambda: self._move(undo))
        self.again = self._button("Redo", lambda: self._move(redo))
        self.clear = self._button("Empty the table", self._clear)
        self.theirs = self._button("Take over what is there now", self._take_theirs)
        self.ours = self._button("Save mine over it", lambda: self._save(over=True))
        self.conflict = self._row(self.theirs, self.ours)
        self.upload = w.FileUpload(accept=",".join(ENDINGS), multiple=False, description="Take a file")
        self._ours: set[Path] = set()
        f = self.fields
        drills = w.VBox([row(f["first"], f["last"]), self._row(self._button("Add these drills", self._add_drills))])
        csv, sheet = (
            self._button(words, lambda ending=ending: self._write(ending))  # type: ignore[misc]
            for words, ending in (("Save as CSV", ".csv"), ("Save as spreadsheet", ".xlsx"))
        )
        files = w.VBox(
            [row(f["how"]), self.upload, w.HTML(look.hint(FILE_HINT)), row(f["file"]), self._row(csv, sheet)]
        )
        self.view = page(
            self.answer,
            row(f["scale"]),
            w.HTML(look.hint(HINT)),
            self.grid,
            self.state,
            self._row(self.save, self.back, self.again, self.clear),
            self.note,
            self.conflict,
            Fold("Add a run of drills", drills).view,
            Fold("From a file, and to one", files).view,
            self.taken,
            self.saved,
        )
        self.grid.observe(lambda _change: self._edited(), names="rows")
        self.upload.observe(lambda _change: self._use_file(), names="value")
        f["scale"].on_change(self._edited)
        self._load()

    @staticmethod
    def _button(words: str, act: Callable[[], None]) -> w.Button:
        button = w.Button(description=words, layout=w.Layout(min_width="10rem"))
        button.on_click(lambda _button: act())
        return button

    @staticmethod
    def _row(*buttons: w.Button) -> w.HBox:
        box = w.HBox(list(buttons))
        box.add_class("mm-row")
        return box

    # The table.

    def _load(self) -> None:
        try:
            self._show(load_drawer(self.file))
        except ModelMathError as reason:
            self.note.value = look.problem(str(reason))
            self.save.disabled = True
            self._edited()

    def _show(self, kept: Kept) -> None:
        """Show the drawer as its file has it."""
        self.kept, self._words = kept, kept.drawer.demo
        self.note.value = ""
        self.conflict.layout.display = "none"
        self.grid.show([cells(item) for item in kept.drawer.items])
        self._edited()

    def rows(self) -> tuple[list[Item], list[dict[str, object]]]:
        """Return the rows as they can be read, and what is wrong with the others; empty ones are passed over."""
        good: list[Item] = []
        faults: list[dict[str, object]] = []
        for at, given in enumerate(self.grid.cells()):
            if any(text.strip() for key, text in given.items() if key != "kind" and (key, text) not in BEGUN):
                try:
                    good.append(read_item(given, self.fields["scale"].value))
                except BadCell as fault:
                    faults.append({"row": at, "key": fault.column, "message": str(fault)})
        return good, faults

    def _edited(self) -> None:
        items, faults = self.rows()
        self.grid.faults = faults
        drawer = Drawer(tuple(items), self._demo(items))
        demo = look.paragraph(drawer.demo, "mm-soft") if drawer.demo else ""
        self.answer.value = f'<div class="mm-card" role="status">{look.paragraph(drawer.summary)}</div>{demo}'
        changed = self._change(items)
        said = f"Not saved yet: {changed}." if changed else "Saved: the table is what the drawer's file has."
        if faults:
            said = f"{_rows(len(faults))} can't be read; mend {'it' if len(faults) == 1 else 'them'}, then save."
        self.state.value = look.problem(said) if faults else look.echo(said)
        self.save.disabled = bool(faults) or not changed
        self.back.disabled, self.again.disabled = not self.kept.can_undo, not self.kept.can_redo
        self.back.description = f"Undo: {_short(self.kept.undoes)}" if self.kept.can_undo else "Undo"
        self.again.description = f"Redo: {_short(self.kept.redoes)}" if self.kept.can_redo else "Redo"

    def _demo(self, items: list[Item]) -> str:
        """Return the words that mark invented data, as long as some of it is left."""
        invented = {item.same_as for item in demo_drawer().items}
        return self._words if any(item.same_as in invented for item in items) else ""

    def _change(self, items: list[Item]) -> str:
        """Return what differs from the file in a few words; empty if nothing does."""
        before, now = Counter(self.kept.drawer.items), Counter(items)
        new, gone = sum((now - before).values()), sum((before - now).values())
        both = min(new, gone)
        parts = [(both, "changed"), (new - both, "added"), (gone - both, "taken out")]
        said = ", ".join(f"{_rows(count)} {word}" for count, word in parts if count)
        return said or ("another order" if tuple(items) != self.kept.drawer.items else "")

    # What is done.

    def _save(self, over: bool = False) -> None:
        items, faults = self.rows()
        if faults:
            self.note.value = look.problem("Mend the rows that can't be read first; nothing was saved.")
            return
        changed = self._change(items) or "saved over"
        try:
            self._show(
                save_drawer(self.file, Drawer(tuple(items), self._demo(items)), self.kept.revision, changed, over)
            )
        except DrawerChanged as reason:
            self.note.value = look.problem(str(reason))
            self.conflict.layout.display = None
        except ModelMathError as reason:
            self.note.value = look.problem(str(reason))

    def _take_theirs(self) -> None:
        self._load()

    def _move(self, way: Callable[[Path, str], Kept]) -> None:
        if self._change(self.rows()[0]) or self.grid.faults:
            self.note.value = look.problem(
                "Save the table first, or read the page anew: undoing would lose what is typed."
            )
            return
        try:
            self._show(way(self.file, self.kept.revision))
        except DrawerChanged as reason:
            self._show(reason.theirs)
            self.note.value = look.problem(
                "The drawer was changed elsewhere; this is what is there now. Nothing was undone."
            )
        except ModelMathError as reason:
            self.note.value = look.problem(str(reason))

    def _clear(self) -> None:
        self._words = ""
        self.grid.show([])
        self.note.value = look.hint("The table is empty; the file is as it was until you save.")

    def _add_drills(self) -> None:
        first, last = self.fields["first"], self.fields["last"]
        try:
            found = drill_range(first.value, last.value)
        except ModelMathError as reason:
            first.show(wrong=str(reason))
            return
        first.show(f"{len(found)} drills, {found[0].name} to {found[-1].name}")
        more = [cells(Item("drill", each.name)) for each in found]
        self.grid.show([*self.grid.cells(), *more])

    # Files.

    def _use_file(self) -> None:
        if not self.upload.value:
            return
        name, content = self.upload.value[0]["name"], bytes(self.upload.value[0]["content"])
        try:
            check_ending(name)
            drawer, bad = read_drawer(content, self.fields["scale"].value)
        except ModelMathError as reason:
            self.taken.value = look.problem(f"{name}: {reason}")
            return
        good, faults = self.rows()
        new = [cells(item) for item in drawer.items]
        if self.fields["how"].value != ADD:
            self._words = ""
            self.grid.show(new)
        elif faults:  # nothing typed is lost; equal rows join once all of them can be read
            self.grid.show([*self.grid.cells(), *new])
        else:
            self.grid.show([cells(item) for item in put_in(good, drawer.items)])
        said = f"{name}: {_rows(len(drawer.items))} taken into the table; save the drawer to keep them."
        left = [f"row {each.number}: {each.message} ({each.text})" for each in bad[:SHOWN_BAD]]
        if len(bad) > SHOWN_BAD:
            left.append(f"and {len(bad) - SHOWN_BAD} more")
        wrong = (
            look.problem(f"{_rows(len(bad))} of the file can't be read and {_are(len(bad))} left out:") if bad else ""
        )
        self.taken.value = look.echo(said) + wrong + (look.bullets(left) if left else "")

    def _write(self, ending: str) -> None:
        name = self.fields["file"].value
        if not any(sign.isalnum() for sign in name):
            self.saved.value = look.problem("Nothing was saved: give the file a name, such as drawer.")
            return
        items, faults = self.rows()
        file = self.folder / "tables" / f"{file_name(name)}{ending}"
        if file.exists() and file not in self._ours:
            there = f"Nothing was saved: {file.name} is there already, and was not saved from here. Give another name."
            self.saved.value = look.problem(there)
            return
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            write_drawer(Drawer(tuple(items)), file)
        except OSError as reason:
            self.saved.value = look.problem(f"Nothing was saved: {reason.strerror or reason}.")
            return
        self._ours.add(file)
        left = look.problem(f"{_rows(len(faults))} can't be read and {_are(len(faults))} not in it.") if faults else ""
        link = f'<a href="{look.text(places.link(file))}" download>{look.text(file.name)}</a>'
        self.saved.value = f'{left}<p role="status">Saved: {link}, in {look.text(file.parent)}</p>'

    @property
    def summary(self) -> str:
        """What is on hand, in a line."""
        return self.kept.drawer.summary


def _rows(count: int) -> str:
    return f"{count} row{'' if count == 1 else 's'}"


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _short(words: str) -> str:
    return words if len(words) <= 40 else words[:37] + "..."
