"""Moving what can be moved: a new job and its plan, or why it can't stand there and where it can."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.choosing.changes import Given
from modelmath.enclosure.fit import Refit
from modelmath.enclosure.marked import at_marks
from modelmath.errors import DoesNotFit, ModelMathError
from modelmath.job.bench.layout import cavity_of
from modelmath.job.handling._reasons import cause_words, elsewhere, less_held, miss_words, sentence
from modelmath.job.handling.handle import Band, CantStand, Handle
from modelmath.job.handling.places import place_words
from modelmath.job.handling.seat import KEY, put_speaker, speaker_of
from modelmath.job.handling.standing import put_standing, standing_of
from modelmath.job.handling.walls import FIELDS, put_wall, walls_of
from modelmath.job.plan import Plan
from modelmath.job.space.as_made import why_not_made
from modelmath.lengths.numbers import Number, as_fraction, check_number

if TYPE_CHECKING:
    from modelmath.job.document import Job

HALF_MM = Fraction(1, 200)  # a place nearer to one that can be than this is said to be the same
NEVER_SKIPPED_MM = 8  # two places looked at one after the other lie no further apart; less than any speaker is long


@dataclass(frozen=True)
class Moved:
    """A job in which something was moved.

    Attributes
    ----------
    job : Job
        The new job. [-]
    plan : Plan
        Its plan. [-]
    said : str
        What was done. [-]
    """

    job: Job
    plan: Plan
    said: str


def handles(plan: Plan) -> tuple[Handle, ...]:
    """Return what can be moved in a plan's side elevation: walls, the speaker, what stands in the shell.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Handle
        None while there is no chamber. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job import plan
    >>> from modelmath.job.storage.files import load_job
    >>> from modelmath.tables import data_folder
    >>> made = plan(load_job(data_folder() / "jobs" / "switcher-ho.toml"))
    >>> [(each.name, float(each.at_mm)) for each in handles(made)]
    [('bulkhead', -74.375), ('rear closure', -13.5625), ('box-type speaker', -54.96875)]
    """
    if plan.chamber is None or plan.enclosure is None:
        return ()
    return (*walls_of(plan), *speaker_of(plan), *standing_of(plan))


def band_of(plan: Plan, handle: Handle) -> Band:
    """Return the places something can be moved through from where it is, and why it can't go further.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    handle : Handle
        What is moved, one of `handles(plan)`. [mm]

    Returns
    -------
    Band
        Its ends hold, and the next place beyond either does not. Places between are looked at no further apart than
        the shortest speaker is long; `moved` looks at each again. [mm]

    References
    ----------
    Bisection.
    """
    if handle.fixed:
        return Band(handle.at_mm, handle.at_mm, handle.fixed, handle.fixed)
    why_not = _tester(plan, handle)
    here = handle.places.index(handle.at_mm)
    ahead, behind = handle.places[here::-1], handle.places[here:]
    low, why_low = _furthest(ahead, why_not)
    high, why_high = _furthest(behind, why_not)
    return Band(low, high, why_low or sentence(handle.ends[0]), why_high or sentence(handle.ends[1]))


def _furthest(places: tuple[Fraction, ...], why_not: Callable[[Fraction], str]) -> tuple[Fraction, str]:
    """Return the furthest place before the first that does not do, and why that does not."""
    count, at, step = len(places), 0, 1
    while at < count - 1:
        far = min(at + step, count - 1)
        while far > at + 1 and abs(places[far] - places[at]) > NEVER_SKIPPED_MM:
            far = at + max(1, (far - at) // 2)
        why = why_not(places[far])
        if why:
            return _between(places, at, far, why_not, why)
        at, step = far, step * 2
    return places[-1], ""


def _between(
    places: tuple[Fraction, ...], does: int, not_: int, why_not: Callable[[Fraction], str], why: str
) -> tuple[Fraction, str]:
    """Return the last place that does between one that does and one that does not, by bisection."""
    while not_ - does > 1:
        middle = (does + not_) // 2
        found = why_not(places[middle])
        does, not_, why = (does, middle, found) if found else (middle, not_, why)
    return places[does], why


def moved(job: Job, plan: Plan, handle: Handle, to_mm: Number) -> Job:
    """Return a job in which something stands elsewhere.

    Parameters
    ----------
    job : Job
        The job of the plan; it stays as it is. [-]
    plan : Plan
        Its plan. [-]
    handle : Handle
        What is moved, one of `handles(plan)`. [mm]
    to_mm : Fraction or float
        Where its face is wanted; it goes to the nearest of its places. [mm]

    Returns
    -------
    Job
        A new job. [-]

    Raises
    ------
    CantStand
        If it can't stand there; says why, and from where to where it can.
    WrongKind, OutOfRange
        If the place is no plain, finite number.

    References
    ----------
    `tried`.

    Examples
    --------
    >>> from modelmath.job import plan
    >>> from modelmath.job.storage.files import load_job
    >>> from modelmath.tables import data_folder
    >>> job = load_job(data_folder() / "jobs" / "switcher-ho.toml")
    >>> made = plan(job)
    >>> moved(job, made, handles(made)[0], -60).chamber.front_end
    '-59.9375 mm'
    """
    return tried(job, plan, handle, to_mm).job


def tried(job: Job, plan: Plan, handle: Handle, to_mm: Number) -> Moved:
    """Move something, and work the plan out anew.

    Parameters
    ----------
    job, plan, handle, to_mm : Job, Plan, Handle, Fraction or float
        As for `moved`. [mm]

    Returns
    -------
    Moved
        The new job with its plan, and what was done. [-]

    Raises
    ------
    CantStand
        If it can't stand there; says why, and where it can.
    WrongKind, OutOfRange
        If the place is no plain, finite number.

    References
    ----------
    The plan of the new job holds all that this one holds.
    """
    check_number(f"the place of the {handle.name}", to_mm)
    wanted = as_fraction(to_mm)
    place = handle.nearest(wanted)
    if handle.fixed:
        raise CantStand(_the(handle), "elsewhere", handle.fixed, "", handle.at_mm)
    beyond = _beyond(handle, wanted)
    if beyond:
        raise _refused(plan, handle, wanted, beyond)
    made, why = _made(job, plan, handle, place)
    if made is None:
        raise _refused(plan, handle, place, why)
    said = " ".join(filter(None, (_said(plan, handle, wanted, place), decoder_moves(plan, made.plan))))
    return replace(made, said=said)


def put_back(job: Job, plan: Plan, handle: Handle) -> Job:
    """Return a job in which something is where the plan chooses; of what stands in the shell, where it was read.

    Parameters
    ----------
    job, plan, handle : Job, Plan, Handle
        As for `moved`. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    if handle.key in FIELDS:
        return put_wall(job, handle, None)
    if handle.key == KEY:
        return put_speaker(job, None)
    return put_standing(job, plan, handle, handle.at_mm if handle.chosen_mm is None else handle.chosen_mm)


