"""A sweep looked over before and after its fit: each limit from both sides. The limits: common practice, no source."""

from __future__ import annotations

import numpy as np
import pytest

from modelmath.sound.measuring.checks import below_re, faults_after, faults_before
from modelmath.sound.measuring.curve import ImpedanceCurve
from modelmath.sound.measuring.faults import SweepFault
from modelmath.sound.measuring.fit import SweepFit
from modelmath.sound.measuring.peaks import Peaks
from modelmath.sound.measuring.sweep import Sweep

HUNDREDS = np.arange(1, 13) * 100.0  # 100 to 1200 Hz
HUMP = np.array([7, 8, 10, 14, 20, 14, 10, 9, 8, 8, 8, 8.0])  # its peak is the fifth


def before(f_hz, z_ohm=HUMP, places=(4,), scatter=0.0):
    """Return kind and message of each fault seen before a fit."""
    swept, z_ohm = np.array(f_hz, float), np.array(z_ohm, float)
    order = np.argsort(swept, kind="stable")
    sweep = Sweep(tuple(swept.tolist()), tuple(z_ohm.tolist()))
    found = faults_before(sweep, swept[order], z_ohm[order], Peaks(scatter, tuple(places)))
    return [(fault.kind, fault.message) for fault in found]


def kinds(*args, **options):
    return [kind for kind, _ in before(*args, **options)]


def said(*args, **options):
    ((_, message),) = before(*args, **options)
    return message


def test_twelve_points_are_enough_and_eleven_too_few():
    assert before(HUNDREDS) == []
    assert said(HUNDREDS[:11], HUMP[:11]) == (
        "11 points are too few for six unknowns; 12 are the least. Take 40 or more, closer together about the peak."
    )
    assert kinds([100.0] * 11, [1e-3] * 11, ()) == ["too few"]  # and nothing else is said of them


@pytest.mark.parametrize(
    ("scale", "begins"),
    [
        (0.8 / 20, ""),  # the highest reading is 0.8 ohm
        (0.79 / 20, "No reading is above 0.79 ohm, which no voice coil has. If the readings are in kohm, write"),
        (2000 / 7, ""),  # the lowest is 2000 ohm
        (2010 / 7, "No reading is below 2010 ohm, which no voice coil has. Check the unit over the column"),
    ],
)
def test_readings_from_0_8_to_2000_ohm_may_be_a_voice_coil_s(scale, begins):
    found = before(HUNDREDS, HUMP * scale)
    assert [kind for kind, _ in found] == (["unit"] if begins else [])
    assert all(message.startswith(begins) for _, message in found)


@pytest.mark.parametrize(
    ("f_hz", "places", "begins"),
    [
        (HUNDREDS / 25, (4,), ""),  # the peak at 20 Hz
        (HUNDREDS / 26, (4,), "The peak stands at 19.23 Hz, below any speaker's: the frequencies look like kHz."),
        (HUNDREDS * 40, (4,), ""),  # the peak at 20 kHz
        (HUNDREDS * 41, (4,), "The peak stands at 20.5 kHz, above any speaker's: check the unit over the frequencies"),
        (HUNDREDS / 60 - 0.001, (), "The sweep runs up to 19.999 Hz, below any speaker's"),
        (HUNDREDS + 19_901, (), "The sweep runs up to 21.1 kHz, above any speaker's"),
    ],
)
def test_a_speaker_resonates_from_20_hz_to_20_khz(f_hz, places, begins):
    found = before(f_hz, places=places)
    assert [kind for kind, _ in found] == (["unit"] if begins else [])
    begins = begins.replace("19.999", "20")  # to four figures
    assert all(message.startswith(begins) for _, message in found)


def test_a_sweep_that_ends_at_20_hz_or_begins_at_20_khz_may_be_meant():
    assert kinds(HUNDREDS / 60, places=()) == ["no peak"]
    assert kinds(HUNDREDS + 19_900, places=()) == ["no peak"]


def test_of_several_peaks_the_strongest_tells_whether_the_unit_is_meant():
    assert kinds(HUNDREDS / 25, places=(5, 0)) == ["two peaks"]  # 24 Hz, and 4 Hz


