"""An editor for the cross-sections of the shell's inside."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job import Job
from modelmath.job.entries.inside import form, sections
from modelmath.job.entries.screen import Outcome
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.editor import Lines, ListEditor, OnChange

ABOVE = (
    "For a roof that is rounded or slopes, and for ribs: the full inside width at some depths below the highest point "
    "of the roof. Below the last point the shell is as wide as it was read. Write the unit with every size."
)


class SectionsEditor(ListEditor):
    """The cross-sections of a job, one at a time, and the zones that have each.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    """

    pictures = ("cross-section",)

    def __init__(self, on_change: OnChange) -> None:
        words = ("Cross-section", "a new one", "Add this section", "Take this section out")
        super().__init__(on_change, _fields([]), ABOVE, *words)
        self.zones: list[str] = []

    def show(self, job: Job) -> None:
        """Show a job's cross-sections, and a choice for each of its zones."""
        zones = [zone.name for zone in job.zones]
        if zones != self.zones:
            self.zones = zones
            self._other_zones(job)
        super().show(job)

    def _other_zones(self, job: Job) -> None:
        """Lay the choices out anew; name and points that are being typed stay."""
        typed, same = self.typed, self.job is not None and self.names(self.job) == self.names(job)
        own = self.shown
        self._lay_out(_fields(self.zones))
        fresh = self.texts(job) if same else {}
        if own is None or any(own[name] != fresh.get(name) for name in ("name", "points")):
            self.shown = None
            return
        self.shown, self._filling = fresh, True
        for name, text in {**fresh, "name": typed["name"], "points": typed["points"]}.items():
            self.fields[name].value = text
        self._filling = False

    def texts(self, job: Job) -> dict[str, str]:
        """Return the cross-section shown as texts, by field."""
        return sections.section_texts(job, self.place)

    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""
        return sections.with_section(job, self.place, typed)

    def names(self, job: Job) -> list[str]:
        """Return the names of the cross-sections."""
        return [each.name for each in job.profiles]

    def without(self, job: Job, place: int) -> Job:
        """Return a job without one of its cross-sections."""
        return sections.without_section(job, place)


def _fields(zones: list[str]) -> dict[str, Field]:
    fields = {
        "name": Field("Name of the section", "such as rounded roof"),
        "points": Lines("Depth below the roof: full width", f"from the roof down, such as {sections.EXAMPLE}"),
    }
    for at, zone in enumerate(zones):
        fields[f"zone {at}"] = Field(
            f"The roof over {zone} is so", "whether this section is that of the roof there", options=list(form.YES_NO)
        )
    return fields
