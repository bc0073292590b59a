"""Long work in steps: it says what it does and how far it is, and may be left off between any two.

A function that works in steps is a generator. It keeps all it knows in itself, so that how it is cut into slices, and
what else runs in between, changes nothing in what it returns.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from typing import TypeAlias, TypeVar

T = TypeVar("T")


@dataclass(frozen=True)
class Progress:
    """What is about to be done, and how much is behind it.

    Attributes
    ----------
    doing : str
        What comes next, as people say it, such as ``Cutting from HO 6x10``. [-]
    share : float
        How much of the whole is done, 0 to 1. [-]
    """

    doing: str
    share: float = 0.0


InSteps: TypeAlias = Generator[Progress, None, T]


def at_once(steps: InSteps[T]) -> T:
    """Run all steps, and return what they come to.

    Parameters
    ----------
    steps : generator of Progress
        The work. [-]

    Returns
    -------
    object
        What the work returns. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> def twice(number):
    ...     yield Progress("Doubling")
    ...     return 2 * number
    >>> at_once(twice(4))
    8
    """
    while True:
        try:
            next(steps)
        except StopIteration as last:
            result: T = last.value
            return result


def part_of(steps: InSteps[T], start: float, end: float, what: str = "") -> InSteps[T]:
    """Run steps as a part of longer work.

    Parameters
    ----------
    steps : generator of Progress
        The part. [-]
    start, end : float
        How much of the whole is done where the part begins and ends, 0 to 1. [-]
    what : str
        Goes before what each step does. [-]

    Yields
    ------
    Progress
        Of the whole. [-]

    Returns
    -------
    object
        What the part returns. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> def halves():
    ...     yield Progress("one")
    ...     yield Progress("other", 0.5)
    >>> [(each.doing, each.share) for each in part_of(halves(), 0.5, 1.0)]
    [('one', 0.5), ('other', 0.75)]
    """
    while True:
        try:
            at = next(steps)
        except StopIteration as last:
            result: T = last.value
            return result
        yield Progress(f"{what}{at.doing}", start + (end - start) * at.share)
