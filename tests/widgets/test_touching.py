"""The room left as HTML: what a reader can add up by hand from what is printed comes to what is printed."""

from __future__ import annotations

import re
from fractions import Fraction
from html import unescape

import pytest
from sample_jobs import DEMOS
from spacious import CLIP, SPEAKER, spacious

from modelmath import plan
from modelmath.widgets.plan.space import skyline
from modelmath.widgets.plan.touching import card, sizes, spots


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


def rows(html: str) -> list[list[str]]:
    """The cells of a table's body, row by row."""
    return [
        [plain(cell) for cell in re.findall(r"<t[dh][^>]*>(.*?)</t[dh]>", row, re.DOTALL)]
        for row in re.findall(r"<tr[^>]*>(.*?)</tr>", html.partition("<tbody>")[2], re.DOTALL)
    ]


def mm(text: str) -> Fraction:
    return Fraction(re.search(r"(-?\d+\.\d\d) mm", text).group(1))


WITH_CONE = {"decoder": None, "speaker": {**SPEAKER, "travel": "0.6 mm"}}
ALLOW = [{"name": "black paint", "what": "paint", "thickness": "0.05 mm", "tolerance": "0.02 mm", "layers": 2}]


@pytest.mark.parametrize(
    "found",
    [spacious(**WITH_CONE), spacious(**WITH_CONE, allow=ALLOW), *map(plan, DEMOS.values())],
    ids=["cone", "cone and paint", *DEMOS],
)
def test_each_line_of_the_sizes_adds_up_by_hand(found):
    said = sizes(found)
    space = mm(re.search(r"is (\d+\.\d\d mm): less the height", plain(said)).group(1))
    takes = re.search(r"and less (\d+\.\d\d mm) for", plain(said))
    worst = re.search(r"With all at its limit it is (\d+\.\d\d mm) less", plain(said))
    cent = Fraction(1, 100)  # of each of the three or four numbers half a hundredth may be rounded away
    assert "Lengths are rounded to 0.01 mm." in plain(said)
    for _, height, _, left, at_worst, note in rows(said):
        assert abs(space - mm(height) - (mm(takes.group(1)) if takes else 0) - mm(left)) <= 2 * cent
        assert worst is None or abs(mm(left) - mm(worst.group(1)) - mm(at_worst)) <= cent
        enough = found.gap.kept_mm - cent <= mm(left)
        assert enough or note.startswith("leaves ")


def test_where_the_cone_sets_the_floor_the_table_says_what_is_kept_and_which_size_leaves_too_little():
    """Space 30 - 10 = 20 mm; 1.00 + 0.60 mm to keep: 18.4 mm, at the mark 18.0; 18.5 leaves 1.50 mm, 19 leaves 1."""
    found = spacious(**WITH_CONE)
    table = sizes(found)
    notes = {height: (left, note) for _, height, _, left, _, note in rows(table)}
    assert notes["18.00 mm"] == ("2.00 mm", "this plan")
    assert notes["18.50 mm"] == ("1.50 mm", "leaves too little for the speaker's cone to move out")
    assert notes["19.00 mm"] == ("1.00 mm", "leaves too little for the speaker's cone to move out")
    assert notes["19.50 mm"] == ("0.50 mm", "leaves less than the clearance to keep")
    assert "The free depth over low end is 20.00 mm: less the height, that is the room left." in plain(table)
    assert "This plan keeps 1.00 mm of clearance and 0.60 mm for the speaker's cone to move out." in plain(table)


def test_paint_is_named_beside_the_height():
    assert "less the height and less 0.10 mm for black paint, that is the room left." in plain(
        sizes(spacious(**WITH_CONE, allow=ALLOW))
    )


def test_the_card_says_what_the_room_is_made_of_and_what_a_larger_size_would_lack():
    said = plain(card(spacious(**WITH_CONE)))
    assert (
        "Room left 2.00 mm What that is made of 1.00 mm of clearance, 0.60 mm for the speaker's cone to move out, and "
        "0.40 mm more because the height is cut to a mark"
    ) in said
    assert re.search(r"The largest size at a mark .* mm; it leaves ", said)


def test_the_room_below_the_speaker_is_that_below_its_cone():
    note = "The room left below the speaker is that below its cone when it has moved out by 0.60 mm."
    assert note in plain(spots(spacious(**WITH_CONE)))
    assert "cone" not in plain(spots(spacious(decoder=None)))


def test_the_space_along_the_length_counts_from_the_mark_by_its_name():
    said = skyline(spacious())
    assert "Along the length, mm from the screw" in said
    assert "Places count from the screw, to the rear." in said
    assert "fore-aft" not in said
    assert ", moving" not in skyline(spacious(obstacles=[CLIP]))  # what stands does not move
