"""How much of a strand's light a bend keeps: rays in its plane, and the count of modes.

Radii are those of the bend's inside, in diameters of the strand; its thin skin counts as core.
"""

from __future__ import annotations

from functools import lru_cache
from math import acos, asin, cos, pi, radians, sin

from modelmath.light.strands.checks import check_amount, check_length
from modelmath.light.strands.fibre import ACRYLIC, Fibre

WAVELENGTH_MM = 0.55e-3  # the middle of visible light, for the mode count
_ACROSS = 24  # places across the core at which rays start
_HALVINGS = 16  # each halves the span of angles searched: what is left is far below what the model is good for


@lru_cache(maxsize=4096)
def meridional_share(angle_deg: float, radius_in_diameters: float, fibre: Fibre = ACRYLIC) -> float:
    """Return the share of the rays in the plane of a bend that stay guided round it and in the straight behind it.

    Parameters
    ----------
    angle_deg : float
        How far the strand turns. [deg]
    radius_in_diameters : float
        Radius of the bend's inside over the strand's diameter. [-]
    fibre : Fibre
        The strand's material; its best aperture counts. [-]

    Returns
    -------
    float
        Share of a core filled evenly: across it, and over the sine of the guided angles. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the angle or the radius is no number of 0 or more.

    Notes
    -----
    A ray keeps its least distance from the bend's centre through every reflection. Where that is at least
    ``(R + d) cos(c)``, with c the widest angle guided in the core, it meets the outside at no more than c and stays.
    Any other ray is lost unless it leaves the bend, within c of the axis, before it meets the outside.

    References
    ----------
    Ray optics: law of reflection, total reflection; checked against traced rays.

    Examples
    --------
    >>> round(meridional_share(90, 20 / 3), 3)
    0.303
    """
    check_amount("the angle of a bend", angle_deg, " deg", "Write it in degrees, such as 90.", least_0=True)
    check_amount("the bend's radius", radius_in_diameters, " diameters", "Write a ratio, such as 10.", least_0=True)
    guided = _widest_angle(fibre)
    angle, inside, outside = radians(angle_deg), radius_in_diameters, radius_in_diameters + 1
    if not angle:
        return 1.0
    total = 0.0
    for step in range(_ACROSS):
        start = inside + (step + 0.5) / _ACROSS
        least = outside * cos(guided) / start
        always = acos(least) if least < 1 else 0.0
        total += 2 * sin(always)
        if angle < 2 * guided:
            total += sin(max(guided - angle, always)) - sin(always)  # on their way out
            total += _kept_inward(start, inside, angle, guided, always)
    return min(total / (_ACROSS * 2 * sin(guided)), 1.0)


def long_bend_share(radius_in_diameters: float, fibre: Fibre = ACRYLIC) -> float:
    """Return the share that stays when every ray has met the outside: no longer bend loses more.

    Parameters
    ----------
    radius_in_diameters : float
        Radius of the bend's inside over the strand's diameter. [-]
    fibre : Fibre
        The strand's material; its best aperture counts. [-]

    Returns
    -------
    float
        Share of the rays in the plane of the bend. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the radius is no number of 0 or more.

    References
    ----------
    Ray optics, as for `meridional_share`, at half a turn: no ray leaves that before it has met the outside.

    Examples
    --------
    >>> round(long_bend_share(20 / 3), 3)
    0.303
    """
    return meridional_share(180.0, radius_in_diameters, fibre)


