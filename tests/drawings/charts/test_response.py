"""Charts of the response: read back from the SVG, the -3 dB point lies where the theory puts it, octaves are equal."""

from __future__ import annotations

import re
from itertools import pairwise
from math import log10, sqrt
from xml.etree import ElementTree

import numpy as np
import pytest
from drawings.charts.test_axes import assert_whole_and_free, labels
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import freqs

from modelmath.drawings.charts.compared import compared_figure, compared_svg
from modelmath.drawings.charts.frequency import FrequencyAxes
from modelmath.drawings.charts.response import cutoff_figure, cutoff_svg, response_figure, response_svg
from modelmath.drawings.shapes import Circle, Lines
from modelmath.errors import OutOfRange
from modelmath.job.sound.comparing import Compared, Seat
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.sound.closed_box.box import closed_box
from modelmath.sound.closed_box.wanted import volume_curve
from modelmath.sound.driver.driver import Driver

SVG = "{http://www.w3.org/2000/svg}"
ROUNDED = 0.011  # a file's numbers have two decimals
EXACT = Driver("sample", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
VAGUE = Driver(
    "sample", fs_hz=Known.of(500, within=80), qes=Known.of(1, within=0.2), qms=4, vas_mm3=Known.of(2000, within=700),
    sd_mm2=100, re_ohm=7,
)  # fmt: skip


class Read:
    """A chart as its file tells it: scales from the ticks and their texts, shapes by their class."""

    def __init__(self, svg: str, log: bool = False) -> None:
        self.root = ElementTree.fromstring(svg)
        self.log = log
        first, *ticks = self.runs("axis")
        (self.left, self.top), (_, self.low), (self.right, _) = first
        across = sorted(x for (x, _), (other, _) in ticks if x == other)
        up = sorted((y for (_, y), (_, other) in ticks if y == other), reverse=True)
        number = re.compile(r"-?\d+(\.\d+)?( k)?")
        texts = [each for each in self.root.iter(f"{SVG}text") if number.fullmatch(each.text or "")]
        self.x_texts = {float(t.get("x", "")): self._number(t.text) for t in texts if t.get("text-anchor") == "middle"}
        sides = [each for each in texts if each.get("text-anchor") == "end"]
        self.y_texts = [self._number(each.text) for each in sorted(sides, key=lambda each: -float(each.get("y", "")))]
        assert set(self.x_texts) <= set(across)
        self.x_ends = [(x, self.x_texts[x]) for x in (min(self.x_texts), max(self.x_texts))]
        self.y_ends = [(up[place], self.y_texts[place]) for place in (0, -1)]

    @staticmethod
    def _number(text):
        return float(text[:-2]) * 1000 if text.endswith(" k") else float(text)

    def runs(self, name):
        """The runs of every path of a class, in file order."""
        paths = [each.get("d", "") for each in self.root.iter(f"{SVG}path") if each.get("class") == name]
        return [
            [tuple(float(number) for number in point.split()) for point in run.split("L")]
            for path in paths
            for run in path.split("M")[1:]
        ]

    def inside(self, name):
        """Those runs that lie in the frame; the key lies below it."""
        return [run for run in self.runs(name) if all(y <= self.low + ROUNDED for _, y in run)]

    def circles(self, name):
        found = [each for each in self.root.iter(f"{SVG}circle") if each.get("class") == name]
        places = [(float(each.get("cx", "")), float(each.get("cy", ""))) for each in found]
        return [place for place in places if place[1] <= self.low]

    def value(self, place):
        """What a place on the sheet stands for."""
        (x, first), (other, last) = self.x_ends
        part = (place[0] - x) / (other - x)
        across = first * (last / first) ** part if self.log else first + part * (last - first)
        (y, first), (other, last) = self.y_ends
        return across, first + (place[1] - y) / (other - y) * (last - first)


def at(run, x):
    """How high a run lies at a place along."""
    (left, y), (right, other) = next((a, b) for a, b in pairwise(run) if a[0] <= x <= b[0])
    return y if right == left else y + (x - left) / (right - left) * (other - y)


def f3_hz(fs, qts, ratio):
    """Small 1972: of a closed box with Vas/Vb = ratio."""
    fc, q = fs * sqrt(1 + ratio), qts * sqrt(1 + ratio)
    a = 1 / q**2 - 2
    return fc * sqrt((a + sqrt(a * a + 4)) / 2)


# Frequency along.


@settings(max_examples=60)
@given(st.floats(20, 900), st.floats(1.3, 200), st.sampled_from([320.0, 350.0, 480.0, 640.0]))
def test_octaves_are_equal_and_the_frame_holds_the_range(low, times, width):
    axes = FrequencyAxes("Response", "Level, dB", (low, low * times), (-24, 6), width)
    octaves = [axes.at(2 * hz, 0)[0] - axes.at(hz, 0)[0] for hz in (low, 1.7 * low, 40 * low)]
    assert octaves == pytest.approx([octaves[0]] * 3)
    left, _, right, _ = axes.frame
    assert left - 1e-6 <= axes.at(low, 0)[0] < axes.at(low * times, 0)[0] <= right + 1e-6
    assert all(re.fullmatch(r"[125](\.0+)?e[+-]\d+", f"{tick:.3e}") for tick in axes.x_ticks)
    assert_whole_and_free(axes.drawing())


def test_a_decade_has_its_ticks_at_the_logarithms():
    """lg 2 = 0.3010, lg 5 = 0.6990."""
    axes = FrequencyAxes("", "", (100, 1000), (0, 1))
    places = [axes.at(tick, 0)[0] for tick in axes.x_ticks]
    parts = [(place - places[0]) / (places[-1] - places[0]) for place in places]
    assert parts == pytest.approx([0, 0.3010, 0.6990, 1], abs=5e-5)


@pytest.mark.parametrize(("low", "high"), [(0, 100), (200, 100), (50, 50), (-1, 5)])
def test_a_range_without_a_logarithm_is_refused(low, high):
    message = f"the range of frequencies is {low} to {high} Hz; it must be above 0, the lower one first. Check it."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        FrequencyAxes("", "", (low, high), (0, 1))


# The response.


@pytest.mark.parametrize("volume_mm3", [1000.0, 2000.0, 20000.0])
@pytest.mark.parametrize("driver", [EXACT, VAGUE])
def test_the_3_db_marker_lies_on_the_curve_where_small_puts_it(driver, volume_mm3):
    read = Read(response_svg(closed_box(driver, volume_mm3)), log=True)
    (mark,) = read.circles("cutoff")
    (curve,) = read.inside("level")
    hz, level = read.value(mark)
    assert hz == pytest.approx(f3_hz(500, 0.8, 2000 / volume_mm3), rel=5e-4)
    assert level == pytest.approx(10 * log10(0.5), abs=0.003)
    assert at(curve, mark[0]) == pytest.approx(mark[1], abs=0.1)  # of the sheet: a chord of the curve


def test_the_curve_is_that_of_a_second_order_high_pass():
    """Against scipy.signal.freqs of s^2 / (s^2 + s w/Q + w^2) with fc = 707.1 Hz, Qtc = 1.131 (Small 1972)."""
    read = Read(response_svg(closed_box(EXACT, 2000.0)), log=True)
    (curve,) = read.inside("level")
    hz, level = np.array([read.value(point) for point in curve[1:-1]]).T  # its ends are where the frame cuts it
    w, q = 2 * np.pi * 500 * sqrt(2), 0.8 * sqrt(2)
    _, wanted = freqs([1, 0, 0], [1, w / q, w * w], 2 * np.pi * hz)
    assert len(curve) > 60
    assert level == pytest.approx(20 * np.log10(np.abs(wanted)), abs=0.02)


@pytest.mark.parametrize("volume_mm3", [500.0, 2000.0, 20000.0])
def test_the_band_holds_the_best_curve(volume_mm3):
    read = Read(response_svg(closed_box(VAGUE, volume_mm3)), log=True)
    (curve,) = read.inside("level")
    strokes = [run for run in read.inside("may be") if curve[0][0] <= run[0][0] <= curve[-1][0]]
    assert len(strokes) > 30
    for (x, one), (_, other) in strokes:
        assert min(one, other) - 0.1 <= at(curve, x) <= max(one, other) + 0.1


def test_what_is_known_exactly_has_no_band():
    read = Read(response_svg(closed_box(EXACT, 2000.0)), log=True)
    assert not read.runs("may be")
    assert Read(response_svg(closed_box(VAGUE, 2000.0)), log=True).runs("may be")


def test_the_runner_up_is_dashed_and_higher_where_its_chamber_is_smaller():
    box, other = closed_box(EXACT, 4000.0), closed_box(EXACT, 1000.0)
    drawing = response_figure(box, other)
    pens = {shape.name: shape.pen for shape in drawing.shapes if isinstance(shape, Lines)}
    assert pens["runner-up"].dashes
    assert not pens["level"].dashes
    read = Read(response_svg(box, other), log=True)
    (here,), (there,) = read.inside("level"), read.inside("runner-up")
    at_f3 = read.circles("cutoff")[0][0]
    assert at(there, at_f3) > at(here, at_f3)  # lower on the sheet: quieter down there


def test_the_end_of_the_theory_is_marked_and_what_lies_beyond_is_hatched():
    read = Read(response_svg(closed_box(EXACT, 2000.0), valid_to_hz=1250.0), log=True)
    ((foot, _),) = read.inside("marker")[:1]
    assert read.value(foot)[0] == pytest.approx(1250, rel=5e-4)
    hatched = [run[0][0] for run in read.inside("beyond the theory")]
    assert foot[0] <= min(hatched) < foot[0] + 5
    assert max(hatched) > read.right - 5
    texts = [each.text for each in read.root.iter(f"{SVG}text")]
    assert "theory holds to 1250 Hz" in texts
    assert "the theory no longer holds here" in texts
    assert not Read(response_svg(closed_box(EXACT, 2000.0)), log=True).runs("beyond the theory")


def test_it_is_told_in_words_too():
    """fc = 500 sqrt 2 Hz, Qtc = 0.8 sqrt 2: f3 = 529.9 Hz (Small 1972)."""
    assert response_figure(closed_box(EXACT, 2000.0)).description == (
        "In this chamber the level is 3 dB down at 530 Hz, between 530 and 530 Hz as far as the speaker is known; "
        "Qtc is 1.13."
    )


@settings(max_examples=30)
@given(
    st.floats(200, 1200), st.floats(0.3, 1.5), st.floats(300, 3e5), st.floats(0, 0.5), st.booleans(),
    st.none() | st.floats(100, 9000), st.sampled_from([350.0, 480.0, 640.0]),
)  # fmt: skip
def test_its_words_stand_free_and_whole(fs, qts, volume, within, beside, valid, width):
    resonance = Known.of(fs, within=within * fs)
    driver = Driver("s", fs_hz=resonance, qes=qts * 1.25, qms=qts * 5, vas_mm3=3000, sd_mm2=120, re_ohm=7)
    box = closed_box(driver, volume)
    drawing = response_figure(box, closed_box(driver, 1.3 * volume) if beside else None, valid, width)
    assert drawing.width == width
    assert_whole_and_free(drawing)


# The -3 dB point against volume.


def curve_of(driver, here, others):
    marked = [("this chamber", here), *others]
    grid = np.geomspace(0.2 * here, 2 * here, 60)
    f3, _ = volume_curve(driver, grid)
    return grid.tolist(), f3.tolist(), [(name, v, float(volume_curve(driver, v)[0])) for name, v in marked]


def test_each_chamber_is_marked_on_the_curve_where_small_puts_it():
    volumes, f3, marked = curve_of(EXACT, 2000.0, [("longer", 2400.0)])
    read = Read(cutoff_svg(volumes, f3, marked, Band(2000.0, 1900.0, 2100.0)))
    (curve,) = read.inside("curve")
    (here,) = read.circles("chamber")
    ((cross, _), *_) = read.inside("chamber")
    assert read.value(here) == pytest.approx((2.0, f3_hz(500, 0.8, 1)), rel=1e-3)
    assert at(curve, here[0]) == pytest.approx(here[1], abs=0.2)
    assert read.value((cross[0] + 4.5, 0))[0] == pytest.approx(2.4, rel=0.01)
    found = [read.value(point) for point in curve]
    assert [hz for _, hz in found] == pytest.approx([f3_hz(500, 0.8, 2 / v) for v, _ in found], rel=1e-3)
    strokes = [read.value(run[0])[0] for run in read.inside("volume")]
    assert strokes
    assert all(1.9 - 0.01 <= each <= 2.1 + 0.01 for each in strokes)


def test_a_volume_known_exactly_has_no_band_and_all_is_told_in_words():
    volumes, f3, marked = curve_of(EXACT, 2000.0, [("longer", 2400.0)])
    drawing = cutoff_figure(volumes, f3, marked, Band(2000.0, 2000.0, 2000.0))
    assert not [shape for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "volume"]
    assert drawing.description == (
        f"this chamber: 2.00 cm3, {f3_hz(500, 0.8, 1):.0f} Hz; longer: 2.40 cm3, {f3_hz(500, 0.8, 2 / 2.4):.0f} Hz."
    )
    texts = " ".join(label.text for label in labels(drawing))
    assert "this chamber" in texts
    assert "longer" in texts


@settings(max_examples=25)
@given(st.floats(800, 3e5), st.floats(1.001, 1.5), st.floats(0.6, 0.999), st.sampled_from([350.0, 480.0, 640.0]))
def test_the_names_of_near_chambers_stand_free_and_whole(here, longer, less, width):
    others = [("a quarter of a scale foot longer", longer * here), ("the next largest", less * here)]
    volumes, f3, marked = curve_of(EXACT, here, others)
    assert_whole_and_free(cutoff_figure(volumes, f3, marked, Band(here, 0.97 * here, 1.03 * here), width))


# Speakers compared.


def compared(name, fs, volume, own=False):
    driver = Driver(name, fs_hz=fs, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    return Compared(name, own, Seat("down"), volume, closed_box(driver, volume))


def test_each_speaker_stands_at_its_3_db_point_and_level():
    """Level: 112.16 dB for one acoustic watt in half space, and 10 lg of Small's efficiency."""
    rows = [compared("own box", 500, 2000.0, own=True), compared("larger one", 400, 4000.0)]
    read = Read(compared_svg(rows))
    (own,) = read.circles("own")
    eta = 4 * np.pi**2 * 500**3 * 2000e-9 / 343.2**3
    level, hz = read.value(own)
    assert hz == pytest.approx(f3_hz(500, 0.8, 1), rel=5e-3)
    assert level == pytest.approx(112.16 + 10 * log10(eta), abs=0.03)
    crosses = read.inside("other")
    places = [read.value(((run[0][0] + run[-1][0]) / 2, (run[0][1] + run[-1][1]) / 2)) for run in crosses]
    assert [hz for _, hz in places] == pytest.approx([f3_hz(400, 0.8, 0.5)] * len(crosses), rel=5e-3)
    texts = {each.text for each in read.root.iter(f"{SVG}text")}
    assert {"own box", "larger one", "the plan's own", "another speaker"} <= texts


def test_what_can_t_be_worked_out_is_no_point_and_the_best_is_told():
    rows = [compared("own box", 500, 2000.0, own=True), Compared("no fit", False, Seat("up"), None, None, "too long")]
    drawing = compared_figure(rows)
    signs = [shape for shape in drawing.shapes if isinstance(shape, Circle) and shape.name == "own" and shape.y > 0]
    assert len(signs) == 1
    assert drawing.description == "Best by the order chosen: own box, facing down."
    assert "no fit" not in {label.text for label in labels(drawing)}


@settings(max_examples=15)
@given(
    st.lists(st.tuples(st.floats(250, 900), st.floats(500, 3e4)), min_size=1, max_size=9),
    st.sampled_from([350.0, 480.0]),
)
def test_names_of_compared_speakers_stand_free_and_whole(places, width):
    rows = [compared(f"speaker {number}", fs, volume, own=not number) for number, (fs, volume) in enumerate(places)]
    assert_whole_and_free(compared_figure(rows, width))
