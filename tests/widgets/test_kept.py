"""The walkthrough saves as it goes: drafts offered again after a page died, conflicts with both versions kept."""

from __future__ import annotations

import re
import shutil
import signal
import subprocess
import sys
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from sample_jobs import DEMO_PATHS, DEMOS, with_chamber

from modelmath.job import load_job, save_job, to_scale
from modelmath.job.storage.copies import previous_copy
from modelmath.job.storage.drafts import drafts_in, write_draft
from modelmath.job.storage.files import open_job
from modelmath.widgets import EnclosurePanel

SIX = {"scale": "HO", "zero_offset": "1", "chassis": "3 1/4", "shell": "8 3/4", "keep": "1/4", "finest": "1/4"}


@pytest.fixture
def workbook(tmp_path, monkeypatch) -> Path:
    """A workbook folder with one job in it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "jobs").mkdir()
    save_job(with_chamber(name="hood"), tmp_path / "jobs" / "hood.toml")
    return tmp_path


def drafts(workbook: Path) -> list:
    found, faults = drafts_in(workbook / ".modelmath" / "drafts")
    assert faults == []
    return found


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def opened(name: str = "hood") -> EnclosurePanel:
    panel = EnclosurePanel()
    panel.chooser.value = name
    return panel


def shell_of(panel: EnclosurePanel) -> str:
    return panel.fields["shell"].value


def test_a_file_of_another_name_than_its_model_is_saved_where_it_was_read(workbook):
    jobs = workbook / "jobs"
    (jobs / "hood.toml").rename(jobs / "long hood, second try.toml")
    panel = opened("long hood, second try")
    panel.fields["shell"].value = "9 1/2"
    assert panel.save() == jobs / "long hood, second try.toml"
    panel.name.value = "another"
    assert panel.save() == jobs / "another.toml"  # a model of another name gets a file of its own


def test_an_edit_is_kept_as_a_draft_until_it_is_saved(workbook):
    panel = opened()
    assert drafts(workbook) == []
    panel.fields["shell"].value = "9 3/4"
    (draft,) = drafts(workbook)
    assert (draft.job, draft.chosen) == (panel.plan.job, "hood")
    assert draft.since == open_job(workbook / "jobs" / "hood.toml").mark
    assert plain(panel.kept.status.value) == "Not saved yet. What you enter is kept as a draft as you go."
    panel.fields["shell"].value = "9 1/2"
    assert [each.job.readings[0].mark for each in drafts(workbook)] == ["9 1/2"]
    assert panel.save() == workbook / "jobs" / "hood.toml"
    assert drafts(workbook) == []
    assert panel.kept.status.value == ""
    copy = previous_copy(workbook / "jobs" / "hood.toml")
    assert plain(panel.printing.said.value) == f"Saved as {workbook}/jobs/hood.toml. As it was before: {copy}."
    assert load_job(copy).readings[0].mark == "9 1/4"


def test_an_edit_taken_back_leaves_no_draft(workbook):
    panel = opened()
    panel.fields["shell"].value = "9 3/4"
    panel.fields["shell"].value = "9 1/4"
    assert drafts(workbook) == []


def test_an_entry_that_gives_no_plan_leaves_the_draft_of_the_last_that_did(workbook):
    panel = opened()
    panel.fields["shell"].value = "9 3/4"
    panel.fields["shell"].value = "9 3//4"
    assert [each.job.readings[0].mark for each in drafts(workbook)] == ["9 3/4"]


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
def test_opening_a_job_is_no_edit(workbook, path):
    shutil.copy(path, workbook / "jobs")
    panel = EnclosurePanel.demo(path.stem)
    assert panel.plan.job == DEMOS[path.stem]
    assert drafts(workbook) == []
    assert panel.kept.view.children == (panel.kept.news,)


def test_entries_of_a_model_that_is_not_complete_are_kept_and_taken_up(workbook):
    panel = EnclosurePanel()
    assert drafts(workbook) == []
    panel.name.value = "Begun hood"
    for name, text in list(SIX.items())[1:4]:
        panel.fields[name].value = text
    panel.fields["flange"].value = "1..2 mm"
    (draft,) = drafts(workbook)
    assert draft.typed["flange"] == "1..2 mm"
    later = EnclosurePanel()
    assert "Unsaved changes of Begun hood" in plain(later.kept.offer.value)
    later.kept.take_button.click()
    assert later.name.value == "Begun hood"
    assert {name: field.value for name, field in later.fields.items()} == {
        name: field.value for name, field in panel.fields.items()
    }
    assert "it has two decimal points" in plain(later.fields["flange"].message)
    assert len(drafts(workbook)) == 1  # its own now
    later.fields["flange"].value = ""
    for name in ("keep", "finest"):
        later.fields[name].value = SIX[name]
    (draft,) = drafts(workbook)
    assert (draft.typed, draft.job) == ({}, later.plan.job)


def test_a_bad_entry_is_kept_beside_the_last_good_job_and_goes_once_it_is_mended(workbook):
    panel = opened()
    panel.fields["shell"].value = "9 3//4"
    (draft,) = drafts(workbook)
    assert (draft.job.readings[0].mark, draft.typed["shell"]) == ("9 1/4", "9 3//4")
    later = opened()
    later.kept.take_button.click()
    assert shell_of(later) == "9 3//4"
    assert "two fraction strokes" in later.fields["shell"].message
    panel.fields["shell"].value = "9 1/4"
    assert len(drafts(workbook)) == 1  # the later page's own


def test_what_a_draft_can_t_have_in_a_field_is_left_out(workbook):
    panel = opened()
    panel.fields["shell"].value = "9 3//4"
    (draft,) = drafts(workbook)
    write_draft(replace(draft, typed={"scale": "no scale", "shell": "9 1/2", "nothing": "x"}))
    later = opened()
    later.kept.take_button.click()
    assert (later.fields["scale"].value, shell_of(later)) == ("HO", "9 1/2")


EDIT_AND_DIE = """
import os, signal
from modelmath.widgets import EnclosurePanel
panel = EnclosurePanel()
panel.chooser.value = "hood"
panel.fields["shell"].value = "9 3/4"
panel.fields["chassis"].value = "5 1/4"
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_what_was_entered_before_the_kernel_was_killed_is_taken_up(workbook):
    died = subprocess.run([sys.executable, "-c", EDIT_AND_DIE], check=False)
    assert died.returncode == -signal.SIGKILL
    panel = opened()
    assert shell_of(panel) == "9 1/4"
    assert re.fullmatch(
        r"Unsaved changes of hood \(\d{4}-\d\d-\d\d \d\d:\d\d\) are here: take them up, or drop them\.",
        plain(panel.kept.offer.value),
    )
    panel.kept.take_button.click()
    assert (shell_of(panel), panel.fields["chassis"].value) == ("9 3/4", "5 1/4")
    assert len(drafts(workbook)) == 1  # its own now
    assert panel.kept.view.children == (panel.kept.news,)
    assert panel.chooser.value == "hood"
    panel.save()
    assert load_job(workbook / "jobs" / "hood.toml").readings[0].mark == "9 3/4"
    assert drafts(workbook) == []


