"""The figures of a cut plan: stops against the rule's marks, sheets with their snaps."""

from fractions import Fraction
from itertools import pairwise

import pytest
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.clearance import Marks
from modelmath.cutting import CutPart, CutStock, plan_cuts
from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet
from modelmath.drawings.figures.bars import strip_bars
from modelmath.drawings.figures.sheet_snaps import sheet_snaps
from modelmath.drawings.figures.stops import stops_on_rule
from modelmath.drawings.shapes import Box, Label, Lines
from modelmath.drawings.svg import to_svg
from modelmath.lengths.rules import Rule

HO = Marks(Rule(scale="HO", graduation="1/4", zero_offset="1", name="scale rule", length="40"), "1/4")


def drawn(lengths, marks=HO, width=640):
    parts = [CutPart(f"part {at}", length, 2, "HO 6x10") for at, length in enumerate(lengths)]
    return stops_on_rule(plan_cuts(parts, [CutStock("HO 6x10", 300)]).stops, marks, width)


def test_a_piece_ends_at_the_mark_its_stop_is_set_at():
    """HO, 3.5 mm to the foot, zero one foot in: 28 mm end at mark 7, and the marks stand as far apart as they are."""
    drawing = drawn([Fraction(28), Fraction(21, 2)])
    pieces = {shape.width for shape in drawing.shapes if isinstance(shape, Box) and shape.name == "piece"}
    ticks = next(shape for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "marks")
    numbers = {shape.text: shape.x for shape in drawing.shapes if isinstance(shape, Label) and shape.text.isdigit()}
    long, short = max(pieces), min(pieces)
    assert long / short == pytest.approx(28 / 10.5)
    assert numbers["7"] == pytest.approx(4 + long)
    assert numbers["2"] == pytest.approx(4 + short)
    assert numbers["7"] - numbers["6"] == pytest.approx(long / 8)
    steps = {round(two[0][0] - one[0][0], 6) for one, two in pairwise(ticks.runs)}
    assert len(steps) == 1
    assert drawing.description == "a: 7 scale ft, 28.00 mm; b: 2 scale ft, 10.50 mm"


def test_a_length_beyond_the_rule_is_left_out_of_the_figure():
    drawing = drawn([Fraction(200), Fraction(21, 2)])
    assert [shape.text for shape in drawing.shapes if isinstance(shape, Label) and ":" in shape.text] == [
        "b: 2 scale ft · 10.50 mm · 2 pieces"
    ]


def test_from_the_zero_mark_a_piece_begins_at_it():
    marks = Marks(Rule(unit="mm", graduation="0.5", zero_offset="10", name="steel rule"), "0.5", "zero")
    drawing = drawn([Fraction(30)], marks)
    numbers = {shape.text: shape.x for shape in drawing.shapes if isinstance(shape, Label) and shape.text.isdigit()}
    assert numbers["0"] == pytest.approx(4)
    assert drawing.title == "Where to set the steel rule for each length, its zero mark at the piece's edge"


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("width", [320, 640])
def test_every_demo_job_is_drawn_inside_its_sheet(name, width):
    made = plan(DEMOS[name])
    layout = made.sheet_layout.layout
    figures = [stops_on_rule(made.cuts.stops, made.marks, width), *strip_bars(made.cuts, width)]
    figures += [sheet_snaps(sheet, width) for sheet in (layout.sheets if layout else ())]
    for drawing in figures:
        boxes = [shape for shape in drawing.shapes if isinstance(shape, Box)]
        assert boxes
        assert all(box.x >= -1e-6 and box.x + box.width <= width + 1e-6 for box in boxes)
        assert all(box.y + box.height <= drawing.height + 1e-6 for box in boxes)
        assert to_svg(drawing, width).startswith("<svg ")


def test_snaps_are_numbered_where_they_run_and_read_out():
    parts = [SheetPart("wall", 30, 20, 4, "1 mm sheet"), SheetPart("plate", 45, 20, 1, "1 mm sheet")]
    layout = lay_out_sheet(parts, [SheetStock("1 mm sheet", 100, 50, thickness_mm=1)])
    (sheet,) = layout.sheets
    drawing = sheet_snaps(sheet, 400)
    lines = [shape for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "snap"]
    numbers = [shape.text for shape in drawing.shapes if isinstance(shape, Label) and shape.text.isdigit()]
    assert len(lines) == len(sheet.snaps)
    assert numbers == [str(snap.number) for snap in sheet.snaps]
    assert drawing.title == "Sheet 1: 1 mm sheet, 100.00 × 50.00 mm, to buy"
    assert all(f"snap {snap.number}: " in drawing.description for snap in sheet.snaps)
    (outline,) = [shape for shape in drawing.shapes if isinstance(shape, Box) and shape.name == "sheet"]
    for line, snap in zip(lines, sheet.snaps, strict=True):
        ((x1, y1), (x2, y2)) = line.runs[0]
        assert (x1 == x2) == (snap.along == "width")
        assert max(abs(x2 - x1), abs(y2 - y1)) == pytest.approx(
            float(snap.panel[3 if snap.along == "width" else 2]) * outline.width / 100
        )


