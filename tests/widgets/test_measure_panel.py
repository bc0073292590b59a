"""The page that measures a speaker, driven in Python."""

from __future__ import annotations

import re
import tomllib
from datetime import UTC, datetime
from html import unescape
from pathlib import Path

import numpy as np
import pytest
from sound.measuring.simulated import TRUE, even, swept

from modelmath.job import load_job, plan, save_job
from modelmath.quantities.text import parse_quantity
from modelmath.sound.measuring.curve import ImpedanceCurve
from modelmath.sound.measuring.taking_over import taken_over
from modelmath.widgets.common import places
from modelmath.widgets.measure import BOX, INVENTED, MASS, NO_JOB, OLD, MeasurePanel

FINE = "Nothing is seen wrong with this sweep."


def plain(html):
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def text_of(sweep):
    lines = [f"{f:.6g};{z:.6g}" for f, z in zip(sweep.frequency_hz, sweep.impedance_ohm, strict=True)]
    return "\n".join(["frequency [Hz];impedance [ohm]", *lines])


def job_of(panel):
    return tomllib.loads(unescape(re.search(r"<pre[^>]*>(.*?)</pre>", panel.copy.value, re.DOTALL)[1]))


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
def panel(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # an empty workbook folder
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
    for part in (panel.answer, panel.figure):
        assert "mm-stale" in part.value
        assert plain(part.value).startswith(OLD)
    assert plain(panel.answer.value) == f"{OLD} {before}"
    assert panel.faults.value == ""  # nothing says that this sweep is fine
    assert plain(panel.copy.value) == "There is nothing for a job: this sweep can't be read."
    assert panel.into_job.button.disabled
    assert panel.summary.splitlines()[:2] == [
        OLD,
        "Re, resistance of the voice coil: 7.320 ohm, 95 % 7.288 to 7.352 ohm",
    ]
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))  # what else is typed leaves the mark
    assert "mm-stale" in panel.answer.value
    assert "<pre" not in panel.copy.value
    upload(panel.sweep, "x.csv", b"\xff\xfe\x00")
    assert plain(panel.sweep.note.value).startswith("the file is not text in UTF-8;")


def test_what_was_wrong_and_vas_are_marked_as_the_last_sweeps_too(panel):
    panel.fields["volume"].value = "2 ± 0.05 cm3"
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    panel.sweep.pasted.value = text_of(swept(TRUE, even(400, 2000), 0.002))
    assert "mm-stale" not in panel.faults.value + panel.vas_answer.value
    upload(panel.sweep, "x.csv", b"\xff\xfe\x00")
    for part in (panel.faults, panel.figure, panel.answer, panel.vas_answer):
        assert plain(part.value).count(OLD) == 1
    panel.sweep.pasted.value += "\n"
    assert OLD not in "".join(part.value for part in (panel.faults, panel.figure, panel.answer, panel.vas_answer))


def test_the_way_it_was_read_is_said(panel):
    lines = panel.sweep.pasted.value.splitlines()
    panel.sweep.pasted.value = "\n".join(lines[1:])
    said = "columns were read as frequency in Hz, impedance in ohm and phase in degrees."
    assert plain(panel.sweep.note.value) == f"69 points. It has no row of heads: its {said}"
    panel.sweep.pasted.value = "\n".join(["Frequenz [Hz];Impedanz [ohm];Phase", *lines[1:]])
    assert "'Frequenz [Hz]' is read as frequency, by its unit." in plain(panel.sweep.note.value)
    assert plain(panel.faults.value) == FINE


def test_a_phase_in_radians_is_told(panel):
    _, *lines = (line.split(";") for line in panel.sweep.pasted.value.splitlines())
    lines = [f"{f};{z};{np.radians(float(phase)):.4f}" for f, z, phase in lines]
    panel.sweep.pasted.value = "\n".join(["f;z;phase", *lines])
    assert plain(panel.faults.value).startswith("The phase looks like radians: write the unit in the head,")
    panel.sweep.pasted.value = "\n".join(["f;z;phase [rad]", *lines])
    assert plain(panel.faults.value) == FINE


def test_kilohertz_under_a_head_of_hertz_give_nothing(panel):
    panel.sweep.pasted.value = text_of(swept(TRUE, even(120, 990), 0.002)).replace("[Hz]", "[kHz]")
    assert "check the unit over the frequencies" in plain(panel.faults.value)
    sweep = swept(TRUE, even(), 0.002)
    panel.sweep.pasted.value = "\n".join(
        ["f [Hz],z", *(f"{f / 1000},{z}" for f, z in zip(sweep.frequency_hz, sweep.impedance_ohm, strict=True))]
    )
    assert "the frequencies look like kHz" in plain(panel.faults.value)
    assert panel.answer.value == ""


