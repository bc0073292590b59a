"""The page on what moves, driven in Python: by setting the values of its fields."""

from __future__ import annotations

import re
from html import unescape
from math import degrees

import pytest
from published import agrees_with_print, published_rows

from modelmath.enclosure.mechanism import yaw
from modelmath.widgets.moving import MovingPanel

KEEP = "keep every lower edge at least"


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture
def panel() -> MovingPanel:
    return MovingPanel()


def test_it_opens_with_an_answer_and_a_figure(panel):
    said = plain(panel.truck.result.value)
    assert said.startswith("Lowest a bulkhead may reach over the truck, above the seat")
    assert "<svg" in panel.truck.result.value
    # 90 mm pivots on 18 in, a worked row of the published examples.
    (row,) = [row for row in published_rows("curve_examples.csv") if row["id"] == "OV1y"]
    assert agrees_with_print(degrees(yaw(90, 457.2)), row["value"])
    assert panel.summary.splitlines()[0] == "It turns by 5.65 degrees to either side."


def test_sizes_may_be_typed_in_any_unit(panel):
    before = panel.summary
    panel.fields["radius"].value = "457.2 mm"
    panel.fields["width"].value = "1.8 cm"
    assert panel.summary == before
    panel.fields["top"].value = "2 scale ft"  # 7 mm at 3.5 mm to the foot
    assert panel.summary == before
    panel.scale.value = "O"
    assert panel.summary != before
    assert plain(panel.fields["top"].message).startswith("12.70 mm")  # 1:48, NMRA S-1.2


def test_a_level_truck_on_straight_track_by_hand(panel):
    """Arithmetic: half of 18 and the running clearance; 26 / 2 - 9.5 to spare; 7 + 0.5 above the seat."""
    for name, text in {"pivots": "0 mm", "play": "0 mm", "rise": "0 mm"}.items():
        panel.fields[name].value = text
    assert panel.summary.splitlines() == [
        "It turns by 0.00 degrees to either side.",
        "Clear of the side walls by 3.50 mm on either side, beside its running clearance.",
        f"From 15.50 mm ahead of its pivot to 15.50 mm behind it, {KEEP} 7.50 mm above the seat.",
    ]
    panel.fields["offset"].value = "2 mm"
    assert panel.summary.splitlines()[2].startswith("From 17.50 mm ahead of its pivot to 13.50 mm behind it")
    panel.fields["inside"].value = "18.5 mm"
    assert panel.summary.splitlines()[1] == (
        "Too wide at full swing: 0.25 mm too little on either side, with its running clearance."
    )
    panel.fields["inside"].value = ""
    assert len(panel.summary.splitlines()) == 2
    assert "inside of the shell" not in panel.truck.result.value


def test_a_wrong_entry_is_told_beside_its_field_and_the_last_answer_stays(panel):
    before = panel.truck.result.value
    panel.fields["length"].value = "3 inches 4"
    assert 'role="alert"' in panel.fields["length"].message
    assert panel.truck.result.value == before
    assert panel.summary == "A size can't be read yet."
    panel.fields["length"].value = "30 mm"
    assert 'role="alert"' not in panel.fields["length"].message
    panel.fields["radius"].value = "40 mm"
    assert "it must be above 45.00 mm for pivots so far apart" in plain(panel.fields["radius"].message)
    assert panel.truck.result.value == before
    panel.fields["radius"].value = "18 in"
    panel.fields["rise"].value = "40 mm"
    assert "less than its distance from the axis, 15 mm" in plain(panel.truck.fault.value)
    assert panel.summary.startswith("rise of the end is 40 mm")
    panel.fields["rise"].value = "0 mm"
    assert panel.truck.fault.value == ""


def test_typed_text_is_escaped(panel):
    panel.fields["length"].value = "<b>30</b> mm"
    assert "<b>" not in panel.fields["length"].message


def test_drive_line_and_flywheel_by_hand(panel):
    """Arithmetic: 8 + 6 + 0.1 + 0.5; the shaft 10 + 1.5 + 0.2 + 0.5 where the truck doesn't rock."""
    panel.fields["rise"].value = "0 mm"
    said = plain(panel.shafts.result.value)
    assert "Flywheel. From 3.50 mm ahead of its middle to 3.50 mm behind it" in said
    assert "at least 14.60 mm above the seat" in said
    assert "at least 12.20 mm above the seat" in said
    panel.fields["width"].value = "wide"
    assert "can't be read yet" in plain(panel.shafts.result.value)


def test_the_body_on_a_curve_meets_the_published_rows(panel):
    rows = {row["id"]: row["value"] for row in published_rows("curve_examples.csv")}
    said = plain(panel.body.result.value)
    assert f"Inside of the curve, at its middle {float(rows['OV1c']):.2f} mm" in said
    assert f"Outside of the curve, at its ends {float(rows['OV1e']):.2f} mm" in said
    before = said
    panel.body.fields["wheelbase"].value = "30 mm"
    assert plain(panel.body.result.value) != before
    panel.body.fields["radius"].value = "20 mm"
    assert 'role="alert"' in panel.body.fields["radius"].message


def test_a_hinged_shell_tells_what_meets_and_what_comes_off(panel):
    said = plain(panel.hinged.result.value)
    assert re.match(r"The bulkhead meets the step once the shell is open by \d\.\d degrees\. It passes with", said)
    panel.hinged.fields["step_end"].value = "70 mm"
    assert plain(panel.hinged.result.value).startswith("The shell comes off clear")
    panel.hinged.fields["edge"].value = "5 mm"
    assert plain(panel.hinged.fields["edge"].message).startswith(
        "the bulkhead's lower edge is 5.00 mm above the seat; it must be at or above the chassis beyond it, 6.00 mm."
    )


def test_the_folds_hold_the_rest(panel):
    assert [fold.title for fold in panel.folds] == [
        "Pivot, play and rock",
        "Drive line and flywheel",
        "Body overhang beside the track",
        "Shell that comes off hinged at one end",
    ]
    assert all(len(fold.view.children) == 1 for fold in panel.folds)
