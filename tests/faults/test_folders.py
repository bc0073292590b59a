"""Folders and files that are not what a write expects: a message, and what was there stays."""

from __future__ import annotations

import os
import re
import shutil

import pytest
from faults.stock import drawer
from faults.writers import WRITERS
from killing import numbered
from sample_jobs import job

from modelmath.drawings.into_folder import write_into
from modelmath.errors import JobError, ModelMathError
from modelmath.files import file_name, write_whole
from modelmath.job import load_job, plan, save_job
from modelmath.job.begin.saving import save_new
from modelmath.materials.drawer.store import DrawerFault, load_drawer, save_drawer
from modelmath.materials.drawer.tables import as_sheet

posix = pytest.mark.skipif(os.name != "posix", reason="limits and links of POSIX")
# What lies where, to be put in the way of a write; those that make their folders anew are not among them.
FILES = {
    "a job's next save": "hood.toml", "a cut plan that is accepted": "drawer.json", "the shelf": "shelf.toml",
    "preferences": ".modelmath/preferences.json", "the jobs opened last": ".modelmath/recent.json",
    "a draft": "drafts/hood.json", "an export": "packets/hood-parts.svg", "a table of readings": "readings.csv",
    "a table of the drawer": "drawer.csv", "a newer workbook": "book/a.ipynb",
}  # fmt: skip


def begun(name, folder):
    WRITERS[name].begin(folder)
    return WRITERS[name], folder / FILES[name]


def refused(writer, folder) -> str:
    with pytest.raises((*writer.raises, OSError)) as reason:
        writer.write(folder)
    said = reason.value.strerror if isinstance(reason.value, OSError) else str(reason.value)
    assert "\n" not in said
    return said


@posix
@pytest.mark.parametrize("name", FILES)
def test_a_write_that_the_disk_cuts_off_leaves_the_old_file(name, tmp_path):
    import resource  # POSIX alone has it

    writer, file = begun(name, tmp_path)
    before = file.read_bytes()
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (20, hard))  # the system itself refuses what is beyond 20 bytes
    try:
        said = refused(writer, tmp_path)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert "file too large" in said.lower()
    assert file.read_bytes() == before
    assert list(tmp_path.rglob("*.tmp")) == []


@pytest.mark.parametrize("name", FILES)
def test_a_folder_in_the_place_of_the_file_is_said(name, tmp_path):
    writer, file = begun(name, tmp_path)
    file.unlink()
    (file / "own.txt").parent.mkdir()
    (file / "own.txt").write_text("mine")
    assert refused(writer, tmp_path)
    assert (file / "own.txt").read_text() == "mine"
    assert list(tmp_path.rglob("*.tmp")) == []


@pytest.mark.parametrize("name", FILES)
def test_a_file_in_the_place_of_the_folder_is_said(name, tmp_path):
    folder = tmp_path / "workbook"
    folder.mkdir()
    begun(name, folder)
    shutil.rmtree(folder)
    folder.write_text("mine")
    assert refused(WRITERS[name], folder)
    assert folder.read_text() == "mine"


@posix
@pytest.mark.parametrize("name", FILES)
def test_a_folder_that_has_vanished_is_made_anew_or_said(name, tmp_path):
    folder = tmp_path / "workbook"
    folder.mkdir()
    writer, _ = begun(name, folder)
    shutil.rmtree(folder)
    try:
        writer.write(folder)
    except (*writer.raises, OSError) as reason:
        refused_with = str(reason)
    else:
        refused_with = ""
    found = [each.name for each in folder.iterdir()] if folder.exists() else []
    if refused_with:
        assert re.search(r"no such file|there is no|lacks", refused_with, re.IGNORECASE)
        assert all(each.startswith(".") for each in found)
    else:
        assert found


LONG = "x" * 300


def test_a_name_that_is_too_long_is_said(tmp_path):
    with pytest.raises(
        JobError, match=r"^\S+: it can't be written: file name too long; choose another folder; nothing was changed\.$"
    ):
        save_job(job(), tmp_path / f"{LONG}.toml")
    with pytest.raises(DrawerFault, match=r"file name too long"):
        save_drawer(tmp_path / f"{LONG}.json", drawer(), "", "x")
    with pytest.raises(
        JobError, match=r"^\S+: the drawing can't be written: file name too long; choose another folder\.$"
    ):
        write_into(tmp_path, f"{LONG}.svg", b"", "the drawing")
    assert list(tmp_path.glob("[!.]*")) == []


# Links.


