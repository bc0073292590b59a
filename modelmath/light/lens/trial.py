"""What trial ends tell: how much strand a lens really takes, over what volume alone says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import sqrt

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number
from modelmath.light.lens.melt import lens_melt_length
from modelmath.light.lens.shape import LensEnd
from modelmath.light.strands.checks import check_amount, check_length
from modelmath.tables import rows

TABLE = "t_95.csv"


@dataclass(frozen=True)
class Trials:
    """Several trial ends together.

    Attributes
    ----------
    factors : tuple of float
        What each took, over what volume alone says. [-]
    """

    factors: tuple[float, ...]

    @property
    def factor(self) -> float:
        """Their mean: what `lens_melt_length` takes. [-]"""
        return sum(self.factors) / len(self.factors)

    @property
    def spread(self) -> float | None:
        """Standard deviation of one trial end; not known from one alone. [-]"""
        if len(self.factors) < 2:
            return None
        off = sum((each - self.factor) ** 2 for each in self.factors)
        return sqrt(off / (len(self.factors) - 1))

    @property
    def next_one(self) -> tuple[float, float] | None:
        """Between what one more end would take, 19 times of 20; not known from one alone. [-]"""
        if self.spread is None:
            return None
        count = len(self.factors)
        within = _t_95(count - 1) * self.spread * sqrt(1 + 1 / count)
        return max(0.0, self.factor - within), self.factor + within

    @property
    def in_words(self) -> str:
        """What the trials say, and whether to make more. [-]"""
        said = f"Lenses took {self.factor:.2f} times the strand that their volume says"
        if self.next_one is None:
            return f"{said}, by one trial end. Make another two, to see how they spread."
        low, high = self.next_one
        return (
            f"{said}, by {len(self.factors)} trial ends; one more would take {low:.2f} to {high:.2f} times, "
            "19 times of 20."
        )


def trial_factor(
    melted_mm: Number, got_diameter_mm: Number, strand_mm: Number, got_length_mm: Number | None = None
) -> float:
    """Return what one trial end took, over what the volume of its lens says.

    Parameters
    ----------
    melted_mm : Fraction or float
        Length of strand that went into it: to the mark up to which it was melted, see `melted_of` for another way. [mm]
    got_diameter_mm : Fraction or float
        What its lens measures where it is widest. [mm]
    strand_mm : Fraction or float
        The strand's diameter, measured away from the end. [mm]
    got_length_mm : Fraction, float or None
        The whole spheroid's length, see `length_of_head`; none where the lens is round. [mm]

    Returns
    -------
    float
        Above 1 where some of the strand went into swelling, back along the strand, or was lost. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a length is no number above 0, or the lens is none that `LensEnd` takes.

    References
    ----------
    `lens_melt_length`, solved for its factor.

    Examples
    --------
    >>> round(trial_factor(2.2, 1.2, 0.75), 2)
    1.11
    """
    check_length("melted_mm", melted_mm, such_as="2")
    return float(melted_mm) / lens_melt_length(strand_mm, got_diameter_mm, got_length_mm).melted_mm


def trials(factors: Sequence[float]) -> Trials:
    """Return several trial ends together: their mean, their spread, and what one more would give.

    Parameters
    ----------
    factors : sequence of float
        What each took, by `trial_factor`. [-]

    Returns
    -------
    Trials
        All of them. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If there is none, or one is no number above 0.

    References
    ----------
    Prediction interval of normal values: ``mean ± t s sqrt(1 + 1/n)``; t from data/t_95.csv, JCGM 100:2008 table G.2.

    Examples
    --------
    >>> tried = trials([1.1, 1.2, 1.15])
    >>> round(tried.factor, 2), [round(limit, 2) for limit in tried.next_one]
    (1.15, [0.9, 1.4])
    """
    if not factors:
        raise OutOfRange("the number of trial ends", "0", "1 or more", "Melt an end, measure it, and enter it.")
    for factor in factors:
        check_amount("the trial factor", factor, "", "Write it as a ratio, such as 1.1.")
    return Trials(tuple(float(factor) for factor in factors))


def melted_of(before_mm: Number, after_mm: Number, end: LensEnd) -> float:
    """Return the strand that went into a trial end, by its length before and after.

    Parameters
    ----------
    before_mm : Fraction or float
        Length of the piece before. [mm]
    after_mm : Fraction or float
        Length of strand and lens together, after. [mm]
    end : LensEnd
        The lens that came of it. [mm]

    Returns
    -------
    float
        Melted length. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If a length is no number above 0, or the lengths leave nothing that was melted.

    Notes
    -----
    Swelling of the strand behind the lens counts as melted too, so that the factor makes up for it.

    References
    ----------
    `Melt`: shortens by = melted - head.

    Examples
    --------
    >>> round(melted_of(50, 48.9, LensEnd(1.2, strand_mm=0.75)), 2)
    2.17
    """
    check_length("before_mm", before_mm, such_as="50")
    check_length("after_mm", after_mm, such_as="49")
    melted = float(before_mm) - float(after_mm) + end.head_length_mm
    check_number("melted", melted)
    if melted <= 0:
        given = f"{float(after_mm):g} mm from {float(before_mm):g} mm"
        expected = f"under {float(before_mm) + end.head_length_mm:.2f} mm, with a lens {end.head_length_mm:.2f} mm long"
        raise OutOfRange("after_mm", given, expected, "Measure strand and lens together, before and after.")
    return melted


@cache
def _table() -> dict[int, float]:
    return {int(row["degrees_of_freedom"]): float(row["t_95"]) for _, row in rows(TABLE)}


def _t_95(degrees: int) -> float:
    """Return Student's t for 95 %, both sides; past the table that of its last row, a little wide."""
    table = _table()
    return table[min(degrees, max(table))]
