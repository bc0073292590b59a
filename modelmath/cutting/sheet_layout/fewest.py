"""Fewest sheets to buy, then fewest begun: filled one after the other, then one fewer, for as long as that works."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from modelmath.cutting.kinds import OfKind
from modelmath.cutting.sheet_layout.one_sheet.filling import RULES, Filler, Pool
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, leaves, parts_in, replaced
from modelmath.cutting.sheet_layout.one_sheet.search import refilled

MOST_SETS = 4  # kinds of sheet to buy tried for one number of them


@dataclass(frozen=True)
class Piece(OfKind):
    """One sheet there is, or one that can be bought.

    Attributes
    ----------
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    length, width : int
        Its sides. [any unit]
    row : int
        Which row of the stock it is of. [-]
    """

    kind: str
    length: int
    width: int
    row: int

    @property
    def area(self) -> int:
        """Its area. [unit squared]"""
        return self.length * self.width


@dataclass(frozen=True)
class Supply:
    """The sheets there are: offcuts the smallest first, the others the largest first.

    Attributes
    ----------
    offcuts, on_hand : tuple of Piece
        Each sheet. [any unit]
    to_buy : tuple of Piece
        Each kind, as many as needed. [same unit]
    """

    offcuts: tuple[Piece, ...]
    on_hand: tuple[Piece, ...]
    to_buy: tuple[Piece, ...]


Laid = list[tuple[Piece, Panel]]


def laid_out(filler: Filler, pool: Pool, supply: Supply, steps: int) -> tuple[Laid, Pool]:
    """Lay all parts out on sheets that are opened one after the other.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    pool : dict of int to int
        How many of each part; left as it is. [-]
    supply : Supply
        The sheets. [same unit]
    steps : int
        Steps to take at most where parts are left over. [-]

    Returns
    -------
    (list of (Piece, Panel), dict of int to int)
        Each sheet used, and the parts for which no place is found. [same unit, -]

    References
    ----------
    Finite best fit, one sheet after the other: J. O. Berkey and P. Y. Wang, "Two-dimensional finite bin-packing
    algorithms", J. Operational Research Society 38 (1987); from memory.
    """
    held = [*supply.offcuts, *supply.on_hand]
    roots = [Panel(piece.length, piece.width) for piece in held]
    rest = {part: n for part, n in pool.items() if any(_holds(filler, each, part) for each in supply.to_buy)}
    picky = {part: n for part, n in pool.items() if part not in rest}  # only what is there already holds these
    roots = [_topped_up(filler, root, picky) for root in roots]
    if picky and roots:
        roots, picky = refilled(filler, roots, picky, steps)
    laid = [(piece, _topped_up(filler, root, rest)) for piece, root in zip(held, roots, strict=True)]
    while rest:
        bought = next(each for each in supply.to_buy if any(_holds(filler, each, part) for part in rest))
        laid.append((bought, _topped_up(filler, Panel(bought.length, bought.width), rest)))
    return [(piece, root) for piece, root in laid if root.count], picky


def with_fewer(filler: Filler, laid: Laid, pool: Pool, supply: Supply, least: int, steps: int) -> Laid:
    """Return a layout with fewer sheets to buy, as long as one is found.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    laid : list of (Piece, Panel)
        A layout. [same unit]
    pool : dict of int to int
        How many of each part; left as it is. [-]
    supply : Supply
        The sheets. [same unit]
    least : int
        Fewest to buy there could be: then it is done. [-]
    steps : int
        Steps to take at most. [-]

    Returns
    -------
    list of (Piece, Panel)
        The layout, or a better one. [same unit]

    References
    ----------
    None needed: fewer are tried until none is found.
    """

    def sets(known: Laid) -> list[list[Piece]]:
        held = [*supply.offcuts, *supply.on_hand]
        return [[*held, *[kind] * (bought(known) - 1)] for kind in supply.to_buy[:MOST_SETS]]

    return _fewer_and_fewer(filler, laid, pool, sets, bought, least, steps)


def with_fewer_begun(filler: Filler, laid: Laid, pool: Pool, supply: Supply, least: int, steps: int) -> Laid:
    """Return a layout with fewer new sheets that buys no more, as long as one is found.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    laid : list of (Piece, Panel)
        A layout. [same unit]
    pool : dict of int to int
        How many of each part; left as it is. [-]
    supply : Supply
        The sheets. [same unit]
    least : int
        Fewest new sheets there could be: then it is done. [-]
    steps : int
        Steps to take at most. [-]

    Returns
    -------
    list of (Piece, Panel)
        The layout, or a better one. [same unit]

    References
    ----------
    None needed: fewer sheets on hand are tried until none is found.
    """

    def sets(known: Laid) -> list[list[Piece]]:
        to_buy = [piece for piece, _ in known if piece.bought]
        begun = sorted((each for each in known if each[0].kind == "on hand"), key=lambda each: each[1].filled)
        if not begun:
            return []
        fullest, largest = [piece for piece, _ in begun[1:]], list(supply.on_hand[: len(begun) - 1])
        kinds = [largest] if _both_sides(largest) == _both_sides(fullest) else [largest, fullest]
        return [[*supply.offcuts, *on_hand, *to_buy] for on_hand in kinds]

    return _fewer_and_fewer(filler, laid, pool, sets, new_sheets, least, steps)


def _fewer_and_fewer(
    filler: Filler,
    laid: Laid,
    pool: Pool,
    sets: Callable[[Laid], list[list[Piece]]],
    count: Callable[[Laid], int],
    least: int,
    steps: int,
) -> Laid:
    """Return the layout on a set with one sheet fewer, and again, as long as one is found."""
    end = filler.steps + steps
    while (now := count(laid)) > least and filler.steps < end:
        found = None
        chosen = sets(laid)
        for at, pieces in enumerate(chosen):
            tries = len(chosen) - at + (now - 1 > least)
            found = held_on(filler, pieces, pool, (end - filler.steps) // tries)
            if found:
                break
        if not found:
            break
        laid = found
    return laid


def smaller_bought(filler: Filler, laid: Laid, supply: Supply, steps: int) -> Laid:
    """Return the layout with each sheet to buy the smallest kind that is found to hold its parts.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    laid : list of (Piece, Panel)
        A layout. [same unit]
    supply : Supply
        The sheets. [same unit]
    steps : int
        Steps to take at most. [-]

    Returns
    -------
    list of (Piece, Panel)
        The same parts on the same number of sheets. [same unit]

    References
    ----------
    None needed: smaller kinds are tried, smallest first.
    """
    smaller: Laid = []
    for piece, root in laid:
        found: Laid | None = None
        for kind in reversed(supply.to_buy):
            if not piece.bought or kind.area >= piece.area or found:
                break
            found = held_on(filler, [kind], counted(root), steps // (len(laid) * len(supply.to_buy)))
        smaller += found or [(piece, root)]
    return smaller


def held_on(filler: Filler, pieces: Sequence[Piece], pool: Pool, steps: int) -> Laid | None:
    """Return a layout of all parts on some sheets.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    pieces : sequence of Piece
        The sheets, the first to be filled first. [same unit]
    pool : dict of int to int
        How many of each part; left as it is. [-]
    steps : int
        Steps to take at most where parts are left over at first. [-]

    Returns
    -------
    list of (Piece, Panel) or None
        The sheets that are used; None if no such layout is found. [same unit]

    References
    ----------
    As for `laid_out`, and for `refilled`.
    """
    rest = dict(pool)
    roots = [_topped_up(filler, Panel(piece.length, piece.width), rest) for piece in pieces]
    if rest and sum(root.waste for root in roots) >= sum(
        n * min(a * b for a, b in filler.ways[part]) for part, n in rest.items()
    ):
        roots, rest = refilled(filler, roots, rest, steps)
    return None if rest else [(piece, root) for piece, root in zip(pieces, roots, strict=True) if root.count]


def new_sheets(laid: Laid) -> int:
    """Return how many sheets of a layout are new: full ones on hand and bought ones.

    Parameters
    ----------
    laid : list of (Piece, Panel)
        A layout. [any unit]

    Returns
    -------
    int
        How many. [-]

    References
    ----------
    None needed.
    """
    return sum(piece.new for piece, _ in laid)


def bought(laid: Laid) -> int:
    """Return how many sheets of a layout are to buy.

    Parameters
    ----------
    laid : list of (Piece, Panel)
        A layout. [any unit]

    Returns
    -------
    int
        How many. [-]

    References
    ----------
    None needed.
    """
    return sum(piece.bought for piece, _ in laid)


def counted(*roots: Panel) -> Pool:
    """Return how many of each part are on some sheets.

    Parameters
    ----------
    *roots : Panel
        The sheets. [any unit]

    Returns
    -------
    dict of int to int
        How many of each part. [-]

    References
    ----------
    None needed.
    """
    pool: Pool = {}
    for root in roots:
        for part in parts_in(root):
            pool[part] = pool.get(part, 0) + 1
    return dict(sorted(pool.items()))


def _holds(filler: Filler, piece: Piece, part: int) -> bool:
    return any(filler.fits(piece.length, a) and filler.fits(piece.width, b) for a, b in filler.ways[part])


def _topped_up(filler: Filler, root: Panel, pool: Pool) -> Panel:
    """Fill what is free of a sheet, by the rule that places most; what is placed is taken out of the pool."""
    tries = []
    if not pool:
        return root
    for rule in RULES:
        rest, full = dict(pool), root
        for free, way in [(leaf, way) for leaf, way in leaves(root) if not leaf.count]:
            full = replaced(full, way, filler.fill(free.length, free.width, rest, rule=rule))
        tries.append((full, rest))
    full, rest = max(tries, key=lambda each: each[0].filled)
    pool.clear()
    pool.update(rest)
    return full


def _both_sides(pieces: Iterable[Piece]) -> list[tuple[int, int]]:
    return sorted((piece.length, piece.width) for piece in pieces)
