"""What serves the lamps: strand supports along the roof, and the plate that keeps stray light in a lamp's room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil

from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.making.blocks import Block, block_of
from modelmath.enclosure.making.outline import section_of, widest_mm
from modelmath.enclosure.making.site import Ends, Site, outline_over
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.parts import Opening, Part
from modelmath.errors import DoesNotFit, ModelMathError, OutOfRange
from modelmath.lengths.numbers import Number, as_fraction

HIGH = 3  # a strand support is three strands high, its hole in the middle; common practice, no source


@dataclass(frozen=True)
class Hung:
    """One strand support in its place.

    Attributes
    ----------
    block : Block
        What it fills. [mm]
    short_mm : Fraction
        Height that it lacks over what lies below it; 0 or less where it has room. [mm]
    below : str
        What lies below it. [-]
    """

    block: Block
    short_mm: Fraction
    below: str


def _no_room(name: str, tight: Sequence[Hung], count: int, high: Fraction) -> DoesNotFit:
    """Say that supports have no room, with the one that lacks most."""
    worst = max(tight, key=lambda each: each.short_mm)
    cause = f"over {worst.below} there are {float(high - worst.short_mm):.2f} mm, and it is {float(high):.2f} mm high"
    where = "" if len(tight) == count else f", at {len(tight)} of its {count} places,"
    return DoesNotFit(f"The {name}{where}", float(worst.short_mm), cause, "Lead the strand another way there.")


class Lamps:
    """Strand supports and light barriers of one chamber; one without room never takes the rest of the plan away.

    Parameters
    ----------
    site : Site
        The chamber, and what is wanted beside it. [mm]

    Attributes
    ----------
    without_room : list of ModelMathError
        What was left out, filled as parts are yielded. [-]
    """

    def __init__(self, site: Site) -> None:
        self.site = site
        self.without_room: list[ModelMathError] = []

    @cached_property
    def bays(self) -> tuple[Bay, ...]:
        """Every bay of the shell over the chassis alone: what stands there counts where it is met. [mm]"""
        limits = self.site.enclosure.limits
        return replace(self.site.enclosure.cavity, obstacles=()).bays(limits.clearance_mm, limits.end_clearance_mm)

    @cached_property
    def standing(self) -> tuple[tuple[Obstacle, Block], ...]:
        """What stands or moves in the shell, and the box that it takes, its running clearance in it. [mm]"""
        return tuple((each, block_of(each)) for each in self.site.enclosure.cavity.obstacles)

    def _below(self, over: Sequence[Bay], ends: Ends, across: Ends, roof: Fraction) -> tuple[Fraction, str]:
        """Return the highest that lies under a stretch of roof, and what it is."""
        bay = max(over, key=lambda each: each.floor_mm)
        floor, words = as_fraction(bay.floor_mm), bay.cause.words
        column = Block(*ends, *across, floor, roof)
        for obstacle, block in self.standing:
            top = as_fraction(obstacle.top_mm)
            if top > floor and column.meets(block):
                floor, words = top, obstacle.words
        return min(floor, roof), words

    @cached_property
    def rooms(self) -> tuple[Fraction, Fraction]:
        """Inner ends of the lamps' rooms, from the fore-aft mark. [mm]"""
        cavity, limits = self.site.enclosure.cavity, self.site.enclosure.limits
        return (
            as_fraction(cavity.start_mm) + as_fraction(limits.front_room_mm),
            as_fraction(cavity.end_mm) - as_fraction(limits.rear_room_mm),
        )

    @cached_property
    def kept(self) -> tuple[bool, bool]:
        """Whether there is a lamp's room at either end. [-]"""
        limits = self.site.enclosure.limits
        return bool(limits.front_room_mm), bool(limits.rear_room_mm)

    def strand_supports(self) -> Iterator[Part]:
        """Yield the strand supports in front of and behind the chamber.

        Yields
        ------
        Part
            One kind for each end that has a lamp's room, with the place of each piece. [mm]

        References
        ----------
        The fewest equal spaces that are no longer than asked for.
        """
        every, strand = self.site.extras.strand_every_mm, self.site.extras.strand_mm
        if every is None or strand is None:
            return
        least = 2 * self.site.post_mm
        if every < least:
            self.without_room.append(
                OutOfRange(
                    "The distance between strand supports",
                    f"{float(every):.2f} mm",
                    f"{float(least):.2f} mm or more, twice a support's own length",
                    "Write a greater distance, such as 20 mm.",
                )
            )
            return
        stretches = ((self.rooms[0], self.site.outer[0]), (self.site.outer[1], self.rooms[1]))
        for where, room, (start, end) in zip(("front", "rear"), self.kept, stretches, strict=True):
            if room and end > start:
                yield from self._supports(where, (start, end), as_fraction(every), as_fraction(strand))

    def _supports(self, where: str, ends: Ends, every: Fraction, strand: Fraction) -> Iterator[Part]:
        name = f"strand support, {where}"
        high = self.site.marks.up(HIGH * strand)
        spaces = ceil((ends[1] - ends[0]) / every)
        pitch = (ends[1] - ends[0]) / spaces
        hung = [self._support(ends, ends[0] + n * pitch, high.cut_mm) for n in range(1, spaces)]
        free = [each for each in hung if self._decoder is None or not each.block.meets(self._decoder)]
        placed = [each.block for each in free if each.short_mm <= 0]
        tight = [each for each in free if each.short_mm > 0]
        if tight:
            self.without_room.append(_no_room(name, tight, len(hung), high.cut_mm))
        if not placed:
            return
        made_to = (
            f"a number: three strands; drill it {float(strand):.2f} mm or a little over in the middle of its height, "
            f"and glue it under the roof, one every {float(pitch):.2f} mm"
        )
        over = [f"the {self._decoder_name}"] if len(free) < len(hung) else []
        over += dict.fromkeys(each.below for each in tight)
        if over:
            made_to += f"; none over {' and '.join(over)}"
        places = tuple(as_fraction(block.start_mm) for block in placed)
        yield Part(
            name, "rest", len(placed), "on end", high, "number", made_to, cut_set="strand support height",
            position_mm=places[0], face="front face", places_mm=places, blocks=tuple(placed),
        )  # fmt: skip

    def _support(self, ends: Ends, middle: Fraction, high: Fraction) -> Hung:
        """Return one support, at the left side of the roof, with its middle at a place but within the stretch."""
        size = self.site.post_mm
        start = max(ends[0], min(middle - size / 2, ends[1] - size))
        over = bays_over(self.bays, start, start + size)
        roof = min(as_fraction(bay.zone.roof_mm) for bay in over)
        side = min(half for bay in over for _, half in section_of(bay.zone, roof - high, roof))
        left = min(-side, -size / 2)
        floor, words = self._below(over, (start, start + size), (left, left + size), roof)
        return Hung(Block(start, start + size, left, left + size, roof - high, roof), high - (roof - floor), words)

    @cached_property
    def _decoder(self) -> Block | None:
        pocket = self.site.chamber.pocket
        if pocket is None:
            return None
        half = as_fraction(pocket.across_mm) / 2
        return Block(pocket.start_mm, pocket.end_mm, -half, half, pocket.bottom_mm, pocket.top_mm)

    @property
    def _decoder_name(self) -> str:
        decoder = self.site.enclosure.decoder
        return "decoder" if decoder is None else decoder.name

    def barriers(self) -> Iterator[Part]:
        """Yield the plates that keep stray light in the lamps' rooms; none where the end wall itself stands there.

        Yields
        ------
        Part
            Front, then rear. [mm]

        References
        ----------
        Arithmetic.
        """
        site, limits = self.site, self.site.enclosure.limits
        thick = as_fraction(site.extras.barrier_mm)
        sizes = (limits.front_room_mm, limits.rear_room_mm)
        ends = ((self.rooms[0] - thick, self.rooms[0]), (self.rooms[1], self.rooms[1] + thick))
        walled = (
            site.chamber.front_wall and site.outer[0] == self.rooms[0],
            site.chamber.rear_wall and site.outer[1] == self.rooms[1],
        )
        for at, where in enumerate(("front", "rear")):
            if not site.extras.light_barrier[at] or walled[at]:
                continue
            if sizes[at] < thick:
                self.without_room.append(
                    OutOfRange(
                        f"The light barrier, {where},",
                        f"{float(thick):.2f} mm thick in a lamp's room of {float(sizes[at]):.2f} mm",
                        "in a room longer than it is thick",
                        "Keep more room for the lamp at that end.",
                    )
                )
                continue
            try:
                strand = site.extras.barrier_strand_mm[at]
                yield self._barrier(f"light barrier, {where}", ends[at], ends[at][1 - at], strand)
            except DoesNotFit as miss:
                self.without_room.append(miss)

    def _barrier(self, name: str, ends: Ends, face: Fraction, strand: Number | None) -> Part:
        site = self.site
        over = bays_over(self.bays, *ends)
        roof = min(as_fraction(bay.zone.roof_mm) for bay in over)
        side = min(as_fraction(bay.zone.width_mm) for bay in over) / 2
        floor, words = self._below(over, ends, (-side, side + site.path_mm), roof)
        try:
            cut = site.marks.down(roof - floor, f"The {name}")
        except DoesNotFit as miss:
            cause = f"over {words} there are {float(roof - floor):.2f} mm, less than the lowest mark"
            remedy = "Keep the lamp's light in another way, such as black paint round it."
            raise DoesNotFit(miss.what, miss.short_mm, cause, remedy) from miss
        low = roof - cut.cut_mm
        outline = tuple((height - low, half + site.path_mm / 2) for height, half in outline_over(over, low, roof))
        width = widest_mm(outline)
        shaped = any(bay.zone.profile is not None for bay in over)
        made_to = (
            "its height at the centre line a number, its outline the shell's section"
            if shaped
            else "its height a number, its width the shell itself"
        ) + ": sand until it slides in; black, or painted so"
        openings: list[Opening] = []
        if strand is not None:
            # In line with the holes of the strand supports, which are three strands high.
            supported = site.extras.strand_mm
            down = site.marks.up(HIGH * as_fraction(strand if supported is None else supported)).cut_mm / 2
            middle = self._hole_across(over, roof, down)
            made_to += (
                f"; drill it {float(strand):.2f} mm or a little over for each strand, {float(down):.2f} mm below its "
                f"upper edge, {float(self.site.path_mm / 2 - middle):.2f} mm left of its own middle"
            )
            openings.append(Opening("a strand", as_fraction(strand), as_fraction(strand), cut.cut_mm - down, middle))
        if site.path_mm:
            made_to += "; notch it where the wires pass"
        left, right = -width / 2 + site.path_mm / 2, width / 2 + site.path_mm / 2
        return Part(
            name, "barrier", 1, "across", cut, "number", made_to, cut_set=name, width_mm=width,
            thickness_mm=ends[1] - ends[0], position_mm=face, face=f"{_facing(name)} face",
            outline=outline if shaped else (),
            openings=tuple(openings), blocks=(Block(*ends, left, right, low, roof),),
        )  # fmt: skip

    def _hole_across(self, over: Sequence[Bay], roof: Fraction, down: Fraction) -> Fraction:
        """Return how far left of the middle the strand runs: in the middle of its supports."""
        side = min(half for bay in over for _, half in section_of(bay.zone, roof - 2 * down, roof))
        return -max(side - self.site.post_mm / 2, Fraction(0))


def _facing(name: str) -> str:
    return "rear" if name.endswith("front") else "front"


def lamp_parts(site: Site) -> Iterator[Part]:
    """Yield strand supports and light barriers; what has no room is left out, and `without_room` says why.

    Parameters
    ----------
    site : Site
        The chamber, and what is wanted beside it. [mm]

    Yields
    ------
    Part
        Strand supports, then barriers. [mm]

    References
    ----------
    Arithmetic.
    """
    lamps = Lamps(site)
    yield from lamps.strand_supports()
    yield from lamps.barriers()


def without_room(site: Site) -> tuple[ModelMathError, ...]:
    """Say which strand supports and light barriers were left out, and why.

    Parameters
    ----------
    site : Site
        The chamber, and what is wanted beside it. [mm]

    Returns
    -------
    tuple of ModelMathError
        One for each kind of part and end; none where all have room. [-]

    References
    ----------
    `lamp_parts`.
    """
    lamps = Lamps(site)
    for _ in (*lamps.strand_supports(), *lamps.barriers()):
        pass
    return tuple(lamps.without_room)
