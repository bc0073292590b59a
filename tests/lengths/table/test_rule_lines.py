"""Rules as lines of text: read, or refused with the line's number."""

import re
from fractions import Fraction

import pytest

from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.table.rule_lines import MOST_RULES, read_rules

EXPECTED = "expected a rule, such as 'scale rule; scale ft; 1/4; 1'. "


def test_what_is_left_out_is_usual():
    rules = read_rules("long; scale ft\n\nsteel; mm; 1; -0.2\ninch rule; in\ntape; scale in; ; 6", "HO")
    assert [rule.name for rule in rules] == ["long", "steel", "inch rule", "tape"]
    assert [rule.graduation_mm for rule in rules] == [Fraction(7, 8), 1, Fraction(127, 320), Fraction(7, 4)]
    assert [rule.offset_mm for rule in rules] == [0, Fraction(-1, 5), 0, Fraction(7, 4)]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a; mm\nb", "line 2 of the rules is 'b'; " + EXPECTED
         + "The line is 1 columns wide; it must be 2 to 4 columns, "
         "the name first. Write a name, a unit, the finest marks, and how far its zero stands in."),
        ("a; yd", "line 1 of the rules is 'a; yd'; " + EXPECTED
         + "Unit is 'yd'; write one of mm, cm, m, in, ft, scale foot, scale inch."),
        ("a; mm; 0", "line 1 of the rules is 'a; mm; 0'; " + EXPECTED
         + "A: graduation is 0; it must be above 0. Write 0.5 for half millimetres."),
        ("a; mm\nA; in", "line 2 of the rules is a second 'A'; expected another name. Rename it."),
    ],
)  # fmt: skip
def test_a_line_that_can_not_be_read_is_told_by_number(text, message):
    with pytest.raises(WrongKind, match=f"^{re.escape(message)}$"):
        read_rules(text, "HO")


@pytest.mark.parametrize("count", [0, MOST_RULES + 1])
def test_none_and_too_many_are_refused(count):
    message = (
        f"the list of rules is {count} rules long; it must be 1 to 20. "
        "Write one a line, such as 'scale rule; scale ft; 1/4; 1'."
    )
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        read_rules("\n".join(f"rule {n}; mm" for n in range(count)), "HO")


def test_a_name_that_begins_with_a_kind_is_read_as_is_usual_for_it():
    """Usual fields as in data/instruments.csv, with their sources there; finer steps than a caliper is right to."""
    lines = [
        "my caliper; mm; 0.5", "Caliper 2; mm; 0.1", "caliper; mm; 0.01", "feelers; mm; 0.05", "depth gauge; mm; 0.02",
        "putty gap; mm; 0.1", "steel rule 15; mm; 1; 2",
    ]  # fmt: skip
    rules = read_rules("\n".join(lines))
    assert [(rule.kind, float(rule.read_to_mm), float(rule.offset_uncertainty_mm)) for rule in rules] == [
        ("scale rule", 0.5, 0), ("caliper", 0.1, 0), ("caliper", 0.04, 0), ("feelers", 0.05, 0),
        ("depth gauge", 0.04, 0.02), ("putty gap", 0.1, 0.05), ("steel rule", 1, 0),
    ]  # fmt: skip
    assert [rule.reads for rule in rules] == [
        "largest that passes" if rule.kind == "feelers" else "nearest mark" for rule in rules
    ]
    assert float(rules[-1].offset_mm) == 2


def test_as_many_rules_as_may_be_and_four_columns_at_most():
    assert len(read_rules("\n".join(f"rule {n}; mm" for n in range(MOST_RULES)))) == MOST_RULES
    for line, wide in (("a; mm; 1; 0; 0", 5), ("; mm", 2), ("a", 1)):
        with pytest.raises(WrongKind, match=f"The line is {wide} columns wide; it must be 2 to 4 columns"):
            read_rules(line)
