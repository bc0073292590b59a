"""What stands in the shell, moved in the drawing: the marks that its ends were read at move by the same amount."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor, lcm
from typing import TYPE_CHECKING, Any

from modelmath.job.handling.handle import Handle
from modelmath.job.handling.places import number_text
from modelmath.lengths.numbers import as_fraction
from modelmath.lengths.rules.marking import mark_text

if TYPE_CHECKING:
    from modelmath.job.bench.moving import Moving
    from modelmath.job.document import Job, ObstacleEntry, ReadingEntry
    from modelmath.job.plan import Plan
    from modelmath.lengths.rules import Rule

PREFIX = "obstacle: "
ENDS = ("start", "end")
FRONT, REAR = "front end of the shell is", "rear end of the shell is"
LEAST_SEEN_MM = Fraction(1, 2)  # of it must stay in the shell, so that it can be got hold of again


def standing_of(plan: Plan) -> Iterator[Handle]:
    """Yield what stands in the shell.

    Parameters
    ----------
    plan : Plan
        The plan, whose places along the length are known. [-]

    Yields
    ------
    Handle
        Each by its front end. [mm]

    References
    ----------
    None needed.
    """
    for moving in plan.bench.moving:
        if moving.part is None:
            yield _standing(plan, moving)


def _standing(plan: Plan, moving: Moving) -> Handle:
    entry: Any = moving.entry
    bench = plan.bench
    start, end = (_place(plan, getattr(entry, field)) for field in ENDS)
    shown, true = _step(plan, entry)
    front, rear = (as_fraction(each.exact_mm) for each in (bench.ends.edges[0], bench.ends.edges[-1]))  # type: ignore[union-attr]
    least = ceil((front + LEAST_SEEN_MM - end) / true), _least_on_rule(plan, entry, shown)
    most = floor((rear - LEAST_SEEN_MM - start) / true), _most_on_rule(plan, entry, shown)
    low, high = min(max(least), 0), max(min(most), 0)
    ends = (
        f"the {'rule that it was read with begins' if least[1] > least[0] else FRONT} there.",
        f"the {'rule that it was read with ends' if most[1] < most[0] else REAR} there.",
    )
    rule = bench.readings[entry.start].rule
    steps = f"steps of {mark_text(rule, shown)}, so that both its ends stay on marks"
    marks = bench.entry(entry.start)
    chosen = start
    if marks.moved_from is not None:
        chosen += (_given(rule, marks.moved_from) - _given(rule, marks.mark)) * (1 + as_fraction(rule.scale_error))
    return Handle(
        PREFIX + entry.name, "obstacle", entry.name, "front end", start, Fraction(0), end - start,
        tuple(start + number * true for number in range(low, high + 1)), steps, ends, chosen,
        marks.moved_from is not None, _along(plan.job, entry), _fixed(plan.job, entry),
    )  # fmt: skip


def _place(plan: Plan, name: str) -> Fraction:
    """Return where a reading along the length lies."""
    ends = plan.bench.ends
    assert ends is not None
    half = plan.bench.entry(name).on or "chassis"
    return Fraction((plan.bench.reading(name).measured - ends.origin[half]).exact_mm)


def _step(plan: Plan, entry: ObstacleEntry) -> tuple[Fraction, Fraction]:
    """Return the least amount that keeps both ends on marks, as the rule of its start shows it, and as it truly is."""
    rules = [plan.bench.readings[getattr(entry, field)].rule for field in ENDS]
    one, other = (Fraction(rule.graduation_mm) for rule in rules)
    shown = Fraction(lcm(one.numerator * other.denominator, other.numerator * one.denominator), 1) / (
        one.denominator * other.denominator
    )
    return shown, shown * (1 + as_fraction(rules[0].scale_error))


def _given(rule: Rule, mark: str) -> Fraction:
    return Fraction(rule.given_mm(mark))


def _marks(plan: Plan, entry: ObstacleEntry) -> Iterator[tuple[Rule, Fraction]]:
    """Yield every mark that moves along, with its rule."""
    for name in dict.fromkeys(getattr(entry, field) for field in ENDS):
        rule, reading = plan.bench.readings[name].rule, plan.bench.entry(name)
        yield from ((rule, _given(rule, mark)) for mark in (reading.mark, *reading.again))


def _least_on_rule(plan: Plan, entry: ObstacleEntry, step: Fraction) -> int:
    return max(ceil((Fraction(rule.begins_mm) - mark) / step) for rule, mark in _marks(plan, entry))


def _most_on_rule(plan: Plan, entry: ObstacleEntry, step: Fraction) -> int:
    room = [
        floor((Fraction(rule.length_mm) - mark) / step)
        for rule, mark in _marks(plan, entry)
        if rule.length_mm is not None
    ]
    return min(room, default=10**9)


def _along(job: Job, entry: ObstacleEntry) -> tuple[str, ...]:
    """Return what else goes by the readings of its ends, and so moves along."""
    names = {getattr(entry, field) for field in ENDS}
    found = [f"where {zone.name} ends" for zone in job.zones if zone.end in names]
    for other in job.obstacles:
        if other.name != entry.name:
            found += [f"where {other.name} {field}s" for field in ENDS if getattr(other, field) in names]
    found += [f"the {each.name}" for each in job.moving if {each.at, each.to} & names]
    return tuple(found)


def _fixed(job: Job, entry: ObstacleEntry) -> str:
    """Say why it can't be moved: an end of it is what places along the length count from."""
    length = job.length
    if length is None:
        return "Its place along the length is not known yet."
    counted = {length.shell_inside, length.mark_on_shell, length.mark_on_chassis}
    shared = [name for name in (entry.start, entry.end) if name in counted]
    if not shared:
        return ""
    return (
        f"All places along the length count from the reading {shared[0]!r}, which is one of its ends too: give it a "
        "reading of its own first."
    )


def put_standing(job: Job, plan: Plan, handle: Handle, place_mm: Fraction) -> Job:
    """Return a job in which something stands elsewhere, its readings marked as moved.

    Parameters
    ----------
    job : Job
        The job of the plan. [-]
    plan : Plan
        The plan. [-]
    handle : Handle
        What stands there. [-]
    place_mm : Fraction
        Its front end, one of the handle's places. [mm]

    Returns
    -------
    Job
        A new job; where it is back at the mark it was read at, that reading counts as read again. [-]

    References
    ----------
    None needed.
    """
    entry = next(each for each in job.obstacles if PREFIX + each.name == handle.key)
    shown, true = _step(plan, entry)
    by = (place_mm - handle.at_mm) / true * shown
    names = {entry.start, entry.end}
    readings = [
        _shifted(each, plan.bench.readings[each.name].rule, by) if each.name in names else each for each in job.readings
    ]
    return job.model_copy(update={"readings": readings})


def _shifted(reading: ReadingEntry, rule: Rule, by: Fraction) -> ReadingEntry:
    """Return a reading with all its marks moved; it remembers the first of them as it was read."""
    if not by:
        return reading
    mark = _mark(rule, _given(rule, reading.mark) + by)
    was = reading.moved_from or reading.mark
    again = [_mark(rule, _given(rule, each) + by) for each in reading.again]
    if _given(rule, mark) == _given(rule, was):
        return reading.model_copy(update={"mark": was, "again": again, "moved_from": None})
    return reading.model_copy(update={"mark": mark, "again": again, "moved_from": was})


def _mark(rule: Rule, shown: Fraction) -> str:
    """Write a mark in the rule's own unit, exactly."""
    return number_text(shown / Fraction(rule.unit_mm), fractions=rule.unit != "mm")
