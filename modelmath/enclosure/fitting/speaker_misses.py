"""By how much a speaker misses in a room, and why: told of the place that comes nearest to holding it.

A place is a run of neighbouring stretches, as deep and as wide as its shallowest and its narrowest. Smaller by its
largest shortage in every size, the speaker fits there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import inf

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.nearest import ROUNDING, Miss, along_words, enough, in_mm, left, nearest_run, said
from modelmath.enclosure.fitting.rooms import Room, Stretch, clip
from modelmath.enclosure.fitting.seats import needs_of, plate_mm
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number

Nearness = tuple[int, Number]  # first whether a smaller speaker would do: 0 if so; then how much lacks

NONE_LEFT = inf  # lacks where a speaker smaller by what lacks would be none at all: any other place comes nearer


@dataclass(frozen=True)
class _Spot:
    """A stretch of one bay as a speaker meets it, and how wide it may be there."""

    bay: Bay
    start_mm: Number
    end_mm: Number
    width_mm: Number
    beside: Obstacle | None  # what leaves no more of the width


@dataclass(frozen=True)
class Seats:
    """The places for a speaker in a room that doesn't hold it.

    Attributes
    ----------
    room : Room
        The bays, ends, walls and floor. [mm, or a small unit]
    speaker : Speaker
        The speaker. [mm, or a small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]
    """

    room: Room
    speaker: Speaker
    per_mm: int = 1

    @property
    def nearness(self) -> Nearness:
        """How near it comes, and what lacks: 0 where a smaller one fits; 1 where it has no wall; 2 and 3 where none."""
        if not self._has_its_wall:
            return 1, 0
        if not self._reach_is_left:
            return 2, self._along_mm - (self._reach[1] - self._reach[0])
        if not self._rows:
            return 3, self._cone[0]
        lacks, _ = self._nearest
        return (2, lacks[1]) if lacks[0] == NONE_LEFT else (0, lacks[0])

    def _leaves_some(self, along: Number, across: Number, up: Number) -> bool:
        """Whether something is left of every size of the speaker, smaller by what lacks of it."""
        speaker = self.speaker
        long, deep = (up, along) if self._upright else (along, up)
        return speaker.length_mm > long and speaker.width_mm > across and speaker.depth_mm - speaker.flange_mm >= deep

    def miss(self) -> Miss:
        """Return the largest shortage of the nearest place, and what else lacks there.

        Returns
        -------
        Miss
            Of length, width or depth; none where the room has no place whatever the speaker's size. [mm]

        References
        ----------
        Elementary geometry.
        """
        if not self._has_its_wall:
            return self._no_wall()
        if not self._reach_is_left:
            return self._length(self.room.bays, self._reach)
        if not self._rows:
            short, bay = self._cone
            moves = f"the {said(self.speaker.travel_mm, self.per_mm)} that its cone moves"
            cause = f"over {bay.zone.name} {moves}, and what the speaker takes, are more than the depth there is"
            return Miss(in_mm(short, self.per_mm), cause, "Try a speaker that moves less, or a shallower one.")
        _, spots = self._nearest
        ends = (spots[0].start_mm, spots[-1].end_mm)
        found = [self._depth(spots), self._width(spots), self._length([each.bay for each in spots], ends, spots)]
        largest = max(found, key=lambda miss: miss.short_mm)
        if largest.short_mm <= 0:
            cause = "no place is left that is long, wide and deep enough for it beside what else has to find room"
            return Miss(0, cause, "Try a smaller speaker, or let it face another way.")
        too = [
            f"{_hair(miss.short_mm)} too {word}"
            for miss, word in zip(found, self._too, strict=True)
            if miss is not largest and miss.short_mm > ROUNDING
        ]
        return Miss(largest.short_mm, largest.cause + (f"; it is {' and '.join(too)} as well" if too else ""),
                    largest.remedy)  # fmt: skip

    # What it needs, and where.

    @property
    def _upright(self) -> bool:
        """Whether it faces an end: its length then stands upright, and its depth lies along."""
        return self.speaker.faces in ("front", "rear")

    @property
    def _too(self) -> tuple[str, str, str]:
        return ("long", "wide", "deep") if self._upright else ("deep", "wide", "long")

    @property
    def _has_its_wall(self) -> bool:
        return not self._upright or self.room.walled[0 if self.speaker.faces == "front" else 1]

    @cached_property
    def _along_mm(self) -> Number:
        """The length it takes; with the wall that it faces, which may stand further in than the room's end."""
        along = needs_of(self.speaker, self.room.limits).along_mm
        return along + self.room.limits.wall_mm if self._upright else along

    @cached_property
    def _reach(self) -> Stretch:
        """From where to where it may reach, with the wall that it faces."""
        (start, end), (first, last) = self.room.ends, self.room.for_speaker
        return (start if self.speaker.faces == "front" else first), (end if self.speaker.faces == "rear" else last)

    @property
    def _reach_is_left(self) -> bool:
        return self._reach[0] < self._reach[1]

    @cached_property
    def _rows(self) -> list[list[_Spot]]:
        """The stretches in rows over which it may lie: under one roof where it faces up, free below for its cone."""
        rows: list[list[_Spot]] = []
        before: Bay | None = None
        for bay in clip(self.room.bays, *self._reach):
            if self._is_barred(bay):
                before = None
                continue
            level = self.speaker.faces == "up"
            if before is None or (level and before.zone.roof_mm != bay.zone.roof_mm):
                rows.append([])
            rows[-1] += self._spots(bay)
            before = bay
        return rows

    def _is_barred(self, bay: Bay) -> bool:
        speaker = self.speaker
        return speaker.faces == "down" and speaker.travel_mm > self.room.floor_mm - bay.floor_mm and (
            speaker.travel_mm > 0)  # fmt: skip

    def _spots(self, bay: Bay) -> Iterator[_Spot]:
        """Yield the stretches of a bay, parted where something stands beside the speaker."""
        width = self._width_in(bay)
        here = [each for each in self._narrowed if each[0] < bay.end_mm and bay.start_mm < each[1]]
        if not here:
            yield _Spot(bay, bay.start_mm, bay.end_mm, width, None)
            return
        inner = {place for start, end, *_ in here for place in (start, end) if bay.start_mm < place < bay.end_mm}
        for start, end in pairwise(sorted({bay.start_mm, bay.end_mm, *inner})):
            beside = [each for each in here if each[0] < end and start < each[1]]
            _, _, left, by = min(beside, key=lambda each: each[2], default=(start, end, width, None))
            yield _Spot(bay, start, end, min(left, width), by if left < width else None)

    @cached_property
    def _narrowed(self) -> list[tuple[Number, Number, Number, Obstacle]]:
        """From where to where boxes, or what its cone would meet, leave how much of the width, and which."""
        room, wall, faces = self.room, self.room.limits.wall_mm, self.speaker.faces
        # A box may stand in the notch of the wall that it faces.
        before, behind = wall * (faces != "rear"), wall * (faces != "front")
        found = [
            (each.start_mm - before, each.end_mm + behind, 2 * (abs(each.centre_mm) - each.half_width_mm - wall), each)
            for each in room.boxed
        ]
        low, high = room.floor_mm - self.speaker.travel_mm, room.floor_mm
        if faces == "down":
            found += [
                (each.start_mm, each.end_mm, 2 * (abs(each.centre_mm) - each.half_width_mm), each)
                for each in room.narrow
                if low < each.top_mm <= high
            ]
        return found

    def _width_in(self, bay: Bay) -> Number:
        """Return how wide the speaker may be in a bay at all heights that it takes, as far as they lie there."""
        room, speaker, zone = self.room, self.speaker, bay.zone
        floor, roof, plate = room.floor_mm, zone.roof_mm, plate_mm(speaker, room.limits)
        if zone.profile is None or floor + plate >= roof:
            return zone.width_mm
        if self._upright:
            return zone.width_over(floor + plate, min(floor + needs_of(speaker, room.limits).up_mm, roof))
        basket = speaker.basket_mm[1]
        if speaker.faces == "up":
            flange = zone.width_over(max(roof - speaker.flange_mm, floor), roof)
            behind = zone.width_over(max(roof - speaker.behind_mm, floor), roof)
        else:
            flange = zone.width_over(floor, min(floor + speaker.flange_mm, roof))
            behind = zone.width_over(floor, min(floor + speaker.behind_mm, roof))
        return min(zone.width_mm, flange, behind if behind < basket else flange)

    @cached_property
    def _nearest(self) -> tuple[list[Number], list[_Spot]]:
        """What lacks in the nearest place, most first, and its stretches."""
        needs, places = needs_of(self.speaker, self.room.limits), []
        for row in self._rows:
            depths = [each.bay.zone.roof_mm - self.room.floor_mm for each in row]
            widths = [each.width_mm for each in row]

            starts, ends = [each.start_mm for each in row], [each.end_mm for each in row]

            def lacks(
                run: slice,
                row: list[_Spot] = row,
                depths: list[Number] = depths,
                widths: list[Number] = widths,
            ) -> Iterator[Number]:
                up, across = needs.up_mm - min(depths[run]), needs.across_mm - min(widths[run])
                yield up
                yield across
                along = self._along_mm - (row[run.stop - 1].end_mm - row[run.start].start_mm)
                if not self._leaves_some(along, across, up):
                    yield NONE_LEFT

            found = nearest_run(starts, ends, self._along_mm, lacks)
            places.append((found[0], row[found[1]]))
        return min(places, key=lambda each: each[0])

    @cached_property
    def _cone(self) -> tuple[Number, Bay]:
        """By how much depth is short for speaker and cone where most is left for both, and where that is."""
        bay = max(self.room.bays, key=lambda each: each.depth_mm)
        return needs_of(self.speaker, self.room.limits).up_mm + self.speaker.travel_mm - bay.depth_mm, bay

    # What is told.

    def _no_wall(self) -> Miss:
        cause = f"walls of no thickness leave none at the {self.speaker.faces} end for it to sound through"
        return Miss(0, cause, "Write how thick walls are, or let it face another way.")

    def _depth(self, spots: Sequence[_Spot]) -> Miss:
        room, per = self.room, self.per_mm
        bay = min((each.bay for each in spots), key=lambda each: each.zone.roof_mm)
        depth, needed = bay.zone.roof_mm - room.floor_mm, needs_of(self.speaker, room.limits).up_mm
        has = f"is {left(depth, per)} deep" if depth > 0 else "has no depth"
        over = f"over {bay.zone.name} the chamber {has}{floor_by(room, bay)}"
        less = "less clearance, or trimming what stands there"
        if isinstance(room.governing.cause, Obstacle) and room.governing.cause.moves:
            less = "less running clearance, or less swing and play of what moves there"
        plate = plate_mm(self.speaker, room.limits)
        takes = f"takes {said(needed, per)}{' upright' if self._upright else ''}"
        takes += f" with the floor plate of {said(plate, per)}" if plate else ""
        remedy = f"Try a {'shorter' if self._upright else 'shallower'} speaker, {less}."
        return Miss(in_mm(needed - depth, per), f"{over}, and the speaker {takes}", remedy)

    def _width(self, spots: Sequence[_Spot]) -> Miss:
        spot, per, post = min(spots, key=lambda each: each.width_mm), self.per_mm, self.room.limits.post_mm
        needed, zone = needs_of(self.speaker, self.room.limits).across_mm, spot.bay.zone
        wide = left(spot.width_mm, per)
        if spot.beside is None:
            has = f"the shell is {wide} wide inside"
        else:
            has = f"beside {spot.beside.words} {wide if spot.width_mm > 0 else 'nothing'} is left of the width"
        takes = f"{said(needed, per)}{' with the posts beside it' if self._upright and post else ''}"
        remedy = f"Try a narrower speaker{' or thinner posts' if self._upright and post else ''}."
        cause = f"over {zone.name} {has} and the {self.speaker.name} {'takes ' if spot.beside else ''}{takes}"
        return Miss(in_mm(needed - spot.width_mm, per), cause, remedy)

    def _length(self, bays: Sequence[Bay], ends: Stretch, spots: Sequence[_Spot] = ()) -> Miss:
        limits, per, reach = self.room.limits, self.per_mm, self._reach
        own = limits.wall_mm if self._upright else 0
        needed, length = self._along_mm - own, ends[1] - ends[0] - own
        long = left(length, per) if length > 0 else "nothing"
        cause = f"{along_words(bays)} {long} of the length is left for the speaker's {said(needed, per)}"
        posts = [walled and end == far for walled, end, far in zip(self.room.walled, ends, reach, strict=True)]
        if self._upright:
            posts[0 if self.speaker.faces == "front" else 1] = False
        walls, word = sum(posts) + self._upright, "shallower" if self._upright else "shorter"
        short = in_mm(needed - length, per)
        if not walls:
            remedy = f"Try a {word} speaker, less clearance along the length, or trimming what stands there."
            return Miss(short, cause + self._bounded(spots), remedy)
        cause += f", beside {COUNTED[walls]} of {said(limits.wall_mm, per)}"
        if limits.post_mm > 0 and any(posts):
            one = "the one at its back" if self._upright else "it" if walls == 1 else "them"
            cause += f" and posts of {said(limits.post_mm, per)} behind {one}"
        remedy = f"Try a {word} speaker, thinner walls or posts, or less clearance."
        return Miss(short, cause + self._bounded(spots), remedy)

    def _bounded(self, spots: Sequence[_Spot]) -> str:
        """Say what bounds the place, where the room itself reaches further."""
        if not spots or (spots[0].start_mm, spots[-1].end_mm) == self._reach:
            return ""
        if self.speaker.faces == "up" and len({bay.zone.roof_mm for bay in self.room.bays}) > 1:
            return ", under one level of the roof"
        return ", clear of what stands there" if self._narrowed else ""


COUNTED = ("no wall", "one wall", "two walls")


def floor_by(room: Room, bay: Bay) -> str:
    """Name what sets the floor, where it is not the bay's own step.

    Parameters
    ----------
    room : Room
        The room. [-]
    bay : Bay
        Where its floor is told of. [-]

    Returns
    -------
    str
        To follow what is told; empty where it is the bay's own. [-]

    References
    ----------
    None needed.
    """
    other = room.governing.cause.words
    return "" if other == bay.zone.name else f", with the floor set by {other}"


def _hair(short: Number) -> str:
    """Return a shortage rounded up, so that what is told is enough."""
    return "less than 0.01 mm" if short < Fraction(1, 200) else said(enough(short))
