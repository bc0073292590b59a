"""What was measured as built, against what was planned: drift, whether the clearance still holds, what to cut anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import erf, hypot, sqrt
from typing import TYPE_CHECKING, Any

from modelmath.errors import ModelMathError, UnknownChoice
from modelmath.job.document import Job, ProgressEntry, ReadingEntry, RuleEntry
from modelmath.job.room_left.gap import cutting_mm, seating_mm
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.plan import Plan

ROOM = "room left"
AS_BUILT, DRY_FIT = "caliper, as built", "dry fit, room from the roof"
SURELY = 2  # standard uncertainties within which a measured size is as expected; about 95 %
CUT = ("wall", "post", "support", "plate", "side", "filler")  # what a size is measured of


@dataclass(frozen=True)
class Built:
    """One thing measured as built.

    Attributes
    ----------
    what : str
        The room left, or a part. [-]
    planned_mm, measured_mm : Fraction
        As planned and as measured. [mm]
    may_be_off_mm : float
        How far the plan lets it be off, measuring included; about 95 % lie within. [mm]
    """

    what: str
    planned_mm: Fraction
    measured_mm: Fraction
    may_be_off_mm: float

    @property
    def drift_mm(self) -> Fraction:
        """Measured less planned. [mm]"""
        return self.measured_mm - self.planned_mm

    @property
    def as_expected(self) -> bool:
        """Whether it is no further off than the plan lets it be. [-]"""
        return abs(self.drift_mm) <= self.may_be_off_mm

    @property
    def in_words(self) -> str:
        """How far off it is, and what that means. [-]"""
        planned, measured = (format_length(each, "mm") for each in (self.planned_mm, self.measured_mm))
        more = "more" if self.drift_mm > 0 else "less"
        off = f"{format_length(abs(self.drift_mm), 'mm')} {more}" if self.drift_mm else "just as"
        said = f"The {self.what} is {measured}, {off} than planned, {planned}." if self.drift_mm else (
            f"The {self.what} is {measured}, just as planned."
        )  # fmt: skip
        limit = f"{self.may_be_off_mm:.2f} mm"
        if self.as_expected:
            return f"{said} That is within the {limit} it may be off."
        return f"{said} That is beyond the {limit} it may be off: measure it again, and the readings behind it."


@dataclass(frozen=True)
class AsBuilt:
    """What was measured, and what follows.

    Attributes
    ----------
    measured : tuple of Built
        Each thing that was measured. [mm]
    unknown : tuple of str
        What was measured and is no part of this plan. [-]
    chance : float or None
        The chance of touching, now that the room left is measured; None where it is not. [-]
    solved : Plan or None
        The plan by what was measured, for what is still uncut; None where nothing asks for one. [-]
    changed : tuple of (str, Fraction, Fraction)
        Parts that it sizes otherwise: name, size as planned, size now. [mm]
    why_not_solved : str
        Why there is none although the room left was measured; empty else. [-]
    """

    measured: tuple[Built, ...]
    unknown: tuple[str, ...] = ()
    chance: float | None = None
    solved: Plan | None = None
    changed: tuple[tuple[str, Fraction, Fraction], ...] = ()
    why_not_solved: str = ""

    @property
    def room(self) -> Built | None:
        """The room left, where it was measured. [mm]"""
        return next((each for each in self.measured if each.what == ROOM), None)


def measurable(plan: Plan) -> tuple[str, ...]:
    """Return what can be measured as built: the room left, and every part that is cut to a size.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        Their names. [-]

    References
    ----------
    None needed.
    """
    return (ROOM, *dict.fromkeys(part.name for part in plan.parts if part.kind in CUT))


def as_built(plan: Plan) -> AsBuilt:
    """Return what was measured as built against the plan.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    AsBuilt
        Empty where nothing was measured. [mm]

    Raises
    ------
    JobError
        If a size can't be read.

    References
    ----------
    JCGM 100:2008, 5.1.2: what a plan lets a size be off, and how exactly it is measured, add in squares.
    """
    found, unknown = [], []
    for place, entry in enumerate(plan.job.progress.measured):
        value = plan.bench.length(entry.value, "progress", "measured", place, "value")
        within = plan.bench.length(entry.within, "progress", "measured", place, "within")
        built = _built(plan, entry.what, value, float(within))
        if built is None:
            unknown.append(entry.what)
        else:
            found.append((built, float(within)))
    measured = tuple(each for each, _ in found)
    room = next(((each, within) for each, within in found if each.what == ROOM), None)
    if room is None:
        return AsBuilt(measured, tuple(unknown))
    chance = chance_of_touching(float(room[0].measured_mm), room[1], float(seating_mm(plan)))
    try:
        solved = _solved(plan, room[0])
    except ModelMathError as reason:
        return AsBuilt(measured, tuple(unknown), chance, why_not_solved=str(reason))
    if solved is None:
        why = (
            f"The room left is over {plan.gap.over}, which moves or is read at several spots: trim what touches, or "
            "read that again and enter it."
        )
        return AsBuilt(measured, tuple(unknown), chance, why_not_solved=why)
    return AsBuilt(measured, tuple(unknown), chance, solved, tuple(_changed(plan, solved)))


def _built(plan: Plan, what: str, value: Fraction, within: float) -> Built | None:
    if what == ROOM:
        off = hypot(plan.gap.stack.rss(), within)
        return Built(what, plan.gap.left_mm, value, off)
    part = next((each for each in plan.parts if each.name == what and each.kind in CUT), None)
    if part is None:
        return None
    return Built(what, part.cut.cut_mm, value, hypot(float(cutting_mm(plan)), within))


def chance_of_touching(room_mm: float, within_mm: float, seating_mm: float) -> float:
    """Return the chance that a measured room is none once the shell seats anew.

    Parameters
    ----------
    room_mm : float
        The room, as measured. [mm]
    within_mm, seating_mm : float
        How exactly it was measured, and how repeatably the shell seats: limits either way. [mm]

    Returns
    -------
    float
        From 0 to 1. [-]

    References
    ----------
    JCGM 100:2008, 4.3.7 and 5.1.2: limits count as rectangular, the sum of the two as normal.

    Examples
    --------
    >>> round(chance_of_touching(0.5, 0.05, 0.1), 6), chance_of_touching(0.0, 0.05, 0.1)
    (0.0, 0.5)
    """
    spread = hypot(within_mm, seating_mm) / sqrt(3)
    if not spread:
        return float(room_mm <= 0)
    return 0.5 * (1 - erf(room_mm / spread / sqrt(2)))


def _solved(plan: Plan, room: Built) -> Plan | None:
    """Return the plan by the room measured; None where that is no zone's own."""
    from modelmath.job.plan import Plan as NewPlan

    job = job_as_measured(plan, room.measured_mm)
    return None if job is None else NewPlan(job, plan.bench.shared)


