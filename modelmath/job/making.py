"""What a plan makes: the chamber that fits, the parts, and what of the speaker or decoder does not fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure import Chamber, Enclosure, Part, assemble
from modelmath.enclosure.fit import Refit
from modelmath.enclosure.making.extras import Extras
from modelmath.enclosure.parts import bulkhead, fillers, posts, supports
from modelmath.errors import DoesNotFit, ModelMathError
from modelmath.job.bench.layout import cavity_of, width_of

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class Fitted:
    """A chamber, and why it is not the one that was asked for.

    Attributes
    ----------
    enclosure : Enclosure or None
        None while an entry is missing, or where not even an empty chamber fits. [-]
    misfit : DoesNotFit or None
        What had to be left out, and why; None when all fits. [-]
    chambers : tuple of Chamber
        The largest as it is cut, and the next largest. [mm]
    """

    enclosure: Enclosure | None
    misfit: DoesNotFit | None = None
    chambers: tuple[Chamber, ...] = ()


def fit_or_leave_out(plan: Plan) -> Fitted:
    """Fit the chamber with all that goes in; where that can't be, leave out the speaker, the decoder or both.

    A speaker that is too large must not take the bulkhead from the sheet: its height does not depend on it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Fitted
        The chamber, and the reason if something was left out. [mm]

    References
    ----------
    `fit_enclosure`.
    """
    bench = plan.bench
    cavity = cavity_of(bench)
    if cavity is None:
        return Fitted(None)
    reason: DoesNotFit | None = None
    refit = Refit()
    tries = ((bench.speaker, bench.decoder), (None, bench.decoder), (bench.speaker, None), (None, None))
    for speaker, decoder in dict.fromkeys(tries):
        try:
            enclosure = refit.enclosure(cavity, plan.limits, speaker, decoder)
            chambers = enclosure.ranked_as_cut(plan.marks)
        except DoesNotFit as miss:
            reason = reason or miss
            continue
        return Fitted(enclosure, reason, chambers)
    return Fitted(None, reason)


def extras_of(bench: Bench) -> Extras:
    """Return what is wanted beside the chamber itself.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Extras
        Light barriers only at ends that have a lamp; strand supports for the thickest strand. [mm]

    Raises
    ------
    JobError
        If a length can't be read.

    References
    ----------
    None needed.
    """
    asked, lamps = bench.job.chamber, bench.job.lamps
    strands = [
        (lamp.end, bench.length(lamp.strand, "lamps", place, "strand", zero=False))
        for place, lamp in enumerate(lamps)
        if lamp.strand is not None
    ]
    every = None
    if asked.strand_supports is not None and strands:
        every = bench.length(asked.strand_supports, "chamber", "strand_supports", zero=False)
    ends = {lamp.end for lamp in lamps}

    def thickest(where: str) -> Fraction | None:
        return max((size for end, size in strands if end == where), default=None)

    return Extras(
        floor=asked.floor,
        strand_every_mm=every,
        strand_mm=max(size for _, size in strands) if every is not None else None,
        light_barrier=(asked.light_barrier and "front" in ends, asked.light_barrier and "rear" in ends),
        barrier_mm=bench.length(bench.job.build.wall, "build", "wall", zero=False),  # cut from the walls' sheet
        removable=tuple(asked.removable),
        barrier_strand_mm=(thickest("front"), thickest("rear")),
    )


def left_out_of(plan: Plan) -> tuple[ModelMathError, ...]:
    """Say which strand supports and light barriers have no room, so that the plan goes without them.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of ModelMathError
        Why each is left out; none where all have room, or while there is no chamber. [-]

    References
    ----------
    `assemble.left_out_of`.
    """
    if plan.enclosure is None:
        return ()
    return assemble.left_out_of(plan.enclosure, plan.chambers[0], plan.marks, extras_of(plan.bench))


def parts_of(plan: Plan) -> tuple[tuple[Part, ...], DoesNotFit | None]:
    """Size every part that the entries so far give.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of (tuple of Part, DoesNotFit or None)
        The parts in the order they are glued, and the first that could not be sized for what it has to carry. [mm]

    Raises
    ------
    DoesNotFit
        If there is no room for the bulkhead itself.

    References
    ----------
    The parts' own functions.
    """
    flange, enclosure = plan.bench.flange_mm, plan.enclosure
    misses: list[DoesNotFit] = []

    def add(make: Callable[[], Part | None]) -> None:
        try:
            part = make()
        except DoesNotFit as miss:
            misses.append(miss)
        else:
            parts.extend([part] if part else [])

    if enclosure is not None:
        parts = list(assemble.parts_of(enclosure, plan.chambers[0], plan.marks, extras_of(plan.bench)))
        if flange is not None and plan.bench.speaker is None:
            add(lambda: supports(plan.marks, plan.chamber_height_mm, flange))
        return tuple(parts), misses[0] if misses else None
    depth, speaker = plan.governing, plan.bench.speaker
    width = width_of(plan.bench, depth)
    wall_mm = Fraction(plan.limits.wall_mm)
    room = depth.free.exact_mm - Fraction(plan.limits.clearance_mm)
    wall = bulkhead(plan.marks, room, wall_mm, None if width is None else width.exact_mm)
    parts = [wall, posts("corner post", wall)]
    if flange is not None:
        add(lambda: supports(plan.marks, wall.cut.cut_mm, flange))
    if speaker is not None and width is not None:
        add(lambda: fillers(plan.marks, width.exact_mm, speaker, wall_mm))
    return tuple(parts), misses[0] if misses else None
