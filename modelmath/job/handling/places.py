"""Places along the length: which lie on marks of the rule, and how a place is written and said."""

from __future__ import annotations

from bisect import bisect_left
from fractions import Fraction
from math import ceil, floor

from modelmath.clearance import Marks
from modelmath.lengths.text import mixed, round_half_up

DECIMALS = 6  # of a place whose decimals don't end: far finer than anything can be set
MOST = 60  # characters that a length has room for in the document


def on_marks(marks: Marks, low_mm: Fraction, high_mm: Fraction) -> list[Fraction]:
    """Return the places in a stretch that are marked out from the fore-aft mark with the rule set on a mark.

    Parameters
    ----------
    marks : Marks
        The rule and the finest mark. [-]
    low_mm, high_mm : Fraction
        The stretch, from the fore-aft mark. [mm]

    Returns
    -------
    list of Fraction
        Front to rear; ahead of the mark they are as far from it as behind. [mm]

    References
    ----------
    Arithmetic; `Rule.marks_apart`.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> marks = Marks(Rule(unit="mm", graduation="0.5"), "1")
    >>> [int(place) for place in on_marks(marks, Fraction(-5, 2), Fraction(3, 2))]
    [-2, -1, 0, 1]
    """
    pitch, first = marks.rule.marks_apart(marks.finest, marks.datum)
    apart, first = Fraction(pitch), Fraction(first) % Fraction(pitch)  # the least length at a mark
    behind = _steps(first, apart, max(low_mm, Fraction(0)), high_mm)
    ahead = [-each for each in reversed(_steps(first, apart, max(-high_mm, Fraction(0)), -low_mm))]
    if ahead and behind and ahead[-1] == behind[0]:  # the mark itself
        del ahead[-1]
    return ahead + behind


def with_place(places: list[Fraction], place_mm: Fraction) -> list[Fraction]:
    """Return places in order with one more among them.

    Parameters
    ----------
    places : list of Fraction
        Front to rear. [mm]
    place_mm : Fraction
        The other. [mm]

    Returns
    -------
    list of Fraction
        The same where it is among them. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> [int(each) for each in with_place([Fraction(1), Fraction(3)], Fraction(2))]
    [1, 2, 3]
    """
    at = bisect_left(places, place_mm)
    return places if places[at : at + 1] == [place_mm] else [*places[:at], place_mm, *places[at:]]


def _steps(first: Fraction, apart: Fraction, low: Fraction, high: Fraction) -> list[Fraction]:
    if high < low:
        return []
    return [first + number * apart for number in range(ceil((low - first) / apart), floor((high - first) / apart) + 1)]


def length_text(mm: Fraction) -> str:
    """Write a place so that it is read again exactly: in decimals, or as a fraction where they don't end.

    Parameters
    ----------
    mm : Fraction
        The place. [mm]

    Returns
    -------
    str
        With its unit; to a millionth where even a fraction would be too long. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> length_text(Fraction(-651, 16)), length_text(Fraction(10, 3))
    ('-40.6875 mm', '10/3 mm')
    """
    text = f"{number_text(mm)} mm"
    if len(text) <= MOST:
        return text
    return f"{number_text(Fraction(round_half_up(mm * 10**DECIMALS), 10**DECIMALS))} mm"


def number_text(value: Fraction, fractions: bool = False) -> str:
    """Write a number exactly.

    Parameters
    ----------
    value : Fraction
        Any number. [any]
    fractions : bool
        Whether it is written as rules with fractions are read, such as 3 3/4. [-]

    Returns
    -------
    str
        In decimals where they end; else as a fraction. [-]

    References
    ----------
    A fraction's decimals end where its denominator has no prime factors but 2 and 5.

    Examples
    --------
    >>> number_text(Fraction(-7, 8)), number_text(Fraction(-15, 4), fractions=True), number_text(Fraction(5))
    ('-0.875', '-3 3/4', '5')
    """
    sign, size = "-" if value < 0 else "", abs(value)
    if fractions:
        return f"{sign}{mixed(size)}"
    rest, places = size.denominator, 0
    while rest % 10 == 0 or rest % 5 == 0 or rest % 2 == 0:
        rest //= 10 if rest % 10 == 0 else 5 if rest % 5 == 0 else 2
        places += 1
    if rest != 1:
        return f"{sign}{size.numerator}/{size.denominator}"
    digits = f"{int(size * 10**places):0{places + 1}d}"
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)


def place_words(mm: Fraction, mark: str = "fore-aft mark") -> str:
    """Say where a place is.

    Parameters
    ----------
    mm : Fraction
        From the fore-aft mark, positive to the rear. [mm]
    mark : str
        What the mark is called. [-]

    Returns
    -------
    str
        Such as ``40.69 mm ahead of the rear hood screw``. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> place_words(Fraction(-651, 16)), place_words(Fraction(0), "screw")
    ('40.69 mm ahead of the fore-aft mark', 'at the screw')
    """
    shown = f"{float(abs(mm)):.2f}"
    if shown == "0.00":
        return f"at the {mark}"
    return f"{shown} mm {'behind' if mm > 0 else 'ahead of'} the {mark}"
