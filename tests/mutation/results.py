"""What came of each mutant, what explains a survivor, and both as a table."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from math import sqrt
from pathlib import Path

from mutation.mutants import Mutant

EXPLAINED = Path(__file__).with_name("explained.toml")
LEAST_SHARE = 0.9
KINDS = ("equivalent", "speed only", "shows only", "words only")
NORMAL_975 = 1.959964  # the normal distribution's 97.5 % point


@dataclass(frozen=True)
class Result:
    """What came of one mutant: killed, killed by timeout, or survived."""

    key: str
    path: str
    line: int
    old: str
    new: str
    outcome: str
    by: str
    tests: int
    seconds: float
    mark: str

    @classmethod
    def of(cls, mutant: Mutant, outcome: str, by: str, tests: int, seconds: float, mark: str) -> Result:
        """Return the result of a mutant."""
        return cls(mutant.key, mutant.path, mutant.line, *mutant.lines(), outcome, by, tests, round(seconds, 2), mark)

    def written(self) -> str:
        """Return a line of JSON."""
        return json.dumps(asdict(self), ensure_ascii=False)

    @property
    def package(self) -> str:
        return self.path.split("/")[1]


def read_results(file: Path) -> list[Result]:
    """Read results that were kept; of two of one mutant the later counts."""
    if not file.is_file():
        return []
    found = (Result(**json.loads(line)) for line in file.read_text("utf-8").splitlines() if line)
    return list({each.key: each for each in found}.values())


@dataclass(frozen=True)
class Explanation:
    """Why a change of a line shows in no test."""

    path: str
    was: str
    becomes: tuple[str, ...]
    reason: str

    def fits(self, result: Result) -> bool:
        """Return whether it explains a survivor."""
        return self.path in ("*", result.path) and self.was == result.old and result.new in self.becomes


def read_explanations(file: Path = EXPLAINED) -> list[Explanation]:
    """Read the table of explanations.

    Raises
    ------
    ValueError
        If a reason does not begin with what kind of reason it is.
    """
    found = []
    for row in tomllib.loads(file.read_text("utf-8")).get("explained", []):
        becomes = row["becomes"]
        each = Explanation(
            row["path"], row["was"], (becomes,) if isinstance(becomes, str) else tuple(becomes), row["reason"]
        )
        if not each.reason.startswith(KINDS) or len(each.reason) < 20:
            raise ValueError(f"{each.path}, {each.was!r}: a reason begins with {', '.join(KINDS)} and says why")
        found.append(each)
    return found


def wilson(part: int, whole: int) -> tuple[float, float]:
    """Return the 95 % interval of a share.

    References
    ----------
    E. B. Wilson, Probable inference, the law of succession, and statistical inference, JASA 22 (1927), 209-212.
    """
    if not whole:
        return 0.0, 1.0
    share, z = part / whole, NORMAL_975**2 / whole
    middle = (share + z / 2) / (1 + z)
    half = sqrt(share * (1 - share) * z + z * z / 4) / (1 + z)
    return max(0.0, middle - half), min(1.0, middle + half)


@dataclass(frozen=True)
class Tally:
    """The results of one package, or of several."""

    name: str
    there_are: int
    results: Sequence[Result]
    explanations: Sequence[Explanation]

    def of(self, outcome: str) -> int:
        """Return how many came out so."""
        return sum(each.outcome == outcome for each in self.results)

    @property
    def killed(self) -> int:
        return self.of("killed") + self.of("timeout")

    @property
    def unexplained(self) -> list[Result]:
        survived = (each for each in self.results if each.outcome == "survived")
        return [each for each in survived if not any(why.fits(each) for why in self.explanations)]

    @property
    def good(self) -> bool:
        return not self.unexplained and self.killed >= LEAST_SHARE * len(self.results)

    def row(self) -> str:
        """Return a row of the table."""
        sampled, left = len(self.results), len(self.unexplained)
        low, high = wilson(self.killed, sampled)
        share = f"{100 * self.killed / sampled:.1f} % ({100 * low:.1f} to {100 * high:.1f})" if sampled else "-"
        explained = self.of("survived") - left
        timeout = self.of("timeout")
        cells = (self.name, self.there_are, sampled, self.killed, timeout, explained, left, share)
        return f"| {' | '.join(map(str, cells))} |"


HEAD = """\
| package | mutants there are | sampled | killed | of these by timeout | explained | unexplained | killed share (95 %) |
| --- | --- | --- | --- | --- | --- | --- | --- |"""


def table(tallies: Iterable[Tally]) -> str:
    """Return the table, with a row for all where there are several packages: each counts as often as it was drawn."""
    rows = list(tallies)
    lines = [HEAD, *(each.row() for each in rows)]
    if len(rows) > 1:
        every = [result for each in rows for result in each.results]
        lines.append(
            Tally("all drawn, unweighted", sum(each.there_are for each in rows), every, rows[0].explanations).row()
        )
    return "\n".join(lines)


def survivors(tallies: Iterable[Tally]) -> str:
    """Return the unexplained survivors: where, what was and what became, and the key to run them again."""
    lines = []
    for each in tallies:
        for result in sorted(each.unexplained, key=lambda found: (found.path, found.line)):
            lines += [
                f"{result.path}:{result.line}  ({result.tests} tests, {result.seconds:g} s)",
                *(f"  - {line}" for line in result.old.split("\n")),
                *(f"  + {line}" for line in result.new.split("\n")),
                f"  key {result.key}",
                "",
            ]
    return "\n".join(lines)
