"""The page that measures a speaker, driven in Python."""

from __future__ import annotations

import re
import tomllib
from datetime import UTC, datetime
from html import unescape

import numpy as np
import pytest
from sound.measuring.simulated import TRUE, even, swept

from modelmath.sound.driver.quantities import parse_quantity
from modelmath.sound.measuring.curve import ImpedanceCurve
from modelmath.widgets.measure import BOX, MASS, MeasurePanel

FINE = "Nothing is seen wrong with this sweep."


def plain(html):
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def text_of(sweep):
    lines = [f"{f:.6g};{z:.6g}" for f, z in zip(sweep.frequency_hz, sweep.impedance_ohm, strict=True)]
    return "\n".join(["frequency [Hz];impedance [ohm]", *lines])


def job_of(panel):
    return tomllib.loads(unescape(re.search(r"<pre[^>]*>(.*?)</pre>", panel.answer.value, re.DOTALL)[1]))


def upload(sweep_input, name, content):
    sweep_input.upload.value = (
        {
            "name": name,
            "type": "text/csv",
            "size": len(content),
            "content": content,
            "last_modified": datetime(2026, 1, 1, tzinfo=UTC),
        },
    )


@pytest.fixture
def panel():
    return MeasurePanel()


# As the invented example, in a box that doubles its stiffness, and with half its mass added: Small 1972.
ROOT = np.sqrt(2.0)
BOXED = ImpedanceCurve(7.3, 485.0 * ROOT, 4.2 * ROOT, 4.2 / 1.9 * 7.3, 1.6, 0.7, 4000.0)
LOADED = ImpedanceCurve(7.3, 485.0 / np.sqrt(1.5), 4.2 * np.sqrt(1.5), 4.2 / 1.9 * 7.3, 1.6, 0.7, 4000.0)


def test_the_example_works_as_it_opens(panel):
    assert plain(panel.faults.value) == FINE
    assert "<svg" in panel.figure.value
    answer = plain(panel.answer.value)
    assert "fs, resonance 485.08 Hz 0.14 Hz 484.80 to 485.35 Hz" in answer
    assert "Qts, together 1.3170 0.0045 1.3081 to 1.3259" in answer
    assert plain(panel.sweep.note.value) == "69 points."
    assert panel.summary.splitlines()[0] == FINE
    assert len(panel.summary.splitlines()) == 6


def test_what_it_gives_is_taken_by_a_job(panel):
    driver = job_of(panel)["sound"]["driver"]
    assert list(driver) == ["re", "fs", "qms", "qes"]
    fs = parse_quantity(driver["fs"], "frequency")
    assert (fs.origin, fs.low <= panel.found.fs.low, fs.high >= panel.found.fs.high) == ("measured", True, True)


def test_a_pasted_sweep_is_read_at_once(panel):
    panel.sweep.pasted.value = text_of(swept(ImpedanceCurve(4.0, 800.0, 3.0, 9.0), even(200, 3200), 0.002))
    assert panel.found.fs.value == pytest.approx(800, rel=0.01)
    assert "fs, resonance 80" in plain(panel.answer.value) or "fs, resonance 79" in plain(panel.answer.value)


def test_a_file_is_taken_and_typing_goes_back(panel):
    upload(panel.sweep, "bench <1>.csv", text_of(swept(TRUE, even(count=50), 0.01)).encode("utf-8-sig"))
    said = plain(panel.sweep.note.value)
    assert said == "Showing the file bench <1>.csv; type in the box to go back to it. 50 points."
    assert "<1>" not in panel.sweep.note.value
    panel.sweep.pasted.value += "\n"
    assert plain(panel.sweep.note.value) == "69 points."


def test_what_can_not_be_read_keeps_the_last_answer_marked(panel):
    before = plain(panel.answer.value)
    panel.sweep.pasted.value = panel.sweep.pasted.value.replace("7.469", "open")
    said = "row 2, impedance is 'open'; expected a number in ohm. Write it such as 7.9."
    assert plain(panel.sweep.note.value) == said
    assert "mm-stale" in panel.answer.value
    assert plain(panel.answer.value) == f"These figures are for the last sweep that could be read. {before}"
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))  # what else is typed leaves the mark
    assert "mm-stale" in panel.answer.value
    upload(panel.sweep, "x.csv", b"\xff\xfe\x00")
    assert plain(panel.sweep.note.value).startswith("the file is not text in UTF-8;")


def test_one_line_is_no_file_name(panel):
    panel.sweep.pasted.value = "/etc/hostname.txt"
    assert "heads that name each column" in plain(panel.sweep.note.value)