def test_a_sweep_may_run_up_or_down_but_not_both_ways():
    assert before(HUNDREDS[::-1], HUMP[::-1]) == []
    tail = ". All readings were used; if two sweeps got mixed, take one of them alone."
    turned = [100, 200, 300, 200, 500, 600, 700, 800, 900, 1000, 1100, 1200]
    assert said(turned) == f"The frequencies don't run one way: 200 Hz comes after 300 Hz{tail}"
    twice = [100, 200, 300, 400, 500, 500, 700, 800, 900, 1000, 1100, 1200]
    assert said(twice) == f"The frequencies don't run one way: 500 Hz stands twice{tail}"
    early = [200, 100, *range(300, 1300, 100)]
    assert said(early, places=(4,)) == f"The frequencies don't run one way: 100 Hz comes after 200 Hz{tail}"
    late = [*range(300, 1200, 100), 1110, 100, 1200]
    assert said(late) == f"The frequencies don't run one way: 100 Hz comes after 1110 Hz{tail}"
    back = [*range(100, 1200, 100), 100]  # back where it began: it counts as upwards
    assert said(back) == f"The frequencies don't run one way: 100 Hz comes after 1100 Hz{tail}"
    # What is said of the order stays beside what else there is to say.
    assert kinds(twice, places=()) == ["order", "no peak"]
    assert kinds(twice, places=(2, 6)) == ["order", "two peaks"]
    assert kinds(twice, places=(0,)) == ["order", "range"]


def standing(place, height):
    found = np.full(12, 100.0)
    found[place] = height
    return found


@pytest.mark.parametrize(
    ("place", "height", "kind", "begins"),
    [
        (0, 106, "peak at an end", "The impedance is highest at the lower end, 80 Hz: the resonance lies there or"),
        (1, 106, "peak at an end", "The impedance is highest at the lower end, 80 Hz: the resonance lies there or"),
        (2, 106, "no peak", "No peak stands out between 80 and 960 Hz. Check that the cone moves freely"),
        (9, 106, "no peak", "No peak stands out between 80 and 960 Hz. Check that the cone moves freely"),
        (10, 106, "peak at an end", "The impedance is highest at the upper end, 960 Hz, and no peak stands below it."),
        (11, 106, "peak at an end", "The impedance is highest at the upper end, 960 Hz, and no peak stands below it."),
        (0, 104.9, "no peak", "No peak stands out between 80 and 960 Hz."),  # less than 5 % is flat
        (11, 104.9, "no peak", "No peak stands out between 80 and 960 Hz."),
        (0, 105, "peak at an end", "The impedance is highest at the lower end, 80 Hz"),
    ],
)
def test_without_a_peak_the_end_it_may_lie_beyond_is_told(place, height, kind, begins):
    ((found, message),) = before(0.8 * HUNDREDS, standing(place, height), ())
    assert (found, message.startswith(begins)) == (kind, True)


def test_beyond_an_end_three_octaves_are_to_be_swept():
    """86 / 8 = 10.75 Hz and 960 x 8 = 7680 Hz, to two figures 11 and 7700 Hz."""
    assert said(0.86 * HUNDREDS, standing(0, 150), ()).endswith("Sweep again from 11 Hz.")
    assert "Sweep again up to 7700 Hz; if that shows none either" in said(0.8 * HUNDREDS, standing(11, 150), ())


def test_a_sweep_must_reach_1_8_times_either_way():
    """180 / 1.8 = 100 and 180 x 1.8 = 324 Hz are just enough; four times either way: 45 to 720 Hz."""
    inner = [110, 120, 130, 180, 190, 200, 220, 240, 260, 280]
    assert before([100, *inner, 324]) == []
    wanted = "Sweep from 45 to 720 Hz, a quarter to four times the resonance."
    assert before([101, *inner, 324]) == [
        ("range", f"The sweep begins at 101 Hz: too little of it lies below the peak at 180 Hz. {wanted}")
    ]
    assert before([100, *inner, 323]) == [
        ("range", f"The sweep ends at 323 Hz: too little of it lies above the peak at 180 Hz. {wanted}")
    ]
    assert kinds([101, *inner, 323]) == ["range", "range"]


