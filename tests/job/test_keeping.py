"""A plan with other clearances, made without reading the rest again, beside the plan of the job that has them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.errors import JobError, ModelMathError
from modelmath.job.document import Clearance

PLANS = {name: plan(job) for name, job in DEMOS.items()}
hundredths = st.integers(1, 300).map(lambda n: f"{n / 100:.2f} mm")
clearances = st.builds(
    Clearance, keep=hundredths, along=hundredths, over_speaker=hundredths, sound_room=hundredths,
    chance=st.sampled_from([0.001, 0.01, 0.2]),
)  # fmt: skip


def told(made):
    """Every figure in words, or why there is none."""
    try:
        return {name: (each.value, each.how) for name, each in made.figures.items()}
    except ModelMathError as reason:
        return str(reason)


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(sorted(DEMOS)), clearances)
def test_it_is_the_plan_of_that_job(name, kept):
    before = told(PLANS[name])
    fresh = plan(DEMOS[name].model_copy(update={"clearance": kept}))
    made = PLANS[name].keeping(kept)
    assert (made.job, made.limits, made.misfit is None) == (fresh.job, fresh.limits, fresh.misfit is None)
    assert told(made) == told(fresh)
    assert told(PLANS[name]) == before


def test_a_clearance_that_can_t_be_read_is_told_with_its_place():
    kept = Clearance(keep="1 mm", along="2")
    fresh = DEMOS["railbus-ho"].model_copy(update={"clearance": kept})
    with pytest.raises(JobError) as reason:
        plan(fresh)
    with pytest.raises(JobError, match=f"^{re.escape(str(reason.value))}$"):
        PLANS["railbus-ho"].keeping(kept)
    assert "clearance, along" in str(reason.value)
