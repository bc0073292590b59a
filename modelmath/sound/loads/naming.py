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

    What stands in brackets is joined first, and counts as one part of what is joined next.

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
    '(front + rear in series) + top, in parallel'
    >>> wiring_in_words(in_parallel(in_series("front", "rear"), "top"), by_count=True)
    '(two in series) + one, in parallel'
    """
    if isinstance(wiring, Single):
        return "one alone" if by_count else f"{wiring.name} alone"
    if all(isinstance(part, Single) for part in wiring.parts):
        names = [number_word(len(wiring.parts))] if by_count else list(wiring.names)
        return f"{listed(names)} {_joint(wiring)}"
    return _joined(wiring, by_count)


def _joint(wiring: Series | Parallel) -> str:
    return "in series" if isinstance(wiring, Series) else "in parallel"


def _joined(wiring: Series | Parallel, by_count: bool) -> str:
    """Return the parts of a joint with plus signs between, those that are joints themselves in brackets and first."""
    singles = [part.name for part in wiring.parts if isinstance(part, Single)]
    groups = [f"({_joined(part, by_count)})" for part in wiring.parts if isinstance(part, (Series, Parallel))]
    ones = [number_word(len(singles))] if by_count and singles else singles
    return f"{' + '.join([*groups, *ones])}{',' if groups else ''} {_joint(wiring)}"