@pytest.mark.parametrize(
    ("places", "begins"),
    [
        ((7, 1), "Two peaks stand out at 200 Hz and 800 Hz. Which is"),
        ((4, 7, 1), "Three peaks stand out at 200 Hz, 500 Hz and 800 Hz. Which is"),
        ((4, 7, 1, 10), "Four peaks stand out at 200 Hz, 500 Hz, 800 Hz and 1100 Hz. Which is"),
        ((4, 7, 1, 10, 0), "5 peaks stand out, the strongest at 200 Hz, 500 Hz, 800 Hz and 1100 Hz. Which is"),
    ],
)
def test_of_several_peaks_up_to_four_are_named_in_their_order(places, begins):
    assert said(HUNDREDS, places=places).startswith(begins)


# Peak of 4 x 8 ohm at 400 Hz, as wide as 400 sqrt(4) / 4 = 200 Hz.
CURVE = ImpedanceCurve(8.0, 400.0, 4.0, 24.0)
GRID = [100, 150, 200, 250, 300, 350, 400, 450, 500, *range(600, 3300, 100)]  # 36 readings


def after(f_hz=GRID, least=8.1, residuals=(0.0,) * 36, peaks=(0.0, (6,)), curve=CURVE, faults=(), **scatters):
    """Return kind and message of each fault seen after a fit, one reading being the least."""
    z_ohm = [*[9.0] * (len(f_hz) - 1), least]
    fit = SweepFit(Sweep(tuple(map(float, f_hz)), tuple(z_ohm)), faults, curve, residuals=tuple(residuals), **scatters)
    return [(fault.kind, fault.message) for fault in faults_after(fit, Peaks(*peaks))]


def test_five_points_across_the_peak_are_enough():
    assert after() == []  # 300 to 500 Hz, both ends counted
    lacking = [501 if each == 500 else each for each in GRID]
    message = (
        "The peak at 400 Hz is 200 Hz wide, and 4 of the points lie across it; 5 are the least. Sweep again with "
        "steps of 25 Hz or less there."
    )
    assert after(lacking) == [("sparse", message)]
    assert after(lacking, peaks=(0.0, (6, 12))) == []  # which of two peaks it is about can't be told


def test_a_point_just_at_the_edge_of_the_peak_counts():
    """402 Hz sqrt(4) / 4 = 201 Hz wide: up to 100.5 Hz either way."""
    curve = ImpedanceCurve(8.0, 402.0, 4.0, 24.0)
    for edge, kinds_told in ((502.4, []), (502.6, ["sparse"])):
        f_hz = [100, 150, 200, 250, 290, 350, 380, 400, 450, edge, *range(600, 3200, 100)]
        f_hz[6] = 310 if edge < 502.5 else 260
        assert [kind for kind, _ in after(f_hz[:36], curve=curve)] == kinds_told


QUIET = ". Take it again in a quiet room, with good contacts and nothing touching the cone, and average longer at each "


@pytest.mark.parametrize(
    ("scatter", "of_neighbours", "phase", "begins"),
    [
        (0.05, 0.06, None, ""),
        (0.06, 0.05, None, ""),  # far from the curve, but smooth
        (0.06, 0.06, None, f"The readings scatter about the curve by 6 %{QUIET}"),
        (0.09, 0.06, 0.3, f"The readings scatter about the curve by 9 %{QUIET}"),
        (0.01, 0.01, 0.05, ""),
        (0.01, 0.01, 0.1, ""),
        (0.01, 0.01, 0.11, f"The phase scatters about the curve by 6 degrees{QUIET}"),  # 0.11 x 57.3
    ],
)
def test_five_percent_or_a_tenth_of_a_radian_may_scatter(scatter, of_neighbours, phase, begins):
    found = after(peaks=(of_neighbours, (6,)), scatter=scatter, phase_scatter_rad=phase)
    assert [kind for kind, _ in found] == (["scatter"] if begins else [])
    assert all(message.startswith(begins) for _, message in found)


