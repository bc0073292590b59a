"""The shape of a lens that is melted on the end of a strand: round, or longer than wide."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import acos, ceil, cos, pi, sin, sqrt

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number
from modelmath.light.strands.checks import check_count, check_length

AS_ROUND = 1e-6  # of a length: no difference
KINDS = ("round", "prolate")


@dataclass(frozen=True)
class LensEnd:
    """A lens on a strand: a sphere, or a spheroid longer than wide, as far as it stands out of the strand.

    Attributes
    ----------
    diameter_mm : Fraction or float
        Where it is widest. [mm]
    length_mm : Fraction, float or None
        Length of the whole spheroid, the part inside the strand included; none for a round one. [mm]
    strand_mm : Fraction or float
        The strand's diameter. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0, the lens is not wider than its strand, or shorter than wide.

    Notes
    -----
    The head begins where the spheroid is as wide as the strand; what would lie behind that plane is the strand itself.
    With half axes ``a`` along and ``b`` across, and ``c = sqrt(1 - (strand/diameter)^2)``, the head is ``a (1 + c)``
    long and holds ``pi a b^2 (2/3 + c - c^3/3)``.

    References
    ----------
    Elementary geometry: a spheroid less the cap behind the plane.

    Examples
    --------
    >>> end = LensEnd(1.2, strand_mm=0.75)
    >>> end.kind, round(end.head_length_mm, 3), round(end.volume_mm3, 3)
    ('round', 1.068, 0.875)
    """

    diameter_mm: Number
    length_mm: Number | None = None
    strand_mm: Number = field(kw_only=True)

    def __post_init__(self) -> None:
        check_length("the lens's diameter", self.diameter_mm, such_as="1.2")
        check_length("the strand's diameter", self.strand_mm)
        if self.diameter_mm <= self.strand_mm:
            given = f"{float(self.diameter_mm):g} mm on a strand of {float(self.strand_mm):g} mm"
            write = "A melted end only grows wider: take a thinner strand, or a flat end without a lens."
            raise OutOfRange("the lens's diameter", given, "above that of its strand", write)
        if self.length_mm is not None:
            check_length("the lens's length", self.length_mm, such_as="1.6")
            if self.length_mm < self.diameter_mm:
                given = f"{float(self.length_mm):g} mm at a diameter of {float(self.diameter_mm):g} mm"
                write = "Leave the length out for a round lens; one flatter than round does not form by itself."
                raise OutOfRange("the lens's length", given, "its diameter or more", write)

    @property
    def kind(self) -> str:
        """One of `KINDS`. [-]"""
        return KINDS[self.length_mm is not None and self.length_mm > self.diameter_mm]

    @property
    def along_mm(self) -> float:
        """Length of the whole spheroid. [mm]"""
        return float(self.diameter_mm if self.length_mm is None else self.length_mm)

    @property
    def head_length_mm(self) -> float:
        """From the plane where it is as wide as the strand to its tip. [mm]"""
        return self.along_mm / 2 * (1 + self._behind)

    @property
    def volume_mm3(self) -> float:
        """Of the head, from that plane to its tip. [mm3]"""
        c = self._behind
        return pi * self.along_mm / 2 * (float(self.diameter_mm) / 2) ** 2 * (2 / 3 + c - c**3 / 3)

    def profile(self, steps: int = 24) -> tuple[tuple[float, float], ...]:
        """Return the outline of the head, to draw it by.

        Parameters
        ----------
        steps : int
            How many steps; one place more is returned. [-]

        Returns
        -------
        tuple of (float, float)
            Distance from the strand's plane, and radius there, from the strand to the tip. [mm]

        Raises
        ------
        OutOfRange, WrongKind
            If the number of steps is no whole number of 1 or more.

        References
        ----------
        Parametric form of an ellipse, equal steps of its angle.

        Examples
        --------
        >>> outline = LensEnd(1.2, strand_mm=0.75).profile(2)
        >>> [(round(at, 3), round(radius, 3)) for at, radius in outline]
        [(0.0, 0.375), (0.667, 0.566), (1.068, 0.0)]
        """
        check_count("steps", steps, "Write 24 for a smooth outline.")
        a, b = self.along_mm / 2, float(self.diameter_mm) / 2
        widest = pi - acos(self._behind)  # angle from the tip to the strand's plane
        turned = (widest * (steps - step) / steps for step in range(steps + 1))
        return tuple((a * (cos(angle) + self._behind), b * sin(angle)) for angle in turned)

    @property
    def _behind(self) -> float:
        """How far behind the middle the strand's plane lies, in half lengths. [-]"""
        ratio = float(self.strand_mm) / float(self.diameter_mm)
        return sqrt((1 - ratio) * (1 + ratio))


def length_of_head(head_mm: Number, diameter_mm: Number, strand_mm: Number) -> float:
    """Return the whole spheroid's length from what can be measured: the head, from the strand to the tip.

    Parameters
    ----------
    head_mm : Fraction or float
        From where the lens is as wide as the strand to its tip. [mm]
    diameter_mm : Fraction or float
        Where it is widest. [mm]
    strand_mm : Fraction or float
        The strand's diameter. [mm]

    Returns
    -------
    float
        What `LensEnd` calls its length. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0, or the lens is not wider than its strand.

    References
    ----------
    `LensEnd`: ``head = length/2 (1 + c)``.

    Examples
    --------
    >>> round(length_of_head(1.068, 1.2, 0.75), 2)
    1.2
    """
    check_length("the head's length", head_mm, such_as="1.1")
    return float(head_mm) / LensEnd(diameter_mm, strand_mm=strand_mm).head_length_mm * float(diameter_mm)


def whole_length(head_mm: Number, diameter_mm: Number, strand_mm: Number) -> float | None:
    """Return the whole spheroid's length from strand to tip as it is measured; None where that is a round lens's.

    Parameters
    ----------
    head_mm : Fraction or float
        From where the lens is as wide as the strand to its tip. [mm]
    diameter_mm : Fraction or float
        Where it is widest. [mm]
    strand_mm : Fraction or float
        The strand's diameter. [mm]

    Returns
    -------
    float or None
        What `LensEnd` takes as its length. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0, the lens is not wider than its strand, or it would be flatter than round.

    References
    ----------
    `length_of_head`.

    Examples
    --------
    >>> round(whole_length(1.6, 1.2, 0.75), 2)
    1.8
    """
    least = LensEnd(diameter_mm, strand_mm=strand_mm).head_length_mm
    head = length_of_head(head_mm, diameter_mm, strand_mm)
    if float(head_mm) < least * (1 - AS_ROUND):
        plain = max(f"{float(head_mm):.2f}", f"{float(head_mm):g}", key=len)  # no finer figure rounded to what is due
        given = f"{plain} mm from strand to tip"
        up = ceil(100 * least * (1 - AS_ROUND)) / 100  # what is named must be taken once it is written
        expected = f"{up:.2f} mm or more, as long as a round one is"
        write = "Leave it empty for a round lens; one flatter than round does not form by itself."
        raise OutOfRange("the lens's length", given, expected, write)
    return None if float(head_mm) <= least * (1 + AS_ROUND) else head
