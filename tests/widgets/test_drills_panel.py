"""The page of drills and wire, driven in Python."""

from __future__ import annotations

import re
from html import unescape

import pytest

from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.store import save_drawer
from modelmath.widgets.common.look import LAST
from modelmath.widgets.drills import DrillsPanel


def plain(html):
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture
def panel(tmp_path):
    return DrillsPanel(tmp_path)


def test_a_strand_gets_its_drill_in_each_set_with_the_caution_for_thin_drills(panel):
    """0.762 + 0.05 = 0.812 mm; ANSI/ASME B94.11M: #67 is 0.0320 in, 0.8128 mm."""
    said = plain(panel.answer.value)
    assert said.startswith("Closest drill #67 Passes 0.76 mm = 0.030 in")
    assert "number #67 0.81 mm 0.032 in 0.05 mm letter A" in said
    assert "Drills of 0.0400 in and under break easily" in said
    assert "In your drawer" not in said
    assert panel.summary.startswith("A strand of 0.76 mm: #67.")


def test_a_bundle_of_seven_is_three_wires_across(panel):
    """Six round one: three diameters, 1.8 mm; a 1.85 mm drill leaves 0.05."""
    f = panel.fields
    f["passing"].value, f["size"].value = "bundle", "0.6 mm"
    assert plain(panel.answer.value).startswith("Closest drill 1.85 mm Passes 1.80 mm")
    f["size"].value = "1 mm; 1 mm; 0.6 mm"
    assert "Passes 2.00 mm = 0.079 in at most, laid as well as was found" in plain(panel.answer.value)
    assert "counted from the sizes: 3 wires" in plain(f["count"].message)


def test_a_large_hole_is_drilled_in_steps(panel):
    f = panel.fields
    f["passing"].value, f["size"].value = "wire", "5.9 mm"
    # Common practice, no source: about half of 15/64 in, 5.953 mm, is 2.98 mm; a 3.00 mm drill is nearest.
    assert "Drill first: 3.00 mm, about 2.98 mm; then 15/64 in." in plain(panel.answer.value)


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("size", "0.6", "'0.6': it has no unit; write .030 in or 0.76 mm."),
        ("clearance", "-1 mm", "'-1 mm': it is below 0; write .030 in or 0.76 mm."),
        ("left", "11", "'11': it is not from 0 to 10; write 1 for one diameter."),
        (
            "size",
            "20 mm",
            (
                "A diameter of 20.00 mm with 0.05 mm round it does not fit: 7.35 mm too little, because the "
                "largest drill at hand is 1/2 in, 12.70 mm. No set here reaches it: open the "
                "largest hole with a file or "
                "reamer."
            ),
        ),
    ],
)
def test_a_wrong_entry_is_said_at_its_field_and_the_last_answer_marked(panel, name, text, said):
    before = panel.answer.value
    field = panel.fields[name]
    good, field.value = field.value, text
    assert plain(field.message).startswith(said)
    assert 'role="alert"' in field.message
    assert plain(panel.answer.value).startswith(LAST)
    field.value = good
    assert panel.answer.value == before


def test_sets_are_ticked(panel):
    for name in ("number", "letter", "fraction"):
        panel.sets[name].value = False
    assert plain(panel.answer.value).startswith("Closest drill 0.82 mm")
    panel.sets["metric"].value = False
    assert plain(panel.sets_note.value) == "Tick the drill sets that you have, one or more."
    assert plain(panel.answer.value).startswith(LAST)


def test_a_drill_by_name_and_its_neighbours_in_the_other_sets(panel):
    panel.fields["drill"].value = "#60"
    assert plain(panel.fields["drill"].message).startswith("#60, number set: 1.02 mm = 0.040 in")
    assert "fraction 1/32 in, 0.79 mm = 0.031 in (-0.222 mm) 3/64 in" in plain(panel.named.value)
    before = panel.named.value
    panel.fields["drill"].value = "67"
    said = "'67': it has neither # nor a unit; write #67 for the number drill or 67 mm for its size."
    assert plain(panel.fields["drill"].message).startswith(said)
    assert plain(panel.named.value) == f"{LAST} {plain(before)}"


def test_wire_by_gauge_and_by_size(panel):
    """ASTM B258: AWG 30 is 0.010025 in, 0.2546 mm; IEC 60028: 338.6 ohm/km."""
    f = panel.fields
    assert "AWG 30 0.2546 mm 0.0100 in 0.05093 mm2 0.3386 ohm/m" in plain(panel.wire.value)
    assert plain(f["measured"].message).startswith("nearest to AWG 30, off by -0.0046 mm")
    f["degrees"].value = "hot"
    assert plain(f["degrees"].message).startswith("'hot': it is no plain number; write 20.")
    assert plain(panel.wire.value).startswith(LAST)
    f["measured"].value = "20 mm"
    assert 'role="alert"' in f["measured"].message
    assert plain(panel.near.value).startswith(LAST)


def test_the_closest_drill_of_a_drawer_of_ones_own_is_named(tmp_path):
    file = tmp_path / "drawer.json"
    save_drawer(file, Drawer((Item("drill", "#60"), Item("drill", "#65"))), "", "two drills")
    assert "In your drawer the closest is #65." in plain(DrillsPanel(tmp_path).answer.value)
    panel = DrillsPanel(tmp_path)
    panel.fields["size"].value = "2 mm"
    assert "No drill in your drawer is large enough." in plain(panel.answer.value)
    file.write_text("no drawer", "utf-8")
    panel.fields["size"].value = "1 mm"
    said = plain(panel.answer.value)
    assert said.startswith("Closest drill")
    assert "drawer.json: " in said  # what is wrong with the drawer is told, and the hole all the same
