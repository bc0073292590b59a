"""The fold of the holes shows each wall as a figure, and its places once."""

from __future__ import annotations

from crowded import crowded
from sheets import demo

from modelmath.drawings.figures.views.holes import holes_svg
from modelmath.widgets.plan.holes import holes


def test_each_wall_is_shown_as_a_figure():
    plan = crowded()
    said = holes(plan)
    assert said.count("<svg") == len(plan.hole_places) == 2
    assert all(holes_svg(wall) in said for wall in plan.hole_places)


def test_holes_without_room_have_the_reason_and_no_figure():
    said = holes(demo("railcar-n", hole_layout={"web": "9 mm"}))
    assert "<svg" not in said
    assert 'role="alert"' in said
