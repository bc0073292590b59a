"""What one search asks of cross-sections again and again: each answer is worked out once, and kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any, TypeVar, cast

from modelmath.enclosure.cavity import Zone
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile
from modelmath.lengths.numbers import Number

Ends = tuple[Number, Number]
T = TypeVar("T")


class Sections:
    """The answers so far, for the zones of one cavity.

    References
    ----------
    `Profile`.
    """

    def __init__(self) -> None:
        self._widths: dict[tuple[int, Number, Number], Number] = {}
        self._wide: dict[tuple[int, Number, Number], list[Ends]] = {}
        self._beyond: dict[tuple[int, Number, Number], list[Ends]] = {}
        self._airs: dict[tuple[Ends, Number, tuple[int, ...]], Any] = {}
        self._asked: list[Any] = []  # kept, so that nothing else gets its id

    def air(self, ends: Ends, floor_mm: Number, boxed: Sequence[Obstacle], find: Callable[[], T]) -> T:
        """Return what boxes leave of a chamber of this cavity.

        Parameters
        ----------
        ends : tuple of two
            The chamber's inner faces. [mm]
        floor_mm : Fraction or float
            Height of its floor. [mm]
        boxed : sequence of Obstacle
            What is boxed in. [mm]
        find : function
            Works it out. [-]

        Returns
        -------
        Air
            What it found. [mm]

        References
        ----------
        `modelmath.enclosure.fitting.joined.air_in`.
        """
        key = (ends, floor_mm, tuple(id(each) for each in boxed))
        found = self._airs.get(key)
        if found is None:
            found = self._airs[key] = find()
            self._asked.append(boxed)
        return cast(T, found)

    def width_over(self, zone: Zone, low_mm: Number, high_mm: Number) -> Number:
        """Return the least inside width between two heights.

        Parameters
        ----------
        zone : Zone
            The zone. [mm]
        low_mm, high_mm : Fraction or float
            Heights above the seat. [mm]

        Returns
        -------
        Fraction or float
            Full width; 0 where part of it lies above the roof. [mm]

        References
        ----------
        `Zone.width_over`.
        """
        if zone.profile is None:
            return zone.width_over(low_mm, high_mm)
        key = (id(zone), low_mm, high_mm)
        found = self._widths.get(key)
        if found is None:
            found = self._widths[key] = zone.profile.width_over(low_mm, high_mm)
            self._asked.append(zone)
        return found

    def as_wide_as(self, profile: Profile, width_mm: Number, low_mm: Number) -> list[Ends]:
        """Return the stretches of height over which a section is at least so wide.

        Parameters
        ----------
        profile : Profile
            The section. [mm]
        width_mm : Fraction or float
            Full width wanted. [mm]
        low_mm : Fraction or float
            Height to begin at. [mm]

        Returns
        -------
        list of tuple of two
            Lower and upper height of each, from the lowest up. [mm]

        References
        ----------
        `Profile.as_wide_as`.
        """
        key = (id(profile), width_mm, low_mm)
        found = self._wide.get(key)
        if found is None:
            found = self._wide[key] = profile.as_wide_as(width_mm, low_mm)
            self._asked.append(profile)
        return found

    def beyond(self, zone: Zone, floor_mm: Number, low_mm: Number, aside_mm: Number) -> list[Ends]:
        """Return the heights over a lid at which a section reaches further out than a place aside of the middle.

        Parameters
        ----------
        zone : Zone
            The zone. [mm]
        floor_mm : Fraction or float
            Height of the chamber's floor. [mm]
        low_mm : Fraction or float
            Height of the lid, no lower than the floor. [mm]
        aside_mm : Fraction or float
            The place, from the centre line. [mm]

        Returns
        -------
        list of tuple of two
            Lower and upper height of each stretch, from the lowest up. [mm]

        References
        ----------
        Linear interpolation.
        """
        if low_mm >= zone.roof_mm:
            return []
        if zone.profile is None:
            return [(low_mm, zone.roof_mm)] if zone.width_mm > 2 * aside_mm else []
        key = (id(zone), floor_mm, aside_mm)
        known = self._beyond.get(key)
        if known is None:
            known = self._beyond[key] = _beyond(zone.profile, floor_mm, aside_mm)
            self._asked.append(zone)
        return [(max(bottom, low_mm), top) for bottom, top in known if top > low_mm]


def _beyond(profile: Profile, floor: Number, aside: Number) -> list[Ends]:
    """Return the heights over a floor at which a section reaches further out than a place aside of the middle."""
    points = profile.points
    found: list[Ends] = []
    for (bottom, start), (top, end) in pairwise(((min(floor, points[0][0]), points[0][1]), *points)):
        if top <= max(bottom, floor) or max(start, end) <= aside:
            continue
        crossed = bottom if min(start, end) >= aside else bottom + (top - bottom) * _part(aside - start, end - start)
        low, high = max(bottom if start >= aside else crossed, floor), top if end >= aside else crossed
        if found and found[-1][1] == low:
            found[-1] = (found[-1][0], high)
        elif low < high:
            found.append((low, high))
    return found


def _part(part: Number, whole: Number) -> Number:
    return Fraction(part, whole) if isinstance(part, int) and isinstance(whole, int) else part / whole
