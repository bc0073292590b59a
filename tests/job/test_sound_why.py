"""Why the speaker sounds so: every number follows from what was entered, and the arithmetic shown gives it."""

from __future__ import annotations

import re
from collections import Counter
from math import log10, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS
from spacious import SPEAKER, spacious

from modelmath import plan
from modelmath.sound.driver.driver import LABELS

OUTPUT = {"least": "4 ohm", "power": "3 W", "into": "4 ohm"}
FULL = {"impedance": "8 ohm", "power": "1 W", "re": "7 ohm", "fs": "500 Hz", "qes": "1", "qms": "4", "vas": "2 cm3",
        "sd": "100 mm2", "xmax": "0.4 mm"}  # fmt: skip
SOUNDING = ("filling", "chamber resonance", "Qtc", "-3 dB point", "peak", "level for 1 W at 1 m", "theory holds to")
DRIVEN = ("decoder output", "load impedance", "decoder power", "speaker power", "cone travel in the chamber",
          "power that Xmax allows")  # fmt: skip
SOUND_M_S, DENSITY = 343.2, 1.204  # dry air at 20 C, handbooks


def sounding(driver=FULL, **fields):
    """The shell 100 mm long with a speaker whose parameters are these."""
    return spacious(sound={"driver": driver, "output": OUTPUT, **fields})


def numbers(text):
    return [float(each) for each in re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.]*\d)", text)]


def best(figure):
    return numbers(figure.value)[0]


def shown(value, digits=3):
    return pytest.approx(value, rel=0.6 * 10 ** (1 - digits))


def f3_over_fc(q):
    """Small 1972: half the power of s^2 / (s^2 + s/Q + 1)."""
    a = 1 / q**2 - 2
    return sqrt((a + sqrt(a * a + 4)) / 2)


# Against an independent recomputation.


def test_a_measured_speaker_gives_smalls_resonance_and_cutoff():
    """The demo's own numbers, from its document: 320 Hz, Qes 0.95, Qms 3.8, Vas 14 cm3; Small 1972."""
    entered = DEMOS["gas-electric-o"].sound.driver
    fs, qes, qms, vas = (numbers(text)[0] for text in (entered.fs, entered.qes, entered.qms, entered.vas))
    figures = plan(DEMOS["gas-electric-o"]).figures
    ratio = 1 + vas / best(figures["net volume"])
    qtc = qes * qms / (qes + qms) * sqrt(ratio)
    assert best(figures["chamber resonance"]) == shown(fs * sqrt(ratio))
    assert best(figures["Qtc"]) == pytest.approx(qtc, abs=0.006)
    assert best(figures["-3 dB point"]) == shown(fs * sqrt(ratio) * f3_over_fc(qtc))


@settings(max_examples=12)
@given(st.integers(150, 1500), st.integers(3, 30), st.integers(10, 90), st.integers(2, 300), st.integers(30, 140))
def test_any_speaker_gives_smalls_numbers(fs, qes, qms, vas, sd):
    """Small 1972: fc, Qtc, f3; eta0 = 4 pi^2 fs^3 Vas / (c^3 Qes); travel of a driven mass on a spring."""
    qes, qms, vas = qes / 10, qms / 10, vas / 10
    driver = {**FULL, "fs": f"{fs} Hz", "qes": f"{qes}", "qms": f"{qms}", "vas": f"{vas} cm3", "sd": f"{sd} mm2"}
    figures = sounding(driver).figures
    ratio = 1 + vas / best(figures["net volume"])
    fc, qtc = fs * sqrt(ratio), qes * qms / (qes + qms) * sqrt(ratio)
    assert best(figures["chamber resonance"]) == shown(fc)
    assert best(figures["Qtc"]) == pytest.approx(qtc, abs=0.006)
    assert best(figures["-3 dB point"]) == shown(fc * f3_over_fc(qtc))
    peak = 20 * log10(qtc / sqrt(1 - 1 / (4 * qtc**2))) if qtc > sqrt(0.5) else 0
    assert best(figures["peak"]) == pytest.approx(peak, abs=0.06)
    eta = 4 * pi**2 * fs**3 * vas * 1e-6 / (SOUND_M_S**3 * qes)
    assert best(figures["level for 1 W at 1 m"]) == pytest.approx(112.16 + 10 * log10(eta * 8 / 7), abs=0.06)
    compliance = vas * 1e-6 / (DENSITY * SOUND_M_S**2 * (sd * 1e-6) ** 2)
    mass = 1 / ((2 * pi * fs) ** 2 * compliance)
    force = sqrt(2 * pi * fs * mass * 7 / qes) * sqrt(2 * best(figures["speaker power"]) * 8) / 7  # 8 ohm rated
    f = np.geomspace(100, 3 * max(fc, 100), 4000)
    goes = 1000 * force * compliance / ratio / np.sqrt((1 - (f / fc) ** 2) ** 2 + (f / fc / qtc) ** 2)
    assert best(figures["cone travel in the chamber"]) == pytest.approx(goes.max(), abs=0.006, rel=2e-3)


