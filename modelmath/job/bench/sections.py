"""Cross-sections of the shell's inside, read from the document, and hung under the roof of the zones that name them."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.enclosure import Profile
from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench

Section = tuple[tuple[Fraction, Fraction], ...]  # depth below the roof and full width, from the roof down


def sections_of(bench: Bench) -> dict[str, Section]:
    """Read the cross-sections; faults stay with the bench.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    dict of str to Section
        By name: depth below the roof and full width there, from the roof down. [mm]

    References
    ----------
    None needed.
    """
    found = {}
    for place, entry in enumerate(bench.job.profiles):
        with bench.at("profiles", place):
            path = ("profiles", place, "points")
            points = tuple(
                (bench.length(point.down, *path), bench.length(point.width, *path)) for point in entry.points
            )
            for (above, _), (below, _) in pairwise(points):
                if below < above:
                    given = f"{format_length(below, 'mm')} after {format_length(above, 'mm')}"
                    raise OutOfRange("the depth", given, "growing from point to point", "List them from the roof down.")
            if points[0][0] != 0:
                given = f"beginning {format_length(points[0][0], 'mm')} down"
                remedy = 'Begin with down = "0 mm", the width right under the roof.'
                raise OutOfRange("the cross-section", given, "beginning at the roof", remedy)
            found[entry.name] = points
    for place, zone in enumerate(bench.job.zones):
        with bench.at("zones", place, "profile"):
            names = [entry.name for entry in bench.job.profiles]
            if zone.profile is not None and zone.profile not in names:
                raise UnknownChoice("the profile", zone.profile, names)
    return found


def profile_under(section: Section, roof_mm: Fraction, widest_mm: Fraction) -> Profile:
    """Return a cross-section with its highest point at a roof, no wider anywhere than the zone was read.

    Parameters
    ----------
    section : Section
        Depth below the roof and full width, from the roof down. [mm]
    roof_mm : Fraction
        The roof's underside, above the seat. [mm]
    widest_mm : Fraction
        The zone's inside width, which it keeps below its last point. [mm]

    Returns
    -------
    Profile
        Half-width against height. [mm]

    References
    ----------
    Arithmetic.
    """
    deepest = section[-1][0]
    points = [(roof_mm - down, min(width, widest_mm) / 2) for down, width in reversed(section)]
    return Profile(((roof_mm - deepest - 1, points[0][1]), *points))
