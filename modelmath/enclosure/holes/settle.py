"""Many layouts pushed apart at once, roughly: from where the fine search of each goes on.

Each hole is pushed away from what is near it; the thinner a web, the harder. Step by step the pushes get shorter and
the thinnest webs count for more.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.enclosure.holes.region import edge_distance, piece_distances

if TYPE_CHECKING:
    from modelmath.enclosure.holes.region import Array
    from modelmath.enclosure.holes.spread import Webs

STEPS = 120
LONGEST, SHORTEST = 0.45, 0.004  # first and last push, in shares of the room that a hole has: tried out
SHARPNESS = 3.0  # how fast the thinner web outweighs the wider, per length of a push: tried out


def settled(webs: Webs, base_mm: Array, starts: Array, last: int = STEPS) -> Array:
    """Return layouts pushed apart, so that the least of webs less base is large.

    Parameters
    ----------
    webs : Webs
        The webs of the holes. [mm]
    base_mm : array
        What is taken off each web. [mm]
    starts : array of shape (layouts, n, 2)
        Where the holes begin. [mm]
    last : int
        How many of the pushes are made: the last, which are short. [-]

    Returns
    -------
    array of shape (layouts, n, 2)
        Where they end. [mm]

    References
    ----------
    Nurmela and Östergård 1997, Discrete & Computational Geometry 18, 111 (from memory): points that repel each other,
    more sharply as the search goes on, settle in good packings.
    """
    import numpy as np

    places, shrink = starts, (SHORTEST / LONGEST) ** (1 / STEPS)
    ends = np.zeros((webs.count, len(webs.one)))
    ends[webs.one, np.arange(len(webs.one))], ends[webs.other, np.arange(len(webs.one))] = 1.0, -1.0
    for step in range(STEPS - last, STEPS):
        push = LONGEST * webs.room_mm * shrink**step
        pushes = _pushes(webs, base_mm, places, SHARPNESS / push, ends)
        hardest = np.sqrt((pushes**2).sum(axis=2)).max(axis=1)[:, None, None]
        places = places + push * pushes / np.maximum(hardest, 1e-9)
    return places


def _pushes(webs: Webs, base_mm: Array, places: Array, sharpness: float, ends: Array) -> Array:
    """Return the push on each hole of each layout."""
    import numpy as np

    layouts, count, _ = places.shape
    flat = places.reshape(-1, 2)
    apart = places[:, webs.one] - places[:, webs.other]
    length = np.sqrt((apart**2).sum(axis=2)) + 1e-12
    distances, away = piece_distances(webs.region.pieces, flat)
    edges = edge_distance(webs.region, flat).reshape(layouts, count, -1) - webs.radii[:, None]
    alone = distances.reshape(-1, layouts, count).transpose(1, 0, 2) - webs.radii
    between = length - webs.radii[webs.one] - webs.radii[webs.other]
    over = np.concatenate([between, edges.reshape(layouts, -1), alone.reshape(layouts, -1)], axis=1) - base_mm
    weight = np.exp(-sharpness * (over - over.min(axis=1, keepdims=True)))

    pairs, first = between.shape[1], between.shape[1] + edges[0].size
    pushes = np.matmul(ends, apart * (weight[:, :pairs] / length)[:, :, None])
    pushes += weight[:, pairs:first].reshape(edges.shape) @ np.asarray(webs.region.edges)[:, :2]
    of_pieces = weight[:, first:].reshape(layouts, -1, count)
    pushes += np.einsum("lpn,plnc->lnc", of_pieces, away.reshape(-1, layouts, count, 2))
    return np.asarray(pushes)
