"""A table of readings: every good row as one reading alone would be, every bad one kept aside by its number."""

import re
from fractions import Fraction
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import scale
from modelmath.lengths.table import read_table
from modelmath.lengths.table import sources as limits

EXAMPLE = "write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."


def whole(text):
    return f"^{re.escape(text)}$"


def scale_rule(**more):
    fields = {"scale": "HO", "zero_offset": "1", "offset_uncertainty": "0.1 mm", "name": "scale rule", **more}
    return Rule(**fields)


def caliper():
    return Rule(unit="mm", graduation="0.01", length="150", name="caliper", kind="caliper")


def lengths(table):
    return {row: round(mm, 6) for row, mm in table.frame["length_mm"].to_dict().items()}


MIXED = '''Feature,Reading,Instrument,From,Note
walkway to roof,9 1/8,scale rule,end,
"walkway to motor, top",5-5/8,Scale Rule,zero,read twice

weight,15.9 mm,,,
post,.040 in,caliper,,
sill,"4' 6""",scale rule,END,
'''


def test_a_table_with_heads_mixed_rules_and_mixed_units():
    """The lengths are worked by hand: an HO scale foot is 3.5 mm (NMRA S-1.2), an inch 25.4 mm (NIST SP 811)."""
    table = read_table(MIXED, [scale_rule(), caliper()])
    assert lengths(table) == {2: 35.4375, 3: 19.6875, 5: 19.4, 6: 1.016, 7: 19.25}
    assert table.frame["name"].tolist()[:2] == ["walkway to roof", "walkway to motor, top"]
    assert table.frame["rule"].tolist() == ["scale rule", "scale rule", "scale rule", "caliper", "scale rule"]
    assert table.frame["datum"].tolist() == ["end", "zero", "end", "end", "end"]
    assert table.frame["note"].tolist() == ["", "read twice", "", "", ""]
    assert table.frame.loc[2, "length_in"] == pytest.approx(35.4375 / 25.4)
    assert table.frame.loc[2, "length_scale_ft"] == pytest.approx(10.125)
    reading_u = 0.875 / sqrt(12)  # JCGM 100:2008, F.2.2.1
    assert table.frame.loc[2, "u_reading_mm"] == pytest.approx(reading_u)
    assert table.frame.loc[2, "u_mm"] == pytest.approx(sqrt(reading_u**2 + 0.1**2))
    assert table.frame.loc[3, "u_mm"] == pytest.approx(reading_u)
    assert table.aside.empty
    assert table.notes == []


BAD = """name;mark;rule;datum;unit
roof;3 4/3/2;;;
top;151;caliper;;
sill;3;sliding rule;;
post;3;;edge;
floor;3;;;yard
end;;;;
wide;3;;;;left;over
good;3;;;
;;;;
both;nan;sliding rule;;
"""


def test_bad_rows_are_kept_aside_by_number_with_their_cells():
    table = read_table(BAD, [scale_rule(), caliper()])
    assert lengths(table) == {9: 14.0}
    assert table.aside["problem"].to_dict() == {
        2: f"'3 4/3/2': it has two fraction strokes; {EXAMPLE}",
        3: "the reading is 151 mm; it must be on caliper, whose last mark is 150 mm. "
        "Read it again, or use a longer rule.",
        4: "rule is 'sliding rule'; write one of scale rule, caliper. Did you mean 'scale rule'?",
        5: "datum is 'edge'; write one of end, zero. Did you mean 'end'?",
        6: "unit is 'yard'; write one of mm, cm, m, in, ft, scale foot, scale inch.",
        7: f"'': nothing is written here; {EXAMPLE}",
        8: "the row is 7 columns wide; it must be 5 columns wide, as the heads are. "
        "Part the columns by semicolons or tabs.",
        11: "rule is 'sliding rule'; write one of scale rule, caliper. Did you mean 'scale rule'?",
    }
    assert table.aside.loc[8, ["name", "mark", "surplus cells"]].tolist() == ["wide", "3", "left; over"]
    assert table.aside.loc[5, "datum"] == "edge"


