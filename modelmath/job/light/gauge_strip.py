"""Strips of holes to match formed lens ends by: one for each size of lens, drilled with drills that are made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.light.lens.gauge import GaugeHole, gauge_holes
from modelmath.materials.drills.sets import drill_set

if TYPE_CHECKING:
    from modelmath.job.light.strands import StrandLine

SETS = ("number", "fraction", "metric")


@dataclass(frozen=True)
class GaugeStrip:
    """A strip of holes for one size of lens.

    Attributes
    ----------
    lens_mm : float
        The lens. [mm]
    strands : tuple of str
        The strands whose lenses it is for. [-]
    holes : tuple of GaugeHole
        In order of size. [mm]
    """

    lens_mm: float
    strands: tuple[str, ...]
    holes: tuple[GaugeHole, ...]


def gauge_strips(lines: Sequence[StrandLine]) -> tuple[GaugeStrip, ...]:
    """Return a strip of holes for each size of lens.

    Parameters
    ----------
    lines : sequence of StrandLine
        The strands. [-]

    Returns
    -------
    tuple of GaugeStrip
        By the size of the lens; none where no lens is formed. [mm]

    References
    ----------
    `gauge_holes`.
    """
    sizes: dict[float, list[str]] = {}
    for line in lines:
        if line.lens_mm is not None and line.melt is not None:
            sizes.setdefault(round(line.lens_mm, 2), []).append(line.name)
    drills = [(each.name, each.diameter_mm) for name in SETS for each in drill_set(name)]
    return tuple(
        GaugeStrip(size, tuple(names), tuple(gauge_holes(size, drills))) for size, names in sorted(sizes.items())
    )
