"""What is wanted beside the chamber itself: its floor's make, strand supports, light barriers, what stays removable."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.numbers import Number, check_number

FLOORS = ("pieces", "one piece")
REMOVABLE = ("speaker", "decoder")
BARRIER_MM = Fraction(1, 2)  # thin black sheet keeps light out; common practice, no source


@dataclass(frozen=True)
class Extras:
    """What is wanted beside the chamber itself.

    Attributes
    ----------
    floor : {"pieces", "one piece"}
        Of a speaker that faces down: fillers and plates round it, or one floor plate with an opening for it. One piece
        stays in pieces where hardly any plate would be left beside the speaker. [-]
    strand_every_mm : Fraction, float or None
        Greatest distance between strand supports along the roof, from the lamp's room to the wall; None for none. [mm]
    strand_mm : Fraction, float or None
        Diameter of the strand. [mm]
    barrier_strand_mm : tuple of two, each Fraction, float or None
        Diameter of the strand that passes the barrier, at the front and at the rear; None for no hole in it. [mm]
    light_barrier : tuple of two bool
        Whether a plate across the shell keeps stray light of the lamp in, at the front and at the rear. [-]
    barrier_mm : Fraction or float
        Thickness of that plate. [mm]
    removable : tuple of {"speaker", "decoder"}
        What must come out again: sealant there, no cement. [-]

    Examples
    --------
    >>> Extras(strand_every_mm=20)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the strand is without a diameter; it must be given with one. Write ...
    """

    floor: str = "pieces"
    strand_every_mm: Number | None = None
    strand_mm: Number | None = None
    light_barrier: tuple[bool, bool] = (False, False)
    barrier_mm: Number = BARRIER_MM
    removable: tuple[str, ...] = ()
    barrier_strand_mm: tuple[Number | None, Number | None] = (None, None)

    def __post_init__(self) -> None:
        if self.floor not in FLOORS:
            raise UnknownChoice("the floor", self.floor, FLOORS)
        if isinstance(self.removable, str):
            raise WrongKind(
                "what stays removable", repr(self.removable), "a tuple of names", "Write it as ('speaker',)."
            )
        for each in self.removable:
            if each not in REMOVABLE:
                raise UnknownChoice("what stays removable", each, REMOVABLE)
        for name, value in (
            ("distance between strand supports", self.strand_every_mm),
            ("diameter of the strand", self.strand_mm),
            *(("diameter of a barrier's strand", each) for each in self.barrier_strand_mm),
            ("thickness of a light barrier", self.barrier_mm),
        ):
            if value is None:
                continue
            check_number(name, value)
            if value <= 0:
                raise OutOfRange(name, f"{float(value):g} mm", "above 0", "Measure it and write it, such as 1 mm.")
        if self.strand_every_mm is not None and self.strand_mm is None:
            raise OutOfRange(
                "the strand", "without a diameter", "given with one", "Write its diameter, such as 0.75 mm."
            )

    @property
    def speaker_comes_out(self) -> bool:
        """Whether the speaker must stay removable. [-]"""
        return "speaker" in self.removable

    @property
    def decoder_comes_out(self) -> bool:
        """Whether the decoder must stay removable. [-]"""
        return "decoder" in self.removable


NO_EXTRAS = Extras()
