"""The speaker: where its flange may be put in the chamber."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.job.document import SpeakerEntry
from modelmath.job.handling.handle import Handle
from modelmath.job.handling.places import length_text, on_marks, with_place
from modelmath.lengths.numbers import as_fraction

if TYPE_CHECKING:
    from modelmath.job.document import Job
    from modelmath.job.plan import Plan

KEY = "speaker"
USUAL = SpeakerEntry.model_fields["place"].default


def speaker_of(plan: Plan) -> Iterator[Handle]:
    """Yield the speaker, where the chamber holds it.

    Parameters
    ----------
    plan : Plan
        The plan, which has a chamber. [-]

    Yields
    ------
    Handle
        By the front edge of its flange. [mm]

    References
    ----------
    None needed.
    """
    chamber, enclosure, entry = plan.chamber, plan.enclosure, plan.job.speaker
    if chamber is None or enclosure is None or enclosure.speaker is None or chamber.seat_mm is None or entry is None:
        return
    speaker = enclosure.speaker
    at, end = as_fraction(chamber.seat_mm[0]), as_fraction(chamber.seat_mm[1])
    posts = as_fraction(plan.limits.post_mm)
    low = as_fraction(chamber.inner_start_mm) + (posts if chamber.front_wall else 0)
    high = as_fraction(chamber.inner_end_mm) - (posts if chamber.rear_wall else 0) - (end - at)
    places = on_marks(plan.marks, low, high)
    for each in (at, low, high):
        places = with_place(places, each)
    ends = (_end("front", chamber.front_wall), _end("rear", chamber.rear_wall))
    steps = (
        f"marks of {plan.marks.finest} on the {plan.marks.rule.name}, {float(plan.marks.apart_mm):.2f} mm apart, "
        "and either end of its way"
    )
    fixed = ""
    if speaker.faces in ("front", "rear"):
        places = [at]
        fixed = f"It faces the {speaker.faces}, so it stands at the wall there: move that wall instead."
    elif high <= low:
        fixed = "The chamber is just as long as it needs: there is no room to move it. Move a wall first."
    moved = entry.place != USUAL
    yield Handle(
        KEY, "speaker", entry.name, "front edge of its flange", at, Fraction(0), end - at,
        tuple(places), steps, ends, moved=moved, fixed=fixed,
    )  # fmt: skip


def _end(end: str, wall: bool) -> str:
    return f"the {'posts of the wall' if wall else 'end of the shell'} at the {end} {'stand' if wall else 'is'} there."


def put_speaker(job: Job, place_mm: Fraction | None) -> Job:
    """Return a job whose speaker is wanted at a place.

    Parameters
    ----------
    job : Job
        The job, which has a speaker. [-]
    place_mm : Fraction or None
        The front edge of its flange; None for the middle. [mm]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    assert job.speaker is not None
    place = USUAL if place_mm is None else length_text(place_mm)
    return job.model_copy(update={"speaker": job.speaker.model_copy(update={"place": place})})
