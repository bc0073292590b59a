"""A clock that jumps by years, or two times that are equal, cost nothing that was kept."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta, timezone

import pytest
from killing import numbered
from sample_jobs import job

from modelmath.job import load_job, save_job
from modelmath.job.storage.copies import locked
from modelmath.job.storage.drafts import Draft, drafts_in, read_draft, write_draft
from modelmath.workbook.recent import MOST, Recent, note_job, recent_jobs, when_in_words

NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)


def names(folder) -> list[str]:
    return [each.name for each in recent_jobs(folder)]


def test_a_job_opened_after_the_clock_was_set_back_stands_first_and_none_is_lost(tmp_path):
    for number in range(MOST):
        note_job(tmp_path, f"job-{number}", NOON + timedelta(days=4000, seconds=number))
    note_job(tmp_path, "now", NOON)
    assert names(tmp_path) == ["now", *(f"job-{number}" for number in range(MOST - 1, 0, -1))]
    note_job(tmp_path, "next", NOON + timedelta(minutes=1))
    assert names(tmp_path)[:3] == ["next", "now", f"job-{MOST - 1}"]


@pytest.mark.parametrize("back", [timedelta(minutes=5), timedelta(hours=12), timedelta(days=1)])
def test_a_clock_set_back_a_little_loses_no_job_either(back, tmp_path):
    for number in range(MOST):
        note_job(tmp_path, f"job-{number}", NOON + timedelta(seconds=number))
    note_job(tmp_path, "now", NOON - back)
    assert "now" in names(tmp_path)
    assert len(names(tmp_path)) == MOST


def test_a_clock_that_jumps_forth_and_back_keeps_each_job(tmp_path):
    for number, years in enumerate((0, 50, -40, 7000, 3, -56, 0)):
        note_job(tmp_path, f"job-{number}", NOON.replace(year=NOON.year + years))
        assert set(names(tmp_path)) == {f"job-{each}" for each in range(number + 1)}


@pytest.mark.parametrize("when", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00", "0001-01-01T00:00:00Z"])
def test_a_time_that_no_time_zone_can_tell_is_said_all_the_same(when, tmp_path):
    (tmp_path / ".modelmath").mkdir()
    (tmp_path / ".modelmath" / "recent.json").write_text(f'{{"jobs": [{{"name": "hood", "when": "{when}"}}]}}')
    found = recent_jobs(tmp_path)
    assert found == (Recent("hood", datetime(1970, 1, 2, tzinfo=UTC)),)
    for hours in (-12, 14):
        assert when_in_words(found[0].when, NOON.astimezone(timezone(timedelta(hours=hours))))


@pytest.mark.parametrize("seconds", [0, -(2**31), 2**31, 4_000_000_000, 2**33])
def test_drafts_of_any_time_are_offered(seconds, tmp_path):
    write_draft(Draft(tmp_path / "old.json", numbered(1)))
    os.utime(tmp_path / "old.json", (seconds, seconds))
    write_draft(Draft(tmp_path / "new.json", numbered(2)))
    found, faults = drafts_in(tmp_path)
    assert faults == []
    assert sorted(each.job.notes for each in found) == sorted((numbered(1).notes, numbered(2).notes))


@pytest.mark.parametrize("seconds", [1e15, -1e15, 1e300, float("nan")])
def test_a_draft_whose_time_no_calendar_has_is_read(seconds, tmp_path, monkeypatch):
    write_draft(Draft(tmp_path / "hood.json", numbered(1)))
    found = os.stat(tmp_path / "hood.json")

    class Strange:
        st_size, st_mtime = found.st_size, seconds

    monkeypatch.setattr(type(tmp_path), "stat", lambda *_given, **_named: Strange)
    assert read_draft(tmp_path / "hood.json").when == "at a time that can't be told"


def test_drafts_of_one_and_the_same_time_are_all_offered_in_one_order(tmp_path):
    for number in range(5):
        write_draft(Draft(tmp_path / f"{number}.json", numbered(number)))
        os.utime(tmp_path / f"{number}.json", (0, 0))
    orders = [[each.file.name for each in drafts_in(tmp_path)[0]] for _ in "abc"]
    assert orders[0] == orders[1] == orders[2] == [f"{number}.json" for number in reversed(range(5))]


@pytest.mark.parametrize("seconds", [0, 2**33])
def test_a_lock_of_another_time_is_no_hindrance(seconds, tmp_path):
    file = save_job(job(), tmp_path / "hood.toml")
    lock = tmp_path / ".modelmath" / "hood.toml.lock"
    lock.touch()
    os.utime(lock, (seconds, seconds))
    save_job(job(name="mine"), file)
    with locked(file):
        os.utime(lock, (seconds, seconds))
    assert load_job(file).name == "mine"


def test_a_drawer_of_the_same_time_size_and_place_is_still_read_anew(tmp_path):
    from modelmath.materials.drawer.drawer import Drawer
    from modelmath.materials.drawer.items import Item
    from modelmath.materials.drawer.store import save_drawer
    from modelmath.widgets.picking.source import Source

    file = tmp_path / "drawer.json"
    shown = Source(file)
    now = save_drawer(file, Drawer((Item("drill", "#67", count=3),)), "", "put in")
    then = file.stat()
    assert shown.drawer.items[0].count == 3
    save_drawer(tmp_path / "other.json", Drawer((Item("drill", "#67", count=4),)), "", "put in")
    file.write_bytes((tmp_path / "other.json").read_bytes())
    os.utime(file, ns=(then.st_mtime_ns, then.st_mtime_ns))
    found = file.stat()
    assert (found.st_mtime_ns, found.st_size, found.st_ino) == (then.st_mtime_ns, then.st_size, then.st_ino)
    assert now.drawer.items[0].count == 3
    assert shown.drawer.items[0].count == 4


def test_a_job_of_the_same_time_and_size_is_still_seen_to_be_another(tmp_path):
    from modelmath.job.storage.copies import Conflict
    from modelmath.job.storage.files import open_job

    file = save_job(job(name="ours"), tmp_path / "hood.toml")
    mark, then = open_job(file).mark, file.stat().st_mtime_ns
    save_job(job(name="hers"), file)
    os.utime(file, ns=(then, then))
    with pytest.raises(Conflict):
        save_job(job(name="mine"), file, mark)
