"""The record of the jobs opened last, and what a job file says at a glance."""

from __future__ import annotations

import json
import threading
import tomllib
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.tables import data_folder
from modelmath.workbook.folder import HIDDEN
from modelmath.workbook.glance import Glance, glance
from modelmath.workbook.recent import FILE, MOST, Recent, note_job, recent_jobs, when_in_words

NOON = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)
DEMOS = sorted((Path(str(data_folder())) / "jobs").glob("*.toml"))


def written(folder, text):
    file = folder / HIDDEN / FILE
    file.parent.mkdir(exist_ok=True)
    file.write_text(text)
    return file


def test_the_job_noted_last_stands_first_and_each_once(tmp_path):
    for hours, name in enumerate(("hood", "boxcab", "hood", "railcar")):
        note_job(tmp_path, name, NOON + timedelta(hours=hours))
    assert [job.name for job in recent_jobs(tmp_path)] == ["railcar", "hood", "boxcab"]
    assert recent_jobs(tmp_path)[1] == Recent("hood", NOON + timedelta(hours=2))


def test_times_of_two_zones_are_told_apart(tmp_path):
    east = timezone(timedelta(hours=5))
    note_job(tmp_path, "later", NOON)
    note_job(tmp_path, "earlier", datetime(2026, 11, 26, 16, 0, tzinfo=east))  # 11:00 where the other was noon
    assert [job.name for job in recent_jobs(tmp_path)] == ["later", "earlier"]


@settings(max_examples=25)
@given(st.lists(st.text(min_size=1, max_size=20), max_size=5))
def test_any_name_is_read_as_it_was_noted(tmp_path_factory, names):
    folder = tmp_path_factory.mktemp("workbook")
    for number, name in enumerate(names):
        note_job(folder, name, NOON + timedelta(seconds=number))
    assert [job.name for job in recent_jobs(folder)] == list(dict.fromkeys(reversed(names)))


def test_the_record_does_not_grow_for_ever(tmp_path):
    for number in range(MOST + 3):
        note_job(tmp_path, f"job-{number}", NOON + timedelta(seconds=number))
    assert len(recent_jobs(tmp_path)) == MOST
    assert recent_jobs(tmp_path)[-1].name == "job-3"


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", '{"jobs": 3}', '{"jobs": {"name": "x"}}', "[" * 100_000, '{"jobs": []}' + " " * 200_000],
)
def test_a_damaged_record_costs_the_list_and_nothing_else(tmp_path, text):
    written(tmp_path, text)
    assert recent_jobs(tmp_path) == ()
    note_job(tmp_path, "hood", NOON)
    assert [job.name for job in recent_jobs(tmp_path)] == ["hood"]


def test_of_a_record_damaged_in_part_the_rest_is_kept(tmp_path):
    good = {"name": "hood", "when": NOON.isoformat(), "of a later release": [1]}
    bad = [
        3, None, "hood", [], {}, {"name": "x"}, {"name": 3, "when": NOON.isoformat()}, {"name": "x", "when": "soon"},
        {"name": "", "when": NOON.isoformat()}, {"name": "x", "when": "2026-11-26T12:00:00"}, {"name": "x", "when": 5},
    ]  # fmt: skip
    written(tmp_path, json.dumps({"jobs": [*bad[:5], good, *bad[5:]]}))
    assert recent_jobs(tmp_path) == (Recent("hood", NOON),)


def test_bytes_that_are_no_text_cost_the_list(tmp_path):
    written(tmp_path, "").write_bytes(b"\xff\xfe\x00")
    assert recent_jobs(tmp_path) == ()


def test_pages_that_note_at_once_lose_none(tmp_path):
    threads = [
        threading.Thread(target=note_job, args=(tmp_path, f"job-{number}", NOON + timedelta(seconds=number)))
        for number in range(8)
    ]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert [job.name for job in recent_jobs(tmp_path)] == [f"job-{number}" for number in reversed(range(8))]


def test_a_folder_that_can_not_be_written_is_said(tmp_path):
    (tmp_path / HIDDEN).write_text("a file")
    with pytest.raises(OSError, match=HIDDEN):
        note_job(tmp_path, "hood", NOON)
    assert recent_jobs(tmp_path) == ()


@pytest.mark.parametrize(
    ("before", "said"),
    [
        (timedelta(minutes=1), "today, 11:59"),
        (timedelta(hours=13), "yesterday, 23:00"),
        (timedelta(hours=37), "24 November 2026"),
        (timedelta(days=400), "22 October 2025"),  # 400 days before 26 November 2026, by the calendar
        (timedelta(hours=-13), "27 November 2026"),  # a clock that was set back
    ],
)
def test_when_is_said_as_one_says_it(before, said):
    assert when_in_words(NOON - before, NOON) == said


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_a_glance_says_what_the_file_says(file):
    held = tomllib.loads(file.read_text("utf-8"))
    seen = glance(file)
    assert (seen.title, seen.scale, seen.demo, seen.notes) == (
        held["name"], held["scale"], held["demo"][:200], held["notes"][:200],
    )  # fmt: skip
    assert (seen.unread, seen.done, seen.progress) == (0, 0, "measured, nothing built yet")


@pytest.mark.parametrize(
    ("text", "seen", "progress"),
    [
        ('name = "Hood"\nscale = "N"\n[[readings]]\nmark = "not measured"\n[[readings]]\nmark = "6"\n',
         Glance("Hood", "N", unread=1), "1 reading still to take"),
        ('name = "Hood"\n[progress]\ndone = ["dry fit"]\n', Glance("Hood", done=1), "1 step of the build done"),
        ('name = "Hood"\n[progress]\ndone = ["a", "b"]\n', Glance("Hood", done=2), "2 steps of the build done"),
        ("name = 3\nscale = []\nreadings = 5\nprogress = 1\n", Glance("it"), "measured, nothing built yet"),
        ("name = ", Glance("it", readable=False), "its file can't be read"),
        ("x = " + "[" * 5000, Glance("it", readable=False), "its file can't be read"),
    ],
)  # fmt: skip
def test_a_glance_takes_any_file(tmp_path, text, seen, progress):
    file = tmp_path / "it.toml"
    file.write_text(text)
    assert glance(file) == seen
    assert glance(file).progress == progress


def test_a_glance_at_what_is_no_file(tmp_path):
    assert not glance(tmp_path).readable
    assert not glance(tmp_path / "gone.toml").readable
    (tmp_path / "bytes.toml").write_bytes(b"\xff\x00")
    assert not glance(tmp_path / "bytes.toml").readable
