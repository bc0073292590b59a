"""Why this number: a subject, then a figure of it; or a number that one sees, and the figures that carry it."""

from __future__ import annotations

import ipywidgets as w

from modelmath.job import Plan
from modelmath.job.why import SUBJECTS, Figure, numbers_in, showing
from modelmath.widgets.common.fields import Field, row
from modelmath.widgets.plan import views
from modelmath.widgets.plan.folds import PlanFold

NONE = "-"
TYPE = "Type it as it is printed, with its unit, such as 0.88 mm."
LATER = "Nothing of it can be worked out from what is entered yet."


class WhyFold:
    """The fold that explains a plan's numbers."""

    def __init__(self) -> None:
        self.subject = Field("What it is about", "narrows the list beside it", options=[NONE])
        self.figure = Field("Figure", "the number to explain", options=[NONE])
        self.seen = Field("A number you see", TYPE)
        self.why = w.HTML()
        self._plan: Plan | None = None
        self._loading = False
        content = w.VBox([row(self.subject, self.figure), row(self.seen), self.why])
        self.fold = PlanFold("Why this number", content, self.show, self.clear)
        self.subject.on_change(self._choose_subject)
        self.figure.on_change(self._explain)
        self.seen.on_change(self._find)

    def show(self, plan: Plan) -> None:
        """Offer the subjects and figures of a plan, the one chosen before where it is still there."""
        self._plan = plan
        names = [each.name for each in SUBJECTS if each.searches or plan.explained.of(each)]
        self._offer(self.subject, names)
        if self.seen.value.strip():
            self._find()
        else:
            self._offer_subject()

    def clear(self) -> None:
        """Show nothing, as long as there is no plan."""
        self._plan = None
        self.why.value = ""
        for field in (self.subject, self.figure):
            self._offer(field, [NONE])
            field.show()
        self._set(self.seen, "")
        self.seen.show()

    def _choose_subject(self) -> None:
        """Show the figures of the subject chosen; what was looked up before is dropped."""
        if self._loading or self._plan is None:
            return
        self._set(self.seen, "")
        self.seen.show()
        self._offer_subject()

    def _offer_subject(self) -> None:
        assert self._plan is not None
        subject = next(each for each in SUBJECTS if each.name == self.subject.value)
        found = self._plan.explained.of(subject)
        self.subject.show(wrong="" if found else LATER)
        self._offer(self.figure, list(found) or [NONE])
        self._explain()

    def _find(self) -> None:
        """Offer the figures that carry the number typed; without one, those of the subject."""
        if self._loading or self._plan is None:
            return
        typed = self.seen.value.strip()
        if not typed:
            self.seen.show()
            self._offer_subject()
            return
        found = self._carrying(typed)
        if found:
            said = (
                "1 figure carries it." if len(found) == 1 else f"{len(found)} figures carry it; the likeliest is first."
            )
            self.seen.show(said)
            self._offer(self.figure, [NONE])  # so that the likeliest is chosen, whatever was before
            self._offer(self.figure, [each.name for each in found])
            self._explain()
        elif numbers_in(typed):
            self.seen.show(wrong=f"No figure of this plan carries {typed}.")
        else:
            self.seen.show(wrong=f"There is no number in {typed!r}.")

    def _carrying(self, typed: str) -> tuple[Figure, ...]:
        """Return the figures that carry a number; those that take a search only where no other does."""
        assert self._plan is not None
        found = showing(self._plan.figures.values(), typed)
        return found or showing(self._plan.explained.every.values(), typed)

    def _offer(self, field: Field, names: list[str]) -> None:
        if list(field.control.options) == names:
            return
        kept = field.value
        self._loading = True
        field.control.options = names
        field.value = kept if kept in names else names[0]
        self._loading = False

    def _set(self, field: Field, text: str) -> None:
        self._loading = True
        field.value = text
        self._loading = False

    def _explain(self) -> None:
        if self._loading or self._plan is None:
            return
        name = self.figure.value
        if self.seen.value.strip() and name != NONE:  # what was looked for may be of any subject
            explained = self._plan.explained
            self._set(self.subject, next(each.name for each in SUBJECTS if name in explained.of(each)))
            self.subject.show()
        self.why.value = "" if name == NONE else views.why(self._plan, name)
