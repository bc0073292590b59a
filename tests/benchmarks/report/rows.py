"""What pytest-benchmark wrote of a run, as rows: ratios to baselines, growths with size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

UNITS = ((1.0, "s"), (1e-3, "ms"), (1e-6, "µs"))


class Bare(Exception):
    """Some benchmarks say no baseline: a time alone tells nothing on another machine."""

    def __init__(self, names: Sequence[str]) -> None:
        super().__init__(names)
        self.names = names

    def __str__(self) -> str:
        return f"name a baseline with `beside` or `grown` in {', '.join(self.names)}"


@dataclass(frozen=True)
class Beside:
    """A time beside its baseline's."""

    group: str
    job: str
    seconds: float
    baseline: str
    baseline_s: float
    ratio: float
    most: float | None
    least: float | None
    within_s: float | None
    readme: bool

    @property
    def bar(self) -> str:
        """The bar in words."""
        if self.most is not None:
            return f"at most {self.most:g} times as long"
        if self.least is not None:
            return f"{self.least:g} times quicker"
        return "" if self.within_s is None else f"at most {in_time(self.within_s)}"

    @property
    def met(self) -> bool:
        """Whether the bar is met; where there is none, it is."""
        if self.most is not None:
            return self.ratio <= self.most
        if self.least is not None:
            return 1 / self.ratio >= self.least
        return self.within_s is None or self.seconds <= self.within_s

    @property
    def result(self) -> str:
        """The ratio in words: how many times as long, or how many times quicker."""
        if 1 / 1.05 < self.ratio < 1.05:
            return "the same"
        longer = self.ratio > 1
        return f"{in_digits(self.ratio)} times as long" if longer else f"{in_digits(1 / self.ratio)} times quicker"


@dataclass(frozen=True)
class Growth:
    """Times by size, and the exponent fitted to them."""

    group: str
    job: str
    unit: str
    sizes: tuple[int, ...]
    seconds: tuple[float, ...]
    exponent: float
    most: float
    readme: bool

    @property
    def bar(self) -> str:
        """The bar in words."""
        return f"exponent at most {self.most:g}"

    @property
    def met(self) -> bool:
        """Whether the bar is met."""
        return self.exponent <= self.most

    @property
    def result(self) -> str:
        """The exponent in words."""
        return f"time as {self.unit} to the {self.exponent:.2f}"


@dataclass(frozen=True)
class Run:
    """One run of the benchmarks.

    Attributes
    ----------
    beside, growth : tuple of rows
        What was measured. [-]
    bare : tuple of str
        Benchmarks that said no baseline. [-]
    machine : str
        Processor, cores, Python and system. [-]
    day : str
        When, as YYYY-MM-DD. [-]
    """

    beside: tuple[Beside, ...]
    growth: tuple[Growth, ...]
    bare: tuple[str, ...]
    machine: str
    day: str

    @property
    def missed(self) -> list[Beside | Growth]:
        """The rows that missed their bars."""
        return [row for row in (*self.beside, *self.growth) if not row.met]


def read_run(written: dict[str, Any]) -> Run:
    """Return a run from what pytest-benchmark wrote."""
    beside, growth, bare = [], [], []
    for each in written["benchmarks"]:
        said, group = each["extra_info"], group_of(each["fullname"])
        beside += [Beside(group, **row) for row in said.get("beside", ())]
        growth += [
            Growth(group, **{**row, "sizes": tuple(row["sizes"]), "seconds": tuple(row["seconds"])})
            for row in said.get("growth", ())
        ]
        bare += [] if "beside" in said or "growth" in said else [each["name"]]
    info = written["machine_info"]
    machine = (
        f"{info['machine'] or 'unknown'} processor, {info['cpu']['count']} cores, "
        f"Python {info['python_version']}, {info['system']} {info['release'].split('-')[0]}"
    )
    return Run(tuple(beside), tuple(growth), tuple(bare), machine, written["datetime"][:10])


def group_of(fullname: str) -> str:
    """Return what a benchmark is about, by its file's name."""
    return fullname.partition("::")[0].rpartition("/")[2].removeprefix("test_").removesuffix("_benchmark.py")


def in_time(seconds: float) -> str:
    """Return a time in the unit that suits it."""
    size, unit = next(((size, unit) for size, unit in UNITS if seconds >= size), UNITS[-1])
    return f"{in_digits(seconds / size)} {unit}"


def in_digits(value: float) -> str:
    """Return a number to two digits or all its whole ones."""
    return f"{value:,.0f}" if value >= 9.95 else f"{value:.2g}" if value < 1 else f"{value:.1f}"
