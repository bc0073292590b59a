"""A prototype length, text or None never gets past a door where a number of mm is due."""

from __future__ import annotations

import re

import pytest

from modelmath import PrototypeLength, Rule, Term, largest_at_mark, parse_prototype, smallest_at_mark
from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.numbers import check_common_step, check_kind, check_number
from modelmath.lengths.units import mm_per

RULE = Rule(scale="HO", zero_offset="1")
BAD = (parse_prototype("40 ft 6 in"), None, [1], True)


@pytest.mark.parametrize("bad", BAD, ids=str)
@pytest.mark.parametrize(
    "use",
    [
        RULE.length,
        RULE.exact_length,
        RULE.mark_for,
        lambda bad: largest_at_mark(bad, 0.5, 0.5),
        lambda bad: largest_at_mark(10.0, bad, 0.5),
        lambda bad: largest_at_mark(10.0, 0.5, bad),
        lambda bad: smallest_at_mark(bad, 0.5),
        lambda bad: Term("roof", bad),
        lambda bad: Term("roof", 1.0, bad),
        lambda bad: Rule(unit="mm", graduation="1", scale_error=bad),
    ],
)
def test_what_is_no_number_is_refused_in_our_words(use, bad):
    with pytest.raises(WrongKind):
        use(bad)


@pytest.mark.parametrize(
    ("use", "text"),
    [
        (
            lambda: RULE.mark_for(PrototypeLength(1)),
            (
                "the size is the prototype length 1' 0\"; expected a plain number of mm. Turn it into a model length "
                "with a Scale first, such as scale('HO').model_mm."
            ),
        ),
        (
            lambda: RULE.length(None),
            "rule: the length is 'None'; expected text, or a number in the rule's unit. Write it as \"3 3/4\".",
        ),
        (
            lambda: Rule(unit="mm", graduation="1", scale_error="0.2 %"),
            "rule: scale error is '0.2 %'; expected a plain number. Write 0.002 for 0.2 %.",
        ),
        (
            lambda: largest_at_mark("10 mm", 0.5, 0.5),
            "the space is '10 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
    ],
)
def test_the_message_says_what_to_write(use, text):
    with pytest.raises(WrongKind, match=f"^{re.escape(text)}$"):
        use()


def test_a_unit_that_is_no_word():
    with pytest.raises(UnknownChoice, match=r"^unit is '3'; write one of mm, cm, m, in, ft, scale foot, scale inch\.$"):
        mm_per(3)


def test_a_step_in_common_may_be_fine_but_not_beyond_any_size():
    assert check_common_step("lengths", 10**60) == 10**60
    message = (
        "the set of lengths is one of fractions that have no step in common above 1e-60 mm; it must be one with a "
        "coarser step. Write them as a rule shows them, such as 5 1/4 or 15.9 mm."
    )
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        check_common_step("lengths", 10**60 + 1)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_a_number_of_mm_is_finite(value):
    check_kind("width_mm", value)
    with pytest.raises(OutOfRange, match=f"^width_mm is {value:g} mm; it must be a finite number"):
        check_number("width_mm", value)
