"""Greedy packing of pieces into strips, in whole numbers: piece with its saw cut, strip with one cut more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product

from modelmath.cutting.kinds import OfKind

MOST_FILLED = 400  # pieces up to which strips are also filled one by one; the work grows with their square
MOST_STEPS = 50_000  # steps a strip is divided into at most for that


@dataclass
class Bin(OfKind):
    """One strip being filled.

    Attributes
    ----------
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    capacity : int
        What it holds. [any unit]
    row : int
        Which row of the stock list it is of. [-]
    pieces : list of int
        Numbers of the pieces it has been given. [-]
    free : int
        What is left. [same unit]
    """

    kind: str
    capacity: int
    row: int
    pieces: list[int] = field(default_factory=list)
    free: int = 0

    def __post_init__(self) -> None:
        self.free = self.capacity

    def take(self, number: int, size: int) -> None:
        """Give the strip a piece that it has room for; nothing here checks that it does.

        Parameters
        ----------
        number : int
            The piece's number. [-]
        size : int
            Its length and saw cut. [same unit as `capacity`]

        References
        ----------
        None needed.
        """
        self.pieces.append(number)
        self.free -= size

    def give_back(self, size: int) -> None:
        """Take the last piece off again.

        Parameters
        ----------
        size : int
            Its length and saw cut. [same unit as `capacity`]

        References
        ----------
        None needed.
        """
        self.pieces.pop()
        self.free += size


@dataclass(frozen=True)
class Supply:
    """The strips there are, each as its capacity and its row in the stock list.

    Attributes
    ----------
    offcuts : tuple of (int, int)
        Each piece left over from earlier work. [any unit, -]
    on_hand : tuple of (int, int)
        Each full strip in the drawer. [same unit, -]
    to_buy : tuple of (int, int)
        Each kind that can be bought, as often as needed. [same unit, -]
    """

    offcuts: tuple[tuple[int, int], ...]
    on_hand: tuple[tuple[int, int], ...]
    to_buy: tuple[tuple[int, int], ...]

    @property
    def longest_to_buy(self) -> int:
        """Capacity of the longest strip that can be bought; 0 if none can. [same unit]"""
        return max((capacity for capacity, _ in self.to_buy), default=0)

    @property
    def held(self) -> list[Bin]:
        """All that is there already, the shortest offcuts first. [same unit]"""
        kinds = (("offcut", self.offcuts), ("on hand", self.on_hand))
        return [Bin(kind, capacity, row) for kind, strips in kinds for capacity, row in sorted(strips)]


def pack(sizes: Sequence[int], supply: Supply) -> list[Bin] | None:
    """Return the best of a few greedy packings of pieces given longest first.

    Parameters
    ----------
    sizes : sequence of int
        Pieces, longest first. [any unit]
    supply : Supply
        The strips. [same unit]

    Returns
    -------
    list of Bin or None
        Strips used, offcuts first; fewest new strips, then fewest bought, then least new length, then least
        length of all strips opened. None if none of the packings finds a place for each piece.

    References
    ----------
    First-fit and best-fit decreasing: D. S. Johnson, "Near-optimal bin packing algorithms" (thesis, MIT, 1973);
    filling one strip at a time with least left over: J. N. D. Gupta and J. C. Ho, "A new heuristic algorithm for
    the one-dimensional bin-packing problem", Production Planning & Control 10 (1999). Both from memory.

    Examples
    --------
    >>> [bin.pieces for bin in pack([60, 50, 40], Supply((), (), ((100, 0),)))]
    [[0, 2], [1]]
    """
    tries = [_decreasing(sizes, supply, *rules) for rules in product((False, True), repeat=3)]
    if len(sizes) <= MOST_FILLED:
        tries += [_one_by_one(sizes, supply, *rules) for rules in product((False, True), repeat=2)]
    return min((bins for bins in tries if bins), key=_cost, default=None)


def _cost(bins: Sequence[Bin]) -> tuple[int, int, int, int]:
    new = [each for each in bins if each.new]
    bought = sum(each.bought for each in new)
    return (len(new), bought, sum(each.capacity for each in new), sum(each.capacity for each in bins))


def _decreasing(
    sizes: Sequence[int], supply: Supply, tightest: bool, long_offcuts: bool, long_new: bool
) -> list[Bin] | None:
    """Place each piece in the first (or tightest) open strip that holds it; open another when none does."""
    bins = [Bin("offcut", capacity, row) for capacity, row in sorted(supply.offcuts, reverse=long_offcuts)]
    waiting = [Bin("on hand", capacity, row) for capacity, row in sorted(supply.on_hand, reverse=long_new)]
    for number, size in enumerate(sizes):
        fits = [each for each in bins if each.free >= size]
        if not fits:
            opened = open_strip(size, waiting, supply)
            if opened is None:
                return None
            fits = [opened]
            bins.append(opened)
        chosen = min(fits, key=lambda each: (each.new, each.free)) if tightest else fits[0]
        chosen.take(number, size)
    return strips_used(bins, supply)


def _one_by_one(sizes: Sequence[int], supply: Supply, long_offcuts: bool, long_new: bool) -> list[Bin] | None:
    """Fill one strip after the other so that least is left of each; a new one gets the longest piece first."""
    bins = [Bin("offcut", capacity, row) for capacity, row in sorted(supply.offcuts, reverse=long_offcuts)]
    waiting = [Bin("on hand", capacity, row) for capacity, row in sorted(supply.on_hand, reverse=long_new)]
    left = list(range(len(sizes)))
    for each in bins:
        left = _fill(each, left, sizes)
    while left:
        opened = open_strip(sizes[left[0]], waiting, supply)
        if opened is None:
            return None
        opened.take(left[0], sizes[left[0]])
        left = _fill(opened, left[1:], sizes)
        bins.append(opened)
    return strips_used(bins, supply)


def _fill(each: Bin, left: Sequence[int], sizes: Sequence[int]) -> list[int]:
    """Give a strip the pieces that leave least of it, long ones where there is a choice; return the others.

    Bit n of `reach` says whether some of the pieces add up to n steps; steps are coarser than the unit on
    very fine lengths, and then pieces round up, so that what fits in steps fits.
    """
    step = max(1, each.free // MOST_STEPS)
    room = each.free // step
    steps = [-(-sizes[number] // step) for number in left]
    reach = [1]
    for size in reversed(steps):
        reach.append((reach[-1] | reach[-1] << size) & ((1 << (room + 1)) - 1))
    target = reach.pop().bit_length() - 1
    others: list[int] = []
    for number, size, without in zip(left, steps, reversed(reach), strict=True):
        if size <= target and without >> (target - size) & 1:
            each.take(number, sizes[number])
            target -= size
        else:
            others.append(number)
    return others


def open_strip(size: int, waiting: list[Bin], supply: Supply) -> Bin | None:
    """Return a strip from the drawer if one is long enough, else the longest there is to buy, if that is.

    Parameters
    ----------
    size : int
        The piece it is opened for. [any unit]
    waiting : list of Bin
        What is left in the drawer; the strip returned is taken out. [same unit]
    supply : Supply
        The strips. [same unit]

    Returns
    -------
    Bin or None
        None if no strip is long enough. [same unit]

    References
    ----------
    The order drawer, then shop: common practice, no source.
    """
    for each in waiting:
        if each.capacity >= size:
            waiting.remove(each)
            return each
    if size > supply.longest_to_buy:
        return None
    capacity, row = max(supply.to_buy, key=lambda kind: (kind[0], -kind[1]))
    return Bin("to buy", capacity, row)


def strips_used(bins: Sequence[Bin], supply: Supply) -> list[Bin]:
    """Return the strips that were cut, each bought one as the shortest that still holds what it was given.

    Parameters
    ----------
    bins : sequence of Bin
        All strips. [any unit]
    supply : Supply
        For what can be bought. [same unit]

    Returns
    -------
    list of Bin
        In the same order. [same unit]

    References
    ----------
    None needed.
    """
    used = [each for each in bins if each.pieces]
    for each in used:
        if each.bought:
            need = each.capacity - each.free
            each.capacity, each.row = min(kind for kind in supply.to_buy if kind[0] >= need)
            each.free = each.capacity - need
    return used
