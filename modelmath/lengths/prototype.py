"""Sizes on the prototype: types of their own, which nothing but a `Scale` turns into model sizes.

A length times a length is an area, an area times a length a volume. None has a float value.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar, overload

_SIXTEENTHS = 16  # prototype drawings are dimensioned to sixteenths of an inch; common practice, no source
_PLACES = 2  # decimals of an area or a volume in words; far finer than any is known


@dataclass(frozen=True, order=True)
class PrototypeLength:
    """A length on the prototype.

    It adds to and subtracts from its own kind, and multiplies by a whole number or Fraction; times another it
    is an area. It has no float value, so that it can't slip into a sum of model lengths.

    Attributes
    ----------
    feet : Fraction
        The length, exact. [ft]
    """

    kind: ClassVar[str] = "length"
    feet: Fraction

    def __add__(self, other: object) -> PrototypeLength:
        return PrototypeLength(self.feet + other.feet) if isinstance(other, PrototypeLength) else NotImplemented

    def __sub__(self, other: object) -> PrototypeLength:
        return PrototypeLength(self.feet - other.feet) if isinstance(other, PrototypeLength) else NotImplemented

    @overload
    def __mul__(self, times: PrototypeLength) -> PrototypeArea: ...
    @overload
    def __mul__(self, times: PrototypeArea) -> PrototypeVolume: ...
    @overload
    def __mul__(self, times: int | Fraction) -> PrototypeLength: ...
    def __mul__(
        self, times: PrototypeLength | PrototypeArea | int | Fraction
    ) -> PrototypeArea | PrototypeVolume | PrototypeLength:
        if isinstance(times, PrototypeLength):
            return PrototypeArea(self.feet * times.feet)
        if isinstance(times, PrototypeArea):
            return PrototypeVolume(self.feet * times.square_feet)
        return PrototypeLength(self.feet * times) if isinstance(times, (int, Fraction)) else NotImplemented

    __rmul__ = __mul__

    def __str__(self) -> str:
        sixteenths = round(abs(self.feet) * 12 * _SIXTEENTHS)
        feet, rest = divmod(sixteenths, 12 * _SIXTEENTHS)
        inches, part = divmod(rest, _SIXTEENTHS)
        fraction = f" {Fraction(part, _SIXTEENTHS)}" if part else ""
        sign = "-" if self.feet < 0 and sixteenths else ""
        return f"{sign}{feet}' {inches}{fraction}\""


@dataclass(frozen=True, order=True)
class PrototypeArea:
    """An area on the prototype.

    It adds to and subtracts from its own kind, and multiplies by a whole number or Fraction; times a prototype
    length it is a volume.

    Attributes
    ----------
    square_feet : Fraction
        The area, exact. [sq ft]
    """

    kind: ClassVar[str] = "area"
    square_feet: Fraction

    def __add__(self, other: object) -> PrototypeArea:
        return (
            PrototypeArea(self.square_feet + other.square_feet) if isinstance(other, PrototypeArea) else NotImplemented
        )

    def __sub__(self, other: object) -> PrototypeArea:
        return (
            PrototypeArea(self.square_feet - other.square_feet) if isinstance(other, PrototypeArea) else NotImplemented
        )

    @overload
    def __mul__(self, times: PrototypeLength) -> PrototypeVolume: ...
    @overload
    def __mul__(self, times: int | Fraction) -> PrototypeArea: ...
    def __mul__(self, times: PrototypeLength | int | Fraction) -> PrototypeVolume | PrototypeArea:
        if isinstance(times, PrototypeLength):
            return PrototypeVolume(self.square_feet * times.feet)
        return PrototypeArea(self.square_feet * times) if isinstance(times, (int, Fraction)) else NotImplemented

    __rmul__ = __mul__

    def __str__(self) -> str:
        return _in_words(self.square_feet, 12**2, "sq")


@dataclass(frozen=True, order=True)
class PrototypeVolume:
    """A volume on the prototype.

    It adds to and subtracts from its own kind, and multiplies by a whole number or Fraction.

    Attributes
    ----------
    cubic_feet : Fraction
        The volume, exact. [cu ft]
    """

    kind: ClassVar[str] = "volume"
    cubic_feet: Fraction

    def __add__(self, other: object) -> PrototypeVolume:
        return (
            PrototypeVolume(self.cubic_feet + other.cubic_feet)
            if isinstance(other, PrototypeVolume)
            else NotImplemented
        )

    def __sub__(self, other: object) -> PrototypeVolume:
        return (
            PrototypeVolume(self.cubic_feet - other.cubic_feet)
            if isinstance(other, PrototypeVolume)
            else NotImplemented
        )

    def __mul__(self, times: int | Fraction) -> PrototypeVolume:
        return PrototypeVolume(self.cubic_feet * times) if isinstance(times, (int, Fraction)) else NotImplemented

    __rmul__ = __mul__

    def __str__(self) -> str:
        return _in_words(self.cubic_feet, 12**3, "cu")


OnPrototype = PrototypeLength | PrototypeArea | PrototypeVolume


def _in_words(feet: Fraction, inches_per_foot: int, power: str) -> str:
    """Return an area or a volume in feet, or in inches where it is less than one foot of its kind."""
    small = 0 < abs(feet) < 1
    value = round(feet * inches_per_foot if small else feet, _PLACES)
    number = f"{float(value):.{_PLACES}f}".rstrip("0").rstrip(".") if value.denominator != 1 else str(value)
    return f"{number} {power} {'in' if small else 'ft'}"