def decoder_moves(before: Plan, after: Plan) -> str:
    """Say where the decoder goes, if it goes elsewhere: what is moved may take its room.

    Parameters
    ----------
    before, after : Plan
        The plan before something was moved, and after. [-]

    Returns
    -------
    str
        A sentence; empty where it stays. [-]

    References
    ----------
    None needed.
    """
    one, other = (None if each.chamber is None else each.chamber.pocket for each in (before, after))
    if one is None or other is None or one.start_mm == other.start_mm or after.bench.decoder is None:
        return ""
    where = place_words(as_fraction(other.start_mm), after.mark_name)
    return f"The {after.bench.decoder.name} then lies from {where} on."


def _put(job: Job, plan: Plan, handle: Handle, place: Fraction) -> Job:
    if handle.key in FIELDS:
        return put_wall(job, handle, place)
    if handle.key == KEY:
        return put_speaker(job, place)
    return put_standing(job, plan, handle, place)


def _made(job: Job, plan: Plan, handle: Handle, place: Fraction) -> tuple[Moved | None, str]:
    """Return the job with something moved and its plan; None, and why, where it can't be."""
    try:
        new = _put(job, plan, handle, place)
        made = Plan(new, plan.bench.shared)
        why = less_held(plan, made)
        stands = None if why else _stands(made, handle)
    except ModelMathError as fault:
        return None, cause_words(plan, fault)
    if why:
        return None, why
    return (Moved(new, made, ""), "") if stands == place else (None, elsewhere(handle))


