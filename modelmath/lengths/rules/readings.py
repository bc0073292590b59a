"""A reading belongs to a rule; heights are taken from the seat, or linked to it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from modelmath.errors import UnknownChoice, WrongKind
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.repeats import Repeats, mean_of

SEAT = "seat"
FACES = (SEAT, "bench", "rail top", "deck")


@dataclass(frozen=True)
class Measured:
    """A length with its exact nominal value beside its uncertain one.

    Attributes
    ----------
    exact_mm : Fraction
        Nominal length, exact, so that rounding to a mark meets no float tie. [mm]
    value : uncertain number
        The same length with its uncertainty. [mm]
    how : str
        How it came about, in words. [-]
    """

    exact_mm: Fraction
    value: Any
    how: str

    def __add__(self, other: Measured) -> Measured:
        return Measured(self.exact_mm + other.exact_mm, self.value + other.value, f"{self.how} + {other.how}")

    def __sub__(self, other: Measured) -> Measured:
        return Measured(self.exact_mm - other.exact_mm, self.value - other.value, f"{self.how} - {other.how}")

    @property
    def u_mm(self) -> float:
        """Standard uncertainty. [mm]"""
        return float(getattr(self.value, "std_dev", 0.0))


@dataclass(frozen=True)
class Reading:
    """One reading of one feature with one rule.

    Attributes
    ----------
    name : str
        What was read, such as ``chassis top``. [-]
    rule : Rule
        What it was read with. [-]
    mark : str
        The mark as it was written down. [rule's unit]
    datum : {"end", "zero"}
        What stood against the part: the rule's end, or its zero mark. [-]
    face : {"seat", "bench", "rail top", "deck"}
        Face the height was taken from. [-]
    again : tuple of str
        Marks of further readings of the same spot; their mean counts. [rule's unit]
    """

    name: str
    rule: Rule
    mark: str
    datum: str = "end"
    face: str = SEAT
    again: tuple[str, ...] = ()
    measured: Measured = field(init=False)
    repeats: Repeats = field(init=False)

    def __post_init__(self) -> None:
        repeats, exact, value = mean_of(self.rule, (self.mark, *self.again), self.datum, self.name)
        object.__setattr__(self, "repeats", repeats)
        object.__setattr__(self, "measured", Measured(exact, value, self.name))
        if self.face not in FACES:
            raise UnknownChoice(f"the face of {self.name}", self.face, FACES)

    @property
    def value(self) -> Any:
        """Corrected length with its uncertainty. [mm]"""
        return self.measured.value


def from_seat(reading: Reading, links: dict[str, Reading]) -> Measured:
    """Return a height above the seat; a height from another face goes through that face's link reading.

    Parameters
    ----------
    reading : Reading
        A height above the seat or above another face. [mm]
    links : dict of str to Reading
        By face: the seat's own height above that face. [mm]

    Returns
    -------
    Measured
        Height above the seat. [mm]

    Raises
    ------
    WrongKind
        If the face has no link reading.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> rule = Rule(unit="mm", graduation="0.5")
    >>> link = Reading("seat above bench", rule, "21.5", face="bench")
    >>> top = Reading("chassis top", rule, "30", face="bench")
    >>> from_seat(top, {"bench": link}).exact_mm
    Fraction(17, 2)
    """
    if reading.face == SEAT:
        return reading.measured
    if reading.face not in links:
        raise WrongKind(
            f"the height of {reading.name}",
            f"taken from the {reading.face}",
            "a height from the seat, where the shell rests on the chassis",
            f"Add a link reading: the seat's height above the {reading.face}, read the same way.",
        )
    return reading.measured - links[reading.face].measured


def offset_cancels(difference: Any, rule: Rule) -> bool:
    """Whether a rule's zero offset has no part in a length derived from its readings.

    Parameters
    ----------
    difference : uncertain number
        Length derived from readings. [mm]
    rule : Rule
        The rule in question. [-]

    Returns
    -------
    bool
        True if changing the offset would not change the length. [-]

    References
    ----------
    JCGM 100:2008, 5.1.3: the sensitivity to that input is zero.

    Examples
    --------
    >>> rule = Rule(scale="HO", zero_offset="1", offset_uncertainty="0.1 mm")
    >>> offset_cancels(rule.length("11 1/4") - rule.length("7 1/2"), rule)
    True
    """
    slopes = getattr(difference, "derivatives", {})
    return bool(abs(slopes.get(rule.offset_source, 0.0)) <= 1e-12)


__all__ = ["FACES", "SEAT", "Measured", "Reading", "from_seat", "offset_cancels"]
