"""What every sheet is drawn for: the demo jobs and the least job, on both papers."""

from __future__ import annotations

import pytest
from sheets import DEMOS, demo, least

from modelmath.job import Plan


@pytest.fixture(params=[*DEMOS, "least"])
def any_plan(request: pytest.FixtureRequest) -> Plan:
    """Each demo job's plan, and the least job's."""
    return least() if request.param == "least" else demo(request.param)


@pytest.fixture(params=["A4", "Letter"])
def paper(request: pytest.FixtureRequest) -> str:
    """Each paper."""
    return str(request.param)
