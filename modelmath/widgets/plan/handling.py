"""Moving things in the side elevation: by hand in the drawing, or by typing; what follows is said as they move."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from fractions import Fraction
from typing import Any

import ipywidgets as w

from modelmath.drawings.figures.handled import HandledFigure, Spot, handled_figure
from modelmath.errors import ModelMathError
from modelmath.job import Job, Plan
from modelmath.job.handling import (
    CantStand,
    Handle,
    Moved,
    band_of,
    decoder_moves,
    handles,
    length_text,
    let_walls_go,
    place_words,
    put_back,
    tried,
    walls_held,
)
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, row
from modelmath.widgets.common.handled import Handled
from modelmath.widgets.plan.folds import PlanFold

TITLE = "Move things in the drawing"
NONE_YET = "Once there is a chamber, its walls, the speaker and what stands in the shell can be moved here."
HELD_OUT = "No chamber fits where its ends are held, so there is nothing to move."
LET_GO = "Let the plan choose where the chamber ends"
NOTHING = "(nothing yet)"
NO = "No further that way: "
BACK = "Put it back where the plan chose"
WHERE = "behind the mark; below 0 ahead of it, such as -60 mm"


class Handling:
    """The side elevation to be handled, and beside it the same by typing.

    Parameters
    ----------
    edited : callable
        Called with the new job once something was put elsewhere. [-]
    folded : bool
        Whether it is shown once `fold` is open; False where `view` stands on the page by itself. [-]
    """

    def __init__(self, edited: Callable[[Job], None], folded: bool = True) -> None:
        self._edited, self._folded = edited, folded
        self.plan: Plan | None = None
        self.found: tuple[Handle, ...] = ()
        self._grabbed: Job | None = None
        self._figure: HandledFigure | None = None
        self._bands: dict[str, dict[str, Any]] = {}
        self._filling = self._taking = False
        self.handled = Handled()
        self.which = Field("What to move", "one of what has arrows in the drawing", options=[NOTHING])
        self.place = Field("Its place", WHERE)
        self.said, self.empty = w.HTML(), w.HTML(look.paragraph(NONE_YET))
        self.back, self.go = w.Button(description=BACK), w.Button(description=LET_GO)
        buttons = w.HBox([self.back])
        buttons.add_class("mm-row")
        self._content = [self.handled, row(self.which, self.place), buttons, self.said]
        self.view = w.VBox([self.empty])
        self.fold = PlanFold(TITLE, self.view, self._show, self._clear)
        self.handled.observe(self._asked, names="asked")
        self.which.on_change(self._chosen)
        self.place.on_change(self._typed)
        self.back.on_click(lambda _button: self._put_back())
        self.go.on_click(lambda _button: self._let_go())

    # Showing.

    def show(self, plan: Plan) -> None:
        """Show a plan: in the fold once that is open, or at once where the view stands by itself."""
        (self.fold.show if self._folded else self._show)(plan)

    def clear(self) -> None:
        """Show nothing, as long as there is no plan."""
        self.fold.clear()

    def _clear(self) -> None:
        if self._taking:
            return  # a page that takes the job over begins by clearing all: what is moved here stays in hand
        self.plan, self.found, self._grabbed = None, (), None
        self.handled.scene = {}
        self.view.children = [self.empty]

    def _show(self, plan: Plan, said: str = "") -> None:
        if self.plan is not None and plan.job == self.plan.job and not said:
            self.plan = plan  # it shows that already
            return
        try:
            found = handles(plan)
            figure = handled_figure(plan, found)
        except ModelMathError as reason:
            self._clear()
            self.empty.value = look.problem(str(reason))
            return
        self.plan, self.found, self._figure, self._bands = plan, found, figure, {}
        self.empty.value = look.paragraph(HELD_OUT if walls_held(plan.job) else NONE_YET)
        none = [self.empty, self.go] if walls_held(plan.job) else [self.empty]
        self.view.children = self._content if found else none
        self.handled.scene = _scene(plan, found, figure, said) if found else {}
        self.said.value = look.paragraph(said) if said else ""
        self._fill()

    def _fill(self) -> None:
        """Offer what can be moved, and say where the chosen one is."""
        self._filling = True
        names = [each.name for each in self.found] or [NOTHING]
        if list(self.which.control.options) != names:
            self.which.control.options = names
        self._filling = False
        self._tell()

    # Typing.

    @property
    def chosen(self) -> Handle | None:
        """What is chosen to be moved by typing."""
        index = self.which.control.index
        return self.found[index] if self.found and index is not None and index < len(self.found) else None

    def _chosen(self) -> None:
        if not self._filling:
            self._tell()

    def _tell(self) -> None:
        handle = self.chosen
        if handle is None or self.plan is None:
            return
        self._filling = True
        self.place.value = _short(handle.at_mm)
        self._filling = False
        self.place.show(handle.fixed or f"{handle.face} {place_words(handle.at_mm, self.plan.mark_name)}")
        self.back.disabled = not handle.moved
        self.back.description = "Put it back where it was read" if handle.kind == "obstacle" else BACK

    def _typed(self) -> None:
        handle, plan = self.chosen, self.plan
        if self._filling or handle is None or plan is None:
            return
        try:
            self._take(tried(plan.job, plan, handle, parse_length_exact(self.place.value, scale=plan.scale)))
        except ModelMathError as reason:
            self.place.show(wrong=str(reason))

    def _put_back(self) -> None:
        handle, plan = self.chosen, self.plan
        if handle is not None and plan is not None:
            self._take_job(put_back(plan.job, plan, handle), f"The {handle.name} is back.")

    def _let_go(self) -> None:
        if self.plan is not None:
            self._take_job(let_walls_go(self.plan.job), "The plan chooses where the chamber ends.")

    # Moving in the drawing.

    def _asked(self, change: Any) -> None:
        asked = change["new"]
        plan, handle = self.plan, next((each for each in self.found if each.key == asked.get("key")), None)
        answer: dict[str, Any] = {}
        if plan is not None and handle is not None:
            try:
                answer = ACTS[asked["act"]](self, plan, handle, Fraction(asked.get("to") or 0))
            except CantStand as reason:
                answer = _refusal(handle, reason)
            except ModelMathError as reason:
                answer = {"ok": False, "stop": float(handle.at_mm), "why": str(reason)}
        self.handled.answer = {"n": asked.get("n"), "page": asked.get("page"), **answer}

    def _grab(self, plan: Plan, handle: Handle, to_mm: Fraction) -> dict[str, Any]:
        self._grabbed = plan.job
        if self.which.control.index != self.found.index(handle):
            self.which.control.index = self.found.index(handle)
        return self._band(plan, handle, to_mm)

    def _band(self, plan: Plan, handle: Handle, _to_mm: Fraction) -> dict[str, Any]:
        if handle.kind == "obstacle":  # what it leaves no room for is found out as it moves
            return {"ok": True}
        if handle.key not in self._bands:
            band = band_of(plan, handle)
            ends = {"low": float(band.low_mm), "high": float(band.high_mm)}
            self._bands[handle.key] = {**ends, "whyLow": NO + band.why_low, "whyHigh": NO + band.why_high}
        return {"ok": True, "band": self._bands[handle.key]}

    def _end(self, plan: Plan, handle: Handle, to_mm: Fraction) -> dict[str, Any]:
        front = to_mm < handle.at_mm
        if handle.kind != "obstacle":
            band = self._band(plan, handle, to_mm)["band"]
            return {"ok": True, "at": band["low" if front else "high"], "why": band["whyLow" if front else "whyHigh"]}
        try:
            tried(plan.job, plan, handle, to_mm)
        except CantStand as reason:
            near = handle.at_mm if reason.near_mm is None else reason.near_mm
            return {"ok": True, "at": float(near), "why": NO + reason.why}
        return {"ok": True, "at": float(to_mm), "why": NO + handle.ends[0 if front else 1]}

    def _try(self, plan: Plan, handle: Handle, to_mm: Fraction) -> dict[str, Any]:
        assert self._figure is not None
        made = plan if to_mm == handle.at_mm else tried(plan.job, plan, handle, to_mm).plan
        line = " ".join(filter(None, (line_of(made), decoder_moves(plan, made))))
        return {"ok": True, "line": line, "room": _on_page(self._figure.chamber(made))}

    def _drop(self, plan: Plan, handle: Handle, to_mm: Fraction) -> dict[str, Any]:
        self._take(tried(plan.job, plan, handle, to_mm))
        return {"ok": True}

    def _back(self, plan: Plan, handle: Handle, _to_mm: Fraction) -> dict[str, Any]:
        if self._grabbed is not None and self._grabbed != plan.job:
            self._take_job(self._grabbed, f"The {handle.name} is back.")
        return {"ok": True}

    # Taking a change over.

    def _take_job(self, job: Job, said: str) -> None:
        assert self.plan is not None
        try:
            self._take(Moved(job, Plan(job, self.plan.bench.shared), said))
        except ModelMathError as reason:
            self.said.value = look.problem(str(reason))

    def _take(self, moved: Moved) -> None:
        self._show(moved.plan, moved.said)
        self._taking = True
        try:
            self._edited(moved.job)
        finally:
            self._taking = False


ACTS: dict[str, Callable[[Handling, Plan, Handle, Fraction], dict[str, Any]]] = {
    "grab": Handling._grab,
    "band": Handling._band,
    "end": Handling._end,
    "try": Handling._try,
    "drop": Handling._drop,
    "back": Handling._back,
}


def line_of(plan: Plan) -> str:
    """Return volume, least clearance and the bulkhead's height in a line."""
    said = []
    if plan.chamber is not None:
        said.append(f"The chamber holds {float(plan.chamber.volume_mm3) / 1000:.2f} cm3")
    said.append(f"the least clearance is {format_length(plan.gap.left_mm, 'mm')}, over {plan.governing.zone.name}")
    if plan.bulkhead is not None:
        said.append(f"the bulkhead is {format_length(plan.bulkhead.cut.cut_mm, 'mm')} high")
    return f"{'; '.join(said)}."


