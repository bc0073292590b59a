"""A plan with other clearances, and what is refused of another speaker, without reading the rest again.

Both beside the job read as a whole.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.errors import JobError, ModelMathError
from modelmath.job.bench.bench import Bench
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


changes = st.fixed_dictionaries(
    {},
    optional={
        "round": st.booleans(),
        "turned": st.booleans(),
        "faces": st.sampled_from(["down", "up", "front", "rear"]),
        "place": st.sampled_from(["front", "middle", "rear", "0 mm", "20 mm", "4 in", "900 mm"]),
        "length": st.sampled_from(["8 mm", "20 mm", "90 mm", "2 pints"]),
        "width": st.sampled_from(["8 mm", "21 mm", "0 mm"]),
    },
)


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(sorted(DEMOS)), changes)
def test_another_speaker_is_refused_for_what_the_whole_job_is(name, changed):
    bench = PLANS[name].bench
    entry = bench.job.speaker.model_copy(update=changed)
    fresh = Bench(bench.job.model_copy(update={"speaker": entry}))
    assert [str(each) for each in bench.faults_with(entry)] == [str(each) for each in fresh.faults]
    assert bench.faults == []
