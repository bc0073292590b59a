"""The document's own rules: unknown fields are refused, defaults are few, one job is a value."""

from __future__ import annotations

import pytest
from pydantic import ValidationError
from sample_jobs import DEMOS, SMALLEST, changed, job

from modelmath.job.document import FORMAT, Job


def test_the_smallest_job_needs_six_entries():
    """Scale, zero offset, chassis reading, shell reading, clearance, finest mark; all else has a default or a name."""
    small = job()
    assert (small.format, small.build.wall, small.seat.repeatability) == (FORMAT, ".040 in", "0.1 mm")
    assert small.speaker is small.decoder is small.length is None
    assert small.links == small.lamps == small.wires == small.drawer == []


@pytest.mark.parametrize(
    ("fields", "places"),
    [
        ({"colour": "red"}, [("colour",)]),
        ({"rules": []}, [("rules",)]),
        ({"zones": [{"name": "motor", "floor": "x"}]}, [("zones", 0, "floor")]),
        ({"format": 0}, [("format",)]),
        ({"name": ""}, [("name",)]),
        ({"speaker": {"flange": 1.2}}, [("speaker", "flange")]),
        ({"readings": [{"name": "roof", "mark": "1", "taken_from": "floor"}]}, [("readings", 0, "taken_from")]),
    ],
)
def test_what_no_job_can_be_is_refused_at_its_place(fields, places):
    with pytest.raises(ValidationError) as refused:
        Job.model_validate(changed(**fields))
    assert [error["loc"] for error in refused.value.errors()] == places


@pytest.mark.parametrize("name", DEMOS)
def test_a_job_survives_its_own_dump(name):
    assert Job.model_validate(DEMOS[name].model_dump()) == DEMOS[name]


def test_equal_documents_are_equal_jobs():
    assert job() == job()
    assert job() != job(name="another")
    assert job().model_dump(exclude_defaults=True, exclude_none=True).keys() == SMALLEST.keys()
