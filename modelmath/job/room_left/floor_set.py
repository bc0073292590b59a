"""What sets the height of the chamber's floor: the clearance over what is nearest below, or what fits no lower."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from modelmath.enclosure.fitting.pockets import BESIDE
from modelmath.enclosure.fitting.rooms import Room
from modelmath.enclosure.fitting.search import chamber_in
from modelmath.enclosure.fitting.seats import place_speaker
from modelmath.job.room_left.nearest import nearest_below

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber, Enclosure
    from modelmath.job.plan import Plan

Cause = Literal["", "cone", "width", "decoder", "other"]
PURPOSES: dict[Cause, str] = {
    "": "",
    "cone": "for the speaker's cone to move out",
    "width": "to get to where the shell is wide enough for the speaker",
    "decoder": "for the {} below the floor",
    "other": "for what goes in",
}
LOWER = Fraction(1, 1000)  # how much lower a floor is tried, to see what no longer fits [mm]


@dataclass(frozen=True)
class FloorSet:
    """How much higher the floor lies than the clearance alone asks for, and why.

    Attributes
    ----------
    raised_mm : Fraction
        Before it goes to a mark; 0 where the clearance over what governs sets it. [mm]
    cause : {"", "cone", "width", "decoder", "other"}
        What would find no room any lower; empty where it is 0. [-]
    names : tuple of str
        Name of the decoder; otherwise none. [-]
    """

    raised_mm: Fraction = Fraction(0)
    cause: Cause = ""
    names: tuple[str, ...] = ()

    @property
    def purpose(self) -> str:
        """What that is for, such as ``for the decoder below the floor``; empty where it is 0."""
        return PURPOSES[self.cause].format(*self.names)


def floor_set(plan: Plan) -> FloorSet:
    """Find out what sets the floor's height: lower it by a hair, and see what no longer fits.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    FloorSet
        Of no chamber, or one that the clearance sets, nothing. [mm]

    References
    ----------
    The floors that a chamber is tried with: `modelmath.enclosure.fitting.stretches`.
    """
    enclosure, chamber = plan.enclosure, plan.chamber
    if enclosure is None or chamber is None:
        return FloorSet()
    exact = chamber.cut_from or chamber
    raised = Fraction(exact.floor_mm) - Fraction(nearest_below(chamber).floor_mm)
    if raised <= 0:
        return FloorSet()
    return FloorSet(raised, *_cause(enclosure, exact, min(LOWER, raised / 2)))


def _cause(enclosure: Enclosure, exact: Chamber, lower_mm: Fraction) -> tuple[Cause, tuple[str, ...]]:
    """Return what no longer goes in with the floor a little lower, and its name."""
    ends, walled = (exact.start_mm, exact.end_mm), (exact.front_wall, exact.rear_wall)
    room = Room(exact.bays, ends, walled, exact.floor_mm - lower_mm, enclosure.limits, exact.narrow)
    speaker, decoder, pocket = enclosure.speaker, enclosure.decoder, exact.pocket
    if speaker is not None and place_speaker(room, speaker) is None:
        if place_speaker(room, replace(speaker, travel_mm=0)) is not None:
            return "cone", ()
        return "width", ()
    below = decoder is not None and pocket is not None and pocket.where != BESIDE
    if decoder is not None and below and chamber_in(room, speaker, None, decoder) is None:
        return "decoder", (decoder.name,)
    return "other", ()
