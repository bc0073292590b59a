"""Speakers joined in series and in parallel, as a tree."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from modelmath.errors import OutOfRange


@dataclass(frozen=True)
class Single:
    """One speaker.

    Attributes
    ----------
    name : str
        Its name. [-]

    References
    ----------
    None needed.
    """

    name: str

    @property
    def names(self) -> tuple[str, ...]:
        """The speakers in it. [-]"""
        return (self.name,)


@dataclass(frozen=True)
class _Joined:
    """Two parts or more joined alike, in an order of no meaning: the same wiring compares equal however it is given."""

    parts: tuple[Wiring, ...]

    def __post_init__(self) -> None:
        flat: list[Wiring] = []
        for part in self.parts:
            flat.extend(part.parts if isinstance(part, (Series, Parallel)) and type(part) is type(self) else (part,))
        if len(flat) < 2:
            raise OutOfRange("a wiring's number of parts", str(len(flat)), "2 or more", "Use Single for one speaker.")
        object.__setattr__(self, "parts", tuple(sorted(flat, key=lambda part: (sorted(part.names), repr(part)))))
        names = sorted(self.names)
        for name, following in pairwise(names):
            if name == following:
                given, remedy = f"one with {name} twice", "Give each speaker a name of its own."
                raise OutOfRange("a wiring", given, "one with each speaker once", remedy)

    @property
    def names(self) -> tuple[str, ...]:
        """The speakers in it. [-]"""
        return tuple(name for part in self.parts for name in part.names)


class Series(_Joined):
    """Parts one behind the other: the same current runs through all.

    Attributes
    ----------
    parts : tuple of Single, Series and Parallel
        Two or more; a series inside is taken apart. [-]

    References
    ----------
    Kirchhoff's voltage law.

    Examples
    --------
    >>> in_series("rear", "front") == in_series("front", "rear")
    True
    """


class Parallel(_Joined):
    """Parts side by side: the same voltage lies across all.

    Attributes
    ----------
    parts : tuple of Single, Series and Parallel
        Two or more; a parallel inside is taken apart. [-]

    References
    ----------
    Kirchhoff's current law.
    """


Wiring = Single | Series | Parallel


def _leaf(part: Wiring | str) -> Wiring:
    return Single(part) if isinstance(part, str) else part


def in_series(*parts: Wiring | str) -> Series:
    """Return parts in series.

    Parameters
    ----------
    *parts : Wiring or str
        Wirings, or names of speakers. [-]

    Returns
    -------
    Series
        The wiring. [-]

    Raises
    ------
    OutOfRange
        If there are fewer than two, or a speaker comes twice.

    References
    ----------
    None needed.

    Examples
    --------
    >>> in_series("front", in_parallel("left", "right")).names
    ('front', 'left', 'right')
    """
    return Series(tuple(_leaf(part) for part in parts))


def in_parallel(*parts: Wiring | str) -> Parallel:
    """Return parts in parallel.

    Parameters
    ----------
    *parts : Wiring or str
        Wirings, or names of speakers. [-]

    Returns
    -------
    Parallel
        The wiring. [-]

    Raises
    ------
    OutOfRange
        If there are fewer than two, or a speaker comes twice.

    References
    ----------
    None needed.

    Examples
    --------
    >>> in_parallel("front", "rear").names
    ('front', 'rear')
    """
    return Parallel(tuple(_leaf(part) for part in parts))
