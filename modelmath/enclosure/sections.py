"""The cross-section of a shell's inside: its half-width at each height, straight between the points given."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number

Point = tuple[Number, Number]


@dataclass(frozen=True)
class Profile:
    """Half-width against height, the same on both sides of the centre line.

    Below its first point the inside is as wide as there; above its last there is no inside. Two points at one height
    are a ledge, such as the underside of a side rib.

    Attributes
    ----------
    points : tuple of (Fraction or float, Fraction or float)
        Height above the seat and half-width there, from the lowest up. [mm]

    References
    ----------
    Elementary geometry: a polygon, its area by trapezia.

    Examples
    --------
    >>> tent = Profile(((0, 10), (5, 10), (15, 0)))
    >>> tent.area_above(5), tent.width_over(0, 10), tent.width_at(10)
    (100, Fraction(10, 1), Fraction(10, 1))
    """

    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", tuple((height, half) for height, half in self.points))
        if len(self.points) < 2:
            raise OutOfRange(
                "the cross-section", f"{len(self.points)} points", "two or more", "Measure the width at two heights."
            )
        for height, half in self.points:
            check_number("the cross-section: height", height)
            check_number("the cross-section: half-width", half)
            if half < 0:
                given = f"{float(half):.2f} mm at {float(height):.2f} mm"
                raise OutOfRange("the cross-section: half-width", given, "0 or more", "Measure from the centre line.")
        if not any(half > 0 for _, half in self.points):
            raise OutOfRange("the cross-section", "0 mm wide", "wider than 0", "Check its inside width.")
        for (low, _), (high, _) in pairwise(self.points):
            if high < low:
                given = f"{float(high):.2f} mm after {float(low):.2f} mm"
                raise OutOfRange("the cross-section: heights", given, "rising", "List the points from the lowest up.")
        if not self.roof_mm > self.points[0][0]:
            given = f"all points at {float(self.roof_mm):.2f} mm"
            raise OutOfRange("the cross-section", given, "two heights or more", "Add the width lower down.")

    @cached_property
    def exact_points(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """Its points as fractions. [mm]"""
        return tuple((Fraction(height), Fraction(half)) for height, half in self.points)

    @property
    def roof_mm(self) -> Number:
        """Height of its last point, the highest of the roof's underside. [mm]"""
        return self.points[-1][0]

    @property
    def widest_mm(self) -> Number:
        """Its greatest width. [mm]"""
        return 2 * max(half for _, half in self.points)

    def width_at(self, height_mm: Number) -> Number:
        """Return the width at a height; at a ledge, the lesser of its two.

        Parameters
        ----------
        height_mm : Fraction or float
            Height above the seat. [mm]

        Returns
        -------
        Fraction or float
            Full width; 0 above the roof. [mm]

        References
        ----------
        Linear interpolation.
        """
        return 2 * self._half_over(height_mm, height_mm)

    def width_over(self, low_mm: Number, high_mm: Number) -> Number:
        """Return the least width between two heights: what an upright box may be wide, a ledge just touched.

        Parameters
        ----------
        low_mm, high_mm : Fraction or float
            Heights above the seat. [mm]

        Returns
        -------
        Fraction or float
            Full width; 0 where part of it lies above the roof. [mm]

        References
        ----------
        A function that is straight between its points has its least value at a point or at an end.
        """
        if low_mm >= high_mm or high_mm > self.roof_mm:
            return 2 * self._half_over(low_mm, high_mm)
        within = [half for height, half in self.points if low_mm < height < high_mm]
        return 2 * min([*within, self._half_above(low_mm), self._half_at(high_mm)])

    def _half_over(self, low: Number, high: Number) -> Number:
        if high > self.roof_mm:
            return 0
        within = [half for height, half in self.points if low <= height <= high]
        return min([*within, self._half_at(low), self._half_at(high)])

    def _half_above(self, height: Number) -> Number:
        """Return the half-width just above a height lower than the roof."""
        if height < self.points[0][0]:
            return self.points[0][1]
        for (low, start), (high, end) in pairwise(self.points):
            if low <= height < high:
                return start if start == end else start + (end - start) * _ratio(height - low, high - low)
        return self.points[-1][1]

    def _half_at(self, height: Number) -> Number:
        """Return the half-width at a height no higher than the roof; at a ledge, that just below."""
        if height <= self.points[0][0]:
            return self.points[0][1]
        for (low, start), (high, end) in pairwise(self.points):
            if height <= high and high > low:
                return start if start == end else start + (end - start) * _ratio(height - low, high - low)
        return self.points[-1][1]

    def area_above(self, floor_mm: Number) -> Number:
        """Return the area between a level floor and the roof.

        Parameters
        ----------
        floor_mm : Fraction or float
            Height of the floor above the seat. [mm]

        Returns
        -------
        Fraction or float
            Area; 0 where the floor lies at the roof or above it. [mm2]

        References
        ----------
        The trapezium rule, exact for straight sides.
        """
        if floor_mm >= self.roof_mm:
            return 0
        first, half = self.points[0]
        area: Number = 2 * half * (first - floor_mm) if floor_mm < first else 0
        for (low, start), (high, end) in pairwise(self.points):
            if high <= floor_mm or high == low:
                continue
            if low < floor_mm:
                if start != end:
                    start += (end - start) * _ratio(floor_mm - low, high - low)  # noqa: PLW2901
                low = floor_mm  # noqa: PLW2901
            area += (start + end) * (high - low)
        return area

    def area_within(self, low_mm: Number, high_mm: Number, left_mm: Number, right_mm: Number) -> Number:
        """Return the area of the inside between two heights and two places across.

        Parameters
        ----------
        low_mm, high_mm : Fraction or float
            Heights above the seat. [mm]
        left_mm, right_mm : Fraction or float
            Places across, from the centre line. [mm]

        Returns
        -------
        Fraction or float
            Area. [mm2]

        References
        ----------
        The trapezium rule: between the heights at which the outline crosses either place, the width is straight.
        """
        if low_mm < high_mm <= self.roof_mm and self.width_over(low_mm, high_mm) >= 2 * max(-left_mm, right_mm):
            return max(right_mm - left_mm, 0) * (high_mm - low_mm)  # all of it lies within
        cuts: set[Number] = {low_mm, high_mm}
        cuts.update(*(self._heights_at(side) for side in (max(left_mm, -left_mm), max(right_mm, -right_mm))))
        cuts.update(height for height, _ in self.points)
        heights = sorted(each for each in cuts if low_mm <= each <= min(high_mm, self.roof_mm))
        area: Number = 0
        for low, high in pairwise(heights):
            # Straight between them, so that the middle's width is the mean one: a ledge at an end counts for neither.
            middle = low + (high - low) * _ratio(1, 2)
            half = self._half_at(middle)
            area += max(min(right_mm, half) - max(left_mm, -half), 0) * (high - low)
        return area

    def _heights_at(self, half_mm: Number) -> list[Number]:
        """Return the heights at which the outline crosses a half-width."""
        found = []
        for (low, start), (high, end) in pairwise(self.points):
            if high > low and (start - half_mm) * (end - half_mm) < 0:
                found.append(low + (high - low) * _ratio(half_mm - start, end - start))
        return found

    def as_wide_as(self, width_mm: Number, low_mm: Number) -> list[Point]:
        """Return the stretches of height over which the inside is at least so wide.

        Parameters
        ----------
        width_mm : Fraction or float
            Full width wanted. [mm]
        low_mm : Fraction or float
            Height to begin at. [mm]

        Returns
        -------
        list of (Fraction or float, Fraction or float)
            Lower and upper height of each, from the lowest up. [mm]

        References
        ----------
        Linear interpolation.
        """
        half, (first, side) = width_mm * _ratio(1, 2), self.points[0]
        found: list[Point] = []
        for (low, start), (high, end) in pairwise(((min(low_mm, first), side), *self.points)):
            if high <= max(low, low_mm) or min(start, end) < half >= max(start, end):
                continue
            bottom, top = low, high
            if start < half:
                bottom = low + (high - low) * _ratio(half - start, end - start)
            elif end < half:
                top = low + (high - low) * _ratio(half - start, end - start)
            bottom = max(bottom, low_mm)
            if found and found[-1][1] == bottom and self._half_over(bottom, bottom) >= half:
                found[-1] = (found[-1][0], top)
            elif bottom < top:
                found.append((bottom, top))
        return found

    def narrowed(self, by_mm: Number) -> Profile:
        """Return the same with some width taken off, as much at every height.

        Parameters
        ----------
        by_mm : Fraction or float
            Width to take off, less than its widest. [mm]

        Returns
        -------
        Profile
            It ends where nothing is left. [mm]

        Raises
        ------
        OutOfRange
            If nothing is left at all.

        References
        ----------
        Arithmetic.
        """
        half = by_mm * _ratio(1, 2)
        points = sorted(
            [*((height, each) for height, each in self.points), *((h, half) for h in self._heights_at(half))],
            key=lambda point: point[0],
        )
        kept = [(height, max(each - half, 0)) for height, each in points]
        while len(kept) > 2 and kept[-1][1] == 0 and kept[-2][1] == 0:
            kept.pop()
        if kept[0][0] == kept[-1][0]:  # cut off at a ledge, below which it is as wide as at its first point
            kept.insert(0, (kept[0][0] - 1, kept[0][1]))
        return Profile(tuple(kept))


def _ratio(part: Number, whole: Number) -> Number:
    """Return a quotient, exact where both numbers are."""
    if isinstance(part, float) or isinstance(whole, float):
        return part / whole
    return Fraction(part, whole)
