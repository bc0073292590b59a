"""How long a table of readings takes, end to end, beside pandas reading the same file and working nothing out."""

from __future__ import annotations

import random
import time

import pandas as pd
import pytest
from benchmarks.beside import beside, grown

from modelmath.lengths.rules import Rule
from modelmath.lengths.table import read_table

COUNT = 100_000
MOST = 4  # times `pandas.read_csv`
GROWTH = (1_000, 10_000, 100_000)
MOST_SLOPE = 1.2
MOST_GROWTH = 1.5  # times linear, from the second size to the third; the first is mostly what any table costs

RULES = [
    Rule(
        scale="HO", zero_offset="1", offset_uncertainty="0.1 mm", scale_error_uncertainty=0.001, length="90",
        name="scale rule",
    ),
    Rule(unit="mm", graduation="0.5", zero_offset="5", name="steel rule"),
    Rule(unit="mm", graduation="0.01", length="150", name="caliper", kind="caliper"),
    Rule(unit="in", graduation="1/64", length="6", name="inch rule"),
]  # fmt: skip


def made_up(count: int) -> str:
    """Return a table such as people keep; some rows are bad, and one reading in fifty has inch or foot marks."""
    chance = random.Random(11)
    quarter, sixty_fourth = ("", " 1/4", " 1/2", " 3/4"), tuple(f" {n}/64" for n in range(1, 64))
    lines = ["Feature,Reading,Rule,From,Note"]
    for index in range(count):
        which = chance.randrange(4)
        mark = (
            lambda: f"{chance.randrange(80)}{chance.choice(quarter)}",
            lambda: f"{chance.randrange(3000) / 10:.1f}",
            lambda: f"{chance.randrange(15_000) / 100:.2f} mm",
            lambda: f"{chance.randrange(6)}{chance.choice(sixty_fourth)}",
        )[which]()
        if which in (0, 3) and chance.random() < 0.04:
            signed = f"{chance.randrange(80)}' {chance.randrange(12)}" if which == 0 else mark
            mark = f'"{signed}"""'
        if chance.random() < 0.005:
            mark = chance.choice(("9 1//2", "about 5", "", "400 mm", "n/a"))
        rule = "sliding rule" if chance.random() < 0.001 else RULES[which].name
        datum, note = chance.choice(("end", "zero")), "read twice" if chance.random() < 0.05 else ""
        lines.append(f"shell {index // 40} place {index % 40},{mark},{rule},{datum},{note}")
    return "\n".join(lines)


def seconds(act) -> float:
    begun = time.process_time()
    act()
    return time.process_time() - begun


def in_turn(first, second, rounds: int = 4) -> tuple[float, float]:
    """Return the best time of each, taken in turn so that a busy moment weighs on both."""
    pairs = [(seconds(first), seconds(second)) for _ in range(rounds)]
    one, other = zip(*pairs, strict=True)
    return min(one), min(other)


@pytest.mark.parametrize("marking", [None, RULES[0]], ids=["lengths", "lengths and settings"])
def test_a_long_table_is_quick(benchmark, tmp_path, marking):
    file = tmp_path / "readings.csv"
    file.write_text(made_up(COUNT), "utf-8")

    def ours():
        return read_table(file, RULES, marking=marking, finest=None if marking is None else "1/4")

    table = ours()
    assert len(table.frame) + len(table.aside) == COUNT
    assert 300 < len(table.aside) < 1_500
    benchmark.pedantic(ours, rounds=1)
    mine, theirs = in_turn(ours, lambda: pd.read_csv(file))
    print(
        f"\n{COUNT:,} rows, {len(table.aside)} kept aside: {mine * 1e3:.0f} ms; pandas.read_csv {theirs * 1e3:.0f} ms;"
        f" {mine / theirs:.1f} times",
        end="",
    )
    job = f"{COUNT:,} readings from a file{'' if marking is None else ', and where to set the rule'}"
    beside(benchmark, job, mine, "pandas.read_csv, nothing worked out", theirs, most=MOST, readme=marking is None)
    assert mine / theirs <= MOST


def test_time_grows_with_the_rows(benchmark):
    texts = {count: made_up(count) for count in GROWTH}
    benchmark.pedantic(read_table, args=(texts[GROWTH[0]], RULES), rounds=3, warmup_rounds=1)
    took = {
        count: min(seconds(lambda text=text: read_table(text, RULES)) for _ in range(3))
        for count, text in texts.items()
    }
    for count, time_taken in took.items():
        print(f"\n{count:>7,} rows: {time_taken * 1e3:6.1f} ms, {time_taken / count * 1e6:.2f} us a row", end="")
    grown(benchmark, "a table of readings", "readings", took, MOST_SLOPE, readme=True)
    small, middle, large = (took[count] / count for count in GROWTH)
    assert large <= middle * MOST_GROWTH
    assert middle <= small
