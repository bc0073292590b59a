"""The model on the scale: what each truck carries, before and after, read from the document."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from modelmath.enclosure.balance import (
    Balance,
    Mass,
    RecommendedWeight,
    Support,
    added,
    recommended_weight,
    trimmed,
    weighed,
)
from modelmath.errors import WrongKind

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.fields.inside import MassEntry
    from modelmath.job.plan import Plan


def balance_of(plan: Plan) -> Balance | None:
    """Return the balance fore and aft, once the model was weighed.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Balance or None
        None where no weight is entered. [g, mm]

    Raises
    ------
    JobError
        If a place or a material can't be read.

    References
    ----------
    The law of the lever; `recommended_weight` for a model that nothing drives.
    """
    entry, bench = plan.job.weight, plan.bench
    if entry is None:
        return None
    trucks = []
    for end in ("front", "rear"):
        place = bench.place(getattr(entry, f"{end}_truck"), "weight", f"{end}_truck")
        driven = 2 if entry.driven in ("both", end) else 0
        trucks.append(Support(f"{end} truck", float(place), 2, driven))
    before = tuple(
        weighed(truck.name, grams, truck.at_mm)
        for truck, grams in zip(trucks, (entry.front_grams, entry.rear_grams), strict=True)
    )
    changes = tuple(_change(bench, each, place) for place, each in enumerate(entry.changes))
    return Balance(trucks[0], trucks[1], before, changes, _recommended(plan))


def _recommended(plan: Plan) -> RecommendedWeight | None:
    """Return what an unpowered model of this length should weigh; None where its length or scale is not known there."""
    entry, length = plan.job.weight, plan.job.length
    if entry is None or entry.driven != "none" or length is None:
        return None
    inside = plan.bench.reading(length.shell_inside).value
    try:
        found: RecommendedWeight = recommended_weight(plan.scale.name, inside)
    except WrongKind:  # nothing is published for its scale
        return None
    return replace(found, measured_as="the shell's inside length, without its two end walls")


def _change(bench: Bench, entry: MassEntry, place: int) -> Mass:
    path = ("weight", "changes", place)
    at = float(bench.place(entry.at, *path, "at"))
    volume, material = entry.volume, entry.material
    if volume is not None and material is not None:
        make = trimmed if entry.off else added
        found: Mass = bench.working_out((*path, "material"), lambda: make(entry.name, volume, material, at))
        return found
    grams = entry.grams or 0.0
    return Mass(entry.name, -abs(grams) if entry.off else grams, at)
