"""What another chamber may use: at the plan's own places the other ways of fitting give the plan's own volume."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS
from spacious import ZONES, spacious

from modelmath import plan
from modelmath.job.space.left_free import left_free

MADE = {
    "no path": spacious,
    "a wire path": lambda: spacious(chamber={"wire_path": "2 mm"}),
    "a wire path under one roof": lambda: spacious(
        chamber={"wire_path": "1.5 mm"}, zones=[{**ZONES[0], "end": None, "name": "all"}]
    ),
    **{name: (lambda made=made: plan(made)) for name, made in DEMOS.items()},
}


@pytest.fixture(params=MADE, scope="module")
def made(request):
    return MADE[request.param]()


def test_the_curve_at_the_plan_s_own_place_holds_as_much(made):
    fitted, curve = made.chamber.cut_from, made.trade
    at = fitted.start_mm if curve.ends == "front" else fitted.end_mm
    assert curve.at(at).volume_mm3 == fitted.volume_mm3
    assert curve.best.volume_mm3 == fitted.volume_mm3  # the plan's own is the largest, so no place holds more


def test_a_floor_without_a_step_is_the_plan_s_own(made):
    if made.stepped.reason:
        assert made.job.chamber.cut_round
        return
    flat = made.stepped.gains[0]
    assert (flat.steps, flat.chamber.volume_mm3) == (0, made.chamber.cut_from.volume_mm3)


def test_the_wire_path_is_taken_off_once():
    free = left_free(spacious(chamber={"wire_path": "2 mm"}))
    assert {zone.width_mm for zone in free.cavity.zones} == {20 - 2 - 1}  # the path and its wall, 1 mm
    assert free.limits.wire_path_mm == 0


def test_a_decoder_below_the_floor_stays_there():
    found = plan(DEMOS["railbus-ho"])
    pocket = found.chamber.cut_from.pocket
    assert pocket.where == "below its floor"
    for place in found.trade.places_mm:
        point = found.trade.at(place)
        if point is not None and min(point.place_mm, point.far_mm) < pocket.end_mm:
            assert point.floor_mm >= pocket.top_mm
