"""Readings that a job has by name and that are still to be taken: what waits for them, and how they are read."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, job

from modelmath import plan
from modelmath.errors import JobError, UnknownChoice
from modelmath.job.begin import Answers, Stretch, begin
from modelmath.job.entries.screen import blank_job, entries_of, read_entries
from modelmath.job.entries.typed import BARE
from modelmath.job.entries.unread import empty, take, unread
from modelmath.job.next_model import NOT_MEASURED, copied
from modelmath.workbook.glance import UNREAD

NAMES = sorted(DEMOS)


def test_a_new_model_has_no_zeros_to_plan_from():
    with pytest.raises(JobError) as fault:
        _ = plan(blank_job()).gap
    assert str(fault.value).startswith("the job, rule 1 ('rule'), zero_offset: 'not measured':")


def test_nothing_typed_yet_leaves_a_new_model_as_it_is():
    outcome = read_entries(entries_of(blank_job()), blank_job())
    assert outcome.waiting == ("zero_offset", "chassis", "shell", "keep")
    assert outcome.unread == ()
    assert outcome.so_far == blank_job()


def test_what_is_typed_so_far_is_kept_and_what_is_emptied_is_not():
    typed = {**entries_of(blank_job()), "chassis": "3 1/4", "keep": "1/4", "zero_offset": "1"}
    so_far = read_entries(typed, blank_job()).so_far
    assert [each.mark for each in so_far.readings] == [NOT_MEASURED, "3 1/4"]
    assert entries_of(so_far) == {**entries_of(blank_job()), **typed, "keep": "1/4 scale ft"}
    emptied = read_entries({**entries_of(so_far), "chassis": "", "keep": "", "zero_offset": ""}, so_far).so_far
    assert emptied == blank_job()


def test_a_wrong_entry_keeps_the_job_as_it_was():
    outcome = read_entries({**entries_of(blank_job()), "chassis": "3 1//4"}, blank_job())
    assert (outcome.job, outcome.so_far) == (None, None)
    assert outcome.waiting == ("zero_offset", "shell", "keep")


@pytest.mark.parametrize("name", NAMES)
def test_an_emptied_copy_waits_for_every_reading_and_loses_none(name):
    new = copied(DEMOS[name], "next").job
    for zone, entry in enumerate(new.zones):
        outcome = read_entries(entries_of(new, zone), new, zone)
        shown = {entry.chassis_top, entry.underside} if {"chassis", "shell"} <= set(outcome.waiting) else set()
        assert {*outcome.unread, *shown} - {None} == {each.name for each in new.readings}
        assert outcome.messages == {}
        assert outcome.so_far == new


@pytest.mark.parametrize("name", NAMES)
def test_readings_taken_one_by_one_give_the_plan_they_gave(name):
    before = DEMOS[name]
    new = copied(before, "next").job
    marks = {each.name: "; ".join((each.mark, *each.again)) for each in before.readings}
    for each in unread(new):
        taken = take(new, each.name, marks[each.name])
        assert taken.message == ""
        assert " mm" in taken.echo
        new = taken.job
    assert [(each.name, each.mark, each.again) for each in new.readings] == [
        (each.name, each.mark, each.again) for each in before.readings
    ]
    assert plan(new).chamber_height_mm == plan(before).chamber_height_mm


def test_a_length_typed_over_several_stretches_asks_where_they_end():
    new = begin(Answers("Hood unit", zero="1", stretches=(Stretch("cab"), Stretch("motor"), Stretch("hood")))).job
    for each in unread(new):
        new = take(new, each.name, "10" if each.of == "shell" else "6").job
    assert read_entries(entries_of(new), new).job == new
    outcome = read_entries({**entries_of(new), "inside_length": "86 mm"}, new)
    assert (outcome.job, outcome.unread) == (None, ("end of cab", "end of motor"))
    found = outcome.so_far
    assert [(each.of, each.half, each.unit) for each in unread(found)] == [("length", "shell", "mm")] * 2
    for name, mark in (("end of cab", "30"), ("end of motor", "60")):
        found = take(found, name, mark).job
    outcome = read_entries(entries_of(found), found)
    assert (outcome.job, outcome.unread) == (found, ())
    # Emptied again before an end is typed, nothing of it is left.
    assert read_entries(entries_of(new), new).job == new


def test_what_a_reading_is_of_is_said():
    found = {each.name: (each.of, each.unit) for each in unread(copied(DEMOS["switcher-ho"], "next").job)}
    assert found["hood roof"] == ("shell", "scale foot")
    assert found["top of the gear tower"] == ("chassis", "scale foot")
    assert found["hood inside, width"] == ("size", "mm")
    assert found["screw, in the hood"] == ("length", "mm")


def test_a_height_is_echoed_with_the_zero_of_its_rule():
    new = copied(job(), "next").job
    # 6 scale ft of 3.5 mm are 21 mm; the sample's rule has its zero 1 scale ft in.
    assert take(new, "roof", "6; 6").echo == (
        "24.50 mm above the seat, the mean of 2 readings: 21.00 mm and 3.50 mm for the rule's zero"
    )


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        (" ", "Write the reading as it stands on the rule."),
        ("6 ft", "'6 ft': that may be a real or a scale unit; write 6 scale ft, 6 real ft, or a bare number."),
        ("6 1//4", f"'6 1//4': it has two fraction strokes; write {BARE}."),
    ],
)
def test_what_is_wrong_with_a_reading_is_said_whole(typed, message):
    found = take(blank_job(), "roof", typed)
    assert found.job is None
    assert found.message == message


def test_a_reading_that_the_job_lacks_is_refused():
    with pytest.raises(UnknownChoice, match=r"^the reading is 'floor'; write one of roof, chassis top\.(.*)$"):
        take(blank_job(), "floor", "6")


@given(st.text(max_size=30))
def test_any_text_is_read_or_said_to_be_wrong(text):
    found = take(blank_job(), "roof", text)
    assert (found.job is None) == bool(found.message)
    if found.job is not None:
        assert not empty(found.job.readings[0].mark)


def test_the_word_for_a_reading_still_to_take_is_one():
    assert UNREAD == NOT_MEASURED


@pytest.mark.parametrize("name", NAMES)
def test_no_field_of_the_first_screen_shows_it(name):
    assert NOT_MEASURED not in entries_of(copied(DEMOS[name], "next").job).values()


def test_the_message_names_no_text_of_the_program():
    assert not re.search(r"[A-Za-z]+Error", take(blank_job(), "roof", "x" * 5000).message)
