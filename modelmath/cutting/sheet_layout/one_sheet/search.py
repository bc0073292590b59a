"""Better layouts by taking a few panels out and filling them again, until all parts are placed.

A panel with waste is emptied with all that is in it, now and then two or three at once; its parts join those that have
no place yet, and it is filled from them again. A layout that holds less is kept now and then too, more and more seldom.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log

from modelmath.cutting.sheet_layout.one_sheet.filling import RULES, Filler, Pool
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, Way, parts_in, replaced

MOST_PARTS = 12  # parts in a panel that is filled again; more are seldom placed better by chance
HEAT = 0.004  # of the largest sheet's area: how much less a layout may hold at first and still be kept, as a rule
NAMES = tuple(RULES)
NOISES = (0.1, 0.3, 0.6, 1.0)
SECOND, THIRD = 0.6, 0.2  # how often a second and a third panel are taken out
ANYWHERE = 0.1  # how often a panel is chosen by its size, or a sheet where some are full, whatever its waste
OVERHEAD = 20  # steps counted for each try beside the parts looked at


def refilled(filler: Filler, roots: Sequence[Panel], pool: Pool, steps: int) -> tuple[list[Panel], Pool]:
    """Place as much as can be of what has no place yet.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    roots : sequence of Panel
        The sheets as far as they are filled, one at least. [same unit]
    pool : dict of int to int
        How many have no place yet, of each part. [-]
    steps : int
        Steps to take at most. [-]

    Returns
    -------
    (list of Panel, dict of int to int)
        The sheets that hold most, and what has no place on them. [same unit, -]

    References
    ----------
    Taking out and putting in again: G. Schrimpf et al., "Record breaking optimization results using the ruin and
    recreate principle", J. Computational Physics 159 (2000); from memory.
    """
    heat = HEAT * max(root.length * root.width for root in roots)
    start, held = filler.steps, sum(root.filled for root in roots)
    now, best, most = (list(roots), dict(pool)), (list(roots), dict(pool)), held
    while best[1] and (spent := filler.steps - start) < steps:
        filler.steps += OVERHEAD
        tried = filled_again(filler, *now)
        got = sum(root.filled for root in tried[0])
        warmth = heat * (1 - spent / steps) ** 2
        if got >= held or got > held + warmth * log(filler.chance.random() + 1e-12):
            now, held = tried, got
            if got > most:
                best, most = tried, got
    return best


def filled_again(filler: Filler, roots: Sequence[Panel], pool: Pool) -> tuple[list[Panel], Pool]:
    """Take some panels out of their sheets, one to three by chance, and fill them again.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    roots : sequence of Panel
        The sheets. [same unit]
    pool : dict of int to int
        How many have no place yet, of each part; left as it is. [-]

    Returns
    -------
    (list of Panel, dict of int to int)
        The sheets, better or worse, and what has no place on them. [same unit, -]

    References
    ----------
    As for `refilled`.
    """
    chance = filler.chance.random
    new_roots, new_pool = list(roots), dict(pool)
    emptied: list[tuple[int, Way]] = []
    for _ in range(1 + (chance() < SECOND) + (chance() < THIRD)):
        at = _some_root(filler, roots)
        way, panel = _some_panel(filler, roots[at])
        if any(other == at and _nested(way, known) for other, known in emptied):
            continue
        emptied.append((at, way))
        for part in parts_in(panel):
            new_pool[part] = new_pool.get(part, 0) + 1
    rule, noise = NAMES[int(chance() * len(NAMES))], NOISES[int(chance() * len(NOISES))]
    for at, way in emptied:
        panel, depth = new_roots[at], 0
        while panel.along and depth < len(way):  # two free panels side by side have become one that is not parted
            panel, depth = panel.halves[way[depth]], depth + 1
        filled = filler.fill(panel.length, panel.width, new_pool, noise, rule)
        new_roots[at] = replaced(new_roots[at], way[:depth], filled)
    return new_roots, new_pool


def _nested(one: Way, other: Way) -> bool:
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]


def _some_root(filler: Filler, roots: Sequence[Panel]) -> int:
    """Return a sheet by chance, the more often the more waste it has; a full one now and then, too."""
    if len(roots) == 1:
        return 0
    if not all(root.waste for root in roots) and filler.chance.random() < ANYWHERE:
        return int(filler.chance.random() * len(roots))
    mark = filler.chance.random() * sum(root.waste for root in roots)
    for at, root in enumerate(roots):
        mark -= root.waste
        if mark < 0:
            return at
    return len(roots) - 1


def _some_panel(filler: Filler, root: Panel) -> tuple[Way, Panel]:
    """Return a panel by chance: down towards waste, then up again to one that holds a few parts."""
    chance = filler.chance.random
    passed, way, panel = [root], [], root
    while panel.along:
        first, second = panel.halves
        one, other = first.waste, second.waste
        if chance() < ANYWHERE or not one + other:
            one, other = first.length * first.width, second.length * second.width
        to_second = chance() * (one + other) >= one
        panel = second if to_second else first
        way.append(to_second)
        passed.append(panel)
    wanted = 1 + int(chance() * MOST_PARTS)
    at = len(passed) - 1
    while at and passed[at].count < wanted:
        at -= 1
    if at < len(passed) - 1 and passed[at].count > MOST_PARTS + 3:
        at += 1
    return tuple(way[:at]), passed[at]
