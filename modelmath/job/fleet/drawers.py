"""Whose drawer several jobs are cut from.

What a job lists as its own stock is most often the one drawer of the person who builds them all, written down again. So
lists are never added up by themselves: either one of them counts, or all as one drawer, in which pieces that stand in
several lists are there once; they are added only where the user says that they are different drawers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

from modelmath.job.document import Job
from modelmath.job.plan import Plan
from modelmath.materials import Held, OnHand, StockSheet, StockStrip

_Piece = StockStrip | StockSheet
_Counts = Counter[_Piece]


def own_stock(job: Job) -> Held:
    """Return the stock that a job lists as its own.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    Held
        Strip and sheet; nothing where it lists none. [mm]

    Raises
    ------
    JobError
        If something in the job can't be read.

    References
    ----------
    None needed.
    """
    bench = Plan(job).bench
    return Held(bench.drawer, bench.sheets)


def as_one_drawer(lists: Iterable[OnHand]) -> Held:
    """Return several lists of one and the same drawer as that drawer: a piece that stands in several is there once.

    Parameters
    ----------
    lists : iterable of OnHand
        What each job lists. [mm]

    Returns
    -------
    Held
        Of each kind and size as many as the list with the most of them has. [mm]

    References
    ----------
    Union of multisets: D. E. Knuth, The Art of Computer Programming, vol. 2, 4.6.3, exercise 19.

    Examples
    --------
    >>> from modelmath.materials import parse_strip
    >>> one, two = (Held((StockStrip(parse_strip("HO 6x10"), 280, count),)) for count in (2, 3))
    >>> [each.count for each in as_one_drawer([one, two]).strips]
    [3]
    """
    return _gathered(lists, lambda before, more: before | more)


def added_up(lists: Iterable[OnHand]) -> Held:
    """Return the stock of different drawers together.

    Parameters
    ----------
    lists : iterable of OnHand
        The drawers. [mm]

    Returns
    -------
    Held
        Of each kind and size as many as all of them have. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.materials import parse_strip
    >>> one, two = (Held((StockStrip(parse_strip("HO 6x10"), 280, count),)) for count in (2, 3))
    >>> [each.count for each in added_up([one, two]).strips]
    [5]
    """
    return _gathered(lists, lambda before, more: before + more)


def _gathered(lists: Iterable[OnHand], join: Callable[[_Counts, _Counts], _Counts]) -> Held:
    """Return lists joined, a row for each kind, size and age, in the order in which they first stand."""
    whole: _Counts = Counter()
    for each in lists:
        mine: _Counts = Counter()
        pieces: tuple[_Piece, ...] = (*each.strips, *each.sheets)
        for row in pieces:
            mine[replace(row, count=1)] += row.count
        whole = join(whole, mine)
    rows = [replace(row, count=count) for row, count in whole.items()]
    return Held(
        tuple(row for row in rows if isinstance(row, StockStrip)),
        tuple(row for row in rows if isinstance(row, StockSheet)),
    )
