"""A chamber that fits, and all that a cavity can have."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.fitting.pockets import Pocket
from modelmath.enclosure.fitting.rooms import Stretch
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number, as_fraction

if TYPE_CHECKING:
    from modelmath.clearance import Marks
    from modelmath.enclosure.assemble import Place
    from modelmath.enclosure.parts import Part


@dataclass(frozen=True)
class Chamber:
    """A sealed space under the roof, between two ends, above one flat floor.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Outer faces of its end walls, from the fore-aft mark. [mm]
    inner_start_mm, inner_end_mm : Fraction or float
        Inner faces: the same as the outer ones where the shell's own end closes it. [mm]
    floor_mm : Fraction or float
        Lowest height its floor may have, above the seat. [mm]
    volume_mm3 : Fraction or float
        Gross volume: sum over its bays of cross-section x length between the inner faces, less what is boxed in. Where
        boxes part it along the shell, what is joined with the speaker; without one, the largest part. [mm3]
    bays : tuple of Bay
        The bays it takes in. [-]
    governing : Bay
        The bay whose chassis top, or what moves there, sets the floor. [-]
    seat_mm : tuple of two, or None
        Front and rear edge of the speaker's flange; None without a speaker. [mm]
    pocket : Pocket or None
        The decoder's room; None without one. [mm]
    boxed : tuple of Obstacle
        What its floor is cut round. [mm]
    narrow : tuple of Obstacle
        What stands along it that its floor may be cut round, boxed in or below. [mm]
    cut_from : Chamber or None
        Of a chamber as it is cut to marks, the exact one; None of an exact one. [mm]
    """

    start_mm: Number
    end_mm: Number
    inner_start_mm: Number
    inner_end_mm: Number
    floor_mm: Number
    volume_mm3: Number
    bays: tuple[Bay, ...]
    governing: Bay
    seat_mm: Stretch | None
    pocket: Pocket | None = None
    boxed: tuple[Obstacle, ...] = ()
    narrow: tuple[Obstacle, ...] = ()
    cut_from: Chamber | None = None

    @property
    def decoder_mm(self) -> Stretch | None:
        """Front and rear edge of the decoder's room; None without one. [mm]"""
        return None if self.pocket is None else (self.pocket.start_mm, self.pocket.end_mm)

    @property
    def front_wall(self) -> bool:
        """Whether the front end needs a wall of its own."""
        return self.inner_start_mm != self.start_mm

    @property
    def rear_wall(self) -> bool:
        """Whether the rear end needs a wall of its own."""
        return self.inner_end_mm != self.end_mm


@dataclass(frozen=True)
class Enclosure:
    """The chambers that a cavity can have, the largest first.

    Attributes
    ----------
    cavity : Cavity
        What they were fitted into. [-]
    limits : Limits
        What was kept. [-]
    speaker : Speaker or None
        The speaker they were fitted for. [-]
    decoder : Box or None
        What finds room beside them. [-]
    candidates : tuple of Chamber
        All that hold the speaker, by exact volume, the largest first; each has another floor, or leaves the decoder
        another place. Which is the largest once cut to marks, `as_cut` says. [mm]
    sections : Sections
        What is known of the zones' sections already. [mm]
    """

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    decoder: Box | None
    candidates: tuple[Chamber, ...]
    sections: Sections = field(default_factory=Sections, compare=False, repr=False)

    @cached_property
    def exact_limits(self) -> Limits:
        """What was kept, in fractions. [-]"""
        lengths: dict[str, Any] = {
            name: value if value is None or isinstance(value, bool) else as_fraction(value)
            for name, value in vars(self.limits).items()
        }
        return replace(self.limits, **lengths)

    @property
    def chamber(self) -> Chamber:
        """The largest by exact volume. [mm]"""
        return self.candidates[0]

    @property
    def runner_up(self) -> Chamber | None:
        """The next largest by exact volume, if there is one. [mm]"""
        return self.candidates[1] if len(self.candidates) > 1 else None

    @property
    def looked_at(self) -> int:
        """How many chambers were compared. [-]"""
        return len(self.candidates)

    def parts(self, marks: Marks) -> tuple[Part, ...]:
        """Size every part of the chamber that is largest as cut.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        tuple of Part
            Walls and posts, supports, fillers, floor plates. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic; each part's own function says which.
        """
        from modelmath.enclosure.assemble import parts_of

        return parts_of(self, self.as_cut(marks), marks)

    def places(self, marks: Marks) -> tuple[Place, ...]:
        """Say where everything stands in the chamber that is largest as cut.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        tuple of Place
            Every part with a place along the length, the speaker, the decoder. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic.
        """
        from modelmath.enclosure.assemble import parts_of, places_of

        chamber = self.as_cut(marks)
        return places_of(self, chamber, parts_of(self, chamber, marks))

    def as_cut(self, marks: Marks) -> Chamber:
        """Return the chamber that is largest once its floor and walls are moved in to the marks of the rule.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        Chamber
            The chamber that the parts make. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic.
        """
        return self.ranked_as_cut(marks, 1)[0]

    def ranked_as_cut(self, marks: Marks, most: int = 2) -> tuple[Chamber, ...]:
        """Return the largest chambers as they are cut, the largest first.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]
        most : int
            How many at most, 1 or more. [-]

        Returns
        -------
        tuple of Chamber
            One or more; of two as large, the one ranked first before cutting. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic; branch and bound, the exact volume being no less than that as cut.
        """
        from modelmath.enclosure.chosen import ranked_at_marks

        return ranked_at_marks(self, marks, most)
