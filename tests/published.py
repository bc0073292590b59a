"""Numbers printed outside the project, and what it means to agree with one."""

from __future__ import annotations

import csv
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

FOLDER = Path(__file__).parent / "published"


def half_last_digit(printed: str) -> Fraction:
    """Return half a unit of the last digit a number is printed to."""
    return Fraction(Decimal(5).scaleb(int(Decimal(printed).as_tuple().exponent) - 1))


def agrees_with_print(value: Fraction | float, printed: str) -> bool:
    """Return whether a value rounds to the number as printed; its digits are the tolerance."""
    return abs(Fraction(value) - Fraction(Decimal(printed))) <= half_last_digit(printed)


def published_rows(file: str) -> list[dict[str, str]]:
    """Return the rows of tests/published/<file>; each must name its source, as a reference table does."""
    rows = list(csv.DictReader((FOLDER / file).read_text("utf-8").splitlines()))
    assert rows, f"{file} has no rows"
    assert all(row["source"] for row in rows), f"a row of {file} has no source"
    return rows
