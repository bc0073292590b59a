"""How a speaker sounds out: the gap before it times the way round its opening, against its cone."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import TYPE_CHECKING

from modelmath.enclosure.fitting.pockets import BESIDE
from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.fitting.seats import plate_mm
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

CLEARANCE = "clearance"
USUAL_RIM = Fraction(1, 10)  # of the lesser side, where the rim was not measured; common practice, no source


@dataclass(frozen=True)
class Sounding:
    """The way out for the sound of a speaker that faces down, or something at an end.

    Attributes
    ----------
    gap_mm : Fraction
        Least room between its face, or the wall it sounds through, and what lies before that. [mm]
    where : str
        Where that is, such as ``over motor``. [-]
    more : str
        What of makes the gap larger. [-]
    perimeter_mm : float
        Way round the opening of its cone. [mm]
    cone_mm2 : float
        Area of the cone. [mm2]
    rim_known : bool
        Whether the rim round the cone was measured. [-]
    """

    gap_mm: Fraction
    where: str
    more: str
    perimeter_mm: float
    cone_mm2: float
    rim_known: bool

    @property
    def way_out_mm2(self) -> float:
        """Gap times perimeter. [mm2]"""
        return float(self.gap_mm) * self.perimeter_mm

    @property
    def share(self) -> float:
        """That way out over the cone's area. [-]"""
        return self.way_out_mm2 / self.cone_mm2

    @property
    def gap_for_whole_mm(self) -> float:
        """The gap at which the way out is as large as the cone. [mm]"""
        return self.cone_mm2 / self.perimeter_mm

    @property
    def short(self) -> str:
        """That share in a few words."""
        kept = "with this clearance" if self.more == CLEARANCE else "with the room kept before it"
        return f"{100 * self.share:.0f} % of the speaker's cone, {kept}"

    @property
    def in_words(self) -> str:
        """What that means for the clearance, in a sentence or two."""
        gap, wide = format_length(self.gap_mm, "mm"), format_length(self.gap_for_whole_mm, "mm")
        known = "" if self.rim_known else "; its rim was not measured and is taken as a tenth of its lesser side"
        said = (
            f"The speaker sounds out through a gap of {gap} {self.where}: times the {self.perimeter_mm:.0f} mm "
            f"round its cone that is {self.way_out_mm2:.0f} mm2, {100 * self.share:.0f} % of the cone's "
            f"{self.cone_mm2:.0f} mm2{known}."
        )
        if self.share >= 1:
            return said
        return f"{said} A gap of {wide} would be as large as the cone: more {self.more} there lets more sound out."


def sounding_of(plan: Plan) -> Sounding | None:
    """Work out the way out for the sound.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Sounding or None
        None where there is no chamber, or its speaker faces up or an end with nothing before it. [mm, mm2]

    Raises
    ------
    JobError
        If the rim can't be read.

    References
    ----------
    Continuity: what the cone moves has to pass the gap; elementary geometry. That a way out as large as the cone does
    no harm: common practice, no source.
    """
    chamber, speaker, entry = plan.chamber, plan.bench.speaker, plan.job.speaker
    if chamber is None or speaker is None or entry is None or chamber.seat_mm is None:
        return None
    before = _least_gap(plan) if speaker.faces == "down" else _to_the_end(plan)
    if before is None:
        return None
    length, width = Fraction(speaker.length_mm), Fraction(speaker.width_mm)
    rim = min(length, width) * USUAL_RIM
    if entry.rim is not None:
        rim = plan.bench.length(entry.rim, "speaker", "rim")
        if 2 * rim >= min(length, width):
            given = f"{float(rim):.2f} mm wide"
            limit = f"less than half of its lesser side, {float(min(length, width) / 2):.2f} mm"
            raise plan.bench.located(("speaker", "rim"), OutOfRange("the rim", given, limit, "Measure it again."))
    along, across = float(length - 2 * rim), float(width - 2 * rim)
    round_way, area = 2 * (along + across), along * across
    if entry.round:
        mean = (along + across) / 2
        round_way, area = pi * mean, pi * along * across / 4
    return Sounding(*before, round_way, area, entry.rim is not None)


def _least_gap(plan: Plan) -> tuple[Fraction, str, str]:
    """Return the least room below the seat, over what, and what of makes it larger."""
    chamber = plan.chamber
    assert chamber is not None
    assert chamber.seat_mm is not None
    start, end = chamber.seat_mm
    found = [
        (Fraction(chamber.floor_mm) - Fraction(bay.zone.top_mm), bay.zone.name)
        for bay in bays_over(chamber.bays, start, end)
    ]
    for each in plan.bench.moving:
        box = each.swept
        if box.start_mm < end and start < box.end_mm and box.top_mm < chamber.floor_mm:
            found.append((Fraction(chamber.floor_mm) - Fraction(box.top_mm), each.entry.name))
    gap, below = min(found)
    return gap, f"over {below}", CLEARANCE


def _to_the_end(plan: Plan) -> tuple[Fraction, str, str] | None:
    """Return the room between a speaker's wall and the nearest that it faces; None where nothing stands there.

    A step of the chassis, or what moves there, counts once it rises above the lower edge of the speaker.
    """
    chamber, speaker, enclosure = plan.chamber, plan.bench.speaker, plan.enclosure
    assert chamber is not None
    assert speaker is not None
    if enclosure is None or speaker.faces == "up":
        return None
    cavity, pocket, front = enclosure.cavity, chamber.pocket, speaker.faces == "front"
    lower = Fraction(chamber.floor_mm) + Fraction(plate_mm(speaker, plan.limits))
    wall = Fraction(chamber.start_mm if front else chamber.end_mm)

    def ahead(start: Number, end: Number) -> Fraction:
        return wall - Fraction(end) if front else Fraction(start) - wall

    found = [(ahead(z.start_mm, z.end_mm), f"before {z.name}") for z in cavity.zones if z.top_mm > lower]
    found += [(ahead(o.start_mm, o.end_mm), f"before {o.words}") for o in cavity.obstacles if o.top_mm > lower]
    if pocket is not None and pocket.where == BESIDE and plan.bench.decoder is not None:
        air = Fraction(plan.bench.decoder.air_mm)
        found.append((ahead(pocket.start_mm + air, pocket.end_mm - air), f"before the {plan.bench.decoder.name}"))
    if cavity.closed_at(speaker.faces):
        closed = cavity.start_mm if front else cavity.end_mm
        found.append((ahead(closed, closed), f"before the shell's closed {speaker.faces} end"))
    before = [each for each in found if each[0] >= 0]
    return (*min(before), "room") if before else None
