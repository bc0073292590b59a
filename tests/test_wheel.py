"""The wheel holds its data, demo jobs, notebooks and page template, and finds them without a checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
USE = """
import pathlib, modelmath
from modelmath.tables import data_folder, notebooks_folder
from modelmath.workbook.folder import shipped_files
assert pathlib.Path(modelmath.__file__).is_relative_to(pathlib.Path.cwd()), modelmath.__file__
assert pathlib.Path(str(data_folder())).is_relative_to(pathlib.Path.cwd()), data_folder()
jobs = sorted(pathlib.Path(str(data_folder()), "jobs").glob("*.toml"))
for job in jobs:
    plan = modelmath.plan(modelmath.load_job(job))
    assert plan.cuts.strips and plan.holes
modelmath.write_packet(plan, "packets", paper="A4")
print(len(jobs), *sorted(name for name in shipped_files() if name.endswith(".ipynb")))
"""


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory):
    """The wheel of this checkout, unpacked where no checkout is."""
    folder = tmp_path_factory.mktemp("wheel")
    made = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", str(ROOT), "--no-deps", "-q", "-w", str(folder)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0, made.stderr
    (wheel,) = folder.glob("modelmath-*.whl")
    place = folder / "installed"
    zipfile.ZipFile(wheel).extractall(place)
    return place


def test_the_wheel_finds_its_data_demo_jobs_and_notebooks(unpacked):
    env = {**os.environ, "PYTHONPATH": str(unpacked), "PYTHONSAFEPATH": ""}
    done = subprocess.run(
        [sys.executable, "-c", USE], cwd=unpacked, env=env, capture_output=True, text=True, check=False
    )
    assert done.stderr == ""
    jobs = len(list((ROOT / "data" / "jobs").glob("*.toml")))
    assert done.stdout.split() == [str(jobs), *sorted(path.name for path in (ROOT / "notebooks").glob("*.ipynb"))]


def test_the_wheel_holds_the_page_and_the_typeface(unpacked):
    assert (unpacked / "modelmath/workbook/jupyter/share/voila/templates/bench/index.html.j2").is_file()
    assert (unpacked / "modelmath/data/fonts/DejaVuSans.ttf").is_file()
    assert (unpacked / "modelmath/py.typed").is_file()
    shares = unpacked / "modelmath/workbook/jupyter/share"
    assert (shares / "labextensions/modelmath/static/remoteEntry.js").is_file()
    assert (unpacked / "modelmath/widgets/common/look.css").is_file()
