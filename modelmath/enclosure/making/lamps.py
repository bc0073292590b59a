"""What serves the lamps: strand supports along the roof, and the plate that keeps stray light in a lamp's room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from math import ceil

from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.making.blocks import Block
from modelmath.enclosure.making.outline import section_of, widest_mm
from modelmath.enclosure.making.site import Ends, Site, outline_over
from modelmath.enclosure.parts import Opening, Part
from modelmath.errors import DoesNotFit, OutOfRange

HIGH = 3  # a strand support is three strands high, its hole in the middle; common practice, no source


class Lamps:
    """Strand supports and light barriers of one chamber.

    Parameters
    ----------
    site : Site
        The chamber, and what is wanted beside it. [mm]
    """

    def __init__(self, site: Site) -> None:
        self.site = site

    @cached_property
    def bays(self) -> tuple[Bay, ...]:
        """Every bay of the shell, with all that stands in it. [mm]"""
        limits = self.site.enclosure.limits
        return self.site.enclosure.cavity.bays(limits.clearance_mm, limits.end_clearance_mm)

    @cached_property
    def rooms(self) -> tuple[Fraction, Fraction]:
        """Inner ends of the lamps' rooms, from the fore-aft mark. [mm]"""
        cavity, limits = self.site.enclosure.cavity, self.site.enclosure.limits
        return (
            Fraction(cavity.start_mm) + Fraction(limits.front_room_mm),
            Fraction(cavity.end_mm) - Fraction(limits.rear_room_mm),
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

        Raises
        ------
        DoesNotFit
            If the roof is too low over the chassis at one of them.

        References
        ----------
        The fewest equal spaces that are no longer than asked for.
        """
        every, strand = self.site.extras.strand_every_mm, self.site.extras.strand_mm
        if every is None or strand is None:
            return
        stretches = ((self.rooms[0], self.site.outer[0]), (self.site.outer[1], self.rooms[1]))
        for where, room, (start, end) in zip(("front", "rear"), self.kept, stretches, strict=True):
            if room and end > start:
                yield from self._supports(where, (start, end), Fraction(every), Fraction(strand))

    def _supports(self, where: str, ends: Ends, every: Fraction, strand: Fraction) -> Iterator[Part]:
        name = f"strand support, {where}"
        high = self.site.marks.up(HIGH * strand)
        spaces = ceil((ends[1] - ends[0]) / every)
        pitch = (ends[1] - ends[0]) / spaces
        blocks = [self._support(name, ends, ends[0] + n * pitch, high.cut_mm) for n in range(1, spaces)]
        placed = [block for block in blocks if not block.meets(self._decoder)] if self._decoder else blocks
        if not placed:
            return
        made_to = (
            f"a number: three strands; drill it {float(strand):.2f} mm or a little over in the middle of its height, "
            f"and glue it under the roof, one every {float(pitch):.2f} mm"
        )
        if len(placed) < len(blocks):
            made_to += f"; none over the {self._decoder_name}"
        places = tuple(Fraction(block.start_mm) for block in placed)
        yield Part(
            name, "rest", len(placed), "on end", high, "number", made_to, cut_set="strand support height",
            position_mm=places[0], face="front face", places_mm=places, blocks=tuple(placed),
        )  # fmt: skip

    def _support(self, name: str, ends: Ends, middle: Fraction, high: Fraction) -> Block:
        """Return one support, at the left side of the roof, with its middle at a place but within the stretch."""
        size = self.site.post_mm
        start = max(ends[0], min(middle - size / 2, ends[1] - size))
        over = bays_over(self.bays, start, start + size)
        roof = min(Fraction(bay.zone.roof_mm) for bay in over)
        low = max(over, key=lambda bay: bay.floor_mm)
        if roof - high < low.floor_mm:
            depth = roof - Fraction(low.floor_mm)
            cause = f"over {low.cause.words} there are {float(depth):.2f} mm, and it is {float(high):.2f} mm high"
            raise DoesNotFit(f"The {name}", float(high - depth), cause, "Lead the strand another way, or leave it out.")
        side = min(half for bay in over for _, half in section_of(bay.zone, roof - high, roof))
        left = min(-side, -size / 2)
        return Block(start, start + size, left, left + size, roof - high, roof)

    @cached_property
    def _decoder(self) -> Block | None:
        pocket = self.site.chamber.pocket
        if pocket is None:
            return None
        half = Fraction(pocket.across_mm) / 2
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

        Raises
        ------
        OutOfRange
            If no room for a lamp is kept at that end, or it is shorter than the plate is thick.
        DoesNotFit
            If the chassis leaves it no height.

        References
        ----------
        Arithmetic.
        """
        site, limits = self.site, self.site.enclosure.limits
        thick = Fraction(site.extras.barrier_mm)
        sizes = (limits.front_room_mm, limits.rear_room_mm)
        ends = ((self.rooms[0] - thick, self.rooms[0]), (self.rooms[1], self.rooms[1] + thick))
        walled = (
            site.chamber.front_wall and site.outer[0] == self.rooms[0],
            site.chamber.rear_wall and site.outer[1] == self.rooms[1],
        )
        for at, where in enumerate(("front", "rear")):
            if not site.extras.light_barrier[at]:
                continue
            if sizes[at] < thick:
                raise OutOfRange(
                    f"the light barrier, {where},",
                    f"{float(thick):.2f} mm thick in a lamp's room of {float(sizes[at]):.2f} mm",
                    "in a room longer than it is thick",
                    "Keep room for a lamp at that end, or leave the barrier out.",
                )
            if not walled[at]:
                yield self._barrier(f"light barrier, {where}", ends[at], ends[at][1 - at])

    def _barrier(self, name: str, ends: Ends, face: Fraction) -> Part:
        site, strand = self.site, self.site.extras.strand_mm
        over = bays_over(self.bays, *ends)
        roof = min(Fraction(bay.zone.roof_mm) for bay in over)
        cut = site.marks.down(roof - max(Fraction(bay.floor_mm) for bay in over), f"The {name}")
        low = roof - cut.cut_mm
        outline = tuple((height - low, half + site.path_mm / 2) for height, half in outline_over(over, low, roof))
        width = widest_mm(outline)
        made_to = "its height a number, its width the shell itself: sand until it slides in; black, or painted so"
        openings: list[Opening] = []
        if strand is not None:
            # In line with the holes of the strand supports, which are three strands high.
            down = site.marks.up(HIGH * Fraction(strand)).cut_mm / 2
            middle = self._hole_across(over, roof, down)
            made_to += (
                f"; drill it {float(strand):.2f} mm or a little over for the strand, {float(down):.2f} mm below its "
                f"upper edge, {abs(float(middle)):.2f} mm left of the middle"
            )
            openings.append(Opening("the strand", Fraction(strand), Fraction(strand), cut.cut_mm - down, middle))
        if site.path_mm:
            made_to += "; notch it where the wires pass"
        left, right = -width / 2 + site.path_mm / 2, width / 2 + site.path_mm / 2
        return Part(
            name, "barrier", 1, "across", cut, "number", made_to, cut_set=name, width_mm=width,
            thickness_mm=ends[1] - ends[0], position_mm=face, face=f"{_facing(name)} face",
            outline=outline if any(bay.zone.profile is not None for bay in over) else (),
            openings=tuple(openings), blocks=(Block(*ends, left, right, low, roof),),
        )  # fmt: skip

    def _hole_across(self, over: Sequence[Bay], roof: Fraction, down: Fraction) -> Fraction:
        """Return how far left of the middle the strand runs: in the middle of its supports."""
        side = min(half for bay in over for _, half in section_of(bay.zone, roof - 2 * down, roof))
        return -max(side - self.site.post_mm / 2, Fraction(0))


def _facing(name: str) -> str:
    return "rear" if name.endswith("front") else "front"


def lamp_parts(site: Site) -> Iterator[Part]:
    """Yield strand supports and light barriers.

    Parameters
    ----------
    site : Site
        The chamber, and what is wanted beside it. [mm]

    Yields
    ------
    Part
        Strand supports, then barriers. [mm]

    Raises
    ------
    OutOfRange
        If a barrier finds no lamp's room.
    DoesNotFit
        If one of them finds no height over the chassis.

    References
    ----------
    Arithmetic.
    """
    lamps = Lamps(site)
    yield from lamps.strand_supports()
    yield from lamps.barriers()
