"""The page of several models, driven in Python."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path

import pdfplumber
import pytest
from sample_jobs import DEMO_PATHS, DEMOS, job

from modelmath.job import save_job
from modelmath.job.storage.text import job_text
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.store import load_drawer, save_drawer
from modelmath.widgets import FleetPanel
from modelmath.widgets.fleet import AT_ONCE
from modelmath.widgets.fleet_cuts import DIFFERENT, DRAWER, NOTHING, ONE

SWITCHER, RAILCAR = DEMOS["switcher-ho"].name, DEMOS["railcar-n"].name


def plain(html: str) -> str:
    html = re.sub(r"<(style|title|desc)>.*?</\1>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split()).replace(" :", ":")


def rows_of(html: str) -> list[str]:
    return [plain(row) for row in re.findall(r"<tr>(.*?)</tr>", html, flags=re.DOTALL)][1:]


@pytest.fixture
def folder(tmp_path) -> Path:
    """The workbook folder of a test, with two jobs in it."""
    (tmp_path / "jobs").mkdir()
    for path in DEMO_PATHS:
        if path.stem in ("switcher-ho", "railcar-n"):
            shutil.copy(path, tmp_path / "jobs")
    return tmp_path


def test_a_folder_without_jobs_begins_with_the_demos_and_writes_nothing_beside_them(tmp_path):
    panel = FleetPanel()
    assert len(rows_of(panel.shown.value)) == len(DEMO_PATHS)
    assert panel.shown.value.count("<svg") == len(DEMO_PATHS)
    assert not (DEMO_PATHS[0].parent / ".modelmath").exists()
    assert list(tmp_path.iterdir()) == []


def test_a_row_has_name_scale_sizes_and_how_far_it_is(folder):
    panel = FleetPanel()
    first, second = rows_of(panel.shown.value)
    assert first.startswith(f"{RAILCAR} railcar-n.toml, invented data")
    assert " N 5.00 mm 3.08 cm3 about 1 in " in first
    assert first.endswith("Still to enter: the speaker's rated impedance.")
    assert " HO 11.38 mm 12.37 cm3 about 1 in " in second
    assert "8 ohm, fits 0 of " in second
    assert (folder / "jobs" / ".modelmath" / "overview").is_file()
    assert panel.summary.startswith(
        f"2 jobs.\n{RAILCAR}, N: bulkhead 5.00 mm, chance that anything touches: about 1 in "
    )


def test_a_damaged_file_is_said_in_its_row_and_mended_by_looking_again(folder):
    (folder / "jobs" / "bad.toml").write_text('name = "x"\nscale = HO\n')
    panel = FleetPanel()
    rows = rows_of(panel.shown.value)
    assert len(rows) == 3
    assert rows[-1].startswith("bad.toml bad.toml, line 2")
    assert "Traceback" not in panel.shown.value
    (folder / "jobs" / "bad.toml").write_text(job_text(job()))
    panel.again.click()
    assert rows_of(panel.shown.value)[-1].startswith("test hood bad.toml HO 12.25 mm")


def test_a_name_is_shown_as_text(folder):
    (folder / "jobs" / "sly.toml").write_text(job_text(job(name="<b>hood</b>")))
    panel = FleetPanel()
    assert "<b>hood" not in panel.shown.value
    assert "&lt;b&gt;hood&lt;/b&gt;" in panel.shown.value


def test_sorting_and_another_folder(folder):
    panel = FleetPanel()
    panel.fields["order"].value = "scale"
    assert [row.name for row in panel.on_page] == [SWITCHER, RAILCAR]
    other = folder / "other"
    other.mkdir()
    (other / "hood.toml").write_text(job_text(job()))
    panel.fields["folder"].value = "other"
    assert [row.name for row in panel.on_page] == ["test hood"]
    before = panel.shown.value
    panel.fields["folder"].value = "none such"
    assert "there is no such folder" in plain(panel.fields["folder"].message)
    assert panel.shown.value == before
    assert "the last folder that could be opened" in panel.said.value
    panel.fields["folder"].value = ""
    assert 'role="alert"' not in panel.fields["folder"].message
    assert len(panel.on_page) == 2


def test_many_jobs_come_page_by_page_each_drawn_when_shown(folder):
    for number in range(AT_ONCE + 3):
        (folder / "jobs" / f"hood{number:02}.toml").write_text(job_text(job(name=f"hood {number:02}")))
    panel = FleetPanel()
    assert len(panel.on_page) == AT_ONCE
    assert panel.shown.value.count("<svg") == len(panel._drawn) == AT_ONCE
    assert plain(panel.where.value) == f"Rows 1 to {AT_ONCE} of {AT_ONCE + 5}."
    panel.later.click()
    assert len(panel.on_page) == 5
    assert len(panel._drawn) == AT_ONCE + 5
    assert panel.later.disabled
    panel.earlier.click()
    assert panel.earlier.disabled


def test_the_others_are_worked_out_when_asked_for(folder):
    panel = FleetPanel()
    for number in range(4):
        (folder / "jobs" / f"hood{number}.toml").write_text(job_text(job(name=f"hood {number}")))
    panel._look(most_new=1)
    assert panel.more.description == "Work out the other 3"
    assert panel.more.layout.display is None
    assert "Still to be worked out." in plain(panel.shown.value)
    panel.more.click()
    assert panel.more.layout.display == "none"
    assert "Still to be worked out." not in plain(panel.shown.value)


def test_what_is_next_and_what_waits(folder):
    panel = FleetPanel()
    assert panel.next.value == ""  # nothing is worked out in a fold that is shut
    panel.folds["next"].head.value = True
    said = plain(panel.next.value)
    assert f"{SWITCHER} (HO): 0 of " in said
    assert "Can be done now: 1. Take all power off" in said
    assert re.search(r"The other \d+ steps come after these\.", said)
    done = DEMOS["railcar-n"].model_copy(update={"progress": DEMOS["railcar-n"].progress.model_copy(
        update={"done": ["cut"]})})  # fmt: skip
    save_job(done, folder / "jobs" / "railcar-n.toml")
    panel.again.click()
    assert f"{RAILCAR} (N): 1 of " in plain(panel.next.value)


def test_two_beside_each_other(folder):
    panel = FleetPanel()
    panel.folds["pair"].head.value = True
    assert panel.pair.fields[0].control.options == (RAILCAR, SWITCHER)
    said = plain(panel.pair.answer.value)
    assert panel.pair.answer.value.count("<svg") == 2
    assert "bulkhead height about 2 5/8 scale ft, 0.197 in, 5.00 mm 3 1/4 scale ft, 0.448 in, 11.38 mm +6.38 mm" in said
    panel.pair.fields[0].value = SWITCHER
    assert "They differ in no figure." in plain(panel.pair.answer.value)
    (folder / "jobs" / "switcher-ho.toml").unlink()
    panel.pair.fields[0].value = RAILCAR
    assert "there is no such file" in plain(panel.pair.answer.value)


def cuts_of(panel: FleetPanel):
    panel.folds["cuts"].head.value = True
    return panel.cuts


def test_one_cut_plan_from_the_drawer_names_each_cut_with_its_model(folder):
    cuts = cuts_of(FleetPanel())
    assert cuts.chosen.value == (RAILCAR, SWITCHER)
    assert cuts.stock.value == DRAWER
    said = plain(cuts.details.value)
    assert f"corner post ({SWITCHER})" in said
    assert f"corner post ({RAILCAR})" in said
    assert "what the jobs list themselves does not count" in plain(cuts.said.value)
    assert "Demo drawer: invented" in plain(cuts.said.value)
    assert "the stops here are for a steel rule in mm" in plain(cuts.said.value)
    assert "a cut takes: " in plain(cuts.said.value)  # in which the two jobs differ
    assert cuts.summary.startswith(f"{RAILCAR}, {SWITCHER}: ")


def test_whose_drawer_is_a_choice_and_lists_are_added_only_when_said(folder):
    cuts = cuts_of(FleetPanel())
    assert cuts.stock.control.options == (
        DRAWER, f"what {RAILCAR} lists", f"what {SWITCHER} lists", ONE, DIFFERENT, NOTHING,
    )  # fmt: skip

    def held() -> int:
        return sum(each.count for each in cuts.on_hand().strips)

    counts = {}
    for choice in cuts.stock.control.options[1:5]:
        cuts.stock.value = choice
        counts[choice] = held()
    own = [sum(each.count for each in DEMOS[name].drawer if each.strip) for name in ("railcar-n", "switcher-ho")]
    assert list(counts.values())[:2] == own
    assert counts[DIFFERENT] == sum(own)
    assert max(own) <= counts[ONE] <= sum(own)
    assert "only right where these are different drawers" in plain(cuts.said.value)
    cuts.stock.value = NOTHING
    assert cuts.on_hand() is None
    assert "none to buy" not in plain(cuts.answer.value)


def test_an_empty_drawer_buys_all_of_it(folder):
    panel = FleetPanel()
    file = folder / "drawer.json"
    save_drawer(file, Drawer(), load_drawer(file).revision, "for the test")
    cuts = cuts_of(panel)
    assert {strip.kind for strip in cuts.made.cutting.strips.strips} == {"to buy"}
    assert "Demo drawer" not in plain(cuts.said.value)


def test_bad_settings_and_nothing_chosen_keep_the_last_answer_or_say_so(folder):
    cuts = cuts_of(FleetPanel())
    cuts.fields["kerf"].value = "0.5"
    assert 'role="alert"' in cuts.fields["kerf"].message
    assert "mm-stale" in cuts.answer.value
    assert cuts.paper.disabled
    cuts.fields["kerf"].value = "0.5 mm"
    assert "mm-stale" not in cuts.answer.value
    cuts.chosen.value = ()
    assert plain(cuts.answer.value) == "Choose the jobs to cut for."
    assert cuts.summary == "No plan yet."


def test_accepting_takes_the_cuts_of_all_models_out_of_the_drawer_once(folder):
    cuts = cuts_of(FleetPanel())
    before = load_drawer(folder / "drawer.json").drawer
    cuts.accept.click()
    after = load_drawer(folder / "drawer.json")
    assert after.what == f"cutting for {RAILCAR}, {SWITCHER}"
    assert "Taken out of the drawer" in plain(cuts.done.value)
    assert cuts.accept.disabled
    # Nothing appears: of each strip on hand what is gone is parts and scrap.
    for name in {strip.stock_name for strip in cuts.made.cutting.strips.strips}:
        mine = [each for each in cuts.made.cutting.strips.strips if each.stock_name == name]
        bought = sum(each.length_mm for each in mine if each.kind == "to buy")
        held = [sum(each.length_mm * each.count for each in drawer.items if each.name == name)
                for drawer in (before, after.drawer)]  # fmt: skip
        cut = sum(piece.length_mm for each in mine for piece in each.cuts)
        assert held[0] + bought - held[1] == cut + sum(each.scrap_mm for each in mine)
    cuts.stock.value = NOTHING
    assert cuts.accept.disabled


def test_the_sheets_are_printed(folder):
    cuts = cuts_of(FleetPanel())
    cuts.paper.click()
    file = folder / "packets" / "cutting-for-several-a4.pdf"
    assert "cutting-for-several-letter.pdf" in cuts.done.value
    with pdfplumber.open(file) as pdf:
        text = " ".join(" ".join((page.extract_text() or "").split()) for page in pdf.pages)
    assert "Cutting for 2 jobs" in text
    assert f"corner post ({SWITCHER})" in text
