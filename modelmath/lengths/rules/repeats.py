"""Several readings of one feature: their mean, what their scatter tells, and one that stands out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from uncertainties import UFloat

from modelmath.lengths.rules import Given, Rule
from modelmath.lengths.uncertain import repeated

LEAST_FOR_A_VERDICT = 4  # below four readings none can be told to stand out from the others
SIGNIFICANCE = 0.05  # chance to point at one of a set in which none is wrong


@dataclass(frozen=True)
class Repeats:
    """Repeated readings of one feature with one rule.

    Attributes
    ----------
    marks_mm : tuple of Fraction
        The marks, as the rule shows them. [mm]
    read_to_mm : Fraction
        How finely they were read. [mm]
    """

    marks_mm: tuple[Fraction, ...]
    read_to_mm: Fraction

    @property
    def mean_mm(self) -> Fraction:
        """Mean of the marks, exact. [mm]"""
        return sum(self.marks_mm, Fraction(0)) / len(self.marks_mm)

    @property
    def dof(self) -> int:
        """Degrees of freedom of the scatter. [-]"""
        return len(self.marks_mm) - 1

    @property
    def deviation_mm(self) -> float:
        """Experimental standard deviation of one reading; 0 for a single one. [mm]"""
        if self.dof < 1:
            return 0.0
        mean = self.mean_mm
        return sqrt(float(sum(((mark - mean) ** 2 for mark in self.marks_mm), Fraction(0))) / self.dof)

    @property
    def mean_u_mm(self) -> float:
        """Experimental standard deviation of the mean: type A, without the resolution. [mm]"""
        return self.deviation_mm / sqrt(len(self.marks_mm))

    @property
    def odd_one(self) -> int | None:
        """Place of the reading that stands out from the others, from 0; None if none does, or there are too few."""
        if len(self.marks_mm) < LEAST_FOR_A_VERDICT or not self.deviation_mm:
            return None
        distances = [abs(mark - self.mean_mm) for mark in self.marks_mm]
        far = max(distances)
        # A reading one step away from equal ones is what reading to a step brings about.
        others = [mark for place, mark in enumerate(self.marks_mm) if place != distances.index(far)]
        beyond = min(abs(self.marks_mm[distances.index(far)] - mark) for mark in others)
        if beyond <= self.read_to_mm:
            return None
        stands_out = float(far) / self.deviation_mm > grubbs_limit(len(self.marks_mm))
        return distances.index(far) if stands_out else None

    @property
    def few(self) -> bool:
        """Whether they scatter, but are too few to tell by how much: their uncertainty may well be too small."""
        return self.dof < LEAST_FOR_A_VERDICT - 1 and self.deviation_mm > 0

    @property
    def verdict(self) -> str:
        """What the readings tell of each other, in words; empty for a single one."""
        count = len(self.marks_mm)
        if count == 1:
            return ""
        if count < LEAST_FOR_A_VERDICT:
            few = f"{count} readings are too few to tell whether one stands out"
            return f"{few}; read it {LEAST_FOR_A_VERDICT} times to know."
        place = self.odd_one
        if place is None:
            return f"None of the {count} readings stands out."
        return (
            f"Reading {place + 1} of {count} stands out from the others. It is still counted: look at the spot again, "
            "and strike it out only if you find what was wrong."
        )


def grubbs_limit(count: int, significance: float = SIGNIFICANCE) -> float:
    """Return how many standard deviations from the mean the farthest of a set may lie.

    Parameters
    ----------
    count : int
        Readings, 3 or more. [-]
    significance : float
        Chance to exceed it though none is wrong. [-]

    Returns
    -------
    float
        Critical value of the two-sided test of the one farthest out. [-]

    References
    ----------
    Grubbs 1969, Technometrics 11; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.

    Examples
    --------
    >>> round(grubbs_limit(10), 3)
    2.29
    """
    from scipy.special import stdtrit

    # The lower quantile: squared it is the same as the upper one.
    squared = float(stdtrit(count - 2, significance / (2 * count))) ** 2
    return (count - 1) / sqrt(count) * sqrt(squared / (count - 2 + squared))


def mean_of(rule: Rule, marks: Sequence[Given], datum: str = "end", name: str = "") -> tuple[Repeats, Fraction, UFloat]:
    """Return the length behind repeated readings of one feature.

    Scatter is averaged out by repeating; how finely the rule is read is not, nor are its offset and scale error.
    So equal readings still carry the resolution.

    Parameters
    ----------
    rule : Rule
        What they were read with. [-]
    marks : sequence of text or number
        One reading each, one or more. [rule's unit]
    datum : {"end", "zero"}
        What stood against the part. [-]
    name : str
        What was read, for the budget. [-]

    Returns
    -------
    tuple of (Repeats, Fraction, uncertain number)
        The readings, and their mean corrected, exact and uncertain. [mm]

    Raises
    ------
    UnreadableLength, OutOfRange, UnknownChoice
        As `Rule.length`.

    References
    ----------
    JCGM 100:2008, 4.2 (mean and its deviation), F.2.2.1 (resolution), H.6 (both in one budget; from memory).

    Examples
    --------
    >>> rule = Rule(unit="mm", graduation="0.5")
    >>> seen, exact, value = mean_of(rule, ["12", "12.5", "12"], name="roof")
    >>> round(float(exact), 4), round(value.std_dev, 4)  # 0.2887 / sqrt(3), and 0.5 / sqrt(12)
    (12.1667, 0.2205)
    """
    seen = Repeats(tuple(rule.mark_mm(mark) for mark in marks), rule.read_to_mm)
    exact = (seen.mean_mm + rule.lean_mm + rule.zero_mm(datum)) * (1 + rule.scale_error)
    if seen.dof < 1:
        return seen, exact, rule.length(marks[0], datum, name)
    scatter = repeated(0.0, seen.mean_u_mm, seen.dof, f"scatter of {name or 'the readings'}")
    return seen, exact, rule.mean_length(seen.mean_mm, scatter, datum, name or f"{len(seen.marks_mm)} readings")
