"""Fields for readings that a job has by name and that are still to be taken."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.job import Job
from modelmath.job.entries.unread import Unread, take, unread
from modelmath.lengths.text import SYMBOLS
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field

ABOUT = "These readings of the job are still to be taken; until then nothing is worked out."
OF_ZONE = "The two readings above are those over {zone}."
_HOW = {
    "chassis": "rule's end on the seat, where the shell rests",
    "shell": "shell turned over, rule's end on the inside of the roof",
    "height": "above the seat",
    "size": "straight across",
}
_FROM = {"shell": "from the shell's front end, inside", "chassis": "from the chassis' front end"}


class StillToMeasure:
    """One field for each reading that is still to be taken, beside those of the first screen.

    Parameters
    ----------
    changed : callable
        Called with the new job once a reading could be read. [-]
    """

    def __init__(self, changed: Callable[[Job], None]) -> None:
        self._changed = changed
        self.job: Job | None = None
        self.fields: dict[str, Field] = {}
        self._about, self._box = w.HTML(), w.HBox()
        self._box.add_class("mm-row")
        self.view = w.VBox()

    def show(self, job: Job, zone: int) -> None:
        """Ask for what a job has not measured; what the first screen asks for of its zone is left to that.

        A field that was filled in stays until `clear`, so that what was typed can be mended.
        """
        own = (job.zones[zone].chassis_top, job.zones[zone].underside)
        there = {each.name for each in job.readings}.difference(own)
        fields = {name: field for name, field in self.fields.items() if name in there}
        new = {each.name: self._field(each) for each in unread(job) if each.name in there and each.name not in fields}
        self.job, self.fields = job, fields | new
        shown = tuple(field.view for field in self.fields.values())
        if shown != self._box.children:
            self._box.children = shown
        about = f"{OF_ZONE.format(zone=job.zones[zone].name)} {ABOUT}" if len(job.zones) > 1 else ABOUT
        self._about.value = look.paragraph(about, "mm-soft")
        self.view.children = [self._about, self._box] if shown else []

    def clear(self) -> None:
        """Ask for nothing."""
        self.job, self.fields = None, {}
        self._box.children = self.view.children = []

    def _field(self, reading: Unread) -> Field:
        unit = SYMBOLS.get(reading.unit, reading.unit)
        label = f"{reading.name[0].upper()}{reading.name[1:]}"
        how = _FROM[reading.half] if reading.of == "length" else _HOW[reading.of]
        field = Field(label, f"{how}; a bare number counts {unit}")
        field.on_change(lambda: self._take(reading.name, field))
        return field

    def _take(self, name: str, field: Field) -> None:
        if self.job is None or not field.value.strip():
            field.show()
            return
        taken = take(self.job, name, field.value)
        field.show(taken.echo or None, taken.message or None)
        if taken.job is not None:
            self.job = taken.job
            self._changed(taken.job)
