"""The heads of the walkthrough's steps, each with how far it is, in words."""

from __future__ import annotations

import ipywidgets as w

from modelmath.job import Plan
from modelmath.job.entries.screen import Outcome
from modelmath.job.entries.status import step_status
from modelmath.widgets.common import look

TITLES = {
    "readings": "1. Two readings",
    "supports": "2. Speaker supports",
    "cuts": "3. Cut list",
    "printing": "4. Print",
}


class StepHeads:
    """A head for each step."""

    def __init__(self) -> None:
        self.heads = {name: w.HTML(look.heading(title)) for name, title in TITLES.items()}

    def show(self, outcome: Outcome, plan: Plan | None, printed: Plan | None) -> None:
        """Show how far each step is."""
        status = step_status(outcome, plan, printed)
        for name, title in TITLES.items():
            self.heads[name].value = look.heading(title, getattr(status, name))