def test_a_bad_sweep_says_what_to_take_again_and_gives_what_it_can(panel):
    panel.sweep.pasted.value = text_of(swept(TRUE, even(400, 2000), 0.002))
    said = plain(panel.faults.value)
    assert "Sweep from 120 to 1900 Hz, a quarter to four times the resonance." in said
    assert said.endswith("take the sweep again before you rely on them.")
    assert 'role="alert"' in panel.faults.value
    assert "fs, resonance" in plain(panel.answer.value)


def test_a_sweep_that_gives_nothing_shows_its_readings_alone(panel):
    panel.sweep.pasted.value = text_of(swept(TRUE, even(490, 2000), 0.002))
    assert "Sweep again from 61 Hz." in plain(panel.faults.value)
    assert panel.answer.value == ""
    assert "No curve was fitted." in panel.figure.value
    assert panel.summary == plain(panel.faults.value)


def test_vas_by_a_test_box(panel):
    assert plain(panel.second.note.value) == "Paste or take the second sweep, and Vas follows."
    panel.fields["volume"].value = "2 ± 0.05 cm3"
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    assert "Vas, equivalent volume" in plain(panel.vas_answer.value)
    name, vas, unit = panel.more[0]
    assert (name, unit) == ("vas", "cm3")
    assert vas.low < 2.0 < vas.high  # stiffness doubled: Vas is the box
    assert parse_quantity(job_of(panel)["sound"]["driver"]["vas"], "volume").low <= 1000 * vas.low


def test_vas_by_an_added_mass(panel):
    panel.fields["way"].value = MASS
    assert panel.choice.children == (panel.loaded,)
    panel.fields["mass"].value = "0.05 g"
    panel.second.pasted.value = text_of(swept(LOADED, even(100, 1600), 0.002))
    (_, vas, _), (name, mms, unit) = panel.more
    assert (name, unit) == ("mms", "g")
    assert mms.low < 0.1 < mms.high  # half its mass was added
    # rho c^2 Sd^2 / (w^2 M), air at 20 C by a handbook: 1.204 kg/m3, 343.2 m/s.
    by_hand = 1.204 * 343.2**2 * 95e-6**2 / ((2 * np.pi * 485.0) ** 2 * 0.1e-3) * 1e6
    assert vas.low < by_hand < vas.high
    panel.fields["way"].value = BOX
    assert panel.choice.children == (panel.boxed,)
    assert "the resonance in the test box is" in plain(panel.vas_answer.value)
    assert "vas" not in job_of(panel)["sound"]["driver"]


@pytest.mark.parametrize("volume", ["2", "", "0 cm3", "2 bananas"])
def test_a_bad_volume_is_said_at_its_field(panel, volume):
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    panel.fields["volume"].value = volume
    assert 'role="alert"' in panel.fields["volume"].message
    assert panel.more == []
    panel.fields["volume"].value = "2 cm3"
    assert 'role="alert"' not in panel.fields["volume"].message
    assert len(panel.more) == 1


def test_a_second_sweep_without_a_first_is_no_trouble(panel):
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    panel.sweep.pasted.value = text_of(swept(TRUE, even(490, 2000), 0.002))
    assert "is not known yet; enter a better sweep" in plain(panel.vas_answer.value)
    panel.second.pasted.value = "nonsense"
    assert 'role="alert"' in panel.second.note.value


@pytest.mark.parametrize(
    "text", ["", " ", "f,z", "f,z\n1,1", "f,z\n" + "100,7\n" * 50, "\x00", "a" * 10_000, "f;z\n1;1e309"]
)
def test_any_text_gets_a_message_and_no_traceback(panel, text):
    for box in (panel.sweep, panel.second):
        box.pasted.value = text
    assert 'role="alert"' in panel.sweep.note.value + panel.faults.value


def test_the_bench_is_told_with_its_cautions(panel):
    how = plain(panel.folds["how"].content.value)
    for words in ("off the decoder", "low-voltage supply", "no more than 0.1 V", "Common practice, no source."):
        assert words in how
    assert "leave that to licensed practice and local codes" in how


def test_what_a_person_types_is_escaped(panel):
    panel.sweep.pasted.value = "f,z,<b>x</b>\n1,<i>,1"
    assert "<i>" not in panel.sweep.note.value
    panel.sweep.pasted.value = panel.sweep.pasted.value.replace("<i>", "7")
    assert "<b>x" not in panel.sweep.note.value
