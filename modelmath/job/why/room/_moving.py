"""Figures of what stands or moves inside the shell."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees
from typing import TYPE_CHECKING, Any

from modelmath.job.why._words import in_mm
from modelmath.job.why.figures import Figure

if TYPE_CHECKING:
    from modelmath.job.bench.moving import Moving
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
        below = (*readings, *(("sharpest curve", "distance of the pivots") if swing else ()))
        how = f"the highest it gets, rocking and out of true{swing}; its running clearance comes on top"
        if each.part is None:
            how = "as high as it stands; its running clearance comes on top"
            if entry.top is None:
                how = _up_to_the_roof(plan, each)
                below += tuple(f"reading: {name}" for name in _undersides(plan))
        name = f"{entry.name}: highest"
        yield Figure(name, in_mm(each.top.value), how, "elementary geometry", below, each.top.value)
        reach = f"{in_mm(each.obstacle.start_mm)} to {in_mm(each.obstacle.end_mm)}"
        assert plan.bench.ends is not None  # nothing stands or moves along an unknown length
        swing = "" if each.part is None else ", at full swing and play"
        play = " and the play of the body" if each.play_mm else ""
        how = f"from the {plan.bench.ends.mark}{swing}, running clearance{play} in it"
        yield Figure(f"{entry.name}: reach along", reach, how, "elementary geometry", (name,))


def _up_to_the_roof(plan: Plan, each: Moving) -> str:
    """Say how high what has no top of its own reaches: its running clearance takes it up to the highest roof."""
    highest = max(depth.roof.exact_mm for depth in plan.depths if depth.roof is not None)
    running = highest - each.top.exact_mm
    return (
        f"it has no top of its own: the highest roof, {in_mm(highest)}, less its running clearance, {in_mm(running)}, "
        "which comes on top"
    )


def _undersides(plan: Plan) -> list[str]:
    """Return the readings of the roofs."""
    return list(
        dict.fromkeys(station.underside for depth in plan.depths for station in depth.stations if station.underside)
    )


def _best(value: Any) -> float:
    return float(getattr(value, "nominal_value", value))
