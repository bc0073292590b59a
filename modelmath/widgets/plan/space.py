"""The space inside the shell as HTML: free depth along the length, room along it, and the model from all sides."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look
from modelmath.widgets.plan import views
from modelmath.widgets.plan.folds import PlanFold, figure

NO_SKYLINE = "Enter the shell's inside width and the length inside it to see the space along the length."

STILL = "The same standing still, for printing and for a page saved without its scripts"


def skyline(plan: Plan) -> str:
    """Return the free depth along the length, drawn and as a table."""
    found = plan.skyline
    if not found:
        return look.paragraph(NO_SKYLINE)
    from modelmath.drawings.charts.skyline import SkylineStretch, skyline_svg

    mark = plan.mark_name
    drawn = [
        SkylineStretch(
            each.name,
            float(each.start_mm),
            float(each.end_mm),
            float(each.free.exact_mm),
            each.free.u_mm,
            max(each.edge_u_mm),
            each.moving,
        )
        for each in found
    ]
    rows = [
        (
            f"{each.name}, moving" if each.moving else each.name,
            _known(each.start_mm, each.edge_u_mm[0]),
            _known(each.end_mm, each.edge_u_mm[1]),
            _known(each.free.exact_mm, each.free.u_mm),
        )
        for each in found
    ]
    note = (
        f"Places count from the {mark}, to the rear. Each ± here is one standard uncertainty; the grey in the drawing "
        "reaches two to either side. No clearance is taken off yet."
    )
    heads = ("Over", "From", "To", "Free depth")
    table = look.table("Free depth along the length", heads, rows, "mm-short")
    return figure(skyline_svg(drawn, mark=mark)) + table + look.paragraph(note, "mm-soft")


def _known(length_mm: object, u_mm: float) -> str:
    known = f" ±{u_mm:.2f}" if u_mm else ""
    return f"{float(length_mm):.2f} mm{known}"  # type: ignore[arg-type]


def along(plan: Plan) -> str:
    """Return the room along the length between each wall and the higher step beside it."""
    said = [each.in_words for each in plan.along_gaps]
    if not said:
        return ""
    rows = [
        (f"{each.wall} and {each.step}", format_length(each.left_mm, "mm"), format_length(each.at_worst_mm, "mm"))
        for each in plan.along_gaps
    ]
    table = look.table("Room along the length", ("Between", "Room", "All at its limit"), rows)
    return table + "".join(look.paragraph(each) for each in said)


def at_bulkhead(plan: Plan) -> str:
    """Return the cross-section at the bulkhead."""
    return _end(plan, "bulkhead") if plan.chamber is not None else ""


def at_speaker(plan: Plan) -> str:
    """Return the cross-section at the speaker."""
    return _end(plan, "speaker") if plan.chamber is not None and plan.chamber.seat_mm is not None else ""


def _end(plan: Plan, at: str) -> str:
    from modelmath.drawings import end_view_svg

    return look.heading(f"From the end, at the {at}") + figure(end_view_svg(plan, at))


def from_above(plan: Plan) -> str:
    """Return the model from above."""
    from modelmath.drawings import plan_of_model_svg

    if plan.chamber is None:
        return ""
    return look.heading("From above") + figure(plan_of_model_svg(plan))


def turned_over(plan: Plan) -> str:
    """Return the side of the model as it lies on its roof."""
    from modelmath.drawings import side_elevation_svg

    return look.heading("Turned over, lying on its roof") + figure(side_elevation_svg(plan, upside_down=True))


class SpaceInside:
    """All the views of the space, with the model to be turned."""

    def __init__(self) -> None:
        self.depths, self.room, self.over, self.bulkhead, self.speaker, self.above = (w.HTML() for _ in range(6))
        self.turned = w.VBox()  # filled when it is first opened: the drawing to be turned takes a while to load
        self.problem = w.HTML()
        self.views = {
            self.depths: skyline,
            self.room: along,
            self.over: turned_over,
            self.bulkhead: at_bulkhead,
            self.speaker: at_speaker,
            self.above: from_above,
        }
        content = w.VBox([*self.views, self.problem, self.turned])
        self.fold = PlanFold("Drawings of the inside", content, self._show, self._clear)

    def _show(self, plan: Plan) -> None:
        for place, view in self.views.items():
            place.value = views.or_reason(view, plan)
        self._turn(plan)

    def _turn(self, plan: Plan) -> None:
        from modelmath.widgets.common.turnable import TurnableFigure

        self.problem.value = ""
        try:
            if not hasattr(self, "figure"):
                self.figure = TurnableFigure()
                self.turned.children = [w.HTML(look.heading("Turn it")), self.figure.view]
            self.figure.show(plan)
            self.figure.still.value = look.folded(STILL, self.figure.still.value)
        except ModelMathError as reason:
            self.figure.clear()
            self.problem.value = look.problem(str(reason))

    def _clear(self) -> None:
        for place in (*self.views, self.problem):
            place.value = ""
        if hasattr(self, "figure"):
            self.figure.clear()
