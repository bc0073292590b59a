"""Work in steps gives what it gives at once, however it is cut into slices; what it tells only grows."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import job

from modelmath.cutting.from_drawer import Settings, cut_list, cut_list_in_steps
from modelmath.cutting.typed import read_parts
from modelmath.drawings.sheets.packet import packet_pdf, packet_pdf_in_steps, write_packet_in_steps
from modelmath.job import load_job, plan
from modelmath.job.fleet.folder import overview, overview_in_steps
from modelmath.job.fleet.kept import kept_file
from modelmath.job.fleet.together import cut_together, cut_together_in_steps, settings_of
from modelmath.job.storage.text import job_text
from modelmath.lengths.rules import Rule
from modelmath.lengths.table import read_table
from modelmath.lengths.table.writing import write_table, write_table_in_steps
from modelmath.steps import Progress, at_once, part_of
from modelmath.tables import data_folder

HOW = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction(355), (Fraction(304), Fraction(152)))
PARTS = """post; 21 mm; 4; HO 6x10
beam; 60 mm; 3; HO 6x10
strut; 33 mm; 5; .040 x .125
plate; 30 x 20 mm; 4; .040 sheet
side; 40 x 11 mm; 2; .020 sheet"""


def told(steps):
    """Run steps, and return all that they told, and what they came to."""
    found = []
    while True:
        try:
            found.append(next(steps))
        except StopIteration as last:
            return found, last.value


def plan_of(name):
    return plan(load_job(data_folder() / "jobs" / f"{name}.toml"))


@given(st.lists(st.integers(1, 5), min_size=1, max_size=5))
def test_parts_of_longer_work_tell_more_and_more_and_hand_on_what_they_come_to(counts):
    def one(count):
        for number in range(count):
            yield Progress(f"{number}", number / count)
        return count

    def whole():
        found = []
        for number, count in enumerate(counts):
            found.append((yield from part_of(one(count), number / len(counts), (number + 1) / len(counts))))
        return found

    said, result = told(whole())
    assert result == at_once(whole()) == counts
    shares = [each.share for each in said]
    assert shares == sorted(shares)
    assert 0 <= shares[0] <= shares[-1] < 1
    assert len(said) == sum(counts)


def test_work_that_fails_fails_as_part_of_longer_work_too():
    def fails():
        yield Progress("first")
        raise OSError("no room left")

    with pytest.raises(OSError, match=r"^no room left$"):
        at_once(part_of(fails(), 0.0, 1.0))


def test_a_list_is_cut_alike_in_steps_and_each_kind_is_named():
    listed = read_parts(PARTS)
    said, result = told(cut_list_in_steps(listed, None, HOW))
    assert result == cut_list(listed, None, HOW)
    named = ["Cutting from HO 6x10", "Cutting from .040 x .125", "Laying out on .040 sheet", "Laying out on .020 sheet"]
    assert list(dict.fromkeys(each.doing.split(":")[0] for each in said)) == named
    assert said[0] == Progress("Cutting from HO 6x10: fewest strips to buy", 0.0)
    shares = [each.share for each in said]
    assert shares == sorted(shares)


def test_a_part_too_long_is_left_out_alike_in_steps():
    listed = read_parts("mast; 900 mm; 1; HO 6x10\npost; 21 mm; 1; HO 6x10")
    said, result = told(cut_list_in_steps(listed, None, HOW))
    assert result == cut_list(listed, None, HOW)
    assert [each.doing for each in said if "place" in each.doing] == [
        "Looking for a place for mast",
        "Looking for a place for post",
    ]
    assert len(result.left_out) == 1


def test_two_jobs_are_cut_together_alike_in_steps():
    plans = {name: plan_of(name) for name in ("switcher-ho", "railcar-n")}
    how = settings_of(plans["switcher-ho"])
    said, result = told(cut_together_in_steps(plans, None, how))
    assert result == cut_together(plans, None, how)
    assert said[0] == Progress("Sizing the parts of switcher-ho", 0.0)
    shares = [each.share for each in said]
    assert shares == sorted(shares)


def test_a_packet_is_the_same_byte_by_byte_while_another_one_is_drawn_in_between():
    made = plan(job())
    waiting = {"A4": packet_pdf_in_steps(made), "Letter": packet_pdf_in_steps(made, "Letter")}
    ends, shares = {}, {paper: [] for paper in waiting}
    while waiting:
        for paper, steps in list(waiting.items()):
            try:
                shares[paper].append(next(steps).share)
            except StopIteration as last:
                ends[paper] = last.value
                del waiting[paper]
    assert ends == {paper: packet_pdf(made, paper) for paper in shares}
    assert all(told == sorted(told) for told in shares.values())


def test_a_packet_left_off_leaves_the_files_that_were_there(tmp_path):
    older = tmp_path / "older.pdf"
    older.write_bytes(b"older")
    steps = write_packet_in_steps(plan(job()), tmp_path)
    said = [next(steps) for _ in range(21)]
    steps.close()
    assert (said[0], said[-1].doing) == (Progress("Drawing the bench card", 0.0), "Drawing Overview")
    assert [file.name for file in tmp_path.iterdir()] == ["older.pdf"]
    assert older.read_bytes() == b"older"


def test_a_table_is_written_alike_in_steps_and_not_at_all_when_left_off(tmp_path):
    rows = "\n".join(f"r{number}; {number % 9 + 1} 1/4" for number in range(1200))
    table = read_table(rows, Rule(scale="HO", graduation="1/4"))
    half = write_table_in_steps(table, tmp_path / "half.xlsx")
    assert [next(half).doing for _ in range(2)] == [
        "Filling the spreadsheet, row 0 of 1,200",
        "Filling the spreadsheet, row 500 of 1,200",
    ]
    half.close()
    assert list(tmp_path.iterdir()) == []
    said, file = told(write_table_in_steps(table, tmp_path / "all.xlsx"))
    assert [each.share for each in said] == sorted(each.share for each in said)
    again = read_table(file.read_bytes(), Rule(scale="HO", graduation="1/4"))
    at_all = write_table(table, tmp_path / "at once.xlsx")
    assert again.frame.equals(read_table(at_all.read_bytes(), Rule(scale="HO", graduation="1/4")).frame)
    assert len(again.frame) == 1200


def test_jobs_worked_out_before_the_work_was_left_off_are_kept(tmp_path):
    for number in range(3):
        (tmp_path / f"job{number}.toml").write_text(job_text(job()), "utf-8")
    steps = overview_in_steps(tmp_path)
    assert [next(steps).doing for _ in range(3)] == [f"Working out job{n}.toml, {n + 1} of 3" for n in range(3)]
    steps.close()
    assert kept_file(tmp_path).exists()
    found = overview(tmp_path)
    assert (found.worked_out, found.not_yet) == (1, 0)
    assert overview(tmp_path).rows == found.rows
