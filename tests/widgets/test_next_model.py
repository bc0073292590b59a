"""The fold that copies a job to the next model."""

from html import unescape
from pathlib import Path

import pytest
from sample_jobs import DEMOS, with_chamber

from modelmath import plan
from modelmath.job.next_model import copied, copied_readings
from modelmath.job.storage.files import load_job, save_job
from modelmath.widgets.enclosure import EnclosurePanel
from modelmath.widgets.plan.next_model import EMPTY, GUESS, NONE_LEFT, NextModel

FILE = Path("jobs/next-hood.toml")


@pytest.fixture(autouse=True)
def folder(monkeypatch):
    monkeypatch.setattr("modelmath.widgets.common.places.workbook_folder", Path.cwd)


def fold_of(job):
    opened, edited = [], []
    fold = NextModel(opened.append, edited.append)
    fold.fold.head.value = True
    fold.fold.show(plan(job))
    return fold, opened, edited


def test_what_carries_over_and_what_to_measure_again_is_shown_before_it_is_saved():
    fold, _, _ = fold_of(DEMOS["switcher-ho"])
    assert fold.save_button.disabled
    fold.name.value = "Next hood"
    assert not fold.save_button.disabled
    assert "rules: 'scale rule', 'steel rule'" in unescape(fold.said.value)
    assert "strands and their lenses" in fold.said.value
    assert "(left out)" in fold.said.value
    assert not FILE.exists()


@pytest.mark.parametrize(("how", "keep"), [(GUESS, True), (EMPTY, False)])
def test_the_copy_is_saved_as_a_new_job_and_opened(how, keep):
    job = with_chamber()
    fold, opened, _ = fold_of(job)
    fold.name.value, fold.readings.value = "Next hood", how
    fold.save()
    assert load_job(FILE) == copied(job, "Next hood", keep_readings=keep).job
    assert opened == ["next-hood"]
    assert "Saved as" in fold.done.value


def test_a_file_that_is_there_is_never_written_over():
    FILE.parent.mkdir()
    save_job(with_chamber(), FILE)
    before = FILE.read_bytes()
    fold, opened, _ = fold_of(DEMOS["railcar-n"])
    fold.name.value = "Next hood"
    fold.save()
    assert FILE.read_bytes() == before
    assert opened == []
    assert "next-hood.toml is there already: give the next model another name." in fold.done.value


def test_a_demo_is_not_hidden_by_a_copy_of_its_name():
    fold, opened, _ = fold_of(with_chamber())
    fold.name.value = "railcar N"
    fold.save()
    assert opened == []
    assert "railcar-n.toml is there already" in fold.done.value


def test_another_scale_is_taken_along():
    fold, _, _ = fold_of(with_chamber())
    fold.name.value, fold.scale.value = "Next hood", "O"
    fold.save()
    assert load_job(FILE).scale == "O"


def test_the_same_name_gets_a_message_beside_its_field():
    fold, _, _ = fold_of(with_chamber())
    fold.name.value = "test hood"
    assert "Give it a name of its own." in fold.name.message
    assert fold.save_button.disabled
    fold.save()
    assert not FILE.exists()


def test_a_reading_that_is_the_same_here_loses_its_mark():
    job = copied(with_chamber(), "Next hood", keep_readings=True).job
    fold, _, edited = fold_of(job)
    assert list(fold.which.control.options) == ["roof", "motor top", "width", "length"]
    fold.which.value = "width"
    fold.confirm()
    assert [each.name for each in copied_readings(edited[0])] == ["roof", "motor top", "length"]


def test_a_job_of_its_own_readings_has_nothing_to_confirm():
    fold, _, edited = fold_of(with_chamber())
    assert NONE_LEFT in fold.still.value
    fold.confirm()
    assert edited == []


def test_nothing_is_offered_while_there_is_no_plan():
    fold, opened, _ = fold_of(with_chamber())
    fold.name.value = "Next hood"
    fold.fold.clear()
    assert fold.save_button.disabled
    fold.save()
    assert opened == []


# In the walkthrough.


def test_typing_a_copied_reading_in_the_walkthrough_clears_its_mark():
    panel = EnclosurePanel(copied(with_chamber(), "Next hood", keep_readings=True).job)
    assert "Copied from test hood, not measured" in panel.answer.value
    panel.fields["shell"].value = "9 1/2"
    assert [each.name for each in copied_readings(panel.plan.job)] == ["motor top", "width", "length"]
    panel.fields["chassis"].value = "5 3/4"
    panel.fields["width"].value = "20 mm"
    panel.fields["inside_length"].value = "70 mm"
    assert "Copied from" not in panel.answer.value


def test_an_empty_copy_asks_for_its_readings_in_the_walkthrough():
    panel = EnclosurePanel(copied(with_chamber(), "Next hood").job)
    assert panel.plan is None
    for name, text in (("shell", "9 1/4"), ("chassis", "5 1/2"), ("width", "20 mm"), ("inside_length", "70 mm")):
        assert panel.fields[name].value == ""  # it stands empty, and is asked for
        panel.fields[name].value = text
    assert panel.plan is not None
    assert copied_readings(panel.plan.job) == ()
