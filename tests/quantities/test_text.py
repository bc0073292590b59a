"""Quantities typed by a person: forms read, forms refused, and the way back."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, UnreadableLength, WrongKind
from modelmath.quantities.known import ORIGINS, Known
from modelmath.quantities.text import (
    EXAMPLES,
    KINDS,
    LONGEST,
    format_quantity,
    parse_quantity,
    states_limits,
    told,
)
from modelmath.sound.driver.driver import PARAMETER_KINDS, PARAMETERS


@pytest.mark.parametrize(
    ("text", "kind", "value", "low", "high", "origin"),
    [
        ("450 Hz", "frequency", 450, 450, 450, "given"),
        ("450 ± 30 Hz", "frequency", 450, 420, 480, "given"),
        ("450 +/- 30 Hz", "frequency", 450, 420, 480, "given"),
        ("450Hz+-30Hz", "frequency", 450, 420, 480, "given"),
        ("450 Hz ± 10 %", "frequency", 450, 405, 495, "given"),
        ("400 to 500 Hz", "frequency", 450, 400, 500, "given"),
        ("400 Hz to 0.5 kHz, Measured", "frequency", 450, 400, 500, "measured"),
        ("450 Hz, 400 to 520 Hz, estimated", "frequency", 450, 400, 520, "estimated"),
        ("450 Hz,derived", "frequency", 450, 450, 450, "derived"),
        (".45 kHz, .4 to .52 kHz", "frequency", 450, 400, 520, "given"),
        ("7,2 Ω", "resistance", 7.2, 7.2, 7.2, "given"),
        ("7.2 Ω", "resistance", 7.2, 7.2, 7.2, "given"),
        ("8R", "resistance", 8, 8, 8, "given"),
        ("8 R", "resistance", 8, 8, 8, "given"),
        ("450 ± 0 Hz", "frequency", 450, 450, 450, "given"),
        ("8 ± 0 ohm", "resistance", 8, 8, 8, "given"),
        ("0.5 ± 0 mm", "length", 0.5, 0.5, 0.5, "given"),
        ("1.0 ± 0", "ratio", 1, 1, 1, "given"),
        ("500 mW", "power", 0.5, 0.5, 0.5, "given"),
        ("2.5 V", "voltage", 2.5, 2.5, 2.5, "given"),
        ("1.5 cm³", "volume", 1500, 1500, 1500, "given"),
        ("1.5 ml", "volume", 1500, 1500, 1500, "given"),
        ("1.5 cc", "volume", 1500, 1500, 1500, "given"),
        (".0015 l", "volume", 1500, 1500, 1500, "given"),
        ("1500 mm^3", "volume", 1500, 1500, 1500, "given"),
        ("0.95 cm2", "area", 95, 95, 95, "given"),
        ("80 mg", "mass", 0.08, 0.08, 0.08, "given"),
        ("50 µH", "inductance", 0.05, 0.05, 0.05, "given"),
        ("0.4 mm", "length", 0.4, 0.4, 0.4, "given"),
        ("0.3 to 0.5 mm", "length", 0.4, 0.3, 0.5, "given"),
        ("1/4 to 1/2 in", "length", 9.525, 6.35, 12.7, "given"),
        ("0.7", "ratio", 0.7, 0.7, 0.7, "given"),
        ("0.7 ± 0.1, measured", "ratio", 0.7, 0.6, 0.8, "measured"),
        ("2.5 mA", "current", 0.0025, 0.0025, 0.0025, "given"),
        ("0.1 A", "current", 0.1, 0.1, 0.1, "given"),
        ("470 µF", "capacitance", 0.00047, 0.00047, 0.00047, "given"),
        ("1 F", "capacitance", 1, 1, 1, "given"),
        ("1.5 min", "time", 90, 90, 90, "given"),
    ],
)
def test_forms_that_are_read(text, kind, value, low, high, origin):
    assert parse_quantity(text, kind) == Known(value, low, high, origin)


@pytest.mark.parametrize(
    ("text", "stated"),
    [
        ("450 Hz", False),
        ("450 Hz, given", False),
        ("0.4 mm", False),
        ("450 ± 0 Hz", True),
        ("450 Hz +/- 0 %", True),
        ("450 to 450 Hz", True),
        ("450 Hz, 450\u00a0to 450 Hz", True),
    ],
)
def test_limits_are_stated_even_where_they_are_the_value(text, stated):
    assert states_limits(text) is stated


SUCH = "write a number with its unit, such as 450 Hz."


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("450", "frequency", f"'450': it has no unit; {SUCH}"),
        ("450 ± 30", "frequency", f"'450 ± 30': it has no unit; {SUCH}"),
        ("  ", "frequency", f"'': nothing is written here; {SUCH}"),
        ("Hz", "frequency", f"'Hz': it has no number where one is due; {SUCH}"),
        ("± 30 Hz", "frequency", f"'± 30 Hz': it has no number where one is due; {SUCH}"),
        ("450 ohm", "frequency", f"'450 ohm': 'ohm' is no unit of frequency; those are Hz, kHz; {SUCH}"),
        ("4e2 Hz", "frequency", f"'4e2 Hz': powers of ten are not read here; {SUCH}"),
        (
            "400-500 Hz",
            "frequency",
            (
                "'400-500 Hz': its dash may mean minus; "
                "write a number with its unit, such as 450 Hz, or two limits with the word to."
            ),
        ),
        (
            "1,500 Hz",
            "frequency",
            (
                "'1,500 Hz': the comma may be a decimal mark or a thousands mark; "
                "write a number with its unit, such as 450 Hz, with a point."
            ),
        ),
        (
            "450 ± 30 ± 2 Hz",
            "frequency",
            f"'450 ± 30 ± 2 Hz': it has more than one tolerance or pair of limits; {SUCH}",
        ),
        (
            "400 to 500 Hz, 3 to 4 Hz",
            "frequency",
            f"'400 to 500 Hz, 3 to 4 Hz': it has more than a value and its limits; {SUCH}",
        ),
        ("450 Hz, ", "frequency", f"'450 Hz,': nothing stands behind its comma; {SUCH}"),
        ("0.7 Hz", "ratio", "'0.7 Hz': 'Hz' stands behind a ratio, which has no unit; write a number, such as 0.7."),
        (
            "1 MW",
            "power",
            (
                "'1 MW': 'MW' is no unit of power; those are W, mW, watt, watts; "
                "write a number with its unit, such as 1 W."
            ),
        ),
        (
            "0.4",
            "length",
            "'0.4': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.",
        ),
        ([[1]] * 9, "frequency", f"'a list': it is not text; {SUCH}"),
        (None, "frequency", f"'a NoneType': it is not text; {SUCH}"),
        (
            "9" * 10**6,
            "frequency",
            f"'{'9' * 57}...': it is longer than {LONGEST} characters; {SUCH}",
        ),
    ],
)
def test_what_can_not_be_read_says_what_to_write(text, kind, message):
    with pytest.raises(UnreadableLength, match=f"^{re.escape(message)}$"):
        parse_quantity(text, kind)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "-450 Hz",
            "the quantity is '-450 Hz'; it must be above 0. Write it without the minus, such as 450 Hz.",
        ),
        (
            "0 Hz",
            (
                "the quantity is '0 Hz'; it must be above 0, its lower limit too. "
                "Write it above 0, such as 450 Hz, and its tolerance below it."
            ),
        ),
        (
            "450 ± 450 Hz",
            (
                "the quantity is '450 ± 450 Hz'; it must be above 0, its lower limit too. "
                "Write it above 0, such as 450 Hz, and its tolerance below it."
            ),
        ),
        ("500 to 400 Hz", "the lower limit is '500'; it must be no more than the upper one, '400 Hz'. Swap them."),
        (
            "450 Hz, 460 to 500 Hz",
            "the quantity is '450 Hz, 460 to 500 Hz'; it must be between its limits. Check the value and its limits.",
        ),
        (
            "9" * 20 + " Hz",
            (
                f"the quantity is '{'9' * 20} Hz'; it must be from 0.000001 to 1000000000 Hz. "
                "Check the number and its unit."
            ),
        ),
    ],
)
def test_what_is_out_of_range(text, message):
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        parse_quantity(text, "frequency")


def test_unknown_words():
    words = (
        r"^where a quantity comes from is 'guessed'; write one of measured, given, derived, estimated\."
        r" Did you mean 'measured'\?$"
    )
    with pytest.raises(UnknownChoice, match=words):
        parse_quantity("450 Hz, guessed", "frequency")
    kinds = f"^the kind of a quantity is 'speed'; write one of {', '.join(KINDS)}\\.$"
    with pytest.raises(UnknownChoice, match=kinds):
        parse_quantity("3 m/s", "speed")
    with pytest.raises(UnknownChoice, match=kinds):
        format_quantity(3.0, "speed")


def test_what_can_not_be_written():
    text = r"^the quantity is '-1'; it must be above 0, its lower limit too\. Write it above 0, such as 450 Hz, .*\.$"
    with pytest.raises(OutOfRange, match=text):
        format_quantity(-1.0, "frequency")
    with pytest.raises(
        OutOfRange, match=r"^the quantity is inf mm; it must be a finite number\. Check the readings.*$"
    ):
        format_quantity(float("inf"), "frequency")
    with pytest.raises(WrongKind, match=r"^the quantity is '450 Hz'; expected a plain number of mm\. Read text .*$"):
        format_quantity("450 Hz", "frequency")


def test_every_kind_has_an_example_that_reads_and_every_parameter_a_kind():
    assert set(EXAMPLES) == set(KINDS)
    for kind, text in EXAMPLES.items():
        assert format_quantity(parse_quantity(text, kind), kind) == text
    assert set(PARAMETER_KINDS) == set(PARAMETERS)
    assert {PARAMETER_KINDS[field] for field in ("qes", "qms", "qts")} == {"ratio"}


numbers = st.floats(1e-2, 1e8)
UNITS = {
    kind: float(next(iter(units.values()))) for kind, units in KINDS.items()
}  # what is written, in what is counted


@given(st.sampled_from(sorted(KINDS)), st.lists(numbers, min_size=3, max_size=3), st.sampled_from(ORIGINS))
def test_what_is_written_reads_the_same(kind, three, origin):
    low, value, high = sorted(each * UNITS[kind] for each in three)
    known = Known(value, low, high, origin)
    text = format_quantity(known, kind)
    assert len(text) <= LONGEST
    assert parse_quantity(text, kind) == known


@given(st.sampled_from(sorted(KINDS)), st.integers(2000, 10**6), st.integers(0, 10**6), st.integers(0, 4))
def test_a_tolerance_reads_the_same(kind, value, within, places):
    within = min(within, value - 1000)
    unit = Decimal(str(UNITS[kind]))
    low, best, high = (float(Decimal(n).scaleb(-places) * unit) for n in (value - within, value, value + within))
    known = Known(best, low, high)
    text = format_quantity(known, kind)
    assert ("±" in text) == (within > 0)
    assert parse_quantity(text, kind) == known


@given(st.sampled_from(sorted(KINDS)), numbers)
def test_a_plain_number_reads_the_same(kind, value):
    value *= UNITS[kind]
    assert parse_quantity(format_quantity(value, kind), kind) == Known.of(value)


@given(
    st.text(alphabet="0123456789.,±+-/ toHzkcm3e%'\"Ωµ,measured", max_size=LONGEST + 5), st.sampled_from(sorted(KINDS))
)
def test_any_text_is_read_or_refused_in_words(text, kind):
    try:
        known = parse_quantity(text, kind)
    except ModelMathError as fault:
        known = str(fault)
    assert known if isinstance(known, str) else 0 < known.low <= known.value <= known.high


@pytest.mark.parametrize(
    ("value", "field", "text"),
    [
        (1000.0, "fs_hz", "1000 Hz"),
        (7040.0, "vas_mm3", "7.04 cm3"),
        (0.05, "xmax_mm", "0.05 mm"),
        (1e300, "qts", "1e+300"),
    ],
)
def test_a_sentence_tells_three_digits(value, field, text):
    assert told(value, field) == text
