"""The virtual bench: the plan built a thousand times at the press of a button."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.widgets.common import look
from modelmath.widgets.plan.folds import PlanFold

BUILDS = 1000
ABOUT = (
    "Each time the rule, the readings, the cutting and the way the shell seats and shifts err anew, within what you "
    "entered. "
    "It shares nothing with the plan's own count of chances, and so checks it."
)
NOT_LOOKED_AT = (
    "It looks at heights: whether what hangs from the roof, or is boxed round what stands there, touches what lies "
    "below, and whether the speaker's back touches the roof or the floor plate. Along the length it looks at walls "
    "and the ends of boxes beside what is higher than the floor, painting and warmth left out. It does not look at "
    "the room across, at a speaker that faces an end, at the decoder, at holes and wires, at slips of the knife or "
    "the wrong mark, or at anything you have not entered."
)
MOST = 5  # rows of the table


class VirtualBench:
    """A button, and what came of many builds."""

    def __init__(self) -> None:
        self.plan: Plan | None = None
        self.button = w.Button(description=f"Build it {BUILDS:,} times")
        self.said = w.HTML()
        self.button.on_click(lambda _button: self.build())
        about = w.HTML(look.paragraph(ABOUT) + look.paragraph(NOT_LOOKED_AT, "mm-soft"))
        pressed = w.HBox([self.button])
        pressed.add_class("mm-row")
        content = w.VBox([about, pressed, self.said])
        self.fold = PlanFold("The virtual bench", content, self._show, self._clear)

    def _show(self, plan: Plan) -> None:
        self.plan, self.said.value = plan, ""  # what was built before was another plan

    def _clear(self) -> None:
        self.plan, self.said.value = None, ""

    def build(self) -> None:
        """Build the plan many times, and say what came of it."""
        from modelmath.job.virtual_bench import build_many

        if self.plan is None:
            self.said.value = look.problem("There is nothing to build yet: fill in or mend the entries above first.")
            return
        try:
            found = build_many(self.plan, BUILDS)
        except ModelMathError as reason:
            self.said.value = look.problem(str(reason))
            return
        rows = [(meeting.words, f"{count:,}") for meeting, count in found.first[:MOST]]
        table = look.table("What touches first", ("What over what", f"Times of {BUILDS:,}"), rows) if rows else ""
        self.said.value = f'<div role="status">{look.paragraph(found.in_words)}{table}</div>'
