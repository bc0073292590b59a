"""Small jobs for tests: one zone read with one scale rule, and changes to it by name. All numbers invented."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path
from typing import Any

from modelmath.job.document import Job
from modelmath.job.storage.files import load_job
from modelmath.tables import data_folder

DEMO_PATHS = sorted(Path(str(item)) for item in (data_folder() / "jobs").iterdir() if item.name.endswith(".toml"))
DEMOS = {path.stem: load_job(path) for path in DEMO_PATHS}

# 3 3/4 HO feet of space, with zero one foot in from the rule's end.
SMALLEST: dict[str, Any] = {
    "name": "test hood",
    "scale": "HO",
    "rules": [{"name": "scale rule", "graduation": "1/4", "zero_offset": "1", "offset_uncertainty": "0.1 mm"}],
    "marking": {"rule": "scale rule", "finest": "1/4"},
    "clearance": {"keep": "1/4 scale ft"},
    "readings": [{"name": "roof", "mark": "9 1/4"}, {"name": "motor top", "mark": "5 1/2"}],
    "zones": [{"name": "motor", "underside": "roof", "chassis_top": "motor top"}],
}


def changed(document: dict[str, Any] = SMALLEST, /, **fields: Any) -> dict[str, Any]:
    """A copy of a document with other fields."""
    return {**deepcopy(document), **deepcopy(fields)}


def job(document: dict[str, Any] = SMALLEST, /, **fields: Any) -> Job:
    """The same as a job."""
    return Job.model_validate(changed(document, **fields))


def with_chamber(**fields: Any) -> Job:
    """The smallest job with what a chamber needs: width, length, a full speaker."""
    readings = [
        *SMALLEST["readings"],
        {"name": "width", "mark": "5"},
        {"name": "length", "mark": "19", "on": "shell"},
    ]
    zones = [{**SMALLEST["zones"][0], "width": "width"}]
    speaker = {"length": "22 mm", "width": "16 mm", "flange": "1.2 mm", "depth": "6 mm"}
    return job(**{"readings": readings, "zones": zones, "length": {"shell_inside": "length"}, "speaker": speaker,
                  **fields})  # fmt: skip
