"""What else could be: the bulkhead elsewhere; and where it does not fit, what would make it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from math import floor
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.bodies import PLACES
from modelmath.enclosure.choosing.by_amount import said_of_kept, said_of_speaker
from modelmath.enclosure.choosing.changes import STEPS, Given, Remedy
from modelmath.enclosure.choosing.remedies import cause_of, least_changes
from modelmath.enclosure.choosing.trade import Ends, TradeCurve, trade_curve
from modelmath.enclosure.choosing.trying import Tries
from modelmath.errors import ModelMathError
from modelmath.job.bench.contents import end_play_of
from modelmath.job.bench.layout import cavity_of
from modelmath.job.room_left.sizes import chance_in_words
from modelmath.job.space.as_made import Tried, finer_marks, why_not_made
from modelmath.job.space.left_free import left_free
from modelmath.lengths.rules.marking import mark_text
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

OF_MARK = 4  # how far between two marks a rule can be set; common practice, no source
TOO_FINE = ", with a rule or caliper that can be set so fine"


@dataclass(frozen=True)
class WayOut:
    """A change that makes a job fit that does not.

    Attributes
    ----------
    remedy : Remedy
        The change. [mm]
    chance : float or None
        Of less clearance, the chance of touching with it; None of other changes. [-]
    """

    remedy: Remedy
    chance: float | None = None

    @property
    def in_words(self) -> str:
        """What to do, and for less clearance what it risks."""
        if self.chance is None:
            return self.remedy.sentence
        return f"{self.remedy.sentence} The chance of touching is then {chance_in_words(self.chance)}."


def trade_of(plan: Plan) -> TradeCurve | None:
    """Return volume and height for every place of the bulkhead, the decoder left where it is.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    TradeCurve or None
        None while there is no chamber, or the shell's own ends close it. [mm]

    References
    ----------
    `trade_curve`.
    """
    chamber, enclosure, free = plan.chamber, plan.enclosure, left_free(plan)
    if chamber is None or enclosure is None or free is None or not (chamber.front_wall or chamber.rear_wall):
        return None
    ends: Ends = "front" if chamber.front_wall else "rear"
    return trade_curve(free.cavity, free.limits, enclosure.speaker, ends, free.ends)


def ways_out(plan: Plan) -> tuple[WayOut, ...]:
    """Return the least single changes that make all fit as it is cut and made; none where all fits.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of WayOut
        The changes, the least first, each as it is typed into the document. [mm]

    References
    ----------
    `least_changes`, and more of each where its parts, cut to marks, do not fit yet; the chance of touching is that of
    the plan with that clearance.
    """
    given = _given(plan)
    if given is None:
        return ()
    tries = Tries(given, plan.misfit.short_mm if plan.misfit is not None else 0)
    found = Tried(plan, partial(_typed, plan)).least(least_changes(tries))
    finer = _finer_mark(plan, given) if tries.already else None
    if finer is not None:
        found = tuple(sorted((*found, finer), key=lambda each: (not each.allowed, each.change_mm)))
    return tuple(WayOut(each, _chance_with(plan, each)) for each in found)


def misfit_cause(plan: Plan) -> Remedy | None:
    """Return the reading or obstacle that is the cause of a misfit: the one that need change least.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Remedy or None
        By as much as makes all fit as it is cut. None where all fits, or no single one is the cause. [mm]

    References
    ----------
    `cause_of`.
    """
    given = _given(plan)
    cause = None if given is None else cause_of(given.cavity, given.limits, given.speaker, given.decoder)
    if cause is None:
        return None
    return next(iter(Tried(plan, partial(_typed, plan)).least([cause], 1)), None)


def _given(plan: Plan) -> Given | None:
    """Return what does not fit; None where all does, or an entry for a chamber is missing."""
    cavity = None if plan.misfit is None else cavity_of(plan.bench)
    return None if cavity is None else Given(cavity, plan.limits, plan.bench.speaker, plan.bench.decoder)


def _finer_mark(plan: Plan, given: Given) -> Remedy | None:
    """Return the coarsest finer mark with which all fits, where only what is cut to marks does not."""
    rule, finest = plan.marks.rule, plan.marks.finest
    for marks in finer_marks(plan.marks):
        if why_not_made(plan, given, marks) is None:
            now, needed = Fraction(rule.given_mm(finest)), Fraction(rule.given_mm(marks.finest))
            fine = needed * OF_MARK < rule.graduation_mm
            sentence = (
                f"Cut to a finer mark: to {mark_text(rule, needed)}, not to {mark_text(rule, now)}{TOO_FINE * fine}."
            )
            return Remedy("finer mark", marks.finest, now, needed, now - needed, sentence, after=given)
    return None


# As typed.


def _typed(plan: Plan, remedy: Remedy) -> Remedy | None:
    """Return a change by the name and the size that are typed for it; None where the document would refuse it."""
    if remedy.needed_mm is not None and remedy.needed_mm < _least_of(remedy.kind):
        return None
    if remedy.kind in ("clearance", "end clearance"):
        return _kept_as_typed(plan, remedy)
    if not remedy.kind.startswith("speaker"):
        return remedy
    entry = plan.job.speaker
    assert entry is not None
    what = remedy.kind.removeprefix("speaker ")
    if entry.turned and what in ("length", "width"):
        what = "width" if what == "length" else "length"
        assert remedy.needed_mm is not None
        sentence = said_of_speaker(what, remedy.needed_mm, remedy.change_mm)
        remedy = replace(remedy, kind=f"speaker {what}", sentence=sentence)
    return remedy if _is_accepted(plan, what, remedy) else None


def _least_of(kind: str) -> Fraction:
    """Return the least size that is worth naming: of what is cut that of the thinnest sheet, of what is bought 1 mm."""
    if kind in ("wall thickness", "post thickness"):
        return Fraction(1, 4)
    return Fraction(kind.startswith(("speaker", "decoder")))


def _is_accepted(plan: Plan, what: str, remedy: Remedy) -> bool:
    """Say whether the document takes another speaker: round as it is said to be, and in its place."""
    entry = plan.job.speaker
    assert entry is not None
    changed: dict[str, Any] = {}
    if remedy.needed_mm is None and entry.place not in PLACES:
        turned = "turned" in what
        changed = {"turned": entry.turned != turned}
        if what.startswith("facing "):
            changed["faces"] = what.removeprefix("facing ").removesuffix(", turned")
    elif entry.round and what in ("length", "width") and remedy.needed_mm is not None:
        changed = {what: format_length(remedy.needed_mm, "mm")}
    if not changed:
        return True
    return not plan.bench.faults_with(entry.model_copy(update=changed))


def _kept_as_typed(plan: Plan, remedy: Remedy) -> Remedy | None:
    """Return less clearance without what else takes room there, such as tape or end play, in whole hundredths."""
    assert remedy.now_mm is not None
    assert remedy.needed_mm is not None
    over = remedy.kind == "clearance"
    takes = plan.bench.varying.takes_mm if over else end_play_of(plan.bench)
    now, needed = Fraction(remedy.now_mm) - takes, Fraction(remedy.needed_mm) - takes
    typed = Fraction(floor(needed * STEPS), STEPS)
    if typed < 0:
        return None
    kept = typed + takes
    limits = remedy.after.limits
    limits = replace(limits, clearance_mm=kept) if over else replace(limits, end_clearance_mm=kept)
    after = replace(remedy.after, limits=limits)
    less = now - typed
    sentence = said_of_kept(remedy.kind, typed, less)
    return replace(remedy, now_mm=now, needed_mm=typed, change_mm=less, sentence=sentence, after=after, by=remedy.by)


def _chance_with(plan: Plan, remedy: Remedy) -> float | None:
    """Return the chance of touching with less clearance over the chassis."""
    if remedy.kind != "clearance" or remedy.needed_mm is None:
        return None
    clearance = plan.job.clearance.model_copy(update={"keep": format_length(remedy.needed_mm, "mm")})
    try:
        return plan.keeping(clearance).gap.chance
    except ModelMathError:
        return None
