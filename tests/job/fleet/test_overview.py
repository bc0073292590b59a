"""A folder of jobs as rows: what each says, what damaged files do, what is kept from one time to the next."""

from __future__ import annotations

import os
import re
import shutil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMO_PATHS, DEMOS, job

from modelmath.errors import JobError, UnknownChoice
from modelmath.job import check_job, plan
from modelmath.job.building.checklist import progress_of, with_done
from modelmath.job.fleet import kept, overview
from modelmath.job.fleet.folder import ORDERS, in_order, job_files_in, labels
from modelmath.job.fleet.kept import kept_file, read_kept
from modelmath.job.fleet.rows import Row, planned_row, row_of
from modelmath.job.storage.text import job_text

SMALL = job_text(job())
FOOT_MM = 3.5  # of an HO scale foot: NMRA S-1.2, "3.5 mm = 1 foot"


def folder_of(place: Path, **texts: str | bytes) -> Path:
    place.mkdir(exist_ok=True)
    for name, text in texts.items():
        content = text if isinstance(text, bytes) else text.encode()
        (place / f"{name}.toml").write_bytes(content)
    return place


def no_planning(*_args):
    raise AssertionError("it was worked out again")


# What a row says.


def test_the_smallest_job_by_hand():
    """In HO feet: 9 1/4 less 5 1/2 is 3 3/4; 1/4 is kept clear, so the bulkhead is 3 1/2, 12.25 mm."""
    row = row_of(SMALL.encode(), "hood.toml")
    assert (row.name, row.scale, row.problem, row.misfit) == ("test hood", "HO", "", "")
    assert row.bulkhead_mm == pytest.approx(3.5 * FOOT_MM, abs=1e-9)
    assert row.volume_mm3 is None
    assert "the length inside the shell" in row.missing
    assert "the speaker's rated impedance" in row.missing


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
def test_a_row_says_what_the_plan_of_the_job_says(path):
    row, made = row_of(path.read_bytes(), path.name), plan(DEMOS[path.stem])
    assert (row.name, row.scale, row.invented, row.problem) == (made.job.name, made.job.scale, True, "")
    assert f"{row.bulkhead_mm:.2f} mm" in made.figures["bulkhead height"].value
    assert made.figures["chamber volume"].value.startswith(f"{row.volume_mm3 / 1000:.2f} ± ")
    assert row.chance == made.anywhere.chance >= made.gap.chance * 0.999999
    assert row.load == (made.figures["load impedance"].value if "load impedance" in made.figures else "")
    assert (row.steps, row.done) == (len(made.steps), 0)
    assert len(row.open_steps) == row.steps


def test_what_is_done_what_is_next_and_what_waits():
    steps = plan(DEMOS["switcher-ho"]).steps
    before = planned_row(DEMOS["switcher-ho"], "x.toml")
    done = next(step for step in before.next_up if not step.checks or not steps[step.number - 1].hold)
    after = planned_row(with_done(DEMOS["switcher-ho"], steps, steps[done.number - 1].key, True), "x.toml")
    assert (after.done, after.steps) == (1, before.steps)
    assert after.progress == f"1 of {before.steps} steps done"
    assert done.number not in [step.number for step in after.open_steps]
    for step in after.open_steps:
        assert {each.number for each in after.open_steps} >= set(step.waits_for)
        assert step.number not in step.waits_for
    assert {step.number for step in after.next_up} | {step.number for step in after.waiting} == {
        step.number for step in after.open_steps
    }
    assert after.left_min <= before.left_min
    progress = progress_of(plan(with_done(DEMOS["switcher-ho"], steps, steps[done.number - 1].key, True)))
    assert [step.number for step in after.next_up] == [step.number for step in progress.can_be_done]


def test_a_job_built_to_the_end_has_nothing_left():
    made = DEMOS["railcar-n"]
    steps = plan(made).steps
    ticked = [f"{step.key}: {check.partition(':')[0]}" for step in steps for check in step.checks]
    progress = made.progress.model_copy(update={"done": [step.key for step in steps], "ticked": ticked})
    row = planned_row(made.model_copy(update={"progress": progress}), "x.toml")
    assert (row.done, row.open_steps, row.left, row.share) == (row.steps, (), "", 1)
    assert row.progress == f"all {row.steps} steps done"


def test_what_does_not_fit_is_said_and_the_figures_stand():
    made = DEMOS["switcher-ho"]
    large = made.model_copy(update={"speaker": made.speaker.model_copy(update={"length": "80 mm", "width": "18 mm"})})
    row = planned_row(large, "x.toml")
    assert row.misfit == str(plan(large).misfit)
    assert row.problem == ""
    assert row.bulkhead_mm is not None


# Damaged files.

