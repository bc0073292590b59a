"""A rule whose zero mark may stand in from its end: marks to lengths, and lengths back to marks.

``length = (mark + offset) * (1 + scale error)`` from the rule's end, without the offset from its zero mark.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cached_property
from math import sqrt
from typing import TYPE_CHECKING

from uncertainties import UFloat

from modelmath.lengths.rules import many, marking
from modelmath.lengths.rules.instruments import DATUMS, KINDS, READS, RULE_UNITS, Given, Instrument
from modelmath.lengths.rules.marking import Setting, mark_text
from modelmath.lengths.text import SYMBOLS, format_length
from modelmath.lengths.uncertain import normal, rectangular
from modelmath.lengths.units import SCALE_UNITS

if TYPE_CHECKING:
    from modelmath.lengths.calibration import Calibration, Gauge

__all__ = ["DATUMS", "KINDS", "READS", "RULE_UNITS", "Given", "Rule", "Setting"]


class Rule(Instrument):
    """A scale rule, steel rule, caliper or other instrument whose reading is a mark.

    Two readings taken with one `Rule` object share its offset and scale error, so that in their difference
    what is common cancels.

    Its fields are those of `Instrument`, which are stated there with their units.

    References
    ----------
    JCGM 200:2012 (VIM), "correction", "zero error"; JCGM 100:2008, F.2.2.1 for the resolution, H.3 for offset and
    slope that a calibration leaves correlated.

    Examples
    --------
    >>> rule = Rule(unit="scale foot", scale="HO", graduation="1/4", zero_offset="1")
    >>> rule.length("7 1/2").n  # 8 1/2 scale ft from the rule's end
    29.75
    >>> rule.mark_for(29.75).text
    '7 1/2 scale ft'
    """

    @property
    def pivot_mm(self) -> Fraction:
        """The mark at which a length from the end does not depend on the scale error. [mm]"""
        return -self.offset_mm if self.calibrated_at_mm is None else self.calibrated_at_mm

    @property
    def pivot_u_mm(self) -> float:
        """Standard uncertainty of a length from the end at that mark, the reading's own left out. [mm]"""
        stretch = 1.0 + float(self.scale_error)
        tilt = float(self.pivot_mm + self.offset_mm) * self.scale_error_uncertainty
        return sqrt(max(0.0, (stretch * float(self.offset_uncertainty_mm)) ** 2 - tilt**2))

    @cached_property
    def offset_source(self) -> UFloat:
        """How far a length from the end is off alike for all readings: the one variable they share. [mm]"""
        return normal(0.0, self.pivot_u_mm, f"zero offset of {self.name}")

    @cached_property
    def _stretch(self) -> UFloat:
        error = normal(float(self.scale_error), self.scale_error_uncertainty, f"scale error of {self.name}")
        return 1.0 + error

    @property
    def offset(self) -> UFloat:
        """Zero offset with its uncertainty. [mm]"""
        at_pivot = float(self.pivot_mm + self.offset_mm) * (1.0 + float(self.scale_error)) + self.offset_source
        return at_pivot / self._stretch - float(self.pivot_mm)

    def _from_shown(self, shown: UFloat | float, datum: str) -> UFloat:
        """Return the length behind what the rule shows."""
        if datum == "zero":
            return shown * self._stretch
        pivot = float(self.pivot_mm)
        at_pivot = float(self.pivot_mm + self.offset_mm) * (1.0 + float(self.scale_error))
        return (shown - pivot) * self._stretch + (at_pivot + self.offset_source)

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
        return (self.mark_mm(mark) + self.lean_mm + self.zero_mm(datum)) * (1 + self.scale_error)

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
        return self._from_shown(self.read_variable(shown, name or mark_text(self, shown)), datum)

    def read_variable(self, shown_mm: Fraction, name: str) -> UFloat:
        """Return what the rule shows, as uncertain as it was read.

        Parameters
        ----------
        shown_mm : Fraction
            The mark read, or the mean of several. [mm]
        name : str
            What was read, for the budget. [-]

        Returns
        -------
        uncertain number
            Shown distance from the zero mark. [mm]

        References
        ----------
        JCGM 100:2008, F.2.2.1 for the resolution.
        """
        # A reading to the nearest mark is a rectangle; one whose u the user states is taken as normal.
        value, what = float(shown_mm + self.lean_mm), f"reading of {name}"
        if self.read_to_the_mark:
            return rectangular(value, float(self.read_to_mm) / 2, what)
        return normal(value, self.reading_u_mm, what)

    def mean_length(self, shown_mm: Fraction, scatter: UFloat, datum: str, name: str) -> UFloat:
        """Return the length behind the mean of repeated readings: see `repeats.mean_of`.

        Parameters
        ----------
        shown_mm : Fraction
            Mean of the marks. [mm]
        scatter : uncertain number
            0, as uncertain as the mean is by the scatter of the readings. [mm]
        datum : {"end", "zero"}
            What stood against the part. [-]
        name : str
            What was read, for the budget. [-]

        Returns
        -------
        uncertain number
            Corrected length. [mm]

        References
        ----------
        JCGM 100:2008, 4.2 and F.2.2.1.
        """
        return self._from_shown(self.read_variable(shown_mm, name) + scatter, datum)

    lengths = many.lengths

    def calibrate(self, gauges: Iterable[Gauge]) -> Calibration:
        """Find this rule's offset and scale error from its readings of known gauges.

        Parameters
        ----------
        gauges : iterable of Gauge
            Known lengths, and the marks they were read at. [mm]

        Returns
        -------
        Calibration
            Offset and scale error with their covariance, what is left over, and the rule corrected by them. [mm]

        Raises
        ------
        OutOfRange, WrongKind, UnreadableLength
            If a gauge can't be read, or the gauges don't tell.

        References
        ----------
        JCGM 100:2008, H.3.
        """
        from modelmath.lengths.calibration import calibrate

        return calibrate(self, gauges)

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
        return self._from_shown(float(Fraction(mm) / (1 + self.scale_error) - self.zero_mm(datum)), datum)

    @cached_property
    def known_marks(self) -> dict[tuple[str, str], tuple[Fraction, Fraction, Fraction, Fraction]]:
        """What `marks_apart` has found so far: a plan asks for the same marks hundreds of times. [mm]"""
        return {}

    marks_apart = marking.marks_apart
    mark_for = marking.mark_for
    largest_at_mark = marking.largest_at_mark
    smallest_at_mark = marking.smallest_at_mark

    def describe(self) -> str:
        """Return what kind of rule it is in one line, as a sheet prints it."""
        if not self.can_mark_out:
            return f"{self.kind} in {self.unit}, steps of {mark_text(self, self.graduation_mm)}"
        scale = f"{self.scale} " if self.scale and self.unit in SCALE_UNITS else ""
        marks = f"marks every {mark_text(self, self.graduation_mm)}"
        size = abs(self.offset_mm)
        mm = "" if self.unit == "mm" else f" ({format_length(size, 'mm')})"
        place = "in from the end" if self.offset_mm > 0 else "beyond the worn end"
        zero = f"zero {mark_text(self, size)}{mm} {place}" if size else "zero at its end"
        error = 100 * float(self.scale_error)
        if error:
            zero += f", shows {abs(error):.2f} % too {'little' if error > 0 else 'much'}"
        counts = {"in": "inches", "mm": "mm"}.get(self.unit, SYMBOLS.get(self.unit, self.unit))
        kind = "rule" if self.kind.endswith("rule") else self.kind
        return f"{scale}{kind} in {counts}, {marks}, {zero}"
