"""How fast typed lengths are read, beside pint's own parser on the same texts."""

from __future__ import annotations

import random
import time
from fractions import Fraction

import pint
import pytest
from benchmarks.beside import beside

from modelmath import parse_length
from modelmath.lengths.parse import parse_length_exact

COUNT = 100_000
SAMPLE = 5_000  # pint reads this many; its time for all is that of the sample, scaled
RATIO = 10
PARTS = ("1/4", "1/2", "3/4", "5/8", "11/16", "7/32", "13/64")


def texts(count: int) -> list[str]:
    """Return made-up lengths as people write them, most of them different, alike from run to run."""
    chance = random.Random(3)

    def number(most: int) -> int:
        return chance.randrange(1, most)

    forms = (
        lambda: f"{number(99999) / 100} mm",
        lambda: f".{number(9999):04d} in",
        lambda: f"{number(9999) / 1000} inch",
        lambda: f"{number(9999) / 10} cm",
        lambda: f"{number(640)}/64 in",
        lambda: f"{number(999)} {chance.choice(PARTS)} in",
        lambda: f"{number(99)}' {number(12)} {chance.choice(PARTS)}\"",
        lambda: f"{number(9999)}{chance.choice('¼½¾⅛⅜⅝⅞')}",
        lambda: f"{number(999)} {chance.choice(PARTS)}",
        lambda: f"{number(999)},{number(100)} mm",
        lambda: f"{number(999)} {chance.choice(PARTS)} scale ft",
        lambda: f"{number(99999) / 10} millimeters",
    )
    return [chance.choice(forms)() for _ in range(count)]


def read_rightly(registry: pint.UnitRegistry[float], text: str) -> bool:
    """Whether pint's parser reads what is written: a length, as long as it is."""
    try:
        theirs = registry.Quantity(text).to("mm").magnitude
        exact = parse_length_exact(text)
    except Exception:  # what its parser raises is as wide as Python's own; a bare number has no unit for either
        return False
    return bool(theirs == pytest.approx(float(exact), rel=1e-9))


def test_parse_is_quicker_than_pint(benchmark):
    everything = texts(COUNT)
    assert len(set(everything)) > COUNT // 2
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    sample = [text for text in everything[:SAMPLE] if read_rightly(registry, text)]
    assert len(sample) > SAMPLE // 4

    def all_of(some: list[str], unit: str | None = None) -> float:
        return sum(parse_length(text, unit, "HO") for text in some)

    def seconds(act) -> float:
        begun = time.process_time()
        act()
        return time.process_time() - begun

    benchmark.pedantic(all_of, args=(everything, "scale foot"), rounds=3, warmup_rounds=1)
    rounds = [
        (seconds(lambda: [registry.Quantity(text) for text in sample]), seconds(lambda: all_of(sample)))
        for _ in range(3)
    ]
    theirs, ours = (min(times) / len(sample) for times in zip(*rounds, strict=True))
    each = benchmark.stats.stats.median / COUNT * 1e6
    print(
        f"\n{COUNT:,} texts, {each:.1f} us each; the {len(sample):,} of {SAMPLE:,} that pint reads rightly:"
        f" pint {theirs * 1e6:.0f} us, ours {ours * 1e6:.1f} us, {theirs / ours:.0f} times quicker",
        end="",
    )
    job = "one typed length read"
    beside(benchmark, job, ours, "pint's parser, texts it reads rightly", theirs, least=RATIO, readme=True)
    assert theirs / ours >= RATIO


def test_exact_is_the_same_length():
    for text in texts(2_000):
        exact = parse_length_exact(text, "scale foot", "HO")
        assert isinstance(exact, Fraction)
        assert parse_length(text, "scale foot", "HO") == float(exact)
