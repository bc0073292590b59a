"""A small editor for the zones along the length."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Job
from modelmath.job.zones import ZoneRow, with_zones, zone_rows
from modelmath.widgets import look
from modelmath.widgets.fields import Field, row

HINT = (
    "From front to rear. Readings as on the first screen. A zone ends where the next begins; that place is measured "
    "from the front end of the half it is read on. With zones on both halves, name the fore-aft mark in the job file."
)


class ZonesEditor:
    """Rows of fields, one for each zone, taken over together.

    Parameters
    ----------
    changed : callable
        Called with the new job once the rows could be read. [-]
    """

    def __init__(self, changed: Callable[[Job], None]) -> None:
        self._changed = changed
        self.job: Job | None = None
        self.rows: list[dict[str, Field]] = []
        self.box = w.VBox()
        self.note = w.HTML()
        self.add = w.Button(description="Add a zone at the rear")
        self.drop = w.Button(description="Take the last zone away")
        self.use = w.Button(description="Use these zones")
        self.add.on_click(lambda _button: self._add())
        self.drop.on_click(lambda _button: self._drop())
        self.use.on_click(lambda _button: self.take_over())
        buttons = w.HBox([self.add, self.drop, self.use])
        buttons.add_class("mm-row")
        self.view = w.VBox([w.HTML(look.paragraph(HINT, "mm-soft")), self.box, buttons, self.note])

    def show(self, job: Job) -> None:
        """Show a job's zones, unless they are what is shown."""
        fresh = zone_rows(job)
        if self.job is None or [self._typed(each) for each in self.rows] != fresh:
            self.rows = [self._fields(each) for each in fresh]
            self._arrange()
        self.job = job

    @staticmethod
    def _fields(zone: ZoneRow) -> dict[str, Field]:
        return {
            "name": Field("Zone", value=zone.name),
            "chassis": Field("Reading on the chassis", value=zone.chassis),
            "shell": Field("Reading in the shell", value=zone.shell),
            "gap": Field("Or the gap, assembled", "putty or feeler, such as 12.4 mm", value=zone.gap),
            "ends_at": Field("Ends at, from the front", "such as 42 mm; empty for the last", value=zone.ends_at),
            "ends_on": Field("Its end is read on", value=zone.ends_on, options=("chassis", "shell")),
        }

    @staticmethod
    def _typed(fields: dict[str, Field]) -> ZoneRow:
        return ZoneRow(**{name: field.value.strip() for name, field in fields.items()})

    def _arrange(self) -> None:
        boxes = [row(*fields.values()) for fields in self.rows]
        for box in boxes:
            box.add_class("mm-zone")
        self.box.children = boxes

    def _add(self) -> None:
        last = self._typed(self.rows[-1]) if self.rows else ZoneRow("motor", "", "")
        self.rows.append(self._fields(ZoneRow(f"zone {len(self.rows) + 1}", last.chassis, last.shell)))
        self._arrange()

    def _drop(self) -> None:
        if len(self.rows) > 1:
            self.rows.pop()
            self._arrange()

    def take_over(self) -> None:
        """Read the rows into the job, or say which can't be read."""
        if self.job is None:
            self.note.value = look.problem("Fill in the first screen, then divide the length into zones.")
            return
        try:
            job = with_zones(self.job, [self._typed(each) for each in self.rows])
        except ModelMathError as reason:
            self.note.value = look.problem(str(reason))
            return
        self.note.value = look.echo(f"{len(self.rows)} zones in use")
        self._changed(job)
