"""One thing changed in what a chamber is fitted into, by as little as makes all fit: in whole hundredths of a mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.fit import fits
from modelmath.enclosure.limits import Limits
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number

STEPS = 100  # to the mm


@dataclass(frozen=True)
class Given:
    """What a chamber is fitted into.

    Attributes
    ----------
    cavity : Cavity
        The cavity. [mm]
    limits : Limits
        What is kept. [mm]
    speaker : Speaker or None
        The speaker. [mm]
    decoder : Box or None
        The decoder. [mm]
    """

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None = None
    decoder: Box | None = None

    def fits(self) -> bool:
        """Say whether a chamber fits.

        Returns
        -------
        bool
            False also where the wire path takes all the width. [-]

        References
        ----------
        `modelmath.enclosure.fits`.
        """
        try:
            return fits(self.cavity, self.limits, self.speaker, self.decoder)
        except OutOfRange:
            path = self.limits.wire_path_mm
            if path and path + self.limits.wall_mm >= min(zone.width_mm for zone in self.cavity.zones):
                return False
            raise


@dataclass(frozen=True)
class Remedy:
    """One change that makes all fit, and the least of its kind that does.

    Attributes
    ----------
    kind : str
        What is changed, such as ``clearance`` or ``speaker depth``. [-]
    what : str
        Name of the thing changed. [-]
    now_mm, needed_mm : Fraction, float or None
        Its size now, and the one nearest to it that fits; None where no size changes. [mm]
    change_mm : Fraction or float
        How much of it changes; 0 where no size does; of what is left out, its greatest size. [mm]
    sentence : str
        What to do, in words. [-]
    allowed : bool
        False where more would come off than may be trimmed. [-]
    after : Given
        All as it then is: `fit_enclosure` finds a chamber in it. [mm]
    """

    kind: str
    what: str
    now_mm: Number | None
    needed_mm: Number | None
    change_mm: Number
    sentence: str
    allowed: bool = True
    after: Given = field(repr=False, compare=False, kw_only=True)


Change = Callable[[Fraction], Given]


@dataclass(frozen=True)
class Found:
    """A size, or an amount of change, that makes all fit.

    Attributes
    ----------
    mm : Fraction
        The size or the amount. [mm]
    after : Given
        All as it then is. [mm]
    """

    mm: Fraction
    after: Given


def greatest(change: Change, least_mm: Number, now_mm: Number) -> Found | None:
    """Return the greatest size below the present one that fits, in whole hundredths of a mm.

    Parameters
    ----------
    change : function
        Returns all as it is with a size in mm. [-]
    least_mm : Fraction or float
        The least size that may be. [mm]
    now_mm : Fraction or float
        The present size, which does not fit. [mm]

    Returns
    -------
    Found or None
        None where even the least does not fit. [mm]

    References
    ----------
    Bisection: what fits stays fitting as a size goes down.
    """
    low, high = ceil(Fraction(least_mm) * STEPS), ceil(Fraction(now_mm) * STEPS)
    if low >= high:
        return None
    kept = change(Fraction(low, STEPS))
    if not kept.fits():
        return None
    while high - low > 1:
        middle = (low + high) // 2
        tried = change(Fraction(middle, STEPS))
        if tried.fits():
            low, kept = middle, tried
        else:
            high = middle
    return Found(Fraction(low, STEPS), kept)


def least(change: Change, most_mm: Number) -> Found | None:
    """Return the least amount of change that makes all fit, in whole hundredths of a mm.

    Parameters
    ----------
    change : function
        Returns all as it is with an amount of change in mm. [-]
    most_mm : Fraction or float
        The greatest amount that may be. [mm]

    Returns
    -------
    Found or None
        None where even that much does not make it fit. [mm]

    References
    ----------
    Bisection: what fits stays fitting as more is changed.
    """
    found = greatest(lambda size: change(-size), -Fraction(most_mm), 0)
    return None if found is None else Found(-found.mm, found.after)


def with_top(given: Given, number: int, lower_mm: Number) -> Given:
    """Return all with one zone's chassis top lower.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    number : int
        The zone's place in the cavity, from 0. [-]
    lower_mm : Fraction or float
        By how much. [mm]

    Returns
    -------
    Given
        As changed. [mm]

    References
    ----------
    Arithmetic.
    """
    zone = given.cavity.zones[number]
    return _with_zone(given, number, top_mm=_plus(zone.top_mm, -lower_mm))


def with_roof(given: Given, number: int, higher_mm: Number) -> Given:
    """Return all with one zone's roof higher, and its cross-section with it.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    number : int
        The zone's place in the cavity, from 0. [-]
    higher_mm : Fraction or float
        By how much. [mm]

    Returns
    -------
    Given
        As changed. [mm]

    References
    ----------
    Arithmetic.
    """
    zone = given.cavity.zones[number]
    if zone.profile is None:
        return _with_zone(given, number, roof_mm=_plus(zone.roof_mm, higher_mm))
    points = tuple((_plus(height, higher_mm), half) for height, half in zone.profile.points)
    profile = replace(zone.profile, points=points)
    return _with_zone(given, number, profile=profile, roof_mm=profile.roof_mm)


def with_width(given: Given, number: int, wider_mm: Number) -> Given:
    """Return all with one zone wider inside, at every height as much.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    number : int
        The zone's place in the cavity, from 0. [-]
    wider_mm : Fraction or float
        By how much. [mm]

    Returns
    -------
    Given
        As changed. [mm]

    References
    ----------
    Arithmetic.
    """
    zone = given.cavity.zones[number]
    width = _plus(zone.width_mm, wider_mm)
    if zone.profile is None:
        return _with_zone(given, number, width_mm=width)
    points = tuple((height, _plus(half, Fraction(wider_mm) / 2)) for height, half in zone.profile.points)
    return _with_zone(given, number, profile=replace(zone.profile, points=points), width_mm=width)


def with_obstacle_top(given: Given, number: int, lower_mm: Number) -> Given:
    """Return all with the top of one obstacle lower.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    number : int
        The obstacle's place in the cavity, from 0. [-]
    lower_mm : Fraction or float
        By how much. [mm]

    Returns
    -------
    Given
        As changed. [mm]

    References
    ----------
    Arithmetic.
    """
    obstacles = list(given.cavity.obstacles)
    each = obstacles[number]
    obstacles[number] = replace(each, top_mm=_plus(each.top_mm, -lower_mm))
    return replace(given, cavity=replace(given.cavity, obstacles=tuple(obstacles)))


def _with_zone(given: Given, number: int, **changes: object) -> Given:
    zones = list(given.cavity.zones)
    zones[number] = replace(zones[number], **changes)  # type: ignore[arg-type]
    return replace(given, cavity=replace(given.cavity, zones=tuple(zones)))


def _plus(value: Number, more: Number) -> Fraction:
    """Return a sum as a fraction: rounding must not decide what just fits."""
    return Fraction(value) + Fraction(more)
