"""Undo and redo: the states of the job that is open, and what going back or forward would change, in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import ipywidgets as w

from modelmath.job import Job
from modelmath.job.history import History
from modelmath.widgets.common import look


class Undoing:
    """Two buttons, and a line for what they would do.

    Parameters
    ----------
    load : callable
        Called with the job to go back or forward to; it fills the fields from it. [-]
    """

    def __init__(self, load: Callable[[Job], None]) -> None:
        self._load = load
        self.history: History | None = None
        self._going = False
        self.undo_button = w.Button(description="Undo", disabled=True)
        self.redo_button = w.Button(description="Redo", disabled=True)
        self.said = w.HTML()
        self.undo_button.on_click(lambda _button: self.undo())
        self.redo_button.on_click(lambda _button: self.redo())
        self.view = w.HBox([self.undo_button, self.redo_button, self.said])
        self.view.add_class("mm-row")
        self.view.add_class("mm-undo")

    def begin(self) -> None:
        """Begin anew with the next job that is shown: what was before belongs to another one."""
        self.history = None
        self._show()

    def edited(self, job: Job) -> None:
        """Note a job as it is now."""
        if self._going and self.history is not None:  # as the fields write it, which may say the same otherwise
            self.history = replace(self.history, now=job)
            return
        new = History(job) if self.history is None else self.history.edited(job)
        if new is not self.history:
            self.history = new
            self._show()

    def undo(self) -> None:
        """Go back one state."""
        if self.history is not None:
            self._go(self.history.back())

    def redo(self) -> None:
        """Go forward one state."""
        if self.history is not None:
            self._go(self.history.forward())

    def _go(self, new: History) -> None:
        if new is self.history:
            return
        self.history, self._going = new, True
        try:
            self._load(new.now)
        finally:
            self._going = False
        self._show()

    def _show(self) -> None:
        back = self.history.back_changes if self.history else ""
        forward = self.history.forward_changes if self.history else ""
        self.undo_button.disabled, self.redo_button.disabled = not back, not forward
        self.undo_button.tooltip = f"Undo {back}" if back else "Nothing to undo"
        self.redo_button.tooltip = f"Redo {forward}" if forward else "Nothing to redo"
        self.said.value = look.paragraph(f"Undo takes back: {back}.", "mm-soft") if back else ""
