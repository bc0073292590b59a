"""Speakers wired: the impedance they make, who gets which part of the power, all ways to wire them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache
from itertools import compress, product
from operator import not_
from typing import Literal

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.sound.loads.amounts import as_written
from modelmath.sound.loads.speakers import RatedSpeaker, alike, check_names
from modelmath.sound.loads.tree import Parallel, Series, Single, Wiring, in_parallel, in_series

__all__ = [
    "Parallel",
    "Series",
    "Single",
    "Wiring",
    "exact_impedance",
    "exact_shares",
    "few_enough",
    "impedance_ohm",
    "in_parallel",
    "in_series",
    "ohms_by_name",
    "power_shares",
    "wirings",
]

MOST_UNLIKE, MOST_LIKE = 4, 6  # 52 wirings of four unlike speakers, 66 of six like ones


def ohms_by_name(wiring: Wiring, speakers: Sequence[RatedSpeaker]) -> dict[str, Fraction]:
    """Return the rated impedance of each speaker by name, once it is sure that the wiring holds just these.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]
    speakers : sequence of RatedSpeaker
        The speakers. [-]

    Returns
    -------
    dict of str to Fraction
        Rated impedances, exact. [ohm]

    Raises
    ------
    UnknownChoice
        If the wiring has a speaker that is not among them.
    OutOfRange
        If one is left out of the wiring, or two have one name.

    References
    ----------
    None needed.
    """
    check_names(speakers)
    ohms = {speaker.name: as_written(speaker.impedance_ohm) for speaker in speakers}
    for name in wiring.names:
        if name not in ohms:
            raise UnknownChoice("a speaker of the wiring", name, tuple(ohms))
    for name in ohms:
        if name not in wiring.names:
            given, remedy = f"without {name}", "Wire it too, or leave it out of the list."
            raise OutOfRange("the wiring", given, "one with every speaker of the list", remedy)
    return ohms


def exact_impedance(wiring: Wiring, ohms: Mapping[str, Fraction]) -> Fraction:
    """Return the impedance of a wiring.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]
    ohms : mapping of str to Fraction
        Rated impedance of each speaker by name. [ohm]

    Returns
    -------
    Fraction
        Impedance, exact. [ohm]

    References
    ----------
    Series: Z = Z1 + Z2; parallel: 1/Z = 1/Z1 + 1/Z2. Rated values, taken as resistances.

    Examples
    --------
    >>> exact_impedance(in_parallel("a", "b"), {"a": Fraction(8), "b": Fraction(4)})
    Fraction(8, 3)
    """
    if isinstance(wiring, Single):
        return ohms[wiring.name]
    each = [exact_impedance(part, ohms) for part in wiring.parts]
    return sum(each, Fraction(0)) if isinstance(wiring, Series) else 1 / sum((1 / ohm for ohm in each), Fraction(0))


def exact_shares(wiring: Wiring, ohms: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """Return the part of the whole power that each speaker takes.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]
    ohms : mapping of str to Fraction
        Rated impedance of each speaker by name. [ohm]

    Returns
    -------
    dict of str to Fraction
        Parts by name, exact; together 1. [-]

    References
    ----------
    P = I^2 R in series, P = V^2 / R in parallel.

    Examples
    --------
    >>> shares = exact_shares(in_series("a", "b"), {"a": Fraction(8), "b": Fraction(4)})
    >>> {name: str(part) for name, part in shares.items()}
    {'a': '2/3', 'b': '1/3'}
    """
    if isinstance(wiring, Single):
        return {wiring.name: Fraction(1)}
    whole = exact_impedance(wiring, ohms)
    found: dict[str, Fraction] = {}
    for part in wiring.parts:
        own = exact_impedance(part, ohms)
        weight = own / whole if isinstance(wiring, Series) else whole / own
        found |= {name: weight * inner for name, inner in exact_shares(part, ohms).items()}
    return found


def impedance_ohm(wiring: Wiring, speakers: Sequence[RatedSpeaker]) -> float:
    """Return the impedance that speakers wired so put on an output.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]
    speakers : sequence of RatedSpeaker
        The speakers. [-]

    Returns
    -------
    float
        Impedance by their rated values. [ohm]

    Raises
    ------
    OutOfRange, UnknownChoice
        If the wiring does not hold each speaker once.

    References
    ----------
    As `exact_impedance`.

    Examples
    --------
    >>> impedance_ohm(in_parallel("front", "rear"), [RatedSpeaker("front", 8), RatedSpeaker("rear", 8)])
    4.0
    """
    return float(exact_impedance(wiring, ohms_by_name(wiring, speakers)))


def power_shares(wiring: Wiring, speakers: Sequence[RatedSpeaker]) -> dict[str, float]:
    """Return the part of the whole power that each speaker takes, in the order of the speakers.

    Parameters
    ----------
    wiring : Wiring
        How they are wired. [-]
    speakers : sequence of RatedSpeaker
        The speakers. [-]

    Returns
    -------
    dict of str to float
        Parts by name, together 1. [-]

    Raises
    ------
    OutOfRange, UnknownChoice
        If the wiring does not hold each speaker once.

    References
    ----------
    As `exact_shares`.

    Examples
    --------
    >>> power_shares(in_parallel("front", "rear"), [RatedSpeaker("front", 8), RatedSpeaker("rear", 24)])
    {'front': 0.75, 'rear': 0.25}
    """
    shares = exact_shares(wiring, ohms_by_name(wiring, speakers))
    return {speaker.name: float(shares[speaker.name]) for speaker in speakers}


def few_enough(speakers: Sequence[RatedSpeaker]) -> bool:
    """Return whether all their wirings are listed: up to six like speakers, or four that are not all alike.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        The speakers. [-]

    Returns
    -------
    bool
        Whether `wirings` takes them. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> few_enough([RatedSpeaker(name, 8) for name in "abcdef"])
    True
    """
    return len(speakers) <= (MOST_LIKE if alike(speakers) else MOST_UNLIKE)


Shape = int | tuple[str, tuple["Shape", ...]]
Joint = Literal["series", "parallel"]


def _partitions(items: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], ...]]:
    """Yield every way to part items into blocks."""
    if not items:
        yield ()
        return
    first, rest = items[0], items[1:]
    for chosen in product((False, True), repeat=len(rest)):
        block, left = (first, *compress(rest, chosen)), tuple(compress(rest, map(not_, chosen)))
        for others in _partitions(left):
            yield (block, *others)


@cache
def _shapes(kinds: tuple[int, ...], joint: Joint) -> tuple[Shape, ...]:
    """Return every network of speakers of some kinds whose outermost joint is this one, each once."""
    if len(kinds) == 1:
        return kinds
    inner: Joint = "parallel" if joint == "series" else "series"
    found: dict[Shape, None] = {}
    for blocks in _partitions(kinds):
        if len(blocks) > 1:
            for parts in product(*(_shapes(block, inner) for block in blocks)):
                found[joint, tuple(sorted(parts, key=repr))] = None
    return tuple(sorted(found, key=repr))


def _named(shape: Shape, left: Mapping[int, list[str]]) -> Wiring:
    """Return a network with the names of its speakers, taking the next one left of each kind."""
    if isinstance(shape, int):
        return Single(left[shape].pop(0))
    joint, parts = shape
    inside = tuple(_named(part, left) for part in parts)
    return Series(inside) if joint == "series" else Parallel(inside)


def wirings(speakers: Sequence[RatedSpeaker]) -> tuple[Wiring, ...]:
    """Return every way to wire speakers in series and parallel, all of them used, each way once.

    Two ways that differ only in which of two like speakers stands where are one.

    Parameters
    ----------
    speakers : sequence of RatedSpeaker
        Up to six like ones, or four that are not all alike. [-]

    Returns
    -------
    tuple of Single, Series and Parallel
        The wirings. [-]

    Raises
    ------
    OutOfRange
        If there are none or too many, or two have one name.

    References
    ----------
    N. J. A. Sloane (ed.), OEIS A000084: series-parallel networks of n like resistors, 1, 2, 4, 10, 24, 66;
    A006351: of n unlike ones, 1, 2, 8, 52.

    Examples
    --------
    >>> [len(wirings([RatedSpeaker(name, 8) for name in "abcdef"[:count]])) for count in range(1, 7)]
    [1, 2, 4, 10, 24, 66]
    """
    check_names(speakers)
    if not few_enough(speakers):
        most = MOST_LIKE if alike(speakers) else MOST_UNLIKE
        sort = "like speakers" if alike(speakers) else "speakers that are not all alike"
        expected, remedy = f"at most {most}", "Leave some out, or check one wiring at a time."
        raise OutOfRange(f"the number of {sort}", str(len(speakers)), expected, remedy)
    order = list(dict.fromkeys(speaker.kind for speaker in speakers))
    kinds = tuple(sorted(order.index(speaker.kind) for speaker in speakers))
    shapes = _shapes(kinds, "series") + (_shapes(kinds, "parallel") if len(kinds) > 1 else ())

    def left() -> dict[int, list[str]]:
        return {place: [each.name for each in speakers if each.kind == kind] for place, kind in enumerate(order)}

    return tuple(_named(shape, left()) for shape in shapes)
