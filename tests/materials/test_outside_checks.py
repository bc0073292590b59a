"""Wires, bundles and sizes beside published figures, where the other tests have no such check."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import sqrt

import pytest
from astropy import units
from astropy.units import imperial
from published import published_rows

from modelmath.materials.drawer.items import size_text
from modelmath.materials.drills.bundles import bundle_mm, bundle_of
from modelmath.materials.drills.holes import hole_for
from modelmath.materials.drills.wire import gauge_mm, nearest_awg
from modelmath.materials.picking.held import enough_of

# Graham, Lubachevsky, Nurmela and Östergård, Discrete Mathematics 181 (1998), from memory: circles in a circle.
RATIOS = {2: 2.0, 3: 1 + 2 / sqrt(3), 4: 1 + sqrt(2), 7: 3.0, 19: 1 + sqrt(2) + sqrt(6)}


PRINTED = [row for row in published_rows("wire_awg.csv") if row["diameter_in_printed"]]


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: row["awg"])
def test_a_printed_diameter_is_its_gauge(row):
    """wire_awg.csv: diameters of a printed handbook, cut or off by one in the last digit in places."""
    printed_mm = float(row["diameter_in_printed"]) * 25.4
    assert nearest_awg(printed_mm).wire.name.split()[-1].lstrip("#") == row["awg"]
    assert gauge_mm(int(row["awg"])) == pytest.approx(printed_mm, rel=0.004)


@pytest.mark.parametrize("count", RATIOS)
def test_a_bundle_is_as_thick_as_published(count):
    assert bundle_mm(0.6, count) == pytest.approx(0.6 * RATIOS[count], rel=1e-6)
    assert bundle_of([0.6] * count).outside_mm == pytest.approx(0.6 * RATIOS[count], rel=1e-6)
    assert hole_for("bundle", 0.6, count, sets=("number", "metric")).passes_mm == pytest.approx(0.6 * RATIOS[count])


def test_a_wire_of_its_own_gap_makes_a_bundle_no_thicker():
    """Descartes' circle theorem: beside two circles of diameter 1 inside one of 2 lies one of 2/3."""
    curvature = (-1 / 2 + 1 + 1) + 2 * sqrt(1 * 1 - (1 / 2) * (1 + 1))
    gap = 1 / curvature
    assert gap == pytest.approx(2 / 3)
    assert bundle_of([1.0, 1.0, gap * 0.999]).outside_mm == pytest.approx(2.0, rel=1e-4)
    assert bundle_of([1.0, 1.0, gap * 1.05]).outside_mm > 2.001


@pytest.mark.parametrize("text", ["280", "355.6", "96.5", "38.1"])
def test_a_size_is_written_as_astropy_turns_it(text):
    number, unit = size_text(Fraction(text)).split()
    assert (float(number) * {"in": imperial.inch, "mm": units.mm}[unit]).to_value(units.mm) == pytest.approx(
        float(text)
    )


def test_longest_first_is_enough_where_any_way_to_share_them_out_is():
    """itertools.product: every way to put pieces into lengths; longest first may miss one, and never makes one up."""
    found, possible = 0, 0
    for pieces in product((3, 4, 5, 6), repeat=4):
        ways = product((0, 1), repeat=4)
        fits = any(
            all(sum(p for p, at in zip(pieces, way, strict=True) if at == n) <= 10 for n in (0, 1)) for way in ways
        )
        enough = enough_of([Fraction(10)] * 2, [Fraction(piece) for piece in pieces])
        assert fits or not enough
        found, possible = found + enough, possible + fits
    assert found >= 0.95 * possible > 0
