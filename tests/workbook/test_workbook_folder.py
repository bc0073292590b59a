"""The workbook folder: what is copied, and what is never overwritten."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import modelmath
from modelmath.tables import data_folder, notebooks_folder
from modelmath.workbook.folder import DEFAULT_FOLDER, FolderRefused, Outcome, digest, outcome, prepare, shipped_files

FIRST = {"start.ipynb": b"first", "jobs/engine.toml": b"job"}
SECOND = {"start.ipynb": b"second", "jobs/engine.toml": b"job"}
CHECKOUT = Path(modelmath.__file__).resolve().parents[1]
marks = st.sampled_from("abc")


def contents(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and ".modelmath" not in path.parts
    }


def test_a_new_folder_gets_every_file(tmp_path):
    folder = tmp_path / "not" / "there yet"
    prepared = prepare(folder, FIRST)
    assert prepared.folder == folder.resolve()
    assert prepared.named(Outcome.COPIED) == ["jobs/engine.toml", "start.ipynb"]
    assert contents(folder) == FIRST


def test_a_second_opening_changes_nothing(tmp_path):
    prepare(tmp_path, FIRST)
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*.ipynb")}
    assert set(prepare(tmp_path, FIRST).outcomes.values()) == {Outcome.SAME}
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*.ipynb")} == before


def test_an_untouched_copy_follows_the_release(tmp_path):
    prepare(tmp_path, FIRST)
    prepared = prepare(tmp_path, SECOND)
    assert prepared.outcomes == {"start.ipynb": Outcome.REFRESHED, "jobs/engine.toml": Outcome.SAME}
    assert contents(tmp_path) == SECOND


def test_a_changed_copy_is_kept_through_every_later_release(tmp_path):
    prepare(tmp_path, FIRST)
    (tmp_path / "start.ipynb").write_bytes(b"mine")
    assert prepare(tmp_path, FIRST).outcomes["start.ipynb"] is Outcome.YOURS
    for release in (SECOND, FIRST | {"start.ipynb": b"third"}):
        assert prepare(tmp_path, release).outcomes["start.ipynb"] is Outcome.KEPT
        assert (tmp_path / "start.ipynb").read_bytes() == b"mine"


def test_a_file_of_the_same_name_that_was_never_a_copy_is_kept(tmp_path):
    (tmp_path / "start.ipynb").write_bytes(b"another program's")
    assert prepare(tmp_path, FIRST).outcomes["start.ipynb"] is Outcome.KEPT
    assert (tmp_path / "start.ipynb").read_bytes() == b"another program's"


def test_a_deleted_file_comes_back_fresh(tmp_path):
    prepare(tmp_path, FIRST)
    (tmp_path / "start.ipynb").write_bytes(b"spoiled")
    (tmp_path / "start.ipynb").unlink()
    assert prepare(tmp_path, FIRST).outcomes["start.ipynb"] is Outcome.COPIED
    assert contents(tmp_path) == FIRST


@pytest.mark.parametrize("record", [None, "", "{", "[1, 2]"])
def test_without_a_readable_record_nothing_that_differs_is_overwritten(tmp_path, record):
    prepare(tmp_path, FIRST)
    kept = tmp_path / ".modelmath" / "copied.json"
    kept.unlink() if record is None else kept.write_text(record)
    assert prepare(tmp_path, SECOND).outcomes == {"start.ipynb": Outcome.KEPT, "jobs/engine.toml": Outcome.SAME}
    assert contents(tmp_path) == FIRST
    assert "jobs/engine.toml" in json.loads(kept.read_text())


@given(shipped=marks, present=st.none() | marks, recorded=st.none() | marks)
def test_a_file_is_written_only_over_nothing_or_an_untouched_copy(shipped, present, recorded):
    found = outcome(shipped, present, recorded)
    written = found in (Outcome.COPIED, Outcome.REFRESHED)
    assert written == (present is None or (present == recorded and present != shipped))


def test_the_shipped_files_are_the_notebooks_and_the_demo_jobs():
    names = {item.name for item in notebooks_folder().iterdir() if item.name.endswith(".ipynb")}
    names |= {f"jobs/{item.name}" for item in (data_folder() / "jobs").iterdir() if item.name.endswith(".toml")}
    assert set(shipped_files()) == names
    assert {"start.ipynb", "readings.ipynb", "strips.ipynb", "enclosure.ipynb"} <= names
    assert sum(name.startswith("jobs/") for name in names) >= 4


def test_the_default_folder_is_in_the_home_of_the_user(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert prepare(Path(DEFAULT_FOLDER), FIRST).folder == (tmp_path / "modelmath-workbook").resolve()


@pytest.mark.parametrize("inside", ["workbook", "modelmath/widgets/mine"])
def test_a_folder_in_a_checkout_is_refused_and_not_made(tmp_path, inside):
    clone = tmp_path / "clone"
    (clone / "modelmath").mkdir(parents=True)
    for name in ("pyproject.toml", "modelmath/tables.py"):
        (clone / name).touch()
    refused = clone / inside
    text = (
        f"{refused.resolve()} is inside the program's own files ({clone.resolve()}); "
        "name a folder of your own with --folder."
    )
    with pytest.raises(FolderRefused, match=f"^{re.escape(text)}$"):
        prepare(refused, {"start.ipynb": b""})
    assert not refused.exists()


def test_the_package_that_runs_is_refused():
    inside = CHECKOUT / "modelmath" / "workbook-of-mine"
    home = r"\(.+\)"
    start = re.escape(f"{inside} is inside the program's own files ")
    text = rf"^{start}{home}; name a folder of your own with --folder\.$"
    with pytest.raises(FolderRefused, match=text):
        prepare(inside, FIRST)
    assert not inside.exists()


def test_a_link_back_into_a_checkout_is_not_written_through(tmp_path):
    clone, folder = tmp_path / "clone", tmp_path / "mine"
    (clone / "modelmath").mkdir(parents=True)
    for name in ("pyproject.toml", "modelmath/tables.py"):
        (clone / name).touch()
    (clone / "jobs").mkdir()
    folder.mkdir()
    (folder / "jobs").symlink_to(clone / "jobs")
    text = (
        f"{(clone / 'jobs').resolve()} is inside the program's own files ({clone.resolve()}); "
        "name a folder of your own with --folder."
    )
    with pytest.raises(FolderRefused, match=f"^{re.escape(text)}$"):
        prepare(folder, FIRST)
    assert list((clone / "jobs").iterdir()) == []


def test_a_linked_file_is_replaced_not_written_through(tmp_path):
    elsewhere = tmp_path / "elsewhere.ipynb"
    elsewhere.write_bytes(b"first")
    folder = tmp_path / "mine"
    prepare(folder, FIRST)
    (folder / "start.ipynb").unlink()
    (folder / "start.ipynb").symlink_to(elsewhere)
    prepare(folder, SECOND)
    assert elsewhere.read_bytes() == b"first"
    assert contents(folder) == SECOND


def test_a_path_that_is_a_file_is_refused(tmp_path):
    file = tmp_path / "notes.txt"
    file.write_text("keep me")
    with pytest.raises(FolderRefused, match=f"^{re.escape(str(file))} is a file; name a folder with --folder\\.$"):
        prepare(file, FIRST)
    assert file.read_text() == "keep me"


def test_a_folder_that_cannot_be_made_is_refused(tmp_path):
    file = tmp_path / "notes.txt"
    file.touch()
    text = f"{file / 'workbook'} can't be written (Not a directory); name a folder of your own with --folder."
    with pytest.raises(FolderRefused, match=f"^{re.escape(text)}$"):
        prepare(file / "workbook", FIRST)


def test_a_full_disk_leaves_no_half_file(tmp_path, monkeypatch):
    prepare(tmp_path, FIRST)

    def no_room(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("modelmath.files.os.fsync", no_room)
    text = f"{tmp_path} can't be written (No space left on device); name a folder of your own with --folder."
    with pytest.raises(FolderRefused, match=f"^{re.escape(text)}$"):
        prepare(tmp_path, SECOND)
    assert contents(tmp_path) == FIRST


def test_the_source_is_never_written(tmp_path):
    def state() -> dict[str, tuple[str, int]]:
        sources = [Path(str(notebooks_folder())), Path(str(data_folder())) / "jobs"]
        files = [file for source in sources for file in source.rglob("*") if file.is_file()]
        return {str(file): (digest(file.read_bytes()), file.stat().st_mtime_ns) for file in files}

    before = state()
    assert before
    for name in prepare(tmp_path).outcomes:
        (tmp_path / name).write_text("mine")
    prepare(tmp_path)
    assert state() == before
