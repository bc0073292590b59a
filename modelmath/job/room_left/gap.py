"""The room left between the bulkhead and what is nearest below it, and how far it may be off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Any

from modelmath.clearance import Stack, Term
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

LIMITS = "a limit is two standard uncertainties where a source has no other"


@dataclass(frozen=True)
class Gap:
    """What is left between the bulkhead, with its floor, and what is nearest below.

    Attributes
    ----------
    kept_mm : Fraction
        What has to stay free: the clearance, and by how much what goes in raises the floor above that. [mm]
    left_mm : Fraction
        The room left, once the bulkhead is cut to its mark and what else takes room is taken off. [mm]
    stack : Stack
        What the room left is made of, and how far each term may be off. [mm]
    wanted_chance : float
        The chance of touching that is accepted. [-]
    raised_mm : Fraction
        Part of what is kept: how much higher the floor lies than the clearance alone asks for. [mm]
    raised_for : str
        What that is for, such as ``for the speaker's cone to move out``; empty where it is 0. [-]
    running : bool
        Whether the clearance is the running clearance of what stands or moves there. [-]
    over : str
        What it is over: the zone and its spot, or what stands or moves there. [-]
    """

    kept_mm: Fraction
    left_mm: Fraction
    stack: Stack
    wanted_chance: float = 0.01
    raised_mm: Fraction = Fraction(0)
    raised_for: str = ""
    running: bool = False
    over: str = ""

    @property
    def clearance_mm(self) -> Fraction:
        """The clearance asked for; over what stands or moves, its running clearance. [mm]"""
        return self.kept_mm - self.raised_mm

    @property
    def kept_in_words(self) -> str:
        """What is kept, and for what: ``0.80 mm of clearance and 0.40 mm for the speaker's cone to move out``."""
        return " and ".join(self._kept())

    @property
    def made_of(self) -> str:
        """What the room left is made of: what is kept, and what the mark leaves; as printed, it adds up."""
        over = _printed(self.left_mm) - _printed(self.clearance_mm) - _printed(self.raised_mm)
        if not over:
            return self.kept_in_words
        size = format_length(abs(over), "mm")
        if over < 0:
            return f"{self.kept_in_words} are to be kept, and {size} of that is missing"
        return f"{', '.join(self._kept())}, and {size} more because the height is cut to a mark"

    def _kept(self) -> Iterator[str]:
        yield f"{format_length(self.clearance_mm, 'mm')} of {'running ' if self.running else ''}clearance"
        if self.raised_mm:
            yield f"{format_length(self.raised_mm, 'mm')} {self.raised_for}"

    @property
    def at_worst_mm(self) -> float:
        """The room left with everything that varies at its limit, the wrong way. [mm]"""
        return float(self.left_mm) - self.stack.worst_case()

    @property
    def usually_mm(self) -> float:
        """The room left if what varies does so independently. [mm]"""
        return float(self.left_mm) - self.stack.rss()

    @cached_property
    def chance(self) -> float:
        """Chance that the bulkhead touches, from the exact distribution of the sum of all terms. [-]"""
        return self.stack.interference()

    @cached_property
    def allowance_mm(self) -> float:
        """Room that has to be left for no more than the accepted chance of touching. [mm]"""
        return self.stack.allowance(self.wanted_chance)

    @property
    def verdict(self) -> str:
        """What that means, in words."""
        worst, usual = format_length(abs(self.at_worst_mm), "mm"), format_length(self.usually_mm, "mm")
        if self.at_worst_mm > 0:
            return f"Nothing touches even with all at its limit: {worst} stays clear ({LIMITS})."
        largest = self.stack.largest_terms()[0]
        share = f"The largest share is the {largest.name}, ±{format_length(largest.tolerance_mm, 'mm')}"
        if self.usually_mm > 0:
            return (
                f"Usually {usual} stays clear, but with all at its limit it is {worst} too tight. {share}: "
                "make it smaller, keep more, or dry-fit before gluing."
            )
        off, left = format_length(self.stack.rss(), "mm"), format_length(self.left_mm, "mm")
        return (
            f"This may well touch: what is known may be off by ±{off} and only {left} is left. {share}: "
            "make it smaller, or keep more."
        )


