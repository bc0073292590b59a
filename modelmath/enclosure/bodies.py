"""What has to find room: the speaker, the decoder, the lamps. Sizes come from the user's own parts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import permutations
from typing import Literal

from modelmath.enclosure.fitting.halves import half
from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.numbers import Number, check_number

Faces = Literal["down", "up", "front", "rear"]
FACES: tuple[Faces, ...] = ("down", "up", "front", "rear")
PLACES = ("middle", "front", "rear")


def _positive(name: str, value: Number) -> None:
    check_number(name, value)
    if not value > 0:
        raise OutOfRange(name, f"{float(value):g} mm", "above 0", "Measure the part and write its size, such as 15 mm.")


def _not_below_0(name: str, value: Number) -> None:
    check_number(name, value)
    if value < 0:
        raise OutOfRange(name, f"{float(value):g} mm", "0 or more", "Write 0 mm for none.")


@dataclass(frozen=True)
class Speaker:
    """A speaker, its flange level with the chamber's floor, under its roof, or against the wall at one end.

    Attributes
    ----------
    length_mm, width_mm : Fraction or float
        Outside size of the flange, along and across the shell; of one that faces an end, upright and across. The
        diameter twice for a round one. [mm]
    flange_mm : Fraction or float
        Thickness of the flange where it rests on its supports. [mm]
    depth_mm : Fraction or float
        From the flange's sounding face to its highest point behind, magnet included. [mm]
    name : str
        Name on the sheets. [-]
    faces : {"down", "up", "front", "rear"}
        Where it sounds to: through the floor, through the roof, or through the wall at that end. [-]
    place : {"middle", "front", "rear"}, Fraction or float
        Where it is wanted along the chamber, as far as it goes; or the place of its front edge from the fore-aft mark.
        One that faces an end stands at that end. [mm]
    basket_length_mm, basket_width_mm : Fraction, float or None
        Size of what stands behind the flange; None where that is as large as the flange. [mm]
    terminals_mm : Fraction or float
        How far terminals and wires stand out behind its depth. [mm]
    travel_mm : Fraction or float
        How far the cone moves out over its face; kept free below one that faces down, beside the clearance. [mm]
    """

    length_mm: Number
    width_mm: Number
    flange_mm: Number
    depth_mm: Number
    name: str = "speaker"
    faces: Faces = "down"
    place: str | Number = "middle"
    basket_length_mm: Number | None = None
    basket_width_mm: Number | None = None
    terminals_mm: Number = 0
    travel_mm: Number = 0

    def __post_init__(self) -> None:
        for what in ("length_mm", "width_mm", "flange_mm", "depth_mm"):
            _positive(f"{self.name}: {what.removesuffix('_mm')}", getattr(self, what))
        for what in ("terminals_mm", "travel_mm"):
            _not_below_0(f"{self.name}: {what.removesuffix('_mm')}", getattr(self, what))
        if self.flange_mm > self.depth_mm:
            raise OutOfRange(
                f"{self.name}: flange",
                f"{float(self.flange_mm):.2f} mm",
                f"no thicker than the speaker's whole depth, {float(self.depth_mm):.2f} mm",
                "Check which of the two was measured.",
            )
        if self.faces not in FACES:
            raise UnknownChoice(f"{self.name}: faces", self.faces, FACES)
        if isinstance(self.place, str):
            if self.place not in PLACES:
                raise UnknownChoice(f"{self.name}: place", self.place, PLACES)
        else:
            check_number(f"{self.name}: place", self.place)
        for what in ("length", "width"):
            self._check_basket(what)

    def _check_basket(self, what: str) -> None:
        size, whole = getattr(self, f"basket_{what}_mm"), getattr(self, f"{what}_mm")
        if size is None:
            return
        _positive(f"{self.name}: basket {what}", size)
        if size > whole:
            raise OutOfRange(
                f"{self.name}: basket {what}",
                f"{float(size):.2f} mm",
                f"no more than the flange's {what}, {float(whole):.2f} mm",
                "Check which of the two was measured.",
            )

    @property
    def behind_mm(self) -> Number:
        """From its face to the last of its terminals. [mm]"""
        return self.depth_mm + self.terminals_mm

    def wanted_from(self, ends: tuple[Number, Number]) -> Number:
        """Return where the front edge of its flange is wanted, between two ends, or at its own place.

        Parameters
        ----------
        ends : tuple of Fraction or float
            From where to where its flange may reach. [mm]

        Returns
        -------
        Fraction or float
            The place; one of its own may lie beyond the ends. [mm]

        References
        ----------
        None needed.

        Examples
        --------
        >>> from fractions import Fraction
        >>> speaker = Speaker(Fraction(26), Fraction(16), Fraction(2), Fraction(8), place="rear")
        >>> speaker.wanted_from((Fraction(0), Fraction(40)))
        Fraction(14, 1)
        """
        front, rear = ends
        if self.place == "front":
            return front
        if self.place == "rear":
            return rear - self.length_mm
        if self.place == "middle":
            return half(front + rear - self.length_mm)
        assert not isinstance(self.place, str)
        return self.place

    @property
    def basket_mm(self) -> tuple[Number, Number]:
        """Length and width of what stands behind the flange. [mm]"""
        length = self.length_mm if self.basket_length_mm is None else self.basket_length_mm
        return length, self.width_mm if self.basket_width_mm is None else self.basket_width_mm


@dataclass(frozen=True)
class Way:
    """One way to turn a box: the room it takes along, across and up, its air in it.

    Attributes
    ----------
    along_mm, across_mm, up_mm : Fraction or float
        Room with the air round it. [mm]
    words : str
        How it lies, such as ``flat, its length along``. [-]
    """

    along_mm: Number
    across_mm: Number
    up_mm: Number
    words: str


@dataclass(frozen=True)
class Box:
    """A part that needs a box of room, outside the sealed chamber, such as the decoder.

    Attributes
    ----------
    name : str
        Name on the sheets. [-]
    length_mm, width_mm, height_mm : Fraction or float
        Its size along, across and up as it lies flat; with no air given, the room it takes. [mm]
    air_mm : Fraction or float
        Air to leave round it, on all sides but the one it is fixed by. [mm]
    turns : bool
        Whether it may be turned any way; otherwise it lies flat, its length along. [-]
    inside : bool
        Whether it may lie inside the sealed chamber, where its heat stays, if it finds room nowhere else. [-]
    """

    name: str
    length_mm: Number
    width_mm: Number
    height_mm: Number
    air_mm: Number = 0
    turns: bool = False
    inside: bool = False

    def __post_init__(self) -> None:
        for what in ("length_mm", "width_mm", "height_mm"):
            _positive(f"{self.name}: {what.removesuffix('_mm')}", getattr(self, what))
        _not_below_0(f"{self.name}: air", self.air_mm)

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """The ways it may be turned, flat and along first; ways that take the same room stand once."""
        sizes = {"length": self.length_mm, "width": self.width_mm, "height": self.height_mm}
        lies = {"height": "flat", "width": "on its side", "length": "on its end"}
        found: dict[tuple[Number, Number, Number], Way] = {}
        for along, across, up in permutations(sizes):
            room = (sizes[along] + 2 * self.air_mm, sizes[across] + 2 * self.air_mm, sizes[up] + self.air_mm)
            found.setdefault(room, Way(*room, f"{lies[up]}, its {along} along"))
        return tuple(found.values()) if self.turns else tuple(found.values())[:1]

    @cached_property
    def least_up_mm(self) -> Number:
        """The least height that it takes, however it is turned. [mm]"""
        return min(way.up_mm for way in self.ways)