# The arithmetic shown.


def check_resonance(figure, _found):
    fs, one, vas, *room = numbers(figure.how.partition(": ")[2])
    volume = room[0] * room[1] if "(1." in figure.how else room[0]
    assert fs * sqrt(one + vas / volume) == shown(best(figure))


def check_qtc(figure, _found):
    qec, qmc, _ = numbers(figure.how.partition("with Qec ")[2])
    assert 1 / (1 / qec + 1 / qmc) == pytest.approx(best(figure), abs=0.006)


def check_product(figure, _found):
    one, other = numbers(figure.how.partition(", where")[0])
    assert one * other == shown(best(figure))


def check_level(figure, _found):
    whole, less = re.search(r"^([\d.]+) dB .* less (-?[\d.]+) dB", figure.how).groups()
    into_coil = re.search(r"; ([\d.]+) dB (more|less), as the voltage", figure.how)
    more = 0.0 if into_coil is None else float(into_coil[1]) * (1 if into_coil[2] == "more" else -1)
    assert float(whole) - float(less) + more == pytest.approx(best(figure), abs=0.16)


def check_theory(figure, _found):
    speed, length = re.search(r"^([\d.]+) m/s over 2 pi times ([\d.]+) mm", figure.how).groups()
    assert float(speed) * 1000 / (2 * pi * float(length)) == shown(best(figure))


def check_decoder_power(figure, _found):
    volts, ohm = numbers(figure.how)
    assert volts**2 / ohm == shown(best(figure))


def check_speaker_power(figure, found):
    part, whole, *down = numbers(figure.how.replace(" %", ""))
    assert whole == shown(best(found["decoder power"]))
    assert part / 100 * whole * 10 ** (-(down[0] if down else 0) / 10) == shown(best(figure), 2.7)


def check_travel(figure, _found):
    rest, times = re.search(r"^([\d.]+) mm far .* times ([\d.]+) at", figure.how).groups()
    assert float(rest) * float(times) == pytest.approx(best(figure), abs=0.006)


def check_allowed(figure, _found):
    power, xmax, goes = numbers(figure.how.partition("^2")[0])
    assert power * (xmax / goes) ** 2 == shown(best(figure))


KINDS = {
    "chamber resonance": check_resonance,
    "Qtc": check_qtc,
    "-3 dB point": check_product,
    "level for 1 W at 1 m": check_level,
    "theory holds to": check_theory,
    "decoder power": check_decoder_power,
    "speaker power": check_speaker_power,
    "cone travel in the chamber": check_travel,
    "power that Xmax allows": check_allowed,
}


def test_the_arithmetic_shown_gives_the_number_in_every_demo():
    met = Counter[str]()
    for job in DEMOS.values():
        found = plan(job).figures
        for name, check in KINDS.items():
            if name in found:
                check(found[name], found)
                met[name] += 1
    assert set(met) == set(KINDS)  # so that none passes for want of its figure


@settings(max_examples=12)
@given(
    st.sampled_from(["unfilled", "lightly filled", "filled"]),
    st.lists(st.sampled_from(["4 ohm", "8 ohm", "16 ohm"]), max_size=2),
    st.lists(st.sampled_from(sorted(FULL)), max_size=5),
)
def test_the_arithmetic_shown_gives_the_number(stuffing, others, missing):
    also = [{"name": f"cab {number}", "impedance": ohm, "power": "0.5 W"} for number, ohm in enumerate(others)]
    driver = {name: text for name, text in FULL.items() if name not in missing}
    found = sounding(driver, stuffing=stuffing, also=also).figures
    assert set(SOUNDING) <= set(found)
    for name, check in KINDS.items():
        if name in found:
            check(found[name], found)
    for name in found:
        assert set(found[name].follows_from) <= set(found), name


# What each follows from.


def test_the_3_db_point_follows_from_the_speaker_and_from_the_readings():
    found = plan(DEMOS["switcher-ho"])
    names = {figure.name for _, figure in found.why("-3 dB point").chain}
    assert {"chamber resonance", "Qtc", "net volume", "chamber volume", "filling", "finest mark"} <= names
    assert {f"speaker: {LABELS[field]}" for field in ("fs_hz", "qes", "qms", "qts", "vas_mm3", "sd_mm2")} <= names
    assert {"speaker length", "speaker width", "reading: hood roof"} <= names


def test_the_cone_follows_from_what_the_decoder_gives():
    names = {figure.name for _, figure in sounding().why("power that Xmax allows").chain}
    assert {*DRIVEN, "speaker: rated impedance", "speaker: rated power"} <= names
    assert f"speaker: {LABELS['xmax_mm']}" in names


