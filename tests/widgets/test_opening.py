"""Which job the walkthrough opens: only a job that is there, whatever the address says."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

import modelmath
from modelmath.job import load_job, save_job
from modelmath.widgets.common import places
from modelmath.widgets.plan.opening import (
    DEMO,
    PAGE,
    Opening,
    asked_for,
    in_app_view,
    link_to,
    note_opened,
    what_to_open,
)
from modelmath.workbook.recent import note_job, recent_jobs

NAMES = ("hood-unit", "new", "höhe & tiefe", "a+b=c%41", "switcher-ho")
NOON = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)


def own_job(name, text=None):
    file = Path.cwd() / "jobs" / f"{name}.toml"
    file.parent.mkdir(exist_ok=True)
    if text is not None:
        file.write_text(text)
    else:
        save_job(load_job(places.job_files()[DEMO]).model_copy(update={"name": name, "demo": ""}), file)
    return file


@pytest.mark.parametrize("name", NAMES)
def test_a_link_leads_to_its_job(name):
    parts = urlsplit(link_to(name))
    assert (parts.scheme, parts.netloc, parts.path) == ("", "", PAGE)
    assert asked_for(parts.query, NAMES) == Opening(name, asked=True)
    assert asked_for(f"token=secret&{parts.query}", NAMES).job == name


@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1))
def test_any_name_survives_its_link(name):
    assert asked_for(urlsplit(link_to(name)).query, [name]).job == name


@given(st.text() | st.text("job=new&%;+./\\ 0aA"))
def test_whatever_is_asked_for_only_a_job_that_is_there_is_opened(query):
    found = asked_for(query, NAMES)
    assert found.job in (*NAMES, None)
    assert found.asked or found.job == DEMO
    assert not (found.asked and found.problem)


@pytest.mark.parametrize(
    ("query", "opening"),
    [
        ("", Opening(DEMO)),
        ("token=abc", Opening(DEMO)),
        ("JOB=hood-unit", Opening(DEMO)),
        ("new=1", Opening(None, asked=True)),
        ("new", Opening(None, asked=True)),
        ("job=new", Opening("new", asked=True)),
        ("job=gone&job=hood-unit", Opening("hood-unit", asked=True)),
        ("job=", Opening(DEMO, problem="There is no job called '' in this workbook; the demo is open instead.")),
        ("job=..%2F..%2Fetc%2Fpasswd", Opening(
            DEMO, problem="There is no job called '../../etc/passwd' in this workbook; the demo is open instead.")),
        ("job=%00<b>", Opening(
            DEMO, problem="There is no job called '\\x00<b>' in this workbook; the demo is open instead.")),
        ("job=" + "x" * 5000, Opening(
            DEMO, problem=f"There is no job called '{'x' * 57}...' in this workbook; the demo is open instead.")),
        ("&".join(f"a{n}=1" for n in range(99)), Opening(
            DEMO, problem="What the page's address asks for can't be read; the demo is open instead.")),
    ],
)  # fmt: skip
def test_what_an_address_asks_for(query, opening):
    assert asked_for(query, NAMES) == opening


def test_the_app_view_is_told_by_its_query():
    assert in_app_view({"QUERY_STRING": ""})
    assert not in_app_view({})


def test_the_app_view_opens_what_is_asked_for_and_else_the_demo():
    own_job("hood-unit")
    note_job(Path.cwd(), "hood-unit", NOON)
    assert what_to_open({"QUERY_STRING": "job=hood-unit"}) == Opening("hood-unit", asked=True)
    assert what_to_open({"QUERY_STRING": "token=abc"}) == Opening(DEMO)
    assert what_to_open({"QUERY_STRING": "new=1"}) == Opening(None, asked=True)


def test_jupyterlab_opens_what_was_chosen_last_and_is_still_there():
    assert what_to_open({}) == Opening(DEMO)
    file = own_job("hood-unit")
    own_job("boxcab")
    note_job(Path.cwd(), "boxcab", NOON)
    note_job(Path.cwd(), "hood-unit", NOON + timedelta(minutes=1))
    assert what_to_open({}) == Opening("hood-unit", asked=True)
    file.unlink()
    assert what_to_open({}) == Opening("boxcab", asked=True)


def test_in_the_programs_own_folders_it_is_the_demo(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    note_job(places.workbook_folder(), "railcar-n", NOON)
    assert what_to_open({}) == Opening("railcar-n", asked=True)
    monkeypatch.chdir(Path(modelmath.__file__).parent)
    note_job(places.workbook_folder(), "railcar-n", NOON)
    assert what_to_open({}) == Opening(DEMO)


def test_a_job_that_can_not_be_read_is_said_and_the_demo_opens():
    own_job("hood-unit", 'name = "Hood unit"\nscale = ')
    found = what_to_open({"QUERY_STRING": "job=hood-unit"})
    assert (found.job, found.asked) == (DEMO, False)
    assert found.problem.startswith("hood-unit can't be opened, and the demo is open instead: hood-unit.toml, end of")


def test_a_folder_that_refuses_costs_only_the_list():
    (Path.cwd() / ".modelmath").write_text("a file")
    note_opened("hood-unit")
    assert recent_jobs(Path.cwd()) == ()
