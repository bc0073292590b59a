"""A stack as people type it."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.clearance import Stack, Term
from modelmath.clearance.typed import MOST_TERMS, read_terms
from modelmath.errors import OutOfRange

NUMBER = "write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."


def test_the_textbook_stack_as_typed():
    """A public worked stack-up: 40 - 25 - 2 - 10, tolerances 0.10, 0.05, 0.03, 0.05."""
    text = (
        "A housing; 40 mm; 0.10 mm\nB spacer\t-25 mm\t0.05 mm\n\nC ring; -2 mm; ±0.03 mm\nD shoulder; -10 mm; ±0.05 mm"
    )
    terms, bad = read_terms(text)
    stack = Stack(tuple(terms))
    printed = {
        row["name"]: row["value"] for row in published_rows("uncertainty_examples.csv") if row["example"] == "STACK1"
    }
    assert bad == []
    assert agrees_with_print(stack.nominal, printed["nominal gap"])
    assert agrees_with_print(stack.worst_case(), printed["worst case"])
    assert agrees_with_print(stack.rss(), printed["root sum of squares"])


@pytest.mark.parametrize(
    ("line", "term"),
    [
        ("foam; -1 mm", Term("foam", -1.0)),
        ("foam; -1 mm;", Term("foam", -1.0)),
        ("foam; -1 mm; ; normal", Term("foam", -1.0, 0.0, "normal")),
        ("foam; -1 mm; 0.15 mm; Triangular", Term("foam", -1.0, 0.15, "triangular")),
        ("foam; -1 mm; 0.15 mm; arcsine", Term("foam", -1.0, 0.15, "arcsine")),
        ("; 2 mm; 0.1 mm", Term("line 1", 2.0, 0.1)),
        ("foam; −1 mm; − 0.1 mm", Term("foam", -1.0, 0.1)),
        ("foam, left; 1/4 in; .005 in", Term("foam, left", 6.35, 0.127)),
    ],
)
def test_a_line_is_a_term(line, term):
    (found,), bad = read_terms(line)
    assert bad == []
    assert (found.name, found.shape, found.dof) == (term.name, term.shape, term.dof)
    assert (found.nominal_mm, found.tolerance_mm) == pytest.approx((term.nominal_mm, term.tolerance_mm))


def test_bare_numbers_and_scale_feet_need_their_unit_or_scale():
    assert read_terms("roof; 3 1/4; 1/8", "scale foot", "HO")[0] == [Term("roof", 11.375, 0.4375)]
    (bad,) = read_terms("roof; 3 1/4")[1]
    assert bad.message == f"'3 1/4': it has no unit; {NUMBER}"


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("foam", "the line is 1 parts long; expected a name, a length, a tolerance. Write foam; -1 mm; 0.15 mm."),
        (
            "a; 1 mm; 1 mm; normal; x",
            "the line is 5 parts long; expected a name, a length, a tolerance. Write foam; -1 mm; 0.15 mm.",
        ),
        ("foam; one; 0.1 mm", f"'one': it is no number or unit; {NUMBER}"),
        (
            "foam; 1 mm; 0.1 mm; norml",
            ("the shape is 'norml'; write one of rectangular, triangular, arcsine, normal. Did you mean 'normal'?"),
        ),
        (
            "foam; 1 mm; 0.1 mm; repeats",
            "the shape is 'repeats'; write one of rectangular, triangular, arcsine, normal.",
        ),
    ],
)
def test_a_bad_line_is_kept_aside_by_number_and_the_rest_stands(line, message):
    terms, bad = read_terms(f"shell; 13.6 mm; 0.05 mm\n\n{line}\nspeaker; -11 mm")
    assert [term.name for term in terms] == ["shell", "speaker"]
    assert [(each.number, each.line) for each in bad] == [(3, line)]
    assert bad[0].message == message


@given(st.lists(st.tuples(st.integers(-999, 999), st.integers(0, 99)), min_size=1, max_size=8))
def test_terms_come_back_in_order_with_their_sizes(sizes):
    text = "\n".join(f"part {place}; {nominal / 10} mm; {half / 100} mm" for place, (nominal, half) in enumerate(sizes))
    terms, bad = read_terms(text)
    assert bad == []
    assert [term.name for term in terms] == [f"part {place}" for place in range(len(sizes))]
    assert Stack(tuple(terms)).nominal == pytest.approx(sum(nominal for nominal, _ in sizes) / 10)
    assert Stack(tuple(terms)).worst_case() == pytest.approx(sum(half for _, half in sizes) / 100)


@given(st.text(max_size=60))
def test_whatever_is_typed_is_read_or_kept_aside(text):
    terms, bad = read_terms(text)
    assert len(terms) + len(bad) == sum(bool(line.strip()) for line in text.splitlines())


def test_more_lines_than_a_stack_has_are_refused():
    message = f"the stack is {MOST_TERMS + 1} lines long; it must be {MOST_TERMS} lines or fewer. Paste it in parts."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        read_terms("a; 1 mm\n" * (MOST_TERMS + 1))