@pytest.mark.parametrize(
    ("line", "name", "mm"),
    [
        ("roof\t31.5", "roof", "31.5"),
        ("roof; 31,5 mm", "roof", "31.5"),
        ("roof: 31.5", "roof", "31.5"),
        ("roof, 31.5", "roof", "31.5"),
        ("roof,31.5", "roof", "31.5"),
        ("roof, 31,5", "roof", "31.5"),  # a comma between two digits parts no columns
        ("roof, front, 31,5 mm", "roof, front", "31.5"),
        ("31,5 mm", "row 1", "31.5"),
        ("; 31.5", "row 1", "31.5"),
        (" 31 1/2 ", "row 1", "31.5"),
        ("3½\n\n31,5 mm", "row 1", "3.5"),
        ('"4\' 9 1/2"""\t31.5', "4' 9 1/2\"", "31.5"),  # as a spreadsheet copies a cell with an inch mark
        ("roof\t31.5\t", "roof", "31.5"),
        ("\ufeffroof; 31.5", "roof", "31.5"),
    ],
)
def test_without_heads_a_row_is_a_name_and_a_mark_or_a_mark_alone(line, name, mm):
    table = read_table(line, Rule(unit="mm", graduation="0.5"))
    assert table.aside.empty
    assert table.frame["name"].iloc[0] == name
    assert table.frame["length_mm"].iloc[0] == float(Fraction(mm))


def test_lines_typed_by_hand_may_be_parted_differently():
    table = read_table("roof; 9\nmotor; 5 1//2\n\nweight\t4 1/4\ntop; 4; 5", scale_rule(), datum="zero")
    assert lengths(table) == {1: 31.5, 4: 14.875}
    wide = "the row is 3 columns wide; it must be a name and a mark. "
    wide += "Write each reading on a line of its own, as roof; 3 3/4, or heads above the columns."
    assert table.aside["problem"].to_dict() == {2: f"'5 1//2': it has two fraction strokes; {EXAMPLE}", 5: wide}


def test_a_comma_in_a_mark_never_loses_its_figures():
    """A row that a decimal comma has parted is told, not read as 3."""
    table = read_table("name,mark\nroof,3,5 mm\n", scale_rule())
    assert table.frame.empty
    assert list(table.aside.index) == [2]


@pytest.mark.parametrize("heads", ["Name;Mark", "what\treading", " FEATURE , Value ", "mark"])
def test_heads_are_found_by_plain_words(heads):
    parter = next((sign for sign in ";\t," if sign in heads), None)
    row = "7" if parter is None else f"roof{parter}7"
    assert lengths(read_table(f"\n{heads}\n{row}\n", scale_rule())) == {3: 28.0}


def test_heads_of_your_own():
    text = "Spot;Height read;Mark\nroof;7;old\n"
    table = read_table(text, scale_rule(), columns={"name": "spot", "mark": "height read"})
    assert lengths(table) == {2: 28.0}
    assert table.frame["Mark"].tolist() == ["old"]
    with pytest.raises(UnknownChoice, match="^" + re.escape("a column's role is 'hight'; write one of name, mark")):
        read_table(text, scale_rule(), columns={"hight": "Spot"})
    with pytest.raises(WrongKind, match="^" + re.escape("the table is without these heads; expected heads, 'height'")):
        read_table("Spot;Reading\nroof;7", scale_rule(), columns={"mark": "height"})


def test_two_columns_of_one_kind_are_refused():
    message = "the heads is 'Mark' and 'Reading'; expected one column of marks. Give one of the two another head."
    with pytest.raises(WrongKind, match=whole(message)):
        read_table("Mark;Reading\n3;4", scale_rule())


def test_a_units_column_and_a_unit_for_all():
    text = "mark;unit\n3;mm\n3;\n3 in;mm\n3;Scale Ft\n"
    assert lengths(read_table(text, scale_rule(), datum="zero")) == {2: 3.0, 3: 10.5, 4: 76.2, 5: 10.5}
    assert lengths(read_table(text, scale_rule(), datum="zero", unit="cm")) == {2: 3.0, 3: 30.0, 4: 76.2, 5: 10.5}


