"""The readings and obstacles that may be the cause of a misfit, and how all is with each of them changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Literal

from modelmath.enclosure.choosing.changes import STEPS, Given, with_obstacle_top, with_roof, with_top, with_width
from modelmath.enclosure.choosing.trying import Change
from modelmath.lengths.numbers import Number

LEAST_MM = Fraction(1, STEPS)  # no part is made thinner than this, nor any size smaller
FARTHEST_MM = Fraction(100)  # no reading is off by more


@dataclass(frozen=True)
class Reading:
    """A reading or obstacle that may be the cause: how all is with it changed.

    Attributes
    ----------
    kind : {"chassis top", "roof", "inside width", "obstacle"}
        What is read. [-]
    what : str
        Name of the zone or obstacle. [-]
    words : str
        How a message names it. [-]
    now_mm : Fraction or float
        What it reads. [mm]
    change : function
        Returns all as it is with it changed by an amount. [-]
    most_mm : Fraction or float
        How far it may change. [mm]
    allowed_mm : Fraction or float
        How much may be trimmed. [mm]
    """

    kind: Literal["chassis top", "roof", "inside width", "obstacle"]
    what: str
    words: str
    now_mm: Number
    change: Change
    most_mm: Number
    allowed_mm: Number = FARTHEST_MM

    @property
    def rises(self) -> bool:
        """Whether more of it gives more room. [-]"""
        return self.kind in ("roof", "inside width")


def readings(given: Given) -> Iterator[Reading]:
    """Yield them in the order in which, of two that need as much, one is named: what is easiest to change first.

    Parameters
    ----------
    given : Given
        All as it is. [mm]

    Yields
    ------
    Reading
        Obstacles, chassis tops, roofs, inside widths. [mm]

    References
    ----------
    None needed.
    """
    for number in range(len(given.cavity.obstacles)):
        yield obstacle_top(given, number)
    zones = tuple(enumerate(given.cavity.zones))
    for number, _ in zones:
        yield chassis_top(given, number)
    for number, zone in zones:
        words, change = f"The roof over {zone.name}", partial(_of_number, with_roof, number)
        yield Reading("roof", zone.name, words, zone.roof_mm, change, FARTHEST_MM)
    for number, zone in zones:
        if zone.profile is not None:
            continue  # its section, not the inside width, says how wide it is
        words, change = f"The inside width over {zone.name}", partial(_of_number, with_width, number)
        yield Reading("inside width", zone.name, words, zone.width_mm, change, FARTHEST_MM)


def chassis_top(given: Given, number: int) -> Reading:
    """Return the chassis top of one zone.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    number : int
        The zone's place in the cavity, from 0. [-]

    Returns
    -------
    Reading
        How all is with it lower, down to the seat. [mm]

    References
    ----------
    None needed.
    """
    zone = given.cavity.zones[number]
    words, change = f"The chassis top over {zone.name}", partial(_of_number, with_top, number)
    # Where only the depth was read, heights count down from the roof, and the top lies below 0.
    most = zone.top_mm if zone.top_mm >= 0 else FARTHEST_MM
    return Reading("chassis top", zone.name, words, zone.top_mm, change, most)


def obstacle_top(given: Given, number: int) -> Reading:
    """Return the top of one obstacle.

    Parameters
    ----------
    given : Given
        All as it is. [mm]
    number : int
        The obstacle's place in the cavity, from 0. [-]

    Returns
    -------
    Reading
        How all is with it lower. [mm]

    References
    ----------
    None needed.
    """
    each = given.cavity.obstacles[number]
    most = each.top_mm - each.bottom_mm - LEAST_MM
    change = partial(_of_number, with_obstacle_top, number)
    return Reading("obstacle", each.name, f"The top of {each.words}", each.top_mm, change, most, each.trim_mm)


def _of_number(change: Callable[[Given, int, Number], Given], number: int, given: Given, amount: Number) -> Given:
    return change(given, number, amount)
