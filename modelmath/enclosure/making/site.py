"""One chamber as its parts are made for it: exact sizes, what is boxed in, how its floor is closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from modelmath.clearance import Marks
from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.fitting.rooms import bays_over, clip
from modelmath.enclosure.making.blocks import Block
from modelmath.enclosure.making.extras import Extras
from modelmath.enclosure.making.outline import Outline, least_of, section_of, widest_mm
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import as_fraction

Ends = tuple[Fraction, Fraction]


@dataclass(frozen=True)
class Site:
    """One chamber as its parts are made for it.

    Attributes
    ----------
    enclosure : Enclosure
        For the cavity, the limits and the speaker. [mm]
    chamber : Chamber
        The chamber as it is cut. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]
    extras : Extras
        What is wanted beside the chamber itself. [-]
    """

    enclosure: Enclosure
    chamber: Chamber
    marks: Marks
    extras: Extras

    @cached_property
    def wall_mm(self) -> Fraction:
        """Thickness of a wall. [mm]"""
        return as_fraction(self.enclosure.limits.wall_mm)

    @cached_property
    def post_mm(self) -> Fraction:
        """Side of a post, as the layout counts it. [mm]"""
        return as_fraction(self.enclosure.limits.post_mm)

    @cached_property
    def path_mm(self) -> Fraction:
        """Width that the wire path and its wall take from the shell's. [mm]"""
        path = as_fraction(self.enclosure.limits.wire_path_mm)
        return path + self.wall_mm if path else Fraction(0)

    @cached_property
    def floor(self) -> Fraction:
        """Height of the floor above the seat. [mm]"""
        return as_fraction(self.chamber.floor_mm)

    @cached_property
    def outer(self) -> Ends:
        """Outer faces of the end walls. [mm]"""
        return as_fraction(self.chamber.start_mm), as_fraction(self.chamber.end_mm)

    @cached_property
    def inner(self) -> Ends:
        """Inner faces of the end walls. [mm]"""
        return as_fraction(self.chamber.inner_start_mm), as_fraction(self.chamber.inner_end_mm)

    @cached_property
    def seated(self) -> tuple[Speaker, Ends] | None:
        """The speaker and the ends of its seat; None without one. [mm]"""
        speaker, seat = self.enclosure.speaker, self.chamber.seat_mm
        if speaker is None or seat is None:
            return None
        return speaker, (as_fraction(seat[0]), as_fraction(seat[1]))

    @cached_property
    def exact_floor(self) -> Fraction:
        """Where the floor would lie if it needed no mark: over what governs, and what its cone or the decoder asks.

        [mm]
        """
        fitted = self.chamber.cut_from or self.chamber
        return max(as_fraction(self.chamber.governing.floor_mm), min(as_fraction(fitted.floor_mm), self.floor))

    @cached_property
    def boxed(self) -> tuple[Obstacle, ...]:
        """What stands up through the floor between the walls' outer faces. [mm]"""
        if not self.enclosure.limits.cut_round:
            return ()
        start, end = self.outer
        found = self.enclosure.cavity.obstacles
        return tuple(o for o in found if o.top_mm > self.floor and o.start_mm < end and start < o.end_mm)

    @cached_property
    def boxes(self) -> tuple[Block, ...]:
        """The boxes round it, walls and lids in them. [mm]"""
        return tuple(self.box_round(each) for each in self.boxed)

    def box_round(self, obstacle: Obstacle) -> Block:
        """Return the box round an obstacle, between the inner faces.

        Parameters
        ----------
        obstacle : Obstacle
            What stands up through the floor. [mm]

        Returns
        -------
        Block
            With sides, ends and lid. [mm]

        References
        ----------
        Arithmetic.
        """
        wall, (first, last) = self.wall_mm, self.inner
        start, end = as_fraction(obstacle.start_mm) - wall, as_fraction(obstacle.end_mm) + wall
        start, end = max(start, first), min(end, last)
        centre, half = as_fraction(obstacle.centre_mm), as_fraction(obstacle.half_width_mm) + wall
        return Block(start, end, centre - half, centre + half, self.floor, as_fraction(obstacle.top_mm) + wall)

    def over(self, start: Fraction, end: Fraction) -> tuple[Bay, ...]:
        """Return the chamber's bays over a stretch.

        Parameters
        ----------
        start, end : Fraction
            The stretch. [mm]

        Returns
        -------
        tuple of Bay
            One or more. [mm]

        References
        ----------
        None needed.
        """
        return bays_over(self.chamber.bays, start, end)

    def within(self, start: Fraction, end: Fraction) -> tuple[Bay, ...]:
        """Return the chamber's bays, cut to a stretch.

        Parameters
        ----------
        start, end : Fraction
            The stretch. [mm]

        Returns
        -------
        tuple of Bay
            None where the stretch has no length. [mm]

        References
        ----------
        None needed.
        """
        return clip(self.chamber.bays, start, end)

    @cached_property
    def floor_band(self) -> Ends:
        """Lower and upper face of a floor plate. [mm]"""
        return self.floor, self.floor + self.wall_mm


def outline_over(bays: Sequence[Bay], low_mm: Fraction, high_mm: Fraction) -> Outline:
    """Return the outline that lies inside the sections of all bays, between two heights.

    Parameters
    ----------
    bays : sequence of Bay
        One or more. [mm]
    low_mm, high_mm : Fraction
        Heights above the seat, the upper one no higher than the lowest roof. [mm]

    Returns
    -------
    tuple of (Fraction, Fraction)
        Height and half-width, from the lowest up. [mm]

    References
    ----------
    `least_of`.
    """
    return least_of([section_of(bay.zone, low_mm, high_mm) for bay in bays])


def width_between(bay: Bay, low_mm: Fraction, high_mm: Fraction) -> Fraction:
    """Return the greatest width of a bay between two heights.

    Parameters
    ----------
    bay : Bay
        The bay. [mm]
    low_mm, high_mm : Fraction
        Heights above the seat. [mm]

    Returns
    -------
    Fraction
        Full width. [mm]

    References
    ----------
    A width that is straight between points is greatest at a point or an end.
    """
    if bay.zone.profile is None:
        return as_fraction(bay.zone.width_mm)
    return widest_mm(section_of(bay.zone, low_mm, min(high_mm, as_fraction(bay.zone.roof_mm))))
