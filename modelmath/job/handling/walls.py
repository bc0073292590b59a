"""The walls at the ends of the chamber: where each may be held."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.making.walls import NAMES
from modelmath.job.fields.base import BEST
from modelmath.job.handling.handle import Handle, Kind
from modelmath.job.handling.places import length_text, on_marks, with_place
from modelmath.lengths.numbers import as_fraction

if TYPE_CHECKING:
    from modelmath.job.document import Job
    from modelmath.job.plan import Plan

FIELDS = ("front_end", "rear_end")
KINDS: tuple[Kind, Kind] = ("bulkhead", "closure")


def walls_of(plan: Plan) -> Iterator[Handle]:
    """Yield the walls of a plan's chamber, the bulkhead first.

    Parameters
    ----------
    plan : Plan
        The plan, which has a chamber. [-]

    Yields
    ------
    Handle
        Each by its outer face. [mm]

    References
    ----------
    None needed.
    """
    chamber = plan.chamber
    assert chamber is not None
    named = iter(zip(KINDS, NAMES, strict=True))
    for field, there in zip(FIELDS, (chamber.front_wall, chamber.rear_wall), strict=True):
        if there:
            kind, (name, _) = next(named)
            yield _wall(plan, field, kind, name)


def _wall(plan: Plan, field: str, kind: Kind, name: str) -> Handle:
    chamber, enclosure = plan.chamber, plan.enclosure
    assert chamber is not None
    assert enclosure is not None
    front = field == "front_end"
    thick = as_fraction(plan.limits.wall_mm)
    at = as_fraction(chamber.start_mm if front else chamber.end_mm)
    low, high, ends = _room(plan, front)
    places = with_place(on_marks(plan.marks, low, high), at)
    before, behind = (Fraction(0), thick) if front else (thick, Fraction(0))
    steps = (
        f"marks of {plan.marks.finest} on the {plan.marks.rule.name}, {float(plan.marks.apart_mm):.2f} mm apart, "
        f"counted from the {plan.mark_name}"
    )
    held = getattr(plan.job.chamber, field) != BEST
    face = "front face" if front else "rear face"
    return Handle(field, kind, name, face, at, before, behind, tuple(places), steps, ends, moved=held)


def _room(plan: Plan, front: bool) -> tuple[Fraction, Fraction, tuple[str, str]]:
    """Return from where to where a wall may stand in the shell, and what ends that; an end of the shell is no wall."""
    assert plan.enclosure is not None
    cavity, limits = plan.enclosure.cavity, plan.limits
    low = as_fraction(cavity.start_mm + limits.front_room_mm)
    high = as_fraction(cavity.end_mm - limits.rear_room_mm)
    ends = [
        _end("front", bool(limits.front_room_mm), cavity.front_closed),
        _end("rear", bool(limits.rear_room_mm), cavity.rear_closed),
    ]
    thick, apart = as_fraction(limits.wall_mm), plan.marks.apart_mm
    if front:
        high -= thick
        if cavity.front_closed and not limits.front_room_mm:
            low += min(thick, apart)
    else:
        low += thick
        if cavity.rear_closed and not limits.rear_room_mm:
            high -= min(thick, apart)
    return low, high, (ends[0], ends[1])


def _end(end: str, lamps: bool, closed: bool) -> str:
    if lamps:
        return f"the room kept for lamps at the {end} begins there."
    return f"the {end} end of the shell {'closes it' if closed else 'is'} there."


def walls_held(job: Job) -> bool:
    """Say whether a job holds an end of its chamber.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    bool
        False where the plan chooses both. [-]

    References
    ----------
    None needed.
    """
    return any(getattr(job.chamber, field) != BEST for field in FIELDS)


def let_walls_go(job: Job) -> Job:
    """Return a job that leaves it to the plan where the chamber ends.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    return job.model_copy(update={"chamber": job.chamber.model_copy(update=dict.fromkeys(FIELDS, BEST))})


def put_wall(job: Job, handle: Handle, place_mm: Fraction | None) -> Job:
    """Return a job that holds a wall at a place, or lets the plan choose.

    Parameters
    ----------
    job : Job
        The job. [-]
    handle : Handle
        The wall. [-]
    place_mm : Fraction or None
        Its outer face; None for where the plan chooses. [mm]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    changed: dict[str, Any] = {handle.key: BEST if place_mm is None else length_text(place_mm)}
    return job.model_copy(update={"chamber": job.chamber.model_copy(update=changed)})
