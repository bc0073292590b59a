"""When a simulation counts as stable, against JCGM 101:2008, 7.9.4 worked out from the values themselves."""

from __future__ import annotations

from math import floor, log10, sqrt

import numpy as np
import pytest

from modelmath.clearance import Quantity, Simulated, simulate
from modelmath.clearance.simulation import _is_stable, simulate_until_stable


def guide(blocks, digits):
    """JCGM 101:2008, 7.9.2 (tolerance) and 7.9.4 steps d) to i); None where a rounding may decide."""
    u = np.std(np.concatenate(blocks), ddof=1)
    tolerance = 0.5 * 10.0 ** (floor(log10(u)) - (digits - 1))
    for result in (np.mean, lambda block: np.std(block, ddof=1), np.min, np.max):
        found = [result(block) for block in blocks]
        twice = 2 * np.std(found, ddof=1) / sqrt(len(found))
        if abs(twice / tolerance - 1) < 1e-9:
            return None
        if twice >= tolerance:
            return False
    return True


@pytest.mark.parametrize("digits", [1, 2, 3])
def test_blocks_are_stable_just_where_the_guide_says(digits):
    """Blocks of few values, so that one more or less in a divisor shows; the ends are least and largest here."""
    came = {True: 0, False: 0}
    random = np.random.default_rng(digits)
    for _ in range(300):
        number, count = int(random.integers(2, 6)), int(random.integers(2, 7))
        # Blocks alike but for a shift of each, of about the size that decides.
        shape = random.standard_normal(count)
        shifts = 10.0 ** random.uniform(-digits - 1.0, 1.5 - digits) * random.standard_normal(number)
        blocks = [10.0 ** random.uniform(-2, 3) * shape] * number
        blocks = [block + shift * np.std(block) for block, shift in zip(blocks, shifts, strict=True)]
        found = [(block.mean(), block.std(ddof=1), block.min(), block.max()) for block in blocks]
        expected = guide(blocks, digits)
        if expected is not None:
            assert _is_stable(found, count, digits) is expected
            came[expected] += 1
    assert min(came.values()) > 60


@pytest.mark.parametrize("spread", [0.9, 0.99, 1.01, 1.1])
def test_the_size_of_u_is_that_of_all_values_together(spread):
    """u a little below and above 1, which moves the tolerance tenfold: 0.05 of two digits, or 0.005 below 1."""
    block = np.array([-1.0, -0.5, 0.0, 0.5, 1.0])
    block *= spread / np.std(np.concatenate([block, block + 0.1]), ddof=1)
    blocks = [block, block + 0.1 * spread / 1.2]
    found = [(each.mean(), each.std(ddof=1), each.min(), each.max()) for each in blocks]
    for digits in (1, 2):
        assert _is_stable(found, block.size, digits) is guide(blocks, digits)


def test_what_never_scatters_is_stable_at_once():
    found = simulate_until_stable(lambda x: 0.0 * x, {"x": Quantity(5.0, 1.0)})
    assert (found.stable, found.u, found.trials) == (True, 0.0, 20_000)


def test_blocks_go_on_until_the_trials_allowed_are_used_up():
    """Four digits ask for far more than these trials; blocks of 10 000 (7.9.4 b) as many as go in."""
    for most, used in ((20_000, 20_000), (50_000, 50_000), (59_999, 50_000)):
        found = simulate_until_stable(lambda x: x, {"x": Quantity(5.0, 1.0)}, 4, most=most)
        assert (found.trials, found.stable) == (used, False)


def test_all_blocks_are_the_trials_of_one_simulation():
    """Drawn block by block they are what as many trials at once are."""
    found = simulate_until_stable(lambda x: x**2, {"x": Quantity(5.0, 1.0)}, 4, most=50_000)
    assert np.array_equal(found.values, simulate(lambda x: x**2, {"x": Quantity(5.0, 1.0)}, 50_000).values)
    assert isinstance(found, Simulated)