def gap_of(plan: Plan) -> Gap:
    """Work out the room left over what governs.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Gap
        The room left, and its stack. [mm]

    References
    ----------
    JCGM 100:2008, 5.2, for what readings and part share; textbook worst-case and root-sum-square stack-ups.
    """
    return gap_with(plan, plan.chamber_height_mm)


def gap_with(plan: Plan, height_mm: Fraction) -> Gap:
    """Work out the room left with a bulkhead of another height.

    The bulkhead is marked out with a rule whose offset and scale error may be those of the readings: what cancels
    in the space stands in the part, and the other way round.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    height_mm : Fraction
        The bulkhead's height. [mm]

    Returns
    -------
    Gap
        The room left, and its stack. [mm]

    References
    ----------
    JCGM 100:2008, 5.2, for what readings and part share; textbook worst-case and root-sum-square stack-ups.
    """
    below, above, space = plan.governing, plan.hung_from.zone.name, plan.space
    same = above == below.zone.name and not below.moving
    name = f"free depth over {below.name}" if same else f"roof over {above} down to {below.name}"
    takes = plan.bench.varying.takes_mm
    stack = Stack.of(
        Term(name, float(space.exact_mm)),
        *Stack.sources(room_left(plan, space.value, height_mm)),
        Term("bulkhead as cut", -float(height_mm), float(cutting_mm(plan))),
        Term("how repeatably the shell seats", 0.0, float(seating_mm(plan))),
        *varying_terms(plan, height_mm),
    )
    running, floor = bool(below.moving), plan.floor_set
    clearance = _running_mm(plan, below.moving) if running else Fraction(plan.limits.clearance_mm) - takes
    left = space.exact_mm - height_mm - takes
    chance = plan.job.clearance.chance
    kept, raised = clearance + floor.raised_mm, floor.raised_mm
    return Gap(kept, left, stack, chance, raised, floor.purpose, running, below.name)


def room_left(plan: Plan, space: Any, height_mm: Fraction) -> Any:
    """Return a space less a bulkhead marked out with the plan's rule, with what readings and rule know of it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    space : uncertain number
        The space. [mm]
    height_mm : Fraction
        The bulkhead's height. [mm]

    Returns
    -------
    uncertain number
        The room left, cutting and seating not in it. [mm]

    References
    ----------
    JCGM 100:2008, 5.2.
    """
    return space - plan.marks.rule.marked_out(height_mm, plan.marks.datum)


def seating_mm(plan: Plan) -> Fraction:
    """Return how repeatably the shell seats, either way.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Fraction
        As entered. [mm]

    References
    ----------
    None needed.
    """
    return plan.bench.length(plan.job.seat.repeatability, "seat", "repeatability")


def cutting_mm(plan: Plan) -> Fraction:
    """Return how exactly parts are cut, either way.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Fraction
        As entered. [mm]

    References
    ----------
    None needed.
    """
    return plan.bench.length(plan.job.build.cutting_tolerance, "build", "cutting_tolerance")


def varying_terms(plan: Plan, height_mm: Fraction) -> tuple[Term, ...]:
    """Return what takes room or varies beside readings, cutting and seating.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    height_mm : Fraction
        The bulkhead's height. [mm]

    Returns
    -------
    tuple of Term
        Warmth among them. [mm]

    References
    ----------
    `Varying.all_terms`.
    """
    return plan.bench.varying.all_terms(*_heights(plan), float(height_mm))


def _printed(mm: Fraction) -> Fraction:
    """Return a length as it is printed. [mm]"""
    return Fraction(format_length(mm, "mm").removesuffix(" mm"))


def _heights(plan: Plan) -> tuple[float, float]:
    """Return roof and chassis top where the bulkhead stands; where only the gap was read, about the seat."""
    roof, top = plan.hung_from.roof, plan.governing.top
    if roof is None or top is None:
        return float(plan.space.exact_mm), 0.0
    return float(roof.exact_mm), float(top.exact_mm)


def _running_mm(plan: Plan, name: str) -> Fraction:
    moving = next(each for each in plan.bench.moving if each.entry.name == name)
    return Fraction(moving.obstacle.outward().running_mm) - plan.bench.varying.takes_mm
