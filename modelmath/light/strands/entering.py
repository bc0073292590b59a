"""How much of a lamp's light enters a strand: the overlap of a lamp's face with the ends before it, ray by ray."""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache
from math import acos, cos, inf, log, pi, radians, sqrt

from modelmath.errors import OutOfRange, TableError
from modelmath.light.strands.checks import check_amount, check_count, check_length
from modelmath.light.strands.fibre import Fibre
from modelmath.quantities.band import Band
from modelmath.tables import rows

TABLE = "circle_packing.csv"
LAMBERTIAN_DEG = 60.0  # half angle at which a bare chip or a diffuse lamp is half as bright: its cosine is 1/2
_MORE_THAN_TABLE = 1.0 / 0.75  # past the table, strands laid by hand fill about 3/4 of their circle; house estimate
_NODES = 16  # at which what meets only part of an end is summed up
# Fejér's first rule on 0 to 1: exact for polynomials, its nodes finer towards both ends.
_ANGLES = tuple((node + 0.5) * pi / _NODES for node in range(_NODES))
_STEPS = tuple(
    (
        (1 - cos(angle)) / 2,
        (1 - 2 * sum(cos(2 * each * angle) / (4 * each**2 - 1) for each in range(1, _NODES // 2))) / _NODES,
    )
    for angle in _ANGLES
)


def coupled(
    fibre: Fibre,
    emitter_mm: Fraction | float,
    strand_mm: Fraction | float,
    strands: int = 1,
    gap_mm: Fraction | float = 0.0,
    *,
    half_deg: float = LAMBERTIAN_DEG,
) -> Band:
    """Return the share of a lamp's light that enters one strand of those packed side by side before it.

    Parameters
    ----------
    fibre : Fibre
        The strands' material. [-]
    emitter_mm : Fraction or float
        Diameter of what shines; of a square, that of the circle with its area. [mm]
    strand_mm : Fraction or float
        A strand's diameter; its thin skin counts as core. [mm]
    strands : int
        How many lie before the lamp. [-]
    gap_mm : Fraction or float
        From the lamp's face to the strands' ends. [mm]
    half_deg : float
        Angle from the axis at which the lamp is half as bright; 60 for a bare chip or a diffuse face. [deg]

    Returns
    -------
    Band
        Best: the strands' mean, the bundle centred. Low: a strand at the bundle's rim; high: one right before the lamp;
        both with the limits of the numerical aperture. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If a size is no number above 0, the gap none of 0 or more, the half angle none above 0 and under 90, or there is
        no strand.

    Notes
    -----
    At the lamp's face the mean is ``NA^2 (d/D)^2``, with D the diameter of the lamp or of the bundle, whichever is the
    larger: so ``NA^2`` for one strand before a smaller lamp, and ``NA^2`` times strand over lamp area before a larger
    one. With a gap each direction shifts the lamp's disc by ``gap x tan(angle)``, and what overlaps enters. What the
    faces reflect is apart, see `face_loss_db`. A lamp out of the middle shifts light from one strand to another.

    References
    ----------
    Fibre-optics textbooks: a Lambertian emitter smaller than the core couples NA^2, a larger one that times the ratio
    of areas. Conservation of radiance. Intensity as ``cos^m`` of the angle for other half angles, common in textbooks.

    Examples
    --------
    >>> from modelmath.light.strands.fibre import ACRYLIC
    >>> round(coupled(ACRYLIC, 0.3, 0.75).best, 4), round(coupled(ACRYLIC, 3, 0.75).best, 4)
    (0.25, 0.0156)
    """
    check_length("emitter_mm", emitter_mm, such_as="1.6")
    check_length("strand_mm", strand_mm)
    check_length("gap_mm", gap_mm, least_0=True, such_as="0.5")
    check_count("strands", strands, "Write how many strands lie before the lamp, such as 2.")
    check_amount("half_deg", half_deg, " deg", "Write 60 for a bare chip.")
    if half_deg >= 90:
        raise OutOfRange("half_deg", f"{half_deg:g} deg", "under 90 deg", "Write 60 for a bare chip.")
    lamp, strand, gap, power = (*(float(each) / 2 for each in (emitter_mm, strand_mm)), float(gap_mm), _power(half_deg))
    bundle, aperture = strand * packing_ratio(strands), fibre.numerical_aperture
    best = _share(lamp, bundle, gap, 0.0, aperture.best, power) * (strand / bundle) ** 2
    low = min(best, _share(lamp, strand, gap, bundle - strand, aperture.low, power))
    high = max(best, _share(lamp, strand, gap, 0.0, aperture.high, power))
    return Band(best, low, high)


def packing_ratio(strands: int) -> float:
    """Return the diameter of a bundle of equal strands over that of one.

    Parameters
    ----------
    strands : int
        How many. [-]

    Returns
    -------
    float
        Closest packing known, for up to 20; past that, as if they filled 3/4 of their circle. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If there is none, or it is no whole number.

    References
    ----------
    data/circle_packing.csv, each row with its source; past it a house estimate.

    Examples
    --------
    >>> packing_ratio(2), packing_ratio(7)
    (2.0, 3.0)
    """
    check_count("strands", strands, "Write how many strands lie before the lamp, such as 2.")
    return _ratios().get(strands) or sqrt(strands * _MORE_THAN_TABLE)


@cache
def _ratios() -> dict[int, float]:
    """Return the table's ratios by number of strands."""
    found = dict[int, float]()
    for line, row in rows(TABLE):
        count, ratio = int(row["n"]), float(row["ratio"])
        if any(ratio < fewer for fewer in found.values()) or count > ratio**2:
            raise TableError(TABLE, line, f"{count} strands do not go into {row['ratio']} times their diameter")
        found[count] = ratio
    return found


def _power(half_deg: float) -> float:
    """Return the power of the cosine by which a lamp's intensity falls off: 1 for a Lambertian one."""
    return 1.0 if half_deg == LAMBERTIAN_DEG else -log(2) / log(cos(radians(half_deg)))


@lru_cache(maxsize=4096)
def _share(lamp: float, end: float, gap: float, aside: float, aperture: float, power: float) -> float:
    """Return the share of a lamp's light that meets a round end within its cone.

    Up to some angle one disc lies within the other, past another they no longer meet. Between them it is summed over
    the tangent of the angle.
    """
    steepest = aperture / sqrt(1 - aperture**2) if aperture < 1 else inf
    if not gap:
        return _within(steepest, power) * _overlap(lamp, end, aside) / lamp**2
    flat, far = (min(max(0.0, each / gap), steepest) for each in (abs(lamp - end) - aside, lamp + end - aside))
    total = 0.0
    for step, weight in _STEPS:
        slope = flat + (far - flat) * step
        dense = (power + 1) * slope * (1 + slope**2) ** (-(power + 3) / 2)  # light between two tangents
        total += weight * dense * _overlap(lamp, end, aside + gap * slope)
    return (_within(flat, power) * min(lamp, end) ** 2 + (far - flat) * total) / lamp**2


def _within(slope: float, power: float) -> float:
    """Return the share of a flat lamp's light within an angle, by its tangent: intensity falls as cos^power."""
    return float(1 - (1 + slope**2) ** (-(power + 1) / 2))


def _overlap(a: float, b: float, apart: float) -> float:
    """Return the area that two circles share, over pi."""
    if apart >= a + b:
        return 0.0
    if apart <= abs(a - b):
        return min(a, b) ** 2
    x = (apart**2 + a**2 - b**2) / (2 * apart)  # of the common chord, from the middle of the first
    first, second = acos(max(-1.0, min(1.0, x / a))), acos(max(-1.0, min(1.0, (apart - x) / b)))
    chord = sqrt(max(0.0, a**2 - x**2))
    return max(0.0, a**2 * first + b**2 * second - apart * chord) / pi  # float noise where they hardly meet
