"""Settings for the tests of the panels."""

import pytest


@pytest.fixture(autouse=True)
def _in_a_workbook_folder(tmp_path, monkeypatch):
    """A workbook folder of its own for every test: the walkthrough keeps drafts in it."""
    monkeypatch.chdir(tmp_path)