def test_each_parameter_says_its_origin():
    driver = {"impedance": "8 ohm", "fs": "500 ± 20 Hz, measured", "qts": "0.8", "sd": "100 to 140 mm2, estimated"}
    found = sounding(driver).figures
    said = {
        field: (found[f"speaker: {LABELS[field]}"].value, found[f"speaker: {LABELS[field]}"].how)
        for field in ("impedance_ohm", "fs_hz", "qts", "sd_mm2", "qms", "qes", "re_ohm", "mms_g")
    }
    assert said == {
        "impedance_ohm": ("8 ohm", "given, as entered"),
        "fs_hz": ("500 Hz, from 480 to 520 Hz", "measured, as entered"),
        "qts": ("0.8, from 0.64 to 0.96", "given, as entered; its sheet states no limits; taken as within 20 %"),
        "sd_mm2": ("120 mm2, from 100 to 140 mm2", "your own estimate, as entered"),
        "qms": ("4, from 2 to 8", "estimated, as usual for small speakers, whatever its size"),
        "qes": ("1, from 0.696 to 1.85", "1/Qts = 1/Qes + 1/Qms, with total Qts of 0.8 and mechanical Qms of 4"),
        "re_ohm": ("7.04 ohm, from 5.6 to 8 ohm", "estimated from its rated impedance"),
        "mms_g": ("0.096 g, from 0.04 to 0.21 g", "estimated from its cone area"),
    }
    assert found["speaker: total Qts"].source == (
        "the job, sound; data/driver_tolerances.csv: common practice, no source"
    )
    assert found["speaker: mechanical Qms"].source == (
        "the job, sound, leaves it open; data/driver_estimates.csv: common practice, no source"
    )
    assert "from memory" in found["speaker: voice coil resistance Re"].source


def test_travel_and_rim_entered_with_the_sizes_are_named():
    """14 x 10 mm with a rim of 1 mm: 12 x 8 mm of opening, 90 to 100 % of it moving: 91.2 mm2."""
    found = spacious(decoder=None, speaker={**SPEAKER, "travel": "0.6 mm", "rim": "1 mm"}).figures
    travel, area = (found[f"speaker: {LABELS[field]}"] for field in ("xmax_mm", "sd_mm2"))
    assert (travel.value, travel.follows_from) == ("0.6 mm, from 0.48 to 0.72 mm", ("cone travel",))
    assert area.value == "91.2 mm2, from 86.4 to 96 mm2"
    assert area.source == "the job, speaker; common practice, no source"


def test_a_coil_measured_with_a_meter_tells_the_impedance_but_drives_no_load():
    found = sounding({"re": "7 ohm, measured"}).figures
    assert found["speaker: rated impedance"].how == "estimated from its voice coil resistance"
    assert found["speaker: rated impedance"].follows_from == ("speaker: voice coil resistance Re",)
    assert "load impedance" not in found


# What is not there.


def test_without_a_chamber_that_holds_a_speaker_nothing_sounds():
    found = spacious(speaker=None, sound={"output": OUTPUT}).figures
    assert not {*SOUNDING, *DRIVEN} & set(found)
    assert not [name for name in found if name.startswith("speaker: ")]


def test_without_the_decoder_s_sheet_there_is_no_load():
    found = spacious(sound={"driver": FULL}).figures
    assert set(SOUNDING) <= set(found)
    assert not set(DRIVEN) & set(found)


def test_a_load_whose_power_is_not_stated_stops_there():
    found = spacious(sound={"driver": FULL, "output": {"least": "4 ohm"}}).figures
    assert found["load impedance"].value == "8 ohm, fits"
    assert found["decoder output"].value == "4 ohm or more"
    assert "decoder power" not in found


@pytest.mark.parametrize(
    ("output", "value"),
    [
        ({"least": "4 ohm", "most": "16 ohm", "power": "2 W", "into": "4 ohm"}, "4 to 16 ohm; 2 W into 4 ohm"),
        ({"least": "8 ohm", "supply": "12 V", "drop": "1.5 V"}, "8 ohm or more; a bridge on 12 V, 1.5 V of it lost"),
        ({"power": "2 W"}, "2 W"),
    ],
)
def test_the_decoder_s_sheet_is_told_as_entered(output, value):
    figure = spacious(sound={"driver": FULL, "output": output}).figures["decoder output"]
    assert (figure.value, figure.source) == (value, "the job, sound")


def test_a_refused_load_gets_no_power():
    found = spacious(sound={"driver": {**FULL, "impedance": "4 ohm"}, "output": {**OUTPUT, "least": "8 ohm"}}).figures
    assert found["load impedance"].value == "4 ohm, refused"
    assert "decoder power" not in found


def test_parameters_that_contradict_each_other_leave_the_other_figures():
    """Qts 0.8 against 1/Qts = 1/2 + 1/4: 1.33."""
    found = sounding({**FULL, "qes": "2", "qts": "0.8"}).figures
    assert "net volume" in found
    assert not {*SOUNDING} & set(found)


def test_figures_leave_the_leaks_alone():
    """They are worked out on their own views alone: a search, too slow for every figure."""
    found = sounding()
    assert set(SOUNDING) <= set(found.figures)
    assert "leaking" not in vars(found.sound)
