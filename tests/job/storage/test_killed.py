"""A save that is killed: what was saved before is there, whole. The long set has a thousand of them."""

from __future__ import annotations

import os

import pytest
from killing import kill_drafts, kill_saves

pytestmark = pytest.mark.skipif(os.name != "posix", reason="processes as POSIX forks and kills them")


def test_no_job_is_lost_when_a_save_is_killed(tmp_path):
    file = tmp_path / "hood.toml"
    kill_saves(file, 12, seed=1)
    # What was begun and not finished is written over by the next, so that it never grows.
    assert len(list(tmp_path.rglob("*.tmp"))) <= 2


def test_no_draft_is_lost_when_its_page_is_killed(tmp_path):
    kill_drafts(tmp_path / "hood.json", 8, seed=2)
    assert len(list(tmp_path.iterdir())) <= 2