@pytest.mark.parametrize(
    ("re_ohm", "scatter", "least", "below"),
    [
        (8.0, 0.0, 7.77, False),  # 3 % of 8 ohm is 0.24 ohm
        (8.0, 0.0, 7.75, True),
        (8.0, 0.01, 7.53, False),  # six standard deviations: 6 %, 0.48 ohm
        (8.0, 0.01, 7.51, True),
        (0.7, 0.0, 0.8, False),  # no voice coil has less, whatever the curve says
        (0.7, 0.0, 0.79, True),
    ],
)
def test_readings_may_lie_a_little_below_the_coil(re_ohm, scatter, least, below):
    curve = ImpedanceCurve(re_ohm, 400.0, 4.0, 3 * re_ohm)
    found = after(least=least, peaks=(scatter, (6,)), curve=curve)
    said_of_it = (
        f"The impedance falls to {least:g} ohm at 3200 Hz, below the resistance of the voice coil, {re_ohm:g} ohm, "
        "which no speaker does alone. Check the contacts and the series resistor, leave no capacitor or second speaker "
        "connected, and sweep again."
    )
    assert found == ([("below Re", said_of_it)] if below else [])


def test_only_what_no_curve_passes_near_stops_a_fit():
    f_hz, z_ohm = np.array([100.0, 200.0]), np.array([3.0, 2.0])
    fault = below_re(f_hz, z_ohm)
    assert fault.stops
    assert fault.message.startswith(
        "The impedance falls to 2 ohm at 200 Hz, below any resistance that would fit, which no speaker does alone."
    )
    assert not below_re(f_hz, z_ohm, "it", stops=False).stops


def wave(*heights, at=8):
    found = np.zeros(36)
    found[at : at + len(heights)] = heights
    return found


def test_a_wave_is_told_where_it_is_highest_and_how_high():
    """By hand: products of neighbours 16 over squares 19; the mean of 1, 2, 3, 2, 1 % at its middle is 7/3 %."""
    hill = (0.01, 0.02, 0.03, 0.02, 0.01)
    tail = "several in a row: another resonance or a drifting level. The intervals are too narrow then. Take it again "
    for residuals, f_hz in ((wave(*hill), GRID), (-wave(*hill), GRID), (wave(*hill)[::-1], GRID[::-1])):
        ((kind, message),) = after(f_hz, residuals=residuals)
        assert (kind, message) == (
            "misfit", f"About 700 Hz the readings leave the curve by 2 %, {tail}in free air, at a lower level.",
        )  # fmt: skip


def test_the_height_of_a_wave_is_to_one_figure():
    """The mean of three alike is one of them."""
    for height, percent in ((0.01505, "2"), (0.01495, "1"), (0.251, "30"), (0.249, "20")):
        ((_, message),) = after(residuals=wave(*[height] * 5))
        assert f"leave the curve by {percent} %, several" in message


def test_the_more_readings_the_weaker_a_wave_is_told():
    """Two of 64 alike: products over squares are 1/2, and 4 / sqrt(64) is that too."""
    longer = [*GRID, *range(3300, 6100, 100)]
    pair = [*wave(0.01, 0.01), *[0.0] * 28]
    assert [kind for kind, _ in after(longer, residuals=pair)] == ["misfit"]
    assert after([*longer[:-1]], residuals=pair[:-1]) == []


@pytest.mark.parametrize(
    ("residuals", "told"),
    [
        (wave(0.01, 0.01), False),  # products over squares 1/2: below 4 / sqrt(36) = 2/3
        (wave(0.01, 0.01, 0.01, 0.01), True),  # 3/4
        (np.full(36, 0.0029), False),  # a smaller one bends no parameter by more than its own size
        (np.full(36, 0.0031), True),
        ([0.02, -0.02] * 18, False),  # they don't run together
    ],
)
def test_what_runs_together_and_is_not_small_is_a_wave(residuals, told):
    assert [kind for kind, _ in after(residuals=residuals)] == (["misfit"] if told else [])


@pytest.mark.parametrize(("kind", "told"), [("scatter", False), ("two peaks", False), ("order", True), ("phase", True)])
def test_what_scatters_or_peaks_twice_leaves_the_curve_for_that_reason(kind, told):
    found = after(residuals=np.full(36, 0.01), faults=(SweepFault(kind, ""),))
    assert found == after(residuals=np.full(36, 0.01)) * told
    noisy = after(residuals=np.full(36, 0.01), peaks=(0.06, (6,)), scatter=0.06)
    assert [kind for kind, _ in noisy] == ["scatter"]
