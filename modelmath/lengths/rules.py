"""A rule whose zero mark may stand in from its end: marks to lengths, and lengths back to marks.

``length = (mark + offset) * (1 + scale error)`` from the rule's end, without the offset from its zero mark.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property
from math import sqrt
from numbers import Real

from uncertainties import UFloat

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, WrongKind, shown
from modelmath.lengths import marking
from modelmath.lengths.marking import WRITE_A_MARK, Setting, mark_text
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.text import SYMBOLS, format_length
from modelmath.lengths.uncertain import normal, rectangular
from modelmath.lengths.units import SCALE_UNITS, mm_per, unit_name

__all__ = ["DATUMS", "RULE_UNITS", "Given", "Rule", "Setting"]

DATUMS = ("end", "zero")
RULE_UNITS = ("scale foot", "scale inch", "mm", "in")
Given = str | int | float | Fraction  # text as typed, or a number in the rule's unit


class Rule:
    """A scale rule, steel rule or other graduated rule.

    Two readings taken with one `Rule` object share its offset and scale error, so that in their difference
    what is common cancels.

    Parameters
    ----------
    unit : {"scale foot", "scale inch", "mm", "in"}
        Unit that the rule's figures count. [-]
    scale : Scale, str or None
        Scale of a scale rule. [-]
    graduation : text or number
        Distance between its finest marks; a bare number counts the rule's unit. [rule's unit]
    zero_offset : text or number
        How far the zero mark stands in from the end, positive; below 0 when the end is worn away. [rule's unit]
    offset_uncertainty : text or number
        Standard uncertainty of the offset. [rule's unit]
    scale_error, scale_error_uncertainty : float
        (true - shown) / shown, and its standard uncertainty. [-]
    reading_uncertainty : text, number or None
        Standard uncertainty of one reading; without it the reading is to the nearest graduation,
        graduation / sqrt(12). [rule's unit]
    length : text, number or None
        The last mark; a reading beyond it is refused. [rule's unit]
    name : str
        Name in messages and budgets. [-]

    Raises
    ------
    UnknownChoice, UnknownScale, UnreadableLength, WrongKind
        If a field can't be read.
    OutOfRange
        If the graduation or an uncertainty makes no sense.

    References
    ----------
    JCGM 200:2012 (VIM), "correction", "zero error"; JCGM 100:2008, F.2.2.1 for the resolution.

    Examples
    --------
    >>> rule = Rule(unit="scale foot", scale="HO", graduation="1/4", zero_offset="1")
    >>> rule.length("7 1/2").n  # 8 1/2 scale ft from the rule's end
    29.75
    >>> rule.mark_for(29.75).text
    '7 1/2 scale ft'
    """

    def __init__(
        self,
        unit: str = "scale foot",
        scale: Scale | str | None = None,
        graduation: Given = "1/4",
        zero_offset: Given = "0",
        offset_uncertainty: Given = "0",
        scale_error: float = 0.0,
        scale_error_uncertainty: float = 0.0,
        reading_uncertainty: Given | None = None,
        length: Given | None = None,
        name: str = "rule",
    ) -> None:
        self.unit = unit_name(unit)
        if self.unit not in RULE_UNITS:
            raise UnknownChoice("unit of the rule", unit, RULE_UNITS)
        self.name = name
        self.scale = None if scale is None else scale_of(scale)
        self.unit_mm = mm_per(self.unit, self.scale)
        self.graduation_mm = self.given_mm(graduation)
        self.offset_mm = self.given_mm(zero_offset)
        self.offset_uncertainty_mm = self.given_mm(offset_uncertainty)
        self.length_mm = None if length is None else self.given_mm(length)
        if self.graduation_mm <= 0:
            raise OutOfRange(f"{name}: graduation", str(graduation), "above 0", WRITE_A_MARK[self.unit])
        if self.length_mm is not None and self.length_mm <= 0:
            raise OutOfRange(f"{name}: length", str(length), "above 0", "Write the last mark, or leave it out.")
        self._check_u("offset uncertainty", offset_uncertainty, float(self.offset_uncertainty_mm))
        for error in (scale_error, scale_error_uncertainty):
            if isinstance(error, bool) or not isinstance(error, Real):
                raise WrongKind(f"{name}: scale error", shown(str(error)), "a plain number", "Write 0.002 for 0.2 %.")
        self._check_u("scale error uncertainty", scale_error_uncertainty, float(scale_error_uncertainty))
        if not abs(scale_error) < 0.1:
            remedy = "Write 0.002 if it shows 0.2 % too little."
            raise OutOfRange(f"{name}: scale error", str(scale_error), "between -0.1 and 0.1", remedy)
        self.scale_error = Fraction(str(scale_error))
        self.scale_error_uncertainty = float(scale_error_uncertainty)
        self.read_to_the_mark = reading_uncertainty is None
        self.reading_u_mm = self._reading_u(reading_uncertainty)

    def _check_u(self, what: str, given: Given, u: float) -> None:
        if not 0 <= u < float("inf"):
            raise OutOfRange(f"{self.name}: {what}", str(given), "0 or more", "Leave it out if you don't know it.")

    def _reading_u(self, given: Given | None) -> float:
        if given is None:
            return float(self.graduation_mm) / sqrt(12.0)
        u = float(self.given_mm(given))
        if u <= 0:
            what = f"{self.name}: reading uncertainty"
            raise OutOfRange(what, str(given), "above 0", "Leave it out for half a mark.")
        return u

    def given_mm(self, given: Given) -> Fraction:
        """Return a length given as text or as a number in the rule's unit, on the rule or not.

        Parameters
        ----------
        given : text or number
            The length. [rule's unit]

        Returns
        -------
        Fraction
            The same length. [mm]

        Raises
        ------
        UnreadableLength, WrongKind
            If it can't be read.

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Rule(scale="HO").given_mm("2 1/2")
        Fraction(35, 4)
        """
        if isinstance(given, str):
            return parse_length_exact(given, unit=self.unit, scale=self.scale)
        if isinstance(given, bool) or not isinstance(given, Real):
            expected = "text, or a number in the rule's unit"
            raise WrongKind(f"{self.name}: the length", shown(str(given)), expected, 'Write it as "3 3/4".')
        if isinstance(given, float) and not abs(given) < float("inf"):
            raise UnreadableLength(str(given), "that is not a number", "a mark such as 3.75")
        return Fraction(str(given)) * self.unit_mm

    def zero_mm(self, datum: str) -> Fraction:
        """Return how far the zero mark stands in from what stood against the part.

        Parameters
        ----------
        datum : {"end", "zero"}
            What stood against the part: the rule's end, or its zero mark. [-]

        Returns
        -------
        Fraction
            The zero offset, or 0 from the zero mark itself. [mm]

        Raises
        ------
        UnknownChoice
            If `datum` is neither word.

        References
        ----------
        JCGM 200:2012 (VIM), "zero error".

        Examples
        --------
        >>> Rule(scale="HO", zero_offset="1").zero_mm("end")
        Fraction(7, 2)
        """
        if datum not in DATUMS:
            raise UnknownChoice("datum", datum, DATUMS)
        return self.offset_mm if datum == "end" else Fraction(0)

    @property
    def begins_mm(self) -> Fraction:
        """The lowest mark: the rule's end, or 0 where a worn end still reads 0 to the nearest mark. [mm]"""
        return min(-self.offset_mm, Fraction(0))

    @cached_property
    def offset(self) -> UFloat:
        """Zero offset, the one variable all readings of this rule share. [mm]"""
        return normal(float(self.offset_mm), float(self.offset_uncertainty_mm), f"zero offset of {self.name}")

    @cached_property
    def _stretch(self) -> UFloat:
        error = normal(float(self.scale_error), self.scale_error_uncertainty, f"scale error of {self.name}")
        return 1.0 + error

    def mark_mm(self, mark: Given) -> Fraction:
        """Return a mark's distance from zero as the rule shows it; refuse one that is not on the rule.

        Parameters
        ----------
        mark : text or number
            Counted from zero; below 0 between the rule's end and zero. [rule's unit]

        Returns
        -------
        Fraction
            Shown distance from the zero mark. [mm]

        Raises
        ------
        UnreadableLength, OutOfRange
            If it can't be read, or lies beyond either end of the rule.

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Rule(scale="HO", zero_offset="1").mark_mm("-1/4")
        Fraction(-7, 8)
        """
        shown = self.given_mm(mark)
        if self.length_mm is not None and shown > self.length_mm:
            expected = f"on {self.name}, whose last mark is {mark_text(self, self.length_mm)}"
            raise OutOfRange("the reading", mark_text(self, shown), expected, "Read it again, or use a longer rule.")
        if shown < self.begins_mm:
            expected = f"on {self.name}, which begins at {mark_text(self, self.begins_mm)}"
            raise OutOfRange("the reading", mark_text(self, shown), expected, "Read it again.")
        return shown

    def exact_length(self, mark: Given, datum: str = "end") -> Fraction:
        """Return the nominal length behind a mark, exact.

        Parameters
        ----------
        mark : text or number
            The mark read. [rule's unit]
        datum : {"end", "zero"}
            What stood against the part: the rule's end, or its zero mark. [-]

        Returns
        -------
        Fraction
            Corrected length. [mm]

        Raises
        ------
        UnreadableLength, OutOfRange, UnknownChoice
            As `length`.

        References
        ----------
        JCGM 200:2012 (VIM), "correction".

        Examples
        --------
        >>> Rule(scale="HO", zero_offset="1").exact_length("7 1/2")
        Fraction(119, 4)
        """
        return (self.mark_mm(mark) + self.zero_mm(datum)) * (1 + self.scale_error)

    def length(self, mark: Given, datum: str = "end", name: str = "") -> UFloat:
        """Return the length behind a mark, with its uncertainty.

        Parameters
        ----------
        mark : text or number
            The mark read, counted from zero; below 0 between the rule's end and zero. [rule's unit]
        datum : {"end", "zero"}
            What stood against the part: the rule's end, or its zero mark. [-]
        name : str
            What was read, for the budget. [-]

        Returns
        -------
        uncertain number
            Corrected length. [mm]

        Raises
        ------
        UnreadableLength
            If the mark can't be read; says what to write.
        OutOfRange
            If it is not on the rule.
        UnknownChoice
            If `datum` is neither word.

        References
        ----------
        JCGM 200:2012 (VIM), "correction"; JCGM 100:2008, F.2.2.1 for the resolution.

        Examples
        --------
        >>> rule = Rule(scale="HO", graduation="1/4", zero_offset="1", offset_uncertainty="0.2 mm")
        >>> rule.length("11 1/4") - rule.length("7 1/2")
        13.125+/-0.357217...
        """
        self.zero_mm(datum)
        shown = self.mark_mm(mark)
        what = f"reading of {name or mark_text(self, shown)}"
        # A reading to the nearest graduation is a rectangle; one whose u the user states is taken as normal.
        read = self._read_variable(float(shown), what)
        offset = self.offset if datum == "end" else 0.0
        return (read + offset) * self._stretch

    def _read_variable(self, shown_mm: float, what: str) -> UFloat:
        if self.read_to_the_mark:
            return rectangular(shown_mm, float(self.graduation_mm) / 2, what)
        return normal(shown_mm, self.reading_u_mm, what)

    # Marking out, the way back from lengths to marks, has a module of its own.
    def marked_out(self, mm: Fraction | float, datum: str = "end") -> UFloat:
        """Return a size marked out with this rule, as uncertain as the rule's own offset and scale make it.

        How exactly the rule is set and the part is cut is not in it: that is the cutting tolerance.

        Parameters
        ----------
        mm : Fraction or float
            Nominal size. [mm]
        datum : {"end", "zero"}
            What stands at the part's edge. [-]

        Returns
        -------
        uncertain number
            The size, sharing its variables with the readings of this rule. [mm]

        Raises
        ------
        UnknownChoice
            If `datum` is neither word.

        References
        ----------
        JCGM 100:2008, 5.2: readings and part share the rule, so they are correlated.

        Examples
        --------
        >>> rule = Rule(scale="HO", zero_offset="1", offset_uncertainty="0.1 mm")
        >>> rule.marked_out(12.25)
        12.25+/-0.1
        """
        shown = float(Fraction(mm) / (1 + self.scale_error) - self.zero_mm(datum))
        offset = self.offset if datum == "end" else 0.0
        return (shown + offset) * self._stretch

    mark_for = marking.mark_for
    largest_at_mark = marking.largest_at_mark
    smallest_at_mark = marking.smallest_at_mark

    def describe(self) -> str:
        """Return what kind of rule it is in one line, as a sheet prints it."""
        scale = f"{self.scale} " if self.scale and self.unit in SCALE_UNITS else ""
        marks = f"marks every {mark_text(self, self.graduation_mm)}"
        size = abs(self.offset_mm)
        mm = "" if self.unit == "mm" else f" ({format_length(size, 'mm')})"
        place = "in from the end" if self.offset_mm > 0 else "beyond the worn end"
        zero = f"zero {mark_text(self, size)}{mm} {place}" if size else "zero at its end"
        counts = {"in": "inches", "mm": "mm"}.get(self.unit, SYMBOLS.get(self.unit, self.unit))
        return f"{scale}rule in {counts}, {marks}, {zero}"
