"""From the tree of panels to what is done at the bench: places, snaps in order, what is left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.cutting.sheet_layout.one_sheet.measured import measured, sides_left
from modelmath.cutting.sheet_layout.one_sheet.panels import FREE, Panel
from modelmath.cutting.sheet_layout.plan import CutSheet, Offcut, Placed, Snap
from modelmath.cutting.sheet_layout.stock import SheetPart

EDGES = {"width": "left edge", "length": "lower edge"}  # to measure from, by which way the line runs


@dataclass(frozen=True)
class Units:
    """What the whole numbers of a tree stand for.

    Attributes
    ----------
    one_mm : Fraction
        Length of one unit. [mm]
    kerf : int
        Width of the cut: every panel is this much larger in the tree. [units]
    least_offcut : int
        Least side of an offcut worth keeping. [units]
    """

    one_mm: Fraction
    kerf: int
    least_offcut: int

    def mm(self, units: int) -> Fraction:
        """Return a place as a length.

        Parameters
        ----------
        units : int
            Whole units. [units]

        Returns
        -------
        Fraction
            The same. [mm]

        References
        ----------
        None needed.
        """
        return units * self.one_mm

    def side(self, units: int) -> Fraction:
        """Return a panel's side without the kerf; 0 where the cut runs off the edge.

        Parameters
        ----------
        units : int
            The side in the tree. [units]

        Returns
        -------
        Fraction
            The side. [mm]

        References
        ----------
        None needed.
        """
        return max(0, units - self.kerf) * self.one_mm

    def equal_sides(self, parts: Sequence[SheetPart]) -> dict[int, int]:
        """Return the side that has to be equal, of each part of an equal set.

        Parameters
        ----------
        parts : sequence of SheetPart
            The parts by their number in the tree. [mm]

        Returns
        -------
        dict of int to int
            The side as it is in the tree, by the part's number. [units]

        References
        ----------
        None needed.
        """
        listed = enumerate(parts)
        return {at: int(part.length_mm / self.one_mm) + self.kerf for at, part in listed if part.equal_set is not None}

    def keeps(self, panel: Panel) -> bool:
        """Say whether a free panel is worth keeping.

        Parameters
        ----------
        panel : Panel
            The panel. [units]

        Returns
        -------
        bool
            Whether both sides are long enough. [-]

        References
        ----------
        None needed.
        """
        return min(panel.length, panel.width) - self.kerf >= max(1, self.least_offcut)


@dataclass(frozen=True)
class _Laid:
    """A panel and where it lies."""

    panel: Panel
    x: int
    y: int
    left: tuple[bool, bool] = (False, False)  # whether its length, and its width, is what was left beyond a line

    @property
    def setting(self) -> int:
        first, _ = self.panel.halves
        return first.length if self.panel.along == "width" else first.width

    @property
    def halves(self) -> tuple[_Laid, _Laid]:
        first, second = self.panel.halves
        across = self.panel.along == "width"
        x, y = (self.x + first.length, self.y) if across else (self.x, self.y + first.width)
        of_near, of_far = sides_left(self.panel.along, self.left)
        return _Laid(first, self.x, self.y, of_near), _Laid(second, x, y, of_far)

    @property
    def rank(self) -> tuple[int, int, int]:
        """Large panels first, then those nearer to the corner."""
        return (-self.panel.length * self.panel.width, self.x, self.y)


def cut_sheet(root: Panel, parts: Sequence[SheetPart], units: Units, blank: CutSheet) -> CutSheet:
    """Fill in what is cut from a sheet.

    Parameters
    ----------
    root : Panel
        The sheet as it is parted. [units]
    parts : sequence of SheetPart
        The parts by their number in the tree. [mm]
    units : Units
        What its numbers stand for. [mm]
    blank : CutSheet
        The sheet, with nothing on it yet. [mm]

    Returns
    -------
    CutSheet
        With pieces, snaps and offcuts. [mm]

    References
    ----------
    Measuring from a square edge and keeping the setting for all equal pieces: common practice, no source.
    """
    every = _panels(measured(root, units.equal_sides(parts)))
    pieces = tuple(_placed(each, parts, units) for each in every if each.panel.part != FREE)
    left = [each for each in every if not each.panel.along and each.panel.part == FREE and units.keeps(each.panel)]
    kept = [
        Offcut(units.mm(each.x), units.mm(each.y), units.side(each.panel.length), units.side(each.panel.width))
        for each in left
    ]
    snaps = tuple(_snap(n, each, parts, units) for n, each in enumerate(_in_order(every), start=1))
    offcuts = tuple(sorted(kept, key=lambda each: (-each.area_mm2, each.x_mm, each.y_mm)))
    return replace(blank, pieces=pieces, snaps=snaps, offcuts=offcuts)


def _panels(root: Panel) -> list[_Laid]:
    """Return every panel of a sheet with its place."""
    waiting, every = [_Laid(root, 0, 0)], []
    while waiting:
        each = waiting.pop()
        every.append(each)
        if each.panel.along:
            waiting += each.halves[::-1]
    return every


def _in_order(every: Iterable[_Laid]) -> list[_Laid]:
    """Return the panels to part in order: each after the one it is in, and the stop set anew as seldom as can be.

    While a panel is ready for the distance that is set, it is next. Then comes a distance of which all panels left
    are ready, or will be by its own snaps, for it need not be set again; only if there is none, the largest panel.
    """
    ready = [each for each in every if each.panel.along][:1]
    waiting: dict[int, int] = {}  # panels still to part at each setting
    for each in every:
        if each.panel.along:
            waiting[each.setting] = waiting.get(each.setting, 0) + 1
    order: list[_Laid] = []
    setting = 0
    while ready:
        same = [each for each in ready if each.setting == setting]
        if not same:
            done_with = [each for each in ready if _reached(ready, each.setting) == waiting[each.setting]]
            setting = min(done_with or ready, key=lambda each: each.rank).setting
            same = [each for each in ready if each.setting == setting]
        chosen = min(same, key=lambda each: each.rank)
        ready.remove(chosen)
        order.append(chosen)
        waiting[setting] -= 1
        ready += [half for half in chosen.halves if half.panel.along]
    return order


def _reached(ready: Iterable[_Laid], setting: int) -> int:
    """Return how many panels can be parted one after the other without setting the stop anew."""
    open_ones, count = [each for each in ready if each.setting == setting], 0
    while open_ones:
        each = open_ones.pop()
        count += 1
        open_ones += [half for half in each.halves if half.panel.along and half.setting == setting]
    return count


def _placed(each: _Laid, parts: Sequence[SheetPart], units: Units) -> Placed:
    part = parts[each.panel.part]
    length, width = units.side(each.panel.length), units.side(each.panel.width)
    turned = (length, width) != (part.length_mm, part.width_mm)
    return Placed(part.name, units.mm(each.x), units.mm(each.y), length, width, turned)


def _snap(number: int, each: _Laid, parts: Sequence[SheetPart], units: Units) -> Snap:
    panel = each.panel
    freed = [(parts[half.panel.part].name, any(half.left)) for half in each.halves if half.panel.part != FREE]
    frees, rest = tuple(name for name, _ in freed), tuple(name for name, left in freed if left)
    place = (units.mm(each.x), units.mm(each.y), units.side(panel.length), units.side(panel.width))
    return Snap(number, place, panel.along, units.side(each.setting), EDGES[panel.along], frees, rest)
