"""Holes in one row at a height, evenly spread over what is free there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise, permutations
from math import hypot, inf, sqrt

from modelmath.enclosure.holes.plate import Hole, KeepOut, PlacedHole, Plate
from modelmath.enclosure.holes.webs import TOLERANCE_MM, Vector, Wanted, all_webs
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number

HALVINGS = 40  # of what is free, to find a web: far below a millionth of a mm
HEIGHTS = 32  # heights tried where none is given: our choice
TRIED = 41  # places of a stretch at which a hole that has none is tried: our choice
ORDERED = 4  # circuits of which every order is tried, where keep-outs part the row: our choice
Span = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """The level line of a row.

    Attributes
    ----------
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    keep_out : tuple of KeepOut
        What no hole may come near. [mm]
    height_mm : float
        Height of the line. [mm]
    """

    plate: Plate
    wanted: Wanted
    keep_out: tuple[KeepOut, ...]
    height_mm: float
    _found: dict[float, list[Span]] = field(default_factory=dict, repr=False, compare=False)

    @property
    def crossed(self) -> tuple[KeepOut, ...]:
        """The keep-outs that the line crosses. [-]"""
        return tuple(each for each in self.keep_out if float(each.bottom) < self.height_mm < float(each.top))

    @cached_property
    def stretches(self) -> list[Span]:
        """The stretches of the line that are inside the plate and outside every keep-out. [mm]"""
        half = self.plate.half_at(self.height_mm)
        stretches, start = list[Span](), -half
        for left, right in sorted((float(each.left), float(each.right)) for each in self.crossed):
            if left > start:
                stretches.append((start, min(left, half)))
            start = max(start, right)
        stretches.append((start, half))
        return [(low, high) for low, high in stretches if high > low]

    def free(self, radius_mm: float, web_mm: float, within: Span | None = None) -> list[Span]:
        """Return where the middle of a hole may lie: so far along the line from each stretch's ends, and clear.

        Parameters
        ----------
        radius_mm : float
            The hole's radius. [mm]
        web_mm : float
            The web along the line to the ends of a stretch. [mm]
        within : (float, float) or None
            One of the stretches; None for all. [mm]

        Returns
        -------
        list of (float, float)
            From left to right. [mm]

        References
        ----------
        Elementary geometry.
        """
        reach = radius_mm + web_mm
        spans = [(low + reach, high - reach) for low, high in (self.stretches if within is None else [within])]
        for left, right in self._blocked(radius_mm):
            spans = [each for low, high in spans for each in ((low, min(high, left)), (max(low, right), high))]
            spans = [(low, high) for low, high in spans if high >= low - TOLERANCE_MM * 1e-3]
        return sorted(spans)

    def _blocked(self, radius_mm: float) -> list[Span]:
        """Return the spans of the line in which a hole is too near to an edge or to a keep-out; looked up once."""
        if radius_mm not in self._found:
            self._found[radius_mm] = list(self._spans(radius_mm))
        return self._found[radius_mm]

    def _spans(self, radius_mm: float) -> Iterator[Span]:
        corners = self.plate.corners
        for start, end in pairwise((*corners, corners[0])):
            yield from near_side(start, end, radius_mm + self.wanted.edge, self.height_mm)
        for each in self.keep_out:
            sides = pairwise((*each.corners, each.corners[0]))
            reach = radius_mm + float(self.wanted.web_mm)
            spans = [span for start, end in sides for span in near_side(start, end, reach, self.height_mm)]
            if spans:
                yield min(low for low, _ in spans), max(high for _, high in spans)


def near_side(start: Vector, end: Vector, reach_mm: float, height_mm: float) -> Iterator[Span]:
    """Yield the span of a level line that lies nearer to a straight side than a reach, if there is one.

    Parameters
    ----------
    start, end : (float, float)
        Ends of the side, as (across, up). [mm]
    reach_mm : float
        The reach. [mm]
    height_mm : float
        Height of the line. [mm]

    Returns
    -------
    iterator of (float, float)
        One span or none. [mm]

    References
    ----------
    Elementary geometry: what is near a stretch is a rectangle with a half circle at each end, and convex.

    Examples
    --------
    >>> list(near_side((4.0, 0.0), (4.0, 9.0), 1.5, 3.0))
    [(2.5, 5.5)]
    """
    found = list[float]()
    for across, up in (start, end):
        if abs(height_mm - up) < reach_mm:
            half = sqrt(reach_mm**2 - (height_mm - up) ** 2)
            found += [across - half, across + half]
    length = hypot(end[0] - start[0], end[1] - start[1])
    off = ((end[1] - start[1]) / length * reach_mm, (start[0] - end[0]) / length * reach_mm)
    for sign in (1, -1):
        low, high = sorted((start[1] + sign * off[1], end[1] + sign * off[1]))
        if low < height_mm < high:
            share = (height_mm - start[1] - sign * off[1]) / (end[1] - start[1])
            found.append(start[0] + sign * off[0] + share * (end[0] - start[0]))
    if found and max(found) > min(found):
        yield min(found), max(found)


def row_places(
    holes: Sequence[Hole],
    plate: Plate,
    wanted: Wanted,
    keep_out: Sequence[KeepOut] = (),
    row_height_mm: Number | None = None,
) -> tuple[PlacedHole, ...]:
    """Return the holes in one row, circuits side by side, webs along it and to its ends as even as they can be.

    Parameters
    ----------
    holes : sequence of Hole
        Single holes. [mm]
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    keep_out : sequence of KeepOut
        What no hole may come near; those that the row crosses part it. [mm]
    row_height_mm : Fraction, float or None
        Height of the row; None for the height with the widest least web, of several the one nearest to mid-height. [mm]

    Returns
    -------
    tuple of PlacedHole
        In the order of `holes`.

    Raises
    ------
    DoesNotFit
        If the row is too long, or no hole may lie at that height.

    References
    ----------
    Arithmetic: what is left of a stretch when the holes are taken off, parted evenly.

    Examples
    --------
    20 mm less 3 holes of 1 mm leave 17 mm for 4 webs:

    >>> placed = row_places([Hole(f"strand {n}", 1) for n in (1, 2, 3)], Plate(20, 12), Wanted(1), row_height_mm=5)
    >>> [round(each.x_mm, 4) for each in placed]
    [-5.25, 0.0, 5.25]
    """
    if row_height_mm is not None:
        line = Line(plate, wanted, tuple(keep_out), float(row_height_mm))
        return _in_order(holes, _row(holes, line) or _refuse(holes, line))
    best, widest, middle = None, -inf, float(plate.height_mm) / 2
    heights = sorted((middle * step * 2 / HEIGHTS for step in range(1, HEIGHTS)), key=lambda each: abs(each - middle))
    for height in heights:
        row = _row(holes, Line(plate, wanted, tuple(keep_out), height))
        if row is not None:
            least = min(web.web_mm for web in all_webs(row, plate, wanted, keep_out))
            if least > widest + TOLERANCE_MM:
                best, widest = row, least
    if best is None:
        raise _least_misfit(holes, [Line(plate, wanted, tuple(keep_out), height) for height in heights])
    return _in_order(holes, best)


def _least_misfit(holes: Sequence[Hole], lines: Sequence[Line]) -> DoesNotFit:
    """Return the misfit of the height that lacks least, if there are such among those with a place for each hole."""
    thickest = max(holes, key=lambda hole: hole.radius_mm)
    roomy = [line for line in lines if line.free(thickest.radius_mm, 0.0)]
    if roomy:
        return _misfit(holes, min(roomy, key=lambda line: _too_long(next(_grouped(holes, line)), line)))
    return min((_misfit(holes, line) for line in lines), key=lambda error: error.short_mm)


def _in_order(holes: Sequence[Hole], row: Sequence[PlacedHole]) -> tuple[PlacedHole, ...]:
    by_name = {each.name: each for each in row}
    return tuple(by_name[hole.name] for hole in holes)


def _grouped(holes: Sequence[Hole], line: Line) -> Iterator[list[Hole]]:
    """Yield the holes with circuits side by side: in the order given, then, where it may matter, in every other."""
    circuits = list(dict.fromkeys(hole.circuit for hole in holes))
    several = line.crossed and len(circuits) <= ORDERED
    for order in permutations(circuits) if several else [tuple(circuits)]:
        yield [hole for circuit in order for hole in holes if hole.circuit == circuit]


def _row(holes: Sequence[Hole], line: Line) -> tuple[PlacedHole, ...] | None:
    """Return the row with the widest webs along it; None where it is too long."""
    best, widest = None, -inf
    for order in _grouped(holes, line):
        most = _most(order, line.stretches, line.wanted)
        web = _widest(lambda web, order=order: _packed(order, line, web) is not None, most)  # type: ignore[misc]
        if web is not None and web > widest + TOLERANCE_MM:
            best, widest = order, web
    if best is None:
        return None
    places = _packed(best, line, widest) or []
    row = _placed(best, places, line)
    even = _placed(best, _evened(best, places, line), line)
    thin = any(web.too_thin for web in all_webs(even, line.plate, line.wanted, line.keep_out))
    return row if thin else even


def _placed(order: Sequence[Hole], places: Sequence[float], line: Line) -> tuple[PlacedHole, ...]:
    return tuple(PlacedHole(hole, place, line.height_mm) for hole, place in zip(order, places, strict=True))


def _most(order: Sequence[Hole], stretches: Sequence[Span], wanted: Wanted) -> float:
    """Return the web with which holes and webs fill what is free: none is wider, and mostly it is the widest."""
    left = sum(high - low for low, high in stretches) - 2 * sum(hole.radius_mm for hole in order)
    # Where the row is parted, holes of two circuits may stand on either side, with no web between them.
    parted = len(stretches) > 1
    apart = sorted(0.0 if parted else wanted.between(one.circuit, other.circuit) for one, other in pairwise(order))
    kept = sum(apart)
    web, count = (left - kept) / 2, 2
    for least in apart:
        if least >= web:
            break
        kept, count = kept - least, count + 1  # the web between these two is as wide as the others
        web = (left - kept) / count
    return web


def _widest(fits: Callable[[float], bool], most_mm: float) -> float | None:
    """Return the widest web that fits, up to a most; None where not even none does."""
    low, high = 0.0, max(most_mm, 0.0)
    if not fits(low):
        return None
    if fits(high):
        return high
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def _packed(order: Sequence[Hole], line: Line, web_mm: float, within: Span | None = None) -> list[float] | None:
    """Place each hole as far to the left as it goes; None where one finds no place."""
    places, before = list[float](), None
    free: dict[float, list[Span]] = {}  # holes of one size share it
    for hole in order:
        least = -inf
        if before is not None:
            between = max(web_mm, line.wanted.between(before.circuit, hole.circuit))
            least = places[-1] + before.radius_mm + between + hole.radius_mm
        if hole.radius_mm not in free:
            free[hole.radius_mm] = line.free(hole.radius_mm, web_mm, within)
        spans = free[hole.radius_mm]
        place = next((max(low, least) for low, high in spans if high >= least - TOLERANCE_MM / 1000), None)
        if place is None:
            return None
        places.append(place)
        before = hole
    return places


def _evened(order: Sequence[Hole], places: Sequence[float], line: Line) -> list[float]:
    """Spread the holes of each stretch evenly over it."""
    evened = list[float]()
    for stretch in line.stretches:
        share = [hole for hole, place in zip(order, places, strict=True) if stretch[0] < place < stretch[1]]
        if share:
            most = _most(share, [stretch], line.wanted)
            web = _widest(lambda web, share=share, at=stretch: _packed(share, line, web, at) is not None, most)  # type: ignore[misc]
            evened += _packed(share, line, web or 0.0, stretch) or []
    return evened if len(evened) == len(places) else list(places)


def _refuse(holes: Sequence[Hole], line: Line) -> tuple[PlacedHole, ...]:
    raise _misfit(holes, line)


def _misfit(holes: Sequence[Hole], line: Line) -> DoesNotFit:
    """Return why a row does not fit, by how much, and what would make it fit."""
    at = f"at {line.height_mm:.2f} mm"
    what = f"A row of {len(holes)} {at}" if len(holes) > 1 else f"{holes[0].name} {at}"
    for hole in sorted(holes, key=lambda each: -each.radius_mm):
        if not line.free(hole.radius_mm, 0.0):
            return _no_place(what, hole, line)
    order = next(_grouped(holes, line))
    free = sum(high - low for low, high in line.stretches)
    short = _too_long(order, line)
    crossed = [each.name for each in line.crossed]
    parted = f", parted by {' and '.join(crossed)}" if crossed else ""
    cause = f"holes and webs take {free + short:.2f} mm of the {free:.2f} mm free at that height{parted}"
    return DoesNotFit(what, short, cause, _would_fit(holes, line))


def _no_place(what: str, hole: Hole, line: Line) -> DoesNotFit:
    """Return that a hole has no place at that height, and the web that leaves it none where it lacks least."""
    tried = [
        low + (high - low) * (step + 0.5) / TRIED
        for low, high in line.stretches or [(0.0, 0.0)]
        for step in range(TRIED)
    ]
    worst = [
        all_webs([PlacedHole(hole, place, line.height_mm)], line.plate, line.wanted, line.keep_out)[0]
        for place in tried
    ]
    web = min(worst, key=lambda each: each.short_mm)
    remedy = "Choose another height, a thinner web or a smaller drill."
    cause = web.text.rstrip(".").replace("The web", "the web", 1)
    return DoesNotFit(what, max(web.short_mm, TOLERANCE_MM), cause, remedy)


def _too_long(order: Sequence[Hole], line: Line) -> float:
    """Return by how much the row is longer than what is free: how far beyond its last place a hole would lie."""
    over, place, before = TOLERANCE_MM, -inf, None
    for hole in order:
        if before is not None:
            place += before.radius_mm + line.wanted.between(before.circuit, hole.circuit) + hole.radius_mm
        spans = line.free(hole.radius_mm, 0.0)
        place = next((max(low, place) for low, high in spans if high >= place), place)
        over, before = max(over, place - spans[-1][1]), hole
    return over


def _would_fit(holes: Sequence[Hole], line: Line) -> str:
    """Return the widest web with which the row fits, as advice."""

    def fits(web: float) -> bool:
        full = line.wanted
        less = Wanted(min(float(full.web_mm), web), min(full.edge, web), min(float(full.apart_mm), web))
        slim = Line(line.plate, less, line.keep_out, line.height_mm)
        return any(_packed(order, slim, 0.0) is not None for order in _grouped(holes, slim))

    web = _widest(fits, float(line.plate.width_mm))
    if web is None or web < 0.01:
        return "Not even without webs would it fit: take smaller or fewer holes, or spread them."
    return f"Take webs of at most {int(web * 100 + 1e-6) / 100:.2f} mm, or spread them over the plate."
