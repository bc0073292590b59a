"""Targets: lengths, scales, rules and their marks, gauges, prototype sizes, scaled drawings, quantities."""

from __future__ import annotations

from typing import Any

from fuzz.chooser import Choices
from fuzz.target import Target, refused
from fuzz.words import NUMBERS, short_text, text

from modelmath.clearance.typed import read_terms
from modelmath.errors import shown
from modelmath.lengths.calibration import calibrate
from modelmath.lengths.calibration.pasted_gauges import read_gauges
from modelmath.lengths.full_size.areas import parse_area, parse_volume
from modelmath.lengths.full_size.drawing_lines import (
    read_full_size,
    read_known,
    read_limit,
    read_measured,
    read_wanted,
)
from modelmath.lengths.full_size.from_drawing import DrawingRatio
from modelmath.lengths.full_size.resizing import resize_lines, scales_listed
from modelmath.lengths.full_size.sides import unit_behind
from modelmath.lengths.lines import columns_of
from modelmath.lengths.parse import parse_length, parse_length_exact, parse_prototype
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.repeats import mean_of
from modelmath.lengths.scales import scale
from modelmath.lengths.table.rule_lines import read_rules
from modelmath.lengths.text import format_length
from modelmath.quantities.text import KINDS, format_quantity, parse_quantity, states_limits
from modelmath.sound.driver.driver import PARAMETERS
from modelmath.sound.driver.single import read_wanted_q
from modelmath.sound.driver.tolerances import as_entered

LENGTHS = (
    "3 3/4 scale ft",
    "15.9 mm",
    ".040 in",
    "4' 9 1/2\"",
    "1.5 cm",
    "3-3/4",
    "1,5 mm",
    "12 ft 6 in",
    "2¼ scale in",
)
UNITS = (None, "mm", "in", "ft", "scale foot", "scale inch", "cm", "furlong")
SCALES = (None, "HO", "N", "1:87.1", "O (British)", "Q")
QUANTITIES = (
    "450 ± 30 Hz, measured", "8 ohm", "1.5 to 2.5 cm3", "0.7", "450 Hz ± 5 %", "0.8, 0.7 to 1.1, estimated", "12 V",
    "2 mA", "470 uF", "3 s", "0.08 g", "95 mm2", "0.4 mm", "0.05 mH", "1 W",
)  # fmt: skip
RULE = {"unit": "scale foot", "scale": "HO", "graduation": "1/4", "zero_offset": "1", "offset_uncertainty": "0.1 mm",
        "reading_uncertainty": "0.2 mm", "read_to": "1/8", "length": "60"}  # fmt: skip
GAUGES = (
    "shank; .089 in; -1/4; ±0.01 mm", "bar; 20 mm; 5; zero", "leaf; 1 mm; 1/4", "block; 2 in; 13 1/2",
    "x; 70 mm; 19; 0.02 mm",
)  # fmt: skip
TERMS = (
    "width; 13.6 mm; 0.05 mm",
    "speaker; -11 mm; ±0.1 mm; normal",
    "foam; -1 mm",
    "paint; 0.1 mm; 0.02 mm; triangular",
)
RULES = ("scale rule; scale ft; 1/4; 1", "caliper; mm; 0.01", "steel rule; in; 1/64; 0", "depth gauge; mm; 0.02")
RESIZED = ("walkway; 12.25 mm", "sill; 6 x 10 scale in", "door; 2 1/2 scale ft x 7 scale ft", "40' 6\"")
KNOWN = ("body; 40' 6\"; 257.2", "gauge; 4' 8 1/2\"; 30; 0.5", "truck; 5' 6\"; 35.1 mm")
WANTED = ("window; 12.5", "door; 21.75; 0.5", "step; 3 mm")
RULE_MM = Rule(unit="mm", graduation="0.5", zero_offset="4", offset_uncertainty="0.1 mm", length="300")
RULE_HO = Rule(scale="HO", zero_offset="1", offset_uncertainty="0.2 mm")


def _length(choices: Choices) -> tuple[Any, ...]:
    return text(choices, LENGTHS), choices.one(UNITS), choices.one(SCALES)


def read_length(typed: str, unit: str | None, of: str | None) -> None:
    """Both forms agree, and what was read is written again."""
    exact = parse_length_exact(typed, unit, of)
    assert parse_length(typed, unit, of) == float(exact)
    assert len(format_length(exact, "mm")) < 200


def read_prototype(typed: str, unit: str | None) -> None:
    assert str(parse_prototype(typed, unit))


def read_area(typed: str, unit: str | None, volume: bool) -> None:
    assert str((parse_volume if volume else parse_area)(typed, unit))


def read_scale(typed: str, listed: bool) -> None:
    if listed:
        assert scales_listed(typed) is not None
    else:
        assert scale(typed).mm_per_foot > 0


def _rule(choices: Choices) -> tuple[Any, ...]:
    fields: dict[str, str | None] = dict(RULE)
    for _ in range(choices.below(3)):
        name = choices.one(list(RULE))
        fields[name] = short_text(choices, ("mm", "in", "scale inch", "0.5", "0", "300", RULE[name]))
    if choices.often(60):
        fields.pop(choices.one(list(RULE)), None)
    return fields, [short_text(choices, ("7 1/2", "12", "15.9 mm", "0")) for _ in range(choices.below(5) + 1)]


