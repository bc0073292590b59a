"""The page of cut plans, driven in Python."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from html import unescape

import pdfplumber
import pytest

from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.store import change_drawer, load_drawer, save_drawer
from modelmath.widgets.common import places
from modelmath.widgets.common.look import LAST
from modelmath.widgets.cuts import LISTED, NOTHING, OWN, CutsPanel


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.fixture
def panel(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return CutsPanel()


def listed(panel: CutsPanel, *lines: str) -> CutsPanel:
    panel.fields["parts"].value = LISTED
    panel.listed.value = "\n".join(lines)
    return panel


def holds(panel: CutsPanel, *items: Item) -> None:
    save_drawer(panel.file, Drawer(items), load_drawer(panel.file).revision, "for the test")
    panel._refresh()


def test_the_demo_job_is_cut_from_the_demo_drawer(panel):
    said = plain(panel.answer.value)
    assert said.startswith("Strip 2 whole strips, none to buy")
    assert "1 offcut, no whole sheet" in said
    assert "Demo drawer: invented" in said
    assert panel.details.value.count("<svg") == 4  # stops, two strips in proportion, a sheet
    assert "Nothing: all of it is on hand." in plain(panel.details.value)


def test_one_s_own_list_by_hand(panel):
    """280 mm less 1 mm trim, 4 x 60 mm and a saw cut of 0.5 mm after each: 280 - 1 - 240 - 2 = 37 mm."""
    holds(panel, Item("strip", "HO 6x10", Fraction(280), count=2))
    listed(panel, "post; 60 mm; 4; 6x10")
    panel.fields["kerf"].value = "0.5 mm"
    panel.fields["end_trim"].value = "1 mm"
    assert "strip 1 HO 6x10 280.00 mm, on hand 4 × post 60.00 mm 37.00 mm, keep" in plain(panel.details.value)


def test_shapes_are_cut_to_length_and_taken_out_too(panel):
    listed(panel, "strand guide; 40 mm; 3; 1/8 tube", "visor; 6 mm; 2; half round .060")
    assert "none to buy" in plain(panel.answer.value)
    panel.accept.click()
    said = {(each.kind, each.said) for each in load_drawer(panel.file).drawer.items}
    # 304.8 mm of tube less 1 mm trim, 3 x 40 mm and three saw cuts of 0.4 mm.
    kerf = Fraction(panel.fields["kerf"].value.split()[0])
    left = Fraction("304.8") - 1 - 120 - 3 * kerf
    assert ("shape", f".125 tube, {float(left):g} mm, offcut") in said
    assert not any(kind == "shape" and ", 12 in" in text for kind, text in said)


def test_accepting_takes_out_and_puts_back_and_undo_restores(panel):
    before = load_drawer(panel.file).drawer
    panel.accept.click()
    after = load_drawer(panel.file)
    assert after.what == "cutting of switcher-ho"
    counts = Counter({(each.said): each.count for each in after.drawer.items})
    # The plan above: strip 2 of 1.5 x 2 mm is cut into, what is left of it is an offcut; the sheet's offcut is used.
    assert counts["1.5 x 2 mm, 330 mm"] == 2
    assert ".040 sheet, 88 mm x 61 mm, offcut" not in counts
    assert any(said.startswith("1.5 x 2 mm, ") and said.endswith("offcut") for said in counts)
    # Nothing appears: what is on hand of each strip shrinks by the parts and the scrap.
    for plan in panel._made.cutting.strips.strips:
        held = [
            sum(each.length_mm * each.count for each in drawer.items if each.name == plan.stock_name)
            for drawer in (before, after.drawer)
        ]
        cut = sum(each.length_mm for each in plan.cuts)
        assert held[0] - held[1] == cut + plan.scrap_mm
    assert panel.accept.disabled
    panel.back.click()
    assert load_drawer(panel.file).drawer == before
    assert plain(panel.done.value) == "Undone: the drawer is as it was before."
    assert not panel.accept.disabled


def test_a_plan_of_stock_that_is_gone_is_refused_whole(panel):
    change_drawer(
        panel.file, lambda drawer: Drawer(tuple(each for each in drawer.items if each.kind != "sheet")), "sold"
    )
    before = panel.file.read_bytes()
    panel.accept.click()
    assert plain(panel.done.value) == (
        "The drawer lacks 1 x .040 sheet, 88 mm x 61 mm, offcut. Nothing was taken out; plan again from what is there "
        "now. The drawer is as it was; the plan above is from before."
    )
    assert panel.file.read_bytes() == before


def test_undo_after_another_change_is_refused(panel):
    panel.accept.click()
    assert panel.back.description == "Undo: cutting of switcher-ho"
    change_drawer(panel.file, lambda drawer: Drawer(), "emptied")
    panel.fields[
        "end_trim"
    ].value = "2 mm"  # the page looks at the drawer anew, and must not take the change for its own
    panel.back.click()
    assert "Nothing was undone: the drawer was changed since (emptied)." in plain(panel.done.value)
    assert load_drawer(panel.file).drawer == Drawer()


def test_lines_that_can_t_be_read_are_left_out_by_number(panel):
    listed(panel, "post; 60 mm; 4; HO 6x10", "post; 60; 4; HO 6x10", "nothing")
    assert "Left out of the plan:" in plain(panel.list_note.value)
    assert "line 2: '60': it has no unit" in plain(panel.list_note.value)
    assert "line 3: 'nothing': it has not four columns" in plain(panel.list_note.value)
    assert "4 × post" in plain(panel.details.value)
    listed(panel, "")
    assert "Nothing to cut is listed." in plain(panel.answer.value)
    assert panel.accept.disabled


def test_parts_that_nothing_holds_are_left_out_and_the_rest_is_planned(panel):
    good = ("post; 60 mm; 4; HO 6x10", "wall; 21 x 18.5 mm; 1; .040 sheet")
    before = listed(panel, *good).details.value
    listed(
        panel, *good, "beam; 600 mm; 1; HO 6x10", "deck; 400 x 20 mm; 1; .040 sheet", "pad; 2 x 10 mm; 1; .040 sheet"
    )
    out = plain(panel.list_note.value)
    assert out.startswith("Left out of the plan: beam, 600.00 mm long, does not fit:")
    assert "deck, 400.00 × 20.00 mm, does not fit:" in out
    assert "pad, 2.00 × 10.00 mm, does not fit:" in out
    assert "_mm" not in out  # no name of an argument: a person can't type it
    assert panel.details.value.startswith(before[:200])
    assert not panel.accept.disabled


def test_a_plan_that_can_t_be_made_keeps_the_last_in_sight(panel):
    before = listed(panel, "post; 60 mm; 4; HO 6x10; posts").details.value
    panel.listed.value += "\nbeam; 61 mm; 1; HO 6x10; posts"  # one equal set, two lengths
    assert 'role="alert"' in panel.answer.value
    assert LAST in plain(panel.answer.value)
    assert plain(before) in plain(panel.details.value)
    assert panel.accept.disabled


def test_a_job_that_is_gone_is_told(panel, monkeypatch):
    monkeypatch.setattr(places, "job_files", dict)
    panel.fields["kerf"].value = "0.5 mm"
    assert "switcher-ho.toml: it is not there any more; choose another job" in plain(panel.answer.value)


def test_what_bought_stock_leaves_is_announced(panel):
    assert "Accept once you have bought" not in plain(panel.answer.value)
    listed(panel, "rail; 60 mm; 1; O 2x4")
    assert "Accept once you have bought what is listed to buy and cut it" in plain(panel.answer.value)


def test_an_offcut_shorter_than_the_trim_is_passed_over(panel):
    holds(panel, Item("strip", "HO 6x10", Fraction(280)), Item("strip", "HO 6x10", Fraction(2, 5), None, 1, True))
    listed(panel, "post; 60 mm; 2; 6x10")
    assert 'role="alert"' not in panel.answer.value
    assert "2 × post" in plain(panel.details.value)


def test_a_bad_setting_is_told_at_its_field(panel):
    panel.fields["kerf"].value = "thin"
    assert 'role="alert"' in panel.fields["kerf"].message
    assert panel.accept.disabled
    panel.fields["kerf"].value = "0 mm"
    assert 'role="alert"' not in panel.fields["kerf"].message
    assert not panel.accept.disabled


@pytest.mark.parametrize("stock", [OWN, NOTHING])
def test_only_a_plan_from_the_drawer_can_be_accepted(panel, stock):
    panel.fields["stock"].value = stock
    assert panel.accept.disabled
    assert "Demo drawer" not in plain(panel.answer.value)


def test_all_jobs_are_planned_in_every_way(panel):
    for name in panel.fields["parts"].control.options[:-1]:
        for stock in panel.fields["stock"].control.options:
            panel.fields["parts"].value = name
            panel.fields["stock"].value = stock
            assert 'role="alert"' not in panel.answer.value, (name, stock, plain(panel.answer.value))


@pytest.mark.parametrize("own", [True, False])
def test_the_sheets_are_printed_for_both_papers(panel, tmp_path, own):
    if own:
        listed(panel, "post; 60 mm; 4; HO 6x10", "rail; 320 mm; 1; HO 6x10", "wall; 21 x 18.5 mm; 2; .040 sheet")
    panel.paper.click()
    files = sorted((tmp_path / "packets").glob("*.pdf"))
    name = "my-parts" if own else "switcher-ho"
    assert [each.name for each in files] == [f"cutting-of-{name}-a4.pdf", f"cutting-of-{name}-letter.pdf"]
    assert panel.done.value.count('href="/files/packets/') == 2
    for file, width in zip(files, (595, 612), strict=True):  # ISO 216 and US Letter, in points
        with pdfplumber.open(file) as pdf:
            assert round(pdf.pages[0].width) == width
            text = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
        for said in ("Cut plan", "Sheet layout", "To buy", "Cut away from the hand"):
            assert said in text
        assert ("320.00 mm" in text) is own


def test_many_different_lengths_are_printed(panel, tmp_path):
    listed(panel, *(f"part {at}; {20 + at / 2} mm; 1; HO 6x10" for at in range(60)))
    panel.paper.click()
    assert 'role="alert"' not in panel.done.value
    with pdfplumber.open(tmp_path / "packets" / "cutting-of-my-parts-letter.pdf") as pdf:
        text = " ".join(page.extract_text() for page in pdf.pages)
    assert all(f"1 × part {at}" in text for at in range(60))


def test_nothing_is_printed_before_there_is_a_plan(panel, tmp_path):
    panel.fields["kerf"].value = "thin"
    panel.paper.click()
    assert 'role="alert"' in panel.done.value
    assert not (tmp_path / "packets").exists()


def test_the_same_entries_give_the_same_plan(panel):
    assert CutsPanel().details.value == panel.details.value


def test_the_summary_is_of_the_demo_drawer(panel):
    assert panel.summary.startswith("proven: nothing has to be bought")
    assert demo_drawer().demo
