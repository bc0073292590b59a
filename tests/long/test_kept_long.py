"""No job is lost: a thousand saves killed at random moments, a thousand files damaged or made to do harm."""

from __future__ import annotations

import os

import pytest
from hostile import check_hostile
from killing import kill_drafts, kill_saves

pytestmark = pytest.mark.long
KILLS, FILES, BLOCK = 1000, 1000, 100


@pytest.mark.skipif(os.name != "posix", reason="processes as POSIX forks and kills them")
@pytest.mark.parametrize("seed", range(KILLS // BLOCK))
def test_a_save_killed_at_any_moment_loses_no_job(tmp_path, seed):
    between = kill_saves(tmp_path / "hood.toml", BLOCK, 1000 + seed)
    assert between > 0  # moments between the copy and the file itself were among them


@pytest.mark.skipif(os.name != "posix", reason="processes as POSIX forks and kills them")
@pytest.mark.parametrize("seed", range(2))
def test_a_page_killed_at_any_moment_loses_no_draft(tmp_path, seed):
    kill_drafts(tmp_path / "hood.json", BLOCK, 2000 + seed)


@pytest.mark.parametrize("first", range(0, FILES, BLOCK))
def test_hostile_files_are_refused_with_a_place_or_read(tmp_path, first):
    read = [check_hostile(seed, tmp_path / "hood.toml") for seed in range(first, first + BLOCK)]
    assert 0 < sum(read) < BLOCK // 2  # some are still jobs, most are not
