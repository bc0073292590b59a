"""Drafts: written after each edit, read back the same, never written over by another page."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from sample_jobs import DEMOS, job

from modelmath.errors import JobError
from modelmath.job.storage.drafts import (
    Draft,
    draft_file,
    drafts_folder,
    drafts_in,
    drop_draft,
    read_draft,
    write_draft,
)
from modelmath.job.storage.files import LARGEST


@pytest.fixture
def folder(tmp_path) -> Path:
    return drafts_folder(tmp_path)


@pytest.mark.parametrize("name", DEMOS)
def test_a_draft_reads_back_the_same(folder, name):
    draft = Draft(draft_file(folder, DEMOS[name].name), DEMOS[name], name, "0" * 64)
    write_draft(draft)
    found = read_draft(draft.file)
    assert (found.job, found.chosen, found.since) == (DEMOS[name], name, "0" * 64)
    assert re.fullmatch(r"\d{4}-\d\d-\d\d \d\d:\d\d", found.when)


def test_two_drafts_of_one_model_have_files_of_their_own(folder):
    first, second = draft_file(folder, "Hood"), draft_file(folder, "Hood")
    assert first != second
    assert first.name.startswith("hood.")


def test_drafts_come_the_latest_first_and_damaged_ones_are_said(folder):
    for at, name in enumerate(("one", "two", "three")):
        draft = Draft(draft_file(folder, name), job(name=name))
        write_draft(draft)
        os.utime(draft.file, (1000 + at, 1000 + at))
    (folder / "broken.json").write_text("{", "utf-8")
    found, faults = drafts_in(folder)
    assert [each.job.name for each in found] == ["three", "two", "one"]
    assert [str(each) for each in faults] == ["broken.json: the draft is damaged; drop it, or mend it: it is JSON."]
    drop_draft(found[0].file)
    drop_draft(found[0].file)  # gone already
    assert len(drafts_in(folder)[0]) == 2


def test_a_folder_that_is_not_there_has_none(tmp_path):
    assert drafts_in(tmp_path / "none") == ([], [])


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "the draft is damaged; drop it, or mend it: it is JSON."),
        (b"\xff\xfe\x00", "the draft is damaged; drop it, or mend it: it is JSON."),
        (b"[" * 100_000, "the draft is damaged; drop it, or mend it: it is JSON."),
        (b"[1]", "it is no draft of a job; drop it."),
        (b'{"draft": 1, "chosen": 2, "since": "", "job": {}}', "it is no draft of a job; drop it."),
        (
            b'{"draft": 2, "chosen": "", "since": "", "job": {}}',
            "the draft has format 2, newer than this release reads (1); install a newer release to take it up.",
        ),
        (b'{"draft": 1, "chosen": "", "since": "", "job": {"x": 1}}', None),
        (b" " * (LARGEST + 1), "it is too large for a draft; drop it."),
    ],
)
def test_what_is_no_draft_is_refused_in_words(folder, content, says):
    folder.mkdir(parents=True)
    file = folder / "hood.json"
    file.write_bytes(content)
    with pytest.raises(JobError, match=r"^hood\.json[,:]") as found:
        read_draft(file)
    if says:
        assert str(found.value) == f"hood.json: {says}"


def test_a_draft_of_an_earlier_release_is_brought_up_to_date(folder):
    old = "a and b in series, that pair in parallel with c"
    also = [{"name": name, "impedance": "8 ohm"} for name in "bc"]
    write_draft(Draft(draft_file(folder, "x"), job(speaker={"name": "a"}, sound={"wiring": old, "also": also})))
    assert drafts_in(folder)[0][0].job.sound.wiring == "(a + b in series) + c, in parallel"
