"""What the sheets behind the card say, read from their paragraphs: what stands does not move, sums add up."""

from __future__ import annotations

from fractions import Fraction

from sample_jobs import DEMOS
from spacious import CLIP, POST, SPEAKER, spacious

from modelmath import plan
from modelmath.drawings.sheets.made import parts_sheet
from modelmath.drawings.sheets.measured import clearance_sheet, readings_sheet

WIDTH = 500.0


def told(flowable) -> list[str]:
    """The text of a flowable and of all within it, in order."""
    if isinstance(flowable, list | tuple):
        return [text for each in flowable for text in told(each)]
    if isinstance(flowable, str):
        return [flowable.replace("\xa0", " ")]
    for name in ("_cellvalues", "_content"):
        if hasattr(flowable, name):
            return told(getattr(flowable, name))
    return told(flowable.text) if hasattr(flowable, "text") else []


def test_what_stands_has_a_table_of_its_own():
    said = told(readings_sheet(spacious(obstacles=[CLIP, POST], decoder=None), WIDTH))
    assert "What moves" not in said
    start = said.index("What stands inside")
    # Clip: 35 - 15 - 0.5 to 45 - 15 + 0.5 mm, 6 / 2 + 0.5 mm to either side of its middle.
    assert said[start + 1 : start + 13] == [
        "What stands inside", "Its top, mm", "Reach along from the mark, mm", "To either side, mm",
        "motor clip", said[start + 6], "19.50 to 30.50", "3.50 of its middle, 1.00 mm right of the centre",
        "screw post", "up to the roof", "49.50 to 56.50", "3.00 of its middle, 3.00 mm left of the centre",
    ]  # fmt: skip
    assert said[start + 6].startswith("14.00")
    assert not [each for each in said if "swing" in each]


def test_what_moves_keeps_its_words():
    said = told(readings_sheet(plan(DEMOS["railbus-ho"]), WIDTH))
    assert "What moves" in said
    assert "What stands inside" not in said
    assert "Reach along and to the side is at full swing and play, running clearance in it." in said


def test_where_the_cone_raises_the_floor_the_sheets_say_how_much_of_the_room_that_is():
    """Space 20 mm, bulkhead 18.00 mm; 1 mm of clearance leaves 19 mm, of which the cone takes 0.6."""
    found = spacious(decoder=None, speaker={**SPEAKER, "travel": "0.6 mm"})
    said = told(clearance_sheet(found, WIDTH))
    row = said.index("kept: 1.00 mm of clearance and 0.60 mm for the speaker's cone to move out")
    assert said[row + 1] == "1.60"
    assert said[said.index("room left") + 1] == "2.00"
    terms = [said[said.index(name) + 1] for name in ("free depth over low end", "bulkhead as cut")]
    assert sum(Fraction(each.replace("−", "-")) for each in terms) == 2
    parts = told(parts_sheet(found, WIDTH))
    assert "exact 18.40 mm, 0.40 mm room" in parts  # 20 mm less 1 mm of clearance and 0.6 mm for the cone
    assert not [each for each in told(parts_sheet(spacious(decoder=None), WIDTH)) if "of it" in each]
