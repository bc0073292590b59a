"""Figures of what stands or moves inside the shell."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees
from typing import TYPE_CHECKING, Any

from modelmath.job.why._words import in_mm
from modelmath.job.why.figures import Figure

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def moving(plan: Plan) -> Iterator[Figure]:
    """Yield how far each thing that stands or moves reaches."""
    curve = plan.job.curve
    if curve is not None:
        yield Figure("sharpest curve", curve.radius, "radius, as entered", "the job, curve")
        yield Figure("distance of the pivots", curve.pivots, "as entered", "the job, curve")
    for each in plan.bench.moving:
        entry = each.entry
        named = (getattr(entry, field, None) for field in ("top", "at", "to", "start", "end"))
        readings = tuple(f"reading: {name}" for name in named if name)
        yaw = getattr(each.part, "yaw_rad", 0.0)
        swing = f", turned by {degrees(_best(yaw)):.1f} degrees" if _best(yaw) else ""
        how = f"the highest it gets, rocking and out of true{swing}; its running clearance comes on top"
        if each.part is None:
            how = "as high as it stands; its running clearance comes on top"
            if entry.top is None:
                how = "it has no top of its own, and reaches up to the highest roof"
        below = (*readings, *(("sharpest curve", "distance of the pivots") if swing else ()))
        name = f"{entry.name}: highest"
        yield Figure(name, in_mm(each.top.value), how, "elementary geometry", below, each.top.value)
        reach = f"{in_mm(each.obstacle.start_mm)} to {in_mm(each.obstacle.end_mm)}"
        assert plan.bench.ends is not None  # nothing stands or moves along an unknown length
        swing = "" if each.part is None else ", at full swing and play"
        how = f"from the {plan.bench.ends.mark}{swing}, running clearance in it"
        yield Figure(f"{entry.name}: reach along", reach, how, "elementary geometry", (name,))


def _best(value: Any) -> float:
    return float(getattr(value, "nominal_value", value))