RULES = [
    scale_rule(scale_error=0.002, scale_error_uncertainty=0.001, length="90"),
    Rule(unit="mm", graduation="0.5", zero_offset="-0.2", reading_uncertainty="0.2", name="worn rule"),
    Rule(unit="in", graduation="1/64", length="6", name="inch rule"),
    Rule(unit="scale inch", scale="O", graduation="6", zero_offset="3", name="inch scale"),
    Rule(unit="mm", graduation="0.05", kind="feelers", reads="largest that passes", name="feelers"),
]
marks = st.one_of(
    st.builds("{} {}/{}".format, st.integers(0, 99), st.integers(0, 9), st.integers(0, 8)),
    st.decimals(-3, 200, places=2).map(str),
    st.decimals(0, 200, places=2).map("{} mm".format),
    st.builds("{}' {}\"".format, st.integers(0, 20), st.integers(0, 13)),
    st.sampled_from(["", "3½", "-1/4", "1,5", "1,500", "nan", "3 thou", "0", "000001.500000 mm", "=1", "1e3", "٣"]),
)


def alone_or_problem(rule, mark, datum):
    try:
        return rule.length(mark, datum), ""
    except ModelMathError as error:
        return None, str(error)


@settings(max_examples=60)
@given(st.lists(st.tuples(marks, st.integers(0, 4), st.sampled_from(["end", "zero"])), min_size=1, max_size=12))
def test_each_row_is_what_its_reading_alone_is(rows):
    text = "mark\tinstrument\tdatum\n" + "\n".join(
        '"{}"\t{}\t{}'.format(mark.replace('"', '""'), RULES[rule].name, datum) for mark, rule, datum in rows
    )
    table = read_table(text, RULES)
    for number, (mark, rule, datum) in enumerate(rows, start=2):
        alone, problem = alone_or_problem(RULES[rule], mark, datum)
        assert (number in table.frame.index, number in table.aside.index) == (not problem, bool(problem))
        if problem:
            assert table.aside.loc[number, "problem"] == problem
            continue
        row = table.frame.loc[number]
        assert row["length_mm"] == pytest.approx(alone.n, rel=1e-12, abs=1e-12)
        assert row["u_mm"] == pytest.approx(alone.s, rel=1e-9)
        exact = RULES[rule].exact_length(mark, datum)
        assert row["length_mm"] == pytest.approx(float(exact), rel=1e-12, abs=1e-12)
        assert table.reading(number).s == pytest.approx(alone.s, rel=1e-12)


def test_a_difference_shares_its_rules_terms_and_the_columns_do_not():
    rules = [scale_rule(offset_uncertainty="0.2 mm"), caliper()]
    table = read_table("name;mark;rule;datum\na;11 1/4;;\nb;7 1/2;;\nc;7 1/2;;zero\nd;3;caliper;\n", rules)
    reading_u = 0.875 / sqrt(12)
    assert table.difference(2, 3).n == pytest.approx(13.125)
    assert table.difference(2, 3).s == pytest.approx(sqrt(2) * reading_u)  # JCGM 100:2008, 5.2: the offset cancels
    assert table.difference(2, 4).s == pytest.approx(sqrt(2 * reading_u**2 + 0.2**2))
    assert table.difference(2, 5).s == pytest.approx(sqrt(reading_u**2 + 0.2**2 + 0.01**2 / 12))
    assert (table.difference(2, 2).n, table.difference(2, 2).s) == (0.0, 0.0)
    message = "the row is '6'; write one of 2, 3, 4, 5."
    with pytest.raises(UnknownChoice, match=whole(message)):
        table.difference(2, 6)


def test_what_a_rules_readings_share_is_there_once():
    rule = scale_rule(scale_error=0.002, scale_error_uncertainty=0.001)
    table = read_table("1\n2\n3", [rule, caliper()])
    assert list(table.shared) == ["scale rule", "caliper"]
    shared = table.shared["scale rule"]
    assert (shared.offset.n, shared.scale_error, shared.scale_error_uncertainty) == (3.5, 0.002, 0.001)
    assert shared.offset.s == pytest.approx(0.1)
    assert not any(hasattr(cell, "std_dev") for column in table.frame for cell in table.frame[column])


