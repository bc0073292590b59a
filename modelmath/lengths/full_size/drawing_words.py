"""A drawing's ratio, whether its known dimensions agree, and the sizes taken with it, in words."""

from __future__ import annotations

from fractions import Fraction
from math import floor, log10
from typing import Any

from modelmath.lengths.full_size.coverage import half_width, nominal_of
from modelmath.lengths.full_size.drawing_lines import Wanted
from modelmath.lengths.full_size.from_drawing import Directions, DrawingRatio
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import MM_PER_PROTOTYPE_FOOT, Scale, scale_of

ONE_PLANE = (
    "On a photograph the known and the wanted dimension must lie in one plane square to the line of sight: what is "
    "nearer comes out larger, what is seen aslant shorter. Keep away from the edges of the picture, where a lens bends "
    "straight lines. Arithmetic can't mend that."
)
LOWEST_SHIFT = 0.1  # a copy is taken as enlarged or shrunk by less than this; beyond, it is another ratio


def with_limits(value: Any, unit: str = "") -> str:
    """Write an uncertain number with the half width that holds about 95 in 100, to that one's two figures.

    Parameters
    ----------
    value : uncertain number or float
        Any result. [unit]
    unit : str
        Its unit. [-]

    Returns
    -------
    str
        The number; without ± where it is exact. [unit]

    References
    ----------
    JCGM 100:2008, 7.2.6: two figures of an uncertainty suffice.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import normal
    >>> with_limits(normal(32.7142, 0.0951, "door"), "mm")
    '32.71 ± 0.19 mm'
    """
    half, behind = half_width(value), f" {unit}" if unit else ""
    places = max(0, 1 - floor(log10(half))) if half else 2
    number = f"{nominal_of(value):.{places}f}"
    return f"{number} ± {half:.{places}f}{behind}" if half else f"{number}{behind}"


_STEPS = tuple(Fraction(each) for each in ("1", "1/2", "1/4", "1/8", "1/16"))


def feet_with_limits(feet: Any) -> str:
    r"""Write an uncertain full size in feet and inches, to a mark no finer than it is known.

    Parameters
    ----------
    feet : uncertain number or float
        Full size. [ft]

    Returns
    -------
    str
        Feet and inches, with the half width that holds about 95 in 100. [-]

    References
    ----------
    Marks of an inch down to sixteenths: common practice, no source.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import normal
    >>> feet_with_limits(normal(8.409, 0.02, "door"))
    '8\' 5" ± 0.48"'
    """
    half = half_width(feet) * 12
    step = next((each for each in _STEPS if each <= half), _STEPS[-1])
    inches = round(Fraction(nominal_of(feet)) * 12 / step) * step
    places = max(0, 1 - floor(log10(half))) if half else 0
    return f"{PrototypeLength(inches / 12)}" + (f' ± {half:.{places}f}"' if half else "")


def ratio_text(ratio: DrawingRatio) -> str:
    """Write a drawing's ratio; of a picture, what one pixel stands for.

    Parameters
    ----------
    ratio : DrawingRatio
        The ratio. [-]

    Returns
    -------
    str
        In words. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.full_size.known_sizes import KnownSize
    >>> ratio_text(DrawingRatio((KnownSize("body", 40.0, 254.0),)))
    '1:48.00'
    """
    if ratio.unit == "px":
        return f"1 pixel is {with_limits(ratio.per_unit, 'mm')} full size"
    return f"1:{with_limits(ratio.per_unit)}"


def standard_text(ratio: DrawingRatio) -> str:
    """Say which common ratio a drawing may be to, or by how much this copy is larger or smaller than one.

    Parameters
    ----------
    ratio : DrawingRatio
        The ratio. [-]

    Returns
    -------
    str
        A sentence; empty for a picture measured in pixels. [-]

    References
    ----------
    `modelmath.lengths.full_size.standard_ratios`.

    Examples
    --------
    >>> from modelmath.lengths.full_size.known_sizes import KnownSize
    >>> standard_text(DrawingRatio((KnownSize("body", 40.0, 256.54),)))
    'The nearest common ratio is 1:48 (1/4 in to the foot; O): drawn to that, this copy is 1.0 % too large.'
    """
    nearest = ratio.nearest_standard
    if nearest is None:
        return ""
    if within := ratio.standards:
        names = " and ".join(str(each) for each in within[:3])
        return f"{names} {'lies' if len(within) == 1 else 'lie'} within its uncertainty."
    shift = ratio.copied(nearest) - 1
    if abs(shift) >= LOWEST_SHIFT:
        return f"No common ratio is near; the nearest is {nearest}."
    size = f"{abs(shift):.1%}".replace("%", " %")
    word = "large" if shift > 0 else "small"
    return f"The nearest common ratio is {nearest}: drawn to that, this copy is {size} too {word}."


