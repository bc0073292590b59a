"""What the floor comes nearest to governs: chassis, or what stands or moves there. Heights worked out by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from built_jobs import random_job
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS
from spacious import CLIP, MARKS, PLACES, POST, SPEAKER, spacious

from modelmath import plan
from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.job.document import Job
from modelmath.widgets.plan import touching, views

GRAIN = 0.002  # obstacles enter the cavity rounded outward to 0.001 mm [mm]


def margins(made: Plan) -> dict[str, Fraction]:
    """Gap less what is to be kept there, over each zone and each obstacle that lies below the floor."""
    chamber, limits = made.chamber, made.limits
    floor, along = Fraction(chamber.floor_mm), made.limits.end_clearance_mm
    found = {}
    for zone in made.enclosure.cavity.zones:
        if zone.start_mm - along < chamber.end_mm and chamber.start_mm < zone.end_mm + along:
            found[zone.name] = floor - Fraction(zone.top_mm) - Fraction(limits.clearance_mm)
    for each in made.bench.moving:
        box = each.obstacle.outward()
        through = box.name in {boxed.name for boxed in chamber.boxed}
        if not through and box.start_mm < chamber.end_mm and chamber.start_mm < box.end_mm:
            found[box.name] = floor - Fraction(box.top_mm)
    return found


def check(made: Plan) -> None:
    """The gap that is printed is that of the least margin, whatever it is over."""
    left = margins(made)
    least = min(left.values())
    below = made.governing
    own = left[below.moving or below.zone.name]
    assert least >= 0
    assert own == pytest.approx(least, abs=GRAIN)
    assert made.gap.over == below.name
    assert made.space.exact_mm - made.chamber_height_mm - made.bench.varying.takes_mm == made.gap.left_mm
    assert made.gap.left_mm - made.gap.clearance_mm == pytest.approx(least, abs=GRAIN)
    assert made.gap.running == bool(below.moving)
    chosen = next(size for size in made.sizes if size.chosen)
    assert (chosen.left_mm, chosen.chance) == (made.gap.left_mm, made.gap.chance)


@pytest.fixture(scope="module")
def over_the_frame():
    """The railmotor with a speaker so long that a box round the motor frame would leave it no room."""
    document = DEMOS["railmotor-oo"].model_dump()
    document["speaker"]["length"] = "90 mm"
    return plan(Job.model_validate(document))


def test_a_motor_frame_that_the_floor_passes_over_is_what_governs(over_the_frame):
    """Roof 27.00, bulkhead 13.50, frame top 12.42: 1.08 mm; 0.60 to keep and 0.40 for the cone leave 0.08."""
    gap = over_the_frame.gap
    assert over_the_frame.chamber_height_mm == Fraction("13.5")
    assert (gap.over, gap.left_mm, gap.running) == ("motor frame", Fraction("1.08"), True)
    assert gap.made_of == (
        "0.60 mm of running clearance, 0.40 mm for the speaker's cone to move out, and 0.08 mm more because the height "
        "is cut to a mark"
    )
    nearest = over_the_frame.spots[0]
    assert (nearest.name, nearest.left_mm) == ("motor frame", pytest.approx(1.08))
    assert gap.chance == pytest.approx(over_the_frame.anywhere.each[0], abs=1e-9)
    check(over_the_frame)


def test_every_view_of_the_room_left_is_over_that_frame(over_the_frame):
    shown = views.answer(over_the_frame) + views.summary(over_the_frame) + touching.sureness(over_the_frame)
    shown += touching.card(over_the_frame) + touching.sizes(over_the_frame)
    assert "1.08 mm over motor frame: 0.60 mm of running clearance" in shown
    assert "Room left over motor frame: 1.08 mm" in shown
    assert "the motor frame limits it" in shown
    # 27.00 - 12.42 = 14.58
    assert "The space from the roof over vestibule down to motor frame is 14.58 mm" in shown
    assert "over vestibule:" not in shown
    assert "6.62 mm" not in shown


def test_why_and_the_build_order_name_that_frame(over_the_frame):
    how = over_the_frame.why("bulkhead height").figure.how
    assert how.startswith(
        "the largest size on a mark that is no more than the space less the room kept over motor frame"
    )
    assert "motor frame: highest" in {each.name for _, each in over_the_frame.why("room left").chain}
    assert "vestibule" not in over_the_frame.why("room left").figure.how
    assert any("motor frame" in step.text for step in over_the_frame.steps)


def test_the_frame_s_own_height_is_what_the_chance_depends_on(over_the_frame):
    names = {term.name for term in over_the_frame.gap.stack.terms if term.tolerance_mm}
    assert "reading of motor frame top" in names
    assert "reading of frame top" not in names
    assert "frame top" not in {each.what for each in over_the_frame.remeasure()}


@pytest.mark.parametrize("name", DEMOS)
def test_the_nearest_governs_in_every_demo(name):
    check(plan(DEMOS[name]))


@settings(max_examples=40, deadline=None)
@given(
    front=st.integers(16, 55),
    long=st.integers(3, 14),
    clip_top=st.integers(21, 52),
    post_top=st.integers(21, 52),
    wide=st.sampled_from(["4 mm", "9 mm", "17.5 mm"]),
    running=st.sampled_from(["0 mm", "0.5 mm", "1.3 mm"]),
    length=st.sampled_from([14, 40, 50, 60]),
    travel=st.sampled_from(["0 mm", "0.6 mm"]),
    cut_round=st.sampled_from([True, True, False]),
    finest=st.sampled_from(["0.1", "0.5", "2"]),
)
def test_the_least_margin_governs_whatever_stands_there(
    front, long, clip_top, post_top, wide, running, length, travel, cut_round, finest
):
    marks = MARKS | {"clip front": str(front), "clip rear": str(front + long), "clip top": str(clip_top / 2)}
    marks |= {"post top": str(post_top / 2)}
    readings = [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in marks.items()]
    try:
        made = spacious(
            decoder=None,
            readings=readings,
            marking={"rule": "steel rule", "finest": finest},
            obstacles=[{**CLIP, "width": wide, "running": running}, {**POST, "top": "post top"}],
            speaker={**SPEAKER, "length": f"{length} mm", "travel": travel},
            chamber={"cut_round": cut_round},
        )
    except ModelMathError:
        return
    if made.chamber is not None:
        check(made)


def test_the_least_margin_governs_in_random_jobs_with_what_moves():
    moving = 0
    for number in range(40):
        made = plan(random_job(number))
        if made.chamber is not None:
            check(made)
            moving += bool(made.governing.moving)
    assert moving > 2