def pieces_of(drawing, kind="part"):
    return [each for each in drawing.shapes if isinstance(each, Box) and each.name == kind]


def within(label, box):
    return box.x < label.x < box.x + box.width and box.y < label.y < box.y + box.height


def test_a_piece_too_small_for_its_name_has_a_letter_that_the_key_explains():
    parts = [SheetPart("bulkhead of the cab", 13, 12, 2, "1 mm sheet"), SheetPart("strip", 30, 4, 1, "1 mm sheet")]
    (sheet,) = lay_out_sheet(parts, [SheetStock("1 mm sheet", 100, 50, thickness_mm=1)]).sheets
    drawing = sheet_snaps(sheet, 400)
    labels = [shape for shape in drawing.shapes if isinstance(shape, Label)]
    key = {label.text.partition(": ")[0]: label.text.partition(": ")[2] for label in labels if label.y < -20}
    assert sorted(words.partition(",")[0] for words in key.values()) == [
        "bulkhead of the cab",
        "offcut to keep",
        "strip",
    ]
    leaders = [shape.runs[0] for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "name leader"]
    for box, piece in zip(pieces_of(drawing), sheet.pieces, strict=True):
        on_it = [label.text for label in labels if within(label, box) and label.text in key]
        if not on_it:
            middle = (box.x + box.width / 2, box.y + box.height / 2)
            (end,) = [end for start, end in leaders if start == pytest.approx(middle)]
            on_it = [label.text for label in labels if label.x == pytest.approx(end[0]) and label.text in key]
        assert [key[letter].partition(",")[0] for letter in on_it] == [piece.part]


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("width", [320, 640])
def test_no_name_on_a_sheet_is_parted_within_a_word_and_each_piece_has_one(name, width):
    layout = plan(DEMOS[name]).sheet_layout.layout
    for sheet in layout.sheets if layout else ():
        drawing = sheet_snaps(sheet, width)
        labels = [shape for shape in drawing.shapes if isinstance(shape, Label)]
        known = {word for piece in sheet.pieces for word in piece.part.split()} | {"offcut", "to", "keep", "×"}
        letters = {label.text.partition(":")[0] for label in labels if label.y < -20}
        leaders = [shape.runs[0][0] for shape in drawing.shapes if isinstance(shape, Lines)
                   and shape.name == "name leader"]  # fmt: skip
        for box in pieces_of(drawing):
            written = [label.text for label in labels if within(label, box) and not label.text.isdigit()]
            words = {word for text in written for word in text.split() if any(sign.isalpha() for sign in word)}
            assert words <= known | letters
            assert words or any(box.x < x < box.x + box.width and box.y < y < box.y + box.height for x, y in leaders)


def test_what_is_only_left_over_is_said_in_full():
    parts = [SheetPart("wall", 30, 20, 2, "1 mm sheet")]
    (sheet,) = lay_out_sheet(parts, [SheetStock("1 mm sheet", 60, 20, thickness_mm=1)]).sheets
    (snap,) = sheet.snaps
    assert snap.rest
    left_over = "wall, the piece left over beyond the last line: check its size"
    assert snap.frees_text == f"wall; {left_over}"
    assert left_over in sheet_snaps(sheet, 400).description


def test_a_bar_says_what_is_kept_and_what_is_scrap():
    parts = [CutPart("beam", 100, 1, "HO 6x10"), CutPart("long", 199, 1, "HO 6x10")]
    cuts = plan_cuts(parts, [CutStock("HO 6x10", 200)], least_offcut_mm=20)
    words = [[shape.text for shape in bar.shapes if isinstance(shape, Label)] for bar in strip_bars(cuts, 500)]
    assert [any("keep 100.00 mm" in text for text in texts) for texts in words] == [False, True]
    assert [
        any(isinstance(shape, Lines) and shape.name == "scrap" for shape in bar.shapes) for bar in strip_bars(cuts, 500)
    ] == [True, False]
