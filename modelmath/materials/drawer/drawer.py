"""The drawer: all that is on hand, and what taking some of it out leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.errors import ModelMathError
from modelmath.lengths.text import format_length
from modelmath.materials.drawer.items import MOST, Item
from modelmath.materials.drawer.shape import StockShape
from modelmath.materials.drawer.sheet import StockSheet
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.drills.names import drill
from modelmath.materials.drills.sets import Drill
from modelmath.materials.sections.shapes import parse_section
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.strips import parse_strip


@dataclass(frozen=True)
class Use:
    """Pieces taken out of the drawer.

    Attributes
    ----------
    kind, name : str
        As in `Item`. [-]
    length_mm, width_mm : Fraction or None
        Size of each piece as it lies in the drawer. [mm]
    count : int
        How many. [-]
    offcut : bool
        Whether they are offcuts. [-]
    """

    kind: str
    name: str
    length_mm: Fraction | None = None
    width_mm: Fraction | None = None
    count: int = 1
    offcut: bool = False

    @property
    def said(self) -> str:
        """What is taken, with its count. [-]"""
        return f"{self.count} x {Item(self.kind, self.name, self.length_mm, self.width_mm, 1, self.offcut).said}"


class NotInDrawer(ModelMathError):
    """Something was to be taken out that is not there, or not as often."""

    def __init__(self, missing: tuple[str, ...]) -> None:
        super().__init__(missing)
        self.missing = missing

    def __str__(self) -> str:
        listed = "; ".join(self.missing)
        return f"The drawer lacks {listed}. Nothing was taken out; plan again from what is there now."


@dataclass(frozen=True)
class Drawer:
    """What is on hand.

    Attributes
    ----------
    items : tuple of Item
        The rows, the oldest first. [mm]
    demo : str
        Words that mark invented data; empty for a drawer of one's own. [-]
    """

    items: tuple[Item, ...] = ()
    demo: str = ""

    @property
    def strips(self) -> tuple[StockStrip, ...]:
        """Strip, the oldest first. [mm]"""
        return tuple(
            StockStrip(parse_strip(each.name), each.length_mm, each.count, each.offcut)
            for each in self.items
            if each.kind == "strip" and each.length_mm is not None
        )

    @property
    def shapes(self) -> tuple[StockShape, ...]:
        """Rod, tube and other shapes, the oldest first. [mm]"""
        return tuple(
            StockShape(parse_section(each.name), each.length_mm, each.count, each.offcut)
            for each in self.items
            if each.kind == "shape" and each.length_mm is not None
        )

    @property
    def sheets(self) -> tuple[StockSheet, ...]:
        """Sheet, the oldest first. [mm]"""
        return tuple(
            StockSheet(parse_sheet(each.name), each.length_mm, each.width_mm, each.count, each.offcut)
            for each in self.items
            if each.kind == "sheet" and each.length_mm is not None and each.width_mm is not None
        )

    @property
    def drills(self) -> tuple[Drill, ...]:
        """Drills, each size once, the thinnest first. [mm]"""
        found = dict.fromkeys(drill(each.name) for each in self.items if each.kind == "drill")
        return tuple(sorted(found, key=lambda each: each.exact_mm))

    @property
    def wires(self) -> tuple[Item, ...]:
        """Wire, the oldest first. [mm]"""
        return tuple(each for each in self.items if each.kind == "wire")

    @property
    def strands(self) -> tuple[Item, ...]:
        """Fibre strand, the oldest first. [mm]"""
        return tuple(each for each in self.items if each.kind == "strand")

    @property
    def summary(self) -> str:
        """What is there in a line. [-]"""
        if not self.items:
            return "The drawer is empty."
        said = []
        strips = self.strips
        if strips:
            whole = sum((each.length_mm * each.count for each in strips), Fraction(0))
            pieces, old = sum(each.count for each in strips), sum(each.count for each in strips if each.offcut)
            kinds = len({each.strip for each in strips})
            among = f", {_counted(old, 'offcut')} among them" if old else ""
            of = f"{_counted(pieces, 'strip')} of {_counted(kinds, 'section')}"
            said.append(f"{of}{among}, {format_length(whole, 'mm')} in all")
        for kind, word in (("shape", "shape"), ("sheet", "piece of sheet"), ("wire", "wire"), ("strand", "strand"),
                           ("drill", "drill")):  # fmt: skip
            count = sum(each.count for each in self.items if each.kind == kind)
            if count:
                said.append(_counted(count, word))
        return "; ".join(said) + "."


def _counted(count: int, word: str) -> str:
    many = {"piece of sheet": "pieces of sheet"}.get(word, f"{word}s")
    return f"{count} {word if count == 1 else many}"


def take_out(drawer: Drawer, uses: Sequence[Use], puts_back: Sequence[Item] = ()) -> Drawer:
    """Return the drawer without some pieces, and with what is put back in their stead.

    Parameters
    ----------
    drawer : Drawer
        The drawer. [mm]
    uses : sequence of Use
        What is taken out. [mm]
    puts_back : sequence of Item
        What is put in, such as offcuts; it joins pieces of its kind and size that are there. [mm]

    Returns
    -------
    Drawer
        The drawer after it. [mm]

    Raises
    ------
    NotInDrawer
        If anything is not there, or not as often; then nothing is taken.

    References
    ----------
    None needed.

    Examples
    --------
    >>> drawer = Drawer((Item("strip", "HO 6x10", Fraction(280), count=2),))
    >>> after = take_out(drawer, [Use("strip", "HO 6x10", Fraction(280))], [Item("strip", "HO 6x10", Fraction(96))])
    >>> [(str(each.length_mm), each.count) for each in after.items]
    [('280', 1), ('96', 1)]
    """
    items: list[Item | None] = list(drawer.items)
    missing = []
    for use in uses:
        left = _taken(items, use)
        if left:
            missing.append(replace(use, count=left).said)
    if missing:
        raise NotInDrawer(tuple(missing))
    return replace(drawer, items=put_in([each for each in items if each is not None], puts_back))


def _taken(items: list[Item | None], use: Use) -> int:
    """Take pieces out of the rows that hold them; return how many are lacking."""
    asked = (use.kind, use.name, use.length_mm, use.width_mm, use.offcut)
    left = use.count
    for at, item in enumerate(items):
        if item is None or not left:
            continue
        if (item.kind, item.name, item.length_mm, item.width_mm, item.offcut) == asked:
            taken = min(left, item.count)
            items[at] = replace(item, count=item.count - taken) if item.count > taken else None
            left -= taken
    return left


def put_in(items: Sequence[Item], more: Sequence[Item]) -> tuple[Item, ...]:
    """Return rows with some more; what is of a kind, size and note already there adds to its count.

    Parameters
    ----------
    items, more : sequence of Item
        The rows, and what is put in. [mm]

    Returns
    -------
    tuple of Item
        All rows, new ones last. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> one = Item("drill", "#67")
    >>> [each.count for each in put_in([one], [one])]
    [2]
    """
    rows = list(items)
    places: dict[object, int] = {}
    for at, row in enumerate(rows):
        places.setdefault((row.same_as, row.note), at)
    for new in more:
        at = places.get((new.same_as, new.note), len(rows))
        if at == len(rows) or rows[at].count + new.count > MOST:
            places[new.same_as, new.note] = len(rows)
            rows.append(new)
        else:
            rows[at] = replace(rows[at], count=rows[at].count + new.count)
    return tuple(rows)
