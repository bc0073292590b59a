"""A rule whose zero mark may stand in from its end: marks to lengths, and lengths back to marks.

``length = (mark + offset) * (1 + scale error)`` from the rule's end, without the offset from its zero mark.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import floor, isfinite, sqrt

from uncertainties import UFloat

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.text import SYMBOLS, format_length, in_steps, mixed, round_half_up
from modelmath.lengths.uncertain import normal, rectangular
from modelmath.lengths.units import SCALE_UNITS, mm_per, unit_name

DATUMS = ("end", "zero")
RULE_UNITS = ("scale foot", "scale inch", "mm", "in")
Given = str | int | float | Fraction  # text as typed, or a number in the rule's unit
_WRITE_A_MARK = {
    "scale foot": "Write 1/4 for quarter feet.",
    "scale inch": "Write 1/2 for half inches.",
    "mm": "Write 0.5 for half millimetres.",
    "in": "Write 1/64 for sixty-fourths.",
}


@dataclass(frozen=True)
class Setting:
    """Where to set a rule to mark a size out.

    Attributes
    ----------
    mark : Fraction
        The mark, counted from zero; below 0 between the rule's end and its zero. [rule's unit]
    nearest : Fraction
        The nearest graduation. [rule's unit]
    beyond_mm : float
        How far the size goes beyond that graduation; below 0 when it stops short. [mm]
    text : str
        The setting in words. [-]
    """

    mark: Fraction
    nearest: Fraction
    beyond_mm: float
    text: str

    @property
    def on_mark(self) -> bool:
        """Whether the setting stands on a graduation."""
        return self.mark == self.nearest

    def __str__(self) -> str:
        return self.text


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
        self.graduation_mm = self._read(graduation)
        self.offset_mm = self._read(zero_offset)
        self.offset_uncertainty_mm = self._read(offset_uncertainty)
        self.length_mm = None if length is None else self._read(length)
        if self.graduation_mm <= 0:
            raise OutOfRange(f"{name}: graduation", str(graduation), "above 0", _WRITE_A_MARK[self.unit])
        if self.length_mm is not None and self.length_mm <= 0:
            raise OutOfRange(f"{name}: length", str(length), "above 0", "Write the last mark, or leave it out.")
        self._check_u("offset uncertainty", offset_uncertainty, float(self.offset_uncertainty_mm))
        self._check_u("scale error uncertainty", scale_error_uncertainty, float(scale_error_uncertainty))
        if not abs(scale_error) < 0.1:
            remedy = "Write 0.002 if it shows 0.2 % too little."
            raise OutOfRange(f"{name}: scale error", str(scale_error), "between -0.1 and 0.1", remedy)
        self.scale_error = Fraction(str(scale_error))
        self.scale_error_uncertainty = float(scale_error_uncertainty)
        self.reading_u_mm = self._reading_u(reading_uncertainty)

    def _check_u(self, what: str, given: Given, u: float) -> None:
        if not 0 <= u < float("inf"):
            raise OutOfRange(f"{self.name}: {what}", str(given), "0 or more", "Leave it out if you don't know it.")

    def _reading_u(self, given: Given | None) -> float:
        if given is None:
            return float(self.graduation_mm) / sqrt(12.0)
        u = float(self._read(given))
        if u <= 0:
            raise OutOfRange(
                f"{self.name}: reading uncertainty", str(given), "above 0", "Leave it out for half a mark."
            )
        return u

    def _read(self, given: Given) -> Fraction:
        """Return mm for text, or for a number in the rule's unit."""
        if isinstance(given, str):
            return parse_length_exact(given, unit=self.unit, scale=self.scale)
        if isinstance(given, float) and not abs(given) < float("inf"):
            raise UnreadableLength(str(given), "that is not a number", "a mark such as 3.75")
        return Fraction(str(given)) * self.unit_mm

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
        shown = self._read(mark)
        if self.length_mm is not None and shown > self.length_mm:
            last = self._text(self.length_mm)
            raise OutOfRange(
                "the reading",
                self._text(shown),
                f"on {self.name}, whose last mark is {last}",
                "Read it again, or use a longer rule.",
            )
        begins = min(-self.offset_mm, Fraction(0))  # a worn end still reads 0 to the nearest mark
        if shown < begins:
            raise OutOfRange(
                "the reading",
                self._text(shown),
                f"on {self.name}, which begins at {self._text(begins)}",
                "Read it again.",
            )
        return shown

    def _text(self, mm: Fraction) -> str:
        """Return a length as the rule's marks are read: fractions to 64ths, decimals for mm and for what is finer."""
        marks = mm / self.unit_mm
        if self.unit == "mm" or marks.denominator > 64:
            shown = f"{float(marks):.3f}".rstrip("0").rstrip(".")
        else:
            shown = mixed(marks)
        return f"{shown} {SYMBOLS.get(self.unit, self.unit)}"

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
        return (self.mark_mm(mark) + self._from(datum)) * (1 + self.scale_error)

    def _from(self, datum: str) -> Fraction:
        if datum not in DATUMS:
            raise UnknownChoice("datum", datum, DATUMS)
        return self.offset_mm if datum == "end" else Fraction(0)

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
        self._from(datum)
        shown = self.mark_mm(mark)
        what = f"reading of {name or self._text(shown)}"
        # A reading to the nearest graduation is a rectangle; one whose u the user states is taken as normal.
        read = self._read_variable(float(shown), what)
        offset = self.offset if datum == "end" else 0.0
        return (read + offset) * self._stretch

    def _read_variable(self, shown_mm: float, what: str) -> UFloat:
        if self.reading_u_mm == float(self.graduation_mm) / sqrt(12.0):
            return rectangular(shown_mm, float(self.graduation_mm) / 2, what)
        return normal(shown_mm, self.reading_u_mm, what)

    def mark_for(self, mm: Fraction | float | UFloat, datum: str = "end", finest: Given | None = None) -> Setting:
        """Say where to set the rule to mark a size out: the inverse of `length`.

        Parameters
        ----------
        mm : Fraction, float or uncertain number
            Size to mark out, 0 or more; of an uncertain one, its nominal value. [mm]
        datum : {"end", "zero"}
            What stands at the part's edge: the rule's end, or its zero mark. [-]
        finest : text, number or None
            Finest mark the user sets it to; by default the rule's graduation. [rule's unit]

        Returns
        -------
        Setting
            The mark, and the nearest graduation with what goes beyond it. [rule's unit]

        Raises
        ------
        OutOfRange
            If the size is below 0 or longer than the rule.
        UnknownChoice
            If `datum` is neither word.

        References
        ----------
        JCGM 200:2012 (VIM), "correction".

        Examples
        --------
        >>> Rule(scale="HO", zero_offset="1").mark_for(12.25).text  # 3 1/2 scale ft
        '2 1/2 scale ft'
        """
        size = getattr(mm, "nominal_value", mm)
        if not 0 <= size < float("inf"):
            raise OutOfRange("the size", f"{float(size):g} mm", "0 or more", "Check the readings behind it.")
        step = self.graduation_mm if finest is None else self._step(finest)
        shown = self._shown_for(size, datum, step / 64)
        if self.length_mm is not None and shown > self.length_mm:
            last = f"within {self.name}, whose last mark is {self._text(self.length_mm)}"
            raise OutOfRange("the size", f"{float(size):.2f} mm", last, "Use a longer rule.")
        nearest = self._nearest(shown, step)
        beyond = float((shown - nearest) * (1 + self.scale_error))
        return Setting(shown / self.unit_mm, nearest / self.unit_mm, beyond, self._setting_text(nearest, beyond))

    def _shown_for(self, mm: Fraction | float, datum: str, step_mm: Fraction) -> Fraction:
        """Return what the rule shows at a size, in mm; a float's error is taken off at the marks, where it is seen."""
        shown = Fraction(mm) / (1 + self.scale_error) - self._from(datum)
        return in_steps(shown if isinstance(mm, Fraction) else float(shown), step_mm) * step_mm

    def _nearest(self, shown: Fraction, step: Fraction) -> Fraction:
        """Return the nearest step that is on the rule."""
        nearest = round_half_up(shown / step) * step
        if nearest < min(-self.offset_mm, Fraction(0)):
            return nearest + step
        if self.length_mm is not None and nearest > self.length_mm:
            return nearest - step
        return nearest

    def _step(self, finest: Given) -> Fraction:
        step = self._read(finest)
        if step <= 0:
            raise OutOfRange("the finest mark", str(finest), "above 0", _WRITE_A_MARK[self.unit])
        return step

    def _setting_text(self, nearest: Fraction, beyond_mm: float) -> str:
        text = f"{self._text(-nearest)} short of zero, towards the end" if nearest < 0 else self._text(nearest)
        if abs(beyond_mm) < 0.005:
            return text
        return f"{text} {'and' if beyond_mm > 0 else 'less'} {abs(beyond_mm):.2f} mm"

    def largest_at_mark(self, space_mm: Fraction | float, finest: Given, datum: str = "end") -> Fraction:
        """Return the largest length, not above a space, at which the rule can be set on a mark.

        Parameters
        ----------
        space_mm : Fraction or float
            Largest length allowed. [mm]
        finest : text or number
            Finest mark the user cuts to. [rule's unit]
        datum : {"end", "zero"}
            What stands at the part's edge when marking out. [-]

        Returns
        -------
        Fraction
            Length, 0 or below when no mark is low enough. [mm]

        Raises
        ------
        UnreadableLength, OutOfRange
            If `finest` can't be read or is not above 0.

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> rule = Rule(scale="HO", zero_offset="1")
        >>> rule.largest_at_mark(Fraction(105, 8) - Fraction(7, 8), "1/4")  # 3 1/2 scale ft
        Fraction(49, 4)
        """
        return self._at_mark(space_mm, finest, datum, up=False)

    def smallest_at_mark(self, size_mm: Fraction | float, finest: Given, datum: str = "end") -> Fraction:
        """Return the smallest length, not below a size, at which the rule can be set on a mark.

        Parameters
        ----------
        size_mm : Fraction or float
            Smallest length allowed. [mm]
        finest : text or number
            Finest mark the user cuts to. [rule's unit]
        datum : {"end", "zero"}
            What stands at the part's edge when marking out. [-]

        Returns
        -------
        Fraction
            Length. [mm]

        Raises
        ------
        UnreadableLength, OutOfRange
            If `finest` can't be read or is not above 0.

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Rule(unit="mm", graduation="0.5").smallest_at_mark(3.2, "0.5")
        Fraction(7, 2)
        """
        return self._at_mark(size_mm, finest, datum, up=True)

    def _at_mark(self, mm: Fraction | float, finest: Given, datum: str, up: bool) -> Fraction:
        step = self._step(finest)
        if not isfinite(mm):
            raise OutOfRange("the size", f"{mm} mm", "a number", "Check the readings behind it.")
        steps = self._shown_for(mm, datum, step) / step
        count = -floor(-steps) if up else floor(steps)
        return (count * step + self._from(datum)) * (1 + self.scale_error)

    def describe(self) -> str:
        """Return what kind of rule it is in one line, as a sheet prints it."""
        scale = f"{self.scale} " if self.scale and self.unit in SCALE_UNITS else ""
        marks = f"marks every {self._text(self.graduation_mm)}"
        size = abs(self.offset_mm)
        mm = "" if self.unit == "mm" else f" ({format_length(size, 'mm')})"
        place = "in from the end" if self.offset_mm > 0 else "beyond the worn end"
        zero = f"zero {self._text(size)}{mm} {place}" if size else "zero at its end"
        return f"{scale}rule in {SYMBOLS.get(self.unit, self.unit)}, {marks}, {zero}"
