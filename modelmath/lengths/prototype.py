"""A length on the prototype: a type of its own, which nothing but a `Scale` turns into a model length."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

_SIXTEENTHS = 16  # prototype drawings are dimensioned to sixteenths of an inch; common practice, no source


@dataclass(frozen=True, order=True)
class PrototypeLength:
    """A length on the prototype.

    It adds to and subtracts from its own kind, and multiplies by a whole number or Fraction. It has no float
    value, so that it can't slip into a sum of model lengths.

    Attributes
    ----------
    feet : Fraction
        The length, exact. [ft]
    """

    feet: Fraction

    def __add__(self, other: object) -> PrototypeLength:
        return PrototypeLength(self.feet + other.feet) if isinstance(other, PrototypeLength) else NotImplemented

    def __sub__(self, other: object) -> PrototypeLength:
        return PrototypeLength(self.feet - other.feet) if isinstance(other, PrototypeLength) else NotImplemented

    def __mul__(self, times: int | Fraction) -> PrototypeLength:
        return PrototypeLength(self.feet * times) if isinstance(times, (int, Fraction)) else NotImplemented

    __rmul__ = __mul__

    def __str__(self) -> str:
        sixteenths = round(abs(self.feet) * 12 * _SIXTEENTHS)
        feet, rest = divmod(sixteenths, 12 * _SIXTEENTHS)
        inches, part = divmod(rest, _SIXTEENTHS)
        fraction = f" {Fraction(part, _SIXTEENTHS)}" if part else ""
        sign = "-" if self.feet < 0 and sixteenths else ""
        return f"{sign}{feet}' {inches}{fraction}\""
