"""The packet written at the press of a button, with links to its files; it says how far it is, and can be stopped."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import ipywidgets as w

from modelmath.job import Plan
from modelmath.widgets.common import look, places
from modelmath.widgets.common.work import Work

NOTHING = "There is nothing to print yet: fill in or mend the entries above first."
ADVICE = "Page 1 is the bench card. Print at 100 %, not fitted to the page, and measure a check bar."


class Printing:
    """What was printed, and where it lies.

    Parameters
    ----------
    done : callable
        Called once a packet is written. [-]
    """

    def __init__(self, done: Callable[[], None] = lambda: None) -> None:
        self._done = done
        self.work, self.said = Work(), w.HTML()
        self.printed: Plan | None = None
        self.files: list[Path] = []

    def begin(self) -> None:
        """Begin with another job, of which nothing is printed."""
        self.work.drop()
        self.said.value, self.printed, self.files = "", None, []

    def print(self, plan: Plan | None) -> list[Path]:
        """Write the packet, bench card first, into the workbook folder.

        Parameters
        ----------
        plan : Plan or None
            What to print; None where the entries give no plan. [-]

        Returns
        -------
        list of Path
            The files; none where nothing could be written, which is said, or while they are still being drawn. [-]
        """
        from modelmath.drawings.sheets.packet import write_packet_in_steps
        from modelmath.drawings.sheets.paper import day_in_words

        self.files = []
        if plan is None:
            self.work.drop()
            self.said.value = look.problem(NOTHING)
            return []
        self.said.value = ""
        folder = places.workbook_folder() / "packets"
        writing = write_packet_in_steps(plan, folder, date=day_in_words(date.today()))
        self.work.begin("Writing the packet", writing, lambda files: self._written(plan, files), self._not_written)
        return self.files

    def _not_written(self, reason: Exception) -> None:
        self.said.value = look.problem(f"{reason}")

    def _written(self, plan: Plan, files: list[Path]) -> None:
        self.printed, self.files = plan, files
        links = "".join(
            f'<li><a href="{look.text(places.link(file))}" download>{look.text(file.name)}</a></li>' for file in files
        )
        where = look.paragraph(f"In {files[0].parent}", "mm-soft")
        self.said.value = f"{look.paragraph(ADVICE)}<ul>{links}</ul>{where}"
        self._done()
