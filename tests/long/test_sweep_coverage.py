"""A thousand simulated sweeps of random drivers: the stated 95 % intervals hold the truth 92 to 98 % of the time."""

from __future__ import annotations

import pytest
from sound.measuring.simulated import covered

pytestmark = pytest.mark.long
SWEEPS = 1_000


def test_the_intervals_hold_the_true_parameters_as_often_as_they_say():
    held = covered(range(SWEEPS))
    assert len(held) == 5
    assert {name: count for name, count in held.items() if not 0.92 * SWEEPS <= count <= 0.98 * SWEEPS} == {}
