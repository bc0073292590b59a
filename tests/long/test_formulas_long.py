"""The tests that checks.toml names pass, and each runs the formulas that it is said to check."""

from __future__ import annotations

import pytest
from formulas import finding, table

pytestmark = pytest.mark.long


def test_each_test_named_reaches_its_formulas():
    assert table.not_reached(finding.formulas(), table.checks(), table.trace()) == []
