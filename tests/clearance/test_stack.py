"""Stack-ups against worked examples, and against the readings behind them."""

import re
from fractions import Fraction
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.clearance import Stack, Term
from modelmath.errors import OutOfRange
from modelmath.lengths.rules import Rule
from modelmath.lengths.uncertain import rectangular

ROWS = published_rows("uncertainty_examples.csv")
tolerances = st.lists(st.floats(0, 10), max_size=8)


def whole(text):
    return f"^{re.escape(text)}$"


def output(example, name):
    found = [row for row in ROWS if (row["example"], row["role"], row["name"]) == (example, "output", name)]
    assert len(found) == 1
    return found[0]


def test_housing_and_spacers_agree_with_the_worked_example():
    """STACK1: public worked stack-up article on mechanical tolerancing; gap = A - B - C - D."""
    terms = []
    for row in ROWS:
        if (row["example"], row["role"]) == ("STACK1", "input"):
            sign = 1 if row["name"].startswith("A ") else -1
            tolerance = float(row["distribution"].removeprefix("tolerance "))
            terms.append(Term(row["name"], sign * float(row["value"]), tolerance))
    assert len(terms) == 4
    stack = Stack.of(*terms)
    assert stack.nominal == pytest.approx(float(output("STACK1", "nominal gap")["value"]))
    assert stack.worst_case() == pytest.approx(float(output("STACK1", "worst case")["value"]))
    assert agrees_with_print(stack.rss(), output("STACK1", "root sum of squares")["value"])
    assert [term.name[0] for term in stack.largest_terms()] == ["A", "B", "D", "C"]


@pytest.mark.parametrize(("example", "count"), [("STACK2", 10), ("STACK3", 5)])
def test_equal_tolerances_agree_with_the_worked_example(example, count):
    """Public stack-up articles: equal tolerances of 0.1 mm."""
    stack = Stack.of(*(Term(f"part {n}", 0.0, 0.1) for n in range(count)))
    assert stack.worst_case() == pytest.approx(float(output(example, "worst case")["value"]))
    assert agrees_with_print(stack.rss(), output(example, "root sum of squares")["value"])


def test_speaker_in_a_shell_agrees_with_the_worked_example():
    """CLEAR1, computed: inside width less speaker less two foams, each within limits of its own."""
    foams = [rectangular(1.00, 0.15, f"foam {n}") for n in (1, 2)]
    clearance = rectangular(13.60, 0.05, "inside width") - rectangular(11.00, 0.10, "speaker") - sum(foams)
    stack = Stack.of_measured("clearance", clearance)
    row = output("CLEAR1", "clearance")
    assert agrees_with_print(round(stack.nominal, 9), row["value"])
    assert agrees_with_print(clearance.std_dev, row["std_uncertainty"])
    assert stack.nominal - stack.worst_case() == pytest.approx(
        float(output("CLEAR1", "worst case low")["value"]), abs=1e-9
    )
    # Limits of a rectangle stand sqrt(3) standard uncertainties out, so the squares add to 3 u^2.
    assert stack.rss() == pytest.approx(sqrt(3) * clearance.std_dev)


def test_sources_shared_by_two_readings_cancel_in_the_worst_case():
    rule = Rule(scale="HO", graduation="1/4", zero_offset="1", offset_uncertainty="0.5 mm")
    depth = rule.length("11 1/4", name="roof") - rule.length("7 1/2", name="chassis top")
    seat = Term("seating", 0.0, 0.1)
    stack = Stack.of_measured("free depth", depth, [seat])
    assert [term.name for term in stack.terms] == [
        "free depth",
        "reading of chassis top",
        "reading of roof",
        "seating",
    ]
    assert stack.worst_case() == pytest.approx(2 * 3.5 / 8 + 0.1)  # half a mark twice, and the seating
    alone = Stack.of_measured("height", rule.length("11 1/4", name="roof"))
    # The offset's u has no end: two standard uncertainties stand for its limits.
    assert alone.worst_case() == pytest.approx(3.5 / 8 + 2 * 0.5)


def test_a_plain_number_is_a_stack_of_one_exact_term():
    stack = Stack.of_measured("room", 12.5)
    assert stack.terms == (Term("room", 12.5),)
    assert (stack.nominal, stack.worst_case(), stack.rss()) == (12.5, 0.0, 0.0)
    assert Stack.of_measured("room", Fraction(25, 2)).nominal == 12.5


@given(tolerances)
def test_rss_is_never_more_than_the_worst_case_nor_less_than_the_largest(given_tolerances):
    stack = Stack.of(*(Term("t", 0.0, tolerance) for tolerance in given_tolerances))
    assert stack.rss() <= stack.worst_case() * (1 + 1e-12)
    assert stack.rss() >= max(given_tolerances, default=0.0) * (1 - 1e-12)


@given(tolerances, st.floats(0.001, 1))
def test_one_more_term_never_tightens_a_stack(given_tolerances, more):
    terms = [Term("t", 0.0, tolerance) for tolerance in given_tolerances]
    assert Stack.of(*terms, Term("more", 0.0, more)).worst_case() > Stack.of(*terms).worst_case()
    assert Stack.of(*terms, Term("more", 0.0, more)).rss() >= Stack.of(*terms).rss()


@pytest.mark.parametrize(
    ("nominal", "tolerance", "message"),
    [
        (float("nan"), 0.0, "roof: length is nan mm; it must be a number. Check the reading behind it."),
        (float("inf"), 0.0, "roof: length is inf mm; it must be a number. Check the reading behind it."),
        (1.0, -0.1, "roof: tolerance is -0.1 mm; it must be 0 or more. Write 0.05 mm for plus or minus 0.05 mm."),
        (
            1.0,
            float("nan"),
            "roof: tolerance is nan mm; it must be 0 or more. Write 0.05 mm for plus or minus 0.05 mm.",
        ),
    ],
)
def test_a_term_that_makes_no_sense_is_refused(nominal, tolerance, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        Term("roof", nominal, tolerance)
