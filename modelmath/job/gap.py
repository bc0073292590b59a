"""The room left between the bulkhead and the chassis below it, and how far it may be off."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.clearance import Stack, Term
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

LIMITS = "a limit is two standard uncertainties where a source has no other"


@dataclass(frozen=True)
class Gap:
    """What is left between the bulkhead and the chassis below it.

    Attributes
    ----------
    kept_mm : Fraction
        The clearance asked for. [mm]
    left_mm : Fraction
        The room left, once the bulkhead is cut to its mark. [mm]
    stack : Stack
        What the room left is made of, and how far each term may be off. [mm]
    """

    kept_mm: Fraction
    left_mm: Fraction
    stack: Stack

    @property
    def at_worst_mm(self) -> float:
        """The room left with everything that varies at its limit, the wrong way. [mm]"""
        return float(self.left_mm) - self.stack.worst_case()

    @property
    def usually_mm(self) -> float:
        """The room left if what varies does so independently. [mm]"""
        return float(self.left_mm) - self.stack.rss()

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
    """Work out the room left over the zone that governs.

    The bulkhead is marked out with a rule whose offset and scale error may be those of the readings: what cancels
    in the space stands in the part, and the other way round.

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
    above, below = plan.hung_from.zone.name, plan.governing.zone.name
    height = plan.chamber_height_mm
    seating = plan.bench.length(plan.job.seat.repeatability, "seat", "repeatability")
    cutting = plan.bench.length(plan.job.build.cutting_tolerance, "build", "cutting_tolerance")
    name = f"free depth over {below}" if above == below else f"roof over {above} down to {below}"
    room = plan.space.value - plan.marks.rule.marked_out(height, plan.marks.datum)
    stack = Stack.of(
        Term(name, float(plan.space.exact_mm)),
        *Stack.sources(room),
        Term("bulkhead as cut", -float(height), float(cutting)),
        Term("how repeatably the shell seats", 0.0, float(seating)),
    )
    return Gap(Fraction(plan.limits.clearance_mm), plan.space.exact_mm - height, stack)
