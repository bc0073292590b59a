"""The usual cautions as HTML, beside what they are for."""

from __future__ import annotations

from modelmath.job.cautions import cautions_on
from modelmath.widgets.common import look


def cautioned(*topics: str) -> str:
    """Return the cautions on some topics of data/cautions.csv, each in a line of its own."""
    return caution_lines(*(each.text for each in cautions_on(*topics)))


def caution_lines(*sentences: str) -> str:
    """Return cautions that stand elsewhere, such as those of a test, in the same way."""
    return "".join(look.paragraph(f"Caution: {each}", "mm-soft") for each in sentences)
