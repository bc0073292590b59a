"""Settings for the tests of faults."""

import os

import pytest


@pytest.fixture
def _no_disk_to_wait_for(monkeypatch):
    """What a process leaves behind is there without waiting for the disk; that matters for the power alone."""
    monkeypatch.setattr(os, "fsync", lambda _handle: None)
