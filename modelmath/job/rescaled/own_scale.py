"""A rule of another scale than the job's: what is set on it names that scale, so that no two feet look alike."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.clearance import Marks
from modelmath.lengths.rules import Setting
from modelmath.lengths.scales import Scale
from modelmath.lengths.text import SYMBOLS
from modelmath.lengths.units import SCALE_UNITS


def unit_in_words(unit: str, own: Scale | None, job_scale: Scale | None) -> str:
    """Return a rule's unit as it is written, with the rule's scale where that is not the job's.

    Parameters
    ----------
    unit : {"scale foot", "scale inch", "mm", "in"}
        The rule's unit. [-]
    own : Scale or None
        The rule's scale; None where it has the job's. [-]
    job_scale : Scale or None
        The job's; None while it can't be read. [-]

    Returns
    -------
    str
        Such as ``scale ft`` or ``OO scale ft``. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.scales import scale
    >>> [unit_in_words("scale foot", scale("OO"), scale(each)) for each in ("OO", "N")]
    ['scale ft', 'OO scale ft']
    """
    symbol = SYMBOLS.get(unit, unit)
    other = own is not None and job_scale is not None and own.key != job_scale.key
    return f"{own.name} {symbol}" if own is not None and other and unit in SCALE_UNITS else symbol


@dataclass(frozen=True)
class OtherScaleMarks(Marks):
    """Marks of a rule whose scale is not the job's: every setting names it.

    Attributes
    ----------
    rule : Rule
        The rule. [-]
    finest : str
        The finest mark. [rule's unit]
    datum : {"end", "zero"}
        What stands at the part's edge when marking out. [-]
    """

    def setting(self, size_mm: Fraction) -> Setting:
        """Say where to set the rule to mark a size out.

        Parameters
        ----------
        size_mm : Fraction
            Size to mark out. [mm]

        Returns
        -------
        Setting
            The mark, its text with the rule's scale. [rule's unit]

        Raises
        ------
        OutOfRange
            If the size is longer than the rule.

        References
        ----------
        `Rule.mark_for`.

        Examples
        --------
        >>> from modelmath.lengths.rules import Rule
        >>> OtherScaleMarks(Rule(scale="OO", zero_offset="1"), "1/4").setting(Fraction(11)).text  # 2 3/4 ft of 4 mm
        '1 3/4 OO scale ft'
        """
        found, symbol = super().setting(size_mm), SYMBOLS[self.rule.unit]
        assert self.rule.scale is not None  # a rule that counts scale feet or inches has one
        return replace(found, text=found.text.replace(symbol, f"{self.rule.scale.name} {symbol}", 1))


def naming_scale(marks: Marks, job_scale: Scale) -> Marks:
    """Return marks whose settings name the rule's scale, where it is not the job's.

    Parameters
    ----------
    marks : Marks
        The rule and the finest mark. [-]
    job_scale : Scale
        The job's scale. [-]

    Returns
    -------
    Marks
        The same marks where the rule counts mm or inches, or feet of the job's scale. [-]

    References
    ----------
    None needed.
    """
    rule = marks.rule
    if unit_in_words(rule.unit, rule.scale, job_scale) == SYMBOLS.get(rule.unit, rule.unit):
        return marks
    return OtherScaleMarks(rule, marks.finest, marks.datum)
