"""Filling a free panel with parts, one after the other: each lies in the lower left corner of what is left.

Behind each part what is left is parted in two, one panel beside the part and one above it; they are filled in turn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations_with_replacement, product
from random import Random

from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted

Pool = dict[int, int]  # how many there are still to place of each part, by its number
# Times its area that a part is worth that uses up a side of the panel, and that uses up all of it.
RULES = {"area": (1, 1), "area, flush": (3, 3), "area, exact": (2, 10**9), "joined": (3, 10**9)}
JOINED = "joined"  # the rule by which two parts with a side in common are placed as one, too
OTHER_SPLIT = 0.25  # how often what is left is parted the less likely way


@dataclass
class Filler:
    """The parts to place and the rules of snapping; it counts its steps.

    Attributes
    ----------
    ways : sequence of sequence of (int, int)
        Length and width of each part, for each way it may lie; a kerf larger than it is. [any unit]
    kerf : int
        Width of the cut: up to as much may be left of a panel, the cut runs off its edge. [same unit]
    least : int
        Least that has to be left of a panel otherwise: the least width that can be snapped off, and a kerf. [same unit]
    equal : dict of int to int
        The side that has to be equal, of each part of an equal set by its number; with the kerf. [same unit]
    chance : random.Random
        Seeded, so that the same job gives the same layout. [-]
    steps : int
        Steps taken so far, a step for each part looked at. [-]
    """

    ways: Sequence[Sequence[tuple[int, int]]]
    kerf: int
    least: int
    equal: dict[int, int] = field(default_factory=dict)
    chance: Random = field(default_factory=lambda: Random(1))
    steps: int = 0

    def fits(self, room: int, side: int) -> bool:
        """Say whether a side can be cut out of as much room.

        Parameters
        ----------
        room, side : int
            What there is and what is wanted. [any unit]

        Returns
        -------
        bool
            Whether what is left over is nothing, less than the cut, or wide enough to be parted off. [-]

        References
        ----------
        Least width that can be snapped off: common practice, no source.
        """
        left = room - side
        return 0 <= left <= self.kerf or left >= self.least

    def fill(self, length: int, width: int, pool: Pool, noise: float = 0.0, rule: str = "area, flush") -> Panel:
        """Fill a panel greedily; what is placed is taken out of the pool.

        Parameters
        ----------
        length, width : int
            The panel's sides. [any unit]
        pool : dict of int to int
            How many are to place of each part. [-]
        noise : float
            0 to take the part worth most by the rule, up to 1 for one by chance. [-]
        rule : str
            One of `RULES`. [-]

        Returns
        -------
        Panel
            The panel with its parts; free if none fits. [same unit]

        References
        ----------
        Recursive filling of bounded spaces: D. Zhang, Y. Kang, A. Deng, "A new heuristic recursive algorithm for the
        strip rectangular packing problem", Computers & Operations Research 33 (2006); from memory.

        Examples
        --------
        >>> panel = Filler([[(60, 40)], [(40, 40)]], 0, 1).fill(100, 40, {0: 1, 1: 1})
        >>> panel.along, panel.first.part, panel.second.part
        ('width', 0, 1)
        """
        done: list[tuple[int, int, str, Panel]] = []
        while True:
            leaf = self._pick(length, width, pool, noise, rule)
            if leaf is None:
                panel = Panel(length, width)
                break
            beside, above = length - leaf.length, width - leaf.width
            if not beside and not above:
                panel = leaf
                break
            across = self._across(length, width, beside, above, bool(noise))
            if across:
                first = self._with_rest(leaf, leaf.length, width, "length", pool, noise, rule) if above else leaf
                done.append((length, width, "width", first))
                length = beside
            else:
                first = self._with_rest(leaf, length, leaf.width, "width", pool, noise, rule) if beside else leaf
                done.append((length, width, "length", first))
                width = above
        for its_length, its_width, along, first in reversed(done):
            panel = parted(its_length, its_width, along, first, panel)
        return panel

    def _across(self, length: int, width: int, beside: int, above: int, by_chance: bool) -> bool:
        """Say whether the first line runs across the panel: so that the larger of the two rests stays whole."""
        if not beside or not above:
            return not above
        across = beside * width >= above * length
        return across != (by_chance and self.chance.random() < OTHER_SPLIT)

    def _with_rest(
        self, leaf: Panel, length: int, width: int, along: str, pool: Pool, noise: float, rule: str
    ) -> Panel:
        """Return a part and the panel at its side that is as long or as wide as it is, filled."""
        rest_length, rest_width = (length, width - leaf.width) if along == "length" else (length - leaf.length, width)
        return parted(length, width, along, leaf, self.fill(rest_length, rest_width, pool, noise, rule))

    def _pick(self, length: int, width: int, pool: Pool, noise: float, rule: str) -> Panel | None:
        """Take the part that is worth most here out of the pool."""
        kerf, least, chance, ways = self.kerf, self.least, self.chance.random, self.ways
        flush_worth, exact_worth = RULES[rule]
        best = 0.0
        chosen: tuple[int, int, int] | None = None
        for part in pool:
            for a, b in ways[part]:
                beside, above = length - a, width - b
                if beside < 0 or above < 0 or kerf < beside < least or kerf < above < least:
                    continue
                worth = float(a * b)
                if beside == 0 or above == 0:
                    worth *= flush_worth if beside or above else exact_worth
                if noise:
                    worth *= 1 - noise * chance()
                if worth > best:
                    best, chosen = worth, (part, a, b)
        self.steps += len(pool) + 4
        if rule == JOINED and len(pool) > 1:
            joined = self._pick_joined(length, width, pool, noise, best)
            if joined is not None:
                return joined
        if chosen is None:
            return None
        part, a, b = chosen
        _take(pool, part)
        return _leaf(part, a, b)

    def _pick_joined(self, length: int, width: int, pool: Pool, noise: float, best: float) -> Panel | None:
        """Take two parts that lie side by side as one out of the pool, where they are worth more."""
        kerf, least, chance = self.kerf, self.least, self.chance.random
        flush_worth, exact_worth = RULES[JOINED]
        chosen = None
        for part in pool:
            for panel, other in self.joined[part]:
                self.steps += 1
                if other not in pool or (other == part and pool[part] < 2):
                    continue
                beside, above = length - panel.length, width - panel.width
                if beside < 0 or above < 0 or kerf < beside < least or kerf < above < least:
                    continue
                worth = float(panel.filled)
                if beside == 0 or above == 0:
                    worth *= flush_worth if beside or above else exact_worth
                if noise:
                    worth *= 1 - noise * chance()
                if worth > best:
                    best, chosen = worth, (panel, part, other)
        if chosen is None:
            return None
        panel, part, other = chosen
        _take(pool, part)
        _take(pool, other)
        return panel

    @cached_property
    def joined(self) -> list[list[tuple[Panel, int]]]:
        """Of each part, each panel it makes without waste with one of the same or a higher number. [any unit, -]"""
        found: list[list[tuple[Panel, int]]] = [[] for _ in self.ways]
        for part, other in combinations_with_replacement(range(len(self.ways)), 2):
            panels: dict[tuple[int, int], Panel] = {}
            for (a, b), (c, d) in product(self.ways[part], self.ways[other]):
                if b == d:
                    panels[a + c, b] = parted(a + c, b, "width", _leaf(part, a, b), _leaf(other, c, d))
                if a == c:
                    panels[a, b + d] = parted(a, b + d, "length", _leaf(part, a, b), _leaf(other, c, d))
            found[part] += [(panel, other) for panel in panels.values()]
        return found


def _leaf(part: int, length: int, width: int) -> Panel:
    return Panel(length, width, part, filled=length * width, count=1)


def _take(pool: Pool, part: int) -> None:
    if pool[part] == 1:
        del pool[part]
    else:
        pool[part] -= 1
