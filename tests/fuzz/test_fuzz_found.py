"""What the fuzzer found, each with the input that showed it: refused in words now, and in no time."""

from __future__ import annotations

import json
import zipfile
from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import pytest
from sample_jobs import DEMOS, SMALLEST, with_chamber

from modelmath.cli import find_job
from modelmath.cutting import plan_cuts
from modelmath.cutting.sheet_layout.layout import lay_out_sheet
from modelmath.cutting.sheet_layout.stock import SheetPart, SheetStock
from modelmath.cutting.stock import MOST_PIECES, CutPart, CutStock, check_pieces
from modelmath.enclosure.stepped.tables import LARGEST
from modelmath.errors import JobError, ModelMathError, OutOfRange, UnreadableLength, WrongKind, nearest
from modelmath.job.entries.screen import entries_of, read_entries
from modelmath.job.entries.zones import with_zones, zone_rows
from modelmath.job.plan import plan
from modelmath.job.storage.text import parse_job
from modelmath.lengths.calibration import Gauge, calibrate
from modelmath.lengths.full_size.drawing_lines import read_limit, read_measured
from modelmath.lengths.full_size.resizing import scales_listed
from modelmath.lengths.full_size.sides import unit_behind
from modelmath.lengths.numbers import FINEST_PER_MM, check_common_step
from modelmath.lengths.rules import Rule
from modelmath.lengths.table.sources import take
from modelmath.materials.drawer.items import read_item
from modelmath.materials.drawer.states import DrawerFault
from modelmath.materials.drawer.store import load_drawer
from modelmath.materials.drills.names import drill
from modelmath.materials.drills.typed import plain_number, wire_sizes
from modelmath.materials.drills.wire import awg
from modelmath.sound.measuring.sweep import read_sweep
from modelmath.widgets import FleetPanel, ReadingsPanel, StripsPanel
from modelmath.workbook.folder import FolderRefused, fingerprint, prepare

MILLION = 1_000_000
LONGER = "it is longer than 150 characters; write 203.1 mm, or 203.1 ± 0.3 mm."


def said(error) -> str:
    return str(error.value)


# Long texts: each took time that grew with the square of its length, or came back whole in a message.


@pytest.mark.parametrize("sign", ["x", " ", "scale ", "'"])
def test_a_unit_is_looked_for_at_the_end_alone(sign):
    assert unit_behind(sign * MILLION + " 8 scale in") == "scale inch"
    assert unit_behind("8 scale" + " " * MILLION + "in") == "scale inch"
    assert unit_behind("x" * MILLION) is None


@pytest.mark.parametrize("read", [read_measured, read_limit])
def test_a_pasted_page_is_no_measurement(read):
    with pytest.raises(UnreadableLength) as error:
        read("12" + "\x0b" * MILLION + "px")
    assert said(error).endswith(LONGER)


def test_a_head_of_brackets_is_not_taken_apart():
    with pytest.raises(WrongKind, match=r"^"):
        read_sweep("[" * MILLION + "; z\n1; 2")


def test_a_head_may_go_over_two_lines():
    assert read_sweep('f [Hz];"|Z|\n[ohm]"\n100;7,1').impedance_ohm == (7.1,)


def test_a_long_number_is_no_drill_and_is_not_said_again():
    with pytest.raises(UnreadableLength) as error:
        drill("9" * 5000)
    assert "it is longer than 60 characters; write " in said(error)
    assert len(said(error)) < 300


@pytest.mark.parametrize("column", ["diameter", "count"])
def test_a_long_cell_is_not_said_again(column):
    row = {"kind": "strip", "name": "HO 6x10", "length": "280 mm", column: "9" * 5000}
    with pytest.raises(ModelMathError) as error:
        read_item(row)
    assert len(said(error)) < 300


def test_further_spots_that_are_a_pasted_page_are_told_short():
    job = DEMOS["centre-cab-s"]
    rows = zone_rows(job)
    with pytest.raises(ModelMathError) as error:
        with_zones(job, [replace(rows[0], spots="spot = " * 2000), *rows[1:]])
    assert "'spot = spot = " in said(error)
    assert len(said(error)) < 300


