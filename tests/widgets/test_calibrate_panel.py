"""The calibration page, driven in Python."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path

import pytest

from modelmath.job import load_job, plan
from modelmath.job.calibration import calibration_of
from modelmath.lengths.scales import all_scales
from modelmath.widgets.calibrate import EXAMPLE, NONE, CalibratePanel
from modelmath.widgets.common import places


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture
def workbook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty workbook folder that the page runs in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_example_works_as_it_opens():
    panel = CalibratePanel()
    answer = plain(panel.answer.value)
    assert answer.startswith("Its zero stands in from its end by 0.7")
    assert "the rule shows 0." in answer
    assert "The gauges agree with each other." in answer
    assert "Found from 8 gauges: how far zero stands in, and the scale error." in answer
    assert panel.aside.value == ""
    assert "<svg" in panel.figure.value
    assert plain(panel.table.value).count("drill shank") == 4
    assert panel.summary.splitlines()[0] == "Found from 8 gauges: how far zero stands in, and the scale error."


def test_one_gauge_read_exactly_by_hand():
    panel = CalibratePanel()
    panel.pasted.value = "block; 10 scale ft; 9 1/4"
    assert "0.750 ± 0.018 scale ft" in plain(panel.answer.value)
    assert "can't be checked" in plain(panel.table.value)
    # 9 1/4 scale ft is 32.375 mm; 10 scale ft are 35 mm.
    assert "9 1/4 scale ft 35.00 ± 0.09 mm 2.63 mm" in plain(panel.table.value)


def test_a_worn_end_is_said_so():
    panel = CalibratePanel()
    panel.pasted.value = "block; 9 scale ft; 9 1/4"
    assert plain(panel.answer.value).startswith("Its end is worn back behind zero by 0.250 ± 0.018 scale ft")


def test_a_gauge_that_disagrees_is_named_and_compared():
    panel = CalibratePanel()
    panel.pasted.value = EXAMPLE.replace("6 1/8", "6 7/8")
    answer = plain(panel.answer.value)
    assert "strip B by caliper (2." in answer
    assert "shorter than its reading says) disagrees with the others." in answer
    assert "Without it, zero stands 0.7" in answer
    table = plain(panel.table.value)
    assert table.count(", disagrees") == 1
    assert "strip B by caliper" in panel.figure.value


def test_bad_lines_are_kept_aside_by_number():
    panel = CalibratePanel()
    panel.pasted.value = EXAMPLE + "\nleaf; 2; 1\n\nbar; 20 mm; 1/0"
    aside = plain(panel.aside.value)
    assert "Line 9, kept aside:" in aside
    assert "Line 11, kept aside:" in aside
    assert "Found from 8 gauges" in plain(panel.answer.value)


def kept_and_marked(panel: CalibratePanel, before: str) -> bool:
    """Whether the page still shows an earlier answer, and says so."""
    old = "These figures are for the last entries that gave a result."
    return 'class="mm-card mm-stale"' in panel.answer.value and plain(panel.answer.value) == f"{old} {plain(before)}"


def test_gauges_that_tell_nothing_keep_the_last_answer_marked_until_there_is_a_new_one():
    panel = CalibratePanel()
    before = panel.answer.value
    panel.pasted.value = ""
    assert "Read a drill shank or another known length." in plain(panel.aside.value)
    assert kept_and_marked(panel, before)
    panel.pasted.value = EXAMPLE
    assert panel.answer.value == before


def test_swapped_marks_are_told_by_the_gauges():
    panel = CalibratePanel()
    before = panel.answer.value
    panel.pasted.value = "a; 5 mm; 100\nb; 50 mm; 1"
    assert plain(panel.aside.value) == (
        "the reading of b, the longer gauge, is less than that of a, the shorter one; it must be more. "
        "Check the sizes and marks of both."
    )
    assert kept_and_marked(panel, before)


def test_every_scale_is_offered_the_common_ones_first():
    offered = CalibratePanel().fields["scale"].control.options
    assert offered[:4] == ("HO", "N", "O", "S")
    assert sorted(offered) == sorted(each.name for each in all_scales())


def test_a_scale_error_that_no_rule_has_is_said_and_the_last_answer_stays():
    panel = CalibratePanel()
    before = panel.answer.value
    panel.fields["scale"].value = "O"  # these are readings of an HO rule
    assert "Check the rule's scale and unit, and the sizes of the gauges." in plain(panel.aside.value)
    assert kept_and_marked(panel, before)


@pytest.mark.parametrize(("name", "wrong"), [("graduation", "0"), ("read_to", "finely")])
def test_a_bad_rule_is_said_at_its_own_field(name, wrong):
    panel = CalibratePanel()
    before = panel.answer.value
    panel.fields[name].value = wrong
    assert 'role="alert"' in panel.fields[name].message
    assert kept_and_marked(panel, before)
    panel.fields[name].value = "1/8"
    assert 'role="alert"' not in panel.fields[name].message


def test_what_a_person_types_is_escaped():
    panel = CalibratePanel()
    panel.pasted.value = "<b>block</b>; 35 mm; 9 1/4\n<i>; x"
    for shown in (panel.table, panel.figure, panel.aside, panel.answer):
        assert "<b>block" not in shown.value
        assert "<i>" not in shown.value


def test_the_rule_of_a_job_takes_it_over(workbook):
    (workbook / "jobs").mkdir()
    own = workbook / "jobs" / "switcher-ho.toml"
    shutil.copy(places.job_files()["switcher-ho"], own)
    panel = CalibratePanel()
    panel.fields["job"].value = "switcher-ho"
    assert panel.fields["rule"].control.options == ("scale rule", "steel rule")
    panel.button.click()
    assert f"Saved as {own}." in plain(panel.saved.value)
    new = plan(load_job(own))
    found = calibration_of(new, "scale rule")
    assert len(new.job.gauges) == 8
    assert float(new.bench.rules["scale rule"].offset_mm) == pytest.approx(found.offset_mm, abs=1e-5)
    assert new.job.rules[0].calibrated_at is not None
    assert "# the zero mark stands in from the end" in own.read_text("utf-8")  # its comments survive


def test_a_rule_in_another_unit_is_not_taken_for_it(workbook):
    panel = CalibratePanel()
    panel.fields["job"].value = "switcher-ho"
    panel.fields["rule"].value = "steel rule"
    assert panel.save() is None
    assert "Nothing was saved." in plain(panel.saved.value)
    assert "Choose the rule of the job that the gauges were read with" in plain(panel.saved.value)
    assert not (workbook / "jobs").exists()


def test_without_a_job_nothing_is_saved(workbook):
    panel = CalibratePanel()
    assert panel.fields["job"].value == NONE
    assert panel.save() is None
    assert plain(panel.saved.value) == "Choose the job and its rule first."
    assert list(workbook.iterdir()) == []


def test_a_job_that_can_not_be_read_says_so(workbook):
    (workbook / "jobs").mkdir()
    (workbook / "jobs" / "broken.toml").write_text("name = ", "utf-8")
    panel = CalibratePanel()
    panel.fields["job"].value = "broken"
    assert 'role="alert"' in panel.saved.value
    assert panel.save() is None
    assert (workbook / "jobs" / "broken.toml").read_text("utf-8") == "name = "


def test_a_changed_list_is_what_is_saved(workbook):
    panel = CalibratePanel()
    panel.pasted.value = "block; 10 scale ft; 9 1/4"
    panel.fields["job"].value = "switcher-ho"
    (saved,) = load_job(panel.save()).gauges
    assert (saved.name, saved.size, saved.mark) == ("block", "10 scale ft", "9 1/4")


def test_an_answer_of_earlier_entries_is_not_saved(workbook):
    panel = CalibratePanel()
    panel.fields["job"].value = "switcher-ho"
    panel.pasted.value = ""
    assert panel.save() is None
    assert plain(panel.saved.value) == "Nothing was saved: mend the entries first, they give no result now."
    assert list(workbook.iterdir()) == []