@posix
def test_a_job_that_is_a_link_stays_one_and_a_link_to_nowhere_is_not_followed(tmp_path):
    own, elsewhere = tmp_path / "own", tmp_path / "elsewhere"
    own.mkdir()
    elsewhere.mkdir()
    save_job(numbered(1), elsewhere / "hood.toml")
    (own / "hood.toml").symlink_to(elsewhere / "hood.toml")
    save_job(numbered(2), own / "hood.toml")
    assert (own / "hood.toml").is_symlink()
    assert load_job(elsewhere / "hood.toml") == numbered(2)
    (own / "new.toml").symlink_to(elsewhere / "autostart")
    (own / "drawer.json").symlink_to(elsewhere / "autostart")
    said = "it can't be written: it is a link that leads nowhere"
    with pytest.raises(JobError, match=rf"^\S+: {said}; choose another folder; nothing was changed\.$"):
        save_job(numbered(1), own / "new.toml")
    with pytest.raises(DrawerFault, match=rf"{said}"):
        save_drawer(own / "drawer.json", drawer(), load_drawer(own / "drawer.json").revision, "x")
    with pytest.raises(FileNotFoundError, match=r"it is a link that leads nowhere"):
        write_whole(own / "new.toml", b"")
    assert not (elsewhere / "autostart").exists()


@posix
def test_a_link_to_what_is_no_job_is_not_written_over(tmp_path):
    (tmp_path / "profile").write_text("mine")
    (tmp_path / "hood.toml").symlink_to(tmp_path / "profile")
    with pytest.raises(JobError, match=r"can't be read as a job"):
        save_job(numbered(1), tmp_path / "hood.toml")
    assert (tmp_path / "profile").read_text() == "mine"


@posix
def test_what_is_printed_and_exported_replaces_a_link_and_never_follows_it(tmp_path):
    (tmp_path / "profile").write_text("mine")
    folder = tmp_path / "packets"
    folder.mkdir()
    (folder / "hood.svg").symlink_to(tmp_path / "profile")
    for model in ("", "hood"):
        assert write_into(folder, "hood.svg", b"<svg/>", "the drawing", model) == folder / "hood.svg"
        assert (folder / "hood.svg").read_bytes() == b"<svg/>"
    assert (tmp_path / "profile").read_text() == "mine"


# Names that give one file name.


def test_two_models_whose_names_give_one_file_name_keep_a_file_each(tmp_path):
    for _ in "ab":  # printed again, each finds its own
        assert write_into(tmp_path, "box-cab.pdf", b"1", "the packet", "Box cab").name == "box-cab.pdf"
        assert write_into(tmp_path, "box-cab.pdf", b"2", "the packet", "Box-Cab!").name == "box-cab-2.pdf"
        assert write_into(tmp_path, "box-cab.pdf", b"3", "the packet", "box/cab").name == "box-cab-3.pdf"
    assert [file.read_bytes() for file in sorted(tmp_path.glob("*.pdf"))] == [b"2", b"3", b"1"]
    (tmp_path / "box-cab.pdf").unlink()
    assert write_into(tmp_path, "box-cab.pdf", b"4", "the packet", "BOX CAB").name == "box-cab.pdf"


@pytest.mark.parametrize("damaged", [b"", b"[]", b"{", b"\xff", b"[" * 90_000, b'{"box-cab.pdf": 3}', b" " * 2_000_000])
def test_a_damaged_record_of_what_was_printed_stands_in_no_ones_way(damaged, tmp_path):
    (tmp_path / ".modelmath").mkdir()
    (tmp_path / ".modelmath" / "made-for.json").write_bytes(damaged)
    write_into(tmp_path, "box-cab.pdf", b"1", "the packet", "Box cab")
    assert write_into(tmp_path, "box-cab.pdf", b"2", "the packet", "Box-cab").name == "box-cab-2.pdf"


NAMES = ("../../out", "/etc/out", "C:\\out", "CON", "..", "....", "a/b", "~root", "x" * 200, "ſ", "İ" * 90)


def test_a_new_model_lies_in_its_folder_whatever_it_is_called(tmp_path):
    folder = tmp_path / "jobs"
    for name in NAMES:
        file = save_new(job(name=name), folder)
        assert file.parent == folder
        assert len(file.name.encode()) <= 255
        assert load_job(file).name == name
    assert len(list(folder.glob("*.toml"))) == len(NAMES)
    assert [each.name for each in tmp_path.iterdir()] == ["jobs"]


@pytest.mark.parametrize("name", ["CON", "nul", "Aux.", "com1", "LPT9", "com²", " prn "])
def test_no_file_is_called_as_a_device(name):
    assert file_name(name) == re.sub(r"\W", "", name.lower()) + "-job"
    assert file_name(f"{name} 2").endswith("-2")


def test_a_message_that_a_name_is_taken_says_so_once(tmp_path):
    save_new(job(name="Box cab"), tmp_path)
    assert save_new(job(name="box-cab"), tmp_path).name == "box-cab-2.toml"
    with pytest.raises(ModelMathError, match=r"it was changed elsewhere"):
        save_job(job(name="box-cab"), tmp_path / "box-cab.toml", since="")


# The clock.


@pytest.mark.parametrize("year", [1970, 1979, 2038, 2200])
def test_a_spreadsheet_can_be_written_whatever_year_the_clock_says(year, monkeypatch):
    import time

    from modelmath.drawings.tables.files import parts_sheet_file

    then = time.struct_time((year, 1, 2, 3, 4, 5, 0, 2, 0))
    monkeypatch.setattr(time, "localtime", lambda _seconds=None: then)
    for content in (as_sheet(drawer()), parts_sheet_file(plan(job()))):
        assert content[:4] == b"PK\3\4"
