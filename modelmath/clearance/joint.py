"""Draws of several results at once that share sources of uncertainty, so that what they have in common stays so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from modelmath.clearance.draws import BLOCK, Quantity, Streams, blocks, check_trials
from modelmath.errors import OutOfRange
from modelmath.lengths.uncertain import Cause

if TYPE_CHECKING:
    from modelmath.clearance.shapes import Array


def deviations_together(
    values: Sequence[Any], trials: int = 200_000, seed: int = 1, block: int = BLOCK
) -> Iterator[Array]:
    """Yield simultaneous deviations of several results from their best values, each shared source drawn once.

    Parameters
    ----------
    values : sequence of uncertain numbers or floats
        The results, linear in their sources as far as these reach. [mm]
    trials, seed, block : int
        How often to draw, start of the random numbers, and how many trials at once, which changes no number. [-]

    Yields
    ------
    array
        A row for each result and a column for each trial of a block. [mm]

    Raises
    ------
    OutOfRange
        If the trials, the seed or the block are outside their limits, or there are no values.

    References
    ----------
    JCGM 102:2011, clause 7 (several output quantities); each source as its cause says, JCGM 101:2008, 6.4.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import rectangular
    >>> shell = rectangular(0.0, 0.1, "seating")
    >>> left, right = next(deviations_together([5.0 + shell, 6.0 + shell], trials=1000))
    >>> bool((left == right).all())
    True
    """
    check_trials(trials, seed, block)
    if not values:
        raise OutOfRange("the number of values", "0", "1 or more", "Give at least one gap.")
    return _drawn(values, trials, seed, block)


def _drawn(values: Sequence[Any], trials: int, seed: int, block: int) -> Iterator[Array]:
    import numpy as np

    slopes = [getattr(value, "derivatives", {}) for value in values]
    sources = list(dict.fromkeys(source for each in slopes for source in each if source.std_dev))
    causes = [each.tag if isinstance(each.tag, Cause) else Cause(str(each.tag), "normal") for each in sources]
    quantities = [
        Quantity(0.0, float(source.std_dev), cause.shape, cause.dof)
        for source, cause in zip(sources, causes, strict=True)
    ]
    streams = Streams(quantities, seed)
    for first, last in blocks(trials, block):
        together = np.zeros((len(values), last - first))
        for place, source in enumerate(sources):
            drawn = streams.draw(place, last - first)
            for row, each in enumerate(slopes):
                if source in each:
                    together[row] += float(each[source]) * drawn
        yield together
