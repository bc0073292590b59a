"""Random draws of uncertain quantities, each from a stream of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf, isfinite, isinf, pi
from typing import TYPE_CHECKING

from modelmath.clearance.stack import Term
from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.uncertain import LIMIT_PER_U, SHAPES, Shape

if TYPE_CHECKING:
    import numpy as np

    from modelmath.clearance.shapes import Array

BLOCK = 65_536
LEAST_TRIALS, MOST_TRIALS = 1_000, 50_000_000


@dataclass(frozen=True)
class Quantity:
    """An input of a model: its best value and how it is distributed about that.

    Attributes
    ----------
    value : float
        Best value. [its own unit]
    u : float
        Standard uncertainty, 0 or more; the scale of the t-distribution for repeats. [its own unit]
    shape : {"rectangular", "triangular", "arcsine", "normal", "repeats"}
        Distribution. [-]
    dof : float
        Degrees of freedom, for repeats only. [-]

    References
    ----------
    JCGM 101:2008, 6.4.

    Examples
    --------
    >>> Quantity.within(7950.0, 8050.0).value
    8000.0
    """

    value: float
    u: float = 0.0
    shape: Shape = "normal"
    dof: float = inf

    def __post_init__(self) -> None:
        if not isfinite(self.value):
            raise OutOfRange("the value", f"{self.value:g}", "a finite number", "Check the readings behind it.")
        if not 0 <= self.u < inf:
            raise OutOfRange("the uncertainty", f"{self.u:g}", "0 or more", "Write 0.05 for plus or minus 0.05.")
        if self.shape not in SHAPES:
            raise UnknownChoice("the shape", self.shape, SHAPES)
        if not self.dof >= 1:
            raise OutOfRange("the degrees of freedom", f"{self.dof:g}", "1 or more", "Read it twice or more.")

    @classmethod
    def within(cls, low: float, high: float, shape: Shape = "rectangular") -> Quantity:
        """Return a quantity that lies between two limits.

        Parameters
        ----------
        low, high : float
            The limits. [its own unit]
        shape : {"rectangular", "triangular", "arcsine"}
            Distribution between them. [-]

        Returns
        -------
        Quantity
            With its middle as best value. [its own unit]

        Raises
        ------
        UnknownChoice
            If the shape is not one with limits.
        OutOfRange
            If the lower limit is not the first.

        References
        ----------
        JCGM 100:2008, 4.3.7, 4.3.9; JCGM 101:2008, 6.4.6.

        Examples
        --------
        >>> round(Quantity.within(-0.3, 0.3).u, 4)
        0.1732
        """
        if shape in ("normal", "repeats") or shape not in SHAPES:
            raise UnknownChoice("the shape", shape, SHAPES[:3])
        if not low <= high:
            raise OutOfRange("the range", f"{low:g} to {high:g}", "the lower one first", "Write 1.10, 1.30.")
        return cls((low + high) / 2.0, (high - low) / 2.0 / LIMIT_PER_U[shape], shape)


def quantity(given: Quantity | Term) -> Quantity:
    """Return what describes an input, for a term of a stack too.

    Parameters
    ----------
    given : Quantity or Term
        The input. [its own unit]

    Returns
    -------
    Quantity
        The same. [its own unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> quantity(Term("depth", 4.0, 0.1, "normal"))
    Quantity(value=4.0, u=0.05, shape='normal', dof=inf)
    """
    if isinstance(given, Quantity):
        return given
    return Quantity(float(given.nominal_mm), float(given.u_mm), given.shape, given.dof)


def check_trials(trials: int, seed: int, block: int) -> None:
    """Refuse counts that make no sense, or that no memory would hold.

    Parameters
    ----------
    trials, seed, block : int
        How often to draw, start of the random numbers, and how many trials are held at once. [-]

    Raises
    ------
    OutOfRange
        If one is no whole number or outside its limits.

    References
    ----------
    JCGM 101:2008, 7.2.1, advises 10,000 times 1/(1 - p) trials, so 200,000 for an interval of 95 %; fewer give a
    rougher answer and are let pass, down to where the ends of such an interval stand on some 25 trials each.

    Examples
    --------
    >>> check_trials(10, 1, 65_536)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: trials is 10; it must be a whole number from 1,000 to 50,000,000. Write 100_000.
    """
    for name, given, low, high, write in (
        ("trials", trials, LEAST_TRIALS, MOST_TRIALS, "100_000"),
        ("seed", seed, 0, 2**63, "1"),
        ("block", block, 1, 10_000_000, "65_536"),
    ):
        if isinstance(given, bool) or not isinstance(given, int) or not low <= given <= high:
            raise OutOfRange(name, f"{given}", f"a whole number from {low:,} to {high:,}", f"Write {write}.")


class Streams:
    """Draws of several quantities in blocks; each has a stream of its own, so that blocks change no number drawn.

    Parameters
    ----------
    quantities : sequence of Quantity
        What to draw; the order matters, as each takes its stream by its place. [their own units]
    seed : int
        Start of the random numbers. [-]
    """

    def __init__(self, quantities: Sequence[Quantity], seed: int) -> None:
        from numpy.random import PCG64, Generator, SeedSequence

        self.quantities = tuple(quantities)
        seeds = SeedSequence(seed).spawn(len(self.quantities))
        self._streams = [Generator(PCG64(each)) for each in seeds]

    def draw(self, place: int, count: int) -> Array:
        """Return the next deviations of one quantity from its best value.

        Parameters
        ----------
        place : int
            Which quantity. [-]
        count : int
            How many. [-]

        Returns
        -------
        array
            Deviations. [its own unit]

        References
        ----------
        JCGM 101:2008, 6.4.2 to 6.4.9.
        """
        return _deviations(self._streams[place], self.quantities[place], count)


def _deviations(stream: np.random.Generator, given: Quantity, count: int) -> Array:
    import numpy as np

    if not given.u:
        return np.zeros(count)
    if given.shape in ("normal", "repeats"):
        plain = given.shape == "normal" or isinf(given.dof)
        drawn = stream.standard_normal(count) if plain else stream.standard_t(given.dof, count)
        drawn *= given.u
        return drawn
    width = given.u * LIMIT_PER_U[given.shape]
    if given.shape == "triangular":
        return stream.triangular(-width, 0.0, width, count)
    if given.shape == "rectangular":
        return stream.uniform(-width, width, count)
    return np.asarray(width * np.sin(stream.uniform(-pi / 2.0, pi / 2.0, count)))


def blocks(trials: int, block: int) -> Iterator[tuple[int, int]]:
    """Yield the first and last place of each block of trials.

    Parameters
    ----------
    trials, block : int
        How many there are, and how many at once. [-]

    Yields
    ------
    first, last : int
        Places, the last left out. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> list(blocks(5, 2))
    [(0, 2), (2, 4), (4, 5)]
    """
    for first in range(0, trials, block):
        yield first, min(first + block, trials)
