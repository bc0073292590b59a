"""Which of a chamber's air is joined: boxes that reach the roof can part it, across or along the shell.

The air is cut into upright pieces: along the length where a bay, a box or its wall begins or ends, across where a box
there has a side. A piece reaches from the floor, or the highest lid there, up to the roof, as far as the shell is wider
than the piece lies from the middle. Two neighbours are joined where their heights overlap.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from modelmath.enclosure.cavity import Bay, Zone
from modelmath.enclosure.fitting.boxed import area_within
from modelmath.enclosure.fitting.halves import half
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number

Ends = tuple[Number, Number]


@dataclass(frozen=True)
class Piece:
    """An upright piece of a chamber's air, within the shell's section.

    Attributes
    ----------
    along, across, up : tuple of two
        Its ends along the length, its sides, its lower and upper end. [mm]
    zone : Zone
        Whose section it lies in. [mm]
    """

    along: Ends
    across: Ends
    up: Ends
    zone: Zone

    @property
    def volume_mm3(self) -> Number:
        """Its volume within the section. [mm3]"""
        return area_within(self.zone, *self.up, *self.across) * (self.along[1] - self.along[0])


@dataclass(frozen=True)
class Air:
    """What boxes leave of a chamber.

    Attributes
    ----------
    shut : tuple of tuple of two
        Where boxes fill the whole section; of no length where one box ends as another begins, and no air passes. [mm]
    parts : tuple of tuple of Piece
        What is joined within itself, the largest first; none where all is joined, and no more need be known. [mm]
    """

    shut: tuple[Ends, ...] = ()
    parts: tuple[tuple[Piece, ...], ...] = ()


def volume_of(part: Sequence[Piece]) -> Number:
    """Return the volume of one part.

    Parameters
    ----------
    part : sequence of Piece
        Its pieces. [mm]

    Returns
    -------
    Fraction or float
        Volume. [mm3]

    References
    ----------
    Arithmetic.
    """
    return sum((piece.volume_mm3 for piece in part), 0)


def holds(part: Sequence[Piece], place_mm: Number) -> bool:
    """Say whether a part has the air in the middle of the shell, at a place along the length.

    Parameters
    ----------
    part : sequence of Piece
        Its pieces. [mm]
    place_mm : Fraction or float
        The place, behind which no box stands in the middle. [mm]

    Returns
    -------
    bool
        Whether it has. [-]

    References
    ----------
    None needed.
    """
    return any(p.along[0] <= place_mm < p.along[1] and p.across[0] <= 0 <= p.across[1] for p in part)


def air_in(
    bays: Sequence[Bay],
    ends: Ends,
    floor_mm: Number,
    boxed: Sequence[Obstacle],
    wall_mm: Number,
    sections: Sections | None = None,
) -> Air:
    """Return what boxes leave of a chamber, in its parts.

    Parameters
    ----------
    bays : sequence of Bay
        The chamber's bays. [mm]
    ends : tuple of two
        Its inner faces. [mm]
    floor_mm : Fraction or float
        Height of its floor. [mm]
    boxed : sequence of Obstacle
        What is boxed in. [mm]
    wall_mm : Fraction or float
        Thickness of sides and lid. [mm]
    sections : Sections or None
        What is known of the sections already. [mm]

    Returns
    -------
    Air
        Where it is shut off, and its parts. [mm]

    References
    ----------
    The connected parts of a graph; the argument stands at the head of this module.
    """
    known = sections or Sections()
    over = [bay for bay in bays if bay.start_mm < ends[1] and ends[0] < bay.end_mm]
    tall = [each for each in boxed if _may_part(each, over, floor_mm, wall_mm, known)]
    if not tall:
        return Air()
    found = _air(over, ends, floor_mm, tall, wall_mm, known)
    # A lower box parts nothing, and takes from what is parted.
    return _air(over, ends, floor_mm, boxed, wall_mm, known) if found.parts and len(tall) < len(boxed) else found


def _air(
    bays: Sequence[Bay], ends: Ends, floor: Number, boxed: Sequence[Obstacle], wall: Number, sections: Sections
) -> Air:
    shut: list[Ends] = []
    found = _Joined()
    before: list[Piece] = []
    for (start, end), pieces in _slices(bays, ends, floor, boxed, wall, sections):
        passing = list(_across(before, pieces, floor, sections))
        if before and pieces and not passing:
            shut.append((start, start))
        if not pieces:
            shut.append((start, end))
        found.add(pieces, (*passing, *_beside(pieces)))
        before = pieces
    parts = found.parts()
    return Air(tuple(shut), tuple(sorted(parts, key=volume_of, reverse=True)) if len(parts) > 1 else ())


class _Joined:
    """Pieces, and which of them are joined: each points to another of its part, the last to itself."""

    def __init__(self) -> None:
        self._pieces: list[Piece] = []
        self._to: dict[int, int] = {}

    def add(self, pieces: Sequence[Piece], passing: Sequence[tuple[Piece, Piece]]) -> None:
        self._pieces += pieces
        self._to.update((id(piece), id(piece)) for piece in pieces)
        for one, other in passing:
            self._to[self._last(id(one))] = self._last(id(other))

    def _last(self, at: int) -> int:
        while self._to[at] != at:
            self._to[at] = at = self._to[self._to[at]]
        return at

    def parts(self) -> list[tuple[Piece, ...]]:
        found: dict[int, list[Piece]] = {}
        for piece in self._pieces:
            found.setdefault(self._last(id(piece)), []).append(piece)
        return [tuple(each) for each in found.values()]


def _may_part(obstacle: Obstacle, bays: Sequence[Bay], floor: Number, wall: Number, sections: Sections) -> bool:
    """Whether a box may leave no way over it: up to a roof that it meets, or to where a section is no wider than it.

    Where a section reaches further out than the box from the floor up to just over its lid, a way through the box can
    be raised to go over it.
    """
    start, end, lid = obstacle.start_mm - wall, obstacle.end_mm + wall, obstacle.top_mm + wall
    wide = 2 * (abs(obstacle.centre_mm) + obstacle.half_width_mm + wall)
    meeting = {id(bay.zone): bay.zone for bay in bays if bay.start_mm <= end and start <= bay.end_mm}.values()
    return any(
        lid >= zone.roof_mm
        or (
            zone.profile is not None
            and (sections.width_over(zone, floor, lid) <= wide or sections.width_over(zone, lid, lid) <= wide)
        )
        for zone in meeting
    )


def _slices(
    bays: Sequence[Bay], ends: Ends, floor: Number, boxed: Sequence[Obstacle], wall: Number, sections: Sections
) -> Iterator[tuple[Ends, list[Piece]]]:
    """Yield the pieces of air, slice by slice along the length."""
    boxes = [
        (
            (o.start_mm - wall, o.end_mm + wall),
            (o.centre_mm - o.half_width_mm - wall, o.centre_mm + o.half_width_mm + wall),
            o.top_mm + wall,
        )
        for o in boxed
    ]
    places = {each for along, _, _ in boxes for each in along}
    for bay in bays:
        low, high, widest = max(bay.start_mm, ends[0]), min(bay.end_mm, ends[1]), half(bay.zone.width_mm)
        for start, end in pairwise(sorted({low, high, *(each for each in places if low < each < high)})):
            here = [(across, lid) for along, across, lid in boxes if along[0] < end and start < along[1]]
            sides = {each for across, _ in here for each in across if -widest < each < widest}
            pieces = []
            for left, right in pairwise(sorted({-widest, widest, *sides})):
                lid = max([floor, *(lid for across, lid in here if across[0] < right and left < across[1])])
                aside = max(left, -right, 0)
                up = sections.beyond(bay.zone, floor, lid, aside)
                pieces += [Piece((start, end), (left, right), each, bay.zone) for each in up]
            yield (start, end), pieces


def _overlap(one: Ends, other: Ends) -> bool:
    return max(one[0], other[0]) < min(one[1], other[1])


def _across(
    before: Sequence[Piece], pieces: Sequence[Piece], floor: Number, sections: Sections
) -> Iterator[tuple[Piece, Piece]]:
    """Yield the pieces of neighbouring slices between which air passes."""
    for one in before:
        for other in pieces:
            if _overlap(one.across, other.across) and _overlap(one.up, other.up) and _meet(one, other, floor, sections):
                yield one, other


def _meet(one: Piece, other: Piece, floor: Number, sections: Sections) -> bool:
    """Whether both sections reach out to where the two lie side by side, at some height that they share."""
    left, right = max(one.across[0], other.across[0]), min(one.across[1], other.across[1])
    aside, low = max(left, -right, 0), max(one.up[0], other.up[0])
    shared = (low, min(one.up[1], other.up[1]))
    firsts = [each for each in sections.beyond(one.zone, floor, low, aside) if _overlap(each, shared)]
    if one.zone is other.zone:
        return bool(firsts)
    seconds = [each for each in sections.beyond(other.zone, floor, low, aside) if _overlap(each, shared)]
    return any(_overlap(first, second) for first in firsts for second in seconds)


def _beside(pieces: Sequence[Piece]) -> Iterator[tuple[Piece, Piece]]:
    """Yield the pieces side by side in one slice between which air passes."""
    there: dict[Number, list[Piece]] = {}
    for one in pieces:
        there.setdefault(one.across[1], []).append(one)
    for other in pieces:
        for one in there.get(other.across[0], ()):
            if _overlap(one.up, other.up):
                yield one, other
