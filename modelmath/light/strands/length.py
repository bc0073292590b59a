"""How long a strand is cut: its way, slack, what is trimmed of its end, what the lens takes, what is sunk in a hole."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.lengths.numbers import Number
from modelmath.light.strands.checks import check_length

WAY, SLACK, TRIMMED, LENS, SUNK = (
    "along its way",
    "slack",
    "trimmed of a cloudy or crazed end",
    "melted into the lens",
    "sunk into its hole",
)


@dataclass(frozen=True)
class StrandLength:
    """What a strand is cut to, and what of.

    Attributes
    ----------
    parts : tuple of (str, Fraction or float)
        Each part by its name, in the order in which they lie in the strand; none of 0. [mm]
    """

    parts: tuple[tuple[str, Number], ...]

    @property
    def cut_mm(self) -> Number:
        """Length to cut: exact where every part is. [mm]"""
        return sum(mm for _, mm in self.parts)

    @property
    def in_words(self) -> str:
        """What to cut, and what of. [-]"""
        if len(self.parts) == 1:
            return f"Cut {float(self.cut_mm):.1f} mm, all of it {self.parts[0][0]}."
        *others, last = (f"{float(mm):.1f} mm {name}" for name, mm in self.parts)
        return f"Cut {float(self.cut_mm):.1f} mm: {', '.join(others)} and {last}."


def strand_length(
    route_mm: Number, *, slack_mm: Number, trimmed_mm: Number, lens_mm: Number = 0, sunk_mm: Number = 0
) -> StrandLength:
    """Return the length that a strand is cut to.

    Parameters
    ----------
    route_mm : Fraction or float
        Its way, from the lamp to where the lens begins, or to its end where it has none. Of a way that is known to the
        lens's tip, take the head's length off first. [mm]
    slack_mm : Fraction or float
        Left over, to move it by. [mm]
    trimmed_mm : Fraction or float
        Cut off of an end that is cloudy or crazed, before use. [mm]
    lens_mm : Fraction or float
        Melted into the formed lens. [mm]
    sunk_mm : Fraction or float
        Sunk into a hole beyond the end of the way. [mm]

    Returns
    -------
    StrandLength
        The whole and its parts. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If the way is no number above 0, or another none of 0 or more.

    References
    ----------
    Addition. That a cloudy end is cut off before use: common practice, no source.

    Examples
    --------
    >>> cut = strand_length(47.9, slack_mm=10, trimmed_mm=3, lens_mm=1.7)
    >>> cut.in_words
    'Cut 62.6 mm: 47.9 mm along its way, 10.0 mm slack, 3.0 mm trimmed of a cloudy or crazed end and 1.7 mm melted \
into the lens.'
    """
    check_length("route_mm", route_mm, such_as="60")
    others = ((SLACK, "slack_mm", slack_mm), (TRIMMED, "trimmed_mm", trimmed_mm), (LENS, "lens_mm", lens_mm))
    given = (*others, (SUNK, "sunk_mm", sunk_mm))
    for _, field, mm in given:
        check_length(field, mm, least_0=True, such_as="3")
    return StrandLength(((WAY, route_mm), *((name, mm) for name, _, mm in given if mm)))
