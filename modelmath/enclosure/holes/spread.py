"""Holes spread as widely as they can be: the least web as great as it gets.

From many starts, the same on every run, the holes are pushed apart roughly; from the best of those, a search with
straight-line models of the webs climbs on to the nearest best layout, and the best of all is kept. A layout so found is
the best one known, not a proven one.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import TYPE_CHECKING, Any, Literal

from modelmath.enclosure.holes.plate import Hole, KeepOut, PlacedHole, Plate
from modelmath.enclosure.holes.region import Region, edge_distance, free_points, piece_distances, region_of
from modelmath.enclosure.holes.settle import settled
from modelmath.enclosure.holes.webs import TOLERANCE_MM, Wanted

if TYPE_CHECKING:
    from modelmath.enclosure.holes.region import Array

Goal = Literal["web", "margin"]
STARTS, FEWEST_STARTS = 96, 16  # our choice: of 96 starts several reach the best known for up to ten holes
WORK = 1500  # starts times holes at most, where that leaves the fewest: our choice
CLIMBS, FEWER_CLIMBS, MANY = 16, 4, 12  # of the best starts; of more than 12 holes a climb takes long: our choice
STEPS, CHANGE_MM = 150, 1e-13  # steps at most, and the change of the goal at which a climb ends
EXCHANGES, LAST_STEPS = 3, 30  # times round all pairs; how many of the last pushes follow each: tried out
NEAR = 1.0  # webs wider than the least by this share of the room of a hole are left out at first: tried out
SAME_MM = 1e-9  # a layout better by less is no better


class Webs:
    """All webs of some holes in a region, at array speed.

    Parameters
    ----------
    holes : sequence of Hole
        Single holes. [mm]
    region : Region
        Where they may lie. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    """

    def __init__(self, holes: Sequence[Hole], region: Region, wanted: Wanted) -> None:
        import numpy as np

        self.region, self.count = region, len(holes)
        self.radii = np.array([hole.radius_mm for hole in holes])
        self.one, self.other = np.triu_indices(self.count, 1)
        between = [
            wanted.between(holes[one].circuit, holes[other].circuit)
            for one, other in zip(self.one.tolist(), self.other.tolist(), strict=True)
        ]
        edges = [wanted.edge] * (self.count * len(region.edges))
        pieces = [wanted.edge if edge else float(wanted.web_mm) for edge in region.from_edge for _ in holes]
        pairs = zip(self.one.tolist(), self.other.tolist(), strict=True)
        kinds = [(hole.radius_mm, hole.circuit) for hole in holes]
        self.unlike = [(one, other) for one, other in pairs if kinds[one] != kinds[other]]
        self.wanted = np.array([*between, *edges, *pieces])
        self.owner = np.concatenate(
            [np.repeat(np.arange(self.count), len(region.edges)), np.tile(np.arange(self.count), len(region.pieces))]
        )

    @property
    def room_mm(self) -> float:
        """Side of the square that each hole has for itself. [mm]"""
        (left, bottom), (right, top) = self.region.low, self.region.high
        return sqrt((right - left) * (top - bottom) / self.count)

    def values(self, places: Array) -> Array:
        """Return the webs: of each two holes, to each edge of the hull, to each piece.

        Parameters
        ----------
        places : array of shape (n, 2)
            Middles of the holes. [mm]

        Returns
        -------
        array
            The webs. [mm]

        References
        ----------
        Elementary geometry.
        """
        import numpy as np

        apart = np.hypot(*(places[self.one] - places[self.other]).T) - self.radii[self.one] - self.radii[self.other]
        edges = (edge_distance(self.region, places) - self.radii[:, None]).ravel()
        pieces = piece_distances(self.region.pieces, places)[0] - self.radii
        return np.concatenate([apart, edges, pieces.ravel()])

    def slopes(self, places: Array) -> Array:
        """Return how each web changes with each place.

        Parameters
        ----------
        places : array of shape (n, 2)
            Middles of the holes. [mm]

        Returns
        -------
        array of shape (webs, 2 n)
            Slopes. [-]

        References
        ----------
        Elementary geometry.
        """
        import numpy as np

        apart = places[self.one] - places[self.other]
        length = np.hypot(*apart.T)
        # Two middles in one place: any direction parts them.
        straight = np.where(length[:, None] > 0, apart / np.where(length > 0, length, 1.0)[:, None], [1.0, 0.0])
        edges = np.tile(np.asarray(self.region.edges)[:, :2], (self.count, 1))
        pieces = piece_distances(self.region.pieces, places)[1]
        alone = np.concatenate([edges, pieces.reshape(-1, 2)])
        slopes = np.zeros((len(self.wanted), self.count, 2))
        pairs = np.arange(len(self.one))
        slopes[pairs, self.one], slopes[pairs, self.other] = straight, -straight
        slopes[np.arange(len(self.one), len(self.wanted)), self.owner] = alone
        return slopes.reshape(len(self.wanted), -1)

    def of(self, free: Sequence[int]) -> Array:
        """Return which webs change when some holes move.

        Parameters
        ----------
        free : sequence of int
            The holes that may move. [-]

        Returns
        -------
        array of bool
            True for those.

        References
        ----------
        None needed.
        """
        import numpy as np

        pairs = np.isin(self.one, free) | np.isin(self.other, free)
        return np.concatenate([pairs, np.isin(self.owner, free)])

    def margin(self, places: Array) -> float:
        """Return the least of what the webs have more than is wanted.

        Parameters
        ----------
        places : array of shape (n, 2)
            Middles of the holes. [mm]

        Returns
        -------
        float
            Below 0 where a web is too thin. [mm]

        References
        ----------
        None needed.
        """
        return float((self.values(places) - self.wanted).min())


def spread_places(
    holes: Sequence[Hole], plate: Plate, wanted: Wanted, keep_out: Sequence[KeepOut] = ()
) -> tuple[tuple[PlacedHole, ...], float]:
    """Return the holes spread as widely as was found, and the least of what their webs have more than is wanted.

    Parameters
    ----------
    holes : sequence of Hole
        Single holes. [mm]
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    keep_out : sequence of KeepOut
        What no hole may come near. [mm]

    Returns
    -------
    tuple
        The holes where they lie, and the margin; where that is below 0, the layout that lacks least. [mm]

    References
    ----------
    Kraft 1988, DFVLR-FB 88-28 (from memory): sequential quadratic programming, as in scipy.optimize.

    Examples
    --------
    >>> placed, margin = spread_places([Hole("strand", 2)], Plate(12, 8), Wanted(1))
    >>> round(placed[0].y_mm, 6), round(margin, 6)
    (4.0, 2.0)
    """
    mirrored, turned = _looked_at_from_behind(keep_out)
    # In one order of sizes, so that the order in which they are listed changes nothing.
    listed = sorted(range(len(holes)), key=lambda index: (-holes[index].radius_mm, holes[index].circuit))
    webs = Webs([holes[index] for index in listed], region_of(plate, turned), wanted)
    places = _best_places(webs)
    margin = webs.margin(places)
    if mirrored:
        places = places * [-1.0, 1.0]
    by_index = {
        index: PlacedHole(holes[index], float(x), float(y)) for index, (x, y) in zip(listed, places, strict=True)
    }
    return tuple(by_index[index] for index in range(len(holes))), margin


def _looked_at_from_behind(keep_out: Sequence[KeepOut]) -> tuple[bool, tuple[KeepOut, ...]]:
    """Of a layout and its mirror image, solve one: what is found for both is then the same."""
    turned = tuple(KeepOut(each.name, -each.right, -each.left, each.bottom, each.top) for each in keep_out)
    behind, before = (tuple(sorted(each, key=lambda one: one.corners)) for each in (turned, keep_out))
    if [each.corners for each in behind] < [each.corners for each in before]:
        return True, behind
    return False, before


def _best_places(webs: Webs) -> Array:
    starts = _starts(webs)
    found = _best_of(webs, starts, "web")
    if webs.margin(found) >= -TOLERANCE_MM:
        return _loose_ones_spread(webs, found)
    if (webs.wanted == webs.wanted.min()).all():  # the widest least web is then the least lacking too
        return found
    found = _best_of(webs, starts, "margin")
    if webs.margin(found) < -TOLERANCE_MM:
        return found
    return _loose_ones_spread(webs, _best_of(webs, [found], "web"))


def _starts(webs: Webs) -> list[Array]:
    """Return layouts pushed apart roughly: to even webs, and, where other webs are wanted, to even margins too."""
    import numpy as np

    count = min(STARTS, max(FEWEST_STARTS, WORK // webs.count))
    starts = free_points(webs.region, count * webs.count).reshape(count, webs.count, 2)
    layouts = list(settled(webs, webs.wanted, starts))
    if (webs.wanted > webs.wanted.min()).any():
        layouts += list(settled(webs, np.zeros(len(webs.wanted)), starts))
    return layouts


def _best_of(webs: Webs, starts: Sequence[Array], goal: Goal) -> Array:
    """Climb on from the best few; return the best place reached."""
    ranked = sorted(range(len(starts)), key=lambda index: _rank(webs, starts[index], goal))
    best = starts[ranked[0]]
    for index in ranked[: CLIMBS if webs.count <= MANY else FEWER_CLIMBS]:
        climbed = _climb(webs, starts[index], goal)
        if _better(_rank(webs, climbed, goal), _rank(webs, best, goal)):
            best = climbed
    return _exchanged(webs, best, goal) if webs.count <= MANY else best


def _exchanged(webs: Webs, places: Array, goal: Goal) -> Array:
    """Let two unlike holes change places and climb on, as long as that leads to something better."""
    for _ in range(EXCHANGES):
        before = places
        for one, other in webs.unlike:
            changed = places.copy()
            changed[[one, other]] = places[[other, one]]
            (pushed,) = settled(webs, webs.wanted if goal == "margin" else 0 * webs.wanted, changed[None], LAST_STEPS)
            climbed = _climb(webs, pushed, goal)
            if _better(_rank(webs, climbed, goal), _rank(webs, places, goal)):
                places = climbed
        if before is places:
            break
    return places


def _better(rank: tuple[float, float], than: tuple[float, float]) -> bool:
    """Whether less is lacking, or as little and the goal is reached better."""
    if abs(rank[0] - than[0]) > SAME_MM:
        return rank[0] < than[0]
    return rank[1] < than[1] - SAME_MM


def _rank(webs: Webs, places: Array, goal: Goal) -> tuple[float, float]:
    """Return what is to be small: what is lacking, then what the goal has not reached."""
    values = webs.values(places)
    margin = float((values - webs.wanted).min())
    lacking = max(-margin, TOLERANCE_MM)
    return lacking, -float(values.min()) if goal == "web" else -margin


def _climb(webs: Webs, places: Array, goal: Goal, free: Sequence[int] | None = None) -> Array:
    """Move the free holes so that the least of their webs, or of what they have over, grows as far as it does.

    Webs far wider than the least are left out at first; where one then turns out too thin, all count.
    """
    import numpy as np

    moving = list(range(webs.count)) if free is None else list(free)
    all_rows = webs.of(moving)
    base = webs.wanted if goal == "margin" else np.zeros(len(webs.wanted))
    over = webs.values(places) - base
    near = all_rows & (over < over[all_rows].min() + NEAR * webs.room_mm)
    climbed = _climbed(webs, places, goal, moving, near)
    over = webs.values(climbed) - base
    if over[all_rows].min() < over[near].min() or _rank(webs, climbed, goal)[0] > TOLERANCE_MM:
        return _climbed(webs, climbed, goal, moving, all_rows)
    return climbed


def _climbed(webs: Webs, places: Array, goal: Goal, moving: Sequence[int], rows: Array) -> Array:
    import numpy as np
    from scipy.optimize import minimize

    columns = [column for hole in moving for column in (2 * hole, 2 * hole + 1)]
    wanted = webs.wanted[rows]
    base = wanted if goal == "margin" else np.zeros(len(wanted))
    held = wanted > (webs.wanted.min() if goal == "web" else np.inf)

    def placed(point: Array) -> Array:
        moved = places.copy()
        moved[moving] = point[:-1].reshape(-1, 2)
        return moved

    def over(point: Array) -> Array:
        values = webs.values(placed(point))[rows]
        return np.concatenate([values - base - point[-1], values[held] - wanted[held]])

    def slopes(point: Array) -> Array:
        of_places = webs.slopes(placed(point))[rows][:, columns]
        least = np.column_stack([of_places, -np.ones(len(of_places))])
        return np.concatenate([least, np.column_stack([of_places[held], np.zeros(held.sum())])])

    aim = np.zeros(len(columns) + 1)
    aim[-1] = -1.0
    start = np.append(places[moving].ravel(), (webs.values(places)[rows] - base).min())
    low, high = np.tile(webs.region.low, len(moving)), np.tile(webs.region.high, len(moving))
    search: Any = minimize  # its types differ from one release of scipy's stubs to the next
    found = search(
        lambda point: -point[-1],
        start,
        jac=lambda _: aim,
        method="SLSQP",
        bounds=[*zip(low, high, strict=True), (None, None)],
        constraints={"type": "ineq", "fun": over, "jac": slopes},
        options={"maxiter": STEPS, "ftol": CHANGE_MM},
    )
    return placed(found.x) if np.isfinite(found.x).all() else places


def _loose_ones_spread(webs: Webs, places: Array) -> Array:
    """Hold the holes of the least webs, and spread the rest again, until none is loose."""
    free = list(range(webs.count))
    while True:
        values = webs.values(places)
        rows = webs.of(free)
        tight = rows & (values < values[rows].min() + 10 * TOLERANCE_MM)
        pairs = len(webs.one)
        held = {*webs.one[tight[:pairs]].tolist(), *webs.other[tight[:pairs]].tolist()}
        held |= set(webs.owner[tight[pairs:]].tolist())
        free = [hole for hole in free if hole not in held]
        if not free:
            return places
        spread = _climb(webs, places, "web", free)
        if not _better(_rank(webs, places, "web"), _rank(webs, spread, "web")):
            places = spread
