"""What a chamber is fitted into, with one thing changed in it; lengths in any one unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Cavity, Zone
from modelmath.enclosure.fit import fits
from modelmath.enclosure.fitting.halves import half
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
    by : function or None
        Returns the same with an amount of change in mm, to a hundredth of a mm and no less; None where it can't go so
        far. None where no size changes. [-]
    """

    kind: str
    what: str
    now_mm: Number | None
    needed_mm: Number | None
    change_mm: Number
    sentence: str
    allowed: bool = True
    after: Given = field(repr=False, compare=False, kw_only=True)
    by: Callable[[Number], Remedy | None] | None = field(default=None, repr=False, compare=False, kw_only=True)


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
    """Return all with one zone's roof higher, and with it its cross-section and what stands up to it.

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
    roof = _plus(zone.roof_mm, higher_mm)
    given = _up_to(given, zone, roof)
    if zone.profile is None:
        return _with_zone(given, number, roof_mm=roof)
    points = tuple((_plus(height, higher_mm), side) for height, side in zone.profile.points)
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
    points = tuple((height, _plus(side, half(_plus(wider_mm, 0)))) for height, side in zone.profile.points)
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


def _up_to(given: Given, zone: Zone, roof_mm: Number) -> Given:
    """Return all with what stands up to a zone's roof reaching up to another."""
    obstacles = tuple(
        replace(each, top_mm=max(each.top_mm, roof_mm))
        if each.top_mm >= zone.roof_mm and each.start_mm < zone.end_mm and zone.start_mm < each.end_mm
        else each
        for each in given.cavity.obstacles
    )
    return given if not obstacles else replace(given, cavity=replace(given.cavity, obstacles=obstacles))


def _with_zone(given: Given, number: int, **changes: object) -> Given:
    zones = list(given.cavity.zones)
    zones[number] = replace(zones[number], **changes)  # type: ignore[arg-type]
    return replace(given, cavity=replace(given.cavity, zones=tuple(zones)))


def _plus(value: Number, more: Number) -> Number:
    """Return an exact sum: rounding must not decide what just fits."""
    if isinstance(value, float) or isinstance(more, float):
        return Fraction(value) + Fraction(more)
    return value + more
