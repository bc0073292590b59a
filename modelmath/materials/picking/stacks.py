"""Stacks of layers that come nearest to a height: an exact search over every stack of a few layers.

Which stack is better: one all of whose layers are on hand; then the fewest layers; then the least error; of two as
far off, the one that is too high and can be sanded; then the one with fewer layers to buy and fewer different ones.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations_with_replacement, groupby
from math import hypot, lcm

from modelmath.errors import OutOfRange
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.strips import Strip

MOST_LAYERS = 4  # more layers than this are many joints to keep true: common practice, no source


@dataclass(frozen=True)
class Layer:
    """What one layer of a stack is made of.

    Attributes
    ----------
    name : str
        What it is called. [-]
    thickness_mm : Fraction
        What it adds to the height. [mm]
    tolerance_mm : Fraction
        How far its thickness may be off, either way. [mm]
    on_hand : bool
        Whether it need not be bought. [-]
    stock : Strip, Sheet or None
        The strip or sheet it is; None for a washer and the like. [mm]
    """

    name: str
    thickness_mm: Fraction
    tolerance_mm: Fraction
    on_hand: bool = False
    stock: Strip | Sheet | None = None


@dataclass(frozen=True)
class Stacked:
    """Layers one upon the other, and how the stack's height lies to the one wanted.

    Attributes
    ----------
    layers : tuple of Layer
        From the bottom up, the thickest first. [mm]
    height_mm : Fraction
        The height wanted. [mm]
    glue_line_mm, glue_tolerance_mm : Fraction
        What each joint adds, and how far that may be off; 0 for a dry stack. [mm]

    Examples
    --------
    >>> one, two = (Layer(f"{size} mm", Fraction(size), Fraction(1, 20)) for size in (1, 2))
    >>> stack = Stacked((two, one), Fraction(3), Fraction(1, 20), Fraction(1, 20))
    >>> stack.error_mm, stack.worst_mm, round(stack.likely_mm, 3)
    (Fraction(1, 20), Fraction(3, 20), 0.087)
    """

    layers: tuple[Layer, ...]
    height_mm: Fraction
    glue_line_mm: Fraction
    glue_tolerance_mm: Fraction

    @property
    def glue_lines(self) -> int:
        """How many joints are glued. [-]"""
        return len(self.layers) - 1 if self.glue_line_mm or self.glue_tolerance_mm else 0

    @property
    def total_mm(self) -> Fraction:
        """Height of the stack, glue counted. [mm]"""
        return sum((layer.thickness_mm for layer in self.layers), Fraction(0)) + self.glue_lines * self.glue_line_mm

    @property
    def error_mm(self) -> Fraction:
        """The stack less the height wanted: above 0 it is too high. [mm]"""
        return self.total_mm - self.height_mm

    @property
    def worst_mm(self) -> Fraction:
        """How far the stack may be off at worst, either way: the sum of all tolerances. [mm]"""
        return (
            sum((layer.tolerance_mm for layer in self.layers), Fraction(0)) + self.glue_lines * self.glue_tolerance_mm
        )

    @property
    def likely_mm(self) -> float:
        """How far it usually is off: the root of the sum of squares; layers of one strip are off together. [mm]"""
        alike: dict[str, Fraction] = {}
        for layer in self.layers:
            alike[layer.name] = alike.get(layer.name, Fraction(0)) + layer.tolerance_mm
        return hypot(*(float(each) for each in alike.values()), *[float(self.glue_tolerance_mm)] * self.glue_lines)

    @property
    def on_hand(self) -> bool:
        """Whether nothing has to be bought. [-]"""
        return not self.to_buy

    @property
    def to_buy(self) -> tuple[Layer, ...]:
        """The layers to buy. [mm]"""
        return tuple(layer for layer in self.layers if not layer.on_hand)

    @property
    def name(self) -> str:
        """The layers by name, the thickest first. [-]"""
        runs = [(name, len(list(run))) for name, run in groupby(layer.name for layer in self.layers)]
        return " + ".join(name if count == 1 else f"{_COUNTS[count]} of {name}" for name, count in runs)


@dataclass(frozen=True)
class OfStack:
    """What is made of a stack: it has the stack's sizes.

    Attributes
    ----------
    stack : Stacked
        The layers, the thickest first. [mm]
    """

    stack: Stacked

    @property
    def name(self) -> str:
        """The layers by name, the thickest first. [-]"""
        return self.stack.name

    @property
    def total_mm(self) -> Fraction:
        """Height of all layers, glue counted. [mm]"""
        return self.stack.total_mm

    @property
    def error_mm(self) -> Fraction:
        """The height less the one wanted: above 0 it is too high, to be sanded off; below 0 to be shimmed up. [mm]"""
        return self.stack.error_mm

    @property
    def glue_lines(self) -> int:
        """How many glue lines are counted; 0 for a dry stack. [-]"""
        return self.stack.glue_lines

    @property
    def worst_mm(self) -> Fraction:
        """How far the height may be off at worst, either way. [mm]"""
        return self.stack.worst_mm

    @property
    def likely_mm(self) -> float:
        """How far it usually is off, either way: root of the sum of squares. [mm]"""
        return self.stack.likely_mm

    @property
    def on_hand(self) -> bool:
        """Whether nothing has to be bought. [-]"""
        return self.stack.on_hand

    @property
    def to_buy(self) -> tuple[str, ...]:
        """Names of the layers to buy. [-]"""
        return tuple(layer.name for layer in self.stack.to_buy)


_COUNTS = {2: "two", 3: "three", 4: "four"}


@dataclass(frozen=True)
class Search:
    """What stacks are made from, and which of them will do.

    Attributes
    ----------
    layers : sequence of Layer
        Every layer there is: one on hand as often as there are pieces of it, one to buy once. [mm]
    height_mm : Fraction
        The height wanted. [mm]
    above_mm, below_mm : Fraction
        The most that a stack may be too high, and too low. [mm]
    least, most_layers : int
        Fewest and most layers of a stack. [-]
    glue_line_mm, glue_tolerance_mm : Fraction
        What each joint adds, and how far that may be off; both 0 for a dry stack. [mm]

    Examples
    --------
    >>> layers = [Layer(f"{size} mm", Fraction(size), Fraction(0)) for size in (1, 2)]
    >>> search = Search(layers, Fraction(3), Fraction(1), Fraction(1), 1, 4, Fraction(0), Fraction(0))
    >>> [stack.name for stack in search.best(2)]
    ['2 mm', '2 mm + 1 mm']
    """

    layers: Sequence[Layer]
    height_mm: Fraction
    above_mm: Fraction
    below_mm: Fraction
    least: int
    most_layers: int
    glue_line_mm: Fraction
    glue_tolerance_mm: Fraction
    _supply: list[_Supply] = field(init=False, repr=False, compare=False)
    _unit: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not self.least <= self.most_layers <= MOST_LAYERS:
            asked = f"{self.least} to {MOST_LAYERS}"
            raise OutOfRange("most_layers", str(self.most_layers), asked, f"Leave it out for {MOST_LAYERS}.")
        object.__setattr__(self, "_supply", _supplies(self.layers, self.most_layers))
        exact = [self.height_mm, self.above_mm, self.below_mm, self.glue_line_mm]
        exact += [supply.thickness_mm for supply in self._supply]
        # All in whole multiples of one small part of a mm: whole numbers add exactly, and much faster than fractions.
        object.__setattr__(self, "_unit", lcm(*(each.denominator for each in exact)))

    def best(self, most: int) -> list[Stacked]:
        """Return the best stacks within the limits, best first; none where no stack is.

        Parameters
        ----------
        most : int
            How many at most. [-]

        Returns
        -------
        list of Stacked
            The stacks. [mm]

        References
        ----------
        Every stack is a head of up to two layers and a tail of up to two, the tails sorted by height: meeting in
        the middle, after E. Horowitz and S. Sahni, Journal of the ACM 21 (1974) 277.
        """
        found: list[Stacked] = []
        for owned in (True, False):
            for count in range(self.least, self.most_layers + 1):
                if len(found) < most:
                    found += self._of(count, owned, most - len(found), self._whole(self.below_mm, self.above_mm))
        return found

    def nearest(self) -> Stacked | None:
        """Return the stack that is least off, whatever the limits; None where there is nothing to stack. [mm]"""
        found = [
            stack
            for owned in (True, False)
            for count in range(self.least, self.most_layers + 1)
            for stack in self._of(count, owned, 1, None)
        ]
        return min(found, key=lambda stack: abs(stack.error_mm), default=None)

    def _whole(self, *lengths_mm: Fraction) -> list[int]:
        return [int(length * self._unit) for length in lengths_mm]

    def _of(self, count: int, owned: bool, most: int, limits: list[int] | None) -> list[Stacked]:
        """Return the best stacks of so many layers: all on hand, or with some to buy."""
        supply = [each for each in self._supply if each.held or not owned]
        sizes = self._whole(*(each.thickness_mm for each in supply))
        if not sizes:
            return []
        (target,) = self._whole(self.height_mm - (count - 1) * self.glue_line_mm)
        sums = _Sums(sizes, count)
        widest = abs(target) + count * sizes[-1]
        below, above = limits or (widest, widest)
        # The best are near the height, so a narrow window is looked through first, then one twice as wide.
        window = max(1, max(below, above) // 64)
        while True:
            low, high = min(below, window), min(above, window)
            fit = [found for found in sums.within(target - low, target + high) if _can(found[1], supply, owned)]
            if len(fit) >= most or window >= max(below, above):
                return self._ranked(fit, target, supply, most)
            window *= 2

    def _ranked(
        self, fit: list[tuple[int, tuple[int, ...]]], target: int, supply: list[_Supply], most: int
    ) -> list[Stacked]:
        def rank(found: tuple[int, tuple[int, ...]]) -> tuple[int, bool, int, int, list[int]]:
            error, picked = found[0] - target, found[1]
            short = sum(max(0, picked.count(one) - len(supply[one].held)) for one in set(picked))
            return (abs(error), error < 0, short, len(set(picked)), [-one for one in reversed(picked)])

        kept = sorted(fit, key=rank)[:most]
        joint = (self.height_mm, self.glue_line_mm, self.glue_tolerance_mm)
        return [Stacked(_layers(picked, supply), *joint) for _, picked in kept]


@dataclass(frozen=True)
class _Supply:
    """Layers of one thickness: those on hand, and one to buy where it is sold."""

    thickness_mm: Fraction
    held: tuple[Layer, ...]
    sold: Layer | None


def _supplies(layers: Iterable[Layer], most: int) -> list[_Supply]:
    by_size: dict[Fraction, list[Layer]] = {}
    for layer in layers:
        by_size.setdefault(layer.thickness_mm, []).append(layer)
    return [
        _Supply(
            size,
            tuple(layer for layer in alike if layer.on_hand)[:most],
            next((layer for layer in alike if not layer.on_hand), None),
        )
        for size, alike in sorted(by_size.items())
    ]


def _can(picked: tuple[int, ...], supply: list[_Supply], owned: bool) -> bool:
    """Return whether there are layers enough: all on hand, or where not all are, the rest to buy."""
    bought = 0
    for one in set(picked):
        short = picked.count(one) - len(supply[one].held)
        if short > 0:
            if owned or supply[one].sold is None:
                return False
            bought += short
    return owned or bought > 0


def _layers(picked: tuple[int, ...], supply: list[_Supply]) -> tuple[Layer, ...]:
    """Return the layers, the thickest first, those on hand before those to buy."""
    layers: list[Layer] = []
    for one in sorted(set(picked), reverse=True):
        count, (held, sold) = picked.count(one), (supply[one].held, supply[one].sold)
        layers += held[:count]
        if sold is not None:
            layers += [sold] * (count - len(held))
    return tuple(layers)


class _Sums:
    """Every sum of so many sizes, each size as often as one likes, found by meeting in the middle."""

    def __init__(self, sizes: Sequence[int], count: int) -> None:
        places = range(len(sizes))
        head, tail = count // 2, count - count // 2
        every = ((sum(sizes[one] for one in each), each) for each in combinations_with_replacement(places, tail))
        self.tails = sorted(every)
        self.tail_sums = [total for total, _ in self.tails]
        self.heads = [(sum(sizes[one] for one in each), each) for each in combinations_with_replacement(places, head)]

    def within(self, low: int, high: int) -> Iterator[tuple[int, tuple[int, ...]]]:
        """Yield each sum from low to high with the places of its sizes, in ascending order."""
        for base, head in self.heads:
            first = bisect_left(self.tail_sums, low - base)
            for total, tail in self.tails[first : bisect_right(self.tail_sums, high - base)]:
                if not head or head[-1] <= tail[0]:
                    yield base + total, head + tail
