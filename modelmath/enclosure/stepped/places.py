"""Where steps of the largest stepped chamber may stand: a finite set of places that is complete.

Let the levels be given, from the front. The riser stands on the lower side of its step and closes the height up to the
higher floor, so that the chamber reaches down to its floors except over a riser, where it reaches down to the higher
one. Over the length, its volume is the area of the section above that line. Hence, with w the wall's thickness:

1. An end moved outward only adds volume. So the ends lie where a bay gets in the way: at edges of bays.
2. A step up (to the rear) at p changes the volume by the area between the two levels at p - w; moved to the rear it
   never loses any. The volume is straight in p but for p - w at an edge. A step down is the mirror image: moved to the
   front it never loses, and the volume is straight but for p + w at an edge.
3. What bounds steps and the seat's front edge q: p, q or q + length at an edge (floors, roof, room for the speaker);
   the riser's far face at an edge (the roof over it): p - w or p + w; two neighbours the shortest length apart; q
   against a step (w) or an end wall (w and the post). Each compares two of them, or one with an edge.

For given levels, ends and order among the edges, all these are linear: the best is at a vertex, at which every step
hangs together, through neighbours at their least distance, with a place in which one of them touches an edge. So each
step is at

    edge + anchor + links

where the anchor is 0, +-w (a riser's far face; q at an edge), +-(length + w) (q + length at an edge, or q at an edge
seen from its other side; an end of the shell), +-(length + w + w + post) (an end wall), or +-shortest (from an end),
and the links, at most one fewer than there are steps and all to one side, are each the shortest length or, once, the
room between two steps that just hold the speaker, length + 2 w.

The set holds all these sums: more than can matter, and none less.
"""

from __future__ import annotations

from modelmath.enclosure.stepped.ground import Ground
from modelmath.lengths.numbers import Number


def step_places(ground: Ground, steps: int) -> tuple[Number, ...]:
    """Return every place at which the largest chamber may have an end or a step.

    Parameters
    ----------
    ground : Ground
        The bays, and what a chamber in them keeps. [mm]
    steps : int
        How many steps the floor may have, 1 or more. [-]

    Returns
    -------
    tuple of Fraction or float
        Places from the fore-aft mark, the front one first. [mm]

    References
    ----------
    The argument stands at the head of this module.

    Examples
    --------
    >>> from modelmath.enclosure import Cavity, Limits, Zone
    >>> from modelmath.enclosure.stepped.ground import ground_in
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> step_places(ground_in(cavity, Limits(1), None, 2, None), 1)
    (0, 1, 2, 18, 19, 20, 21, 22, 58, 59, 60)
    """
    edges = {ground.bays[0].start_mm, *(bay.end_mm for bay in ground.bays)}
    first, last = min(edges), max(edges)
    offsets = _offsets(ground, steps)
    return tuple(sorted({place for edge in edges for by in offsets if first <= (place := edge + by) <= last}))


def _offsets(ground: Ground, steps: int) -> set[Number]:
    """Return the sums of an anchor and of links."""
    wall, shortest = ground.wall_mm, ground.shortest_mm
    anchors: set[Number] = {0, wall, shortest}
    links: set[Number] = {count * shortest for count in range(steps)}
    if ground.speaker is not None:
        length = ground.speaker.length_mm
        anchors |= {length + wall, length + wall + ground.walled_room_mm}
        links |= {count * shortest + length + 2 * wall for count in range(steps - 1)}
    both = {sign * anchor for anchor in anchors for sign in (1, -1)}
    return {anchor + sign * link for anchor in both for link in links for sign in (1, -1)}
