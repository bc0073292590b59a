"""What a careful friend would say about a plan."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError

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
        if depth.offset_cancels == "" and depth.zone.gap is None:
            yield (
                f"Over {depth.zone.name} the two heights were not read with one rule from one datum, so the zero "
                "offset does not cancel: check it against a known length."
            )
    wall = Fraction(plan.limits.wall_mm)
    for line in plan.lines:
        if not line.picks:
            if line.part.width_mm is not None or line.part.use != "across":
                yield f"No strip for the {line.part.name}: {line.note}"
            continue
        strip = line.picks[0].strip
        if line.part.thickness_mm is not None and abs(strip.thickness_mm - wall) > Fraction(1, 4):
            yield (
                f"The {line.part.name} comes out {float(strip.thickness_mm):.2f} mm thick from {line.stock_text}, "
                f"while the layout counts {float(wall):.2f} mm: set the wall's thickness to what you use."
            )
    speaker, enclosure = plan.bench.speaker, plan.enclosure
    if speaker is not None and enclosure is None:
        over = plan.chamber_height_mm - Fraction(speaker.depth_mm)
        if over < Fraction(plan.limits.over_speaker_mm):
            yield (
                f"The speaker is {float(speaker.depth_mm):.2f} mm deep and the chamber "
                f"{float(plan.chamber_height_mm):.2f} mm high: {float(over):.2f} mm is left over its back."
            )
