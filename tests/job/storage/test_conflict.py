"""Two that write one job file: neither overwrites what the other has written since it was read."""

from __future__ import annotations

import pickle
import re
import subprocess
import sys
from pathlib import Path

import pytest
from killing import add_ones, number_of, numbered, said, started
from sample_jobs import job

from modelmath.errors import JobError
from modelmath.job.storage.copies import Conflict, locked, previous_copy
from modelmath.job.storage.files import load_job, open_job, save_job, store_job


@pytest.fixture
def file(tmp_path) -> Path:
    return save_job(job(), tmp_path / "hood.toml", since="")


def visible(file: Path) -> list[str]:
    return sorted(each.name for each in file.parent.iterdir() if each.name != ".modelmath")


def test_an_unchanged_file_is_saved_over_and_its_copy_kept(file):
    opened, before = open_job(file), file.read_bytes()
    saved = store_job(job(name="mine"), file, opened.mark)
    assert load_job(file).name == "mine"
    assert saved.previous == previous_copy(file)
    assert saved.previous.read_bytes() == before
    assert str(saved) == f"Saved as {file}. As it was before: {file.parent}/.modelmath/previous/hood.toml."
    assert saved.mark == open_job(file).mark
    store_job(job(name="mine again"), file, saved.mark)
    assert load_job(previous_copy(file)).name == "mine"


def test_saving_the_same_again_keeps_the_copy_before_it(file):
    save_job(job(name="mine"), file)
    assert store_job(job(name="mine"), file).previous is None
    assert load_job(previous_copy(file)).name == "test hood"


def test_a_file_changed_elsewhere_is_left_and_both_are_kept(file):
    opened = open_job(file)
    save_job(job(name="theirs"), file)
    text = (
        f"{file}: it was changed elsewhere since it was read, and is left as it is; yours is kept beside it as "
        "hood-changed-here.toml: compare the two, and give one another name."
    )
    with pytest.raises(Conflict, match=f"^{re.escape(text)}$") as found:
        save_job(job(name="mine"), file, opened.mark)
    assert load_job(file).name == "theirs"
    assert load_job(file.with_name(found.value.ours)).name == "mine"
    assert str(pickle.loads(pickle.dumps(found.value))) == text


def test_the_same_job_is_kept_beside_it_once_and_another_under_a_number(file):
    opened = open_job(file)
    save_job(job(name="theirs"), file)
    for name in ("mine", "mine", "mine too"):
        with pytest.raises(Conflict):
            save_job(job(name=name), file, opened.mark)
    assert visible(file) == ["hood-changed-here-2.toml", "hood-changed-here.toml", "hood.toml"]
    assert load_job(file.with_name("hood-changed-here-2.toml")).name == "mine too"


def test_a_file_that_came_up_meanwhile_is_a_conflict(tmp_path, file):
    with pytest.raises(Conflict):
        save_job(job(name="mine"), file, since="")


def test_both_having_made_the_same_change_is_none(file):
    opened = open_job(file)
    save_job(job(name="agreed"), file)
    assert save_job(job(name="agreed"), file, opened.mark) == file
    assert visible(file) == ["hood.toml"]


def test_a_file_that_was_deleted_meanwhile_is_written_anew(file):
    opened = open_job(file)
    file.unlink()
    save_job(job(name="mine"), file, opened.mark)
    assert load_job(file).name == "mine"


def test_a_file_damaged_meanwhile_is_left_and_ours_is_kept(file):
    opened = open_job(file)
    file.write_bytes(b'name = "cut o')
    with pytest.raises(Conflict):
        save_job(job(name="mine"), file, opened.mark)
    assert file.read_bytes() == b'name = "cut o'
    assert load_job(file.with_name("hood-changed-here.toml")).name == "mine"


def test_comments_of_their_version_are_in_ours_too(file):
    opened = open_job(file)
    file.write_text("# their remark\n" + file.read_text("utf-8"), "utf-8")
    with pytest.raises(Conflict):
        save_job(job(name="mine"), file, opened.mark)
    assert file.with_name("hood-changed-here.toml").read_text("utf-8").startswith("# their remark\n")


def test_a_job_that_is_gone_is_looked_for_where_its_copy_is(file):
    save_job(job(name="mine"), file)
    file.unlink()
    text = (
        f"{file}: there is no such file; check the name and the folder; as it was before its last save, it is kept as "
        f"{file.parent}/.modelmath/previous/hood.toml."
    )
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        load_job(file)


def test_a_layout_that_can_t_be_kept_up_is_said_and_its_comments_are_in_the_copy(tmp_path):
    file = tmp_path / "odd.toml"
    odd = 'readings = [{name="a", mark="1"}]  # mine\nname = "x"\nscale = "HO"\nrules = [{name = "r"}]\n'
    file.write_text(odd + 'marking.rule = "r"\nclearance.keep = "1 mm"\nzones = [{name = "z"}]\n', "utf-8")
    found = load_job(file)
    saved = store_job(found.model_copy(update={"name": "y"}), file)
    assert load_job(file).name == "y"
    assert saved.comments_lost == ("# mine" not in file.read_text("utf-8"))
    assert "# mine" in previous_copy(file).read_text("utf-8")


# Processes of their own.

SAVE = "import sys; from modelmath.job import load_job, save_job; from pathlib import Path\n"
SAVE += "p = Path(sys.argv[1]); save_job(load_job(p).model_copy(update={'name': 'theirs'}), p)"


def test_another_process_that_saved_meanwhile_is_seen(file):
    opened = open_job(file)
    subprocess.run([sys.executable, "-c", SAVE, str(file)], check=True)
    with pytest.raises(Conflict):
        save_job(job(name="mine"), file, opened.mark)
    assert load_job(file).name == "theirs"
    assert load_job(file.with_name("hood-changed-here.toml")).name == "mine"


def test_no_count_is_lost_between_processes_that_count_one_job_up(tmp_path):
    file = save_job(numbered(0), tmp_path / "hood.toml")
    running = [started(add_ones, file, 15) for _ in range(2)]
    conflicts = [said(hear) for _, hear in running]
    for process, _ in running:
        process.join()
    assert number_of(load_job(file)) == 30
    assert all(len(each) == 1 for each in conflicts)
    kept = [load_job(each) for each in tmp_path.glob("hood-changed-here*.toml")]
    assert len(kept) <= sum(each[0] for each in conflicts)
    assert all(1 <= number_of(each) <= 30 for each in kept)


def test_a_file_that_another_is_writing_is_waited_for_and_then_said(file, monkeypatch):
    monkeypatch.setattr("modelmath.job.storage.copies.WAIT_S", 0.05)
    before = file.read_bytes()
    text = (
        "hood.toml: another page has been writing it for 0.05 s; close other pages of the workbook and try again; "
        "nothing was changed."
    )
    with locked(file), pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        save_job(job(name="mine"), file)
    assert file.read_bytes() == before
