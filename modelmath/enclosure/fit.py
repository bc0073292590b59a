"""The largest chamber with one flat floor, exactly.

For a given floor height the volume only grows with the stretch taken in, so the best chamber is one of the
longest stretches whose bays all lie below the floor that its highest bay sets and whose roof stands above it.
There are at most as many as bays, for each place the decoder can be pushed to; all are looked at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity, Number, volume_mm3
from modelmath.enclosure.rooms import Shortage, Stretch, clip, place_speaker, spaces
from modelmath.errors import DoesNotFit, OutOfRange

if TYPE_CHECKING:
    from modelmath.clearance import Marks
    from modelmath.enclosure.parts import Part


@dataclass(frozen=True)
class Limits:
    """What must be kept, beside the speaker.

    Attributes
    ----------
    clearance_mm : Fraction or float
        Least gap between what the shell carries and the chassis below. [mm]
    end_clearance_mm : Fraction or float
        The same along the length, to a step of the chassis. [mm]
    wall_mm : Fraction or float
        Thickness of a bulkhead or closure. [mm]
    post_mm : Fraction or float
        Room along the length that the corner posts behind a bulkhead take from the speaker. [mm]
    over_speaker_mm : Fraction or float
        Least gap between the speaker's back and the roof. [mm]
    front_room_mm, rear_room_mm : Fraction or float
        Room kept at either end of the shell, for lamps. [mm]
    """

    clearance_mm: Number
    end_clearance_mm: Number = 0
    wall_mm: Number = 1
    post_mm: Number = 0
    over_speaker_mm: Number = 0
    front_room_mm: Number = 0
    rear_room_mm: Number = 0

    def __post_init__(self) -> None:
        for name, value in vars(self).items():
            if not 0 <= value < float("inf"):
                words = name.removesuffix("_mm").replace("_", " ")
                raise OutOfRange(words, f"{float(value):g} mm", "0 or more", "Write 0 mm for none.")


@dataclass(frozen=True)
class Chamber:
    """A sealed space under the roof, between two ends, above one flat floor.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Outer faces of its end walls, from the fore-aft mark. [mm]
    inner_start_mm, inner_end_mm : Fraction or float
        Inner faces: the same as the outer ones where the shell's own end closes it. [mm]
    floor_mm : Fraction or float
        Lowest height its floor may have, above the seat. [mm]
    volume_mm3 : Fraction or float
        Sum over its bays of width x depth x length, between the inner faces. [mm3]
    bays : tuple of Bay
        The bays it takes in. [-]
    governing : Bay
        The bay whose chassis top sets the floor. [-]
    seat_mm : tuple of two, or None
        Front and rear edge of the speaker's flange; None without a speaker. [mm]
    decoder_mm : tuple of two, or None
        Front and rear edge of the decoder's room; None without one. [mm]
    """

    start_mm: Number
    end_mm: Number
    inner_start_mm: Number
    inner_end_mm: Number
    floor_mm: Number
    volume_mm3: Number
    bays: tuple[Bay, ...]
    governing: Bay
    seat_mm: Stretch | None
    decoder_mm: Stretch | None

    @property
    def front_wall(self) -> bool:
        """Whether the front end needs a wall of its own."""
        return self.inner_start_mm != self.start_mm

    @property
    def rear_wall(self) -> bool:
        """Whether the rear end needs a wall of its own."""
        return self.inner_end_mm != self.end_mm


@dataclass(frozen=True)
class Enclosure:
    """The best chamber of a cavity, and the next best.

    Attributes
    ----------
    cavity : Cavity
        What it was fitted into. [-]
    limits : Limits
        What was kept. [-]
    speaker : Speaker or None
        The speaker it was fitted for. [-]
    chamber : Chamber
        The largest by volume. [-]
    runner_up : Chamber or None
        The next largest with another floor or another place for the decoder. [-]
    looked_at : int
        How many chambers were compared. [-]
    """

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    chamber: Chamber
    runner_up: Chamber | None
    looked_at: int

    def parts(self, marks: Marks) -> tuple[Part, ...]:
        """Size every part of the chamber.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        tuple of Part
            Walls and posts, supports, fillers, floor plates. [mm]

        Raises
        ------
        DoesNotFit
            If a part is left no height.

        References
        ----------
        Arithmetic; each part's own function says which.
        """
        from modelmath.enclosure.parts import build_parts

        return build_parts(self, marks)

    def as_cut(self, marks: Marks) -> Chamber:
        """Return the chamber with its floor and walls moved in to the marks of the rule.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        Chamber
            The chamber that the parts make. [mm]

        Raises
        ------
        DoesNotFit
            If no mark is low enough for a wall.

        References
        ----------
        Arithmetic.
        """
        from modelmath.enclosure.marked import at_marks

        return at_marks(self, marks)


def _stretches(bays: Sequence[Bay]) -> Iterator[tuple[Bay, ...]]:
    """Yield each longest stretch that can have the floor of its own highest bay: no step above it, no roof below it."""
    seen: set[Stretch] = set()
    for middle, bay in enumerate(bays):
        floor = bay.floor_mm
        fits = [each.floor_mm <= floor < each.zone.roof_mm for each in bays]
        if not fits[middle]:
            continue
        first = last = middle
        while first > 0 and fits[first - 1]:
            first -= 1
        while last < len(bays) - 1 and fits[last + 1]:
            last += 1
        ends = (bays[first].start_mm, bays[last].end_mm)
        if ends not in seen:
            seen.add(ends)
            yield tuple(bays[first : last + 1])


def _note_nothing_left(space: Sequence[Bay], speaker: Speaker | None, limits: Limits, miss: Shortage) -> None:
    """Note a miss where the decoder and the room at the ends leave the chamber no length, or no depth."""
    if not space:
        short = limits.wall_mm if speaker is None else speaker.length_mm
        miss.add(short, "the decoder and the room kept at the ends take all the length there is")
        return
    best = max(space, key=lambda bay: bay.depth_mm)
    if best.depth_mm <= 0:
        wanted = 0 if speaker is None else speaker.depth_mm + limits.over_speaker_mm
        miss.add(wanted - best.depth_mm, f"beside the decoder, over {best.cause.name}, no depth is left")


def _chamber(
    bays: tuple[Bay, ...],
    cavity: Cavity,
    speaker: Speaker | None,
    limits: Limits,
    decoder: Stretch | None,
    miss: Shortage,
) -> Chamber | None:
    start, end = bays[0].start_mm, bays[-1].end_mm
    front_wall = 0 if start == cavity.start_mm and cavity.front_closed else limits.wall_mm
    rear_wall = 0 if end == cavity.end_mm and cavity.rear_closed else limits.wall_mm
    inner_start, inner_end = start + front_wall, end - rear_wall
    governing = max(bays, key=lambda bay: bay.floor_mm)
    floor = governing.floor_mm
    if inner_end <= inner_start:
        miss.add(inner_start - inner_end, f"{governing.zone.name} is shorter than the walls at its ends")
        return None
    seat = None
    if speaker is not None:
        for_speaker = (
            inner_start + (limits.post_mm if front_wall else 0),
            inner_end - (limits.post_mm if rear_wall else 0),
        )
        if for_speaker[1] <= for_speaker[0]:
            miss.add(
                speaker.length_mm + for_speaker[0] - for_speaker[1],
                f"{governing.zone.name} is too short for posts and speaker",
            )
            return None
        seat = place_speaker(bays, for_speaker, floor, speaker, limits, miss)
        if seat is None:
            return None
    volume = volume_mm3(bays, inner_start, inner_end, floor)
    return Chamber(start, end, inner_start, inner_end, floor, volume, bays, governing, seat, decoder)


def fit_enclosure(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> Enclosure:
    """Find the largest chamber with one flat floor, by volume, that holds the speaker and leaves what must be left.

    Parameters
    ----------
    cavity : Cavity
        The shell's zones over the chassis. [mm]
    limits : Limits
        Clearances, wall thickness, room at the ends. [mm]
    speaker : Speaker or None
        Sits in the chamber, facing down, where it is deep and wide enough. [mm]
    decoder : Box or None
        Finds room outside the chamber. [mm]

    Returns
    -------
    Enclosure
        The best chamber, proven best by looking at all that can be, and the next best. [mm]

    Raises
    ------
    DoesNotFit
        If no chamber holds the speaker; says by how much the nearest misses and why.

    References
    ----------
    Elementary geometry; the argument that the candidates are complete stands at the head of this module.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> fit_enclosure(cavity, Limits(clearance_mm=1)).chamber.volume_mm3  # 60 x 10 x 5 beats 19 x 10 x 9
    3000
    """
    bays = clip(
        cavity.bays(limits.clearance_mm, limits.end_clearance_mm),
        cavity.start_mm + limits.front_room_mm,
        cavity.end_mm - limits.rear_room_mm,
    )
    if not bays:
        kept = limits.front_room_mm + limits.rear_room_mm
        raise DoesNotFit(
            "The chamber",
            float(kept - (cavity.end_mm - cavity.start_mm)),
            f"the room kept for lamps, {float(kept):.2f} mm, is all the length there is",
            "Keep less room at the ends.",
        )
    if all(bay.depth_mm <= 0 for bay in bays):
        best = max(bays, key=lambda bay: bay.depth_mm)
        cause = f"over {best.cause.name}, the deepest place, nothing is left between roof and chassis"
        raise DoesNotFit("The chamber", float(-best.depth_mm), cause, "Keep less clearance, or trim what stands there.")
    miss = Shortage()
    found: dict[tuple[Number, Number, Number], Chamber] = {}
    for space, place in spaces(bays, decoder):
        _note_nothing_left(space, speaker, limits, miss)
        for stretch in _stretches(space):
            chamber = _chamber(stretch, cavity, speaker, limits, place, miss)
            if chamber is not None:
                found.setdefault((chamber.start_mm, chamber.end_mm, chamber.floor_mm), chamber)
    ranked = sorted(found.values(), key=lambda each: (-each.volume_mm3, each.start_mm))
    if not ranked:
        raise miss.error("The speaker" if speaker else "The chamber")
    return Enclosure(cavity, limits, speaker, ranked[0], ranked[1] if len(ranked) > 1 else None, len(ranked))
