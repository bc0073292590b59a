"""A small editor for the zones along the length."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Job
from modelmath.job.entries.zones import MarkRow, ZoneRow, mark_row, with_zones, zone_rows
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, row
from modelmath.widgets.common.pictures import WhereToMeasure

HINT = (
    "From front to rear. Readings as on the first screen. A zone ends where the next begins; that place is measured "
    "from the front end of the half it is read on. When a place is read on the chassis, one fore-aft mark, measured on "
    "both halves, joins them. A gap read in the assembled model takes the place of the two readings. Of several "
    "spots over a zone the one with the smallest depth counts. A spot read several times: 6; 6 1/8; 6."
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
        self.mark = {
            "name": Field("Fore-aft mark", "such as rear body screw; empty for none"),
            "on_shell": Field("Its place on the shell", "from the shell's front end, inside; such as 80.5 mm"),
            "on_chassis": Field("Its place on the chassis", "from the chassis' front end; such as 92 mm"),
        }
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
        marks = row(*self.mark.values())
        self.where = WhereToMeasure("zones", mind=("electricity",))
        self.view = w.VBox(
            [w.HTML(look.paragraph(HINT, "mm-soft")), self.where.view, marks, self.box, buttons, self.note]
        )

    def show(self, job: Job) -> None:
        """Show a job's zones; rows being edited stay as long as the job's own zones do."""
        fresh = zone_rows(job)
        if self.job is None or zone_rows(self.job) != fresh:
            self.rows = [self._fields(each) for each in fresh]
            self._arrange()
            self.note.value = ""
        if self.job is None or mark_row(self.job) != mark_row(job):
            for name, field in self.mark.items():
                field.value = getattr(mark_row(job), name)
        self.job = job

    @staticmethod
    def _fields(zone: ZoneRow) -> dict[str, Field]:
        return {
            "name": Field("Zone", value=zone.name),
            "chassis": Field("Reading on the chassis", value=zone.chassis),
            "shell": Field("Reading in the shell", value=zone.shell),
            "spots": Field("More spots over it", "left: 5 1/4; right: 5, 8 1/2 for chassis, shell", value=zone.spots),
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
        on = "chassis" if self.mark["name"].value else "shell"  # without a mark only the shell's own places are known
        self.rows.append(self._fields(ZoneRow(f"zone {len(self.rows) + 1}", last.chassis, last.shell, ends_on=on)))
        if last.ends_at == "":
            self.rows[-2]["ends_on"].value = on
        self.note.value = look.echo("Fill the new zone in, then press Use these zones.")
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
            mark = MarkRow(**{name: field.value for name, field in self.mark.items()})
            job = with_zones(self.job, [self._typed(each) for each in self.rows], mark)
        except ModelMathError as reason:
            self.note.value = look.problem(str(reason))
            return
        self._changed(job)
        self.note.value = look.echo(f"{len(self.rows)} zones in use")