def test_a_count_of_wires_of_five_thousand_figures_is_no_count():
    with pytest.raises(ModelMathError) as error:
        wire_sizes("0" + "9" * 5000 + " x 1 mm")
    assert len(said(error)) < 300


def test_a_page_of_commas_is_no_list_of_scales():
    """Each comma was looked past to the end of the text for a bracket that closes."""
    with pytest.raises(OutOfRange) as error:
        scales_listed("HO," * MILLION)
    assert said(error) == (
        "the list of scales is 3,000,000 characters long; it must be 2000 characters or fewer. Write such as HO, N, O."
    )


def test_a_million_figures_are_no_plain_number():
    with pytest.raises(UnreadableLength) as error:
        plain_number("0" + "9" * MILLION, -50, 150, "20")
    assert said(error).endswith(": it is no plain number; write 20.")


@pytest.mark.parametrize("name", ["0" + "9" * 5000, "7/" + "3" * 5000, "0" * MILLION])
def test_a_gauge_of_five_thousand_figures_is_no_gauge(name):
    with pytest.raises(UnreadableLength) as error:
        awg(name)
    assert "it is longer than 60 characters; write " in said(error)


def test_a_page_is_near_no_word():
    """Letter by letter, to find that out of a million took half a second."""
    assert nearest("scale foot" * 100_000, ["scale foot", "mm"]) == []


def test_a_field_whose_name_is_a_page_is_told_short():
    found, faults = parse_job('[speaker]\n"travel' + " = " * 5000 + '" = "1 mm"\n', "hood.toml")
    assert found is None
    assert max(len(str(each)) for each in faults) < 1000


def test_a_size_that_is_a_page_with_a_fraction_in_it_is_told_short():
    job = DEMOS["railbus-ho"]
    found = read_entries(entries_of(job) | {"speaker_width": ", 1/16" + " = " * 5000}, job)
    assert "it is longer than 60 characters; write " in found.messages["speaker_width"]
    assert len(found.messages["speaker_width"]) < 300


# Gauges.


@pytest.mark.parametrize(
    ("rule", "gauges"),
    [
        (Rule(scale="HO", zero_offset="1"), [Gauge("leaf", 0.04, "1/4"), Gauge("other leaf", 1.0, "1/4")]),
        (
            Rule(unit="mm", graduation="0.5", zero_offset="4", offset_uncertainty="0.1 mm", length="300"),
            [Gauge("x", 70.0, "19", tolerance_mm=0.02), Gauge("y", 73.075, "19", tolerance_mm=0.02)],
        ),
    ],
)
def test_different_lengths_at_one_mark_are_no_line(rule, gauges):
    text = (
        "the line through the points is upright: one mark stands for different lengths; it must be slanting. "
        "Check lengths and marks."
    )
    with pytest.raises(OutOfRange) as error:
        calibrate(rule, gauges)
    assert said(error) == text


# Files written by another hand.


def book(sheet: str, gone: tuple[str, ...] = ()) -> bytes:
    """A spreadsheet whose first sheet is that text."""
    import openpyxl

    made, out = BytesIO(), BytesIO()
    openpyxl.Workbook().save(made)
    with zipfile.ZipFile(made) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            if name not in gone:
                new.writestr(name, sheet if name.endswith("sheet1.xml") else old.read(name))
    return out.getvalue()


HEAD = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row>'
FOOT = "</row></sheetData></worksheet>"
UNREAD = "the file is no spreadsheet that can be read; expected an .xlsx file. Save it again."


@pytest.mark.parametrize(
    "sheet",
    [
        f'{HEAD}<c r="B1"><v>--1</v></c>{FOOT}',  # no number
        f'{HEAD}<c r="B1" t="s"><v>1</v></c>{FOOT}',  # a shared text that is not there
        f"{HEAD}<c>{FOOT}",  # never closed
        "no XML at all",
        f'{HEAD}</row></sheetData><pageMargins booter="1"/></worksheet>',
    ],
)
def test_a_damaged_sheet_is_refused_wherever_it_comes_to_grief(sheet):
    with pytest.raises(WrongKind) as error:
        take(book(sheet))
    assert said(error) == UNREAD


