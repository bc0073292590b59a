"""The page with quick answers on light, driven in Python."""

from __future__ import annotations

import re
from html import unescape

import pytest
from published import published_rows

from modelmath.errors import UnknownChoice
from modelmath.job.cautions import cautions_on
from modelmath.widgets import LightPanel
from modelmath.widgets.light import CHOICES, LABELS, LINES, OLD, QUESTIONS

HOSTILE = "<img src=x onerror=alert(1)>"
FREE = (*LABELS, *LINES)
PRINTED = [
    row for row in published_rows("electrical_examples.csv") if row["id"] in ("LED_A", "LED_B", "LED_C", "LED_D")
]


def plain(html):
    html = re.sub(r"<svg.*?</svg>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def opened(panel, name):
    panel.folds[name].head.value = True
    return plain(panel.folds[name].place.value)


@pytest.fixture
def panel():
    return LightPanel()


@pytest.fixture(scope="module")
def shared():
    """One panel with all folds open, for all tests that put back what they change."""
    panel = LightPanel()
    for name in panel.folds:
        opened(panel, name)
    return panel


def home_of(panel, name):
    return next(asked for asked in (panel.first, *panel.folds.values()) if name in asked.fields)


def test_five_entries_answer_at_once(panel):
    assert len(panel.first.view.children[0].children) == 5
    said = plain(panel.first.place.value)
    assert re.match(
        r"Resistor 4\.7 kohm the next of E24 up from 4\.46 kohm Current 1\.9 mA \(1\.74 to 2\.07 mA\) Brightness 95 % "
        r"of the light wanted; looks 98 % as bright Heat in the resistor 19\.2 mW at most; a 1/8 W leaded resistor or",
        said,
    )
    assert "4.3 kohm 2.08 mA" in said
    assert "5.1 kohm 1.75 mA" in said
    assert "Caution: Don't look into a bright LED at close range, nor into the end of a lit strand." in said


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: row["id"])
def test_printed_examples(row):
    """tests/published/electrical_examples.csv, each row with its source; three digits are shown."""
    supply, forward, current = re.fullmatch(r"supply (.*), forward (.*), current (.*)", row["inputs"]).groups()
    panel = LightPanel({"supply": supply, "lamp": forward, "current": current})
    shown = f"{float(row['value']) / 1000:.2f} kohm" if float(row["value"]) >= 1000 else f"{row['value']} ohm"
    assert f"up from {shown} Current" in plain(panel.first.place.value)


def test_every_field_has_a_label_and_a_form(panel):
    assert set(panel.fields) == {*LABELS, *CHOICES, *LINES}
    assert all(field.label and field.hint for field in panel.fields.values())


def test_folds_are_worked_out_once_opened_and_again_only_for_other_entries(panel):
    assert all(fold.place.value == "" for fold in panel.folds.values())
    first = opened(panel, "bulb")
    panel.folds["bulb"].head.value = False
    panel.fields["rated_a"].value = "40 mA"
    assert plain(panel.folds["bulb"].place.value) == first
    assert opened(panel, "bulb") != first
    lens = panel.folds["lens"]
    assert lens.place.value == ""
    opened(panel, "lens")
    lens.place.value = "kept"
    panel.fields["supply"].value = "14 V"  # no entry of the lens
    assert lens.place.value == "kept"


def test_what_is_shared_reaches_the_folds(panel):
    before = {name: opened(panel, name) for name in ("trimming", "strings", "bulb", "gauge")}
    panel.fields["supply"].value = "16 V"
    for name in ("trimming", "strings", "bulb"):
        assert plain(panel.folds[name].place.value) != before[name]
    panel.fields["bore"].value = "1.6 mm"
    assert plain(panel.folds["gauge"].place.value).startswith("A lens of 1.50 mm passes")


SAID = {
    "trimming": "Resistor 24 kohm or 27 kohm the one looks 50 %, the other 48 % as bright",
    "strings": "Least current 2 strings of 2 LEDs 3 kohm each Draw together",
    "bulb": "Resistor 360 ohm the next of E24 up from 350 ohm The bulb gets 1.44 V",
    "strand": "Cut 66.0 mm Light that arrives",
    "lens": "Melt 1.98 mm of strand Lens 1.20 mm wide: the bore of 1.30 mm less 0.10 mm Stands out of the strand 1.07",
    "gauge": "A lens of 1.20 mm passes 1.20 mm and stops at 3/64 in (1.19 mm).",
    "lead": "Gauge AWG 36 Loses there and back 0.0817 V",
    "kept_alive": "Bridges about 0.08 s Stays in it with power off 0.098 J at most",
}


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_fold_answers_at_once(shared, name):
    assert plain(shared.folds[name].place.value).startswith(SAID[name])
    assert not any('role="alert"' in field.message for field in shared.folds[name].fields.values())


