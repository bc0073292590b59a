"""The ratios that drawings are made to: so many inches to the foot, metric reductions, and the model scales."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from modelmath.lengths.scales import all_scales
from modelmath.lengths.text import mixed

# Inches to the foot on builders' drawings: common practice, no source.
INCHES_TO_THE_FOOT = tuple(
    Fraction(each) for each in ("1/16", "3/32", "1/8", "3/16", "1/4", "3/8", "1/2", "3/4", "1", "3/2", "3")
)
REDUCTIONS = (1, 2, 5, 10, 20, 50, 100, 200)  # ISO 5455:1979, recommended reductions; from memory


@dataclass(frozen=True)
class StandardRatio:
    """A ratio that drawings are commonly made to.

    Attributes
    ----------
    ratio : Fraction
        Full size over drawing, exact. [-]
    names : tuple of str
        What it is called: inches to the foot, or the model scales it belongs to; may be empty. [-]
    """

    ratio: Fraction
    names: tuple[str, ...] = ()

    def __str__(self) -> str:
        exact = self.ratio.denominator in (1, 2, 5, 10)
        number = f"1:{float(self.ratio):.{0 if self.ratio.denominator == 1 else 1 if exact else 2}f}"
        return f"{number} ({'; '.join(self.names)})" if self.names else number


@cache
def standard_ratios() -> tuple[StandardRatio, ...]:
    """Return the common ratios, largest drawing first.

    References
    ----------
    ISO 5455:1979 (from memory); inches to the foot: common practice, no source; data/scales.csv.

    Examples
    --------
    >>> [str(each) for each in standard_ratios() if each.ratio in (20, 48)]
    ['1:20', '1:48 (1/4 in to the foot; O)']
    """
    found: dict[Fraction, list[str]] = {Fraction(each): [] for each in REDUCTIONS}
    for inches in INCHES_TO_THE_FOOT:
        found.setdefault(12 / inches, []).append(f"{mixed(inches)} in to the foot")
    for scale in all_scales():
        if not scale.name.startswith("1:"):
            found.setdefault(scale.ratio, []).append(scale.name)
        else:
            found.setdefault(scale.ratio, [])
    return tuple(StandardRatio(ratio, tuple(found[ratio])) for ratio in sorted(found))
