"""How many pieces of a length the drawer gives of each strip."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from modelmath.errors import OutOfRange
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.sections.strips import Strip


def check_count(count: int) -> int:
    """Return a count of pieces that can be worked with.

    Parameters
    ----------
    count : int
        How many pieces. [-]

    Returns
    -------
    int
        The same. [-]

    Raises
    ------
    OutOfRange
        If it is no whole number, 1 or more.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_count(2)
    2
    """
    if isinstance(count, bool) or not isinstance(count, int) or count < 1:
        raise OutOfRange("count", repr(count), "a whole number, 1 or more", "Write how many pieces are wanted.")
    return count


def pieces_held(
    drawer: Sequence[StockStrip], piece_mm: Fraction, enough: int = 1, kerf_mm: Fraction = Fraction(0)
) -> dict[Strip, int]:
    """Count the pieces that each strip of the drawer gives; a strip that gives none is left out.

    Parameters
    ----------
    drawer : sequence of StockStrip
        What is on hand. [mm]
    piece_mm : Fraction
        Length of a piece; 0 where it is not known. [mm]
    enough : int
        The count that a strip is taken to give where the length is not known. [-]
    kerf_mm : Fraction
        What each cut takes away. [mm]

    Returns
    -------
    dict of Strip to int
        Pieces by strip, in the drawer's order. [-]

    References
    ----------
    Arithmetic: n pieces take ``n piece + (n - 1) kerf`` of a length, so a length gives
    ``floor((length + kerf) / (piece + kerf))``.

    Examples
    --------
    >>> from modelmath.materials.sections.strips import parse_strip
    >>> strip = parse_strip("1 x 2 mm")
    >>> list(pieces_held([StockStrip(strip, 100, 2)], Fraction(33), kerf_mm=Fraction(1)).values())
    [4]
    """
    found: dict[Strip, int] = {}
    for stock in drawer:
        each = enough if not piece_mm else (stock.length_mm + kerf_mm) // (piece_mm + kerf_mm) * stock.count
        if each:
            found[stock.strip] = found.get(stock.strip, 0) + int(each)
    return found


def enough_of(lengths_mm: Sequence[Fraction], pieces_mm: Sequence[Fraction], kerf_mm: Fraction = Fraction(0)) -> bool:
    """Return whether pieces can surely be cut from some lengths: the longest first, each from the first it fits.

    Where this says no, another order of cutting may still do; a cut plan tells.

    Parameters
    ----------
    lengths_mm, pieces_mm : sequence of Fraction
        Lengths on hand, and the pieces; a piece of length 0 is one whose length is not known. [mm]
    kerf_mm : Fraction
        What each cut takes away. [mm]

    Returns
    -------
    bool
        True where it can be done so. [-]

    References
    ----------
    First fit decreasing: D. S. Johnson, Near-optimal bin packing algorithms, MIT 1973.

    Examples
    --------
    >>> enough_of([Fraction(10), Fraction(6)], [Fraction(5), Fraction(6), Fraction(5)])
    True
    >>> enough_of([Fraction(10)], [Fraction(5), Fraction(5)], Fraction(1))
    False
    """
    left = [length + kerf_mm for length in sorted(lengths_mm)]
    for piece in sorted(pieces_mm, reverse=True):
        if not piece:
            break
        place = next((place for place, room in enumerate(left) if room >= piece + kerf_mm), None)
        if place is None:
            return False
        left[place] -= piece + kerf_mm
    return bool(lengths_mm)
