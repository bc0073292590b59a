"""A stack-up: signed lengths with tolerances that add to a gap."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import floor, hypot, inf, isfinite, isinf
from statistics import NormalDist
from typing import TYPE_CHECKING, Any

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.numbers import check_kind
from modelmath.lengths.uncertain import SHAPES, Shape, components, limit_per_u, welch_satterthwaite

if TYPE_CHECKING:
    from modelmath.clearance.distribution import Distribution
    from modelmath.clearance.simulated import Simulated


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
        if not self.dof >= 1:
            raise OutOfRange(f"{self.name}: degrees of freedom", f"{self.dof:g}", "1 or more", "Read it twice or more.")

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

    def without(self, name: str) -> Stack:
        """Return the stack as it would be if one term were known exactly; its length stays.

        Parameters
        ----------
        name : str
            The term; all of that name if several have it. [-]

        Returns
        -------
        Stack
            The same terms, that one without a tolerance. [mm]

        Raises
        ------
        UnknownChoice
            If no term has that name.

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> gap = Stack.of(Term("depth", 4.0, 0.1), Term("spacer", -2.5, 0.05))
        >>> gap.without("depth").worst_case()
        0.05
        """
        if all(term.name != name for term in self.terms):
            raise UnknownChoice("the term", name, [term.name for term in self.terms])
        return Stack(tuple(replace(term, tolerance_mm=0.0) if term.name == name else term for term in self.terms))

    def standard_uncertainty(self) -> float:
        """Return the root of the sum of squares of the terms' standard uncertainties (JCGM 100:2008, 5.1.2). [mm]"""
        return hypot(*(term.u_mm for term in self.terms))

    def effective_dof(self) -> float:
        """Return the effective degrees of freedom, cut to a whole number; infinite if all terms' are.

        Taken from the degrees of freedom of each term, whatever its shape.

        Returns
        -------
        float
            Degrees of freedom. [-]

        References
        ----------
        Welch-Satterthwaite formula, JCGM 100:2008, G.4.1 with its note 1.

        Examples
        --------
        >>> Stack.of(Term("roof", 0.0, 0.2, "repeats", 4), Term("floor", 0.0, 0.2, "repeats", 4)).effective_dof()
        8
        """
        dof = welch_satterthwaite((term.u_mm, term.dof) for term in self.terms)
        return floor(dof * (1 + 1e-12)) if isfinite(dof) else inf

    def expanded(self, coverage: float = 0.95) -> float:
        """Return the expanded uncertainty: half the interval about nominal that holds the gap with that confidence.

        Parameters
        ----------
        coverage : float
            Level of confidence, between 0 and 1. [-]

        Returns
        -------
        float
            The t factor at the effective degrees of freedom, times the standard uncertainty. [mm]

        Raises
        ------
        OutOfRange
            If the coverage is not between 0 and 1.

        References
        ----------
        JCGM 100:2008, G.6.4.

        Examples
        --------
        >>> round(Stack.of(Term("zero offset", 0.0, 0.1, "normal")).expanded(0.95), 3)
        0.098
        """
        if not 0 < coverage < 1:
            raise OutOfRange("the coverage", f"{coverage}", "between 0 and 1", "Write 0.95 for 95 %.")
        dof = self.effective_dof()
        if isinf(dof):
            return NormalDist().inv_cdf((1 + coverage) / 2) * self.standard_uncertainty()
        from scipy.special import stdtrit

        return float(stdtrit(dof, (1 + coverage) / 2)) * self.standard_uncertainty()

    def distribution(self) -> Distribution:
        """Return the distribution of the gap, by convolution of its terms (JCGM 101:2008, 5.2). [mm]"""
        from modelmath.clearance.distribution import Distribution

        return Distribution(self.terms)

    def interference(self) -> float:
        """Return the chance of touching: that the gap is below 0 (JCGM 101:2008, 5.2). [-]"""
        return self.distribution().chance_below(0.0)

    def allowance(self, chance: float) -> float:
        """Return the room to leave nominally, so that the chance of touching is no more than wanted.

        Parameters
        ----------
        chance : float
            The chance of touching that is put up with, above 0 and no more than 0.5. [-]

        Returns
        -------
        float
            The nominal gap needed, whatever it is now. [mm]

        Raises
        ------
        OutOfRange
            If the chance is outside those limits.

        References
        ----------
        JCGM 101:2008, 7.7: a quantile of the distribution.

        Examples
        --------
        >>> round(Stack.of(Term("depth", 4.0, 0.1), Term("spacer", -2.5, 0.1)).allowance(0.01), 4)
        0.1717
        """
        if not 0 < chance <= 0.5:
            given, limits = f"{chance:g}", "above 0 and no more than 0.5"
            raise OutOfRange("the chance of touching", given, limits, "Write 0.01 for one in a hundred.")
        spread = self.distribution()
        return spread.mean_mm - spread.quantile(chance)

    def monte_carlo(self, trials: int = 100_000, seed: int = 1, block: int = 65_536) -> Simulated:
        """Return the gap as simulated: a check of `distribution`, which is exact and quicker.

        Parameters
        ----------
        trials : int
            How often to draw, 1000 to 50 million. [-]
        seed : int
            Start of the random numbers; the same one gives the same result. [-]
        block : int
            How many trials are held at once; changes nothing in the result. [-]

        Returns
        -------
        Simulated
            The gaps drawn. [mm]

        Raises
        ------
        OutOfRange
            If the trials, the seed or the block are outside their limits.

        References
        ----------
        JCGM 101:2008, clause 7.

        Examples
        --------
        >>> drawn = Stack.of(Term("depth", 4.0, 0.1), Term("spacer", -2.5, 0.1)).monte_carlo(10_000)
        >>> round(drawn.mean, 2), round(drawn.u, 2)
        (1.5, 0.08)
        """
        from modelmath.clearance.simulation import simulate_sum

        return simulate_sum(self.terms, trials, seed, block)
