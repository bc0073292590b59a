"""Marks to millimetres: each different mark is read once, with the parser that reads all lengths."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from modelmath.errors import ModelMathError
from modelmath.lengths.parse import parse_length, parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.table.sources import A_DATE

# A caliper's figures, most of the different marks of a long table: the nearest float of the figures is what the
# parser gives for them, too.
_MILLIMETRES = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,6})?)( mm)?").fullmatch


@dataclass(frozen=True)
class Way:
    """A way to read a mark: with which rule, and in which unit where it is a bare number.

    Attributes
    ----------
    rule : Rule
        The rule. [-]
    unit : str or None
        Unit of a bare number; None for the rule's own. [-]
    """

    rule: Rule
    unit: str | None = None

    def exact(self, mark: str) -> Fraction:
        """Return a mark as an exact number of the rule's unit.

        Parameters
        ----------
        mark : str
            The mark as it was written. [rule's unit]

        Returns
        -------
        Fraction
            The same. [rule's unit]

        Raises
        ------
        UnreadableLength
            If it can't be read.

        References
        ----------
        The forms read are listed in `modelmath.lengths.parse`.

        Examples
        --------
        >>> Way(Rule(scale="HO")).exact("7 mm")
        Fraction(2, 1)
        """
        return parse_length_exact(mark, self.unit or self.rule.unit, self.rule.scale) / self.rule.unit_mm

    def limits(self) -> tuple[float, float]:
        """Return limits within which a mark is on the rule for certain. [mm]"""
        last = float("inf") if self.rule.length_mm is None else float(self.rule.length_mm)
        return float(self.rule.begins_mm) + 1e-6, last - 1e-6


def read_marks(marks: list[str], ways: list[Way], way_at: list[int]) -> tuple[Any, dict[int, str]]:
    """Read marks; what can't be read, or is not on its rule, gets a message.

    Parameters
    ----------
    marks : list of str
        As they were written. [unit of each]
    ways : list of Way
        How they are read. [-]
    way_at : list of int
        Which of the ways, for each. [-]

    Returns
    -------
    tuple of (array, dict of int to str)
        What each rule showed, and the messages by place. [mm]

    References
    ----------
    The forms read are listed in `modelmath.lengths.parse`.

    Examples
    --------
    >>> rule = Rule(scale="HO", zero_offset="1")
    >>> shown_mm, wrong = read_marks(["2", "15.9 mm", "2"], [Way(rule), Way(rule, "mm")], [0, 0, 1])
    >>> shown_mm.tolist(), wrong
    ([7.0, 15.9, 2.0], {})
    """
    import numpy as np

    shown: list[float] = []
    wrong: dict[int, str] = {}
    met = [(way.unit or way.rule.unit, way.rule.scale, *way.limits()) for way in ways]
    for place, (mark, at) in enumerate(zip(marks, way_at, strict=True)):
        unit, scale, lowest, highest = met[at]
        figures = _MILLIMETRES(mark)
        try:
            if figures is not None and (figures[2] or unit == "mm"):
                mm = float(figures[1])
            else:
                mm = parse_length(mark, unit, scale)
            if not lowest < mm < highest:  # near a limit the exact mark decides
                ways[at].rule.mark_mm(ways[at].exact(mark))
        except ModelMathError as error:
            mm = 0.0
            wrong[place] = f"the mark is {A_DATE}." if mark.endswith(f"({A_DATE})") else str(error)
        shown.append(mm)
    return np.array(shown, dtype=float), wrong
