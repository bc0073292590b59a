"""A fit in whole numbers: all lengths times one common denominator, so that it is exact and still quick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import Any

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity, Zone
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number, check_common_step

HUNDREDTHS = 100


class Whole:
    """What a chamber is fitted into, in whole numbers of one small unit, and the way back.

    Parameters
    ----------
    cavity : Cavity
        The cavity. [mm]
    limits : Limits
        The limits. [mm]
    speaker : Speaker or None
        The speaker. [mm]
    decoder : Box or None
        The decoder. [mm]
    known : Whole or None
        Another of the very same cavity and limits, which are then not turned to whole numbers again. [-]
    """

    def __init__(
        self,
        cavity: Cavity,
        limits: Limits,
        speaker: Speaker | None,
        decoder: Box | None,
        known: Whole | None = None,
    ) -> None:
        self._shell = (cavity, limits)
        if known is not None and not (known._shell[0] is cavity and known._shell[1] is limits):
            known = None
        self._of_shell: _Fineness = (
            _Fineness.of((cavity.zones, cavity.obstacles, limits)) if known is None else (known._of_shell)
        )
        contents = _Fineness.of((speaker, decoder))
        self.float = self._of_shell.float or contents.float
        # Twice as fine as need be, so that the middle between two places is whole as well; and hundredths are, so that
        # what is tried by hundredths is all in one unit.
        self.per_mm = check_common_step(
            "sizes of the cavity", 2 * lcm(self._of_shell.per_mm, contents.per_mm, HUNDREDTHS)
        )
        self.speaker: Speaker | None = self._in_whole(speaker)
        self.decoder: Box | None = self._in_whole(decoder)
        if known is not None and (known.per_mm, known.float) == (self.per_mm, self.float):
            self.cavity: Cavity = known.cavity
            self.limits: Limits = known.limits
            self._origin: dict[int, Zone | Obstacle] = known._origin
            self._bays: dict[int, tuple[Bay, Bay]] = known._bays
            return
        self.cavity = self._in_whole(cavity)
        self.limits = self._in_whole(limits)
        self._origin = {}
        for zone, given in zip(self.cavity.zones, cavity.zones, strict=True):
            self._origin[id(zone)] = given
        for obstacle, stands in zip(self.cavity.obstacles, cavity.obstacles, strict=True):
            self._origin[id(obstacle)] = stands
        self._bays = {}

    def _in_whole(self, given: Any) -> Any:
        if isinstance(given, tuple):
            return tuple([self._in_whole(each) for each in given])
        if _is_number(given):
            return self._whole(given)
        if not hasattr(given, "__dataclass_fields__"):
            return given
        # What was given has been checked, and is as right in another unit.
        made = object.__new__(type(given))
        made.__dict__.update({name: self._in_whole(getattr(given, name)) for name in given.__dataclass_fields__})
        return made

    def _whole(self, value: Number) -> int:
        exact = _exact(value)
        times, left = divmod(self.per_mm, exact.denominator)
        assert not left
        return exact.numerator * times

    def back(self, value: Any, power: int = 1) -> Any:
        """Return a number of the small unit in mm, or in its square or cube.

        Parameters
        ----------
        value : int or Fraction
            A length, area or volume. [small unit]
        power : int
            1, 2 or 3. [-]

        Returns
        -------
        int, Fraction or float
            The same; a float where one was given, a whole number where it is one. [mm, mm2 or mm3]

        References
        ----------
        Arithmetic.
        """
        exact = Fraction(value, self.per_mm**power)
        if self.float:
            return float(exact)
        return exact.numerator if exact.denominator == 1 else exact

    def bay(self, mine: Bay) -> Bay:
        """Return a bay in mm, of the zone and cause that were given.

        Parameters
        ----------
        mine : Bay
            A bay of this fit. [small unit]

        Returns
        -------
        Bay
            The same. [mm]

        References
        ----------
        None needed.
        """
        kept = self._bays.get(id(mine))
        if kept is None:
            zone, cause = self._origin[id(mine.zone)], self._origin[id(mine.cause)]
            assert isinstance(zone, Zone)
            found = Bay(zone, self.back(mine.start_mm), self.back(mine.end_mm), self.back(mine.floor_mm), cause)
            kept = self._bays[id(mine)] = (mine, found)  # kept together, so that no other bay gets its id
        return kept[1]

    def obstacle(self, mine: Obstacle) -> Obstacle:
        """Return an obstacle as it was given.

        Parameters
        ----------
        mine : Obstacle
            An obstacle of this fit. [small unit]

        Returns
        -------
        Obstacle
            The same. [mm]

        References
        ----------
        None needed.
        """
        given = self._origin[id(mine)]
        assert isinstance(given, Obstacle)
        return given

    def lengths(self, thing: Any, **others: Any) -> Any:
        """Return a frozen record with all its lengths in mm.

        Parameters
        ----------
        thing : dataclass
            Its numbers are lengths. [small unit]
        **others : object
            Fields that are given as they are. [-]

        Returns
        -------
        same kind
            The same. [mm]

        References
        ----------
        None needed.
        """
        made = object.__new__(type(thing))  # what was fitted needs no check
        for name in thing.__dataclass_fields__:
            value = others[name] if name in others else getattr(thing, name)
            made.__dict__[name] = self.back(value) if name not in others and _is_number(value) else value
        return made

    def stretch(self, ends: tuple[Number, Number] | None) -> tuple[Number, Number] | None:
        """Return two places in mm.

        Parameters
        ----------
        ends : tuple of two, or None
            The places. [small unit]

        Returns
        -------
        tuple of two, or None
            The same. [mm]

        References
        ----------
        None needed.
        """
        return None if ends is None else (self.back(ends[0]), self.back(ends[1]))


@dataclass(frozen=True)
class _Fineness:
    """How fine a unit the numbers of some records need, and whether one of them is a float."""

    per_mm: int
    float: bool

    @classmethod
    def of(cls, things: Any) -> _Fineness:
        numbers = list(_numbers(things))
        return cls(
            lcm(*{_exact(each).denominator for each in numbers}), any(isinstance(each, float) for each in numbers)
        )


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float, Fraction)) and not isinstance(value, bool)


def _exact(value: Number) -> Fraction | int:
    return Fraction(value) if isinstance(value, float) else value


def _numbers(thing: Any) -> Iterator[Number]:
    """Yield every number in nested records."""
    if _is_number(thing):
        yield thing
    elif isinstance(thing, tuple):
        for each in thing:
            yield from _numbers(each)
    elif hasattr(thing, "__dataclass_fields__"):
        for name in thing.__dataclass_fields__:
            yield from _numbers(getattr(thing, name))
