"""Responses of many chambers at many frequencies, beside the bare numpy expression of the same formula.

Times are of the processor alone, taken in turn, so that a busy moment weighs on both.
"""

from __future__ import annotations

from time import process_time

import numpy as np
import pytest
from benchmarks.beside import beside

from modelmath.sound.closed_box.response import response
from modelmath.sound.closed_box.wanted import responses_db
from modelmath.sound.driver.driver import Driver

POINTS, VOLUMES = 1000, 1000
MOST = 2.0  # times the bare expression
ROUNDS = 15
SPEAKER = Driver("sample", fs_hz=450, qes=0.9, qms=4.0, vas_mm3=3000, sd_mm2=100, re_ohm=7)
FREQUENCIES = np.geomspace(50, 20_000, POINTS)
VOLUMES_MM3 = np.linspace(500, 20_000, VOLUMES)


def bare():
    """Return the complex response, written as the formula stands in print."""
    alpha = 3000 / VOLUMES_MM3[:, None]
    s = 1j * FREQUENCIES / (450 * np.sqrt(1 + alpha))
    return s**2 / (s**2 + s / (0.9 * 4.0 / 4.9 * np.sqrt(1 + alpha)) + 1)


def bare_db():
    """Return its level, by the size of the same expression in real numbers, which is the quicker way."""
    alpha = 3000 / VOLUMES_MM3[:, None]
    x = (FREQUENCIES / (450 * np.sqrt(1 + alpha))) ** 2
    q = 0.9 * 4.0 / 4.9 * np.sqrt(1 + alpha)
    return 10 * np.log10(x**2 / ((1 - x) ** 2 + x / q**2))


def ours():
    alpha = 3000 / VOLUMES_MM3[:, None]
    return response(FREQUENCIES, 450 * np.sqrt(1 + alpha), 0.9 * 4.0 / 4.9 * np.sqrt(1 + alpha))


def ours_db():
    return responses_db(SPEAKER, FREQUENCIES, VOLUMES_MM3)


def seconds(act) -> float:
    begun = process_time()
    act()
    return process_time() - begun


@pytest.mark.parametrize(("act", "baseline"), [(ours, bare), (ours_db, bare_db)], ids=["complex", "level"])
@pytest.mark.benchmark(timer=process_time)
def test_a_thousand_responses_beside_bare_numpy(benchmark, act, baseline):
    assert act() == pytest.approx(baseline(), rel=1e-9, abs=1e-9)
    benchmark.pedantic(act, rounds=ROUNDS, warmup_rounds=2)
    rounds = [(seconds(act), seconds(baseline)) for _ in range(ROUNDS)]
    mine, theirs = (min(times) for times in zip(*rounds, strict=True))
    job = f"{VOLUMES:,} chambers at {POINTS:,} frequencies, {'complex' if act is ours else 'level'}"
    beside(benchmark, job, mine, "the bare numpy expression", theirs, most=MOST)
    print(
        f"\n{VOLUMES} chambers at {POINTS} frequencies: {1000 * mine:.1f} ms, bare numpy {1000 * theirs:.1f} ms,"
        f" {mine / theirs:.2f} times",
        end="",
    )
    assert mine / theirs <= MOST
