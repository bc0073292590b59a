"""Places rounded to what a person can mark out, as long as no web becomes too thin by it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import product
from math import floor

from modelmath.enclosure.holes.plate import KeepOut, PlacedHole, Plate
from modelmath.enclosure.holes.webs import TOLERANCE_MM, Wanted, Web, all_webs, web_between

ROUNDS = 3  # times round all holes, at most
SAME = 1e-7  # steps; a place so near to a step lies on it
DIGITS = 7  # places kept of a length in mm that is not rounded further


def rounded_places(
    holes: Sequence[PlacedHole],
    plate: Plate,
    wanted: Wanted,
    keep_out: Sequence[KeepOut],
    step_mm: float,
    row: bool = False,
) -> tuple[tuple[PlacedHole, ...], bool]:
    """Return the holes on whole steps, those that leave the widest least web, or as they are.

    Parameters
    ----------
    holes : sequence of PlacedHole
        The holes. [mm]
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    keep_out : sequence of KeepOut
        What no hole may come near. [mm]
    step_mm : float
        The step; 0 for none. [mm]
    row : bool
        Whether their height stays as it is. [-]

    Returns
    -------
    tuple
        The holes, and whether they lie on steps: not where a web would then be too thin.

    References
    ----------
    None needed: each hole in turn takes the best of the steps round it.

    Examples
    --------
    >>> from modelmath.enclosure.holes.plate import Hole
    >>> hole = PlacedHole(Hole("strand", 1), 0.1234, 4.0)
    >>> rounded_places([hole], Plate(10, 8), Wanted(1), (), 0.01)[0][0].x_mm
    0.12
    """
    kept = tuple(replace(each, x_mm=round(each.x_mm, DIGITS), y_mm=round(each.y_mm, DIGITS)) for each in holes)
    if not step_mm:
        return kept, False
    placed = [next(iter(_around(each, step_mm, row))) for each in kept]
    for _ in range(ROUNDS):
        before = list(placed)
        for index, hole in enumerate(kept):
            others = [each for other, each in enumerate(placed) if other != index]
            webs = {each: _webs_of(each, others, plate, wanted, keep_out) for each in _around(hole, step_mm, row)}
            placed[index] = max(webs, key=lambda each, webs=webs: _worth(webs[each]))  # type: ignore[misc]
        if placed == before:
            break
    thin = any(web.too_thin for web in all_webs(placed, plate, wanted, keep_out))
    return (kept, False) if thin else (tuple(placed), True)


def _around(hole: PlacedHole, step_mm: float, row: bool) -> list[PlacedHole]:
    """Return the hole on the steps round it, the nearest first; in a row, only to its left and right."""
    across = _steps(hole.x_mm, step_mm)
    up = [hole.y_mm] if row else _steps(hole.y_mm, step_mm)
    return [replace(hole, x_mm=x, y_mm=y) for x, y in product(across, up)]


def _steps(place: float, step_mm: float) -> list[float]:
    below = floor(place / step_mm + SAME)
    steps = [round(whole * step_mm, DIGITS) for whole in (below, below + 1)]
    return sorted(steps, key=lambda step: abs(step - place))


def _webs_of(
    hole: PlacedHole, others: Sequence[PlacedHole], plate: Plate, wanted: Wanted, keep_out: Sequence[KeepOut]
) -> list[Web]:
    return [*all_webs([hole], plate, wanted, keep_out), *(web_between(hole, other, wanted) for other in others)]


def _worth(webs: Sequence[Web]) -> tuple[float, float]:
    """Return what is to be large: first nothing lacking, then the least web."""
    return -max(TOLERANCE_MM, *(web.short_mm for web in webs)), min(web.web_mm for web in webs)
