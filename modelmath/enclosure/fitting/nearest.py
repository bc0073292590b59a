"""Which run of neighbouring stretches comes nearest to what is asked of it, and how a shortage is told."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from modelmath.enclosure.cavity import Bay
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number

STEPS = 100  # to the mm: a message shows hundredths
ROUNDING = Fraction(1, 10**6)


@dataclass(frozen=True)
class Miss:
    """By how much something misses, and why.

    Attributes
    ----------
    short_mm : Fraction or float
        How much is lacking; 0 where nothing is left. [mm]
    cause : str
        The reading or obstacle behind it, in words. [-]
    remedy : str
        What to try. [-]
    """

    short_mm: Number
    cause: str
    remedy: str

    def error(self, what: str) -> DoesNotFit:
        """Return the error that tells it, its amount rounded up to a hundredth of a mm, so that it is enough.

        Parameters
        ----------
        what : str
            What does not fit. [-]

        Returns
        -------
        DoesNotFit
            The error. [-]

        References
        ----------
        None needed.
        """
        return DoesNotFit(what, float(enough(self.short_mm)), self.cause, self.remedy)


def said(value: Number, per_mm: int = 1) -> str:
    """Return a length as a message says it.

    Parameters
    ----------
    value : Fraction or float
        The length. [mm, or a small unit]
    per_mm : int
        How many of its unit make a mm. [1/mm]

    Returns
    -------
    str
        With its unit. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> said(250, 100)
    '2.50 mm'
    """
    return f"{float(in_mm(value, per_mm)):.2f} mm"


def left(value: Number, per_mm: int = 1) -> str:
    """Return what is left of a length as a message says it: rounded down, so that what is to fit there does.

    Parameters
    ----------
    value : Fraction or float
        The length. [mm, or a small unit]
    per_mm : int
        How many of its unit make a mm. [1/mm]

    Returns
    -------
    str
        With its unit. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> left(Fraction(139936, 1000))
    '139.93 mm'
    """
    return said(Fraction(floor(Fraction(in_mm(value, per_mm)) * STEPS + ROUNDING), STEPS))


def enough(short_mm: Number) -> Number:
    """Return a shortage rounded up to what a message shows of it.

    Parameters
    ----------
    short_mm : Fraction or float
        How much is lacking. [mm]

    Returns
    -------
    Fraction or float
        In whole hundredths of a mm; the same where it is less than one, or a float's rounding from a whole one. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> float(enough(Fraction(1, 3)))
    0.34
    """
    if short_mm < Fraction(1, STEPS):
        return short_mm
    return Fraction(ceil(Fraction(short_mm) * STEPS - ROUNDING), STEPS)


def in_mm(value: Number, per_mm: int) -> Number:
    """Return a length in mm, exactly.

    Parameters
    ----------
    value : Fraction or float
        The length. [mm, or a small unit]
    per_mm : int
        How many of its unit make a mm. [1/mm]

    Returns
    -------
    Fraction or float
        The same. [mm]

    References
    ----------
    Arithmetic.
    """
    return value if per_mm == 1 else Fraction(value) / per_mm


def along_words(run: Sequence[Bay]) -> str:
    """Say over which zones a run of bays lies.

    Parameters
    ----------
    run : sequence of Bay
        Front to rear. [-]

    Returns
    -------
    str
        Such as ``from cab to motor``. [-]

    References
    ----------
    None needed.
    """
    front, rear = run[0].zone.name, run[-1].zone.name
    return f"over {front}" if front == rear else f"from {front} to {rear}"


def nearest_run(
    starts: Sequence[Number], ends: Sequence[Number], along: Number, lacks: Callable[[slice], Iterable[Number]]
) -> tuple[list[Number], slice]:
    """Return the run of neighbours where most is lacking least; of two such, the longer, then the first.

    Parameters
    ----------
    starts, ends : sequence of Fraction or float
        Of each stretch, front to rear. [mm]
    along : Fraction or float
        The length asked for. [mm]
    lacks : function
        Returns what else lacks in a run. It is looked at only where the length alone doesn't lack more than anything in
        a run found before. [mm]

    Returns
    -------
    tuple of (list of Fraction or float, slice)
        What lacks there, most first, and the run. [mm]

    References
    ----------
    All runs are looked at.
    """
    count, nearest, found = len(ends), None, slice(0, len(ends))
    for size in range(count, 0, -1):
        for first in range(count - size + 1):
            short = along - (ends[first + size - 1] - starts[first])
            if nearest is not None and short > nearest[0]:
                continue
            run = slice(first, first + size)
            misses = sorted((max(each, 0) for each in (short, *lacks(run))), reverse=True)
            if nearest is None or misses < nearest:
                nearest, found = misses, run
    assert nearest is not None
    return nearest, found
