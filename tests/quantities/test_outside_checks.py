"""Quantities as text beside an outside units library."""

from __future__ import annotations

import pytest
from astropy import units
from astropy.units import imperial

from modelmath.quantities.text import parse_quantity


@pytest.mark.parametrize(
    ("text", "kind", "due", "unit"),
    [
        ("0.45 kHz", "frequency", 0.45 * units.kHz, units.Hz),
        ("500 mW", "power", 500 * units.mW, units.W),
        ("1.5 cm3", "volume", 1.5 * units.cm**3, units.mm**3),
        ("1.5 ml", "volume", 1.5 * units.ml, units.mm**3),
        ("0.95 cm2", "area", 0.95 * units.cm**2, units.mm**2),
        ("80 mg", "mass", 80 * units.mg, units.g),
        ("2.5 mA", "current", 2.5 * units.mA, units.A),
        ("0.375 in", "length", 0.375 * imperial.inch, units.mm),
        ("4.7 kohm", "resistance", 4.7 * units.kOhm, units.Ohm),
    ],
)
def test_a_quantity_is_read_as_astropy_has_it(text, kind, due, unit):
    assert parse_quantity(text, kind).value == pytest.approx(due.to_value(unit), rel=1e-9)
