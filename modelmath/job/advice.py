"""What a careful friend would say about a plan."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError
from modelmath.lengths.readings import offset_cancels

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def warnings_of(plan: Plan) -> tuple[str, ...]:
    """Return what to mind about a plan, the gravest first.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        Sentences; none when there is nothing to mind. [-]

    References
    ----------
    None needed.
    """
    try:
        return tuple(_warnings(plan))
    except ModelMathError as reason:
        return (str(reason),)


def _warnings(plan: Plan) -> Iterator[str]:
    if plan.gap.at_worst_mm <= 0:
        yield plan.gap.verdict
    for depth in plan.depths:
        left = [name for name, rule in plan.bench.rules.items() if not offset_cancels(depth.free.value, rule)]
        if left and depth.zone.gap is None:
            yield (
                f"Over {depth.zone.name} the two heights were not read the same way, so the zero offset of "
                f"{' and '.join(left)} stays in their difference: check it against a known length."
            )
    wall = Fraction(plan.limits.wall_mm)
    for line in plan.lines:
        if not line.picks:
            if line.sheet is None:
                yield f"No strip for the {line.part.name}: {line.note}"
            continue
        strip = line.picks[0].strip
        if line.part.thickness_mm is not None and abs(strip.thickness_mm - wall) > Fraction(1, 4):
            yield (
                f"The {line.part.name} comes out {float(strip.thickness_mm):.2f} mm thick from {line.stock_text}, "
                f"while the layout counts {float(wall):.2f} mm: set the wall's thickness to what you use."
            )
    yield from _over_speaker(plan)


def _over_speaker(plan: Plan) -> Iterator[str]:
    """Yield what is left between the speaker's back and the roof, as its supports are cut, if that is too little."""
    speaker, keep = plan.bench.speaker, Fraction(plan.limits.over_speaker_mm)
    for part in plan.parts:
        if speaker is None or part.kind != "support":
            continue
        over = part.cut.cut_mm + Fraction(speaker.flange_mm) - Fraction(speaker.depth_mm)
        if over < keep:
            left = f"{float(over):.2f} mm is left" if over >= 0 else f"{float(-over):.2f} mm is missing"
            yield (
                f"The speaker is {float(speaker.depth_mm):.2f} mm deep; on a {part.name} of "
                f"{float(part.cut.cut_mm):.2f} mm {left} over its back, of {float(keep):.2f} mm to keep: cut the "
                "supports to a finer mark, or use a shallower speaker."
            )
