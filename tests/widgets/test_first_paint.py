"""What a page opens with is quick: what takes long to load waits until it is needed."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from modelmath.tables import notebooks_folder
from modelmath.workbook.lab import code_of

HEAVY = (
    "pandas",
    "openpyxl",
    "highspy",
    "matplotlib",
    "scipy.signal",
    "scipy.stats",
    "reportlab",
    "ezdxf",
    "schemdraw",
)
# What the first answer on a page is made with: the table of readings is one of pandas, and strips are cut by HiGHS.
NEEDED = {"tables": ["pandas"], "cuts": ["highspy"], "enclosure": ["highspy"]}
# The panels are made one after the other in one process, those first that load least; each says what it loaded.
MAKES = """
import json, sys
heavy, pages = json.loads(sys.argv[1]), json.loads(sys.argv[2])
for name, code in pages:
    before = {each for each in heavy if each in sys.modules}
    exec(code, {})
    print(json.dumps([name, [each for each in heavy if each in sys.modules and each not in before]]))
"""


@pytest.fixture(scope="module")
def loaded(tmp_path_factory):
    """What making each page's panel loads, by page."""
    files = sorted(item.name for item in notebooks_folder().iterdir() if item.name.endswith(".ipynb"))
    code = {name.removesuffix(".ipynb"): code_of((notebooks_folder() / name).read_bytes())[0] for name in files}
    pages = sorted(code.items(), key=lambda page: (page[0] in NEEDED, page[0]))
    done = subprocess.run(
        [sys.executable, "-c", MAKES, json.dumps(HEAVY), json.dumps(pages)],
        cwd=tmp_path_factory.mktemp("workbook"),
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return dict(map(json.loads, done.stdout.splitlines()))


def test_every_page_is_asked(loaded):
    assert {f"{name}.ipynb" for name in loaded} == {
        item.name for item in notebooks_folder().iterdir() if item.name.endswith(".ipynb")
    }


def test_no_panel_loads_what_its_first_answer_does_not_need(loaded):
    first = {"cuts": NEEDED["cuts"]}  # what both need is loaded by the first of them
    assert {name: found for name, found in loaded.items() if found} == {"tables": NEEDED["tables"]} | first
