"""Monte Carlo simulation of results that are not sums: seeded, in blocks."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import ceil, floor, log10, sqrt
from typing import TYPE_CHECKING, Any

from modelmath.clearance.draws import BLOCK, Quantity, Streams, blocks, check_trials, quantity
from modelmath.clearance.simulated import Simulated
from modelmath.clearance.stack import Term
from modelmath.errors import OutOfRange, WrongKind

if TYPE_CHECKING:
    from modelmath.clearance.shapes import Array

    Model = Callable[..., Any]


def simulate(
    model: Model,
    inputs: Mapping[str, Quantity | Term],
    trials: int = 200_000,
    seed: int = 1,
    block: int = BLOCK,
) -> Simulated:
    """Return a result simulated from the distributions of its inputs.

    Only the result of each trial is kept: memory is 8 bytes a trial, and 8 bytes times the inputs for each trial of
    one block, beside what the model itself takes for a block.

    Parameters
    ----------
    model : callable
        Takes an array of each input by name and returns an array of results. [-]
    inputs : mapping of str to Quantity or Term
        The independent inputs. [their own units]
    trials : int
        How often to draw, 1000 to 50 million. [-]
    seed : int
        Start of the random numbers; the same one gives the same result. [-]
    block : int
        How many trials are held at once; changes nothing in the result. [-]

    Returns
    -------
    Simulated
        The results. [unit of the result]

    Raises
    ------
    OutOfRange
        If the trials, the seed or the block are outside their limits.
    WrongKind
        If the model does not return one number for each trial.

    References
    ----------
    JCGM 101:2008, clause 7.

    Examples
    --------
    >>> area = simulate(lambda w, h: w * h, {"w": Quantity(20.0, 0.1), "h": Quantity.within(9.9, 10.1)}, trials=20_000)
    >>> round(area.mean, 1), round(area.u, 1)
    (200.0, 1.5)
    """
    import numpy as np

    check_trials(trials, seed, block)
    values = np.empty(trials)
    results = _results(model, inputs, seed)
    next(results)
    for first, last in blocks(trials, block):
        values[first:last] = results.send(last - first)
    return Simulated(values, seed)


def _results(model: Model, inputs: Mapping[str, Quantity | Term], seed: int) -> Any:
    """Take counts, and yield as many further results for each."""
    import numpy as np

    names, quantities = list(inputs), [quantity(each) for each in inputs.values()]
    streams = Streams(quantities, seed)
    count = yield
    while True:
        drawn = {}
        for place, name in enumerate(names):
            drawn[name] = streams.draw(place, count)
            drawn[name] += quantities[place].value
        found = np.asarray(model(**drawn), dtype=float)
        if found.shape != (count,):
            given = f"an array of shape {found.shape} for {count} trials"
            raise WrongKind(
                "the model's result", given, "one number for each", "Compute it from the arrays it is given."
            )
        count = yield found


def simulate_sum(terms: Sequence[Term], trials: int, seed: int, block: int = BLOCK) -> Simulated:
    """Return a sum of independent terms as simulated.

    Parameters
    ----------
    terms : sequence of Term
        The terms. [mm]
    trials, seed, block : int
        As for `simulate`. [-]

    Returns
    -------
    Simulated
        The sums. [mm]

    Raises
    ------
    OutOfRange
        If the trials, the seed or the block are outside their limits.

    References
    ----------
    JCGM 101:2008, clause 7.

    Examples
    --------
    >>> round(simulate_sum([Term("a", 1.0, 0.1), Term("b", 2.0, 0.1)], 10_000, 1).mean, 2)
    3.0
    """
    import numpy as np

    check_trials(trials, seed, block)
    quantities = [quantity(each) for each in terms]
    streams = Streams(quantities, seed)
    values = np.full(trials, sum(each.value for each in quantities))
    uncertain = [place for place, each in enumerate(quantities) if each.u]
    for first, last in blocks(trials, block):
        for place in uncertain:
            values[first:last] += streams.draw(place, last - first)
    return Simulated(values, seed)


def simulate_until_stable(
    model: Model,
    inputs: Mapping[str, Quantity | Term],
    digits: int = 2,
    coverage: float = 0.95,
    seed: int = 1,
    most: int = 10_000_000,
) -> Simulated:
    """Return a simulated result with as many trials as its digits need.

    Blocks of trials are added until the mean, the standard uncertainty and both ends of the interval hold still to
    the wanted digits of the uncertainty.

    Parameters
    ----------
    model : callable
        Takes an array of each input by name and returns an array of results. [-]
    inputs : mapping of str to Quantity or Term
        The independent inputs. [their own units]
    digits : int
        Significant digits of the standard uncertainty that shall be right, 1 to 4. [-]
    coverage : float
        Share that the interval holds, between 0 and 1. [-]
    seed : int
        Start of the random numbers. [-]
    most : int
        Trials at which to give up, up to 50 million; the result then has ``stable`` False. [-]

    Returns
    -------
    Simulated
        With ``stable`` True, or False if the trials ran out first. [unit of the result]

    Raises
    ------
    OutOfRange
        If the digits, the coverage, the seed or the most trials are outside their limits.
    WrongKind
        If the model does not return one number for each trial.

    References
    ----------
    JCGM 101:2008, 7.9.2 (tolerance) and 7.9.4 (procedure).

    Examples
    --------
    >>> simulate_until_stable(lambda w: 2 * w, {"w": Quantity(20.0, 0.1)}, digits=1).stable
    True
    """
    import numpy as np

    check_trials(most, seed, BLOCK)
    if digits not in (1, 2, 3, 4):
        raise OutOfRange("the digits", f"{digits}", "1, 2, 3 or 4", "Write 2 for two digits of the uncertainty.")
    if not 0 < coverage < 1:
        raise OutOfRange("the coverage", f"{coverage}", "between 0 and 1", "Write 0.95 for 95 %.")
    count = min(max(ceil(100 / (1 - coverage)), 10_000), most // 2)
    kept: list[Array] = []
    found: list[tuple[float, ...]] = []
    results = _results(model, inputs, seed)
    next(results)
    while (len(kept) + 1) * count <= most:
        kept.append(np.concatenate([results.send(last - first) for first, last in blocks(count, BLOCK)]))
        one = Simulated(kept[-1], seed)
        found.append((one.mean, one.u, *one.interval(coverage)))
        if len(kept) > 1 and _is_stable(found, count, digits):
            return Simulated(np.concatenate(kept), seed, stable=True)
    return Simulated(np.concatenate(kept), seed, stable=False)


def _is_stable(found: list[tuple[float, ...]], count: int, digits: int) -> bool:
    """Say whether twice the standard error of each result, from block to block, is below the tolerance."""
    import numpy as np

    each = np.array(found)
    means, deviations, number = each[:, 0], each[:, 1], len(found)
    squares = (count - 1) * (deviations**2).sum() + count * ((means - means.mean()) ** 2).sum()
    u = sqrt(squares / (number * count - 1))  # of all the blocks' values together
    if not u:
        return True
    tolerance = 0.5 * 10.0 ** (floor(log10(u)) - digits + 1)
    return bool((2.0 * each.std(axis=0, ddof=1) / sqrt(number) < tolerance).all())
