"""The strips of the series that are stout and wide enough, in the order in which a use looks at them; kept."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache

from modelmath.lengths.scales import Scale
from modelmath.materials.picking.wanted import Wanted
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.strips import Strip

NONE = Fraction(0)


@dataclass(frozen=True)
class Stout:
    """Strips that are stout and wide enough for one use.

    Attributes
    ----------
    strips : tuple of Strip
        On end the squarest and then thinnest first, across the narrowest; else series by series. [mm]
    use : str
        How the strip stands in the model. [-]
    """

    strips: tuple[Strip, ...]
    use: str

    def __len__(self) -> int:
        return len(self.strips)

    @cached_property
    def _rising(self) -> tuple[list[Fraction], list[int]]:
        """What each section gives, the least first, and its place among the strips."""
        given = [strip.width_mm if self.use == "on edge" else strip.thickness_mm for strip in self.strips]
        places = sorted(range(len(given)), key=given.__getitem__)
        return [given[place] for place in places], places

    def between(self, low_mm: Fraction, high_mm: Fraction) -> list[Strip]:
        """Return the strips whose section gives a height between two.

        Parameters
        ----------
        low_mm, high_mm : Fraction
            The least and the greatest height. [mm]

        Returns
        -------
        list of Strip
            In the same order. [mm]

        References
        ----------
        Bisection.
        """
        given, places = self._rising
        within = places[bisect_left(given, low_mm) : bisect_right(given, high_mm)]
        return [self.strips[place] for place in sorted(within)]


@lru_cache(maxsize=512)
def stout_strips(
    scale: Scale | None, series: tuple[str, ...], use: str, stout_mm: Fraction, width_mm: Fraction
) -> Stout:
    """Return the strips of some series that are stout and wide enough for a use, whatever the height.

    A plan asks this of each part, and every edit asks it again: the answers are kept.

    Parameters
    ----------
    scale : Scale or None
        The scale of scale lumber, which is left out without one. [-]
    series : tuple of str
        The series wanted. [-]
    use : {"on end", "across", "flat", "on edge"}
        How the strip stands in the model. [-]
    stout_mm, width_mm : Fraction
        Least thickness, and least size the other way than the height. [mm]

    Returns
    -------
    Stout
        The strips, in the order in which the use looks at them. [mm]

    Raises
    ------
    UnknownChoice
        If there is no such series.

    References
    ----------
    data/strip_series.csv, through `strip_series`.

    Examples
    --------
    >>> stout_strips(None, ("metric",), "on end", Fraction(2), Fraction(0)).strips[0].name
    '2 x 2 mm'
    """
    asked = Wanted(NONE, use, width_mm, stout_mm, NONE, NONE, None, False)
    found = [strip for strip in strip_series(scale, series) if asked.stout(strip)]
    if use == "on end":
        found.sort(key=lambda strip: (strip.times_as_wide, strip.thickness_mm))
    elif use == "across":
        found.sort(key=lambda strip: (strip.width_mm, strip.thickness_mm))
    return Stout(tuple(found), use)