# Into a job.


def put_into(panel, name="switcher-ho"):
    panel.into_job.chooser.value = name
    file = panel.into_job.save()
    return file, plain(panel.into_job.saved.value)


def test_what_was_measured_goes_into_a_copy_of_a_job(panel):
    demo = places.job_files()["switcher-ho"]
    before = demo.read_bytes()
    file, said = put_into(panel)
    assert file.parent == Path.cwd() / "jobs"
    assert said == f"Saved as {file}. Put in: re, fs, qms, qes. {INVENTED}"
    assert demo.read_bytes() == before
    driver = load_job(file).sound.driver.model_dump(exclude_none=True)
    assert driver == load_job(demo).sound.driver.model_dump(exclude_none=True) | job_of(panel)["sound"]["driver"]
    assert driver["fs"].endswith("Hz, measured")
    # The plan reads it: a resonance in the chamber above that in free air.
    found = plan(load_job(file))
    assert found.job.sound.driver.fs == driver["fs"]
    assert found.bench.sounds.driver.fs_hz.origin == "measured"
    assert panel.into_job.chooser.value == file.stem  # the copy is chosen now
    assert put_into(panel, file.stem)[0] == file  # and may be written again


def test_vas_and_the_moving_mass_go_in_too(panel):
    panel.fields["way"].value = MASS
    panel.fields["mass"].value, panel.fields["sd"].value = "0.05 ± 0.002 g", "95 ± 5 mm2"
    panel.second.pasted.value = text_of(swept(LOADED, even(100, 1600), 0.002))
    file, said = put_into(panel)
    assert "Put in: re, fs, qms, qes, vas, mms." in said
    assert load_job(file).sound.driver.mms.endswith("g, measured")


def own_job(**given):
    """Write a job of the user's with these parameters, under the name that a save gives it."""
    job = load_job(places.job_files()["switcher-ho"])
    driver = job.sound.driver.model_copy(update=given)
    job = job.model_copy(update={"name": "Mine", "sound": job.sound.model_copy(update={"driver": driver})})
    Path("jobs").mkdir()
    return save_job(job, Path.cwd() / "jobs" / "mine.toml")


def chosen_own(panel):
    panel.into_job.chooser.control.options = [NO_JOB, *places.job_files()]
    return put_into(panel, "mine")


def test_what_contradicts_is_taken_out_and_said(panel):
    own_job(fs="500 Hz", qts="0.7")
    file, said = chosen_own(panel)
    assert "In place of: fs 500 Hz." in said
    assert "Taken out: qts 0.7, which contradicts what was measured." in said
    assert load_job(file).sound.driver.qts is None


def test_a_total_q_that_agrees_stays(panel):
    own_job(qts="1.31")  # 4.218 and 1.915 together make 1.317: Small 1972
    file, said = chosen_own(panel)
    assert "Taken out" not in said
    assert load_job(file).sound.driver.qts == "1.31"


def test_what_contradicts_and_stays_is_said(panel):
    own_job(impedance="32 ohm")
    file, said = chosen_own(panel)
    assert "Left in the job all the same: the" in said
    assert load_job(file).sound.driver.impedance == "32 ohm"


def test_unreadable_parameters_are_said_and_left():
    found = taken_over({"vas": "much", "qts": "high"}, {"qes": "1.9", "qms": "4.2"})
    assert found.removed == {"qts": "high"}
    assert found.texts["vas"] == "much"
    assert "'much'" in found.contradiction


def test_the_file_of_another_job_is_never_overwritten(panel):
    file, _ = put_into(panel)
    before = file.read_bytes()
    none, said = put_into(panel, "switcher-ho")
    assert none is None
    assert said == (
        f"Nothing was saved. {file.name} is another job, saved before: choose {file.stem} to put them into that."
    )
    assert file.read_bytes() == before


def test_every_failure_to_save_is_a_message(panel):
    assert put_into(panel, NO_JOB) == (None, "Nothing was saved. Choose a job first.")
    Path("jobs").write_text("a file where the folder should be")
    assert put_into(panel)[1].startswith("Nothing was saved. ")
    Path("jobs").unlink()
    file = own_job()
    panel.into_job.chooser.control.options = [NO_JOB, *places.job_files()]
    file.write_text("name = ")
    assert put_into(panel, "mine")[1].startswith("Nothing was saved. ")
    assert file.read_text() == "name = "
    file.unlink()
    assert put_into(panel, "mine") == (None, "Nothing was saved. The job mine is no longer there.")


def test_another_choice_or_sweep_clears_what_was_said(panel):
    put_into(panel)
    panel.sweep.pasted.value = text_of(swept(TRUE, even(), 0.002))
    assert panel.into_job.saved.value == ""
    put_into(panel, NO_JOB)
    panel.into_job.chooser.value = "railcar-n"
    assert panel.into_job.saved.value == ""


