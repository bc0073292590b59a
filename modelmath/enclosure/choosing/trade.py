"""What it costs to stand the bulkhead elsewhere: volume and height of the largest chamber at every place of it.

Between neighbouring places at which something changes, each chamber's volume is a straight line: the curve is the
highest of them, exactly. A wall meets a change where either of its faces, or what it leaves of the length for the
speaker, meets an edge of the cavity.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from fractions import Fraction
from functools import cached_property
from typing import Any, Literal

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay, Cavity
from modelmath.enclosure.choosing.by_fit import pieces_by_fit
from modelmath.enclosure.choosing.envelope import joined, largest
from modelmath.enclosure.choosing.pieces import Piece, Under, WallsTo, chambers, floors_of
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.sections import Profile
from modelmath.errors import DoesNotFit, OutOfRange, UnknownChoice
from modelmath.lengths.numbers import Number, check_number

Ends = Literal["front", "rear"]
ENDS: tuple[Ends, ...] = ("front", "rear")


@dataclass(frozen=True)
class TradePoint:
    """The largest chamber with its bulkhead at one place.

    Attributes
    ----------
    place_mm : Fraction or float
        Outer face of the bulkhead, from the fore-aft mark. [mm]
    volume_mm3 : Fraction or float
        Gross volume. [mm3]
    height_mm : Fraction or float
        From the floor to the roof at that place. [mm]
    floor_mm : Fraction or float
        Height of the floor above the seat. [mm]
    far_mm : Fraction or float
        Outer face of the chamber's other end. [mm]
    holds_speaker : bool
        Whether it holds the speaker; True without one. [-]
    cause : str
        What sets the floor: the zone whose chassis top does, or what stands or moves there. [-]
    """

    place_mm: Number
    volume_mm3: Number
    height_mm: Number
    floor_mm: Number
    far_mm: Number
    holds_speaker: bool
    cause: str


@dataclass(frozen=True)
class Jump:
    """A place at which the curve jumps.

    Attributes
    ----------
    place_mm : Fraction or float
        Outer face of the bulkhead. [mm]
    before, behind : TradePoint or None
        With the bulkhead just in front of it, and just behind it; None where no chamber can be. [-]
    """

    place_mm: Number
    before: TradePoint | None
    behind: TradePoint | None


@dataclass(frozen=True)
class TradeCurve:
    """The largest chamber at every place of its bulkhead.

    Attributes
    ----------
    ends : {"front", "rear"}
        Which end of the chamber the bulkhead closes. [-]
    pieces : tuple of Piece
        Stretches over which it is a straight line, from the front; none where no chamber can be. [mm]
    points : tuple of TradePoint
        Either end of every piece, and places evenly between, from the front. Where the curve jumps, one place stands
        there twice. [mm]
    best : TradePoint
        The largest that holds the speaker; where none does, the largest. [mm]
    """

    ends: Ends
    pieces: tuple[Piece, ...]
    points: tuple[TradePoint, ...]
    best: TradePoint

    @property
    def places_mm(self) -> tuple[float, ...]:
        """Place of the bulkhead at each point. [mm]"""
        return tuple(float(each.place_mm) for each in self.points)

    @property
    def volumes_mm3(self) -> tuple[float, ...]:
        """Volume at each point. [mm3]"""
        return tuple(float(each.volume_mm3) for each in self.points)

    @property
    def heights_mm(self) -> tuple[float, ...]:
        """Height at the bulkhead at each point. [mm]"""
        return tuple(float(each.height_mm) for each in self.points)

    @cached_property
    def holding_mm(self) -> tuple[tuple[Number, Number], ...]:
        """The stretches over which the bulkhead leaves a chamber that holds the speaker, front to rear. [mm]"""
        found: list[tuple[Number, Number]] = []
        for piece in sorted(self.pieces, key=lambda each: (each.start_mm, each.end_mm)):
            if not piece.holds_speaker:
                continue
            if found and piece.start_mm <= found[-1][1]:
                found[-1] = (found[-1][0], max(found[-1][1], piece.end_mm))
            else:
                found.append((piece.start_mm, piece.end_mm))
        return tuple(found)

    @cached_property
    def jumps(self) -> tuple[Jump, ...]:
        """The places between first and last at which volume, height or whether the speaker fits jumps. [mm]"""
        found = []
        for place in sorted({end for piece in self.pieces for end in (piece.start_mm, piece.end_mm)})[1:-1]:
            before = [_point(each, place) for each in self.pieces if each.start_mm < place == each.end_mm]
            behind = [_point(each, place) for each in self.pieces if each.start_mm == place < each.end_mm]
            one, other = next(iter(before), None), next(iter(behind), None)
            if _seen(one) != _seen(other):
                found.append(Jump(place, one, other))
        return tuple(found)

    def at(self, place_mm: Number) -> TradePoint | None:
        """Return the largest chamber with its bulkhead exactly at a place.

        Parameters
        ----------
        place_mm : Fraction or float
            Outer face of the bulkhead, from the fore-aft mark. [mm]

        Returns
        -------
        TradePoint or None
            None where no chamber can be. [mm]

        Raises
        ------
        WrongKind, OutOfRange
            If the place is no plain, finite number.

        References
        ----------
        Standing exactly at an edge, the chamber meets only what lies on its own side of the bulkhead.
        """
        check_number("the place of the bulkhead", place_mm)
        return _standing(self.pieces, Fraction(place_mm), self.ends)

    def moved(self, by_mm: Number) -> str:
        """Say what moving the bulkhead from the best place costs.

        Parameters
        ----------
        by_mm : Fraction or float
            How far, positive to the rear. [mm]

        Returns
        -------
        str
            A sentence. [-]

        Raises
        ------
        WrongKind, OutOfRange
            If it is no plain, finite number.

        References
        ----------
        `at`.

        Examples
        --------
        >>> from modelmath.enclosure import Zone
        >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)), front_closed=False)
        >>> trade_curve(cavity, Limits(clearance_mm=1)).moved(2)
        'With the bulkhead 2.00 mm farther to the rear the chamber holds 0.10 cm3 less (3.4 %), and is as high there.'
        """
        check_number("how far the bulkhead moves", by_mm)
        way = "rear" if by_mm > 0 else "front"
        moved = f"With the bulkhead {abs(float(by_mm)):.2f} mm farther to the {way}"
        there = self.at(Fraction(self.best.place_mm) + Fraction(by_mm))
        if there is None:
            return f"{moved} no chamber can be."
        less: float = float(self.best.volume_mm3 - there.volume_mm3)
        lower = float(self.best.height_mm - there.height_mm)
        part = f" ({100 * abs(less) / float(self.best.volume_mm3):.1f} %)"
        volume = f"holds {abs(less) / 1000:.2f} cm3 {'less' if less > 0 else 'more'}{part}" if less else "holds as much"
        high = f"{abs(lower):.2f} mm {'lower' if lower > 0 else 'higher'}" if lower else "as high"
        lost = ", and no longer holds the speaker" if self.best.holds_speaker and not there.holds_speaker else ""
        joined = f"{volume}, is {high} there{lost}" if lost else f"{volume}, and is {high} there"
        return f"{moved} the chamber {joined}."


def _worth(point: TradePoint) -> tuple[bool, Number]:
    return point.holds_speaker, point.volume_mm3


def _seen(point: TradePoint | None) -> tuple[Any, ...]:
    return () if point is None else (point.volume_mm3, point.height_mm, point.holds_speaker)


def _standing(pieces: Sequence[Piece], place: Number, ends: Ends) -> TradePoint | None:
    """Return the chamber with its bulkhead exactly at a place: a place of its own, or else the side it meets."""
    here = [each for each in pieces if each.start_mm <= place <= each.end_mm]
    alone = [each for each in here if each.start_mm == each.end_mm]
    chosen = (alone or here)[-1 if ends == "front" else 0] if here else None
    return None if chosen is None else _point(chosen, place)


def _point(piece: Piece, place: Number) -> TradePoint:
    volume, cause = piece.volume_at(place), piece.cause.cause.words
    kept = (piece.height_mm, piece.floor_mm, piece.far_mm, piece.holds_speaker)
    return TradePoint(place, volume, *kept, cause)


def trade_curve(
    cavity: Cavity,
    limits: Limits,
    speaker: Speaker | None = None,
    ends: Ends = "front",
    space: tuple[Number, Number] | None = None,
    points: int = 200,
) -> TradeCurve:
    """Work out the largest flat-floored chamber for every place of its bulkhead.

    Parameters
    ----------
    cavity : Cavity
        The shell's zones over the chassis, and what stands or moves there. [mm]
    limits : Limits
        Clearances, wall thickness, room at the ends. Where they hold the bulkhead itself, that is let go; the other end
        stays held. [mm]
    speaker : Speaker or None
        Where any chamber holds it, the largest that does counts; elsewhere the largest, which says so. [mm]
    ends : {"front", "rear"}
        Which end of the chamber the bulkhead closes. [-]
    space : tuple of two, or None
        What the chamber may use of the length, such as what the decoder's pocket leaves; None for all. [mm]
    points : int
        How many places stand evenly between the first and the last, 2 or more. [-]

    Returns
    -------
    TradeCurve
        Exact at every place: its numbers are fractions. [mm]

    Raises
    ------
    UnknownChoice
        If `ends` is neither word.
    OutOfRange
        If there are fewer than two points, or the space has no length.
    DoesNotFit
        If no chamber can be anywhere.

    References
    ----------
    Elementary geometry; the argument stands at the head of this module.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)), front_closed=False)
    >>> curve = trade_curve(cavity, Limits(clearance_mm=1), points=5)
    >>> float(curve.best.place_mm), float(curve.best.volume_mm3), curve.best.cause
    (0.0, 2950.0, 'motor')
    >>> float(curve.at(30).volume_mm3)
    1450.0
    """
    if ends not in ENDS:
        raise UnknownChoice("the bulkhead's end", ends, ENDS)
    if points < 2:
        raise OutOfRange("the number of points", str(points), "2 or more", "Write 200, say.")
    limits = replace(limits, front_at_mm=None) if ends == "front" else replace(limits, rear_at_mm=None)
    cavity, limits, speaker = _exact(cavity), _exact(limits), _exact(speaker)
    found = _all_pieces(cavity, limits, speaker, ends, _space(cavity, limits, space))
    if not found:
        cause = "no place along the length leaves a chamber both depth and length between its walls"
        raise DoesNotFit("The chamber", 0.0, cause, "Keep less clearance, or use thinner walls.")
    places = {end for each in found for end in (each.start_mm, each.end_mm)}
    first, last = min(places), max(places)
    marks = {first + (last - first) * Fraction(number, points - 1) for number in range(points)}
    listed = _points(found, sorted(marks - places))
    every = [each for place in sorted(places) if (each := _standing(found, place, ends))]
    best = max(every, key=_worth)  # of two as large, the one farther to the front
    return TradeCurve(ends, tuple(found), tuple(listed), best)


def _space(cavity: Cavity, limits: Limits, space: tuple[Number, Number] | None) -> tuple[Number, Number]:
    start, end = cavity.start_mm + limits.front_room_mm, cavity.end_mm - limits.rear_room_mm
    if space is not None:
        for place in space:
            check_number("the space for the chamber", place)
        start, end = max(start, Fraction(space[0])), min(end, Fraction(space[1]))
    if not end > start:
        given = f"{float(start):.2f} to {float(end):.2f} mm, less what is kept at the ends"
        raise OutOfRange("the space for the chamber", given, "longer than 0", "Give its front end, then its rear end.")
    return start, end


def _points(found: Sequence[Piece], marks: Sequence[Number]) -> list[TradePoint]:
    """Return the ends of all pieces and the rising marks within them; a single place between two pieces once."""
    listed: list[TradePoint] = []
    for piece in found:
        within = marks[bisect_right(marks, piece.start_mm) : bisect_left(marks, piece.end_mm)]
        for place in dict.fromkeys((piece.start_mm, *within, piece.end_mm)):
            point = _point(piece, place)
            if not listed or listed[-1] != point:
                listed.append(point)
    return listed


def _all_pieces(
    cavity: Cavity, limits: Limits, speaker: Speaker | None, ends: Ends, space: tuple[Number, Number]
) -> list[Piece]:
    """Return the curve's pieces in order."""
    if limits.wire_path_mm:
        cavity = cavity.narrowed(limits.wire_path_mm + limits.wall_mm)
        limits = replace(limits, wire_path_mm=Fraction(0))
    bays = [_within(bay, space) for bay in cavity.bays(limits.clearance_mm, limits.end_clearance_mm)
            if bay.start_mm < space[1] and space[0] < bay.end_mm]  # fmt: skip
    closed = (cavity.start_mm if cavity.front_closed else None, cavity.end_mm if cavity.rear_closed else None)
    rear = ends == "rear"
    if rear:
        bays = [replace(bay, start_mm=-bay.end_mm, end_mm=-bay.start_mm) for bay in reversed(bays)]
        closed = (None if closed[1] is None else -closed[1], None if closed[0] is None else -closed[0])
    held = limits.front_at_mm is not None or limits.rear_at_mm is not None
    if held or limits.cut_round or (speaker is not None and speaker.faces != "down"):
        found = pieces_by_fit(cavity, limits, speaker, space, rear)
    else:
        walls_to = WallsTo(limits, closed)
        floors, others = floors_of(bays, speaker)
        unders = [Under(bays, floor, limits, speaker) for floor in floors]
        cuts = _cuts(bays, limits, speaker)
        found = joined(cuts, lambda *stretch: list(largest(list(chambers(unders, others, stretch, walls_to)))))
    return [each.mirrored() for each in reversed(found)] if rear else found


