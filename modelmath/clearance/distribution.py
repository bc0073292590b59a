"""The exact distribution of a sum of independent terms, by numerical convolution."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import ceil, erfc, fsum, hypot, inf, isinf, log2, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING

from modelmath.clearance.falling import where_it_falls
from modelmath.clearance.lattice import CENTRED_CELLS, REACH, EdgeLattice, centred_masses, edge_lattice
from modelmath.clearance.shapes import Part, part_above
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_number

if TYPE_CHECKING:
    from modelmath.clearance.shapes import Array
    from modelmath.clearance.stack import Term

SAME_MM = 1e-9  # floats this close are taken as one place, as for marks
LOST = 1e-9  # a term this much narrower than the widest is what rounding left
SINGLE = 1e-3  # the chance beyond which a t-distribution's tail may be left to a single large deviation

FAR = 1e6  # so many times as far out as all else reaches, one term must have done it alone


@dataclass(frozen=True)
class Distribution:
    """Distribution of a sum of independent terms.

    Attributes
    ----------
    terms : tuple of Term
        Each with its nominal, tolerance and shape. [mm]

    Notes
    -----
    All normals become one, folded in exactly. Terms with ends are convolved on a lattice counted from the end of what
    they can add up to, as fine as the tail asks, so a chance is right to better than 0.1 % however small it is.

    Repeats have the tails of a t-distribution. One such term is folded in exactly. Where there are more, what lies
    farther out than twice the place asked for counts as a single large deviation that decides alone, which is wrong
    only where two such deviations come together. A chance is then right to better than 1 % down to 1e-6, as long as
    the repeats are not more than some 500 times narrower than the half width of the rest.

    Chances fall or rise steadily to within that accuracy.

    References
    ----------
    JCGM 101:2008, 5.2, 6.4 (shapes), 7.7 (intervals). Single large deviation: the tail of a sum of independent terms
    with regularly varying tails is the sum of their tails (W. Feller, An Introduction to Probability Theory and Its
    Applications, volume II, VIII.8).

    Examples
    --------
    >>> from modelmath.clearance import Term
    >>> spread = Distribution((Term("depth", 3.0, 0.10), Term("spacer", -2.8, 0.05)))
    >>> round(spread.chance_below(0.07), 4), [round(end, 3) for end in spread.interval(0.95)]
    (0.01, [0.082, 0.318])
    """

    terms: tuple[Term, ...]
    _levels: dict[int, EdgeLattice] = field(default_factory=dict, init=False, repr=False, compare=False)
    _centred: dict[tuple[int, float, float], tuple[Array, Array]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @cached_property
    def mean_mm(self) -> float:
        """Sum of the nominals; the middle, where a t-distribution of one degree of freedom has no mean. [mm]"""
        return fsum(term.nominal_mm for term in self.terms)

    @cached_property
    def u_mm(self) -> float:
        """Standard deviation; infinite with repeats of 2 degrees of freedom or fewer (JCGM 101:2008, 6.4.9). [mm]"""
        if any(part.dof <= 2 for part in self._repeats):
            return inf
        repeats = (part.u_mm * sqrt(part.dof / (part.dof - 2)) for part in self._repeats)
        return hypot(self._sigma_mm, *(part.u_mm for part in self._bounded), *repeats)

    @cached_property
    def _uncertain(self) -> tuple[Term, ...]:
        """Terms with a width, what is left of a rounded sum taken for none."""
        least = LOST * max((term.u_mm for term in self.terms), default=0.0)
        return tuple(term for term in self.terms if term.u_mm > least)

    @cached_property
    def _bounded(self) -> tuple[Part, ...]:
        # Widest first, so that the order in which terms are given changes nothing.
        parts = [Part(t.shape, t.u_mm, inf) for t in self._uncertain if t.shape not in ("normal", "repeats")]
        return tuple(sorted(parts, key=lambda part: (-part.u_mm, part.shape)))

    @cached_property
    def _repeats(self) -> tuple[Part, ...]:
        found = [t for t in self._uncertain if t.shape == "repeats" and not isinf(t.dof)]
        return tuple(sorted((Part("repeats", t.u_mm, t.dof) for t in found), key=lambda part: (-part.u_mm, part.dof)))

    @cached_property
    def _sigma_mm(self) -> float:
        normals = (t.u_mm for t in self._uncertain if t.shape == "normal" or (t.shape == "repeats" and isinf(t.dof)))
        return hypot(*sorted(normals))

    @cached_property
    def _end_mm(self) -> float:
        """Most that the terms with ends can add up to, about 0."""
        return fsum(part.half_width_mm for part in self._bounded)

    def chance_above(self, x_mm: float) -> float:
        """Return the chance that the sum lies above a value.

        Parameters
        ----------
        x_mm : float
            The value. [mm]

        Returns
        -------
        float
            The chance, its leading digits right in the tail too; 0 at the one value of a sum without uncertainty. [-]

        Raises
        ------
        OutOfRange
            If the value is no finite number.

        References
        ----------
        JCGM 101:2008, 5.2; see the class.

        Examples
        --------
        >>> from modelmath.clearance import Term
        >>> Distribution((Term("reading", 10.0, 0.5),)).chance_above(10.25)
        0.25
        """
        check_number("x_mm", x_mm)
        return self._above(float(x_mm) - self.mean_mm)

    def chance_below(self, x_mm: float) -> float:
        """Return the chance that the sum lies below a value.

        Parameters
        ----------
        x_mm : float
            The value. [mm]

        Returns
        -------
        float
            The chance, its leading digits right in the tail too; 0 at the one value of a sum without uncertainty. [-]

        Raises
        ------
        OutOfRange
            If the value is no finite number.

        References
        ----------
        JCGM 101:2008, 5.2; every shape is even about its nominal.

        Examples
        --------
        >>> from modelmath.clearance import Term
        >>> Distribution((Term("reading", 10.0, 0.5),)).chance_below(9.75)
        0.25
        """
        check_number("x_mm", x_mm)
        return self._above(self.mean_mm - float(x_mm))

    def quantile(self, p: float) -> float:
        """Return the value below which the sum lies with a given chance.

        Parameters
        ----------
        p : float
            The chance, between 0 and 1. [-]

        Returns
        -------
        float
            The value. [mm]

        Raises
        ------
        OutOfRange
            If the chance is not between 0 and 1.

        References
        ----------
        JCGM 101:2008, 7.7.

        Examples
        --------
        >>> from modelmath.clearance import Term
        >>> round(Distribution((Term("reading", 10.0, 0.5),)).quantile(0.25), 6)
        9.75
        """
        if not 0 < p < 1:
            raise OutOfRange("the chance", f"{p}", "between 0 and 1", "Write 0.975 for 97.5 %.")
        away = self._away(min(p, 1.0 - p))
        return self.mean_mm + away if p > 0.5 else self.mean_mm - away

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """Return the interval that holds a given chance, with as much left out below as above.

        Parameters
        ----------
        coverage : float
            The chance, between 0 and 1. [-]

        Returns
        -------
        low, high : float
            Its ends. [mm]

        Raises
        ------
        OutOfRange
            If the coverage is not between 0 and 1.

        References
        ----------
        JCGM 101:2008, 3.15 (probabilistically symmetric coverage interval).

        Examples
        --------
        >>> from modelmath.clearance import Term
        >>> four = Distribution(tuple(Term("x", 0.0, 3**0.5) for _ in range(4)))
        >>> round(four.interval(0.95)[1], 4)  # JCGM 101:2008, 9.2.3
        3.8794
        """
        if not 0 < coverage < 1:
            raise OutOfRange("the coverage", f"{coverage}", "between 0 and 1", "Write 0.95 for 95 %.")
        away = self._away((1.0 - coverage) / 2.0)
        return self.mean_mm - away, self.mean_mm + away

    def density(self, xs_mm: Sequence[float] | Array) -> Array:
        """Return the density at some values, for a figure.

        Parameters
        ----------
        xs_mm : sequence of float or array
            Values. [mm]

        Returns
        -------
        array
            The density of a lattice of 8192 cells there; infinite at the value of a sum without uncertainty. [1/mm]

        References
        ----------
        JCGM 101:2008, 5.2.

        Examples
        --------
        >>> from modelmath.clearance import Term
        >>> Distribution((Term("reading", 10.0, 0.5),)).density([9.0, 10.0]).round(3).tolist()
        [0.0, 1.0]
        """
        import numpy as np

        away = np.asarray(xs_mm, dtype=float) - self.mean_mm
        parts = [*self._bounded, *self._repeats, *self._normal]
        if not parts:
            return np.asarray(np.where(np.abs(away) <= SAME_MM, inf, 0.0))
        cut = self._cut(self._repeats, 0.0)
        places, masses = centred_masses(parts, self._half_range(cut), cut)
        return np.asarray(np.interp(away, places, masses / (places[1] - places[0]), left=0.0, right=0.0))

    @property
    def _normal(self) -> tuple[Part, ...]:
        return (Part("normal", self._sigma_mm, inf),) if self._sigma_mm else ()

    @property
    def _reach_mm(self) -> float:
        """How far terms with ends and the normal may lie from 0."""
        return self._end_mm + REACH * self._sigma_mm

    def _above(self, away_mm: float) -> float:
        """Return the chance of lying farther above the middle than that; the lower half mirrors the upper."""
        if not (self._bounded or self._repeats or self._sigma_mm):
            return 1.0 if away_mm < -SAME_MM else 0.0
        if away_mm < 0:
            return 1.0 - self._above(-away_mm)
        chance = self._above_with_repeats(away_mm) if self._repeats else self._above_without_repeats(away_mm)
        return min(0.5, max(0.0, chance))

    def _above_without_repeats(self, away_mm: float) -> float:
        sigma, below_end = self._sigma_mm, self._end_mm - away_mm
        if not self._bounded:
            return 0.5 * erfc(away_mm / sigma / sqrt(2.0))
        if not sigma and below_end <= 0:
            return 0.0
        if not sigma and len(self._bounded) == 1:
            import numpy as np

            return float(part_above(self._bounded[0], np.array([away_mm]))[0])
        lattice = self._zoomed(max(below_end, 0.0) + REACH * sigma)
        if sigma < lattice.cell_mm:  # the normal is lost within a cell
            return lattice.within(below_end)
        return lattice.within_blurred(below_end, sigma)

    def _zoomed(self, depth_mm: float) -> EdgeLattice:
        """Return the finest kept lattice that covers a depth; each is half as deep as the one before."""
        full = 2.0 * self._end_mm
        level = max(0, int(-log2(depth_mm / full)) - 1)  # the first one has twice the cells and serves a quarter too
        if level not in self._levels:
            self._levels[level] = edge_lattice(self._bounded, full * 0.5 ** (level + 1) if level else full)
        return self._levels[level]

    def _cut(self, parts: Sequence[Part], away_mm: float) -> float:
        """Return where t-distributions are cut off for a place asked for: twice as far out as it and all else."""
        if not parts:
            return 0.0
        from scipy.special import stdtrit

        least = fsum(-part.u_mm * float(stdtrit(part.dof, SINGLE)) for part in parts)
        wanted = 2.0 * (away_mm + self._reach_mm)
        # In steps of four, so that a lattice serves many places.
        return float(least * 4.0 ** max(0, ceil(log2(wanted / least) / 2.0))) if wanted > 0 else least

    def _above_with_repeats(self, away_mm: float) -> float:
        import numpy as np

        away = np.array([away_mm])
        rest = [*self._bounded, *self._normal]
        alone = len(self._repeats) == 1 and not rest
        if alone or away_mm > FAR * (self._reach_mm + fsum(part.u_mm for part in self._repeats)):
            return fsum(float(part_above(part, away)[0]) for part in self._repeats)
        half_range = self._half_range(0.0)
        if len(self._repeats) == 1 and self._repeats[0].u_mm >= 4.0 * half_range / CENTRED_CELLS:  # two cells or more
            places, masses = self._lattice(rest, half_range, 0.0, at_points=True)
            return self._folded(self._repeats[0], away_mm - places, masses)
        cut = self._cut(self._repeats, away_mm)
        places, masses = self._lattice([*rest, *self._repeats], self._half_range(cut), cut)
        ends = places + (places[1] - places[0]) / 2.0
        beyond = np.append(np.cumsum(masses[::-1])[::-1][1:], 0.0)
        single = fsum(float(part_above(part, np.array([cut]))[0]) for part in self._repeats)
        return float(np.interp(away_mm, ends, beyond)) + single

    def _half_range(self, cut_mm: float) -> float:
        return (self._reach_mm + 2.0 * cut_mm) * (1 + 4 / CENTRED_CELLS)

    def _lattice(
        self, parts: list[Part], half_range_mm: float, cut_mm: float, at_points: bool = False
    ) -> tuple[Array, Array]:
        key = (len(parts), half_range_mm, cut_mm)
        if key not in self._centred:
            self._centred[key] = centred_masses(parts, half_range_mm, cut_mm, at_points)
        return self._centred[key]

    @staticmethod
    def _folded(part: Part, beyond_mm: Array, masses: Array) -> float:
        """Return the chance that a term lies beyond each place, summed by the chances of the places."""
        from scipy.special import stdtr

        kept = masses > 1e-19
        return float(masses[kept] @ stdtr(part.dof, -beyond_mm[kept] / part.u_mm))

    def _away(self, chance: float) -> float:
        """Return how far above the middle the sum lies with a chance of at most 1/2."""
        if chance >= 0.5 or not (self._bounded or self._repeats or self._sigma_mm):
            return 0.0
        near = -self.u_mm * NormalDist().inv_cdf(chance)  # a sum of many terms is nearly normal
        return where_it_falls(self._above, chance, self._farthest(chance), near)

    def _farthest(self, chance: float) -> float:
        """Return a place beyond which the sum can't lie more often than that: some term would have to alone."""
        count = len(self._repeats) + bool(self._sigma_mm)
        if not count:
            return self._end_mm
        each = chance / count
        far = self._end_mm - self._sigma_mm * NormalDist().inv_cdf(each)
        if self._repeats:
            from scipy.special import stdtrit

            far -= fsum(part.u_mm * float(stdtrit(part.dof, each)) for part in self._repeats)
        return far
