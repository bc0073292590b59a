"""From the bench's heights and places to a cavity, and what is still missing for one."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.enclosure import Cavity, Zone
from modelmath.job.bench.bench import Bench
from modelmath.job.bench.heights import Depth
from modelmath.job.bench.sections import profile_under
from modelmath.lengths.rules.readings import Measured


@dataclass(frozen=True)
class Missing:
    """An entry that is not there yet, and what it would give.

    Attributes
    ----------
    entry : str
        What has to be entered, in words. [-]
    gives : str
        What can be worked out once it is, in words. [-]
    """

    entry: str
    gives: str


def width_of(bench: Bench, depth: Depth) -> Measured | None:
    """Return the inside width of a zone, once read.

    Parameters
    ----------
    bench : Bench
        The bench. [-]
    depth : Depth
        The zone. [mm]

    Returns
    -------
    Measured or None
        Inside width. [mm]

    References
    ----------
    None needed.
    """
    return None if depth.zone.width is None else bench.reading(depth.zone.width).measured


def heights_of(depth: Depth) -> tuple[Fraction, Fraction]:
    """Return roof and chassis top of a zone; where only the gap was read, heights count down from the roof.

    Parameters
    ----------
    depth : Depth
        The zone. [mm]

    Returns
    -------
    tuple of Fraction
        Roof and chassis top. [mm]

    References
    ----------
    Arithmetic.
    """
    if depth.roof is None or depth.top is None:
        return Fraction(0), -depth.free.exact_mm
    return depth.roof.exact_mm, depth.top.exact_mm


def missing_for_chamber(bench: Bench) -> list[Missing]:
    """Return what has to be entered before the chamber can be laid out.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    list of Missing
        Empty once all is there. [-]

    References
    ----------
    None needed.
    """
    gives = "the chamber and its volume"
    found = [
        Missing(f"the inside width over {depth.zone.name}", gives) for depth in bench.depths if depth.zone.width is None
    ]
    if bench.ends is None:
        found.append(Missing("the length inside the shell", gives))
    if len(bench.depths) > 1:
        found += [
            Missing(f"the underside over {depth.zone.name}", gives) for depth in bench.depths if depth.roof is None
        ]
    return found


def cavity_of(bench: Bench) -> Cavity | None:
    """Return the cavity, once every zone has its heights, its width and its place.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    Cavity or None
        The zones, front to rear; None while something is missing. [mm]

    References
    ----------
    Arithmetic.
    """
    if bench.ends is None or bench.job.length is None or missing_for_chamber(bench):
        return None
    zones = []
    for place, depth in enumerate(bench.depths):
        roof, top = heights_of(depth)
        width = width_of(bench, depth)
        assert width is not None
        start, end = bench.ends.edges[place].exact_mm, bench.ends.edges[place + 1].exact_mm
        section = bench.profiles.get(depth.zone.profile or "")
        profile = None if section is None else profile_under(section, roof, width.exact_mm)
        zones.append(Zone(depth.zone.name, start, end, top, roof, width.exact_mm, profile))
    obstacles = tuple(moving.obstacle for moving in bench.moving)
    return Cavity(tuple(zones), bench.job.length.front_closed, bench.job.length.rear_closed, obstacles)