BAD = {
    "empty": "",
    "binary": b"name = '\xff'",
    "cut": SMALL[: len(SMALL) // 2],
    "newer": f"format = 99\n{SMALL}".replace("format = 1\n", ""),
    "nested": "x = " + "[" * 5000,
}


@pytest.mark.parametrize("name", BAD)
def test_a_damaged_file_is_a_row_with_its_message_and_the_others_stand(tmp_path, name):
    found = overview(folder_of(tmp_path, **{name: BAD[name], "sound": SMALL}))
    bad, good = sorted(found.rows, key=lambda row: not row.problem)
    assert bad.problem == str(check_job(tmp_path / f"{name}.toml")[0])
    assert bad.problem.startswith(f"{name}.toml")
    assert (bad.name, bad.steps) == ("", 0)
    assert good == row_of(SMALL.encode(), "sound.toml")
    assert found.in_words == "2 jobs, 1 that can't be planned as it is."


def test_the_messages_of_damaged_files_in_full():
    """What `check_job` says is matched in its own tests; these are two of them, word for word."""
    assert row_of(BAD["binary"], "x.toml").problem == "x.toml, line 1: it is not UTF-8 text; save it as UTF-8."
    assert row_of(b"format = 99", "x.toml").problem == (
        "x.toml, line 1, format: the file has format 99, newer than this release reads (1); install a newer release to "
        "open it."
    )


def test_a_fault_of_the_plan_is_located_by_line(tmp_path):
    text = SMALL.replace('mark = "9 1/4"', 'mark = "9 1/0"')
    line = next(number for number, each in enumerate(text.splitlines(), start=1) if "9 1/0" in each)
    row = overview(folder_of(tmp_path, hood=text)).rows[0]
    assert row.name == "test hood"
    said = "'9 1/0': a fraction can't have 0 below the line; write a fraction such as 3/4."
    assert row.problem == f"hood.toml, line {line}, reading 1 ('roof'), mark: {said}"
    assert row.problem == str(check_job(tmp_path / "hood.toml")[0])


def test_what_is_no_file_is_a_row_too_and_is_not_kept(tmp_path):
    folder_of(tmp_path, hood=SMALL)
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "gone.toml").symlink_to(tmp_path / "nowhere.toml")
    os.mkfifo(tmp_path / "pipe.toml")
    rows = {row.file: row for row in overview(tmp_path).rows}
    assert rows["folder.toml"].problem.endswith(": it is a folder; write the name of a job file in it.")
    assert "there is no such file" in rows["gone.toml"].problem
    assert "a device or a pipe" in rows["pipe.toml"].problem
    assert rows["hood.toml"].problem == ""
    assert set(read_kept(kept_file(tmp_path))) == {"hood.toml"}


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    text = f"{tmp_path / 'none'}: there is no such folder; write the path of a folder of job files."
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        overview(tmp_path / "none")


def test_an_empty_folder_has_no_rows(tmp_path):
    found = overview(tmp_path)
    assert (found.rows, found.in_words) == ((), "There is no job file in this folder.")
    assert not kept_file(tmp_path).exists()


# What is kept.


def test_what_did_not_change_is_not_worked_out_again(tmp_path, monkeypatch):
    folder_of(tmp_path, one=SMALL, two=SMALL.replace("test hood", "other"), bad="x")
    first = overview(tmp_path)
    assert first.worked_out == 3
    monkeypatch.setattr("modelmath.job.fleet.folder.row_of", no_planning)
    second = overview(tmp_path)
    assert (second.rows, second.worked_out) == (first.rows, 0)
    assert [path.name for path in job_files_in(tmp_path)] == ["bad.toml", "one.toml", "two.toml"]


def test_only_what_changed_is_worked_out_again(tmp_path):
    folder_of(tmp_path, one=SMALL, two=SMALL)
    overview(tmp_path)
    folder_of(tmp_path, two=SMALL.replace("test hood", "other"))
    found = overview(tmp_path)
    assert found.worked_out == 1
    assert [row.name for row in found.rows] == ["test hood", "other"]
    (tmp_path / "one.toml").unlink()
    assert [row.file for row in overview(tmp_path).rows] == ["two.toml"]
    assert set(read_kept(kept_file(tmp_path))) == {"two.toml"}


def test_a_file_under_another_name_is_called_by_it(tmp_path):
    folder_of(tmp_path, one="x = ")
    assert overview(tmp_path).rows[0].problem.startswith("one.toml")
    (tmp_path / "one.toml").rename(tmp_path / "two.toml")
    assert overview(tmp_path).rows[0].problem.startswith("two.toml")


def test_another_release_works_all_of_it_out_again(tmp_path, monkeypatch):
    folder_of(tmp_path, one=SMALL)
    overview(tmp_path)
    monkeypatch.setattr(kept, "release_mark", lambda: "another")
    assert overview(tmp_path).worked_out == 1
    assert overview(tmp_path).worked_out == 0


def test_a_release_is_another_once_a_module_or_a_table_changes(tmp_path):
    top = tmp_path / "package"
    (top / "job").mkdir(parents=True)
    (top / "job" / "plan.py").write_text("x = 1")
    (top / "scales.csv").write_text("a")
    (top / "notes.md").write_text("a")
    first = kept._content(top, "")
    (top / "notes.md").write_text("b")
    assert kept._content(top, "") == first
    (top / "job" / "plan.py").write_text("x = 2")
    second = kept._content(top, "")
    (top / "scales.csv").write_text("b")
    assert first != second != kept._content(top, "")