def test_drawings_and_the_cautions_beside_a_flame(shared):
    lens, gauge = shared.folds["lens"].place.value, shared.folds["gauge"].place.value
    assert lens.count("<svg") == 1
    assert all(f"Caution: {each.text}" in plain(lens) for each in cautions_on("flame"))
    assert "Solvent crazes acrylic strands." in plain(lens)
    assert gauge.count("<svg") == 1
    width = re.search(r"width: ([\d.]+)mm", gauge)[1]
    assert f'viewBox="0 0 {float(width):g} ' in gauge  # one drawing unit is one mm
    assert "Caution: Drills of 0.0400 in and under break easily" in plain(gauge)


def test_a_bulb_without_a_resistor(panel):
    panel.fields["rated_v"].value = "16 V"
    said = opened(panel, "bulb")
    assert said.startswith("Resistor none the supply is no more than the bulb is to get Current")
    assert "Mind: So far from its rated voltage the shares of light and life are rough." in said
    panel.fields["supply"].value, panel.fields["rated_v"].value = "5 V", "16 V"
    assert "Life, of what it is rated for far longer" in plain(panel.folds["bulb"].place.value)


def test_a_strand_that_is_formed_shows_the_flame(panel):
    assert "Melted acrylic drips" not in opened(panel, "strand")
    panel.fields["bends"].value = "90 deg, 5 mm"
    said = plain(panel.folds["strand"].place.value)
    assert "Bend 1: A bend of 90° round 5 mm loses about" in said
    assert "Melted acrylic drips" in said


def test_trial_ends_say_what_the_next_one_takes(panel):
    panel.fields["trials"].value = "2.2 mm, 1.2 mm\n2.3 mm, 1.2 mm"
    said = opened(panel, "lens")
    assert "By your trial ends" in said
    assert "by 2 trial ends; one more would take" in said


def test_a_thick_lead_is_not_minded(panel):
    assert "Mind: That is dense, past the 5 A/mm2 that is usual" in opened(panel, "lead")
    panel.fields["most_drop"].value = "0.02 V"
    assert "Mind" not in plain(panel.folds["lead"].place.value)


@pytest.mark.parametrize("name", FREE)
def test_a_wrong_entry_is_said_at_its_field_and_the_last_answer_kept(shared, name):
    asked, field = home_of(shared, name), shared.fields[name]
    good, before = field.value, asked.place.value
    field.value = HOSTILE
    assert 'role="alert"' in field.message
    assert sum('role="alert"' in each.message for each in shared.fields.values()) == 1
    assert plain(asked.place.value) == f"{OLD} {plain(before)}"
    shown = [each.message for each in shared.fields.values()]
    shown += [each.place.value for each in (shared.first, *shared.folds.values())]
    assert "<img" not in "".join(shown)
    field.value = good
    assert 'role="alert"' not in field.message
    assert asked.place.value == before


def test_what_is_wrong_above_is_said_there_alone(panel):
    opened(panel, "trimming")
    panel.fields["supply"].value = "12"
    assert plain(panel.folds["trimming"].place.value) == "Still to enter: what can be read in the first form above."
    assert plain(panel.fields["supply"].message).startswith("'12': it has no unit; write a number with its unit")


def test_with_nothing_entered_it_says_what_is_still_to_enter(panel):
    for name in FREE:
        panel.fields[name].value = ""
    assert plain(panel.first.place.value) == (
        "Still to enter: the supply at the output; the LED, by its colour or its voltage."
    )
    assert panel.summary == "Nothing is worked out yet."
    for name in panel.folds:
        assert opened(panel, name).startswith("Still to enter: ")


@pytest.mark.parametrize("supply", ["0.01 V to 60 V", "60 V", "3.2 V", "0.01 V"])
def test_supplies_at_the_ends_give_an_answer_or_say_what_is_wrong(panel, supply):
    panel.fields["supply"].value = supply
    for name, fold in panel.folds.items():
        said = opened(panel, name)
        alerts = [field for field in fold.fields.values() if 'role="alert"' in field.message]
        assert bool(said) != bool(alerts)
    refused = 'role="alert"' in panel.fields["supply"].message
    assert refused == (supply == "0.01 V")  # too little for an LED


def test_it_begins_with_entries_of_ones_own():
    panel = LightPanel({"lamp": "red", "series": "E12"})
    assert panel.summary.startswith("Take 5.6 kohm: ")  # (12 - about 1.9) V over 2 mA: some 5 kohm
    with pytest.raises(
        UnknownChoice,
        match=r"^an entry of this page is 'wire'; write one of supply, .*, bears\. Did you mean 'bore'\?$",
    ):
        LightPanel({"wire": "green"})
