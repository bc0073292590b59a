"""What a rule or other graduated instrument is, as its user states it: exact, nothing uncertain yet."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt
from numbers import Real

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, WrongKind, shown
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules.marking import WRITE_A_MARK, mark_text
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.units import mm_per, unit_name

KINDS = ("scale rule", "steel rule", "caliper", "depth gauge", "feelers", "putty gap")
CANT_MARK_OUT = ("feelers", "putty gap")
READS = ("nearest mark", "largest that passes")
DATUMS = ("end", "zero")
RULE_UNITS = ("scale foot", "scale inch", "mm", "in")
ROUNDING = 1e-3  # of an uncertainty; fields of a calibration are written to six digits
Given = str | int | float | Fraction  # text as typed, or a number in the rule's unit


class Instrument:
    """The fields of a `Rule`, which tells what they mean; checked, and exact.

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
        Standard uncertainty of one reading, taken as normal; without it `read_to` counts. [rule's unit]
    length : text, number or None
        The last mark; a reading beyond it is refused. [rule's unit]
    name : str
        Name in messages and budgets. [-]
    kind : {"scale rule", "steel rule", "caliper", "depth gauge", "feelers", "putty gap"}
        What it is; `instrument` gives the usual graduations of each. [-]
    read_to : text, number or None
        How finely the user reads between marks: the true place lies within half of it either way. Without it the
        graduation. [rule's unit]
    reads : {"nearest mark", "largest that passes"}
        Whether a reading is the nearest mark, or the thickest leaf that passes: the length then lies between it
        and the next, one graduation on. [-]
    calibrated_at : text, number or None
        The mark at which a length from the end is known independently of the scale error: the centroid of the
        readings of a calibration. Without it offset and scale error are known independently. [rule's unit]

    Raises
    ------
    UnknownChoice, UnknownScale, UnreadableLength, WrongKind
        If a field can't be read.
    OutOfRange
        If the graduation or an uncertainty makes no sense.

    References
    ----------
    JCGM 200:2012 (VIM), "measuring instrument".
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
        kind: str = "scale rule",
        read_to: Given | None = None,
        reads: str = "nearest mark",
        calibrated_at: Given | None = None,
    ) -> None:
        self.unit = unit_name(unit)
        if self.unit not in RULE_UNITS:
            raise UnknownChoice("unit of the rule", unit, RULE_UNITS)
        for what, word, words in (("kind of instrument", kind, KINDS), ("reads", reads, READS)):
            if word not in words:
                raise UnknownChoice(what, word, words)
        self.name, self.kind, self.reads = name, kind, reads
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
        self.read_to_mm = self._read_to(read_to)
        self.reading_u_mm = self._reading_u(reading_uncertainty)
        self.calibrated_at_mm = None if calibrated_at is None else self.given_mm(calibrated_at)
        self._check_calibration()

    def _check_u(self, what: str, given: Given, u: float) -> None:
        if not 0 <= u < float("inf"):
            raise OutOfRange(f"{self.name}: {what}", str(given), "0 or more", "Leave it out if you don't know it.")

    def _check_calibration(self) -> None:
        """Refuse an offset known better than the scale error leaves it, so far from where the rule was calibrated."""
        if self.calibrated_at_mm is None:
            return
        tilt = abs(float(self.calibrated_at_mm + self.offset_mm)) * self.scale_error_uncertainty
        known = (1.0 + float(self.scale_error)) * float(self.offset_uncertainty_mm)
        if known < tilt * (1 - ROUNDING):
            least = f"{tilt / float(self.unit_mm):.4g} or more, which its scale error makes of it at calibrated_at"
            remedy = "Copy all figures of the calibration, or leave calibrated_at out."
            raise OutOfRange(f"{self.name}: offset uncertainty", f"{known / float(self.unit_mm):.4g}", least, remedy)

    def _read_to(self, given: Given | None) -> Fraction:
        if given is None or self.reads == "largest that passes":
            return self.graduation_mm
        step = self.given_mm(given)
        if step <= 0:
            remedy = "Write the least part of a mark that you read, or leave it out."
            raise OutOfRange(f"{self.name}: what it is read to", str(given), "above 0", remedy)
        return step

    def _reading_u(self, given: Given | None) -> float:
        if given is None:
            return float(self.read_to_mm) / sqrt(12.0)
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
        >>> Instrument(scale="HO").given_mm("2 1/2")
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
        >>> Instrument(scale="HO", zero_offset="1").zero_mm("end")
        Fraction(7, 2)
        """
        if datum not in DATUMS:
            raise UnknownChoice("datum", datum, DATUMS)
        return self.offset_mm if datum == "end" else Fraction(0)

    @property
    def begins_mm(self) -> Fraction:
        """The lowest mark: the rule's end, or 0 where a worn end still reads 0 to the nearest mark. [mm]"""
        return min(-self.offset_mm, Fraction(0))

    @property
    def lean_mm(self) -> Fraction:
        """What is added to a reading: half a step where it is the thickest leaf that passes, else nothing. [mm]"""
        return self.graduation_mm / 2 if self.reads == "largest that passes" else Fraction(0)

    @property
    def can_mark_out(self) -> bool:
        """Whether a size can be set on it, to mark a part out."""
        return self.kind not in CANT_MARK_OUT

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
        >>> Instrument(scale="HO", zero_offset="1").mark_mm("-1/4")
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
