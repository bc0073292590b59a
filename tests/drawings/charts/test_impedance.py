"""The impedance figure: readings as signs, the curve as a line, what is left below, frequencies in line."""

from __future__ import annotations

import re
from itertools import pairwise
from math import log

import numpy as np
import pytest
from drawings.charts.test_axes import assert_whole_and_free, labels
from hypothesis import given, settings
from hypothesis import strategies as st
from sound.measuring.simulated import TRUE, even, swept

from modelmath.drawings.charts.impedance import MOST_POINTS, impedance_figure, impedance_svg
from modelmath.drawings.shapes import Circle, Lines
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.sweep import Sweep

COLOUR = re.compile(r"#([0-9a-f]{6})")
ALONE = fit_sweep(swept(TRUE, even(count=40), 0.01))
WITH_PHASE = fit_sweep(swept(TRUE, even(count=40), 0.01, 0.01))


def of(drawing, kind, name):
    return [shape for shape in drawing.shapes if isinstance(shape, kind) and shape.name == name]


def test_readings_are_circles_and_the_curve_is_a_line():
    drawing = impedance_figure(ALONE)
    *readings, _key = of(drawing, Circle, "reading")
    assert len(readings) == 40
    assert len(of(drawing, Circle, "left")) == 40
    curve, _key = of(drawing, Lines, "curve")
    (run,) = curve.runs
    assert len(run) > 200
    assert all(one[0] < other[0] for one, other in pairwise(run))
    assert not of(drawing, Lines, "phase")
    texts = {label.text for label in labels(drawing)}
    assert {"reading", "fitted curve", "95 of 100 readings lie between these lines", "Impedance, ohm"} <= texts
    assert "Differences from the curve, %" in texts


def test_the_curve_runs_through_its_peak_at_the_fitted_place():
    drawing = impedance_figure(ALONE)
    (run,) = of(drawing, Lines, "curve")[0].runs
    top = max(run, key=lambda point: point[1])
    readings = of(drawing, Circle, "reading")[:-1]
    # Each octave is as long as the next: the place follows from two readings.
    f, (first, last) = ALONE.sweep.frequency_hz, (readings[0].x, readings[-1].x)
    place = first + (last - first) * log(ALONE.fs.value / f[0]) / log(f[-1] / f[0])
    assert top[0] == pytest.approx(place, abs=2.0)


def test_what_is_left_stands_below_its_reading():
    for fit in (ALONE, WITH_PHASE):
        drawing = impedance_figure(fit)
        readings, left = of(drawing, Circle, "reading")[:-1], of(drawing, Circle, "left")
        assert [each.x for each in left] == pytest.approx([each.x for each in readings])
        assert max(each.y for each in left) < min(each.y for each in readings)
        (zero,) = of(drawing, Lines, "zero")
        level = zero.runs[0][0][1]
        heights = np.array([each.y - level for each in left])
        assert heights / max(abs(heights)) == pytest.approx(np.array(fit.residuals) / max(map(abs, fit.residuals)))


def test_the_phase_has_crosses_and_a_chart_of_its_own():
    drawing = impedance_figure(WITH_PHASE)
    assert len(of(drawing, Lines, "phase")) == 41  # and one in the key
    assert len(of(drawing, Lines, "phase left")) == 40
    texts = {label.text for label in labels(drawing)}
    assert {"Phase, degrees", "phase", "Differences from the curve: %, phase in degrees"} <= texts


def test_without_a_fit_the_readings_stand_alone():
    fit = fit_sweep(Sweep((100.0, 200.0), (7.0, 8.0)))
    drawing = impedance_figure(fit)
    assert len(of(drawing, Circle, "reading")) == 3
    assert not of(drawing, Lines, "curve")
    assert drawing.description == "2 readings from 100 to 200 Hz, up to 8 ohm. No curve was fitted."
    assert_whole_and_free(impedance_figure(fit_sweep(Sweep((100.0,), (7.0,)))))


def test_of_a_long_sweep_some_readings_are_drawn_and_that_is_said():
    drawing = impedance_figure(fit_sweep(swept(TRUE, even(count=1000), 0.01)))
    assert 100 < len(of(drawing, Circle, "left")) <= MOST_POINTS
    assert "reading, 1 in 5 drawn" in {label.text for label in labels(drawing)}


def test_it_is_told_in_words_too():
    svg = impedance_svg(WITH_PHASE)
    assert "<title>Impedance of the speaker over frequency</title>" in svg
    assert "40 readings from 120 to 2000 Hz, up to 2" in svg
    assert "The fitted curve peaks at 48" in svg
    assert all(len({*colour}) <= 2 and colour[:2] == colour[2:4] == colour[4:] for colour in COLOUR.findall(svg))


@settings(max_examples=25)
@given(
    st.sampled_from([320.0, 350.0, 480.0]),
    st.booleans(),
    st.floats(20, 400),
    st.floats(600, 20000),
    st.floats(0.05, 500),
    st.integers(2, 60),
)
def test_its_words_stand_free_and_whole(width, with_phase, low, high, times, count):
    sweep = swept(TRUE, even(low, high, count), 0.01, 0.01 if with_phase else None)
    louder = Sweep(sweep.frequency_hz, tuple(times * each for each in sweep.impedance_ohm), sweep.phase_rad)
    drawing = impedance_figure(fit_sweep(louder), width)
    assert drawing.width == width
    assert_whole_and_free(drawing)
    assert all(label.size >= 12 for label in labels(drawing))