def test_what_is_dropped_is_gone_and_the_next_is_offered(workbook):
    for mark in ("9 1/2", "9 3/4"):
        opened().fields["shell"].value = mark
    panel = opened()
    assert len(drafts(workbook)) == 2
    assert plain(panel.kept.offer.value).endswith("or drop them. 1 more after this one.")
    panel.kept.drop_button.click()
    assert len(drafts(workbook)) == 1
    panel.kept.drop_button.click()
    assert drafts(workbook) == []
    assert panel.kept.view.children == (panel.kept.news,)
    assert shell_of(panel) == "9 1/4"


def test_a_draft_nobody_has_decided_on_outlives_further_edits(workbook):
    opened().fields["shell"].value = "9 1/2"
    panel = opened()
    panel.fields["shell"].value = "9 3/4"
    assert sorted(each.job.readings[0].mark for each in drafts(workbook)) == ["9 1/2", "9 3/4"]


def test_a_new_model_has_a_draft_too(workbook):
    panel = EnclosurePanel()
    for name, text in SIX.items():
        panel.fields[name].value = text
    (draft,) = drafts(workbook)
    assert (draft.chosen, draft.since, draft.job) == ("", "", panel.plan.job)
    again = EnclosurePanel()
    assert plain(again.kept.offer.value).endswith("They have no job file yet.")
    again.kept.take_button.click()
    typed = {name: again.fields[name].value for name in SIX}
    assert typed == SIX | {"keep": "1/4 scale ft"}  # a length names its unit once it is in the document
    assert again.chooser.value == "(new model)"
    again.name.value = "My first hood"
    assert again.save() == workbook / "jobs" / "my-first-hood.toml"
    assert drafts(workbook) == []


def test_changes_left_by_choosing_another_job_are_offered(workbook):
    panel = opened()
    panel.fields["shell"].value = "9 3/4"
    panel.chooser.value = "railcar-n"
    assert "Unsaved changes of hood" in panel.kept.offer.value
    panel.kept.take_button.click()
    assert (panel.chooser.value, shell_of(panel)) == ("hood", "9 3/4")


def test_of_two_jobs_the_one_that_is_open_comes_first(workbook):
    opened().fields["shell"].value = "9 3/4"
    opened("railcar-n").fields["keep"].value = "0.9 mm"
    assert "Unsaved changes of hood" in opened("hood").kept.offer.value
    assert "Unsaved changes of Tarn Valley railcar" in opened("railcar-n").kept.offer.value


def test_a_draft_that_was_saved_after_all_is_not_offered(workbook):
    panel = opened()
    panel.fields["shell"].value = "9 3/4"
    save_job(panel.plan.job, workbook / "jobs" / "hood.toml")
    again = opened()
    assert again.kept.view.children == (again.kept.news,)
    assert drafts(workbook) == []


