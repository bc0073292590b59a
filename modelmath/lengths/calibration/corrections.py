"""What a calibration changes: corrected lengths at a few marks, where it matters."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from uncertainties import UFloat

from modelmath.lengths.calibration.calibrated import Calibration
from modelmath.lengths.rules.marking import mark_text

PARTS = (Fraction(1, 4), Fraction(1, 2), Fraction(1))  # of the highest mark read, where a correction is shown


@dataclass(frozen=True)
class Correction:
    """A mark, and the length behind it.

    Attributes
    ----------
    mark : str
        The mark, with its unit. [rule's unit]
    shown_mm : Fraction
        Length that the mark itself says. [mm]
    length : uncertain number
        Length from the rule's end that it stands for, read once. [mm]
    """

    mark: str
    shown_mm: Fraction
    length: UFloat

    @property
    def added_mm(self) -> float:
        """What has to be added to what the rule shows. [mm]"""
        return float(self.length.nominal_value) - float(self.shown_mm)


def corrections(calibration: Calibration) -> tuple[Correction, ...]:
    """Return the corrected lengths at three marks, up to the highest that a gauge was read at.

    Parameters
    ----------
    calibration : Calibration
        The calibration. [mm]

    Returns
    -------
    tuple of Correction
        At whole graduations, the lowest first; fewer where they fall together. [mm]

    Raises
    ------
    OutOfRange
        If the scale error found is larger than that of any rule.

    References
    ----------
    JCGM 200:2012 (VIM), "correction".

    Examples
    --------
    >>> from modelmath.lengths.calibration.gauges import Gauge
    >>> from modelmath.lengths.rules import Rule
    >>> found = Rule(unit="mm", graduation="0.5").calibrate([Gauge("leaf", 2.0, "1"), Gauge("bar", 30.0, "29")])
    >>> [(each.mark, round(each.added_mm, 6)) for each in corrections(found)]
    [('7 mm', 1.0), ('14.5 mm', 1.0), ('29 mm', 1.0)]
    """
    rule = calibration.rule
    highest = max(each.mark_mm for each in calibration.residuals)
    step = rule.graduation_mm
    marks = dict.fromkeys(max(step, round(highest * part / step) * step) for part in PARTS)
    if rule.length_mm is not None:
        marks = dict.fromkeys(min(mark, rule.length_mm) for mark in marks)
    return tuple(Correction(mark_text(rule, mark), mark, rule.length(mark / rule.unit_mm)) for mark in marks)