def agreement_text(ratio: DrawingRatio) -> str:
    """Say whether the known dimensions of a drawing agree, and name the one that doesn't.

    Parameters
    ----------
    ratio : DrawingRatio
        The ratio. [-]

    Returns
    -------
    str
        One or two sentences. [-]

    References
    ----------
    Each dimension against what the others give; normal quantiles at 95 % shared among the dimensions (Bonferroni).

    Examples
    --------
    >>> from modelmath.lengths.full_size.known_sizes import KnownSize
    >>> agreement_text(DrawingRatio((KnownSize("body", 40.0, 254.0),)))
    'One known dimension: nothing checks it. Take two more, far apart and as long as can be.'
    """
    if ratio.agrees is None:
        return "One known dimension: nothing checks it. Take two more, far apart and as long as can be."
    count = len(ratio.known)
    if ratio.agrees:
        more = " A third would tell which is wrong if they did not." if count == 2 else ""
        return f"The {count} known dimensions agree within what they were measured to.{more}"
    distrust = "Until that is settled, don't trust the ± of this ratio."
    odd = ratio.disagreeing
    if odd is None:
        off = _percent(ratio.deviations[0].off)
        return f"The two known dimensions disagree by {off}; a third would tell which is wrong. {distrust}"
    word = "long" if odd.off.n > 0 else "short"
    rest = [each for each in ratio.deviations if each is not odd]
    more = "" if all(each.agrees for each in rest) else " Without it the others don't agree either."
    return (
        f"{odd.name} disagrees with the others: it measures {_percent(odd.off)} too {word}.{more} "
        f"It is still counted in; measure it again, or leave it out. {distrust}"
    )


def directions_text(directions: Directions) -> str:
    """Say whether a drawing is to one ratio along and upright.

    Parameters
    ----------
    directions : Directions
        Its ratios both ways. [-]

    Returns
    -------
    str
        One or two sentences. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.full_size.known_sizes import KnownSize
    >>> along = DrawingRatio((KnownSize("body", 40.0, 254.0),))
    >>> directions_text(Directions(along, along))
    'Along and upright agree: 1:48.00 and 1:48.00.'
    """
    along, upright = ratio_text(directions.along), ratio_text(directions.upright)
    if directions.agree:
        return f"Along and upright agree: {along} and {upright}."
    word = "stretched" if nominal_of(directions.off) > 0 else "squeezed"
    return (
        f"Along and upright disagree: {along} and {upright}. The picture is {word} along by "
        f"{_percent(directions.off)}, or was not taken square on: use a ratio of its own for each direction."
    )


def _percent(off: Any) -> str:
    return f"{abs(nominal_of(off)) * 100:.1f} %"


def model_text(ratio: DrawingRatio, wanted: Wanted, scale: Scale | str) -> tuple[str, str, str]:
    r"""Write a wanted size on the model, and full size in feet and in mm, each with its ±.

    Parameters
    ----------
    ratio : DrawingRatio
        The drawing's ratio. [-]
    wanted : Wanted
        What was measured. [mm or px]
    scale : Scale or str
        Scale of the model. [-]

    Returns
    -------
    tuple of three str
        Mm on the model; full-size feet and inches; full-size mm. [-]

    Raises
    ------
    UnknownScale
        If nothing is called so.

    References
    ----------
    `DrawingRatio`.

    Examples
    --------
    >>> from modelmath.lengths.full_size.known_sizes import KnownSize
    >>> ratio = DrawingRatio((KnownSize("body", 40.0, 254.0),))
    >>> model_text(ratio, Wanted("door", "50.8", 50.8), "HO")
    ('28.00 mm', '8\' 0"', '2438.40 mm')
    """
    feet = ratio.full_size(wanted.measured)
    return (
        with_limits(scale_of(scale).model_mm(feet), "mm"),
        feet_with_limits(feet),
        with_limits(feet * float(MM_PER_PROTOTYPE_FOOT), "mm"),
    )
