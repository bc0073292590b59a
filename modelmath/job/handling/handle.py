"""What can be moved in the side elevation: where it is, where it may be put, and why it can't be put elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from modelmath.errors import ModelMathError

Kind = Literal["bulkhead", "closure", "speaker", "obstacle"]


@dataclass(frozen=True)
class Band:
    """The places that something can be moved through from where it is.

    Attributes
    ----------
    low_mm, high_mm : Fraction
        The first and the last of them, from the fore-aft mark. [mm]
    why_low, why_high : str
        Why it can't go further to the front, and to the rear. [-]
    """

    low_mm: Fraction
    high_mm: Fraction
    why_low: str
    why_high: str

    def holds(self, place_mm: Fraction) -> bool:
        """Say whether a place lies in it.

        Parameters
        ----------
        place_mm : Fraction
            A place. [mm]

        Returns
        -------
        bool
            Whether it does. [-]

        References
        ----------
        None needed.
        """
        return self.low_mm <= place_mm <= self.high_mm


@dataclass(frozen=True)
class Handle:
    """Something that can be moved.

    Attributes
    ----------
    key : str
        What tells it from all others of the plan: a field of the chamber, ``speaker``, or an obstacle's name. [-]
    kind : str
        What it is: bulkhead, closure, speaker or obstacle. [-]
    name : str
        What it is called on the sheets. [-]
    face : str
        Which of its faces its place is of. [-]
    at_mm : Fraction
        Where that face is now, from the fore-aft mark, positive to the rear. [mm]
    before_mm, behind_mm : Fraction
        How far it reaches ahead of that face, and behind it. [mm]
    places : tuple of Fraction
        The places it may be put at as far as shell and rule go, front to rear; where it is now is among them. [mm]
    steps : str
        How far apart these are, in words. [-]
    ends : tuple of two str
        What ends them at the front, and at the rear. [-]
    chosen_mm : Fraction or None
        Where it was before it was moved: of an obstacle where it was read. None where the plan chooses. [mm]
    moved : bool
        Whether it stands where it was put, not where the plan chose or it was read. [-]
    along : tuple of str
        What moves along with it. [-]
    fixed : str
        Why it can't be moved at all; empty where it can. [-]
    """

    key: str
    kind: Kind
    name: str
    face: str
    at_mm: Fraction
    before_mm: Fraction
    behind_mm: Fraction
    places: tuple[Fraction, ...]
    steps: str
    ends: tuple[str, str]
    chosen_mm: Fraction | None = None
    moved: bool = False
    along: tuple[str, ...] = ()
    fixed: str = ""

    def nearest(self, place_mm: Fraction) -> Fraction:
        """Return the place it may be put at that is nearest to another; of two as near, the one further to the front.

        Parameters
        ----------
        place_mm : Fraction
            Any place. [mm]

        Returns
        -------
        Fraction
            One of its places. [mm]

        References
        ----------
        None needed.
        """
        return min(self.places, key=lambda each: (abs(each - place_mm), each))


class CantStand(ModelMathError):
    """Something can't be put where it was wanted; says why, and where it can be."""

    def __init__(self, name: str, place: str, why: str, instead: str, near_mm: Fraction | None = None) -> None:
        super().__init__(name, place, why, instead)
        self.name, self.place, self.why, self.instead, self.near_mm = name, place, why, instead, near_mm

    def __str__(self) -> str:
        return f"{self.name} can't stand {self.place}: {self.why} {self.instead}".rstrip()
