"""A pasted list of gauges: what is read, and what each bad line says."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration.pasted_gauges import WRITE, read_gauges
from modelmath.lengths.rules import Rule

RULE = Rule(scale="HO", graduation="1/4", length="40", name="HO rule")


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("line", "mm", "mark", "datum", "tolerance_mm"),
    [
        ("#43 drill shank; .089 in; 2 1/4", Fraction(22606, 10_000), "2 1/4", "end", 0.0),
        ("strip; 20 mm; 5; ±0.01 mm", 20, "5", "end", 0.01),
        ("strip; 20 mm; 5; +/- 0.01 mm; zero", 20, "5", "zero", 0.01),
        ("strip; 20 mm; 5; ZERO; .001 in", 20, "5", "zero", 0.0254),
        ("strip\t20 mm\t5\tend\t", 20, "5", "end", 0.0),
        ("strip; 20 mm; 5; ; zero", 20, "5", "zero", 0.0),
        ("strip; 20 mm; 5; ±0 mm", 20, "5", "end", 0.0),
        (f"{'x' * 200}; 20 mm; 5", 20, "5", "end", 0.0),
        (f"strip; {'0' * 55}20 mm; {'0' * 59}5; ±{'0' * 54}.01 mm", 20, f"{'0' * 59}5", "end", 0.01),
        ("block; 4 scale ft; 3 1/4;", 14, "3 1/4", "end", 0.0),
    ],
)
def test_a_line_is_a_gauge(line, mm, mark, datum, tolerance_mm):
    (good,), bad = read_gauges(line, RULE)
    assert bad == []
    assert (good.gauge.nominal_mm, good.gauge.mark, good.gauge.datum) == (mm, mark, datum)
    assert good.gauge.tolerance_mm == pytest.approx(tolerance_mm)


ADVICE = "a gauge has a name, a size and a mark; write #43 drill shank; .089 in; 2 1/4; ±0.01 mm."


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("strip; 20 mm", f"'strip; 20 mm': {ADVICE}"),
        ("; 20 mm; 5", f"'; 20 mm; 5': {ADVICE}"),
        (
            "strip; 20 mm; 5; about",
            "'about': after the mark stands a tolerance, or the word zero; write ±0.01 mm, or zero.",
        ),
        ("strip; 20 mm; 5; ±-1 mm", "the tolerance is '±-1 mm'; it must be 0 or more. Write ±0.01 mm."),
        (
            "strip; 20 mm; 41",
            "reading of strip is 41 scale ft; it must be on HO rule, whose last mark is 40 scale ft. Read it again.",
        ),
        ("strip; ; 5; ±0.1 mm", f"'strip; ; 5; ±0.1 mm': {ADVICE}"),
        ("strip; 20 mm; ; zero", f"'strip; 20 mm; ; zero': {ADVICE}"),
        (
            f"strip; {'0' * 56}20 mm; 5",
            f"the size is 61 signs long; it must be 60 signs or fewer. Write {WRITE}.",
        ),
        (
            f"strip; 20 mm; {'0' * 60}5",
            f"the mark is 61 signs long; it must be 60 signs or fewer. Write {WRITE}.",
        ),
        (
            f"strip; 20 mm; 5; ±{'0' * 55}.01 mm",
            (
                f"'{'0' * 55}.0...': it is longer than 60 characters; write a number with a unit, such as 15.9 mm, "
                ".040 in or 3 3/4 scale ft."
            ),
        ),
        (
            f"{'x' * 201}; 20 mm; 5",
            f"the name is 201 signs long; it must be 200 signs or fewer. Write {WRITE}.",
        ),
    ],
)
def test_a_bad_line_is_kept_aside_with_its_number(line, message):
    good, (bad,) = read_gauges(f"leaf; 9 mm; 2\n\n{line}\nbar; 30 mm; 8", RULE)
    assert [each.gauge.name for each in good] == ["leaf", "bar"]
    assert (bad.number, bad.message) == (3, message)


def test_a_size_without_unit_is_kept_aside():
    good, (bad,) = read_gauges("strip; 20; 5", RULE)
    assert good == []
    assert bad.message.startswith("'20': ")


def test_too_long_a_list_is_refused():
    message = "the list is 201 lines long; it must be 200 lines or fewer. Paste it in parts."
    with pytest.raises(OutOfRange, match=whole(message)):
        read_gauges("leaf; 9 mm; 2\n" * 201, RULE)
    assert len(read_gauges("leaf; 9 mm; 2\n" * 200, RULE)[0]) == 200
