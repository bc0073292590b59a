"""Sizes on a rule's marks: down for a part that must clear, up for a filler that is sanded to fit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isfinite

from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.lengths.numbers import check_kind
from modelmath.lengths.rules import Rule, Setting
from modelmath.lengths.rules.marking import Rounding, at_mark


def _step(mark_mm: Fraction | float) -> Fraction:
    if not 0 < mark_mm < float("inf"):
        raise OutOfRange(
            "the mark", f"{float(mark_mm):g} mm", "above 0", "Write the distance between marks, such as 0.5 mm."
        )
    return Fraction(mark_mm)


def largest_at_mark(space: Fraction | float, clearance: Fraction | float, mark: Fraction | float) -> Fraction | float:
    """Return the largest part that leaves the clearance, on a rule mark.

    Fractions are exact, ties included. A float within 1e-9 mm of a mark is taken as that mark.

    Parameters
    ----------
    space : Fraction or float
        Free space. [mm]
    clearance : Fraction or float
        Least gap to keep, 0 or more. [mm]
    mark : Fraction or float
        Distance between the marks cut to. [mm]

    Returns
    -------
    Fraction if all are Fractions, else float
        Part size: a whole number of marks. [mm]

    Raises
    ------
    DoesNotFit
        If not even one mark fits.
    OutOfRange
        If the mark is not above 0, the clearance is below 0 or the space is no number.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> foot = Fraction(7, 2)  # HO: 3 3/4 ft of space with 1/4 ft kept leaves 3 1/2
    >>> largest_at_mark(foot * 15 / 4, foot / 4, foot / 4) / foot
    Fraction(7, 2)
    """
    for name, value in (("the space", space), ("the clearance", clearance), ("the mark", mark)):
        check_kind(name, value)
    step = _step(mark)
    if not 0 <= clearance < float("inf"):
        raise OutOfRange(
            "the clearance", f"{float(clearance):g} mm", "0 or more", "Write the gap to keep, such as 0.5 mm."
        )
    if not isfinite(space):
        raise OutOfRange("the space", f"{float(space):g} mm", "a number", "Check the readings behind it.")
    exact = all(isinstance(each, Fraction) for each in (space, clearance, mark))
    room = Fraction(space) - Fraction(clearance)
    size = at_mark(room if exact else float(room), step, "down")
    if size < step:
        raise DoesNotFit(
            "A part of one mark",
            float(step - room),
            f"the space is {float(space):.2f} mm and {float(clearance):.2f} mm of it is kept clear",
            "Keep less clearance, cut to a finer mark, or read the space again.",
        )
    return size if exact else float(size)


def smallest_at_mark(gap: Fraction | float, mark: Fraction | float) -> Fraction | float:
    """Return the smallest filler, on a rule mark, that is no smaller than its gap, so that it can be sanded to fit.

    Parameters
    ----------
    gap : Fraction or float
        Gap to fill, 0 or more. [mm]
    mark : Fraction or float
        Distance between the marks cut to. [mm]

    Returns
    -------
    Fraction if both are Fractions, else float
        Filler size: a whole number of marks. [mm]

    Raises
    ------
    OutOfRange
        If the mark is not above 0 or the gap is below 0.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> smallest_at_mark(3.2, 0.5)
    3.5
    """
    check_kind("the gap", gap)
    check_kind("the mark", mark)
    step = _step(mark)
    if not 0 <= gap < float("inf"):
        raise OutOfRange("the gap", f"{float(gap):g} mm", "0 or more", "Check the readings behind it.")
    exact = isinstance(gap, Fraction) and isinstance(mark, Fraction)
    size = at_mark(gap if exact else float(gap), step, "up")
    return size if exact else float(size)


@dataclass(frozen=True)
class SizeAtMark:
    """A size as it is wanted and as it is cut.

    Attributes
    ----------
    exact_mm : Fraction
        The size that would just do. [mm]
    cut_mm : Fraction
        The size at the chosen mark. [mm]
    rounding : {"down", "up"}
        Down for a part that must clear, up for one that is sanded to fit. [-]
    """

    exact_mm: Fraction
    cut_mm: Fraction
    rounding: Rounding

    @property
    def spare_mm(self) -> Fraction:
        """Room left beyond the exact size; below 0 for what is to be sanded off. [mm]"""
        return self.exact_mm - self.cut_mm


@dataclass(frozen=True)
class Marks:
    """The rule that parts are marked out with, and the finest mark cut to.

    Attributes
    ----------
    rule : Rule
        The rule. [-]
    finest : str
        The finest mark. [rule's unit]
    datum : {"end", "zero"}
        What stands at the part's edge when marking out. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> marks = Marks(Rule(scale="HO", zero_offset="1"), "1/4")
    >>> marks.down(Fraction(25, 2)).cut_mm, marks.up(Fraction(25, 2)).cut_mm
    (Fraction(49, 4), Fraction(105, 8))
    """

    rule: Rule
    finest: str
    datum: str = "end"

    @property
    def apart_mm(self) -> Fraction:
        """How far apart the sizes are that lie on marks. [mm]"""
        return self.rule.marks_apart(self.finest, self.datum)[0]

    def down(self, exact_mm: Fraction, what: str = "The part") -> SizeAtMark:
        """Round the size of a part that must clear.

        Parameters
        ----------
        exact_mm : Fraction
            The size that would just do. [mm]
        what : str
            The part, for the message. [-]

        Returns
        -------
        SizeAtMark
            Both sizes. [mm]

        Raises
        ------
        DoesNotFit
            If not even the lowest mark is small enough.

        References
        ----------
        Arithmetic.
        """
        cut = self.rule.largest_at_mark(exact_mm, self.finest, self.datum)
        if cut <= 0:
            left = f"{float(exact_mm):.2f} mm is left for it, less than the lowest mark"
            if exact_mm <= 0:
                left = "nothing is left for it"
            raise DoesNotFit(
                what,
                float(self.rule.smallest_at_mark(Fraction(1, 10**6), self.finest, self.datum) - exact_mm),
                left,
                "Keep less clearance, cut to a finer mark, or read the space again.",
            )
        return SizeAtMark(exact_mm, cut, "down")

    def up(self, exact_mm: Fraction) -> SizeAtMark:
        """Round the size of a filler, which is sanded to fit.

        Parameters
        ----------
        exact_mm : Fraction
            The size that would just do. [mm]

        Returns
        -------
        SizeAtMark
            Both sizes. [mm]

        Raises
        ------
        OutOfRange
            If the size is below 0.

        References
        ----------
        Arithmetic.
        """
        if exact_mm < 0:
            raise OutOfRange("the gap", f"{float(exact_mm):g} mm", "0 or more", "Check the readings behind it.")
        return SizeAtMark(exact_mm, self.rule.smallest_at_mark(exact_mm, self.finest, self.datum), "up")

    def setting(self, size_mm: Fraction) -> Setting:
        """Say where to set the rule to mark a size out.

        Parameters
        ----------
        size_mm : Fraction
            Size to mark out. [mm]

        Returns
        -------
        Setting
            The mark. [rule's unit]

        Raises
        ------
        OutOfRange
            If the size is longer than the rule.

        References
        ----------
        `Rule.mark_for`.
        """
        return self.rule.mark_for(size_mm, self.datum, self.finest)
