"""The source archive makes the wheel that the checkout makes, and its tests run where it is unpacked."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
BUILD = "import sys, hatchling.build as made; print(getattr(made, sys.argv[1])(sys.argv[2]))"
FEW = ("tests/lengths/test_scales.py", "tests/test_tables.py")


@pytest.fixture(scope="module")
def tools(tmp_path_factory):
    """What the project is packed with, by its own words, in a folder of its own."""
    asked = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["build-system"]["requires"]
    into = tmp_path_factory.mktemp("tools")
    _done([sys.executable, "-m", "pip", "install", "-q", "--target", str(into), *asked], ROOT)
    return into


def _done(words, cwd, **env):
    made = subprocess.run(words, cwd=cwd, env=os.environ | env, capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stdout + made.stderr
    return made.stdout


def _built(kind, source, into, tools):
    named = _done([sys.executable, "-c", BUILD, f"build_{kind}", str(into)], source, PYTHONPATH=str(tools))
    return into / named.splitlines()[-1]


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory, tools):
    """The source archive of this checkout, unpacked."""
    place = tmp_path_factory.mktemp("sdist")
    with tarfile.open(_built("sdist", ROOT, place, tools)) as archive:
        archive.extractall(place, filter="data")
    (source,) = (each for each in place.iterdir() if each.is_dir())
    return source


def _content(wheel):
    with zipfile.ZipFile(wheel) as packed:
        return {each.filename: each.CRC for each in packed.infolist()}


def test_it_makes_the_wheel_that_the_checkout_makes(unpacked, tmp_path, tools):
    (tmp_path / "of the archive").mkdir()
    ours = _content(_built("wheel", ROOT, tmp_path, tools))
    theirs = _content(_built("wheel", unpacked, tmp_path / "of the archive", tools))
    assert len(ours) > 700
    assert ours.items() ^ theirs.items() == set()


def test_it_holds_every_test_and_what_tests_read(unpacked):
    for place in ("tests", "data", "notebooks", "modelmath"):
        here, there = (
            {
                file.relative_to(home).as_posix()
                for file in (home / place).rglob("*")
                if file.is_file() and not {"__pycache__", ".hypothesis"} & set(file.parts)
            }
            for home in (ROOT, unpacked)
        )
        assert here - there == set()


def test_its_tests_run_where_it_is_unpacked(unpacked):
    words = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "0", *FEW]
    said = _done(words, unpacked, PYTHONPATH=str(unpacked), PYTHONDONTWRITEBYTECODE="1")
    assert " passed" in said.splitlines()[-1]
