"""What the holes are laid out in: the holes wanted, the face of the bulkhead or plate, and what to keep out of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby, pairwise

from modelmath.enclosure.sections import Point, Profile
from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.numbers import Number, check_number

MOST_HOLES = 24  # the search grows with the square of the holes: our choice
NOISE_MM = 1e-9  # an outline so near to the plate's own size is that size


@dataclass(frozen=True)
class Hole:
    """A hole wanted, or several alike.

    Attributes
    ----------
    name : str
        What passes it, such as ``headlight strand``. [-]
    diameter_mm : Fraction or float
        Its diameter. [mm]
    circuit : str
        The circuit that it carries; holes of different circuits can be kept further apart. [-]
    drill : str
        The drill that makes it, as the sheets name it. [-]
    count : int
        How many alike; they are numbered where there are several. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> Hole("strand", 0.8, circuit="headlight", drill="0.80 mm").radius_mm
    0.4
    """

    name: str
    diameter_mm: Number
    circuit: str = ""
    drill: str = ""
    count: int = 1

    def __post_init__(self) -> None:
        for text, what in ((self.name, "name"), (self.circuit, "circuit"), (self.drill, "drill")):
            if not isinstance(text, str):
                raise WrongKind(f"hole: {what}", repr(text), "text", "Write it in quotes.")
        if not self.name.strip():
            raise OutOfRange("hole: name", "empty", "text", "Write what passes it, such as strand.")
        _above_zero(f"{self.name}: diameter", self.diameter_mm)
        if isinstance(self.count, bool) or not isinstance(self.count, int):
            raise WrongKind(f"{self.name}: count", repr(self.count), "a whole number", "Write 1 for one hole.")
        if not 1 <= self.count <= MOST_HOLES:
            expected = f"from 1 to {MOST_HOLES}"
            remedy = "Write 1 for one hole."
            if self.count > MOST_HOLES:
                remedy = "Bundle some, and enter the bundle's diameter as one."
            raise OutOfRange(f"{self.name}: count", str(self.count), expected, remedy)

    @property
    def radius_mm(self) -> float:
        """Half its diameter. [mm]"""
        return float(self.diameter_mm) / 2


@dataclass(frozen=True)
class PlacedHole:
    """A hole and where its middle lies.

    Attributes
    ----------
    hole : Hole
        One hole, its name its own. [-]
    x_mm, y_mm : float
        Place of its middle: from the centre line, positive to the right, and from the lower edge up. [mm]
    """

    hole: Hole
    x_mm: float
    y_mm: float

    @property
    def name(self) -> str:
        """The hole's name. [-]"""
        return self.hole.name

    @property
    def radius_mm(self) -> float:
        """Half its diameter. [mm]"""
        return self.hole.radius_mm


