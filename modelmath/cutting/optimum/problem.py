"""A cutting problem in whole numbers, and the ways to cut one strip of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from modelmath.cutting.kinds import OfKind


@dataclass(frozen=True)
class Row(OfKind):
    """Strips of one kind and one length.

    Attributes
    ----------
    length : int
        Length of each. [any unit]
    count : int
        How many there are; of what can be bought, as many as could ever be needed. [-]
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    sources : tuple of int
        The stock list's rows they are of, one for each strip; of what can be bought, the one row. [-]
    """

    length: int
    count: int
    kind: str
    sources: tuple[int, ...]


@dataclass(frozen=True)
class Pattern:
    """One way to cut a strip.

    Attributes
    ----------
    row : int
        Number of the row it is of. [-]
    pieces : tuple of (int, int)
        Number of a length, and how often it is cut; in the order of the lengths. [-]
    """

    row: int
    pieces: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Problem:
    """What is to be cut from what; all lengths are whole numbers of one unit.

    Attributes
    ----------
    lengths : tuple of int
        Each length once, longest first. [any unit]
    demand : tuple of int
        How many pieces of each. [-]
    rows : tuple of Row
        The strips. [same unit]
    kerf, trim, useful : int
        Saw cut; end trim of each strip; the shortest offcut worth keeping. [same unit]

    Examples
    --------
    >>> problem = Problem((60, 40), (1, 2), (Row(100, 3, "to buy", (0,)),), 0, 0, 15)
    >>> problem.left(Pattern(0, ((1, 2),))), problem.scrap(Pattern(0, ((1, 2),)))
    (20, 0)
    """

    lengths: tuple[int, ...]
    demand: tuple[int, ...]
    rows: tuple[Row, ...]
    kerf: int
    trim: int
    useful: int

    @cached_property
    def sizes(self) -> tuple[int, ...]:
        """Each length with its saw cut. [same unit]"""
        return tuple(length + self.kerf for length in self.lengths)

    @cached_property
    def capacities(self) -> tuple[int, ...]:
        """What each row's strips hold of such sizes; nothing is sawn after a piece that uses a strip up. [same unit]"""
        return tuple(row.length - self.trim + self.kerf for row in self.rows)

    @cached_property
    def pieces(self) -> int:
        """How many pieces there are in all. [-]"""
        return sum(self.demand)

    def cut_length(self, pattern: Pattern) -> int:
        """Return the length of a pattern's pieces together.

        Parameters
        ----------
        pattern : Pattern
            The pattern. [-]

        Returns
        -------
        int
            Length. [same unit]

        References
        ----------
        Arithmetic.
        """
        return sum(self.lengths[at] * count for at, count in pattern.pieces)

    def left(self, pattern: Pattern) -> int:
        """Return what is left of the strip behind the last saw cut.

        Parameters
        ----------
        pattern : Pattern
            The pattern. [-]

        Returns
        -------
        int
            Length, 0 or more. [same unit]

        References
        ----------
        Arithmetic.
        """
        cut = sum(self.sizes[at] * count for at, count in pattern.pieces)
        return max(0, self.rows[pattern.row].length - self.trim - cut)

    def scrap(self, pattern: Pattern) -> int:
        """Return all of the strip that is neither part nor an offcut worth keeping.

        Parameters
        ----------
        pattern : Pattern
            The pattern. [-]

        Returns
        -------
        int
            Length. [same unit]

        References
        ----------
        Arithmetic.
        """
        left = self.left(pattern)
        kept = left if left >= self.useful else 0
        return self.rows[pattern.row].length - self.cut_length(pattern) - kept


def pattern_of(row: int, counts: Sequence[int]) -> Pattern:
    """Return the pattern that cuts so many pieces of each length from a row's strip.

    Parameters
    ----------
    row : int
        Number of the row. [-]
    counts : sequence of int
        How often each length is cut. [-]

    Returns
    -------
    Pattern
        The pattern. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> pattern_of(0, [0, 2])
    Pattern(row=0, pieces=((1, 2),))
    """
    return Pattern(row, tuple((at, int(count)) for at, count in enumerate(counts) if count))
