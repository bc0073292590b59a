"""How much of a strand is melted for a lens, and by how much that shortens it."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from modelmath.lengths.numbers import Number
from modelmath.light.lens.shape import LensEnd
from modelmath.light.strands.checks import check_amount


@dataclass(frozen=True)
class Melt:
    """A lens and the strand that goes into it.

    Attributes
    ----------
    end : LensEnd
        The lens. [mm]
    trial : float
        What trial ends took over what volume alone says, see `trial_factor`. [-]
    """

    end: LensEnd
    trial: float = 1.0

    @property
    def volume_mm3(self) -> float:
        """Of the lens, from where it is as wide as the strand. [mm3]"""
        return self.end.volume_mm3

    @property
    def head_length_mm(self) -> float:
        """How far the lens stands out of the strand. [mm]"""
        return self.end.head_length_mm

    @property
    def melted_mm(self) -> float:
        """Length of strand that goes into the lens. [mm]"""
        return self.volume_mm3 / (pi * float(self.end.strand_mm) ** 2 / 4) * self.trial

    @property
    def shortens_by_mm(self) -> float:
        """How much shorter strand and lens together are than the strand before; below 0 where they are longer. [mm]"""
        return self.melted_mm - self.head_length_mm

    @property
    def in_words(self) -> str:
        """How to mark the strand, and what comes of it. [-]"""
        end = self.end
        shape = f"{float(end.diameter_mm):.2f} mm wide"
        if end.kind == "prolate":
            shape += f" and {self.head_length_mm:.2f} mm long"
        shorter = self.shortens_by_mm
        change = "shorter" if shorter >= 0 else "longer"
        trial = "" if self.trial == 1 else f" This counts your trial ends, which took {self.trial:.2f} times as much."
        return (
            f"A lens {shape} takes {self.melted_mm:.2f} mm of a {float(end.strand_mm):.2f} mm strand; it stands out "
            f"{self.head_length_mm:.2f} mm, so strand and lens end up {abs(shorter):.2f} mm {change}.{trial}"
        )


def lens_melt_length(
    strand_mm: Number, diameter_mm: Number, length_mm: Number | None = None, *, trial: float = 1.0
) -> Melt:
    """Return how much of a strand is melted for a lens, by volume.

    Parameters
    ----------
    strand_mm : Fraction or float
        The strand's diameter. [mm]
    diameter_mm : Fraction or float
        The lens's, where it is widest. [mm]
    length_mm : Fraction, float or None
        The whole spheroid's length; none for a round lens. [mm]
    trial : float
        What trial ends took over what volume alone says. [-]

    Returns
    -------
    Melt
        Melted length, shortening, volume. [mm and mm3]

    Raises
    ------
    OutOfRange, WrongKind
        As `LensEnd`; or if the factor is no number above 0.

    Notes
    -----
    ``melted = volume / (pi strand^2 / 4) x trial``; ``shortens by = melted - head``. Volume alone leaves out that drawn
    strand swells and shrinks back along its length as it melts, and what drips or burns off.

    References
    ----------
    Conservation of volume; `LensEnd`.

    Examples
    --------
    >>> melt = lens_melt_length(0.75, 1.2)
    >>> round(melt.melted_mm, 3), round(melt.shortens_by_mm, 3)
    (1.979, 0.911)
    """
    check_amount("the trial factor", trial, "", "Write it as a ratio, such as 1.1.")
    return Melt(LensEnd(diameter_mm, length_mm, strand_mm=strand_mm), float(trial))
