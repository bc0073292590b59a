"""The strips page, driven in Python: strip by use, glued up, one for a set, shims, names."""

from __future__ import annotations

import re
from fractions import Fraction
from html import unescape

import pytest

from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.store import load_drawer, save_drawer
from modelmath.widgets import StripsPanel
from modelmath.widgets.common.look import LAST
from modelmath.widgets.picking.shims import GLUED
from modelmath.widgets.picking.source import BOTH, OWN, SOLD


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def first(html: str) -> str:
    """Return the head of the first row of a table."""
    return plain(re.search(r'<th scope="row">(.*?)</th>', html)[1])


@pytest.fixture
def panel(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return StripsPanel()


def holds(panel: StripsPanel, *items: Item) -> None:
    file = panel.source.file
    save_drawer(file, Drawer(items), load_drawer(file).revision, "for the test")
    panel._refresh()


def test_strips_are_picked_by_use(panel):
    panel.fields["where"].value = SOLD
    panel.fields["height"].value = ".060 in"
    assert panel.picks()[0].strip.thickness_mm == Fraction(60 * 254, 10_000)
    panel.fields["use"].value = "across"
    assert "Enter the inside width of the shell" in plain(panel.fields["width"].message)
    panel.fields["width"].value = "18.5 mm"
    assert "18.50 mm wide" in plain(panel.height.answer.value)
    assert panel.height.glued.value == ""  # what goes across is cut to length, not glued up
    before = panel.height.answer.value
    panel.fields["height"].value = "high"
    panel.fields["width"].value = "wide"
    assert all('role="alert"' in panel.fields[name].message for name in ("height", "width"))
    assert plain(panel.height.answer.value) == f"{LAST} {plain(before)}"
    panel.fields["height"].value = ""
    panel.fields["width"].value = ""
    assert "enter the height wanted" in plain(panel.fields["height"].message)


def test_on_end_asks_for_a_square_end_not_for_a_section(panel):
    panel.fields["use"].value = "on end"
    panel.fields["height"].value = "31.5 mm"
    assert "Square its end first, cut to length, 31.50 mm" in plain(panel.height.answer.value)
    assert panel.picks()[0].error_mm == 0


def test_the_drawer_comes_first_and_can_be_left_out(panel):
    holds(panel, Item("strip", ".080 sq", Fraction(100)))
    assert first(panel.height.answer.value) == ".080 sq"
    assert "on hand" in plain(panel.height.answer.value)
    panel.fields["where"].value = SOLD
    assert "on hand" not in plain(panel.height.answer.value)
    panel.fields["where"].value = OWN
    assert "to buy" not in plain(panel.height.answer.value)
    panel.fields["where"].value = BOTH
    panel.fields["length"].value = "60 mm"
    panel.fields["count"].value = "2"
    assert "The drawer gives 1 of the 2" in plain(panel.height.answer.value)


def test_limits_come_in_as_numbers(panel):
    panel.fields["where"].value = SOLD
    panel.fields["sand"].value = "0 mm"
    panel.fields["shim"].value = "0.2 mm"
    assert "sand" not in plain(panel.height.answer.value)
    panel.fields["shim"].value = "0 mm"
    assert 'role="alert"' in panel.height.answer.value  # no section is 2.2 mm exactly
    panel.fields["count"].value = "two"
    assert "Write how many are wanted." in plain(panel.fields["count"].message)


def test_layers_are_glued_up_with_their_glue_line(panel):
    """.040 in is 1.016 mm; two with one glue line between are 2.032 mm and the glue."""
    holds(panel, Item("strip", ".040 x .125", Fraction(300)))
    panel.fields["where"].value = OWN
    said = plain(panel.height.glued.value)
    assert first(panel.height.glued.value) == "two of .040 x .125"
    assert "-0.12 mm" in said  # 2.032 + 0.05 glue - 2.2, data/clearance_terms.csv
    holds(panel, Item("strip", "HO 1x12", Fraction(300)))
    said = plain(panel.height.glued.value)
    assert said.startswith("Glued up: the height is 2.20 mm; it must be at most 0.50 mm below")
    holds(panel, Item("strip", "HO 1x1", Fraction(300)))  # narrower than the stack would be high
    assert "What to glue up is not known yet" in plain(panel.height.glued.value)


def test_one_stock_serves_a_set(panel):
    holds(panel, Item("strip", ".080 sq", Fraction(500)))
    assert plain(panel.whole_set.answer.value).startswith("One stock serves all: .080 sq.")
    panel.whole_set.lines.value += "\nrail; 2 mm; sideways; 2"
    assert "line 4: use is 'sideways'" in plain(panel.whole_set.note.value)
    assert plain(panel.whole_set.answer.value).startswith("One stock serves all: .080 sq.")
    before = plain(panel.whole_set.answer.value)
    panel.whole_set.lines.value = ""
    assert 'role="alert"' in panel.whole_set.answer.value
    assert before in plain(panel.whole_set.answer.value)
    panel.whole_set.lines.value = "post; 31.5 mm; on end; 4\nseat; 9.1 mm; flat; 1"
    assert "No strip serves these: seat:" in plain(panel.whole_set.answer.value)


def test_shims_bring_a_coupler_to_its_height(panel):
    shims = panel.shims
    said = plain(shims.answer.value)
    assert said.startswith("It is 0.50 mm too low.")
    assert first(shims.answer.value) == "washer"
    assert "± 0.07 mm, at worst 0.10 mm" in said  # sqrt(0.05^2 + 0.05^2), and their sum
    shims.fields["measured"].value = "10.1 mm"
    assert "lowers the coupler" in plain(shims.answer.value)
    shims.fields["kind"].value = "speaker"
    assert plain(shims.answer.value) == (
        "It is 0.20 mm too high. A shim under it would only raise it: file 0.20 mm off its seat, or cut its supports "
        "that much shorter."
    )
    shims.fields["measured"].value = "tall"
    assert 'role="alert"' in shims.fields["measured"].message
    assert LAST in plain(shims.answer.value)


def test_strip_of_the_drawer_laid_flat_is_a_shim_too(panel):
    panel.fields["where"].value = OWN
    panel.shims.lines.value = ""
    holds(panel, Item("strip", ".020 x .125", Fraction(100)))  # .020 in is 0.508 mm, for a gap of 0.50
    assert first(panel.shims.answer.value) == ".020 x .125"


def test_glued_shims_count_their_glue(panel):
    panel.fields["where"].value = OWN
    panel.shims.lines.value = "thin washer; 0.25 mm; 0 mm; 2"
    holds(panel)
    dry = plain(panel.shims.answer.value)
    panel.shims.fields["glue"].value = GLUED
    assert "two of thin washer on hand 0.00 mm" in dry
    assert "two of thin washer on hand +0.05 mm" in plain(panel.shims.answer.value)
    panel.shims.lines.value += "\nwasher; thin"
    assert "line 2: 'thin'" in plain(panel.shims.note.value)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        # 6 in / 87.1 = 1.75 mm and 10 in / 87.1 = 2.92 mm: the scale's definition, 3.5 mm to the foot.
        ("6 by 10", "HO 6x10 is 1.75 mm (0.069 in) thick and 2.92 mm (0.115 in) wide."),
        (".040 sheet", ".040 sheet is 1.02 mm (0.040 in) thick."),
        (".060 half round", ".060 half round is 1.52 mm (0.060 in) across its flat."),
        ("4 mm tube x 0.5 mm wall", "its bore 3.00 mm (0.118 in)."),
        ("1/8 tube", "Its wall is not in its name"),
    ],
)
def test_names_are_told(panel, name, said):
    panel.names.name.value = name
    assert said in plain(panel.names.answer.value)


def test_a_name_that_could_be_two_things_asks(panel):
    before = plain(panel.names.answer.value)
    panel.names.name.value = "1x2x3"
    assert 'role="alert"' in panel.names.name.message
    assert plain(panel.names.answer.value) == f"{LAST} {before}"


def test_a_drawer_that_can_t_be_read_is_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "drawer.json").write_text("{")
    panel = StripsPanel()
    assert "it holds no drawer that can be read" in plain(panel.fields["where"].message)
    assert "to buy" in plain(panel.height.answer.value)


def test_the_summary_says_what_to_do(panel):
    assert panel.summary == "2.2 mm, flat: .080 sq. Lay it flat and shim it up 0.17 mm."