def test_a_spreadsheet_without_its_sheet_is_refused():
    with pytest.raises(WrongKind) as error:
        take(book(HEAD + FOOT, gone=("xl/worksheets/sheet1.xml", "xl/_rels/workbook.xml.rels")))
    assert said(error) in (
        UNREAD,
        "the spreadsheet is without a sheet of cells; expected one with a table. Put the table on a sheet.",
    )


def test_half_a_character_in_a_pasted_table_is_refused():
    with pytest.raises(OutOfRange) as error:
        take("name;mark\nroof\udce4;3")
    assert said(error) == "the table is broken; it must be text whose signs are whole. Copy it again."


@pytest.mark.parametrize("read", [take, read_sweep])
def test_a_name_with_a_nul_in_it_is_no_file(read):
    with pytest.raises(
        WrongKind, match=r"^the file is .*\(it can't be read\); expected a file to read\. Check its name\.$"
    ):
        read("a\0b.csv")


def test_a_power_of_ten_in_a_drawer_is_refused_at_once(tmp_path):
    """1e999999999 as an exact fraction would take hours, and all memory."""
    file = tmp_path / "drawer.json"
    rows = [{"kind": "strip", "name": "HO 6x10", "count": 1, "length_mm": "1e999999999"}]
    state = {"what": "", "demo": "", "items": rows}
    file.write_text(json.dumps({"format": 1, "number": 1, "at": 0, "states": [state]}))
    with pytest.raises(DrawerFault, match=r"it holds no drawer that can be read \(ValueError\)"):
        load_drawer(file)


def test_half_a_character_in_a_drawer_is_refused_before_it_can_not_be_written(tmp_path):
    file = tmp_path / "drawer.json"
    state = {"what": "\ud800", "demo": "", "items": []}
    file.write_text(json.dumps({"format": 1, "number": 1, "at": 0, "states": [state]}))
    with pytest.raises(DrawerFault, match=r"it holds no drawer that can be read \(UnicodeEncodeError\)"):
        load_drawer(file)


def test_a_notebook_or_record_nested_past_reason_is_one_that_its_owner_changed(tmp_path):
    deep = b"[" * 100_000
    assert fingerprint("a.ipynb", deep) == fingerprint("a.txt", deep)
    prepare(tmp_path, {"b.toml": b"x"})
    record = next(path for path in tmp_path.rglob("*") if path.is_file() and path.name != "b.toml")
    record.write_bytes(deep)
    assert prepare(tmp_path, {"b.toml": b"x"}).folder == tmp_path.resolve()


@pytest.mark.parametrize("name", ["a" * 5000, "~nobody-of-that-name/a.toml", "~\ud800", "~a\0b", "a\0b"])
def test_a_name_that_no_system_takes_is_no_job(name):
    with pytest.raises(JobError, match=r"no such file; write the path of a job file, or a demo job: "):
        find_job(name)


def test_a_workbook_in_the_home_of_nobody_is_refused():
    from pathlib import Path

    with pytest.raises(FolderRefused, match=r"is in no home folder that is known"):
        prepare(Path("~nobody-of-that-name/workbook"))


# Jobs.


def primes(count: int) -> list[int]:
    found, number = [], 10**9
    while len(found) < count:
        number += 1
        if all(number % each for each in range(2, 31_700)):
            found.append(number)
    return found


def fine(count: int):
    """A job of so many zones, the marks of which have no step in common."""
    parts = primes(2 * count)
    readings = [each.model_dump() for each in with_chamber().readings[:3]]
    readings.append({"name": "length", "mark": str(count * 2 + 2), "on": "shell"})
    zones = []
    for each in range(count):
        readings.append({"name": f"top {each}", "mark": f"5 7/{parts[each]}"})
        zone = {**with_chamber().zones[0].model_dump(), "name": f"zone {each}", "chassis_top": f"top {each}"}
        if each < count - 1:
            readings.append({"name": f"end {each}", "mark": f"{each * 2 + 2} 3/{parts[-1 - each]}", "on": "shell"})
            zone["end"] = f"end {each}"
        zones.append(zone)
    return with_chamber(readings=readings, zones=zones)


