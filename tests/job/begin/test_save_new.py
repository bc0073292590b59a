"""A new job's file: under the model's name, and never over another."""

from __future__ import annotations

import re
import threading

import pytest
from sample_jobs import job

from modelmath.errors import JobError
from modelmath.job.begin import save_new
from modelmath.job.storage.files import load_job


def named(name):
    return job().model_copy(update={"name": name})


def test_the_file_is_called_as_the_model_and_holds_the_job(tmp_path):
    file = save_new(named("Hood unit No. 5"), tmp_path / "jobs")
    assert file == tmp_path / "jobs" / "hood-unit-no-5.toml"
    assert load_job(file) == named("Hood unit No. 5")


def test_no_job_is_written_over(tmp_path):
    (tmp_path / "hood-unit.toml").write_text("not a job at all")
    assert save_new(named("Hood unit"), tmp_path, taken=["hood-unit-2"]).name == "hood-unit-3.toml"
    assert (tmp_path / "hood-unit.toml").read_text() == "not a job at all"
    assert save_new(named("HOOD unit!"), tmp_path).name == "hood-unit-2.toml"


def test_two_pages_that_begin_at_once_get_a_file_each(tmp_path):
    found = []
    threads = [threading.Thread(target=lambda: found.append(save_new(named("Hood unit"), tmp_path))) for _ in range(6)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert len(set(found)) == 6


def test_a_folder_that_is_none_is_said(tmp_path):
    (tmp_path / "jobs").write_text("")
    advice = "choose another workbook folder; nothing was changed."
    problem = f"{tmp_path / 'jobs'}: it can't be written: file exists; {advice}"
    with pytest.raises(JobError, match=f"^{re.escape(problem)}$"):
        save_new(named("Hood unit"), tmp_path / "jobs")