TWO = {"one": SMALL, "two": SMALL.replace("test hood", "other")}


def damaged(content: bytes, where: int, change: str) -> bytes:
    """Return content with one damage."""
    if change == "cut off":
        return content[:where]
    if change == "head":
        return b"{}\n" + content
    other = {"bit": bytes([content[where] ^ 1]), "gone": b"", "more": bytes([content[where], 0x30])}[change]
    return content[:where] + other + content[where + 1 :]


def test_a_damaged_keep_is_never_believed(tmp_path):
    folder_of(tmp_path, **TWO)
    right, place = overview(tmp_path), kept_file(tmp_path)
    content = place.read_bytes()

    @settings(max_examples=40)
    @given(where=st.integers(0, len(content) - 1), change=st.sampled_from(["cut off", "bit", "gone", "more", "head"]))
    def tried(where, change):
        place.write_bytes(damaged(content, where, change))
        found = overview(tmp_path)
        assert (found.rows, found.worked_out) == (right.rows, 2)
        assert place.read_bytes() == content

    tried()


def test_a_keep_with_rows_of_another_form_is_not_believed(tmp_path):
    folder_of(tmp_path, **TWO)
    overview(tmp_path)
    place = kept_file(tmp_path)
    body = b'{"one.toml": {"mark": 3, "row": {"file": "one.toml"}}}'
    place.write_bytes(kept._head(body) + b"\n" + body)
    assert read_kept(place) == {}


def test_a_folder_that_nothing_can_be_kept_in_is_shown_all_the_same(tmp_path):
    folder_of(tmp_path, **TWO)
    (tmp_path / ".modelmath").write_text("in the way")
    assert [row.name for row in overview(tmp_path).rows] == ["test hood", "other"]
    assert overview(tmp_path).worked_out == 2
    assert (tmp_path / ".modelmath").read_text() == "in the way"


def test_a_file_name_that_is_no_text_is_a_row_all_the_same(tmp_path):
    folder_of(tmp_path, one=SMALL)
    (tmp_path / os.fsdecode(b"caf\xe9.toml")).write_text(SMALL)
    assert [row.name for row in overview(tmp_path).rows] == ["test hood", "test hood"]
    assert overview(tmp_path).worked_out == 1  # the other was kept


def test_without_keeping_nothing_is_written(tmp_path):
    folder_of(tmp_path, **TWO)
    overview(tmp_path, keep=False)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["one.toml", "two.toml"]


def test_some_now_and_the_others_later(tmp_path):
    folder_of(tmp_path, **{f"job{number}": SMALL for number in range(5)})
    first = overview(tmp_path, most_new=2)
    assert [row.not_yet for row in first.rows] == [False, False, True, True, True]
    assert first.in_words == "5 jobs, 3 still to be worked out."
    second = overview(tmp_path, most_new=2)
    assert (second.worked_out, second.not_yet) == (2, 1)
    assert overview(tmp_path).not_yet == 0
    assert overview(tmp_path).worked_out == 0


# In order.

rows_of_many = st.lists(
    st.builds(
        Row,
        file=st.text("abc", min_size=1, max_size=3),
        name=st.sampled_from(["", "hood", "Hood", "cab"]),
        scale=st.sampled_from(["", "HO", "N", "O", "none such"]),
        steps=st.sampled_from([0, 4]),
        done=st.integers(0, 4),
    ),
    max_size=8,
    unique_by=lambda row: row.file,
)


@given(rows_of_many, st.sampled_from(ORDERS))
def test_sorting_loses_nothing_and_does_not_hang_on_what_was_before(rows, order):
    found = in_order(rows, order)
    assert sorted(found, key=lambda row: row.file) == sorted(rows, key=lambda row: row.file)
    assert in_order(rows[::-1], order) == found == in_order(found, order)


@given(rows_of_many)
def test_every_job_has_a_label_of_its_own(rows):
    assert sorted(labels(rows).values()) == sorted(row.file for row in rows)


def test_the_largest_model_first_and_what_has_no_scale_last():
    rows = [Row("a", "a", scale) for scale in ("N", "none such", "O", "HO", "S")]
    assert [row.scale for row in in_order(rows, "scale")] == ["O", "S", "HO", "N", "none such"]
    shares = [Row(name, name, steps=4, done=done) for name, done in (("a", 1), ("b", 4), ("c", 0))] + [Row("d", "d")]
    assert [row.file for row in in_order(shares, "least done")] == ["c", "a", "b", "d"]
    assert [row.file for row in in_order(shares, "most done")] == ["b", "a", "c", "d"]


def test_an_unknown_order_is_refused():
    text = r"^order is 'size'; write one of name, scale, least done, most done\.( Did you mean .*)?$"
    with pytest.raises(UnknownChoice, match=text):
        in_order([], "size")


def test_the_demo_jobs_are_six_rows(tmp_path):
    for path in DEMO_PATHS:
        shutil.copy(path, tmp_path)
    found = overview(tmp_path)
    assert [row.file for row in found.rows] == [path.name for path in DEMO_PATHS]
    assert found.in_words == f"{len(DEMO_PATHS)} jobs."
