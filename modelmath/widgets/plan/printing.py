"""The packet written at the press of a button, with links to its files."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import ipywidgets as w

from modelmath import drawings
from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.widgets.common import look, places

NOTHING = "There is nothing to print yet: fill in or mend the entries above first."
ADVICE = "Page 1 is the bench card. Print at 100 %, not fitted to the page, and measure a check bar."


class Printing:
    """What was printed, and where it lies."""

    def __init__(self) -> None:
        self.said = w.HTML()
        self.printed: Plan | None = None

    def begin(self) -> None:
        """Begin with another job, of which nothing is printed."""
        self.said.value, self.printed = "", None

    def print(self, plan: Plan | None) -> list[Path]:
        """Write the packet, bench card first, into the workbook folder.

        Parameters
        ----------
        plan : Plan or None
            What to print; None where the entries give no plan. [-]

        Returns
        -------
        list of Path
            The files; none where nothing could be written, which is said. [-]
        """
        if plan is None:
            self.said.value = look.problem(NOTHING)
            return []
        try:
            today, folder = drawings.day_in_words(date.today()), places.workbook_folder() / "packets"
            files: list[Path] = drawings.write_packet(plan, folder, date=today)
        except (ModelMathError, OSError) as reason:
            self.said.value = look.problem(f"{reason}")
            return []
        self.printed = plan
        links = "".join(
            f'<li><a href="{look.text(places.link(file))}" download>{look.text(file.name)}</a></li>' for file in files
        )
        where = look.paragraph(f"In {files[0].parent}", "mm-soft")
        self.said.value = f"{look.paragraph(ADVICE)}<ul>{links}</ul>{where}"
        return files
