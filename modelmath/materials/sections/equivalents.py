"""What a strip is in the other series and scales: the nearest section of each, and the size it stands for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import Scale, scale_of
from modelmath.materials.sections.series import series_sizes_mm
from modelmath.materials.sections.strips import SERIES, Strip

USUAL_SCALES = ("N", "HO", "S", "O")  # whose lumber is sold; common practice, no source


@dataclass(frozen=True)
class Equivalent:
    """A strip of a series that stands in for another strip, and how far it is off.

    Attributes
    ----------
    wanted : Strip
        The strip it stands in for. [mm]
    strip : Strip
        The section of the series nearest to it. [mm]

    Examples
    --------
    >>> from modelmath.materials.sections.strips import parse_strip
    >>> stand_in = Equivalent(parse_strip("HO 6x10"), parse_strip(".060 x .125"))
    >>> round(float(stand_in.thickness_error_mm), 3), round(stand_in.thickness_error_percent, 2)
    (-0.226, -12.91)
    """

    wanted: Strip
    strip: Strip

    @property
    def thickness_error_mm(self) -> Fraction:
        """How much thicker it is than wanted, exact; below 0 if thinner. [mm]"""
        return self.strip.thickness_mm - self.wanted.thickness_mm

    @property
    def width_error_mm(self) -> Fraction:
        """How much wider it is than wanted, exact; below 0 if narrower. [mm]"""
        return self.strip.width_mm - self.wanted.width_mm

    @property
    def thickness_error_percent(self) -> float:
        """Error of the thickness, of the thickness wanted. [%]"""
        return float(100 * self.thickness_error_mm / self.wanted.thickness_mm)

    @property
    def width_error_percent(self) -> float:
        """Error of the width, of the width wanted. [%]"""
        return float(100 * self.width_error_mm / self.wanted.width_mm)

    @property
    def exact(self) -> bool:
        """Whether it is the very size wanted. [-]"""
        return self.thickness_error_mm == 0 == self.width_error_mm


def equivalents(
    strip: Strip,
    scales: Sequence[Scale | str] = USUAL_SCALES,
    series: Sequence[str] = SERIES,
    within_percent: float | None = None,
) -> list[Equivalent]:
    """What a strip is in scale lumber, decimal inch and metric: the nearest section of each.

    Each side goes to the nearest size of the series; of two as near to the larger, which can be sanded. As a series
    has each of its sizes with each, no section of it is nearer in thickness or in width.

    Parameters
    ----------
    strip : Strip
        The strip. [mm]
    scales : sequence of Scale or str
        The scales whose lumber to look in, in this order. [-]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        The series to look in, in this order. [-]
    within_percent : float or None
        Leave out what is off by more than this in thickness or width; None keeps all. [%]

    Returns
    -------
    list of Equivalent
        One for each scale's lumber and each other series. [mm]

    Raises
    ------
    UnknownChoice, UnknownScale
        If there is no such series or scale.
    OutOfRange
        If `within_percent` is below 0.

    References
    ----------
    data/strip_series.csv: generic series, common practice, no source.

    Examples
    --------
    >>> from modelmath.materials.sections.strips import parse_strip
    >>> [(each.strip.name, round(each.width_error_percent, 1)) for each in equivalents(parse_strip("HO 6x10"))]
    [('N 12x12', -34.7), ('HO 6x10', 0.0), ('S 4x8', 8.9), ('O 3x6', 8.9), ('.060 x .125', 8.9), ('2 x 3 mm', 2.9)]
    """
    if within_percent is not None and not within_percent >= 0:
        raise OutOfRange("within_percent", f"{within_percent}", "0 or more", "Write such as 5, or None to keep all.")
    of_scales = (scales,) if isinstance(scales, (str, Scale)) else tuple(scales)
    kinds = [
        (each, scale)
        for each in ((series,) if isinstance(series, str) else series)
        for scale in (of_scales if each == "scale lumber" else (None,))
    ]
    found = [Equivalent(strip, _nearest_section(strip, each, scale)) for each, scale in kinds]
    if within_percent is None:
        return found
    return [
        each
        for each in found
        if max(abs(each.thickness_error_percent), abs(each.width_error_percent)) <= within_percent
    ]


def _nearest_section(strip: Strip, series: str, scale: Scale | str | None) -> Strip:
    sizes = series_sizes_mm(series, scale)
    thickness, width = (_nearest(side, sizes) for side in (strip.thickness_mm, strip.width_mm))
    return Strip(series, thickness, width, None if scale is None else scale_of(scale).name)


def _nearest(side_mm: Fraction, sizes_mm: Sequence[Fraction]) -> Fraction:
    return min(sizes_mm, key=lambda size: (abs(size - side_mm), -size))


@dataclass(frozen=True)
class Represented:
    """What a strip stands for in a scale.

    Attributes
    ----------
    strip : Strip
        The strip. [mm]
    scale : Scale
        The scale. [-]
    lumber : Strip
        The scale lumber of nominal size nearest to it. [mm]

    Examples
    --------
    >>> from modelmath.materials.sections.strips import parse_strip
    >>> size = represents(parse_strip(".060 x .125"), "HO")
    >>> round(float(size.thickness_scale_in), 3), size.lumber.name, round(float(size.error.thickness_error_mm), 3)
    (5.225, 'HO 6x10', -0.226)
    """

    strip: Strip
    scale: Scale
    lumber: Strip

    @property
    def thickness_scale_in(self) -> Fraction:
        """Its thickness in scale inches, exact: as many inches on the prototype. [scale in]"""
        return self.strip.thickness_mm / self.scale.mm_per_inch

    @property
    def width_scale_in(self) -> Fraction:
        """Its width in scale inches, exact: as many inches on the prototype. [scale in]"""
        return self.strip.width_mm / self.scale.mm_per_inch

    @property
    def thickness(self) -> PrototypeLength:
        """The thickness it stands for on the prototype. [ft]"""
        return self.scale.prototype(self.strip.thickness_mm)

    @property
    def width(self) -> PrototypeLength:
        """The width it stands for on the prototype. [ft]"""
        return self.scale.prototype(self.strip.width_mm)

    @property
    def error(self) -> Equivalent:
        """How far it is off the nominal size of `lumber`. [mm]"""
        return Equivalent(self.lumber, self.strip)


def represents(strip: Strip, scale: Scale | str) -> Represented:
    """What a strip stands for in a scale: its size there, and the nominal lumber nearest to it.

    Parameters
    ----------
    strip : Strip
        The strip. [mm]
    scale : Scale or str
        The scale. [-]

    Returns
    -------
    Represented
        Its size in scale inches and on the prototype, and its error from nominal lumber. [scale in]

    Raises
    ------
    UnknownScale
        If there is no such scale.

    References
    ----------
    Definition of scale; nominal lumber sizes of data/strip_series.csv: common practice, no source.

    Examples
    --------
    >>> from modelmath.materials.sections.strips import parse_strip
    >>> size = represents(parse_strip("HO 6x10"), "O")
    >>> round(float(size.thickness_scale_in), 2), round(float(size.width_scale_in), 2), size.lumber.name
    (3.31, 5.51, 'O 3x6')
    """
    of = scale_of(scale)
    return Represented(strip, of, _nearest_section(strip, "scale lumber", of))