@dataclass(frozen=True)
class KeepOut:
    """A rectangle that no hole may come near: a post, a glue line, a speaker's opening.

    Attributes
    ----------
    name : str
        What it is. [-]
    left, right : Fraction or float
        Its sides, from the centre line, positive to the right. [mm]
    bottom, top : Fraction or float
        Its lower and upper side, from the plate's lower edge. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> KeepOut("corner post", 7, 9, 0, 12).name
    'corner post'
    """

    name: str
    left: Number
    right: Number
    bottom: Number
    top: Number

    def __post_init__(self) -> None:
        for side in ("left", "right", "bottom", "top"):
            check_number(f"{self.name}: {side}", getattr(self, side))
        for low, high, extent in (("left", "right", "wide"), ("bottom", "top", "high")):
            start, end = float(getattr(self, low)), float(getattr(self, high))
            if not end > start:
                given = f"from {start:.2f} to {end:.2f} mm"
                expected = f"more than 0 mm {extent}"
                raise OutOfRange(f"keep-out {self.name}", given, expected, f"Write its {low} before its {high}.")

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners, anticlockwise. [mm]"""
        left, right, bottom, top = (float(side) for side in (self.left, self.right, self.bottom, self.top))
        return ((left, bottom), (right, bottom), (right, top), (left, top))


@dataclass(frozen=True)
class Plate:
    """The face of a bulkhead or plate: its lower edge at height 0, its centre line at 0.

    Attributes
    ----------
    width_mm, height_mm : Fraction or float
        Its greatest width and its height. [mm]
    outline : tuple of (Fraction or float, Fraction or float) or None
        Height and half-width at each corner, from the lower edge to the top, the same on both sides; two at one height
        are a ledge. None for a rectangle. [mm]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    A wall under an arched roof:

    >>> Plate(20, 12, ((0, 10), (8, 10), (12, 6))).half_at(10)
    8.0
    """

    width_mm: Number
    height_mm: Number
    outline: tuple[Point, ...] | None = None

    def __post_init__(self) -> None:
        _above_zero("plate: width", self.width_mm)
        _above_zero("plate: height", self.height_mm)
        if self.outline is None:
            return
        object.__setattr__(self, "outline", tuple((height, half) for height, half in self.outline))
        profile = Profile(self.outline)
        ends = (float(self.outline[0][0]), float(profile.roof_mm))
        if abs(ends[0]) > NOISE_MM or abs(ends[1] - float(self.height_mm)) > NOISE_MM:
            given = f"from {ends[0]:.2f} to {ends[1]:.2f} mm"
            expected = f"from 0 to the height of {float(self.height_mm):.2f} mm"
            raise OutOfRange("plate: heights of the outline", given, expected, "Measure from its lower edge.")
        if abs(float(profile.widest_mm) - float(self.width_mm)) > NOISE_MM:
            given = f"{float(profile.widest_mm):.2f} mm wide at most"
            expected = f"as wide as the plate, {float(self.width_mm):.2f} mm"
            raise OutOfRange("plate: outline", given, expected, "Write half of the width at its widest.")

    @cached_property
    def side(self) -> tuple[tuple[float, float], ...]:
        """Height and half-width of the right side's corners, from the lower edge up, no two alike. [mm]"""
        half = float(self.width_mm) / 2
        outline = self.outline or ((0, half), (self.height_mm, half))
        return tuple(corner for corner, _ in groupby((float(height), float(wide)) for height, wide in outline))

    @cached_property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners as (across, up), anticlockwise from the lower right. [mm]"""
        right = [(half, height) for height, half in self.side]
        left = [(-half, height) for half, height in reversed(right)]
        corners = [corner for corner, _ in groupby(right + left)]
        return tuple(corners[:-1] if corners[-1] == corners[0] else corners)

    def half_at(self, height_mm: Number) -> float:
        """Return the half-width at a height; at a ledge, the lesser of its two; 0 beyond the plate.

        Parameters
        ----------
        height_mm : Fraction or float
            Height above the lower edge. [mm]

        Returns
        -------
        float
            Half of the width there. [mm]

        References
        ----------
        Linear interpolation.

        Examples
        --------
        >>> Plate(20, 12).half_at(6), Plate(20, 12).half_at(13)
        (10.0, 0.0)
        """
        height, found = float(height_mm), list[float]()
        for (low, start), (high, end) in pairwise(self.side):
            if low <= height <= high:
                share = (height - low) / (high - low) if high > low else 0.0
                found += [start + (end - start) * share] if high > low else [start, end]
        return min(found, default=0.0)


def numbered_holes(holes: Sequence[Hole]) -> tuple[Hole, ...]:
    """Return single holes, each with a name of its own: several of one name are numbered in the order given.

    Parameters
    ----------
    holes : sequence of Hole
        Those wanted; a count or a repeated name makes several. [-]

    Returns
    -------
    tuple of Hole
        One for each.

    Raises
    ------
    OutOfRange
        If there are none or too many.

    References
    ----------
    None needed.

    Examples
    --------
    >>> [hole.name for hole in numbered_holes([Hole("strand", 1, count=2), Hole("wire", 2)])]
    ['strand 1', 'strand 2', 'wire']
    """
    total = Counter[str]()
    for hole in holes:
        total[hole.name] += hole.count
    if not 1 <= total.total() <= MOST_HOLES:
        raise OutOfRange(
            "holes", str(total.total()), f"from 1 to {MOST_HOLES} of them", "Lay out several plates for more."
        )
    taken, last, single = {name for name, count in total.items() if count == 1}, Counter[str](), list[Hole]()
    for hole in holes:
        for _ in range(hole.count):
            single.append(replace(hole, name=_own_name(hole.name, total, taken, last), count=1))
    return tuple(single)


def _own_name(name: str, total: Counter[str], taken: set[str], last: Counter[str]) -> str:
    """Return the name itself where it is the only one, else with the next number that no other hole has."""
    if total[name] == 1:
        return name
    while True:
        last[name] += 1
        numbered = f"{name} {last[name]}"
        if numbered not in taken:
            taken.add(numbered)
            return numbered


def _above_zero(name: str, value: Number) -> None:
    check_number(name, value)
    if not value > 0:
        raise OutOfRange(name, f"{float(value):.2f} mm", "above 0 mm", "Write its size in mm, such as 0.8.")