def test_marks_past_64_bits_are_still_added_exactly():
    """Three denominators of ten figures each: past 2**62 of a mm, and well within what is counted in."""
    assert primes(1)[0] ** 3 > LARGEST
    made = plan(fine(2))
    assert made.chamber is not None
    assert made.stepped is not None


def test_marks_with_no_step_in_common_are_refused():
    with pytest.raises(OutOfRange) as error:
        _ = plan(fine(8)).chamber
    assert said(error) == (
        "the set of sizes of the cavity is one of fractions that have no step in common above 1e-60 mm; it must be one "
        "with a coarser step. Write them as a rule shows them, such as 5 1/4 or 15.9 mm."
    )
    assert check_common_step("lengths", FINEST_PER_MM) == FINEST_PER_MM


def test_a_scale_error_next_to_nothing_is_refused_where_it_is_counted_in():
    rule = {**SMALLEST["rules"][0], "scale_error": 1e-300}
    with pytest.raises(OutOfRange, match=r"^the set of sizes of the cavity is one of fractions"):
        _ = plan(with_chamber(rules=[rule])).sheet_layout


def test_a_height_over_which_the_gap_is_read_is_not_asked_for():
    job = DEMOS["centre-cab-s"]
    zone = next(at for at, each in enumerate(job.zones) if each.gap)
    found = read_entries(entries_of(job, zone) | {"chassis": "5 1/4"}, job, zone)
    assert found.messages == {
        "chassis": f"'5 1/4': over '{job.zones[zone].name}' the gap itself is read; write nothing here, or take the "
        "gap out of the table of zones first."
    }


# Cut plans.


def test_half_a_million_sheets_on_hand_are_no_more_work_than_the_pieces():
    """999 of each of 500 sizes took half a minute; no more of one size count than there are pieces."""
    part = SheetPart("floor", Fraction(20), Fraction(10), 3, ".040 sheet")
    rows = [
        SheetStock(".040 sheet", Fraction(30 + at), Fraction(30), 999, thickness_mm=Fraction(1)) for at in range(500)
    ]
    few = [SheetStock(".040 sheet", Fraction(30 + at), Fraction(30), 3, thickness_mm=Fraction(1)) for at in range(500)]
    assert lay_out_sheet([part], rows).sheets == lay_out_sheet([part], few).sheets


def strips_of(pieces: int):
    return plan_cuts([CutPart("post", Fraction(21), pieces, "HO 6x10")], [CutStock("HO 6x10", Fraction(300))])


def sheets_of(pieces: int):
    stock = SheetStock("HO 6x10", Fraction(300), Fraction(200), thickness_mm=Fraction(1))
    return lay_out_sheet([SheetPart("post", Fraction(21), Fraction(10), pieces, "HO 6x10")], [stock])


@pytest.mark.parametrize("plan_of", [strips_of, sheets_of])
def test_a_million_pieces_are_refused(plan_of):
    with pytest.raises(OutOfRange) as error:
        plan_of(MILLION)
    assert said(error) == (
        "the list of parts from HO 6x10 is 1,000,000 pieces long; it must be 20,000 pieces or fewer. "
        "Plan them in several lots."
    )
    check_pieces("HO 6x10", MOST_PIECES)


# Panels.


def test_the_summary_says_what_is_wrong_with_an_entry(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = ReadingsPanel()
    panel.fields["mark"].value = "1/0"
    assert panel.summary == "'1/0': a fraction can't have 0 below the line; write a fraction such as 3/4."
    strips = StripsPanel()
    strips.fields["height"].value = "tall"
    assert strips.summary.startswith("'tall': ")


@pytest.mark.parametrize("folder", ["a" * 5000, "~nobody-of-that-name"])
def test_a_folder_that_no_system_takes_is_said_beside_its_field(folder, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = FleetPanel(tmp_path)
    panel.fields["folder"].value = folder
    assert "expected one with jobs. Write its name, such as jobs." in panel.fields["folder"].message