def _within(bay: Bay, space: tuple[Number, Number]) -> Bay:
    return replace(bay, start_mm=max(bay.start_mm, space[0]), end_mm=min(bay.end_mm, space[1]))


def _cuts(bays: Sequence[Bay], limits: Limits, speaker: Speaker | None) -> list[Number]:
    """Return the places between which nothing changes."""
    wall = limits.wall_mm
    both = wall + limits.post_mm if wall > 0 else wall  # posts stand behind walls only
    offsets = {0 * wall, wall, 2 * wall}
    if speaker is not None:
        # At its own side wall and post, at the far side none, where its seat ends at an edge, or wall and post.
        offsets |= {speaker.length_mm + both, speaker.length_mm + 2 * both}
    edges = {bays[-1].end_mm, *(bay.start_mm for bay in bays)}
    return sorted({edge - offset for edge in edges for offset in offsets if bays[0].start_mm <= edge - offset})


def _exact(given: Any) -> Any:
    """Return a record with all its numbers as fractions, so that no jump is missed by rounding."""
    if isinstance(given, tuple):
        return tuple(_exact(each) for each in given)
    if isinstance(given, float | int) and not isinstance(given, bool):
        return Fraction(given)
    if isinstance(given, Profile) or not hasattr(given, "__dataclass_fields__"):
        return Profile(_exact(given.points)) if isinstance(given, Profile) else given
    return replace(given, **{field.name: _exact(getattr(given, field.name)) for field in fields(given)})
