"""A strip of holes to match the lenses of a pair by: which sizes, and how finely they tell lenses apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import inf

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import Number
from modelmath.light.strands.checks import check_count, check_length

BELOW, AT, ABOVE = "below", "at", "above"
SAME_MM = 0.001  # drills this near drill the same hole, for a lens


@dataclass(frozen=True)
class GaugeHole:
    """One hole of the strip.

    Attributes
    ----------
    name : str
        Of its drill; of drills that are the same size within 0.001 mm, all their names. [-]
    diameter_mm : Fraction or float
        Its diameter. [mm]
    place : {"below", "at", "above"}
        Beside the size wanted. [-]
    """

    name: str
    diameter_mm: Number
    place: str


@dataclass(frozen=True)
class Gauge:
    """A strip of holes, in order of size.

    Attributes
    ----------
    target_mm : Fraction or float
        Diameter that the lenses are to have. [mm]
    holes : tuple of GaugeHole
        In order of size, the smallest first. [mm]
    """

    target_mm: Number
    holes: tuple[GaugeHole, ...]

    def __iter__(self) -> Iterator[GaugeHole]:
        return iter(self.holes)

    @property
    def below(self) -> GaugeHole | None:
        """The nearest hole that the lens does not pass; none where none is smaller. [mm]"""
        return max((hole for hole in self.holes if hole.place == BELOW), key=_size, default=None)

    @property
    def at(self) -> GaugeHole | None:
        """The hole of its very size, if there is one. [mm]"""
        return next((hole for hole in self.holes if hole.place == AT), None)

    @property
    def above(self) -> GaugeHole | None:
        """The nearest hole that it passes with play; none where none is larger. [mm]"""
        return min((hole for hole in self.holes if hole.place == ABOVE), key=_size, default=None)

    @property
    def step_mm(self) -> float | None:
        """Between the nearest hole that stops it and the nearest it passes: two lenses may differ by so much. [mm]"""
        passes = self.at or self.above
        if self.below is None or passes is None:
            return None
        return float(passes.diameter_mm - self.below.diameter_mm)

    @property
    def in_words(self) -> str:
        """How to use the strip, and how finely it tells. [-]"""
        wanted, below, passes = f"{float(self.target_mm):.2f} mm", self.below, self.at or self.above
        if below is None or passes is None:
            missing = "smaller" if below is None else "as large"
            return f"No hole is {missing}, so that this strip can't show a lens of {wanted}: add a drill."
        return (
            f"A lens of {wanted} passes {_named(passes)} and stops at {_named(below)}. Two lenses that do so differ by "
            f"{self.step_mm:.2f} mm at most."
        )


def _named(hole: GaugeHole) -> str:
    """Return a hole's name with its size, unless the name is its size. [-]"""
    size = f"{float(hole.diameter_mm):.2f} mm"
    return size if hole.name.endswith(" mm") else f"{hole.name} ({size})"


def gauge_holes(target_mm: Number, sizes: Sequence[tuple[str, Number]], each_side: int = 3) -> Gauge:
    """Return the holes of a strip to match lenses by.

    Parameters
    ----------
    target_mm : Fraction or float
        Diameter that the lenses are to have. [mm]
    sizes : sequence of (str, Fraction or float)
        Drills on hand, by name, with their diameters, in any order. [mm]
    each_side : int
        How many holes below the size wanted, and how many above. [-]

    Returns
    -------
    Gauge
        The holes in order of size, with one of the very size where there is such a drill. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If the size wanted or one of the drills is no number above 0, there are no drills, or no hole is asked for.

    Notes
    -----
    A drilled hole comes out a little over its drill. That is the same for both lenses of a pair, so they still match.

    References
    ----------
    Ordering by size.

    Examples
    --------
    >>> drills = [("#55", 1.3208), ("#56", 1.1811), ("1.2 mm", 1.2), ("#57", 1.0922)]
    >>> strip = gauge_holes(1.2, drills, each_side=1)
    >>> [(hole.name, hole.place) for hole in strip.holes]
    [('#56', 'below'), ('1.2 mm', 'at'), ('#55', 'above')]
    """
    check_length("target_mm", target_mm, such_as="1.2")
    check_count("each_side", each_side, "Write how many holes on each side, such as 3.")
    _check_sizes(sizes)
    placed: dict[str, list[GaugeHole]] = {BELOW: [], AT: [], ABOVE: []}
    for name, mm in _merged(sizes):
        place = _place(float(mm), float(target_mm))
        placed[place].append(GaugeHole(name, mm, place))
    return Gauge(target_mm, (*placed[BELOW][-each_side:], *placed[AT], *placed[ABOVE][:each_side]))


def _check_sizes(sizes: Sequence[tuple[str, Number]]) -> None:
    if not sizes:
        raise OutOfRange("the number of drills", "0", "1 or more", "Enter the drills on hand, or take a whole set.")
    for size in sizes:
        if not (isinstance(size, tuple) and len(size) == 2 and isinstance(size[0], str)):
            raise WrongKind("a drill", shown(str(size)), "its name and its diameter", "Write ('#56', 1.1811).")
        if not (type(size[1]) in (Fraction, float) and 0 < size[1] < inf):  # most are, and a set has a hundred
            check_length(f"drill {size[0]}", size[1], such_as="1.2")


def _merged(sizes: Sequence[tuple[str, Number]]) -> list[tuple[str, Number]]:
    """Return the drills in order of size, those of one size as one; its diameter is the smallest one's."""
    found: list[tuple[list[str], Number]] = []
    last = -inf
    for size, name, mm in sorted((float(mm), name, mm) for name, mm in sizes):
        if size - last > SAME_MM:
            found.append(([name], mm))
            last = size
        elif name not in found[-1][0]:
            found[-1][0].append(name)
    return [(" or ".join(names), mm) for names, mm in found]


def _place(mm: float, target_mm: float) -> str:
    if abs(mm - target_mm) <= SAME_MM:
        return AT
    return BELOW if mm < target_mm else ABOVE


def _size(hole: GaugeHole) -> Number:
    return hole.diameter_mm