def test_the_scale_of_the_column_in_scale_feet():
    rules = [caliper(), scale_rule()]
    assert read_table("35", rules).frame["length_scale_ft"].tolist() == [10.0]
    assert read_table("19.05", caliper(), scale="N").frame["length_scale_ft"].tolist() == [10.0]  # 1:160, NMRA S-1.2
    assert "length_scale_ft" not in read_table("35", caliper()).frame


def test_where_to_set_the_marking_rule():
    table = read_table("28\n28.3\n2,6\n1000", caliper_long := Rule(unit="mm", graduation="0.5", name="steel"),
                       marking=scale_rule(length="90"), finest="1/4")  # fmt: skip
    assert caliper_long.name == "steel"
    assert table.frame["set_rule_at"].tolist() == [
        "7 scale ft", "7 scale ft", "1/4 scale ft short of zero, towards the end", "not on scale rule",
    ]  # fmt: skip
    assert table.frame["beyond_mm"].round(6).tolist()[:3] == [0.0, 0.3, -0.025]
    assert np.isnan(table.frame["beyond_mm"].iloc[3])


@pytest.mark.parametrize("text", ["", " \n\t\n ", "name;mark\n", "name;mark\n;\n"])
def test_an_empty_table_has_no_rows(text):
    table = read_table(text, scale_rule())
    assert len(table.frame) == len(table.aside) == 0
    assert {"name", "mark", "length_mm", "u_mm"} <= set(table.frame)


def test_rules_by_name():
    text = "mark;rule\n7;mine\n7;"
    table = read_table(text, {"first": caliper(), "Mine": scale_rule()})
    assert lengths(table) == {2: 28.0, 3: 7.0}
    message = "a rule's name is 'Rule' twice; expected a name of its own for each rule. Rename one."
    with pytest.raises(WrongKind, match=whole(message)):
        read_table(text, [Rule(scale="HO"), Rule(scale="N", name="Rule")])
    message = 'the rules is none; expected one rule or more. Give Rule(scale="HO"), or another.'
    with pytest.raises(WrongKind, match=whole(message)):
        read_table(text, [])


@pytest.mark.parametrize("argument", ["datum", "marking_datum"])
def test_a_wrong_datum_for_all_is_refused(argument):
    with pytest.raises(UnknownChoice, match=whole("datum is 'top'; write one of end, zero.")):
        read_table("3", scale_rule(), **{argument: "top"})


def test_a_quote_that_is_never_closed_is_refused_by_its_row():
    message = (
        "the table is without an end to the quote that opens in row 3; it must be closed. "
        'Write inches as 9 1/2 in, or 9 1/2".'
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        read_table('name;mark\na;1\n"b;2\nc;3', scale_rule())


def test_too_long_a_table_is_refused(monkeypatch):
    monkeypatch.setattr(limits, "MOST_ROWS", 3)
    message = "the table is 4 rows or more; it must be 3 rows or fewer. Give it in parts."
    for text in ("1\n2\n3\n4", "mark\n1\n2\n3"):
        with pytest.raises(OutOfRange, match=whole(message)):
            read_table(text, scale_rule())
    monkeypatch.setattr(limits, "MOST_BYTES", 6)
    message = "the table is 7 characters long; it must be 6 or fewer. Give it in parts."
    with pytest.raises(OutOfRange, match=whole(message)):
        read_table("1\n2\n3\n4", scale_rule())


def test_scale_feet_of_any_scale_stay_exact_marks():
    """A reading in a scale whose foot is no binary fraction of a mm lands on its mark, none beyond it."""
    for name in ("HO", "N", "O", "S", "TT"):
        rule = Rule(scale=scale(name), zero_offset="1")
        table = read_table("3 1/4\n7\n11 3/4", rule, marking=rule)
        assert table.frame["beyond_mm"].tolist() == [0.0, 0.0, 0.0]
        assert table.frame["set_rule_at"].tolist() == ["3 1/4 scale ft", "7 scale ft", "11 3/4 scale ft"]
