"""Job files: written whole or not at all, comments kept, and read back the same."""

from __future__ import annotations

import os
import re
from copy import deepcopy
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMO_PATHS, job

from modelmath.errors import JobError
from modelmath.job import load_job, save_job
from modelmath.job.document import Job
from modelmath.job.storage.files import job_text, parse_job, read_job

text = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=20).filter(str.strip)
anything = st.text(min_size=1, max_size=20)
note = st.text(max_size=40)
length = st.sampled_from(["1 mm", ".040 in", "3 3/4 scale ft", '1/2"', "0 mm"])
entries = {
    "rules": st.fixed_dictionaries(
        {"name": text},
        optional={
            "unit": st.sampled_from(["mm", "scale inch"]),
            "scale_error": st.floats(-0.09, 0.09),
            "length": anything,
        },
    ),
    "readings": st.fixed_dictionaries(
        {"name": text, "mark": anything}, optional={"rule": text, "on": st.sampled_from(["shell", "chassis"])}
    ),
    "zones": st.fixed_dictionaries({"name": text}, optional={"gap": text, "width": text, "end": text}),
    "links": st.fixed_dictionaries({"face": st.sampled_from(["bench", "deck"]), "reading": text}),
    "lamps": st.fixed_dictionaries(
        {"name": text, "end": st.sampled_from(["front", "rear"]), "room": length},
        optional={"strands": st.integers(1, 99)},
    ),
    "wires": st.fixed_dictionaries({"name": text, "diameter": length}),
    "drawer": st.fixed_dictionaries({"strip": text, "length": length}, optional={"offcut": st.booleans()}),
}
jobs = st.fixed_dictionaries(
    {
        "name": text,
        "scale": text,
        "marking": st.fixed_dictionaries({"rule": text}, optional={"datum": st.sampled_from(["end", "zero"])}),
        "clearance": st.fixed_dictionaries({"keep": length}, optional={"along": length}),
        **{name: st.lists(entries[name], min_size=1, max_size=4) for name in ("rules", "readings", "zones")},
    },
    optional={
        "notes": note,
        "demo": note,
        "seat": st.fixed_dictionaries({}, optional={"face": text}),
        "length": st.fixed_dictionaries({"shell_inside": text}, optional={"rear_closed": st.booleans()}),
        "speaker": st.fixed_dictionaries({}, optional={"flange": length, "depth": length}),
        "build": st.fixed_dictionaries({}, optional={"kerf": length}),
        **{name: st.lists(entries[name], max_size=3) for name in ("links", "lamps", "wires", "drawer")},
    },
).map(Job.model_validate)


@given(jobs)
def test_a_job_reads_back_as_it_was_written(tmp_path_factory, made):
    file = tmp_path_factory.getbasetemp() / "round-trip.toml"
    file.unlink(missing_ok=True)
    assert save_job(made, file) == file
    assert load_job(file) == made


@given(jobs, jobs)
def test_a_job_saved_over_another_reads_back_as_it_was_written(before, after):
    written = job_text(after, f"# mine\n{job_text(before)}")
    assert parse_job(written) == (after, [])
    assert written.startswith("# mine\n")


@given(jobs, st.sampled_from(DEMO_PATHS))
def test_a_job_saved_over_a_file_with_comments_reads_back(made, path):
    assert parse_job(job_text(made, path.read_text("utf-8"))) == (made, [])


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_an_unchanged_job_leaves_its_file_byte_for_byte(path, line_end, tmp_path):
    file = tmp_path / path.name
    content = path.read_bytes().replace(b"\n", line_end.encode())
    file.write_bytes(content)
    save_job(load_job(file), file)
    assert file.read_bytes() == content


SWITCHER = next(path for path in DEMO_PATHS if path.stem == "switcher-ho").read_text("utf-8")


def edited(edit) -> str:
    made, _ = parse_job(SWITCHER)
    document = deepcopy(made.model_dump())
    edit(document)
    changed = Job.model_validate(document)
    written = job_text(changed, SWITCHER)
    assert parse_job(written) == (changed, [])
    return written


def test_one_changed_reading_changes_one_line():
    written = edited(lambda document: document["readings"][0].update(mark="8 3/4"))
    lines = list(zip(SWITCHER.splitlines(), written.splitlines(), strict=True))
    assert [pair for pair in lines if pair[0] != pair[1]] == [('mark = "8 5/8"', 'mark = "8 3/4"')]


