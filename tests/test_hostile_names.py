"""Names and notes made to do harm come out as text, whatever a job is turned into: pages, drawings, sheets, tables."""

from __future__ import annotations

import csv
import re
from contextlib import suppress
from io import StringIO

import ezdxf
import pytest
from crowded import crowded
from ezdxf.lldxf.encoding import decode_dxf_unicode
from hostile_names import MARK, NAMES, TURNING, renamed
from hostile_shown import (
    CONTROLS,
    TURNS,
    check_3mf,
    check_csv,
    check_dxf,
    check_html,
    check_pdf,
    check_svg,
    check_terminal,
    check_xlsx,
    marks_in,
)
from pydantic import ValidationError
from sample_jobs import DEMOS, job
from spacious import CLIP

from modelmath import cli, drawings, plan, widgets
from modelmath.drawings.cutting.dxf import cutting_dxf
from modelmath.drawings.cutting.svg import cutting_svg
from modelmath.drawings.shapes import in_its_order, plain
from modelmath.drawings.sheets.cuts import ListedCuts, cutting_pdf
from modelmath.drawings.solids.files import save_solids_3mf
from modelmath.drawings.tables.files import parts_csv, parts_sheet_file
from modelmath.errors import ModelMathError
from modelmath.job import load_job, save_job
from modelmath.job.storage.drafts import Draft, read_draft, write_draft
from modelmath.job.storage.files import read_job
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.store import load_drawer, save_drawer
from modelmath.materials.drawer.tables import as_csv, as_sheet, read_drawer
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Fold

CROWDED = crowded().job
FIGURES = (
    drawings.side_elevation_svg, drawings.plan_of_model_svg, drawings.end_view_svg, drawings.static_view_svg,
    drawings.readings_taken_svg,
)  # fmt: skip


def hostile(first: int, of: str = "gas-electric-o"):
    return renamed(CROWDED if of == "crowded" else DEMOS[of], NAMES, first)


def check_outputs(of: str, first: int, folder) -> set[str]:
    """Check all that a job is printed and exported as; return the names that its packet shows."""
    made = plan(hostile(first, of))
    for figure in FIGURES:
        with suppress(ModelMathError):  # a job has not each of them
            check_svg(figure(made))
    check_svg(cutting_svg(made))
    check_dxf(cutting_dxf(made))
    check_csv(parts_csv(made))
    check_xlsx(parts_sheet_file(made))
    assert check_3mf(save_solids_3mf(made, folder).read_bytes()) == marks_in(made.job.name)
    return check_pdf(drawings.packet_pdf(made))


@pytest.mark.parametrize(("of", "first"), [("gas-electric-o", 0), ("crowded", 60)])
def test_what_a_job_is_printed_and_exported_as_holds_its_names_as_text(of, first, tmp_path):
    assert len(check_outputs(of, first, tmp_path)) >= 20


# Pages.


def check_page(panel) -> set[str]:
    """Check every text of a panel with all that is folded away; return the names shown."""
    shown: set[str] = set()
    for widget in _all(getattr(panel, "view", panel)):
        assert not getattr(widget, "description_allow_html", False)
        assert type(widget).__name__ not in ("HTMLMath", "Label")  # both are typeset
        if type(widget).__name__ == "HTML":
            shown |= check_html(widget.value)
        elif hasattr(widget, "description") and type(widget).__name__ not in ("Button", "ToggleButton"):
            assert widget.description.count("$") < 2, widget.description
            assert not re.search(r"\\[(\[b]", widget.description), widget.description
    return shown


def _all(widget, seen: set[int] | None = None):
    seen = set() if seen is None else seen
    if id(widget) not in seen:
        seen.add(id(widget))
        yield widget
        for child in getattr(widget, "children", ()):
            yield from _all(child, seen)


def opened_page(name: str, monkeypatch, first: int, folder):
    """A page of a workbook that holds jobs with such names alone, everything unfolded."""
    monkeypatch.chdir(folder)
    jobs = folder / "jobs"
    jobs.mkdir(exist_ok=True)
    for number, of in enumerate(DEMOS):
        save_job(hostile(first + 40 * number, of), jobs / f"{of}.toml")
    folds: list[Fold] = []
    begin = Fold.__init__
    monkeypatch.setattr(Fold, "__init__", lambda self, *given: (begin(self, *given), folds.append(self))[0])
    kind = getattr(widgets, name)
    panel = kind.demo("gas-electric-o") if name == "EnclosurePanel" else kind()
    for fold in folds:
        fold.head.value = True
    return panel


