"""Holes laid out on a bulkhead or plate: spread as widely as they go, or in one row; moved by hand; checked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import Literal

from modelmath.enclosure.holes.plate import Hole, KeepOut, PlacedHole, Plate, numbered_holes
from modelmath.enclosure.holes.rounding import rounded_places
from modelmath.enclosure.holes.row import row_places
from modelmath.enclosure.holes.spread import spread_places
from modelmath.enclosure.holes.webs import TOLERANCE_MM, Wanted, Web, all_webs, shown_mm
from modelmath.errors import DoesNotFit, OutOfRange, UnknownChoice
from modelmath.lengths.numbers import Number, check_number
from modelmath.materials.drills.sets import FRAGILE_CAUTION, FRAGILE_MM

Way = Literal["spread", "row"]
WAYS = ("spread", "row")
ROUND_MM = 0.01  # finer than a caliper marks out: our choice
NAMED = 3  # webs that a message names at most
NAMED_FIRST = ("keep-out", "hole", "edge")
LEAST_WEB_MM = 0.01  # thinner, and it is no web to speak of
ON_LINE_MM = 0.005  # what would be shown as 0.00


@dataclass(frozen=True)
class Layout:
    """Holes where they lie on a plate, and the webs that they leave.

    Attributes
    ----------
    holes : tuple of PlacedHole
        The holes, each with a name of its own. [mm]
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    keep_out : tuple of KeepOut
        What no hole may come near. [mm]
    way : str
        How they were laid out: ``spread``, ``row`` or ``by hand``. [-]
    round_mm : float
        The step to which the places are rounded; 0 where they are not. [mm]
    rounding_mm : float
        What rounding took off the least web; below 0 where it added to it. [mm]
    """

    holes: tuple[PlacedHole, ...]
    plate: Plate
    wanted: Wanted
    keep_out: tuple[KeepOut, ...] = ()
    way: str = "by hand"
    round_mm: float = 0.0
    rounding_mm: float = 0.0

    @cached_property
    def webs(self) -> tuple[Web, ...]:
        """Every web, the one that lacks most first. [mm]"""
        return all_webs(self.holes, self.plate, self.wanted, self.keep_out)

    @property
    def least(self) -> Web:
        """The thinnest web, and between which two. [mm]"""
        return min(self.webs, key=lambda web: web.web_mm)

    @property
    def too_thin(self) -> tuple[Web, ...]:
        """The webs that are thinner than wanted, the one that lacks most first. [mm]"""
        return tuple(web for web in self.webs if web.too_thin)

    def from_left_mm(self, hole: PlacedHole) -> float:
        """Return how far a hole's middle lies from the left end of the plate where it is widest.

        Parameters
        ----------
        hole : PlacedHole
            The hole. [mm]

        Returns
        -------
        float
            The distance. [mm]

        References
        ----------
        Arithmetic.

        Examples
        --------
        >>> layout = lay_out_holes([Hole("strand", 1)], Plate(10, 8), 1)
        >>> layout.from_left_mm(layout.holes[0])
        5.0
        """
        return hole.x_mm + float(self.plate.width_mm) / 2

    @property
    def marking_out(self) -> tuple[str, ...]:
        """One sentence for each hole: its drill and where its middle is marked. [-]"""
        return tuple(self._mark(each) for each in self.holes)

    def _mark(self, each: PlacedHole) -> str:
        drill = f"drill {each.hole.drill}" if each.hole.drill else f"{float(each.hole.diameter_mm):.2f} mm"
        side = f"{abs(each.x_mm):.2f} mm {'right' if each.x_mm > 0 else 'left'} of"
        across = "on" if abs(each.x_mm) < ON_LINE_MM else side
        left = f"{self.from_left_mm(each):.2f} mm from the left edge"
        return f"{each.name}: {drill}, {across} the centre line ({left}), {each.y_mm:.2f} mm above the lower edge."

    @property
    def caution(self) -> str:
        """What to mind with drills so thin; empty where none is. [-]"""
        return FRAGILE_CAUTION if any(each.hole.diameter_mm <= FRAGILE_MM for each in self.holes) else ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """The least web, what rounding cost, and the webs that are too thin. [-]"""
        least = self.least
        said = [f"The least web is that between {least.between}: {_size(least.web_mm)}."]
        if self.way != "by hand":
            said.append(self._rounding())
        return (*said, *(f"{web.text} {web.remedy}" for web in self.too_thin))

    def _rounding(self) -> str:
        if not self.round_mm:
            return "The places are not rounded; each mark's own error comes off the webs."
        step = f"Places are rounded to {self.round_mm:g} mm"
        if self.rounding_mm <= TOLERANCE_MM:
            return f"{step}; that costs nothing of the least web."
        return f"{step}; that costs {shown_mm(self.rounding_mm)} of the least web."


def _size(web_mm: float) -> str:
    return f"they overlap by {shown_mm(-web_mm)}" if web_mm < -TOLERANCE_MM else shown_mm(web_mm)


def lay_out_holes(
    holes: Sequence[Hole],
    plate: Plate,
    web_mm: Number,
    edge_mm: Number | None = None,
    keep_out: Sequence[KeepOut] = (),
    apart_mm: Number = 0,
    way: Way = "spread",
    row_height_mm: Number | None = None,
    round_mm: Number = ROUND_MM,
) -> Layout:
    """Lay holes out on a plate.

    Parameters
    ----------
    holes : sequence of Hole
        Those wanted; several of one name are numbered. [mm]
    plate : Plate
        The face of the bulkhead or plate. [mm]
    web_mm : Fraction or float
        Least web between two holes, and between a hole and a keep-out. [mm]
    edge_mm : Fraction, float or None
        Least web to an edge; None for the same. [mm]
    keep_out : sequence of KeepOut
        Posts, glue lines, openings. [mm]
    apart_mm : Fraction or float
        Least web between holes of different circuits, where that is more. [mm]
    way : {"spread", "row"}
        Spread so that the least web of all is as wide as was found; or in one row, evenly, circuits side by side. [-]
    row_height_mm : Fraction, float or None
        Height of the row; None to choose it. [mm]
    round_mm : Fraction or float
        Step to which places are rounded where the webs allow it; 0 for none. [mm]

    Returns
    -------
    Layout
        The holes where they lie; no web is too thin.

    Raises
    ------
    DoesNotFit
        If they do not fit: by how much, which webs or keep-outs are the cause, and what would make them fit.
    OutOfRange, WrongKind
        If a number is no usable length, or there are no holes or too many.
    UnknownChoice
        If `way` is unknown.

    References
    ----------
    Elementary geometry. That a spread is the widest is not proven: it is the best found from a fixed set of starts.

    Examples
    --------
    >>> layout = lay_out_holes([Hole("strand", 1, count=2)], Plate(20, 8), 1)
    >>> layout.sentences[0]
    'The least web is that between strand 1 and the upper edge: 3.50 mm.'
    """
    if way not in WAYS:
        raise UnknownChoice("way", str(way), WAYS)
    wanted, single, kept = Wanted(web_mm, edge_mm, apart_mm), numbered_holes(holes), tuple(keep_out)
    check_number("round_mm", round_mm)
    if round_mm < 0:
        raise OutOfRange("round_mm", f"{float(round_mm):g} mm", "0 mm or more", "Write 0 to round nothing.")
    if row_height_mm is not None:
        check_number("row_height_mm", row_height_mm)
    if way == "row":
        placed = row_places(single, plate, wanted, kept, row_height_mm)
    else:
        placed, margin = spread_places(single, plate, wanted, kept)
        if margin < -TOLERANCE_MM:
            raise _too_crowded(placed, plate, wanted, kept)
    rounded, done = rounded_places(placed, plate, wanted, kept, float(round_mm), way == "row")
    layout = Layout(rounded, plate, wanted, kept, way, float(round_mm) if done else 0.0)
    exact = min(web.web_mm for web in all_webs(placed, plate, wanted, kept))
    return replace(layout, rounding_mm=exact - layout.least.web_mm) if done else layout


def _too_crowded(
    placed: tuple[PlacedHole, ...], plate: Plate, wanted: Wanted, keep_out: tuple[KeepOut, ...]
) -> DoesNotFit:
    """Return why a spread does not fit: the webs that lack most where the holes lack least."""
    webs = all_webs(placed, plate, wanted, keep_out)
    short = webs[0].short_mm
    tight = [web for web in webs if web.short_mm > short - 10 * TOLERANCE_MM]
    tight.sort(key=lambda web: (NAMED_FIRST.index(web.kind), web.first, web.second))
    more = f" and {len(tight) - NAMED} more" if len(tight) > NAMED else ""
    named = ", ".join(web.between for web in tight[:NAMED])
    webs_are = "webs between {} are" if len(tight) > 1 else "web between {} is"
    cause = f"at best the {webs_are.format(named + more)} that much too thin"
    what = f"A spread of {len(placed)} holes" if len(placed) > 1 else placed[0].name
    remedy = f"{_slimmer(short, wanted, placed)}{_without(tight, placed, plate, wanted, keep_out)}"
    return DoesNotFit(what, short, cause, remedy)


def _slimmer(short_mm: float, wanted: Wanted, placed: Sequence[PlacedHole]) -> str:
    """Return thinner webs with which it fits; where not even none would do, smaller holes with which it does."""
    less = ceil(short_mm * 100 - TOLERANCE_MM) / 100
    web, edge = float(wanted.web_mm) - less, wanted.edge - less
    if min(web, edge) < LEAST_WEB_MM:
        # A hole smaller by twice what is lacking gives half of that at an edge, on each side: enough everywhere.
        if 2 * less < min(2 * each.radius_mm for each in placed):
            return f"It fits with holes {2 * less:.2f} mm smaller."
        return "Take fewer holes." if len(placed) > 1 else "Not even the smallest hole leaves such a web there."
    kinds = [f"webs of {web:.2f} mm"]
    if abs(edge - web) > TOLERANCE_MM:
        kinds.append(f"{edge:.2f} mm to the edges")
    if float(wanted.apart_mm) > float(wanted.web_mm):
        kinds.append(f"{float(wanted.apart_mm) - less:.2f} mm between circuits")
    return f"It fits with {', '.join(kinds)}, or take fewer or smaller holes."


def _without(
    tight: Sequence[Web],
    placed: Sequence[PlacedHole],
    plate: Plate,
    wanted: Wanted,
    keep_out: Sequence[KeepOut],
) -> str:
    """Return which keep-out among the causes would, taken away alone, make it fit."""
    names = dict.fromkeys(web.second for web in tight if web.kind == "keep-out")
    for name in names:
        rest = [each for each in keep_out if each.name != name]
        _, margin = spread_places([each.hole for each in placed], plate, wanted, rest)
        if margin >= -TOLERANCE_MM:
            return f" Without the {name} it fits as it is."
    return ""


def move_hole(layout: Layout, hole: str | int, x_mm: Number, y_mm: Number) -> Layout:
    """Move one hole by hand; nothing is refused, `check_holes` says what it costs.

    Parameters
    ----------
    layout : Layout
        The layout. [mm]
    hole : str or int
        Its name, or its place in the list, from 0. [-]
    x_mm, y_mm : Fraction or float
        Where its middle goes: from the centre line, positive to the right, and from the lower edge up. [mm]

    Returns
    -------
    Layout
        The layout with that hole moved.

    Raises
    ------
    UnknownChoice
        If no hole has that name.
    OutOfRange, WrongKind
        If there is no such place in the list, or a number is no length.

    References
    ----------
    None needed.

    Examples
    --------
    >>> layout = lay_out_holes([Hole("strand", 1)], Plate(10, 8), 1)
    >>> check_holes(move_hole(layout, "strand", 4, 4))[0].text
    'The web between strand and the right edge is 0.50 mm; 1.00 mm are wanted.'
    """
    check_number("x_mm", x_mm)
    check_number("y_mm", y_mm)
    index = _index(layout, hole)
    moved = replace(layout.holes[index], x_mm=float(x_mm), y_mm=float(y_mm))
    holes = (*layout.holes[:index], moved, *layout.holes[index + 1 :])
    return replace(layout, holes=holes, way="by hand", round_mm=0.0, rounding_mm=0.0)


def _index(layout: Layout, hole: str | int) -> int:
    if isinstance(hole, int):
        if not 0 <= hole < len(layout.holes):
            expected = f"from 0 to {len(layout.holes) - 1}"
            raise OutOfRange("hole", str(hole), expected, "Write its place in the list, from 0, or its name.")
        return hole
    names = [each.name for each in layout.holes]
    if hole not in names:
        raise UnknownChoice("hole", hole, names)
    return names.index(hole)


def check_holes(
    holes: Layout | Sequence[PlacedHole],
    plate: Plate | None = None,
    web_mm: Number | None = None,
    edge_mm: Number | None = None,
    keep_out: Sequence[KeepOut] = (),
    apart_mm: Number = 0,
) -> tuple[Web, ...]:
    """Return every web that is too thin; each has a ``text`` and a ``remedy``.

    Parameters
    ----------
    holes : Layout or sequence of PlacedHole
        A layout, which brings all the rest with it; or the holes where they lie. [mm]
    plate : Plate or None
        The plate, for holes. [mm]
    web_mm : Fraction, float or None
        Least web between two holes, and between a hole and a keep-out, for holes. [mm]
    edge_mm : Fraction, float or None
        Least web to an edge; None for the same. [mm]
    keep_out : sequence of KeepOut
        What no hole may come near. [mm]
    apart_mm : Fraction or float
        Least web between holes of different circuits, where that is more. [mm]

    Returns
    -------
    tuple of Web
        The one that lacks most first; none where all is well.

    Raises
    ------
    OutOfRange
        If holes come without a plate or a web.

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> near = PlacedHole(Hole("strand", 1), 0.0, 4.0), PlacedHole(Hole("wire", 1), 1.5, 4.0)
    >>> web = check_holes(near, Plate(10, 8), 1)[0]
    >>> print(web.text)
    The web between strand and wire is 0.50 mm; 1.00 mm are wanted.
    >>> print(web.remedy)
    Move strand by 0.50 mm to the left, or take a smaller drill.
    """
    if isinstance(holes, Layout):
        return holes.too_thin
    if plate is None or web_mm is None:
        raise OutOfRange("check_holes", "holes alone", "holes, a plate and a web", "Give a Layout, or all three.")
    wanted = Wanted(web_mm, edge_mm, apart_mm)
    return tuple(web for web in all_webs(holes, plate, wanted, keep_out) if web.too_thin)
