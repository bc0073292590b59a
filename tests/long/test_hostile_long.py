"""Every name made to do harm in some three places of every demo job, through all that a job is turned into."""

from __future__ import annotations

import pytest
from hostile_names import NAMES, renamed
from sample_jobs import DEMOS
from test_hostile_names import check_outputs, check_page

from modelmath.job import load_job, save_job
from modelmath.widgets import EnclosurePanel
from modelmath.widgets.common.fields import Fold

pytestmark = pytest.mark.long
STEP = 13  # a job has some forty names


@pytest.mark.parametrize("first", range(0, len(NAMES), STEP))
@pytest.mark.parametrize("of", [*DEMOS, "crowded"])
def test_every_output_holds_names_as_text(of, first, tmp_path):
    assert check_outputs(of, first, tmp_path)


@pytest.mark.parametrize("first", [0, 34, 68])
@pytest.mark.parametrize("of", DEMOS)
def test_the_whole_walkthrough_holds_names_as_text(of, first, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    folds: list[Fold] = []
    begin = Fold.__init__
    monkeypatch.setattr(Fold, "__init__", lambda self, *given: (begin(self, *given), folds.append(self))[0])
    made = renamed(DEMOS[of], NAMES, first)
    panel = EnclosurePanel(load_job(save_job(made, tmp_path / "hood.toml")))
    for fold in folds:
        fold.head.value = True
    assert len(check_page(panel)) >= 10