def test_a_model_in_another_scale_is_kept_at_once(workbook):
    panel = opened("railcar-n")
    panel._take_over(to_scale(panel.plan.job, "HO"))
    (draft,) = drafts(workbook)
    assert (draft.chosen, draft.job.scale) == ("", "HO")


# Two pages on one job.


def test_of_two_pages_the_later_keeps_its_own_beside_and_goes_on_with_it(workbook):
    first, second = opened(), opened()
    first.fields["shell"].value = "9 1/2"
    second.fields["shell"].value = "9 3/4"
    file, beside = workbook / "jobs" / "hood.toml", workbook / "jobs" / "hood-changed-here.toml"
    assert first.save() == file
    assert second.save() is None
    assert plain(second.printing.said.value) == (
        f"{file}: it was changed elsewhere since it was read, and is left as it is; yours is kept beside it as "
        "hood-changed-here.toml: compare the two, and give one another name."
    )
    assert [load_job(each).readings[0].mark for each in (file, beside)] == ["9 1/2", "9 3/4"]
    assert second.chooser.value == "hood-changed-here"
    assert drafts(workbook) == []
    second.fields["shell"].value = "9 7/8"
    assert second.save() == beside
    second.name.value = "Second hood"
    assert second.save() == workbook / "jobs" / "second-hood.toml"
    assert load_job(file).readings[0].mark == "9 1/2"


def test_a_draft_of_a_file_that_was_changed_since_says_so_and_saving_keeps_both(workbook):
    opened().fields["shell"].value = "9 3/4"
    file = workbook / "jobs" / "hood.toml"
    save_job(load_job(file).model_copy(update={"notes": "theirs"}), file)
    panel = opened()
    assert plain(panel.kept.offer.value).endswith("hood.toml was changed since: saving keeps both.")
    panel.kept.take_button.click()
    assert panel.save() is None
    assert load_job(file).notes == "theirs"
    assert load_job(workbook / "jobs" / "hood-changed-here.toml").readings[0].mark == "9 3/4"


def test_a_page_that_saves_twice_is_in_no_conflict_with_itself(workbook):
    panel = opened()
    for mark in ("9 1/2", "9 3/4"):
        panel.fields["shell"].value = mark
        assert panel.save() == workbook / "jobs" / "hood.toml"


# What can go wrong.


def test_a_draft_that_can_t_be_written_is_said_and_the_plan_stands(workbook, monkeypatch):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    panel = opened()
    monkeypatch.setattr("modelmath.job.storage.drafts.write_whole", full)
    panel.fields["shell"].value = "9 3/4"
    assert plain(panel.kept.status.value) == (
        "Not saved yet, and no draft can be kept: no space left on device. Save the job."
    )
    assert panel.plan.job.readings[0].mark == "9 3/4"


def test_a_damaged_draft_is_said_and_can_be_dropped_not_taken_up(workbook):
    folder = workbook / ".modelmath" / "drafts"
    folder.mkdir(parents=True)
    (folder / "hood.json").write_text("{", "utf-8")
    panel = opened()
    assert plain(panel.kept.offer.value) == "hood.json: the draft is damaged; drop it, or mend it: it is JSON."
    assert panel.kept.take_button.disabled
    panel.kept.take_button.click()
    panel.kept.drop_button.click()
    assert list(folder.iterdir()) == []


def test_a_damaged_job_says_where_its_earlier_copy_lies(workbook):
    file = workbook / "jobs" / "hood.toml"
    save_job(load_job(file).model_copy(update={"notes": "new"}), file)
    file.write_text('name = "cut o', "utf-8")
    panel = opened()
    said = plain(panel.printing.said.value)
    assert said.startswith("hood can't be opened: hood.toml, end of document: a quote is not closed")
    assert said.endswith(f"As it was before its last save, it is kept as {previous_copy(file)}.")
    assert panel.save() is None


def test_what_was_brought_up_to_date_is_said(workbook):
    file = workbook / "jobs" / "hood.toml"
    old = "a and b in series, that pair in parallel with c"
    also = [{"name": name, "impedance": ohm} for name, ohm in (("b", "8 ohm"), ("c", "4 ohm"))]
    sound = {"driver": {"impedance": "8 ohm"}, "also": also, "wiring": old}
    made = with_chamber(name="hood", sound=sound)
    save_job(made.model_copy(update={"speaker": made.speaker.model_copy(update={"name": "a"})}), file)
    panel = opened()
    assert plain(panel.kept.news.value) == (
        "This job was written by an earlier release. "
        f"The wiring was written '{old}' by an earlier release; it is '(a + b in series) + c, in parallel' now. "
        "Saving the job writes it as it is now."
    )
    assert drafts(workbook) == []
    panel.chooser.value = "railcar-n"
    assert panel.kept.news.value == ""
