"""The page on what moves, driven in Python: by setting the values of its fields."""

from __future__ import annotations

import re
from html import unescape
from math import degrees

import pytest
from published import agrees_with_print, published_rows

from modelmath.enclosure.mechanism import yaw
from modelmath.lengths.scales import all_scales
from modelmath.widgets.common import look
from modelmath.widgets.common.look import LAST
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
    assert plain(panel.truck.result.value).startswith(f"{LAST} Lowest a bulkhead may reach")
    assert panel.truck.result.value.count("mm-stale") == 1
    assert panel.summary == "A size can't be read yet."
    panel.fields["length"].value = "30 mm"
    assert 'role="alert"' not in panel.fields["length"].message
    panel.fields["radius"].value = "40 mm"
    assert "further apart than twice the radius" in plain(panel.fields["pivots"].message)
    assert 'role="alert"' not in panel.fields["radius"].message
    panel.fields["radius"].value = "18 in"
    assert panel.truck.result.value == before
    panel.fields["rise"].value = "40 mm"
    assert panel.summary.startswith("rise of the end is 40 mm")
    panel.fields["rise"].value = "0.4 mm"
    assert panel.truck.result.value == before


@pytest.mark.parametrize(
    ("part", "name", "text", "said"),
    [
        ("truck", "width", "0 mm", "width is 0 mm; it must be above 0"),
        ("truck", "width", "-3 mm", "width is -3 mm; it must be above 0"),
        ("truck", "length", "0 mm", "length of the truck is 0 mm; it must be above 0"),
        ("truck", "depth", "0 mm", "depth of the truck is 0 mm; it must be above 0"),
        ("truck", "rise", "40 mm", "less than its distance from the axis, 15 mm"),
        ("truck", "radius", "0 mm", "it must be above 0. Write the radius to the middle of the track"),
        (
            "truck",
            "pivots",
            "1000 mm",
            "below 914.40 mm, for a radius of 457.20 mm. The pivots are further apart than twice the radius",
        ),
        ("shafts", "wheel", "0 mm", "flywheel: diameter is 0 mm"),
        ("shafts", "wheel_width", "0 mm", "flywheel: width is 0 mm"),
        ("shafts", "runout", "-1 mm", "flywheel: runout is -1 mm"),
        ("shafts", "shaft", "0 mm", "drive line: diameter is 0 mm"),
        ("shafts", "whip", "-1 mm", "drive line: whip is -1 mm"),
        ("body", "radius", "0 mm", "such as 18 in"),
        ("body", "pivots", "1000 mm", "further apart than twice the radius"),
        ("body", "wheelbase", "1000 mm", "Measure it between the outer axles"),
        ("hinged", "face", "0 mm", "distance to the bulkhead is 0 mm"),
        ("hinged", "step_end", "0 mm", "distance to the step is 0 mm"),
        ("hinged", "roof", "8 mm", "the bulkhead is"),
    ],
)
def test_each_fault_stands_at_its_own_field_alone(panel, part, name, text, said):
    asked = getattr(panel, part)
    asked.fields[name].value = text
    assert said in plain(asked.fields[name].message)
    assert [each for each, field in asked.fields.items() if 'role="alert"' in field.message] == [name]
    assert asked.fault.value == ""
    assert LAST in plain(asked.result.value)


def test_a_truck_wider_than_the_shell_is_a_problem_at_rest(panel):
    wide = "Too wide at rest: what turns is 27.00 mm wide, and the shell only 26.00 mm inside."
    panel.fields["width"].value = "27 mm"
    assert look.problem(wide) in panel.truck.result.value
    assert panel.summary.splitlines()[1] == wide
    panel.fields["width"].value = "26 mm"
    assert "Too wide at full swing" in panel.summary


def test_the_figure_gives_the_swing_in_the_digits_of_the_text(panel):
    assert "5.65°" in panel.truck.result.value
    assert "5.65 degrees" in panel.summary


def test_all_scales_are_offered_the_common_ones_first(panel):
    names = panel.scale.control.options
    assert names[:4] == ("HO", "N", "O", "S")
    assert set(names) == {each.name for each in all_scales()}


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
    panel.fields["width"].value = "0 mm"
    assert "can't be right" in plain(panel.shafts.result.value)


def test_the_body_on_a_curve_meets_the_published_rows(panel):
    rows = {row["id"]: row["value"] for row in published_rows("curve_examples.csv")}
    said = plain(panel.body.result.value)
    assert f"Inside of the curve, at its middle {float(rows['OV1c']):.2f} mm" in said
    assert f"Outside of the curve, at its ends {float(rows['OV1e']):.2f} mm" in said
    before = said
    panel.body.fields["wheelbase"].value = "30 mm"
    assert plain(panel.body.result.value) != before
    panel.body.fields["radius"].value = "20 mm"
    assert 'role="alert"' in panel.body.fields["pivots"].message


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