def test_a_reading_taken_out_takes_nothing_else_with_it():
    written = edited(lambda document: document["readings"].pop(1))
    gone = [line for line in SWITCHER.splitlines() if line not in written.splitlines()]
    assert gone == ['name = "top of the front weight"', 'mark = "4 1/4"']


def test_comments_stay_with_their_entry_when_others_come_and_go():
    def edit(document):
        document["rules"].insert(1, {**document["rules"][1], "name": "caliper"})
        document["drawer"].pop(0)
        document["wires"] = []
        document["lamps"][0]["name"] = "front light"

    written = edited(edit)
    for comment in (line.partition("#")[2] for line in SWITCHER.splitlines() if "#" in line):
        assert f"#{comment}" in written
    line = next(line for line in written.splitlines() if line.startswith("zero_offset"))
    assert line == 'zero_offset = "3/4"            # the zero mark stands in from the end by this much'
    assert "[[wires]]" not in written
    assert "wires" not in written


def test_a_layout_that_can_t_be_kept_up_loses_comments_not_content():
    odd = 'readings = [{name="a", mark="1"}]  # inline\nname = "x"\nscale = "HO"\n'
    made = job()
    assert parse_job(job_text(made, odd)) == (made, [])


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"\xff\xfe not text", "hood.toml, line 1: it is not UTF-8 text; save it as UTF-8."),
        (b'# my own notes\nname = "Hood', None),
        (b'[tool]\nname = "something else"\n', None),
    ],
)
def test_what_is_no_readable_job_is_never_replaced(tmp_path, content, fault):
    file = tmp_path / "hood.toml"
    file.write_bytes(content)
    said = fault or str(read_job(file)[1][0])
    text = (
        f"{file}: it is there already and can't be read as a job ({said}); mend it or save under another name; "
        "nothing was changed."
    )
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        save_job(job(), file)
    assert file.read_bytes() == content


def test_defaults_stay_unwritten():
    written = job_text(job())
    assert "repeatability" not in written
    assert "[build]" not in written
    assert written.startswith("format = 1\n")


# Whole or not at all.


def seen(folder: Path) -> list[Path]:
    """What lies in a folder beside the one that is hidden, in which locks and earlier copies are kept."""
    return sorted(each for each in folder.iterdir() if each.name != ".modelmath")


@pytest.mark.parametrize("broken", ["replace", "fsync", "chmod"])
def test_a_failed_save_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch, broken):
    file = tmp_path / "hood.toml"
    save_job(job(), file)
    before = file.read_bytes()

    def fail(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, broken, fail)
    message = f"{file}: it can't be written: no space left on device; choose another folder; nothing was changed."
    with pytest.raises(JobError, match=f"^{re.escape(message)}$"):
        save_job(job(name="changed"), file)
    assert file.read_bytes() == before
    assert seen(tmp_path) == [file]


def test_an_interrupted_save_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch):
    file = tmp_path / "hood.toml"
    save_job(job(), file)

    def stop(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        save_job(job(name="changed"), file)
    assert load_job(file) == job()
    assert seen(tmp_path) == [file]


def test_a_folder_that_can_t_be_synced_is_no_failure(tmp_path, monkeypatch):
    """By then the new file stands in place of the old; some network folders refuse to be synced."""
    real = os.open

    def refuse(path, *rest, **more):
        if Path(path) == tmp_path:
            raise OSError(22, "Invalid argument")
        return real(path, *rest, **more)

    monkeypatch.setattr(os, "open", refuse)
    save_job(job(), tmp_path / "hood.toml")
    assert load_job(tmp_path / "hood.toml") == job()


def test_a_missing_folder_is_said(tmp_path):
    file = tmp_path / "none" / "hood.toml"
    message = f"{file}: it can't be written: no such file or directory; choose another folder; nothing was changed."
    with pytest.raises(JobError, match=f"^{re.escape(message)}$"):
        save_job(job(), file)


@pytest.mark.skipif(os.name != "posix", reason="file modes and links of POSIX")
def test_mode_and_link_of_the_old_file_stay(tmp_path):
    file, link = tmp_path / "hood.toml", tmp_path / "link.toml"
    save_job(job(), file)
    file.chmod(0o600)
    link.symlink_to(file)
    save_job(job(name="changed"), link)
    assert link.is_symlink()
    assert (load_job(file).name, file.stat().st_mode & 0o777) == ("changed", 0o600)


def test_the_mark_that_some_editors_put_in_front_is_read_over(tmp_path):
    file = tmp_path / "hood.toml"
    file.write_text(job_text(job()), encoding="utf-8-sig")
    assert load_job(file) == job()
