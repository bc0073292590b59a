"""Gauges held against each other: by what the others say, and where two are the wrong way round."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import sqrt

import numpy as np
import pytest

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration import Gauge
from modelmath.lengths.rules import Rule

SIZES = (2.0, 5.0, 9.0, 14.0, 22.0, 35.0)
RULE = Rule(scale="HO", graduation="1/4", read_to="1/16", name="HO rule")
WRONG_WAY = r"^the reading of {}, the longer gauge, is less than that of {}, the shorter one; it must be more\. "


def read(size_mm):
    """Return the mark at which a rule shows a size whose zero stands 2 mm in, exact, in HO scale feet of 3.5 mm."""
    return (Fraction(size_mm) - 2) / Fraction(7, 2)


def test_a_gauge_that_agrees_is_held_against_the_others_that_do():
    """Not against a line that it has a part in, nor against one with the bad gauge: numpy.polyfit through the rest."""
    some = [Gauge(f"{size} mm", size, read(size)) for size in SIZES]
    some[3] = Gauge("#43 drill shank", SIZES[3] + 0.8, read(SIZES[3]))
    for place, parts in enumerate((-1, 1, 2, 0, -2, 1)):  # of 1/100 scale foot, the wrong one left as it is
        some[place] = replace(some[place], mark=some[place].mark + Fraction(parts, 100))
    found = RULE.calibrate(some)
    assert [each.gauge.name for each in found.disagreeing] == ["#43 drill shank"]
    xs, ys = np.array([float(seen.mark_mm) for _, seen in found.seen]), np.array(SIZES)
    ys[3] = some[3].nominal_mm
    for place in (0, 1, 2, 4, 5):
        rest = [other for other in range(6) if other not in (place, 3)]
        (slope, level), cov = np.polyfit(xs[rest], ys[rest], 1, w=[1 / found.seen[0][1].u_mm] * 4, cov="unscaled")
        off = found.differences[place]
        assert off.n == pytest.approx(ys[place] - level - slope * xs[place], rel=0.02, abs=1e-3)
        line_u = sqrt(np.array([xs[place], 1]) @ cov @ np.array([xs[place], 1]))
        assert off.s == pytest.approx(sqrt(line_u**2 + found.seen[place][1].u_mm ** 2), rel=0.02)


@pytest.mark.parametrize("graduation", ["0.01", "1"])
@pytest.mark.parametrize(("in_u", "refused"), [(3.95, False), (4.05, True)])
def test_gauges_the_wrong_way_round_are_refused_from_four_standard_uncertainties_on(graduation, in_u, refused):
    """Two readings to a step: u of their difference is sqrt(2) * step / sqrt(12) (JCGM 100:2008, F.2.2.1)."""
    step = Fraction(graduation)
    longer, apart = step / 10, Fraction(in_u * sqrt(2 / 12)) * step
    gauges = [Gauge("a", 20, Fraction(20)), Gauge("b", 20 + longer, 20 + longer - apart)]
    if refused:
        with pytest.raises(OutOfRange, match=WRONG_WAY.format("b", "a")):
            Rule(unit="mm", graduation=graduation).calibrate(gauges)
    else:
        found = Rule(unit="mm", graduation=graduation).calibrate(gauges)
        assert found.finds == "offset"
        assert "The gauges lie too close together for the scale error, which they tell to " in found.found


def test_gauges_whose_readings_lie_too_far_apart_are_not_the_wrong_way_round():
    """5 and 5.5 mm, read 0.7 mm apart: too much by many standard uncertainties, but the longer one shows more."""
    found = Rule(unit="mm", graduation="0.01").calibrate([Gauge("a", 5.0, "5"), Gauge("b", 5.5, "5.7")])
    assert [each.name for each in found.gauges] == ["a", "b"]


def test_of_several_the_wrong_way_round_the_two_farthest_are_named():
    """By size and by mark together: b and c are 20 + 30 mm off, any others less."""
    marks = {"a": (5.0, "34"), "b": (20.0, "60"), "c": (40.0, "30"), "d": (45.0, "40")}
    for names in ("abcd", "dcba", "cadb"):
        with pytest.raises(OutOfRange, match=WRONG_WAY.format("c", "b")):
            Rule(unit="mm", graduation="0.5").calibrate(Gauge(name, *marks[name]) for name in names)


def test_without_freedom_there_is_no_scatter():
    found = RULE.calibrate(Gauge(f"{size} mm", size, read(size)) for size in (5.0, 35.0))
    assert (found.dof, found.deviation_mm, found.enlarged_by) == (0, 0.0, 1.0)


def test_a_bad_gauge_read_from_the_zero_mark_has_no_offset_in_its_difference():
    """By hand: its size less its mark times the slope of the others; JCGM 100:2008, 5.1.2 for its uncertainty."""
    good = [Gauge(f"{size} mm", size, read(size)) for size in SIZES]
    good += [Gauge(f"{size} mm from zero", size, Fraction(size) / Fraction(7, 2), "zero") for size in (12.0, 30.0)]
    wrong = Gauge("bad one", 25.8, Fraction(50, 7), "zero", u_mm=0.02)
    found = RULE.calibrate([*good, wrong])
    (bad,) = found.disagreeing
    others = found.without_disagreeing
    assert (bad.gauge.name, len(others.gauges)) == ("bad one", 8)
    assert bad.by_mm == pytest.approx(0.8, abs=1e-6)  # 50/7 scale feet of 3.5 mm are 25 mm
    reading_u = 3.5 / 16 / sqrt(12)
    assert bad.u_mm == pytest.approx(sqrt(0.02**2 + reading_u**2 + (25 * others.scale_error_u) ** 2))
    assert str(bad) == "0.80 ± 0.08 mm longer than its reading says"
