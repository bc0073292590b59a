"""A run of drills: those of one set from one to another, as an index of drills holds them."""

from __future__ import annotations

from modelmath.errors import OutOfRange
from modelmath.materials.drills.names import drill
from modelmath.materials.drills.sets import Drill, drill_set


def drill_range(first: str, last: str) -> tuple[Drill, ...]:
    """Return the drills of a set from one to another, both of them included.

    Parameters
    ----------
    first, last : str
        Names of two drills of one set, in either order. [-]

    Returns
    -------
    tuple of Drill
        In the order of the set's table. [mm]

    Raises
    ------
    UnreadableLength, UnknownChoice, OutOfRange
        If a name is no drill's, or the two are of different sets.

    References
    ----------
    data/drills_*.csv.

    Examples
    --------
    >>> [each.name for each in drill_range("#63", "#61")]
    ['#61', '#62', '#63']
    """
    one, other = drill(first), drill(last)
    if one.set != other.set:
        given = f"{one.name} of the {one.set} set and {other.name} of the {other.set} set"
        raise OutOfRange("the run of drills", given, "from one drill to another of one set", "Write #61 and #80.")
    drills = drill_set(one.set)
    low, high = sorted((drills.index(one), drills.index(other)))
    return drills[low : high + 1]
