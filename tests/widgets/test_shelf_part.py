"""The shelf inside the walkthrough."""

from pathlib import Path

import pytest
from sample_jobs import SMALLEST, changed, job, with_chamber

from modelmath import plan
from modelmath.job.document import RuleEntry
from modelmath.job.shelf import SHELF, Shelf, load_shelf, save_shelf
from modelmath.job.storage.files import load_job, save_job
from modelmath.widgets.shelf import ALIKE, NOTHING, ShelfPart

STEEL = {"name": "steel 6 in", "unit": "mm", "zero_offset": "0.5"}
THERE = Shelf(rules=[RuleEntry(name="steel 6 in", unit="mm", zero_offset="0.4")])
DIFFERS = "is not as on the shelf: zero stands in 0.5 mm here, 0.4 mm there"


@pytest.fixture(autouse=True)
def folder(monkeypatch):
    monkeypatch.setattr("modelmath.widgets.common.places.workbook_folder", Path.cwd)


def with_steel(name="test hood"):
    return job(changed(name=name, rules=[*SMALLEST["rules"], STEEL]))


def part_of(found, file=None):
    edited = []

    def take(new):
        edited.append(new)
        part.fold.show(plan(new))

    part = ShelfPart(take, lambda: file)
    part.fold.head.value = True
    part.fold.show(plan(found))
    return part, edited


def test_an_empty_shelf_offers_nothing_to_take():
    part, _ = part_of(with_steel())
    assert part.there.value == NOTHING
    assert part.take_button.disabled
    assert ALIKE in part.differs.value
    assert list(part.own.control.options) == ["rule: scale rule", "rule: steel 6 in"]
    part.take()
    assert not Path(SHELF).exists()


def test_a_thing_of_the_job_is_put_on_the_shelf():
    part, _ = part_of(with_chamber())
    part.own.value = "speaker"
    part.put()
    assert load_shelf(SHELF).speakers[0].length == "22 mm"
    assert "The speaker is on the shelf." in part.done.value
    assert "It lies there as it is here." in part.replaces.value


def test_what_would_be_replaced_on_the_shelf_is_said_before():
    save_shelf(THERE, SHELF)
    part, _ = part_of(with_steel())
    assert DIFFERS in part.differs.value
    part.own.value = "rule: steel 6 in"
    assert "Putting it there replaces the one on the shelf:" in part.replaces.value
    assert DIFFERS in part.replaces.value
    part.own.value = "rule: scale rule"
    assert part.replaces.value == ""


def test_a_thing_is_taken_from_the_shelf_into_the_job():
    save_shelf(THERE, SHELF)
    part, edited = part_of(with_steel())
    part.there.value = "rule: steel 6 in"
    part.take()
    assert edited[0].rules[1].zero_offset == "0.4"
    assert ALIKE in part.differs.value
    assert "Save the job to keep it." in part.done.value


def test_a_shelf_changed_by_another_page_is_left_and_read_again():
    part, _ = part_of(with_steel())
    save_shelf(THERE, SHELF)
    part.own.value = "rule: scale rule"
    part.put()
    assert load_shelf(SHELF) == THERE
    assert "it was changed elsewhere since it was read" in part.done.value
    part.put()
    assert [each.name for each in load_shelf(SHELF).rules] == ["steel 6 in", "scale rule"]


def test_a_damaged_shelf_is_said_with_its_place_and_left():
    Path(SHELF).write_text("[rules]")
    part, edited = part_of(with_steel())
    assert "shelf.toml, line 1, rules: it stands in one bracket" in part.differs.value
    assert part.put_button.disabled
    assert part.look_button.disabled
    part.put()
    part.take()
    part.look_through()
    assert (edited, Path(SHELF).read_text()) == ([], "[rules]")


def test_all_jobs_are_brought_up_only_after_it_was_shown_which_would_change():
    save_shelf(THERE, SHELF)
    Path("jobs").mkdir()
    for name in ("first", "second"):
        save_job(with_steel(name), f"jobs/{name}.toml")
    save_job(job(), "jobs/other.toml")
    Path("jobs/broken.toml").write_text("x")
    part, _ = part_of(with_steel("second"), Path("jobs/second.toml"))
    assert part.all_button.disabled
    part.bring_up()  # nothing was shown yet
    assert load_job("jobs/first.toml").rules[1].zero_offset == "0.5"
    part.look_through()
    assert "first.toml: the rule" in part.others.value
    assert "second.toml" not in part.others.value
    assert "The job that is open here is left out" in part.others.value
    assert "Left alone: broken.toml" in part.others.value
    assert load_job("jobs/first.toml").rules[1].zero_offset == "0.5"
    part.bring_up()
    assert load_job("jobs/first.toml").rules[1].zero_offset == "0.4"
    assert load_job("jobs/second.toml").rules[1].zero_offset == "0.5"
    assert "first.toml is now as the shelf has it" in part.others.value
    assert part.all_button.disabled


def test_what_was_shown_is_forgotten_once_the_shelf_changes():
    save_shelf(THERE, SHELF)
    Path("jobs").mkdir()
    save_job(with_steel("first"), "jobs/first.toml")
    part, _ = part_of(with_steel())
    part.look_through()
    assert not part.all_button.disabled
    part.own.value = "rule: steel 6 in"
    part.put()
    assert part.all_button.disabled
    part.look_through()
    assert "No other job would change." in part.others.value
