"""Which candidate makes the largest chamber once floors and walls are cut to marks: not always the largest before."""

from __future__ import annotations

from modelmath.clearance import Marks
from modelmath.enclosure.assemble import parts_of
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.marked import at_marks
from modelmath.errors import DoesNotFit


def ranked_at_marks(enclosure: Enclosure, marks: Marks, most: int = 2) -> tuple[Chamber, ...]:
    """Return the largest chambers as they are cut, the largest first.

    Parameters
    ----------
    enclosure : Enclosure
        The candidates, by exact volume. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]
    most : int
        How many at most, 1 or more. [-]

    Returns
    -------
    tuple of Chamber
        One or more; of two as large, the one ranked first before cutting. [mm]

    Raises
    ------
    DoesNotFit
        If no candidate can be built once cut; says by how much the nearest misses and why.

    References
    ----------
    Branch and bound: cutting only takes from a chamber, so that its exact volume is an upper bound.
    """
    found: list[Chamber] = []
    misses: list[DoesNotFit] = []
    for exact in enclosure.candidates:
        if len(found) >= most and exact.volume_mm3 <= found[most - 1].volume_mm3:
            break
        try:
            cut = at_marks(exact, enclosure, marks)
            parts_of(enclosure, cut, marks)  # a chamber one of whose parts is left no height can't be built
        except DoesNotFit as miss:
            misses.append(miss)
            continue
        found.append(cut)
        found.sort(key=lambda each: -each.volume_mm3)
    if not found:
        raise min(misses, key=lambda miss: miss.short_mm)
    return tuple(found[:most])
