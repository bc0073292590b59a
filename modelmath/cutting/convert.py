"""From parts and stock to a problem in whole numbers, and from its plan back to strips with their cuts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction

from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.plan import Cut, CutStrip
from modelmath.cutting.stock import CutPart, CutStock


def problem_of(
    parts: Sequence[CutPart],
    rows: Sequence[CutStock],
    kerf: Fraction,
    trim: Fraction,
    useful: Fraction,
    per_mm: int,
) -> Problem:
    """Return the cutting problem of one kind of strip in whole numbers.

    With nothing listed to buy, the longest full strip is what is bought; an offcut's length never is.

    Parameters
    ----------
    parts : sequence of CutPart
        What to cut. [mm]
    rows : sequence of CutStock
        What to cut it from. [mm]
    kerf, trim, useful : Fraction
        Saw cut, end trim, the shortest offcut worth keeping. [mm]
    per_mm : int
        Units to the mm, in which all of these are whole. [1/mm]

    Returns
    -------
    Problem
        Each length once, longest first; strips of one kind and length together, the oldest row first. [unit]

    References
    ----------
    None needed.
    """
    wanted: dict[int, int] = defaultdict(int)
    for part in parts:
        wanted[int(part.length_mm * per_mm)] += part.count
    lengths = tuple(sorted(wanted, reverse=True))
    pieces = sum(wanted.values())
    least = lengths[-1] + int(trim * per_mm)  # what is shorter holds no piece
    kinds: dict[tuple[str, int], list[int]] = defaultdict(list)
    for at, row in enumerate(rows):
        kind = "to buy" if row.count is None else "offcut" if row.offcut else "on hand"
        kinds[kind, int(row.length_mm * per_mm)] += [at] * min(row.count or 1, pieces)
    full = [at for at, row in enumerate(rows) if not row.offcut]
    if full and not any(kind == "to buy" for kind, _ in kinds):
        longest = max(full, key=lambda at: (rows[at].length_mm, -at))
        kinds["to buy", int(rows[longest].length_mm * per_mm)] = [longest]
    order = ("offcut", "on hand", "to buy")
    found = tuple(
        Row(length, pieces if kind == "to buy" else min(len(sources), pieces), kind, tuple(sources[:pieces]))
        for (kind, length), sources in sorted(kinds.items(), key=lambda each: (order.index(each[0][0]), each[0][1]))
        if length >= least
    )
    whole = (int(each * per_mm) for each in (kerf, trim, useful))
    return Problem(lengths, tuple(wanted[length] for length in lengths), found, *whole)


def cut_strips(
    problem: Problem,
    plan: Sequence[Pattern],
    parts: Sequence[CutPart],
    rows: Sequence[CutStock],
    allowed: tuple[Fraction, Fraction, Fraction],
) -> list[CutStrip]:
    """Return the strips of a plan with their cuts, offcuts first.

    Parameters
    ----------
    problem : Problem
        The problem. [unit]
    plan : sequence of Pattern
        A pattern for each strip. [-]
    parts, rows : sequence of CutPart, of CutStock
        What the problem was made of. [mm]
    allowed : tuple of Fraction
        Saw cut, end trim, the shortest offcut worth keeping. [mm]

    Returns
    -------
    list of CutStrip
        Without numbers. Pieces lie longest first, so that equal ones follow each other. [mm]

    References
    ----------
    None needed.
    """
    kerf, trim, useful = allowed
    waiting: dict[Fraction, list[CutPart]] = defaultdict(list)
    for part in sorted(parts, key=lambda each: each.name):
        waiting[part.length_mm] += [part] * part.count
    lengths = sorted(waiting, reverse=True)
    used: dict[int, int] = defaultdict(int)
    strips = []
    for pattern in sorted(plan, key=lambda each: (each.row, each.pieces)):
        row = problem.rows[pattern.row]
        source = rows[row.sources[used[pattern.row]] if not row.bought else row.sources[0]]
        used[pattern.row] += 1
        cuts: list[Cut] = []
        at = trim
        for number, count in pattern.pieces:
            for _ in range(count):
                part = waiting[lengths[number]].pop(0)
                cuts.append(Cut(part.name, part.length_mm, at, at + part.length_mm, part.equal_set))
                at += part.length_mm + kerf
        left = max(Fraction(0), source.length_mm - at)
        kept = left > 0 and left >= useful
        strips.append(CutStrip(0, source.name, source.length_mm, row.kind, tuple(cuts), left, kept))
    return strips
