"""Which candidate makes the largest chamber once floors and walls are cut to marks: not always the largest before."""

from __future__ import annotations

from modelmath.clearance import Marks
from modelmath.enclosure.assemble import parts_of
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.marked import at_marks
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number


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
        cut = _built(exact, enclosure, marks, misses, found[most - 1].volume_mm3 if len(found) >= most else 0)
        if cut is not None:
            found.append(cut)
            found.sort(key=lambda each: -each.volume_mm3)
    if not found:
        raise min(misses, key=lambda miss: miss.short_mm)
    return tuple(found[:most])


def why_none_is_built(enclosure: Enclosure, marks: Marks) -> DoesNotFit | None:
    """Say why no candidate can be built once cut; quicker than to ask which is the largest.

    Parameters
    ----------
    enclosure : Enclosure
        The candidates. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]

    Returns
    -------
    DoesNotFit or None
        What `ranked_at_marks` would raise; None where one can be built. [mm]

    References
    ----------
    `ranked_at_marks`.
    """
    misses: list[DoesNotFit] = []
    if any(_built(each, enclosure, marks, misses) is not None for each in enclosure.candidates):
        return None
    return min(misses, key=lambda miss: miss.short_mm)


def _built(
    exact: Chamber, enclosure: Enclosure, marks: Marks, misses: list[DoesNotFit], over_mm3: Number = 0
) -> Chamber | None:
    """Return a candidate as it is cut, if it can be built and holds more than so much; else add why not to the misses.

    A chamber one of whose parts is left no height can't be built. One that holds no more is not asked about its parts.
    """
    try:
        cut = at_marks(exact, enclosure, marks)
        if cut.volume_mm3 <= over_mm3:
            return None
        parts_of(enclosure, cut, marks)
    except DoesNotFit as miss:
        misses.append(miss)
        return None
    return cut
