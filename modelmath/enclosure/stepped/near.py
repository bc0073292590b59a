"""Which places and levels come so near to the best that rounding can't tell them from it.

A rounded search forward gives the largest volume up to each step, one over the mirror image that behind it; together
the largest of all chambers with a step there. What falls short of the best by more than rounding can do is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.stepped.ground import Ground
from modelmath.enclosure.stepped.search import Path, Search
from modelmath.enclosure.stepped.tables import Array, Tables
from modelmath.lengths.numbers import Number

ROUNDING = 1e-9  # of all there is; a sum of some tens of terms, each up to some hundred times that, is off by 1e-12
MOST_EXACT = 300_000  # places x levels up to which whole numbers of any size are added one by one


def near_the_best(
    tables: Tables, places: Sequence[Number], steps: int
) -> tuple[tuple[Number, ...], tuple[Number, ...]]:
    """Return the places and levels of all chambers that may be the largest with any count of steps.

    Parameters
    ----------
    tables : Tables
        Rounded. [-]
    places : sequence of Fraction or float
        Their places, the front one first. [mm]
    steps : int
        How many steps at most. [-]

    Returns
    -------
    tuple of two
        Places, edges of bays among them, and levels. [mm]

    References
    ----------
    The error of a sum in floating point: N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2002, 4.2.
    """
    ground, levels = tables.ground, tables.levels
    mirror = Tables(_mirrored(ground), [-place for place in reversed(places)], levels)
    there, back = (Search(each, steps, keeps_starts=True) for each in (tables, mirror))
    paths = there.paths()
    back.paths()
    least = [None if path is None else path.value - ROUNDING * tables.penalty for path in paths]
    forward = _near(tables, there, back, least)
    backward = _near(mirror, back, there, least)
    near_places: Array = np.any(forward, axis=0) | np.any(backward, axis=0)[::-1]
    near_levels: Array = np.any(forward, axis=1) | np.any(backward, axis=1)
    edges = {ground.bays[0].start_mm, *(bay.end_mm for bay in ground.bays)}
    return (
        tuple(place for place, near in zip(places, near_places, strict=True) if near or place in edges),
        tuple(level for level, near in zip(levels, near_levels, strict=True) if near),
    )


def _near(tables: Tables, front: Search, rear: Search, least: Sequence[float | None]) -> Array:
    """Say for each level and place whether a step to that level, there, may be in a largest chamber."""
    found: Array = np.zeros_like(tables.here, dtype=bool)
    for before in range(len(least)):
        free, seated = (None if each is None else each + tables.here - tables.given for each in front.starts[before])
        assert free is not None
        for behind, wanted in enumerate(least[before:]):
            if wanted is None:
                continue
            free_behind, seated_behind = (None if each is None else each[:, ::-1] for each in rear.ends[behind])
            assert free_behind is not None
            if seated is None or seated_behind is None:
                found |= free + free_behind >= wanted
            else:
                found |= np.maximum(free + seated_behind, seated + free_behind) >= wanted
    return found


def _mirrored(ground: Ground) -> Ground:
    """Return the same ground seen from the other side."""
    bays = tuple(Bay(bay.zone, -bay.end_mm, -bay.start_mm, bay.floor_mm, bay.cause) for bay in reversed(ground.bays))
    front, rear = (None if place is None else -place for place in reversed(ground.closed))
    return replace(ground, bays=bays, closed=(front, rear))


def best_paths(
    ground: Ground, places: Sequence[Number], levels: Sequence[Number], steps: int
) -> list[tuple[tuple[Number, ...], tuple[Number, ...]]]:
    """Return the places and levels of the largest chamber with one step, with two, and so on.

    Parameters
    ----------
    ground : Ground
        The bays, and what is kept. [mm]
    places, levels : sequence of Fraction or float
        All that ends, steps and floors may have, rising. [mm]
    steps : int
        How many steps at most, 1 or more. [-]

    Returns
    -------
    list of tuple of two
        Ends and steps, and levels, of each count that has a chamber. [mm]

    References
    ----------
    `search`, in whole numbers.
    """
    tables = Tables(ground, places, levels)
    if tables.dtype is np.float64:
        places, levels = near_the_best(tables, places, steps)
        if not levels:
            return []
        tables = Tables(ground, places, levels, exact=len(places) * len(levels) <= MOST_EXACT)
    paths: list[Path | None] = Search(tables, steps).paths()
    return [
        (tuple(places[at] for at in path.places), tuple(levels[row] for row in path.rows))
        for path in paths
        if path is not None
    ]