def _refusal(handle: Handle, reason: CantStand) -> dict[str, Any]:
    stop = handle.at_mm if reason.near_mm is None else reason.near_mm
    return {"ok": False, "stop": float(stop), "why": NO + reason.why}


def _short(mm: Fraction) -> str:
    """Return a place as it is typed; one that few decimals hold exactly as it is, others rounded."""
    text = length_text(mm)
    return text if len(text) <= len("-123.456789 mm") and "/" not in text else f"{float(mm):.2f} mm"


def _scene(plan: Plan, found: tuple[Handle, ...], figure: HandledFigure, said: str) -> dict[str, Any]:
    mark = plan.mark_name
    return {
        "svg": figure.svg,
        "title": f"Side elevation of {plan.job.name}, with what can be moved",
        "width": figure.width,
        "unit": figure.frame.unit,
        "mark": mark,
        "line": line_of(plan),
        "said": said,
        "handles": [
            {
                "key": each.key,
                "label": f"{each.name}, {each.face}",
                "spot": asdict(figure.spots[each.key]),
                "grip": figure.grips[each.key],
                "at": float(each.at_mm),
                "places": [float(place) for place in each.places],
                "whyLow": f"{NO}{each.ends[0]}",
                "whyHigh": f"{NO}{each.ends[1]}",
                "fixed": each.fixed,
            }
            for each in _walls_last(found)
            if each.key in figure.spots
        ],
    }


def _walls_last(found: tuple[Handle, ...]) -> list[Handle]:
    """Return the handles in the order they are drawn: thin walls over what is wide."""
    return sorted(found, key=lambda each: each.kind in ("bulkhead", "closure"))


def _on_page(spot: Spot | None) -> dict[str, float] | None:
    return None if spot is None else {name: round(value, 2) for name, value in asdict(spot).items()}
