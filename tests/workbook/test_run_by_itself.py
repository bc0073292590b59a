"""What runs by itself in JupyterLab is the code that ships and no other; a page that only ran stays the package's."""

from __future__ import annotations

import json
from pathlib import Path

import nbformat
import pytest

from modelmath.workbook.folder import Outcome, fingerprint, prepare, shipped_files
from modelmath.workbook.lab import code_of, lab_config_hook, shipped_code
from modelmath.workbook.server import OURS

EXTENSION = OURS / "share" / "labextensions" / "modelmath"
NOTEBOOKS = [name for name in shipped_files() if name.endswith(".ipynb")]


def notebook(*sources, **more):
    cells = [{"cell_type": "code", "source": source, "metadata": {}, **more} for source in sources]
    return json.dumps({"cells": cells, "nbformat": 4, "nbformat_minor": 5, "metadata": {}}).encode()


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_the_code_is_what_the_notebook_library_reads(name):
    read = nbformat.reads(shipped_files()[name].decode(), as_version=4)
    assert code_of(shipped_files()[name]) == [cell.source for cell in read.cells if cell.cell_type == "code"]
    assert code_of(shipped_files()[name])


def test_the_page_is_told_the_code_as_one_text():
    told = lab_config_hook(None, {"token": "secret"})
    assert told["token"] == "secret"
    assert json.loads(told["modelmathCode"]) == shipped_code()
    assert set(shipped_code()) == set(NOTEBOOKS)


def test_the_extension_is_described_as_jupyterlab_asks():
    from jupyterlab_server.config import get_federated_extensions

    found = get_federated_extensions([str(EXTENSION.parent)])["modelmath"]
    built = found["jupyterlab"]["_build"]
    assert built["extension"] == "./extension"
    assert (EXTENSION / built["load"]).is_file()
    assert Path(found["ext_path"]) == EXTENSION


def test_a_page_that_was_run_and_saved_follows_the_next_release(tmp_path):
    first, second = {"page.ipynb": notebook("1")}, {"page.ipynb": notebook("2")}
    prepare(tmp_path, first)
    (tmp_path / "page.ipynb").write_bytes(notebook("1", execution_count=4, outputs=[{"output_type": "stream"}]))
    assert prepare(tmp_path, first).outcomes == {"page.ipynb": Outcome.SAME}
    assert b"execution_count" in (tmp_path / "page.ipynb").read_bytes()
    assert prepare(tmp_path, second).outcomes == {"page.ipynb": Outcome.REFRESHED}
    assert (tmp_path / "page.ipynb").read_bytes() == second["page.ipynb"]


@pytest.mark.parametrize("mine", [notebook("1", "2"), notebook("1 "), b'{"cells": 3}', b"no notebook"])
def test_a_page_whose_cells_were_changed_is_its_owners(tmp_path, mine):
    first, second = {"page.ipynb": notebook("1")}, {"page.ipynb": notebook("2")}
    prepare(tmp_path, first)
    (tmp_path / "page.ipynb").write_bytes(mine)
    assert prepare(tmp_path, first).outcomes == {"page.ipynb": Outcome.YOURS}
    assert prepare(tmp_path, second).outcomes == {"page.ipynb": Outcome.KEPT}
    assert (tmp_path / "page.ipynb").read_bytes() == mine


def test_a_record_of_an_earlier_release_still_tells_an_untouched_page(tmp_path):
    from modelmath.workbook.folder import HIDDEN, RECORD, digest

    first, second = {"page.ipynb": notebook("1")}, {"page.ipynb": notebook("2")}
    prepare(tmp_path, first)
    (tmp_path / HIDDEN / RECORD).write_text(json.dumps({"page.ipynb": digest(first["page.ipynb"])}), "utf-8")
    assert prepare(tmp_path, second).outcomes == {"page.ipynb": Outcome.REFRESHED}


def test_tags_count_and_other_files_count_byte_by_byte():
    tagged = notebook("1").replace(b'"metadata": {}}], ', b'"metadata": {"tags": ["check"]}}], ')
    assert json.loads(tagged) != json.loads(notebook("1"))
    assert fingerprint("a.ipynb", tagged) != fingerprint("a.ipynb", notebook("1"))
    assert fingerprint("a.toml", b"x = 1") != fingerprint("a.toml", b"x  = 1")
