"""How much clearance to leave: the chance of touching, which size leaves which, and what to measure again."""

from __future__ import annotations

import re

import ipywidgets as w

from modelmath.clearance import Stack
from modelmath.clearance.typed import read_terms
from modelmath.drawings.charts.tail import chances_figure, tail_figure
from modelmath.drawings.svg import to_svg
from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job import Plan, load_job, plan
from modelmath.job.document import Job
from modelmath.job.room_left.sizes import accepted_in_words, chance_in_words
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.plan import touching, views

OWN = (
    "shell, inside width; 13.6 mm; 0.05 mm\n"
    "speaker; -11 mm; 0.1 mm; triangular\n"
    "foam, left; -1 mm; 0.15 mm\n"
    "foam, right; -1 mm; 0.15 mm"
)
HOW_OWN = (
    "One term a line: a name, its length (below 0 for what closes the gap), how far it may be off either way, and the "
    "shape if it is not rectangular: triangular, normal (the limit is then two standard uncertainties) or arcsine."
)
DEMO = "gas-electric-o"


class ClearancePanel:
    """The clearance of one job, and a stack of the user's own."""

    def __init__(self, name: str = DEMO) -> None:
        self.plan: Plan | None = None
        self.job: Job | None = None
        self.chooser = Field("Job", "whose readings and rule are taken", options=list(places.job_files()), value=name)
        self.accepted = Field("Chance of touching you accept", "such as 1 in 100, or 1 %", "1 in 100")
        self.answer, self.tail, self.sizes, self.chances = (w.HTML() for _ in range(4))
        self.terms, self.again, self.spots, self.own_answer = (w.HTML() for _ in range(4))
        self.own = w.Textarea(
            OWN,
            description="Stack",
            continuous_update=False,
            rows=6,
            layout=w.Layout(align_items="stretch"),
            style={"description_width": "initial"},
        )
        self.own.add_class("mm-paste")
        self.chooser.on_change(self._load)
        self.accepted.on_change(self._refresh)
        self.own.observe(lambda _change: self._show_own(), names="value")
        own = w.VBox([w.HTML(look.paragraph(HOW_OWN, "mm-soft")), self.own, self.own_answer])
        self.folds = [
            Fold("What the room left is made of", self.terms),
            Fold("What to measure again first", self.again),
            Fold("Every spot under the floor", self.spots),
            Fold("A stack of your own", own),
        ]
        self.view = page(
            row(self.chooser, self.accepted),
            self.answer,
            self.tail,
            w.HTML(look.heading("Which size leaves what chance")),
            self.sizes,
            self.chances,
            w.HTML(look.heading("More, when you want it")),
            *(fold.view for fold in self.folds),
        )
        self._load()
        self._show_own()

    def _load(self) -> None:
        try:
            self.job = load_job(places.job_files()[self.chooser.value])
        except (KeyError, ModelMathError) as reason:
            self._keep_last()
            self.chooser.show(wrong=f"{self.chooser.value} can't be opened: {reason}")
            return
        self.chooser.show(self.job.demo or None)
        stated = accepted_in_words(self.job.clearance.chance)
        if self.accepted.value == stated:
            self._refresh()
        else:
            self.accepted.value = stated  # which shows the plan anew

    def _refresh(self) -> None:
        try:
            chance = read_chance(self.accepted.value)
        except ModelMathError as reason:
            self._keep_last()
            self.accepted.show(wrong=str(reason))
            return
        if self.job is None:
            return
        try:
            kept = self.job.clearance.model_copy(update={"chance": chance})
            found = plan(self.job.model_copy(update={"clearance": kept}))
            _ = found.gap
        except ModelMathError as reason:
            self._keep_last()
            self.chooser.show(wrong=str(reason))
            return
        self.plan = found
        self.accepted.show(accepted_in_words(chance))
        self._show(found)

    def _keep_last(self) -> None:
        """Keep the last answer in sight, marked as such."""
        self.answer.value = look.stale(self.answer.value)

    def _show(self, found: Plan) -> None:
        self.answer.value = views.or_reason(touching.card, found)
        self.tail.value = views.or_reason(_tail, found)
        self.sizes.value = views.or_reason(touching.sizes, found)
        self.chances.value = views.or_reason(_chances, found)
        self.terms.value = look.paragraph(found.gap.verdict) + views.or_reason(touching.terms, found)
        self.again.value = views.or_reason(touching.read_again, found)
        self.spots.value = views.or_reason(touching.spots, found)

    def _show_own(self) -> None:
        try:
            terms, bad = read_terms(self.own.value)
            stack = Stack(tuple(terms))
            shown = _own(stack) if terms else ""
        except ModelMathError as reason:
            self.own_answer.value = look.problem(str(reason))
            return
        wrong = "".join(look.problem(f"Line {line.number}, kept aside: {line.message}") for line in bad)
        self.own_answer.value = wrong + shown

    @property
    def summary(self) -> str:
        """The clearance in plain language."""
        if self.plan is None:
            return "Nothing is worked out yet."
        gap = self.plan.gap
        lines = [
            f"Room left over {self.plan.governing.name}: {format_length(gap.left_mm, 'mm')}.",
            f"Chance of touching: {chance_in_words(gap.chance)}; accepted: {accepted_in_words(gap.wanted_chance)}.",
            f"For that, {format_length(gap.allowance_mm, 'mm')} have to be left.",
        ]
        lines += [
            f"{row.setting.text}: {format_length(row.left_mm, 'mm')} left, {chance_in_words(row.chance)}"
            for row in self.plan.sizes
        ]
        return "\n".join(lines)


def _tail(found: Plan) -> str:
    return f'<div class="mm-figure">{to_svg(tail_figure(found.gap.stack), 640)}</div>'


def _chances(found: Plan) -> str:
    return f'<div class="mm-figure">{to_svg(chances_figure(found.sizes, found.gap.wanted_chance), 640)}</div>'


def _own(stack: Stack) -> str:
    """Return what a stack of the user's own comes to."""
    chance = stack.interference()
    enough = format_length(stack.allowance(0.01), "mm")
    limits = f"±{stack.worst_case():.2f} mm at worst, ±{stack.rss():.2f} mm usually (root sum of squares)"
    said = [
        f"The gap is {format_length(stack.nominal, 'mm')}, {limits}.",
        f"Chance of touching: {chance_in_words(chance)}. A gap of {enough} would leave about 1 in 100.",
    ]
    figure = f'<div class="mm-figure">{to_svg(tail_figure(stack, "Gap"), 640)}</div>'
    return f'<div class="mm-card" role="status">{"".join(look.paragraph(each) for each in said)}</div>{figure}'


def read_chance(text: str) -> float:
    """Return a chance as people type it: ``1 in 100``, ``1/100``, ``1 %`` or ``0.01``.

    Raises
    ------
    OutOfRange
        If it can't be read, or is not above 0 and at most one half.
    """
    plain = re.sub(r"(?<=\d),(?=\d{3}(?!\d))", "", text.strip())  # 1 in 1,000; a decimal comma is refused below
    match = re.fullmatch(r"([0-9.]+)\s*(?:in|/)\s*([0-9.]+)|([0-9.]+)\s*(%?)", plain)
    try:
        if match is None:
            raise ValueError
        whole, parts = (match[1], float(match[2])) if match[1] else (match[3], 100.0 if match[4] else 1.0)
        chance = float(whole) / parts
    except (ValueError, ZeroDivisionError):
        chance = 0.0
    if not 0 < chance <= 0.5:
        raise OutOfRange("the chance", repr(text.strip()), "above 0 and at most 1 in 2", "Write 1 in 100, or 1 %.")
    return chance