def use_rule(fields: dict[str, str], marks: list[str]) -> None:
    """A rule is made of texts, reads marks, and is set to what it read."""
    rule = Rule(**fields)  # type: ignore[arg-type]
    repeats, mean_mm, length = mean_of(rule, marks)
    assert repeats.deviation_mm >= 0
    assert length.s >= 0
    for datum in ("end", "zero"):
        rule.length(marks[0], datum)
        rule.exact_length(marks[0], datum)
    rule.mark_for(abs(mean_mm), finest=marks[-1])
    rule.largest_at_mark(mean_mm, marks[-1])
    rule.smallest_at_mark(mean_mm, marks[-1])


def paste_gauges(pasted: str, in_mm: bool) -> None:
    rule = RULE_MM if in_mm else RULE_HO
    good, _bad = read_gauges(pasted, rule)
    if good:
        found = calibrate(rule, [line.gauge for line in good])
        assert found.rule is not None


def paste_terms(pasted: str, unit: str | None, of: str | None) -> None:
    assert read_terms(pasted, unit, of)


def paste_rules(pasted: str, of: str | None) -> None:
    assert read_rules(pasted, of)


def paste_sizes(pasted: str, before: str, after: str) -> None:
    good, _bad = resize_lines(pasted, before, after)
    assert all(each.after_mm for each in good)


def _drawing(choices: Choices) -> tuple[Any, ...]:
    return (
        text(choices, KNOWN), text(choices, WANTED), choices.one(("mm", "in", "px", "yard")),
        short_text(choices, ("0.25", "0")), choices.one(SCALES),
    )  # fmt: skip


def scale_drawing(known: str, wanted: str, unit: str, within: str, of: str | None) -> None:
    sizes, _bad = read_known(known, unit, within, of)
    read_wanted(wanted, unit, within, of)
    if sizes:
        ratio = DrawingRatio(tuple(sizes))
        assert ratio.per_unit is not None


def read_of_drawing(typed: str, unit: str) -> None:
    unit_behind(typed)
    columns_of(typed)
    for read in (lambda: read_measured(typed, unit), lambda: read_limit(typed, unit), lambda: read_full_size(typed)):
        refused(read)


def _quantity(choices: Choices) -> tuple[Any, ...]:
    return text(choices, QUANTITIES), choices.one((*KINDS, "weight"))


def read_quantity(typed: str, kind: str) -> None:
    """What was read is written, and read again as the same."""
    states_limits(typed)
    known = parse_quantity(typed, kind)
    assert known.low <= known.value <= known.high
    assert parse_quantity(format_quantity(known, kind), kind) == known


def read_on_sheet(typed: str, field: str) -> None:
    """A parameter of a speaker's sheet, with the limits that a sheet leaves unsaid."""
    from modelmath.quantities.text import kind_of

    known = parse_quantity(typed, kind_of(field))
    assert as_entered(known, typed, field).value == known.value


def read_q(typed: str) -> None:
    assert read_wanted_q(typed) > 0


def repeat_text(typed: str) -> None:
    """A message repeats any text on one line, cut short."""
    assert len(shown(typed)) < 1000
    assert "\n" not in shown(typed)


TARGETS = (
    Target("length", _length, read_length, 0.05),
    Target("prototype length", lambda c: (text(c, LENGTHS), c.one(UNITS)), read_prototype, 0.05),
    Target("area and volume", lambda c: (text(c, ("12 ft x 8 ft", "11.1 m²", "40' x 9' x 10'", "120 sq ft x 8 ft",
    *LENGTHS)),
                                         c.one(UNITS), c.often(128)), read_area, 0.08),
    Target("scale", lambda c: (text(c, ("HO", "1:87.1", "tt; n (british, 1:148)", "O scale", "1/48")), c.often(128)),
           read_scale, 0.08),
    Target("rule and marks", _rule, use_rule, 0.5),
    Target("gauges", lambda c: (text(c, GAUGES), c.often(128)), paste_gauges, 0.7),
    Target("stack of terms", lambda c: (text(c, TERMS), c.one(UNITS), c.one(SCALES)), paste_terms, 0.2),
    Target("list of rules", lambda c: (text(c, RULES), c.one(SCALES)), paste_rules, 0.2),
    Target("sizes to another scale", lambda c: (text(c, RESIZED), c.one(SCALES[1:]), c.one(SCALES[1:])), paste_sizes,
    0.2),
    Target("scaled drawing", _drawing, scale_drawing, 15.0, most_s=8.0),
    Target("measured in a drawing", lambda c: (text(c, (*KNOWN, *WANTED, *LENGTHS, "± 0.25")), c.one(("mm", "in",
    "px"))),
           read_of_drawing, 0.2),
    Target("quantity", _quantity, read_quantity, 0.3),
    Target("speaker's sheet", lambda c: (text(c, QUANTITIES), c.one(PARAMETERS)), read_on_sheet, 0.06),
    Target("wanted Qtc", lambda c: (text(c, ("0.7", "0,71", "1")),), read_q, 0.06),
    Target("text in a message", lambda c: (text(c, NUMBERS),), repeat_text, 0.05),
)  # fmt: skip
