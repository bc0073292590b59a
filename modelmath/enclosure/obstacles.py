"""What stands or moves between shell and chassis, as the upright box that holds it in all its positions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil, floor
from typing import Any

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number

GRAIN_MM = Fraction(1, 1000)  # obstacles enter the cavity in steps this fine: far below any part
NOISE = 1e-6  # steps; a float so near to a whole step is that step


@dataclass(frozen=True)
class Obstacle:
    """A box that nothing may enter. Its running clearance is in all of its sizes.

    Attributes
    ----------
    name : str
        What it is, such as ``front truck``. [-]
    start_mm, end_mm : Fraction, float or uncertain number
        Front and rear end, from the fore-aft mark, running clearance included. [mm]
    half_width_mm : Fraction, float or uncertain number
        From its own middle to its side, running clearance included. [mm]
    bottom_mm, top_mm : Fraction, float or uncertain number
        Heights above the seat, running clearance included. [mm]
    running_mm : Fraction, float or uncertain number
        The running clearance that is in the sizes above; taken off, they are those of the moving part alone. [mm]
    words : str
        What a message calls it, such as ``the front truck at full swing``. [-]
    trim_mm : Fraction or float
        How much may be trimmed off its top; 0 where nothing may. [mm]
    moves : bool
        Whether it moves; False for what stands still, such as a motor frame or a screw post. [-]
    centre_mm : Fraction or float
        How far its middle lies from the shell's centre line, positive to the right looking to the rear. [mm]
    """

    name: str
    start_mm: Any
    end_mm: Any
    half_width_mm: Any
    bottom_mm: Any
    top_mm: Any
    running_mm: Any = 0
    words: str = ""
    trim_mm: Number = 0
    moves: bool = True
    centre_mm: Number = 0

    def __post_init__(self) -> None:
        if not self.words:
            object.__setattr__(self, "words", self.name)
        for low, high, what in (("start_mm", "end_mm", "long"), ("bottom_mm", "top_mm", "high")):
            extent = _best(getattr(self, high)) - _best(getattr(self, low))
            if not extent > 0:
                given = f"{float(extent):.2f} mm {what}"
                raise OutOfRange(self.words, given, "more than 0", "Check where it starts and ends.")

    def outward(self) -> Obstacle:
        """Return the same with exact numbers: each rounded to the next thousandth that makes it no smaller.

        Returns
        -------
        Obstacle
            Of an uncertain number, its best value. [mm]

        Raises
        ------
        WrongKind, OutOfRange
            If a size is no number or not finite.

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> Obstacle("truck", -10.0004, 5.25, 8, 0, 7.00001).outward().start_mm
        Fraction(-10001, 1000)
        """
        return self._outward

    @cached_property
    def _outward(self) -> Obstacle:
        return replace(
            self,
            start_mm=self._step("start", -1),
            bottom_mm=self._step("bottom", -1),
            end_mm=self._step("end", 1),
            top_mm=self._step("top", 1),
            half_width_mm=self._step("half_width", 1),
            running_mm=self._step("running", 1),
        )

    def _step(self, name: str, way: int) -> Number:
        value = _best(getattr(self, f"{name}_mm"))
        check_number(f"{self.words}: {name.replace('_', ' ')}", value)
        if isinstance(value, int):
            return value
        if isinstance(value, Fraction) and (value / GRAIN_MM).denominator == 1:
            return value
        steps = float(value) * (1 / float(GRAIN_MM))
        return Fraction(ceil(steps - NOISE) if way > 0 else floor(steps + NOISE)) * GRAIN_MM


def _best(value: Any) -> Number:
    best: Number = getattr(value, "nominal_value", value)
    return best