def mode_share(radius_in_diameters: float, fibre: Fibre = ACRYLIC) -> float:
    """Return the share of a strand's modes that a long bend keeps: Gloge's count, not cut short to its first order.

    Parameters
    ----------
    radius_in_diameters : float
        Radius of the bend's inside over the strand's diameter. [-]
    fibre : Fibre
        The strand's material; its best aperture counts. [-]

    Returns
    -------
    float
        Share kept. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the radius is no number of 0 or more.

    Notes
    -----
    A place of the core, at r from the bend's centre, keeps the rays within ``cos(angle) >= (R + d) cos(c) / r``; the
    count is the average of their sine squared over the round core. `gloge_share` is the same to first order
    in d / R, where core and skin are nearly alike; at an aperture of 0.50 it counts 13 % more loss than this.
    It leaves nothing in a bend under about 8 diameters, where this still leaves what runs along the outside.

    References
    ----------
    D. Gloge, Applied Optics 11 (1972) 2506, from memory; the average over the core by numerical sum.

    Examples
    --------
    >>> round(mode_share(20 / 3), 3), round(mode_share(200), 3)
    (0.188, 0.961)
    """
    check_amount("the bend's radius", radius_in_diameters, " diameters", "Write a ratio, such as 10.", least_0=True)
    limit = (radius_in_diameters + 1) * cos(_widest_angle(fibre))
    most = sin(_widest_angle(fibre)) ** 2
    # Equal steps of the angle round the core: x = (1 - cos t) / 2, so that the weight is sin(t)^2.
    total = weight = 0.0
    for step in range(_ACROSS):
        t = (step + 0.5) * pi / _ACROSS
        place = radius_in_diameters + (1 - cos(t)) / 2
        weight += sin(t) ** 2
        total += sin(t) ** 2 * max(0.0, 1 - (limit / place) ** 2) / most
    return total / weight


def gloge_share(
    radius_mm: float, diameter_mm: float, fibre: Fibre = ACRYLIC, wavelength_mm: float = WAVELENGTH_MM
) -> float:
    """Return the share of a strand's modes that a long bend keeps, by the formula as Gloge gives it.

    Parameters
    ----------
    radius_mm : float
        Radius of the bend's inside; the formula's own R is that of the axis. [mm]
    diameter_mm : float
        The strand's diameter. [mm]
    fibre : Fibre
        The strand's material; its best aperture counts. [-]
    wavelength_mm : float
        Of the light. [mm]

    Returns
    -------
    float
        Share kept; 0 where the formula leaves none, which is past what it is good for. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If the radius, the diameter or the wavelength is no number above 0.

    Notes
    -----
    Step index: ``1 - (2a/R + (3 / (2 n2 k R))^(2/3)) / (2 D)``, with a the core's radius, ``k = 2 pi / wavelength`` and
    ``D = NA^2 / (2 n1^2)``.

    References
    ----------
    D. Gloge, Applied Optics 11 (1972) 2506, from memory.

    Examples
    --------
    >>> round(gloge_share(100, 0.75), 3), gloge_share(5, 0.75)
    (0.933, 0.0)
    """
    for name, value in (("radius_mm", radius_mm), ("diameter_mm", diameter_mm), ("wavelength_mm", wavelength_mm)):
        check_length(name, value)
    axis = radius_mm + diameter_mm / 2
    twice_delta = (fibre.numerical_aperture.best / fibre.index) ** 2
    tunnelled = (3 * wavelength_mm / (4 * pi * fibre.cladding_index * axis)) ** (2 / 3)
    return float(max(0.0, 1 - (diameter_mm / axis + tunnelled) / twice_delta))


def _widest_angle(fibre: Fibre) -> float:
    """Return the widest angle to the axis that a straight strand guides, inside its core. [rad]"""
    return asin(fibre.numerical_aperture.best / fibre.index)


def _kept_inward(start: float, inside: float, angle: float, guided: float, always: float) -> float:
    """Return the sines of the inward rays that leave a short bend within the guided angle, those of `always` apart.

    An inward ray at p turns outward by as much as the strand turns; off the inside it is thrown outward by twice its
    angle there. So the flattest that is kept is `angle - guided`, and past the first to touch, the steepest is sought.
    """
    # Steeper rays meet the inside. Where the bend is too short for that they are kept, and count as thrown back too.
    touch = acos(inside / start)
    free = max(0.0, sin(min(touch, guided)) - sin(max(always, angle - guided)))
    low, high = max(always, touch), guided
    if low >= high:
        return free
    if _thrown_back(high, start, inside, angle) <= guided:
        return free + sin(high) - sin(low)
    bottom = low
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _thrown_back(middle, start, inside, angle) <= guided else (low, middle)
    return free + sin(low) - sin(bottom)


def _thrown_back(inward: float, start: float, inside: float, angle: float) -> float:
    """Return the angle at which a ray leaves the bend that met the inside once."""
    return angle - inward + 2 * acos(min(start * cos(inward) / inside, 1.0))
