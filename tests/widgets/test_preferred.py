"""The choice of how pages look, on a page and on the next one; undo and redo in the walkthrough."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from modelmath.widgets import EnclosurePanel
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import page
from modelmath.widgets.common.preferred import HowItLooks

SIX = {"scale": "HO", "zero_offset": "1", "chassis": "3 1/4", "shell": "8 3/4", "keep": "1/4", "finest": "1/4"}


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_a_choice_changes_the_page_and_holds_for_the_next():
    shown = page()
    looks = HowItLooks(shown)
    assert "mm-first-scale-feet" in shown._dom_classes
    looks.unit.value, looks.type_size.value = "mm", "large"
    assert {"mm-first-mm", "mm-type-large"} <= set(shown._dom_classes)
    assert "mm-first-scale-feet" not in shown._dom_classes
    assert plain(looks.said.value).startswith("Kept for every page")
    assert {"mm", "mm-first-mm", "mm-type-large"} <= set(page()._dom_classes)


def test_a_folder_that_refuses_is_said():
    shown = page()
    looks = HowItLooks(shown)
    Path(".modelmath").write_text("a file where the folder would be")
    looks.unit.value = "inch"
    assert plain(looks.said.value).startswith("It holds for this page only: it can't be kept (")
    assert "mm-first-inch" in shown._dom_classes


def test_each_size_names_its_unit_so_that_the_style_can_put_it_first():
    html = look.sizes(("3 1/4 scale ft", "0.448 in", "11.38 mm"))
    assert re.findall(r'data-unit="([a-z ]+)">([^<]+)', html) == [
        ("scale feet", "3 1/4 scale ft"),
        ("inch", "0.448 in"),
        ("mm", "11.38 mm"),
    ]
    table = look.table("Cut list", ("Part", "Scale feet", "Inch", "mm"), [("post", "3", "0.4", "10.5")])
    assert re.findall(r'data-unit="([a-z ]+)">([^<]+)', table) == [("scale feet", "3"), ("inch", "0.4"), ("mm", "10.5")]
    assert "data-unit" not in look.table("Drills", ("Drill", "mm", "Inch"), [("60", "1.02", "0.040")])


# Undo and redo.


def test_undo_goes_back_one_entry_and_redo_forward_and_both_are_named():
    panel = EnclosurePanel()
    for name, text in SIX.items():
        panel.fields[name].value = text
    assert panel.undoing.undo_button.disabled
    answer = panel.answer.value
    panel.fields["shell"].value = "9"
    panel.fields["flange"].value = "1.05 mm"
    assert panel.undoing.undo_button.tooltip == "Undo speaker: nothing to something"
    panel.undoing.undo()
    panel.undoing.undo()
    assert (panel.fields["shell"].value, panel.fields["flange"].value) == ("8 3/4", "")
    assert panel.answer.value == answer
    assert panel.undoing.undo_button.disabled
    assert panel.undoing.redo_button.tooltip == "Redo reading roof, mark: 8 3/4 to 9"
    panel.undoing.redo()
    assert panel.fields["shell"].value == "9"
    panel.fields["shell"].value = "9 1/4"
    assert panel.undoing.redo_button.disabled


def test_undo_takes_back_what_was_ticked_and_what_was_edited_inside():
    panel = EnclosurePanel.demo()
    panel._progressed(panel.base.model_copy(update={"build": panel.base.build.model_copy(update={"count": 3})}))
    assert panel.plan.models == 3
    panel.undoing.undo()
    assert panel.plan.models == 1


def test_another_job_begins_with_nothing_to_undo():
    panel = EnclosurePanel.demo()
    panel.fields["chassis"].value = "5 1/4"
    assert not panel.undoing.undo_button.disabled
    panel.chooser.value = "railbus-ho"
    assert panel.undoing.undo_button.disabled
    panel.undoing.undo()
    assert panel.name.value == "Tarn Valley rail bus No. 7"


def test_each_step_says_how_far_it_is():
    panel = EnclosurePanel()
    heads = panel.steps.heads

    def said() -> list[str]:
        return [plain(head.value) for head in heads.values()]

    assert said()[0] == "1. Two readings 5 of 6 still to enter"
    assert said()[3] == "4. Print waits for the two readings"
    for name, text in SIX.items():
        panel.fields[name].value = text
    assert said() == [
        "1. Two readings done",
        "2. Speaker supports waits for the flange's thickness",
        "3. Cut list 3 parts",
        "4. Print not printed yet",
    ]
    panel.print()
    assert said()[3] == "4. Print printed"
    panel.fields["flange"].value = "1.05 mm"
    assert (said()[1], said()[3]) == ("2. Speaker supports done", "4. Print changed since it was printed")
    panel.fields["shell"].value = "nonsense"
    assert said() == [
        "1. Two readings 1 to mend",
        *(
            f"{number} waits until the entries are mended"
            for number in ("2. Speaker supports", "3. Cut list", "4. Print")
        ),
    ]


def test_a_fault_of_another_zone_that_shares_the_reading_stands_beside_its_field():
    panel = EnclosurePanel.demo()
    panel.fields["shell"].value = "4 1/4"
    said = plain(panel.fields["shell"].message)
    assert said.startswith("zone 1 ('front weight'): the free depth is 0.00 mm; it must be above 0.")
    assert "Bulkhead height" in panel.answer.value


def test_a_mark_too_coarse_to_cut_to_is_refused():
    panel = EnclosurePanel.demo()
    panel.fields["finest"].value = "999"
    said = plain(panel.fields["finest"].message)
    assert said.startswith("the finest mark is 999 scale ft; it must be under 25 mm. Write the")


def test_what_is_moved_in_the_drawing_is_an_edit_like_any_other():
    panel = EnclosurePanel.demo()
    panel.folds["handling"].head.value = True
    assert panel.figure.layout.display == "none"
    moving, before = panel.within.handling, panel.plan.chamber.volume_mm3
    bulkhead = next(each for each in moving.found if each.key == "front_end")
    moving.handled.asked = {"n": 1, "act": "drop", "key": "front_end", "to": float(bulkhead.places[20])}
    assert panel.plan.chamber.volume_mm3 < before
    assert panel.undoing.undo_button.tooltip.startswith("Undo chamber, front end: best to -")
    panel.undoing.undo()
    assert panel.plan.chamber.volume_mm3 == before
    panel.folds["handling"].head.value = False
    assert panel.figure.layout.display is None