PAGES = {"EnclosurePanel": 25, "FleetPanel": 15, "ClearancePanel": 4, "start_page": 0, "CutsPanel": 0}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_shows_names_as_text(name, tmp_path, monkeypatch):
    page = opened_page(name, monkeypatch, 5, tmp_path)
    assert len(check_page(page)) >= PAGES[name]


def test_notes_and_file_names_that_turn_or_steer_are_written_out_on_a_page(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    noted = job(notes=" ".join(TURNING))
    check_page(widgets.EnclosurePanel(noted))
    (tmp_path / "jobs").mkdir()
    for name in ("a\u202eb", "a\x1b[31mb", "<b>ran=1", "\udcff"):
        save_job(noted, tmp_path / "jobs" / f"{name}.toml")
    pages = [widgets.start_page(), widgets.FleetPanel()]
    for page in pages:
        check_page(page)
    shown = [str(getattr(each, "value", "")) for page in pages for each in _all(getattr(page, "view", page))]
    assert any("a\\u202eb" in each for each in shown)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("roof", "roof"),
        ("\u05d0\u05d1 1 1/8", "\u05d0\u05d1\u200e 1 1/8"),
        ("\u05d0 \u05d1: 3/8", "\u05d0 \u05d1\u200e: 3/8"),
        ("\u0645\u0648 x \u0645", "\u0645\u0648\u200e x \u0645\u200e"),
        ("½ ± 1", "½ ± 1"),
    ],
)
def test_a_name_from_right_to_left_does_not_turn_the_size_behind_it(text, shown):
    assert in_its_order(text) == shown
    assert look.text(text) == shown
    assert check_html(f"<p>{look.text(text)}</p>") == set()


def test_a_label_holds_no_formula():
    assert look.label(r"\(a\) $b$ \begin{c}") == "\\\u2060(a\\\u2060) ＄b＄ \\\u2060begin{c}"
    assert look.label("tank, $3") == "tank, $3"


# Files that are read again.


@pytest.mark.parametrize("first", [0, 50])
def test_job_and_draft_give_every_name_back(first, tmp_path):
    made = hostile(first)
    file = save_job(made, tmp_path / "hood.toml")
    assert load_job(file) == made
    write_draft(Draft(tmp_path / "hood.json", made, typed={"flange": NAMES[first]}))
    again = read_draft(tmp_path / "hood.json")
    assert again.job == made
    assert again.typed == {"flange": NAMES[first]}
    assert sorted(each.name for each in tmp_path.iterdir() if each.suffix) == ["hood.json", "hood.toml"]


def test_the_drawer_gives_every_note_back_from_each_of_its_files(tmp_path):
    held = Drawer(tuple(Item("drill", "#67", note=each[:120]) for each in NAMES))
    assert [each.note for each in load_drawer_saved(held, tmp_path).items] == [each.note for each in held.items]
    check_csv(as_csv(held))
    check_xlsx(as_sheet(held))
    (tmp_path / "drawer.xlsx").write_bytes(as_sheet(held))
    for source in (as_csv(held), tmp_path / "drawer.xlsx"):
        again, bad = read_drawer(source)
        assert bad == []
        wanted = [each.note.strip() for each in held.items]  # no spreadsheet file can hold two of the signs
        assert [each.note for each in again.items] == (wanted if isinstance(source, bytes) else _in_a_sheet(wanted))


def load_drawer_saved(held: Drawer, folder) -> Drawer:
    kept = load_drawer(folder / "drawer.json")
    save_drawer(folder / "drawer.json", held, kept.revision, "test")
    return load_drawer(folder / "drawer.json").drawer


def _in_a_sheet(names: list[str]) -> list[str]:
    return [re.sub("[\ufffe\uffff]", "\ufffd", each) for each in names]


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_a_table_of_readings_gives_every_name_back(ending, tmp_path):
    from modelmath.lengths.rules import Rule
    from modelmath.lengths.table import read_table, write_table

    names = [each for each in NAMES if not set(each) & set(';"\t')]
    rule = Rule(scale="HO", graduation="1/4")
    table = read_table("\n".join(f"{name}; 9 1/4" for name in names), rule)
    assert len(table.frame) >= 60
    file = write_table(table, tmp_path / f"readings{ending}")
    (check_csv if ending == ".csv" else check_xlsx)(file.read_bytes())
    again = read_table(file, rule)
    held = list(table.frame["name"])
    assert list(again.frame["name"]) == (held if ending == ".csv" else _in_a_sheet(held))


