"""Parts, holes and cuts as CSV and as a spreadsheet, read back by csv, openpyxl and pandas."""

from __future__ import annotations

import csv
import re
import zipfile
from collections import Counter
from datetime import datetime
from io import BytesIO, StringIO

import pandas as pd
import pytest
from crowded import crowded
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook
from sheets import DEMOS, demo, least
from spacious import spacious

from modelmath.drawings.tables.files import parts_csv, parts_sheet_file, save_parts_csv, save_parts_sheet
from modelmath.drawings.tables.rows import CUT_HEADS, HOLE_HEADS, PART_HEADS, cuts_table, parts_table
from modelmath.errors import DoesNotFit, JobError
from modelmath.lengths.table.guard import unguarded

IN = 25.4  # mm, exact: NIST Special Publication 811 (2008), B.8
PLANS = {**{name: demo(name) for name in DEMOS}, "crowded": crowded(), "least": least()}


@pytest.fixture(params=PLANS.values(), ids=PLANS)
def each_plan(request):
    return request.param


def frames(plan):
    return pd.read_excel(BytesIO(parts_sheet_file(plan)), sheet_name=None)


def test_one_plan_gives_the_same_bytes_at_any_time(monkeypatch):
    """Made years apart: neither the packing nor the properties carry a date."""
    plan = demo()
    first, table = parts_sheet_file(plan), parts_csv(plan)

    class Later(datetime):
        @classmethod
        def now(cls, tz=None):
            return cls(2031, 5, 3, 12, 30, 5, tzinfo=tz)

    monkeypatch.setattr("openpyxl.writer.excel.datetime.datetime", Later)
    monkeypatch.setattr("openpyxl.packaging.core.datetime.datetime", Later)
    monkeypatch.setattr("time.time", lambda: 1.9e9)  # what a ZIP file's entries are dated by: March 2030
    later = parts_sheet_file(demo())
    assert later == first
    assert parts_csv(demo()) == table
    with zipfile.ZipFile(BytesIO(later)) as parts:
        assert {each.date_time for each in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert parts.testzip() is None
        assert not re.search(rb"\d{4}-\d\d-\d\dT", parts.read("docProps/core.xml"))
    assert load_workbook(BytesIO(later)).properties.title == plan.job.name


def rows_of_csv(plan):
    return list(csv.DictReader(StringIO(parts_csv(plan).decode("utf-8-sig"))))


def test_there_is_a_row_for_each_part_with_its_sizes_in_both_units(each_plan):
    rows = rows_of_csv(each_plan)
    assert [row["part"] for row in rows] == [line.part.name for line in each_plan.lines]
    for row, line in zip(rows, each_plan.lines, strict=True):
        part = line.part
        assert int(row["pieces for one model"]) == part.count
        assert float(row["cut length (mm)"]) == pytest.approx(float(part.cut.cut_mm), abs=5e-5)
        assert float(row["cut length (in)"]) * IN == pytest.approx(float(part.cut.cut_mm), abs=5e-5)
        assert row["set the rule at"] == line.setting.text
        assert row["cut from"] == line.stock_text
        assert unguarded(row["made to"]) == part.made_to
        assert (row["width (mm)"] == "") == (part.width_mm is None)
        if part.width_mm is not None:
            assert float(row["width (mm)"]) == pytest.approx(float(part.width_mm), abs=5e-5)
            assert float(row["width (in)"]) * IN == pytest.approx(float(part.width_mm), abs=5e-5)


def test_the_uncertainty_is_the_rules_and_the_cuttings_in_square(each_plan):
    """JCGM 100:2008, 5.1.2 and 4.3.7: independent variances add; a rectangle's is its half-width squared over 3."""
    tolerance = float(each_plan.bench.length(each_plan.job.build.cutting_tolerance, "build", "cutting_tolerance"))
    for row, line in zip(rows_of_csv(each_plan), each_plan.lines, strict=True):
        marked = each_plan.marks.rule.marked_out(line.part.cut.cut_mm, each_plan.marks.datum).std_dev
        wanted = (marked**2 + tolerance**2 / 3) ** 0.5
        assert float(row["uncertainty of the length (mm)"]) == pytest.approx(wanted, abs=5e-5)


def test_csv_and_spreadsheet_say_the_same(each_plan):
    sheet = frames(each_plan)["Parts"]
    read = pd.read_csv(BytesIO(parts_csv(each_plan)))
    pd.testing.assert_frame_equal(sheet, read, check_dtype=False)
    assert tuple(sheet.columns) == PART_HEADS


def test_numbers_are_numbers_and_every_heading_of_one_has_its_unit(each_plan):
    for name, frame in frames(each_plan).items():
        for head in frame.columns:
            numeric = pd.api.types.is_numeric_dtype(frame[head]) and frame[head].notna().any()
            if re.search(r"\((mm|in)\)$", head):
                assert numeric or frame[head].isna().all(), (name, head)
            else:
                assert not numeric or head.startswith("pieces"), (name, head)


def test_holes_are_those_of_the_plan(each_plan):
    frame = frames(each_plan)["Holes"]
    assert tuple(frame.columns) == HOLE_HEADS
    for wall in each_plan.hole_places:
        rows = frame[frame["in the part"] == wall.wall]
        assert rows["hole"].tolist() == [mark.tag for mark in wall.marks]
        assert rows["drill"].tolist() == [hole.hole.drill for hole in wall.layout.holes]
        for (_, row), hole in zip(rows.iterrows(), wall.layout.holes, strict=True):
            assert row["diameter (mm)"] == pytest.approx(2 * hole.radius_mm, abs=5e-5)
            assert row["diameter (in)"] * IN == pytest.approx(2 * hole.radius_mm, abs=5e-5)
            assert row["right of the centre line (mm)"] == pytest.approx(hole.x_mm, abs=1e-4)
            assert row["from the left edge (mm)"] == pytest.approx(wall.layout.from_left_mm(hole), abs=1e-4)
            assert row["above the lower edge (mm)"] == pytest.approx(hole.y_mm, abs=1e-4)


def test_the_cut_plan_has_every_piece_and_no_two_overlap(each_plan):
    frame = frames(each_plan)["Cut plan"]
    assert tuple(frame.columns) == CUT_HEADS
    pieces = frame[~frame["piece"].str.startswith("left over")]
    counted = Counter(pieces[pieces["from"] != "sheet"]["piece"])
    for line in each_plan.lines:
        laid = line.sheet is None or line.part.width_mm is not None
        if laid and line.picks:
            assert counted[line.part.name] == line.part.count * each_plan.models
    for _, strip in pieces[pieces["from"].str.startswith("strip")].groupby("from"):
        end = 0.0
        for _, row in strip.sort_values("starts at, along (mm)").iterrows():
            assert row["starts at, along (mm)"] >= end - 1e-4
            end = row["starts at, along (mm)"] + row["length as it lies (mm)"]
        assert end <= strip["stock length (mm)"].iloc[0] + 1e-4
    for _, sheet in pieces[pieces["from"].str.match(r"sheet \d")].groupby("from"):
        for at, one in enumerate(sheet.itertuples(index=False)):
            for other in list(sheet.itertuples(index=False))[:at]:
                apart = [
                    one[start] + one[size] <= other[start] + 1e-4 or other[start] + other[size] <= one[start] + 1e-4
                    for start, size in ((9, 6), (10, 8))
                ]
                assert any(apart)


def test_each_part_says_where_it_is_cut_off():
    plan = demo("railmotor-oo")
    table = cuts_table(plan)
    for row in parts_table(plan).rows:
        sources = {cut[0] for cut in table.rows if cut[5] == row[0]}
        assert set(str(row[7]).split(", ")) == sources


TEXTS = st.text(st.sampled_from("=+-@#1a'\"<&;,漢"), min_size=1, max_size=12)


@settings(max_examples=8, deadline=None)
@given(TEXTS)
def test_text_is_never_taken_for_a_formula(text):
    name = f"={text}"
    plan = spacious(lamps=[{"name": name, "end": "front", "room": "4 mm", "strand": "0.75 mm"}], name=f"={text}")
    content = parts_sheet_file(plan)
    for sheet in load_workbook(BytesIO(content)).worksheets:
        for row in sheet.iter_rows():
            assert {cell.data_type for cell in row} <= {"s", "n"}
    with zipfile.ZipFile(BytesIO(content)) as parts:
        assert not any(b"<f>" in parts.read(each) for each in parts.namelist() if "worksheets/" in each)
    for row in csv.reader(StringIO(parts_csv(plan).decode("utf-8-sig"))):
        assert not any(cell.startswith(("=", "+", "@", "\t")) for cell in row)


def test_a_name_that_looks_like_a_formula_is_kept_as_it_is():
    wires = [{"name": "=1+1", "diameter": "0.6 mm"}]
    book = load_workbook(BytesIO(parts_sheet_file(spacious(wires=wires))))
    (cell,) = [row[2] for row in book["Holes"].iter_rows(min_row=2)]
    assert (cell.value, cell.data_type, cell.number_format) == ("=1+1", "s", "@")


def test_what_the_cut_plan_can_t_give_is_said_in_its_sheet_and_the_others_stand():
    plan = spacious(build={"wall": "1 mm", "post": "2 mm", "new_strip": "10 mm"})
    with pytest.raises(DoesNotFit) as refused:
        _ = plan.cuts
    sheets = frames(plan)
    assert sheets["Cut plan"]["from"].tolist() == [str(refused.value)]
    assert len(sheets["Parts"]) == len(plan.lines)
    assert rows_of_csv(plan)[0]["cut off"] == ""


def test_without_parts_the_reason_is_given():
    plan = demo(clearance={"keep": "30 mm"})
    for make in (parts_csv, parts_sheet_file):
        with pytest.raises(DoesNotFit, match=r"^The bulkhead does not fit: "):
            make(plan)


def test_files_go_into_the_folder_asked_for_and_a_refusal_says_so(tmp_path):
    plan, folder = demo(), tmp_path / "new"
    files = [save_parts_csv(plan, folder), save_parts_sheet(plan, folder)]
    assert files == [folder / f"tarn-valley-switcher-no-31-parts.{kind}" for kind in ("csv", "xlsx")]
    assert files[0].read_bytes() == parts_csv(plan)
    assert load_workbook(files[1]).sheetnames == ["Parts", "Holes", "Cut plan"]
    taken = tmp_path / "notes.txt"
    taken.write_text("keep me")
    for save, name, what in ((save_parts_csv, "csv", "table"), (save_parts_sheet, "xlsx", "spreadsheet")):
        file = taken / f"tarn-valley-switcher-no-31-parts.{name}"
        text = f"{file}: the {what} can't be written: file exists; choose another folder."
        with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
            save(plan, taken)
