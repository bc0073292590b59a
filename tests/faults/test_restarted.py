"""A kernel that dies in the middle of the walkthrough: the next one offers what was entered."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys

import pytest

from modelmath.widgets import EnclosurePanel

# Another process: a person edits two fields, one of them to what gives no job yet, and the kernel is killed.
EDITS = """
import os, signal
from modelmath.widgets import EnclosurePanel
panel = EnclosurePanel.demo("switcher-ho")
panel.fields["chassis"].value = "5 5/16"
panel.fields["keep"].value = "1/3 scale"
print(panel.kept.status.value, flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name != "posix", reason="a process killed as POSIX does it")
def test_what_was_entered_before_a_kernel_died_is_offered_by_the_next(tmp_path, monkeypatch):
    ended = subprocess.run(
        [sys.executable, "-c", EDITS], cwd=tmp_path, capture_output=True, text=True, check=False, timeout=120
    )
    assert ended.returncode == -signal.SIGKILL, ended.stderr
    assert "kept as a draft" in ended.stdout
    monkeypatch.chdir(tmp_path)
    panel = EnclosurePanel.demo("switcher-ho")
    assert panel.fields["chassis"].value == "5 1/8"
    assert re.search("Unsaved changes of Tarn Valley switcher No. 31", panel.kept.offer.value)
    panel.kept.take()
    assert panel.fields["chassis"].value == "5 5/16"
    assert panel.fields["keep"].value == "1/3 scale"
    panel.fields["keep"].value = "1/4 scale ft"
    saved = panel.kept.save(panel.plan.job)
    assert saved.file.parent == tmp_path / "jobs"
    assert list((tmp_path / ".modelmath" / "drafts").glob("*.json")) == []
