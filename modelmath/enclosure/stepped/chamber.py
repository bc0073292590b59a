"""A chamber whose floor has steps, and the pieces that it is made of beside the walls."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from modelmath.lengths.numbers import Number


@dataclass(frozen=True)
class LevelFloor:
    """One level stretch of a floor.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Its ends, from the fore-aft mark: the outer face of an end wall, or the edge of a step. [mm]
    floor_mm : Fraction or float
        Its height above the seat. [mm]
    """

    start_mm: Number
    end_mm: Number
    floor_mm: Number

    @property
    def length_mm(self) -> Number:
        """Length between its ends. [mm]"""
        return self.end_mm - self.start_mm


@dataclass(frozen=True)
class Riser:
    """The upright piece at a step. It stands on the side of the lower floor, and closes the height between the two.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Its faces, from the fore-aft mark; one of them is the edge of the step. [mm]
    low_mm, high_mm : Fraction or float
        Heights of the two floors above the seat. [mm]
    width_mm : Fraction or float
        Greatest inside width it meets between these heights: what it is cut from has to be as wide. [mm]
    """

    start_mm: Number
    end_mm: Number
    low_mm: Number
    high_mm: Number
    width_mm: Number

    @property
    def height_mm(self) -> Number:
        """Height between the two floors. [mm]"""
        return self.high_mm - self.low_mm


@dataclass(frozen=True)
class FloorPlate:
    """The plate under one level of the floor, between the faces of what stands at its ends: wall, riser or step edge.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Its ends, from the fore-aft mark. [mm]
    floor_mm : Fraction or float
        Height of its lower face above the seat: the chamber, and what it is measured by, reaches down to there. [mm]
    width_mm : Fraction or float
        Greatest inside width it meets at that height. [mm]
    """

    start_mm: Number
    end_mm: Number
    floor_mm: Number
    width_mm: Number

    @property
    def length_mm(self) -> Number:
        """Length along the shell; 0 where wall and riser leave nothing of it. [mm]"""
        return self.end_mm - self.start_mm


@dataclass(frozen=True)
class LeftOut:
    """A larger chamber that was left out, because one of its risers is lower than can be marked and cut.

    Attributes
    ----------
    steps : int
        How many steps its floor has. [-]
    volume_mm3 : Fraction or float
        Its gross volume. [mm3]
    riser_mm : Fraction or float
        Height of its lowest riser. [mm]
    least_mm : Fraction or float
        Least height that was asked for. [mm]
    """

    steps: int
    volume_mm3: Number
    riser_mm: Number
    least_mm: Number


@dataclass(frozen=True)
class SteppedChamber:
    """A sealed space under the roof, between two ends, above one or more level floors.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Outer faces of its end walls, from the fore-aft mark. [mm]
    inner_start_mm, inner_end_mm : Fraction or float
        Inner faces: the same as the outer ones where the shell's own end closes it. [mm]
    floors : tuple of LevelFloor
        From the front; neighbours differ in height. [mm]
    risers : tuple of Riser
        One at each step, from the front. [mm]
    plates : tuple of FloorPlate
        One under each level, from the front; where nothing is left of one, it has no length. [mm]
    volume_mm3 : Fraction or float
        Gross volume: sum over the floors of cross-section x length between the inner faces, less the risers. [mm3]
    seat_mm : tuple of two, or None
        Front and rear edge of the speaker's flange; None without a speaker. [mm]
    seat_on : int or None
        On which of the floors it sits, counted from 0; None without a speaker. [-]
    left_out : tuple of LeftOut
        Chambers with as many steps, or more but fewer than the next that is kept, that would hold more than this one,
        over risers lower than the least. [mm]
    """

    start_mm: Number
    end_mm: Number
    inner_start_mm: Number
    inner_end_mm: Number
    floors: tuple[LevelFloor, ...]
    risers: tuple[Riser, ...]
    plates: tuple[FloorPlate, ...]
    volume_mm3: Number
    seat_mm: tuple[Number, Number] | None = None
    seat_on: int | None = None
    left_out: tuple[LeftOut, ...] = ()

    def __post_init__(self) -> None:
        assert len(self.risers) == len(self.floors) - 1
        assert all(one.floor_mm != next_.floor_mm for one, next_ in pairwise(self.floors))

    @property
    def steps(self) -> int:
        """How many steps its floor has. [-]"""
        return len(self.risers)

    @property
    def extra_pieces(self) -> int:
        """How many more pieces it takes than with a flat floor: risers, and plates with some length beyond one. [-]"""
        return self.steps + sum(plate.length_mm > 0 for plate in self.plates) - 1
