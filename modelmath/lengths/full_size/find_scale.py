"""What scale a model is in, from one length of it and the same on the prototype."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from modelmath.lengths.full_size.coverage import half_width, nominal_of
from modelmath.lengths.full_size.known_sizes import check_above_0
from modelmath.lengths.full_size.resizing import check_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import MM_PER_PROTOTYPE_FOOT, all_scales

FLOAT_NOISE = 1e-9  # of a ratio; far below what any rule shows
OVER_MM = 300  # a long car or engine in HO: where a wrong ratio is seen


@dataclass(frozen=True)
class NearScale:
    """How far a found ratio is from that of a named scale.

    Attributes
    ----------
    names : tuple of str
        All scales of the table with this ratio. [-]
    ratio : Fraction
        Theirs, exact. [-]
    off : Fraction, float or uncertain number
        Found ratio over theirs, less 1: above 0 the model is smaller than in that scale. [-]
    """

    names: tuple[str, ...]
    ratio: Fraction
    off: Any

    @property
    def off_mm(self) -> Any:
        """How much longer a model of `OVER_MM` would be in that scale. [mm]"""
        return self.off * OVER_MM

    def in_words(self) -> tuple[str, str, str, str]:
        """Return names, ratio, and how far it is off in percent and over `OVER_MM` of model."""
        ratio = f"1:{float(self.ratio):.2f}".removesuffix(".00")
        off = f"{nominal_of(self.off):+.2%}".replace("%", " %")
        return ", ".join(self.names), ratio, off, f"{nominal_of(self.off_mm):+.2f} mm"

    @property
    def agrees(self) -> bool:
        """Whether the difference is within what its uncertainty allows, at 95 %; an exact one must be 0."""
        return abs(nominal_of(self.off)) <= half_width(self.off) + FLOAT_NOISE


@dataclass(frozen=True)
class FoundScale:
    """The ratio of a model to its prototype.

    Attributes
    ----------
    ratio : Fraction, float or uncertain number
        Prototype over model. [-]
    near : tuple of NearScale
        Named scales, nearest first. [-]
    """

    ratio: Any
    near: tuple[NearScale, ...]


def find_scale(model_mm: Any, prototype: PrototypeLength, count: int = 5) -> FoundScale:
    """Return what scale a model is in, from one length of it and the same on the prototype.

    Parameters
    ----------
    model_mm : Fraction, float or uncertain number
        Length on the model, above 0. [mm]
    prototype : PrototypeLength
        The same on the prototype, above 0. [ft]
    count : int
        How many different named ratios to compare with. [-]

    Returns
    -------
    FoundScale
        The ratio, exact for a Fraction, and the nearest named scales. [-]

    Raises
    ------
    WrongKind
        If the prototype's size is no prototype length, or the model's no number.
    OutOfRange
        If one is 0 or less.

    References
    ----------
    Definition of scale: prototype over model; data/scales.csv.

    Examples
    --------
    >>> from modelmath.lengths.scales import scale_of
    >>> found = find_scale(Fraction(300), scale_of("H0").prototype(Fraction(300)))
    >>> found.near[0].names, found.near[1].names, round(float(found.near[1].off_mm), 3)
    (('H0',), ('HO',), -0.295)
    """
    check_prototype(prototype)
    check_above_0("the model's size", model_mm, "mm", "141.8")
    full_mm = prototype.feet * MM_PER_PROTOTYPE_FOOT
    exact = isinstance(model_mm, (int, Fraction))
    ratio = full_mm / model_mm if exact else float(full_mm) / model_mm
    names: dict[Fraction, list[str]] = {}
    for each in all_scales():
        names.setdefault(each.ratio, []).append(each.name)
    value = float(full_mm) / nominal_of(model_mm)
    nearest = sorted(names, key=lambda named: max(value / float(named), float(named) / value))[:count]
    near = (NearScale(tuple(names[named]), named, ratio / _like(named, exact) - 1) for named in nearest)
    return FoundScale(ratio, tuple(near))


def _like(value: Fraction, exact: bool) -> Any:
    return value if exact else float(value)
