"""By how much a stepped chamber misses, and why: of all runs of bays, the one that comes nearest to a seat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.misses import no_depth
from modelmath.enclosure.fitting.nearest import Miss, along_words
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.stepped.ground import Ground
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number


@dataclass(frozen=True)
class _Run:
    """Neighbouring bays, by what bounds a seat over them."""

    first: Bay
    last: Bay
    highest: Bay
    lowest_roof: Bay
    narrowest: Bay

    def with_next(self, bay: Bay) -> _Run:
        return _Run(
            self.first,
            bay,
            max(self.highest, bay, key=lambda each: each.floor_mm),
            min(self.lowest_roof, bay, key=lambda each: each.zone.roof_mm),
            min(self.narrowest, bay, key=lambda each: each.zone.width_mm),
        )

    @property
    def length_mm(self) -> Number:
        return self.last.end_mm - self.first.start_mm


def miss_in(ground: Ground | None, limits: Limits, speaker: Speaker | None) -> DoesNotFit:
    """Return the error that tells by how much the nearest place misses.

    Parameters
    ----------
    ground : Ground or None
        The bays, in mm; None where no length is left. [mm]
    limits : Limits
        What is kept. [mm]
    speaker : Speaker or None
        The speaker to hold. [mm]

    Returns
    -------
    DoesNotFit
        Short of depth, width or length in the place that comes nearest, walls, posts and steps left aside: no speaker
        smaller by less in all its sizes fits, and these may ask for more. [mm]

    References
    ----------
    Elementary geometry.
    """
    what = "The chamber" if speaker is None else "The speaker"
    if ground is None:
        cause = "the space given and the room kept for lamps leave no length"
        return DoesNotFit("The chamber", 0.0, cause, "Keep less room at the ends, or give more space.")
    deepest = max(ground.bays, key=lambda bay: bay.depth_mm)
    if deepest.depth_mm <= 0:
        return no_depth(deepest).error("The chamber")
    if speaker is None:
        return _between_walls(ground).error(what)
    misses = (max(_misses(run, limits, speaker), key=lambda miss: miss.short_mm) for run in _runs(ground.bays))
    nearest = min(misses, key=lambda miss: miss.short_mm)
    if nearest.short_mm > 0:
        return nearest.error(what)
    cause = "what is long, wide and deep enough has no level for it between walls, posts and steps"
    return Miss(0, cause, "Try a shorter speaker, thinner walls, or less clearance.").error(what)


def too_low(riser_mm: Number, least_mm: Number, speaker: Speaker | None) -> DoesNotFit:
    """Return the error that tells that it would fit only over a step too low to be cut.

    Parameters
    ----------
    riser_mm, least_mm : Fraction or float
        Height of its lowest riser, and the least. [mm]
    speaker : Speaker or None
        The speaker to hold. [mm]

    Returns
    -------
    DoesNotFit
        Short of the riser's height. [mm]

    References
    ----------
    Arithmetic.
    """
    cause = (
        f"it fits only over a floor with a step {float(riser_mm):.2f} mm high, and none lower than "
        f"{float(least_mm):.2f} mm can be marked and cut"
    )
    what = "The chamber" if speaker is None else "The speaker"
    remedy = "Mark out with a finer rule, keep less clearance, or use a smaller speaker."
    return DoesNotFit(what, float(least_mm - riser_mm), cause, remedy)


def _between_walls(ground: Ground) -> Miss:
    longest = max(ground.bays, key=lambda bay: (bay.depth_mm > 0, bay.length_mm))
    walls = sum(ground.needs_wall((longest.start_mm, longest.end_mm)))
    cause = (
        f"over {longest.zone.name} there are {float(longest.length_mm):.2f} mm of length, and walls take "
        f"{float(walls * ground.wall_mm):.2f} mm"
    )
    short = max(walls * ground.wall_mm - longest.length_mm, 0)
    return Miss(short, cause, "Use thinner walls, or keep less clearance along the length.")


def _runs(bays: tuple[Bay, ...]) -> Iterator[_Run]:
    """Yield every run of neighbouring bays, the longest from each first bay first."""
    for at, first in enumerate(bays):
        run = _Run(first, first, first, first, first)
        found = [run]
        for bay in bays[at + 1 :]:
            run = run.with_next(bay)
            found.append(run)
        yield from reversed(found)


def _misses(run: _Run, limits: Limits, speaker: Speaker) -> Iterator[Miss]:
    low, roof = run.highest.floor_mm + speaker.travel_mm, run.lowest_roof
    depth, needed = roof.zone.roof_mm - low, speaker.behind_mm + limits.over_speaker_mm
    has = f"{float(depth):.2f} mm deep" if depth > 0 else "without depth"
    cause = f"over {roof.zone.name}, with the floor set by {run.highest.cause.words}, the chamber is {has}"
    remedy = "Try a shallower speaker, less clearance, or trimming what stands there."
    yield Miss(needed - depth, f"{cause}, and the speaker takes {float(needed):.2f} mm", remedy)
    width, zone = run.narrowest.zone.width_mm, run.narrowest.zone
    cause = f"over {zone.name} the shell is {float(width):.2f} mm wide inside and the {speaker.name} "
    yield Miss(speaker.width_mm - width, f"{cause}{float(speaker.width_mm):.2f} mm", "Try a narrower speaker.")
    cause = f"{along_words((run.first, run.last))} there are {float(run.length_mm):.2f} mm of length for its "
    yield Miss(
        speaker.length_mm - run.length_mm,
        f"{cause}{float(speaker.length_mm):.2f} mm",
        "Try a shorter speaker, or less clearance along the length.",
    )