def job_as_measured(plan: Plan, room_mm: Fraction) -> Job | None:
    """Return a job in which the zone or obstacle that governs has the free depth that a dry fit showed.

    The bulkhead, as it is cut, and the room measured below it are the free depth, read with a caliper.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    room_mm : Fraction
        The room left, as measured. [mm]

    Returns
    -------
    Job or None
        None where what governs moves, or is read at several spots. [-]

    References
    ----------
    Arithmetic.
    """
    depth, hung = plan.governing, plan.hung_from
    if len(depth.stations) > 1:
        return None
    free = _wall_mm(plan) + room_mm  # from the roof that the wall hangs from down to what governs
    if depth.moving:
        found = None if hung.roof is None else _with_top(plan, depth.moving, hung.roof.exact_mm - free)
    elif hung.zone.name == depth.zone.name:
        found = _with_gap(plan, depth.zone.name, free)
    elif depth.roof is None or hung.roof is None:
        return None
    else:
        found = _with_gap(plan, depth.zone.name, free + depth.roof.exact_mm - hung.roof.exact_mm)
    if found is None:
        return None
    mark, update = found
    reading = ReadingEntry.model_validate({"name": DRY_FIT, "rule": AS_BUILT, "mark": f"{float(mark):.2f}"})
    rules = [each for each in plan.job.rules if each.name != AS_BUILT]
    readings = [each for each in plan.job.readings if each.name != DRY_FIT]
    update |= {
        "rules": [*rules, RuleEntry(name=AS_BUILT, kind="caliper")],
        "readings": [*readings, reading],
        "progress": ProgressEntry(),
    }
    return plan.job.model_copy(update=update)


def _with_gap(plan: Plan, name: str, free: Fraction) -> tuple[Fraction, dict[str, Any]]:
    """Return the free depth of a zone as it is read, and the zones with it."""
    zones = [
        zone.model_copy(update={"gap": DRY_FIT, "chassis_top": None}) if zone.name == name else zone
        for zone in plan.job.zones
    ]
    return free, {"zones": zones}


def _with_top(plan: Plan, name: str, top: Fraction) -> tuple[Fraction, dict[str, Any]] | None:
    """Return the top of what stands there as it is read, and the obstacles with it; None for what moves."""
    if not any(each.name == name and each.top is not None for each in plan.job.obstacles):
        return None
    obstacles = [each.model_copy(update={"top": DRY_FIT}) if each.name == name else each for each in plan.job.obstacles]
    return top, {"obstacles": obstacles}


def _wall_mm(plan: Plan) -> Fraction:
    """Return the bulkhead's height as it is cut: as measured, where that was entered."""
    planned = plan.chamber_height_mm
    wall = plan.bulkhead
    for place, entry in enumerate(plan.job.progress.measured):
        if wall is not None and entry.what == wall.name:
            return plan.bench.length(entry.value, "progress", "measured", place, "value")
    return planned


def _changed(plan: Plan, solved: Plan) -> Iterator[tuple[str, Fraction, Fraction]]:
    """Yield the parts that are sized otherwise and not measured yet: those that are still uncut."""
    cut = {entry.what for entry in plan.job.progress.measured}
    now: dict[str, Part] = {part.name: part for part in solved.parts}
    for part in plan.parts:
        other = now.get(part.name)
        if part.name not in cut and other is not None and other.cut.cut_mm != part.cut.cut_mm:
            yield part.name, part.cut.cut_mm, other.cut.cut_mm


def with_measured(job: Job, plan: Plan, what: str, value: str, within: str = "") -> Job:
    """Return a job with what was measured of one thing; an empty value takes it out.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    plan : Plan
        Its plan. [-]
    what : str
        One of `measurable`. [-]
    value, within : str
        Its size and how exactly it was measured, with their units. [-]

    Returns
    -------
    Job
        A new job. [-]

    Raises
    ------
    UnknownChoice
        If there is no such thing to measure.
    UnreadableLength, OutOfRange
        If a length can't be read.

    References
    ----------
    None needed.
    """
    from modelmath.job.document import MeasuredEntry
    from modelmath.lengths.parse import parse_length_exact

    names = measurable(plan)
    if what not in names:
        raise UnknownChoice("what was measured", what, names)
    others = [each for each in job.progress.measured if each.what != what]
    if value.strip():
        for text in filter(None, (value, within)):
            parse_length_exact(text, scale=job.scale)
        entry = {"what": what, "value": value.strip(), **({"within": within.strip()} if within.strip() else {})}
        others.append(MeasuredEntry.model_validate(entry))
    return job.model_copy(update={"progress": job.progress.model_copy(update={"measured": others})})