def test_a_note_with_signs_that_turn_or_steer_is_kept_and_shown_without_them(tmp_path):
    noted = job(notes="\n".join(TURNING))
    assert load_job(save_job(noted, tmp_path / "hood.toml")) == noted
    check_pdf(drawings.packet_pdf(plan(noted)))


@pytest.mark.parametrize("name", TURNING)
def test_a_name_that_turns_or_breaks_its_line_is_refused(name):
    with pytest.raises(ValidationError):
        job(name=name)


# Spreadsheets, drawings, terminals.


def test_a_drawing_shows_each_name_as_it_is():
    names = [each for each in NAMES if re.search(r"[%^\\]", each)]
    assert len(names) >= 10
    for name in names:
        document = ezdxf.read(StringIO(cutting_dxf(crowded(obstacles=[{**CLIP, "name": name}])).decode()))
        texts = [decode_dxf_unicode(each.plain_text()) for each in document.modelspace().query("TEXT")]
        assert re.sub(r"\s", "", plain(name)) in re.sub(r"\s", "", "".join(texts)), (name, texts)


def test_a_cut_plan_of_a_list_shows_its_names_as_text():
    from modelmath.cutting.from_drawer import Settings, cut_list
    from modelmath.cutting.typed import read_parts

    names = [each for each in NAMES if not set(each) & set(";\t,|")]
    found = read_parts("\n".join(f"{name}; 20 mm; 1; HO 6x6" for name in names), "HO")
    assert len(found.strips) >= 50
    assert all(not CONTROLS.search(each.message) and not TURNS.search(each.message) for each in found.bad)
    cutting = cut_list(found, None, Settings(0, 1, 20, 355, (304, 152)))
    shown = ListedCuts(cutting, plan(DEMOS["switcher-ho"]).marks, "", 1)
    check_pdf(cutting_pdf(shown, "A4", f"Cutting of {NAMES[3]}"))


def test_csv_cells_are_read_by_a_csv_reader_as_one_text_each():
    held = Drawer(tuple(Item("drill", "#67", note=each) for each in NAMES))
    rows = list(csv.reader(StringIO(as_csv(held).decode("utf-8-sig"), newline="")))
    assert len(rows) == 1 + len(NAMES)
    assert {len(row) for row in rows} == {len(rows[0])}


@pytest.mark.parametrize("name", ["\x1b[31mred", "a\u202eb", "\x1b]0;t\x07", "a\x9bb", "a\u2066b", "\udcffb"])
def test_what_the_command_line_prints_can_t_steer_a_terminal(name, tmp_path, capsys):
    for words in (
        ["check", name],
        ["packet", name, "--out", str(tmp_path / name)],
        ["check", f"{tmp_path}/{name}.toml"],
    ):
        (tmp_path / f"{name}.toml").write_text('name = "x"\nscale = "\u202e"\n', "utf-8")
        assert cli.main(words) in (1, 2)
        printed = capsys.readouterr()
        check_terminal(printed.out + printed.err)
        assert printed.out + printed.err


def test_the_command_line_prints_where_a_packet_lies_without_what_would_steer(tmp_path, capsys):
    save_job(job(), tmp_path / "hood.toml")
    assert cli.main(["packet", str(tmp_path / "hood.toml"), "--out", str(tmp_path / "a\u202eb\x1b[31m")]) == 0
    check_terminal(capsys.readouterr().out)


def test_messages_about_a_job_hold_no_name_that_steers(tmp_path):
    for number, name in enumerate(TURNING):
        file = tmp_path / f"{number}.toml"
        escaped = "".join(f"\\U{ord(sign):08x}" for sign in name)
        file.write_text(f'name = "{escaped}"\nscale = "{escaped}"\n[{MARK}]\n"{escaped}" = 1\n', "utf-8")
        found, faults = read_job(file)
        assert found is None
        for fault in faults:
            check_terminal(str(fault))
