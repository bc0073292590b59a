"""Which changes make a plan fit as it is cut and made, and by how little: what fits exactly may not, cut to marks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from heapq import heapify, heappop, heappush
from math import ceil, floor
from typing import TYPE_CHECKING

from modelmath.clearance import Marks
from modelmath.enclosure import Enclosure, assemble
from modelmath.enclosure.choosing.changes import STEPS, Given, Remedy
from modelmath.enclosure.chosen import why_none_is_built
from modelmath.enclosure.fit import Refit
from modelmath.enclosure.making.extras import NO_EXTRAS
from modelmath.enclosure.marked import reference_roof_mm
from modelmath.enclosure.parts import supports
from modelmath.errors import DoesNotFit, ModelMathError
from modelmath.lengths.numbers import Number, as_fraction

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

MOST = 3  # so many are told that change a size: the least
MOST_TURNED = 2  # and so many that change none
MOST_FOLLOWED = 4  # a change goes on so many times by what still lacks,
MOST_MARKS = 2  # and then by so many marks
NEAR_MM = Fraction(1, 10)  # and is brought back to the least in whole steps of this
HIGHER = ("clearance", "chassis top", "obstacle", "roof")  # these make the chamber as much higher
OF_A_SIZE = ("speaker ", "decoder ")
MOST_TRIED = 60  # plans worked out to find them
LIKELY = 3  # so many of the amounts that did for other changes are tried first
LEAST_MM = Fraction(1, STEPS)
ROUNDING = Fraction(1, 10**6)
# Finest marks, in the unit of a rule in mm; on others each is half of the one before.
IN_MM = ("0.5", "0.25", "0.1", "0.05", "0.02", "0.01")
HALVED = 5  # times at most


def why_not_made(plan: Plan, given: Given, marks: Marks, refit: Refit | None = None) -> ModelMathError | None:
    """Say why what is given can't be made, as the plan would.

    Parameters
    ----------
    plan : Plan
        For what is wanted beside the chamber. [-]
    given : Given
        Cavity, limits, speaker and decoder. [mm]
    marks : Marks
        What it is cut to. [-]
    refit : Refit or None
        Knows of fits before. [-]

    Returns
    -------
    ModelMathError or None
        None where it can be made. [-]

    References
    ----------
    `modelmath.job.making`. What hangs at the roof or keeps light in is left out where it has no room, so it is no
    reason.
    """
    try:
        enclosure = (refit or Refit()).enclosure(given.cavity, given.limits, given.speaker, given.decoder)
    except ModelMathError as reason:
        return reason
    return _why_not_cut(plan, enclosure, marks)


def _why_not_cut(plan: Plan, enclosure: Enclosure, marks: Marks) -> ModelMathError | None:
    try:
        floor, flange = plan.job.chamber.floor, plan.bench.flange_mm
        hung = flange is not None and plan.bench.speaker is None
        if floor == NO_EXTRAS.floor and not hung:
            return why_none_is_built(enclosure, marks)
        chamber = enclosure.as_cut(marks)  # its walls, plates and supports can be made
        assemble.parts_of(enclosure, chamber, marks, replace(NO_EXTRAS, floor=floor))
        if flange is not None and hung:
            supports(marks, reference_roof_mm(chamber) - Fraction(chamber.floor_mm), flange)
    except ModelMathError as reason:
        return reason
    return None


def finer_marks(marks: Marks) -> Iterator[Marks]:
    """Yield finer marks that parts can be cut to, the coarsest first.

    Parameters
    ----------
    marks : Marks
        The rule and the finest mark cut to now. [-]

    Yields
    ------
    Marks
        Down to a hundredth of a mm, or thereabouts. [-]

    References
    ----------
    None needed.
    """
    rule = marks.rule
    now, unit = rule.given_mm(marks.finest), Fraction(rule.unit_mm)
    if rule.unit == "mm":
        finer: Iterable[tuple[Fraction, str]] = ((Fraction(text), text) for text in IN_MM)
    else:
        halves = (Fraction(now) / unit / 2**power for power in range(1, HALVED + 1))
        finer = ((each, str(each)) for each in halves)
    for size, text in finer:
        if size * unit < now:
            yield Marks(rule, text, marks.datum)


_Change = tuple[str, str, Number, Number | None]  # its kind, what it changes, by how much, and to what


def _to_next_mark(enclosure: Enclosure, marks: Marks) -> Fraction:
    """Return how much higher the largest chamber would have to be for its floor to be cut at the next mark."""
    exact = enclosure.chamber
    high = reference_roof_mm(exact) - as_fraction(exact.floor_mm)
    return marks.rule.largest_at_mark(high, marks.finest, marks.datum) + marks.apart_mm - high


@dataclass
class Tried:
    """Finds out which changes make a plan fit as it is cut, and by how little.

    Attributes
    ----------
    plan : Plan
        The plan, which does not fit. [-]
    typed : function
        Returns a change as it is typed into the document; None where it can't be. [-]
    left : int
        How many more changes may be tried. [-]
    """

    plan: Plan
    typed: Callable[[Remedy], Remedy | None]
    left: int = MOST_TRIED
    _amounts: list[Fraction] = field(default_factory=list)
    _refit: Refit = field(default_factory=Refit)
    _known: dict[_Change, ModelMathError | None] = field(default_factory=dict)
    _to_mark: dict[_Change, Fraction] = field(default_factory=dict)

    def least(self, changes: Iterable[Remedy], most: int = MOST) -> tuple[Remedy, ...]:
        """Return the least changes that make it fit.

        Parameters
        ----------
        changes : iterable of Remedy
            Each by the least that may do. [mm]
        most : int
            How many at most that change a size; of those that change none, two at most. [-]

        Returns
        -------
        tuple of Remedy
            Those that may be made first, then by how small the change is. [mm]

        References
        ----------
        The least of all is looked at first; where it does not do, it stands in line again with what does.
        """
        typed = (self._written(each) for each in changes)
        line = [(not each.allowed, Fraction(each.change_mm), place, each, False)
                for place, each in enumerate(typed) if each is not None]  # fmt: skip
        heapify(line)
        found: list[Remedy] = []
        while line and self.left > 0:
            _, _, place, remedy, known = heappop(line)
            sized = remedy.needed_mm is not None
            alike = sum((each.needed_mm is not None) == sized for each in found)
            if alike >= (most if sized else min(most, MOST_TURNED)) or remedy.kind in [each.kind for each in found]:
                continue  # of two tops to trim, the one that takes less is told
            short = None if known else self._why_not(remedy)
            if short is None:
                found.append(remedy)
                continue
            more = self._more(remedy, short)
            if more is not None:
                heappush(line, (not more.allowed, Fraction(more.change_mm), place, more, True))
        return tuple(found)

    def _written(self, remedy: Remedy | None) -> Remedy | None:
        return None if remedy is None else self.typed(remedy)

    def _why_not(self, remedy: Remedy) -> ModelMathError | None:
        # Two amounts may be one as they are typed.
        key = _change(remedy)
        if key not in self._known:
            self.left -= 1
            self._known[key] = self._why_not_yet(remedy, key)
        return self._known[key]

    def _why_not_yet(self, remedy: Remedy, key: _Change) -> ModelMathError | None:
        given, marks = remedy.after, self.plan.marks
        try:
            enclosure = self._refit.enclosure(given.cavity, given.limits, given.speaker, given.decoder)
        except ModelMathError as reason:
            return reason
        why = _why_not_cut(self.plan, enclosure, marks)
        if why is not None and remedy.kind in HIGHER:
            self._to_mark[key] = _to_next_mark(enclosure, marks)
        return why

    def _more(self, remedy: Remedy, why: ModelMathError) -> Remedy | None:
        """Return the same change by as much more as it takes; None where a few marks more do not do."""
        low, high = self._beyond(remedy, why)
        if high is None:
            return None
        told = remedy.kind.startswith(OF_A_SIZE)  # what lacks of a size is told as exactly as it lacks
        likely = iter([] if told else [each - LEAST_MM for each in self._amounts[:LIKELY]])
        while not told and self.left > 0:
            halfway = (low + Fraction(high.change_mm)) / 2 / NEAR_MM
            whole = (NEAR_MM * ceil(halfway), NEAR_MM * floor(halfway))
            middle = next((each for each in (*likely, *whole) if low < each < high.change_mm), None)
            if middle is None:
                break
            tried, reason = self._by(remedy, middle)
            if tried is not None and reason is None:
                high = tried
            else:
                low = middle
        self._amounts.insert(0, Fraction(high.change_mm))
        return high

    def _beyond(self, remedy: Remedy, why: ModelMathError | None) -> tuple[Fraction, Remedy | None]:
        """Return an amount that does not do and, if there is one, the change by more that does."""
        amount, to_mark = Fraction(remedy.change_mm), self._to_mark.get(_change(remedy))
        if to_mark is not None:
            high, why_not = self._by(remedy, _up(amount + to_mark))
            if high is not None and why_not is None:
                # Less of it leaves the floor at the same mark; another chamber alone may do with less.
                return self._brought_back(remedy, amount, high)
        mark = max(Fraction(self.plan.marks.rule.given_mm(self.plan.marks.finest)), LEAST_MM)
        for number in range(MOST_FOLLOWED + MOST_MARKS):
            lacks = _up(Fraction(why.short_mm)) if isinstance(why, DoesNotFit) else Fraction(0)
            more = max(lacks, LEAST_MM) if number < MOST_FOLLOWED else mark
            tried, why = self._by(remedy, amount + more)
            if tried is None and amount < (remedy.now_mm or 0):
                tried, why = self._by(remedy, Fraction(remedy.now_mm or 0))  # none of it left
                return amount, tried if why is None else None
            if tried is None or why is None:
                return amount, tried
            if self.left <= 0:
                break
            amount += more
        return amount, None

    def _brought_back(self, remedy: Remedy, low: Fraction, high: Remedy) -> tuple[Fraction, Remedy]:
        """Return an amount that does not do and a change that does: the one given, if a hundredth less does not."""
        for hundredths in (1, 2):  # as they are typed, two amounts a hundredth apart may be one
            amount = Fraction(high.change_mm) - hundredths * LEAST_MM
            less, why = self._by(remedy, amount)
            if less is None or why is not None or less.change_mm < high.change_mm:
                return (low, less) if less is not None and why is None else (max(low, amount), high)
        return low, high

    def _by(self, remedy: Remedy, amount: Fraction) -> tuple[Remedy | None, ModelMathError | None]:
        """Return a change by an amount, None where it can't be so much, and why it does not do."""
        changed = self._written(None if remedy.by is None else remedy.by(amount))
        return changed, None if changed is None else self._why_not(changed)


def _change(remedy: Remedy) -> _Change:
    return remedy.kind, remedy.what, remedy.change_mm, remedy.needed_mm


def _up(mm: Fraction) -> Fraction:
    """Return an amount in whole hundredths that is enough, rounding of a float set aside."""
    return Fraction(ceil(mm * STEPS - ROUNDING), STEPS)
