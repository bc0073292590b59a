"""A wiring in plain words, by the names of the speakers or, of like ones, by how many."""

from __future__ import annotations

from collections.abc import Sequence

from modelmath.sound.loads.amounts import number_word
from modelmath.sound.loads.wiring import Parallel, Series, Single, Wiring


def listed(items: Sequence[str]) -> str:
    """Return items as a list in a sentence.

    Parameters
    ----------
    items : sequence of str
        One or more. [-]

    Returns
    -------
    str
        The list, with "and" before the last. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> listed(["front", "middle", "rear"])
    'front, middle and rear'
    """
    return " and ".join(part for part in (", ".join(items[:-1]), items[-1]) if part)


def wiring_in_words(wiring: Wiring, by_count: bool = False) -> str:
    """Return a wiring in plain words; no two wirings of a set read the same.

    Parameters
    ----------
    wiring : Wiring
        The wiring. [-]
    by_count : bool
        Whether to say how many in place of the names: for like speakers. [-]

    Returns
    -------
    str
        The words. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.sound.loads.wiring import in_parallel, in_series
    >>> wiring_in_words(in_parallel(in_series("front", "rear"), "top"))
    'front and rear in series, that pair in parallel with top'
    >>> wiring_in_words(in_parallel(in_series("front", "rear"), "top"), by_count=True)
    'two in series, that pair in parallel with one more'
    """
    if isinstance(wiring, Single):
        return "one alone" if by_count else f"{wiring.name} alone"
    joint = "in series" if isinstance(wiring, Series) else "in parallel"
    singles = [part.name for part in wiring.parts if isinstance(part, Single)]
    groups = [part for part in wiring.parts if isinstance(part, (Series, Parallel))]
    ones = [number_word(len(singles))] if by_count and singles else singles
    if not groups:
        return f"{listed(ones)} {joint}"
    if len(groups) == 1:
        first, size = groups[0], len(groups[0].names)
        those = "that pair" if size == 2 else f"those {number_word(size)}"
        more = " more" if by_count else ""
        return f"{wiring_in_words(first, by_count)}, {those} {joint} with {listed(ones)}{more}"
    inside = [f"({wiring_in_words(group, by_count)})" for group in groups]
    return f"{listed([*inside, *ones])}, {joint}"