def two_peaks(f):
    return TRUE.impedance_ohm(f) + 9 / (1 + 12j * (f / 1100 - 1100 / f))


@pytest.mark.parametrize(
    ("curve", "f_hz", "scatter", "why"),
    [
        (two_peaks, even(), 0.002, "which of the peaks is the speaker's own can't be told"),
        (TRUE, even(400, 2000), 0.002, "the peak lies too near an end of the sweep"),
        (TRUE, np.arange(100, 2001, 110.0), 0.0, "too few points lie across the peak"),
        (TRUE, even(), 0.12, "the readings scatter too much"),
    ],
)
def test_a_sweep_that_can_not_be_relied_on_is_not_offered(panel, curve, f_hz, scatter, why):
    panel.sweep.pasted.value = text_of(swept(curve, f_hz, scatter))
    said = f"There is nothing fit for a job: {why}. Take the sweep again."
    assert plain(panel.copy.value) == said
    assert panel.into_job.button.disabled
    assert put_into(panel) == (None, f"Nothing was saved. {said}")
    assert not Path("jobs").exists()


def test_vas_of_a_second_sweep_that_can_not_be_relied_on_is_left_out(panel):
    panel.fields["volume"].value = "2 ± 0.05 cm3"
    panel.second.pasted.value = text_of(swept(BOXED, even(600, 2800), 0.002))
    assert "Vas, equivalent volume" in plain(panel.vas_answer.value)
    assert list(job_of(panel)["sound"]["driver"]) == ["re", "fs", "qms", "qes"]
    said = "Vas is left out: in the second sweep the peak lies too near an end of the sweep."
    assert said in plain(panel.copy.value)


def test_readings_of_the_users_own_are_not_called_invented(panel):
    assert plain(panel.copy.value).startswith(INVENTED)
    panel.sweep.pasted.value = text_of(swept(TRUE, even(), 0.002))
    assert INVENTED not in plain(panel.copy.value)
    assert INVENTED not in put_into(panel)[1]


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
    assert plain(panel.copy.value) == "There is nothing for a job: this sweep gives no parameters."
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
    panel.fields["mass"].value, panel.fields["sd"].value = "0.05 ± 0.001 g", "95 ± 3 mm2"
    panel.second.pasted.value = text_of(swept(LOADED, even(100, 1600), 0.002))
    (_, vas, _), (name, mms, unit) = panel.more
    assert (name, unit) == ("mms", "g")
    assert mms.low < 0.1 < mms.high  # half its mass was added
    # rho c^2 Sd^2 / (w^2 M), air at 20 C by a handbook: 1.204 kg/m3, 343.2 m/s.
    by_hand = 1.204 * 343.2**2 * 95e-6**2 / ((2 * np.pi * 485.0) ** 2 * 0.1e-3) * 1e6
    assert vas.low < by_hand < vas.high
    panel.fields["volume"].value = "4 ± 0.1 cm3"
    panel.fields["way"].value = BOX
    assert panel.choice.children == (panel.boxed,)
    assert "the resonance in the test box is" in plain(panel.vas_answer.value)
    assert "vas" not in job_of(panel)["sound"]["driver"]


@pytest.mark.parametrize("volume", ["2", "", "0 cm3", "2 bananas"])
def test_a_bad_volume_is_said_at_its_field(panel, volume):
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    panel.fields["volume"].value = "9 ± 1 cm3"
    panel.fields["volume"].value = volume
    assert 'role="alert"' in panel.fields["volume"].message
    assert panel.more == []
    panel.fields["volume"].value = "2 ± 0.1 cm3"
    assert 'role="alert"' not in panel.fields["volume"].message
    assert len(panel.more) == 1


def test_nothing_is_entered_for_the_user(panel):
    assert [panel.fields[name].value for name in ("volume", "mass", "sd")] == ["", "", ""]
    assert "such as 4 ± 0.1 cm3" in panel.fields["volume"].message
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    said = "Vas is not known yet; enter the volume of the test box with how exactly you know it, such as 4 ± 0.1 cm3."
    assert plain(panel.vas_answer.value) == said


def test_how_exactly_it_is_known_is_asked_for(panel):
    panel.second.pasted.value = text_of(swept(BOXED, even(170, 2800), 0.002))
    panel.fields["volume"].value = "2 cm3"
    said = "the volume of the test box is '2 cm3'; expected its value and how exactly it is known. Write it such as"
    assert plain(panel.vas_answer.value) == f"{said} 4 ± 0.1 cm3."
    assert said in plain(panel.fields["volume"].message)
    assert panel.more == []


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
