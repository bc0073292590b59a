"""Names of rod, half round, angle, channel and tube, and the front door for the name of any stock."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.series import series_sizes_mm, strip_series
from modelmath.materials.sections.shapes import (
    SHAPE_SERIES,
    SHAPES,
    TUBES,
    TWO_SIZES,
    Section,
    parse_section,
    parse_stock,
)
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.strips import Strip

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959
EXAMPLE = "a shape such as .030 rod, 1 mm half round, .080 angle, .100 channel or 3/32 tube x .014 wall"


def whole(text):
    return f"^{re.escape(text)}$"


def inch(text):
    return INCH_MM * Fraction(text)


@pytest.mark.parametrize(
    ("text", "kind", "size", "other", "wall"),
    [
        ("rod .030", "rod", inch("0.030"), None, None),
        (".030 rod", "rod", inch("0.030"), None, None),
        (".030 round", "rod", inch("0.030"), None, None),
        (".03 rod", "rod", inch("0.030"), None, None),
        ("30 thou rod", "rod", inch("0.030"), None, None),
        ('0.030" rods', "rod", inch("0.030"), None, None),
        ("1 mm rod", "rod", Fraction(1), None, None),
        ("1,5 mm round rod", "rod", Fraction(3, 2), None, None),
        (".060 half round", "half round", inch("0.060"), None, None),
        ("half-round 2 mm", "half round", Fraction(2), None, None),
        (".080 angle", "angle", inch("0.080"), None, None),
        ("L-angle 2.5 mm", "angle", Fraction(5, 2), None, None),
        ("2 x 3 mm angle", "angle", Fraction(2), Fraction(3), None),
        (".100 channel", "channel", inch("0.100"), None, None),
        (".100 x .040 U-channel", "channel", inch("0.100"), inch("0.040"), None),
        ("3/32 tube", "tube", inch("3/32"), None, None),
        ("3/32 in tubing", "tube", inch("3/32"), None, None),
        ("1-1/4 in round tube", "tube", inch("5/4"), None, None),
        ("tube 3/32 x .014 wall", "tube", inch("3/32"), None, inch("0.014")),
        ("3/32 tube, 0.014 wall", "tube", inch("3/32"), None, inch("0.014")),
        ("3/32 tube with a wall .014", "tube", inch("3/32"), None, inch("0.014")),
        ("3/32 × .014 wall tube", "tube", inch("3/32"), None, inch("0.014")),
        ("4 mm tube, 3 mm bore", "tube", Fraction(4), None, Fraction(1, 2)),
        ("tube 4 mm x bore 3.2", "tube", Fraction(4), None, Fraction(2, 5)),
        ("4 mm tube x .014 wall", "tube", Fraction(4), None, inch("0.014")),
        ("1.5 x 0.5 mm tube", "tube", Fraction(3, 2), None, Fraction(1, 2)),  # its wall and its bore: the same tube
        ("4 mm square tube", "square tube", Fraction(4), None, None),
        ("1/8 sq. tubing", "square tube", inch("1/8"), None, None),
        ("box tube 1/8 x 1/64 wall", "square tube", inch("1/8"), None, inch("1/64")),
    ],
)
def test_shapes_as_people_write_them(text, kind, size, other, wall):
    section = parse_section(text)
    assert (section.kind, section.size_mm, section.other_mm, section.wall_mm) == (kind, size, other, wall)
    assert section.series == ("metric" if "mm" in text and ".014" not in text.split("mm")[0] else "decimal inch")
    assert parse_section(section.name) == section
    assert parse_stock(text) == section


@pytest.mark.parametrize(
    "name",
    [".030 rod", "3/32 tube", "3/32 tube x .014 wall", "1.500 in rod", "0.5 mm angle", "1 x 2 mm channel", "1/3 rod"],
)
def test_names_as_packets_print_them_come_back_as_they_are(name):
    assert parse_section(name).name == name


@pytest.mark.parametrize("kind", SHAPES)
@pytest.mark.parametrize("series", SHAPE_SERIES)
def test_every_shape_of_every_size_of_the_series_reads_back(kind, series):
    sections = [Section(kind, series, size) for size in series_sizes_mm(series)]
    assert [parse_section(section.name) for section in sections] == sections
    assert [parse_stock(section.name) for section in sections] == sections


# 1/64 to 3 of the unit: past an inch, where a bare number would say nothing, and thirds, which no decimal ends.
numbers = st.fractions(min_value=Fraction(1, 64), max_value=3, max_denominator=192)


@given(st.sampled_from(SHAPES), st.sampled_from(SHAPE_SERIES), numbers, st.none() | numbers)
def test_any_shape_reads_back_from_its_name(kind, series, size, second):
    unit = INCH_MM if series == "decimal inch" else Fraction(1)
    other = second * unit if second and kind in TWO_SIZES else None
    wall = second * unit / 7 if second and kind in TUBES and 2 * second < 7 * size else None
    section = Section(kind, series, size * unit, other, wall)
    assert parse_section(section.name) == section
    assert parse_stock(section.name) == section
    assert section.bore_mm is None or section.bore_mm + 2 * section.wall_mm == section.size_mm


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("3/32", f"'3/32': it names no shape; write {EXAMPLE}."),
        ("rod", f"'rod': it can't be read as a shape; write {EXAMPLE}."),
        ("rod tube 1 mm", f"'rod tube 1 mm': it names more than one shape; write {EXAMPLE}."),
        ("HO 6 rod", f"'HO 6 rod': it can't be read as a shape; write {EXAMPLE}."),
        ("0 mm rod", f"'0 mm rod': a size of 0 is no shape; write {EXAMPLE}."),
        ("1 x 2 mm rod", f"'1 x 2 mm rod': a rod has one size; write {EXAMPLE}."),
        ("2 mm rod x .5 mm wall", f"'2 mm rod x .5 mm wall': a rod has no wall or bore; write {EXAMPLE}."),
        (
            "1 mm x .1 in angle",
            "'1 mm x .1 in angle': its sizes have different units; write both in mm or both in inches.",
        ),
        (
            "4 mm tube 2 mm wall",
            (
                "'4 mm tube 2 mm wall': its wall leaves no tube; write a wall above 0 and less than half of the tube's "
                "size."
            ),
        ),
        (
            "4 mm tube 4 mm bore",
            "'4 mm tube 4 mm bore': its bore leaves no tube; write a bore above 0 and less than the tube's size.",
        ),
        (
            "4 x 3 mm tube",
            (
                "'4 x 3 mm tube': it doesn't say what its second size is; write 4 mm tube x 0.5 mm wall if it has a "
                "bore of 3."
            ),
        ),
        (
            "4 x 5 mm tube",
            (
                "'4 x 5 mm tube': it doesn't say what its second size is; write the outside first, as 4 mm tube x 0.5 "
                "mm wall."
            ),
        ),
        (
            "4 x 3 tube",
            (
                "'4 x 3 tube': it has no unit, and doesn't say what its second size is; write such as 4 mm tube x 0.5 "
                "mm wall."
            ),
        ),
        ("1 tube x 1 mm wall", "'1 tube x 1 mm wall': it has no unit; write 1.000 in tube x 5/127 wall."),
        (
            ".040 x 2 mm angle",
            "'.040 x 2 mm angle': its sizes have different units; write both in mm or both in inches.",
        ),
        (
            "1 tube x 2 wall",
            "'1 tube x 2 wall': its wall leaves no tube; write a wall above 0 and less than half of the tube's size.",
        ),
        ("", f"'': nothing is written here; write {EXAMPLE}."),
    ],
)
def test_what_is_no_shape_is_refused_and_says_what_to_write(text, message):
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_section(text)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1 rod", "'1 rod': it could be inches or mm; write 1.000 in rod for inches or 1 mm rod for mm."),
        (".5 rod", "'.5 rod': it could be inches or mm; write .500 rod for inches or 0.5 mm rod for mm."),
        (
            "2 x 3 angle",
            (
                "'2 x 3 angle': it could be inches or mm; write 2.000 in x 3.000 in angle for inches or 2 x 3 mm angle "
                "for mm."
            ),
        ),
        (
            "4 x .5 mm tube",
            (
                "'4 x .5 mm tube': it could be a bore of 0.5 or a wall of 0.5; write 4 mm tube x 1.75 mm wall for a "
                "bore of 0.5 or 4 mm tube x 0.5 mm wall for a wall of 0.5."
            ),
        ),
        (
            "4 tube, 3 bore",
            (
                "'4 tube, 3 bore': it could be inches or mm; write 4.000 in tube x .500 wall for inches or 4 mm tube x "
                "0.5 mm wall for mm."
            ),
        ),
        (
            ".030",
            (
                "'.030': it could be sheet, rod or square strip; write .030 sheet for sheet, .030 rod for rod or .030 "
                "sq for square strip."
            ),
        ),
        (
            "1 mm",
            (
                "'1 mm': it could be sheet, rod or square strip; write 1 mm sheet for sheet, 1 mm rod for rod or 1 x 1 "
                "mm for square strip."
            ),
        ),
    ],
)
def test_a_name_that_could_be_two_things_asks_which(text, message):
    with pytest.raises(AmbiguousName, match=whole(message)) as asked:
        parse_stock(text)
    assert len(asked.value.readings) == len(asked.value.kinds) >= 2
    assert [parse_stock(reading).name for reading in asked.value.readings] == list(asked.value.readings)


@pytest.mark.parametrize(
    ("text", "stock"),
    [
        ("HO 6 by 10", Strip("scale lumber", Fraction(7, 4), Fraction(35, 12), "HO")),
        (".040 square", Strip("decimal inch", inch("0.040"), inch("0.040"))),
        (".040 square rod", Strip("decimal inch", inch("0.040"), inch("0.040"))),
        ("2 mm sq rod", Strip("metric", Fraction(2), Fraction(2))),
        ("sheet .020", Sheet("decimal inch", inch("0.020"))),
        ("1 mm plate", Sheet("metric", Fraction(1))),
        (".020 rod", Section("rod", "decimal inch", inch("0.020"))),
    ],
)
def test_the_front_door_reads_any_stock(text, stock):
    assert parse_stock(text) == stock


def test_the_front_door_reads_every_strip_and_sheet_of_the_series():
    strips = strip_series("HO")
    sheets = tuple(Sheet(each, size) for each in SHAPE_SERIES for size in series_sizes_mm(each))
    assert all(parse_stock(each.name) == each for each in strips + sheets)
    assert parse_stock("6x10", "O") == Strip("scale lumber", INCH_MM / 8, INCH_MM * 10 / 48, "O")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("2", "'2': it has no unit, and no word for what it is"),
        ("0 mm", "'0 mm': a size of 0 is no stock"),
    ],
)
def test_a_lone_number_is_no_stock(text, message):
    advice = "write a name such as HO 6x10, .030 x .125, 1 mm sheet, .030 rod or 3/32 tube"
    with pytest.raises(UnreadableLength, match=whole(f"{message}; {advice}.")):
        parse_stock(text)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        (
            {"kind": "rods"},
            "shape is 'rods'; write one of rod, half round, angle, channel, tube, square tube. Did you mean 'rod'?",
        ),
        (
            {"series": "scale lumber"},
            "series of shapes is 'scale lumber'; write one of decimal inch, metric.",
        ),
        ({"size_mm": 0}, "size_mm is 0 mm; it must be above 0 mm. Write a positive number of mm."),
        (
            {"other_mm": 1},
            "other_mm is 1 mm; it must be an angle's or a channel's; None for a rod. Leave it out.",
        ),
        ({"wall_mm": 0.5}, "wall_mm is 0.5 mm; it must be a tube's; None for a rod. Leave it out."),
        (
            {"kind": "tube", "wall_mm": 1},
            "wall_mm is 1 mm; it must be below 1 mm, half of the tube's size. Check the wall; a solid one is a rod.",
        ),
    ],
)
def test_a_section_that_contradicts_itself_is_refused(fields, message):
    with pytest.raises((OutOfRange, UnknownChoice), match=whole(message)):
        Section(**{"kind": "rod", "series": "metric", "size_mm": 2} | fields)
