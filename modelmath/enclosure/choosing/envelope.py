"""Of several chambers over one stretch the largest, place by place, and stretch after stretch the whole curve."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from modelmath.enclosure.choosing.pieces import Piece
from modelmath.lengths.numbers import Number


def largest(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Yield which of several pieces over one stretch is the largest, place by place; those that hold the speaker first.

    Parameters
    ----------
    pieces : sequence of Piece
        All over the same stretch. [mm]

    Yields
    ------
    Piece
        From the front to the rear. [mm]

    References
    ----------
    The upper envelope of straight lines.
    """
    some = [each for each in pieces if each.holds_speaker] or list(pieces)
    if not some:
        return
    place, end = some[0].start_mm, some[0].end_mm
    now = max(some, key=lambda each: (each.start_volume_mm3, each.end_volume_mm3))
    while place < end:
        steeper = [each for each in some if each.end_volume_mm3 > now.end_volume_mm3]
        crossings = [(_crossing(now, each), -each.end_volume_mm3, number) for number, each in enumerate(steeper)]
        if not crossings:
            break
        crossing, _, number = min(crossings)
        if crossing > place:
            yield now.between(place, crossing)
        place, now = crossing, steeper[number]
    if place < end or now.start_mm == now.end_mm:
        yield now.between(place, end)


def joined(cuts: Sequence[Number], over: Callable[[Number, Number], Sequence[Piece]]) -> list[Piece]:
    """Return the curve over neighbouring stretches, and the single places that are better than just behind.

    Where the speaker just finds its length between an edge and a step of the chassis, it does so at one place only.

    Parameters
    ----------
    cuts : sequence of Fraction
        Places at which something changes, rising. [mm]
    over : function
        Returns the pieces between two neighbouring cuts, or at one place alone. [mm]

    Returns
    -------
    list of Piece
        In order of their places. [mm]

    References
    ----------
    None needed.
    """
    found: list[Piece] = []
    for number, cut in enumerate(cuts):
        behind = list(over(cut, cuts[number + 1])) if number + 1 < len(cuts) else []
        beside = [_worth_at(cut, each) for each in behind[:1] if each.start_mm == cut]
        here = list(over(cut, cut))
        if here and _worth_at(cut, here[0]) > max(beside, default=(False, 0)):
            found += here
        found += behind
    return found


def _worth_at(place: Number, piece: Piece) -> tuple[bool, Number]:
    return piece.holds_speaker, piece.volume_at(place)


def _crossing(low: Piece, high: Piece) -> Number:
    """Return where a piece that ends higher overtakes one that begins no lower."""
    before = low.start_volume_mm3 - high.start_volume_mm3
    after = high.end_volume_mm3 - low.end_volume_mm3
    return low.start_mm + (low.end_mm - low.start_mm) * before / (before + after)