def _stands(plan: Plan, handle: Handle) -> Number | None:
    """Return where in another plan the same thing stands; None where it is not there."""
    chamber = plan.chamber
    if chamber is None:
        return None
    if handle.key == KEY:
        return None if chamber.seat_mm is None else chamber.seat_mm[0]
    if handle.key == FIELDS[0]:
        return chamber.start_mm if chamber.front_wall else None
    if handle.key == FIELDS[1]:
        return chamber.end_mm if chamber.rear_wall else None
    return next((each.at_mm for each in standing_of(plan) if each.key == handle.key), None)


# What does not do, and where it would.


def _tester(plan: Plan, handle: Handle) -> Callable[[Fraction], str]:
    """Return what says why a place does not do, without working out a whole plan where that is not needed."""
    if handle.key in FIELDS:
        return _tester_of_wall(plan, handle)
    if handle.key == KEY:
        return _tester_of_speaker(plan, handle)
    return lambda place: _made(plan.job, plan, handle, place)[1]


def _tester_of_speaker(plan: Plan, handle: Handle) -> Callable[[Fraction], str]:
    enclosure, chamber = plan.enclosure, plan.chamber
    assert enclosure is not None
    assert enclosure.speaker is not None
    assert chamber is not None
    speaker, exact = enclosure.speaker, chamber.cut_from or chamber

    def why_not(place: Fraction) -> str:
        wanted = replace(enclosure, speaker=replace(speaker, place=place))
        try:
            seat = at_marks(exact, wanted, plan.marks).seat_mm
        except DoesNotFit as fault:
            return miss_words(plan.limits, fault)
        return "" if seat is not None and seat[0] == place else elsewhere(handle)

    return why_not


def _tester_of_wall(plan: Plan, handle: Handle) -> Callable[[Fraction], str]:
    cavity, enclosure, refit = cavity_of(plan.bench), plan.enclosure, Refit()
    assert cavity is not None
    assert enclosure is not None

    def why_not(place: Fraction) -> str:
        front = handle.key == "front_end"
        limits = replace(plan.limits, **{"front_at_mm" if front else "rear_at_mm": place})  # type: ignore[arg-type]
        given = Given(cavity, limits, enclosure.speaker, enclosure.decoder)
        fault = why_not_made(plan, given, plan.marks, refit)
        if fault is None:
            return ""
        return miss_words(limits, fault) if isinstance(fault, DoesNotFit) else sentence(str(fault))

    return why_not


def _beyond(handle: Handle, wanted: Fraction) -> str:
    """Say what ends the places of a handle, where a place lies beyond them; half a step off counts as the last."""
    first, last = handle.places[0], handle.places[-1]
    apart = min((b - a for a, b in zip(handle.places, handle.places[1:], strict=False)), default=Fraction(1))
    if wanted < first - apart / 2:
        return sentence(handle.ends[0])
    return sentence(handle.ends[1]) if wanted > last + apart / 2 else ""


def _refused(plan: Plan, handle: Handle, place: Fraction, why: str) -> CantStand:
    """Return why not, with the last place before it that does."""
    last = _towards(plan, handle, place)
    words = place_words(last, plan.mark_name)
    instead = f"That way it can go as far as {words}." if last != handle.at_mm else "It can't go any further that way."
    return CantStand(_the(handle), place_words(place, plan.mark_name), why, instead, last)


def _towards(plan: Plan, handle: Handle, place: Fraction) -> Fraction:
    """Return a place on the way to one that does not do, next to one that does not do either."""
    here, ahead = handle.places.index(handle.at_mm), place < handle.at_mm
    way = handle.places[here::-1] if ahead else handle.places[here:]
    within = tuple(each for each in way if (each >= place if ahead else each <= place)) or way[:1]
    why_not = _tester(plan, handle)
    why = why_not(within[-1]) if len(within) > 1 else ""
    return _between(within, 0, len(within) - 1, why_not, why)[0] if why else within[-1]


def _said(plan: Plan, handle: Handle, wanted: Fraction, place: Fraction) -> str:
    where = place_words(place, plan.mark_name)
    exact = "" if abs(place - wanted) < HALF_MM else f", the nearest of the {handle.steps}"
    said = f"{_the(handle)} stands with the {handle.face} {where}{exact}."
    if handle.along:
        said += f" With it moves {' and '.join(handle.along)}."
    if handle.kind == "obstacle":
        said += " That is a guess, not a reading: read it again before you cut."
    return said


def _the(handle: Handle) -> str:
    return f"The {handle.name}" if not handle.name.casefold().startswith("the ") else handle.name
