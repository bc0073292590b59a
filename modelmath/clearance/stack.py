"""A stack-up: signed lengths with tolerances that add to a gap."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot, inf, isfinite
from typing import Any

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.numbers import check_kind
from modelmath.lengths.uncertain import SHAPES, Shape, components, limit_per_u


@dataclass(frozen=True)
class Term:
    """One length in a stack.

    Attributes
    ----------
    name : str
        What it is, in words. [-]
    nominal_mm : float
        Signed length: above 0 opens the gap, below 0 closes it. [mm]
    tolerance_mm : float
        Half the range it may lie in, 0 or more; half the range that holds 95.45 % where the shape has no ends. [mm]
    shape : {"rectangular", "triangular", "arcsine", "normal", "repeats"}
        How it is distributed over that range. [-]
    dof : float
        Degrees of freedom, for repeats only. [-]
    """

    name: str
    nominal_mm: float
    tolerance_mm: float = 0.0
    shape: Shape = "rectangular"
    dof: float = inf

    def __post_init__(self) -> None:
        check_kind(f"{self.name}: length", self.nominal_mm)
        check_kind(f"{self.name}: tolerance", self.tolerance_mm)
        if not isfinite(self.nominal_mm):
            raise OutOfRange(
                f"{self.name}: length", f"{self.nominal_mm} mm", "a number", "Check the reading behind it."
            )
        if not 0 <= self.tolerance_mm < float("inf"):
            given = f"{self.tolerance_mm} mm"
            raise OutOfRange(f"{self.name}: tolerance", given, "0 or more", "Write 0.05 mm for plus or minus 0.05 mm.")
        if self.shape not in SHAPES:
            raise UnknownChoice(f"{self.name}: shape", self.shape, SHAPES)

    @property
    def u_mm(self) -> float:
        """Standard uncertainty. [mm]"""
        return self.tolerance_mm / limit_per_u(self.shape, self.dof)


@dataclass(frozen=True)
class Stack:
    """Signed terms that add to a gap.

    Attributes
    ----------
    terms : tuple of Term
        In any order. [mm]

    References
    ----------
    Textbook worst-case and root-sum-square stack-ups; JCGM 100:2008, 5.1.2 for the latter.

    Examples
    --------
    >>> gap = Stack.of(Term("depth", 40.0, 0.10), Term("spacer", -25.0, 0.05), Term("ring", -2.0, 0.03))
    >>> gap.nominal, round(gap.worst_case(), 3), round(gap.rss(), 4)
    (13.0, 0.18, 0.1158)
    """

    terms: tuple[Term, ...]

    @classmethod
    def of(cls, *terms: Term) -> Stack:
        """Return a stack of the given terms.

        Parameters
        ----------
        *terms : Term
            Signed lengths, in any order. [mm]

        Returns
        -------
        Stack
            Their stack. [mm]

        References
        ----------
        Textbook worst-case and root-sum-square stack-ups.

        Examples
        --------
        >>> Stack.of(Term("depth", 4.0), Term("spacer", -2.5)).nominal
        1.5
        """
        return cls(tuple(terms))

    @classmethod
    def of_measured(cls, name: str, value: Any, more: Iterable[Term] = ()) -> Stack:
        """Return a stack with one term for each source of a measured length, so that shared ones cancel.

        Parameters
        ----------
        name : str
            What the measured length is. [-]
        value : uncertain number or float
            The length, computed from its readings. [mm]
        more : iterable of Term
            What else is in the stack. [mm]

        Returns
        -------
        Stack
            The length's own term, exact, then its sources as tolerances about 0, then `more`. [mm]

        References
        ----------
        JCGM 100:2008, 5.1.3 (shares), 4.3.7 (limits of a rectangle: sqrt(3) standard uncertainties); two standard
        uncertainties stand for the limits of a source that has none.

        Examples
        --------
        >>> from modelmath.lengths.rules import Rule
        >>> rule = Rule(scale="HO", graduation="1/4", zero_offset="1", offset_uncertainty="0.1 mm")
        >>> depth = rule.length("11 1/4", name="roof") - rule.length("7 1/2", name="chassis top")
        >>> round(Stack.of_measured("free depth", depth).worst_case(), 4)  # half a mark twice, no offset
        0.875
        """
        nominal = float(getattr(value, "nominal_value", value))
        return cls((Term(name, nominal), *cls.sources(value), *more))

    @staticmethod
    def sources(value: Any) -> list[Term]:
        """Return one term about 0 for each source of a computed length, the largest first.

        Parameters
        ----------
        value : uncertain number or float
            The length, computed from readings and rules. [mm]

        Returns
        -------
        list of Term
            Each with the limit of its source as tolerance. [mm]

        References
        ----------
        JCGM 100:2008, 5.1.3, 4.3.7.

        Examples
        --------
        >>> from modelmath.lengths.uncertain import rectangular
        >>> [(term.name, round(term.tolerance_mm, 3)) for term in Stack.sources(rectangular(10.0, 0.3, "roof"))]
        [('roof', 0.3)]
        """
        return [
            Term(cause.name, 0.0, abs(share) * limit_per_u(cause.shape, cause.dof), cause.shape, cause.dof)
            for cause, share in components(value)
        ]

    @property
    def nominal(self) -> float:
        """Sum of the signed lengths. [mm]"""
        return sum(term.nominal_mm for term in self.terms)

    def worst_case(self) -> float:
        """Return the sum of the tolerances: how far the gap is from nominal with every term at its limit. [mm]"""
        return sum(term.tolerance_mm for term in self.terms)

    def rss(self) -> float:
        """Return the root of the sum of squares of the tolerances: where it usually lies. [mm]"""
        return hypot(*(term.tolerance_mm for term in self.terms))

    def largest_terms(self) -> list[Term]:
        """Return the terms that have a tolerance, the largest first."""
        return sorted((t for t in self.terms if t.tolerance_mm), key=lambda t: (-t.tolerance_mm, t.name))
