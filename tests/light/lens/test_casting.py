"""How wide a lens is to be, by a bore or by the prototype's own."""

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.scales import scale
from modelmath.light.lens.casting import diameter_for_bore, diameter_from_prototype

MM_PER_FOOT = Decimal("3.5")  # HO, NMRA S-1.2: 3.5 mm to the foot


@given(st.fractions(1, 5, max_denominator=64), st.fractions(0, Fraction(9, 10), max_denominator=64))
def test_bore_less_play_exactly(bore, play):
    assert diameter_for_bore(bore, play) + play == bore


@pytest.mark.parametrize("inches", [5, 8, 12])
def test_a_prototypes_lens_in_ho(inches):
    """HO, NMRA S-1.2: 3.5 mm to the foot."""
    lens = diameter_from_prototype(parse_prototype(f'{inches}"'), scale("HO"))
    assert lens == Fraction(MM_PER_FOOT) * inches / 12


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: diameter_for_bore(1.5, 1.5),
            OutOfRange,
            (
                "play_mm is 1.5 mm in a bore of 1.5 mm; it must be less than the bore. "
                "Write the play of both sides together, such as 0.1."
            ),
        ),
        (
            lambda: diameter_for_bore(0, 0),
            OutOfRange,
            "bore_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 1.5.",
        ),
        (
            lambda: diameter_for_bore(1.5, -0.1),
            OutOfRange,
            "play_mm is -0.1 mm; it must be 0 mm or more. Write it in mm, such as 0.1.",
        ),
        (
            lambda: diameter_from_prototype(1.75, scale("HO")),
            WrongKind,
            "the prototype's lens is '1.75'; expected a prototype length. Read it with parse_prototype, such as 6\".",
        ),
        (
            lambda: diameter_from_prototype(parse_prototype('6"'), "HO"),
            WrongKind,
            "the scale is 'HO'; expected a Scale. Look it up first, such as scale('HO').",
        ),
        (
            lambda: diameter_from_prototype(parse_prototype('6"') * 0, scale("HO")),
            OutOfRange,
            "the prototype's lens is 0' 0\"; it must be above 0. Write its diameter, such as 6\".",
        ),
        (
            lambda: diameter_from_prototype(parse_prototype('6"') * -1, scale("HO")),
            OutOfRange,
            "the prototype's lens is -0' 6\"; it must be above 0. Write its diameter, such as 6\".",
        ),
    ],
)
def test_what_gives_no_lens_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def test_no_play_leaves_the_bore():
    assert diameter_for_bore(Fraction(3, 2), 0) == Fraction(3, 2)
