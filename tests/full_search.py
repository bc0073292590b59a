"""Every plan of a tiny cutting problem, tried one after the other: what the planner's answers are held against."""

from __future__ import annotations

from collections.abc import Iterator


def every_plan(pieces, strips, kerf, trim) -> Iterator[list[tuple[int, list[int]]]]:
    """Yield each way to put pieces on strips, as lists of (strip's number, its pieces)."""
    held = [[] for _ in strips]

    def room(at):
        length = strips[at][0] - trim
        return length - sum(held[at]) - kerf * len(held[at])

    def place(number):
        if number == len(pieces):
            yield [(at, list(mine)) for at, mine in enumerate(held) if mine]
            return
        tried = set()
        for at, strip in enumerate(strips):
            same = (strip, tuple(held[at]))
            if same in tried or pieces[number] > room(at):
                continue
            tried.add(same)
            held[at].append(pieces[number])
            yield from place(number + 1)
            held[at].pop()

    yield from place(0)


def judged(plan, strips, kerf, trim, useful):
    """Return what a plan gives by each goal in turn, less being better in each."""
    new = bought = bought_length = scrap = from_new = longest = 0
    for at, mine in plan:
        length, kind = strips[at]
        left = max(0, length - trim - sum(mine) - kerf * len(mine))
        kept = left if left >= useful else 0
        new += kind != "offcut"
        bought += kind == "to buy"
        bought_length += length * (kind == "to buy")
        scrap += length - sum(mine) - kept
        from_new += sum(mine) * (kind != "offcut")
        longest = max(longest, kept)
    return (bought, new, bought_length, scrap, from_new, -longest)
