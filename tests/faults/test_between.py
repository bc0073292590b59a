"""A job that another page saves in the very moment in which this one saves: both are kept."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS

from modelmath.job import load_job, save_job
from modelmath.widgets import CalibratePanel, MeasurePanel, calibrate, measure

THEIRS = DEMOS["railcar-n"]


def in_between(monkeypatch, module, name, file):
    """Let another page save its job while this one works out its own."""
    real = getattr(module, name)

    def slow(*given):
        found = real(*given)
        file.parent.mkdir(exist_ok=True)
        save_job(THEIRS, file)
        return found

    monkeypatch.setattr(module, name, slow)


def kept_both(file, said) -> None:
    (ours,) = file.parent.glob("*-changed-here.toml")
    assert load_job(file) == THEIRS
    assert load_job(ours) != THEIRS
    assert "it was changed elsewhere since it was read, and is left as it is" in said


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_calibrated_rule_goes_over_no_job_that_came_in_between(folder, monkeypatch):
    panel = CalibratePanel()
    panel.fields["job"].value = "switcher-ho"
    file = folder / "jobs" / "switcher-ho.toml"
    in_between(monkeypatch, calibrate, "calibrated_job", file)
    assert panel.save() is None
    kept_both(file, panel.saved.value)


def test_what_was_measured_goes_over_no_job_that_came_in_between(folder, monkeypatch):
    panel = MeasurePanel()
    panel.into_job.chooser.value = "switcher-ho"
    file = folder / "jobs" / "tarn-valley-switcher-no-31.toml"
    in_between(monkeypatch, measure, "taken_over", file)
    assert panel.into_job.save() is None
    kept_both(file, panel.into_job.saved.value)
