"""Mutants on their way through the tests, and what came of them written down one by one."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TextIO

from mutation.child import Asked
from mutation.choice import Known, Stage, mark, stages
from mutation.forks import Ended, run_all, run_one
from mutation.mutants import Mutant
from mutation.results import Result, read_results


class Trial:
    """One mutant on its way through the tests."""

    def __init__(self, mutant: Mutant, known: Known, job: Known | None, cap: float, out: TextIO) -> None:
        self.mutant, self.known, self.out = mutant, known, out
        self.source, self.mark = mutant.source(), mark(mutant.path)
        self.stages = stages(mutant, known, job, cap)
        self.stage: Stage | None = None
        self.killed_in: Stage | None = None
        self.tests, self.seconds = 0, 0.0

    def next(self) -> Asked | None:
        """Return the next run, or write down that the mutant survived."""
        self.stage = next(self.stages, None)
        if self.stage is None:
            self._write("survived", "")
            return None
        limit = self.stage.limit
        return Asked(self.stage.files, self.stage.tests, self.mutant.module, self.source, seconds=limit)

    def ended(self, ended: Ended) -> Asked | None:
        """Take note of a run; return the next one, if the mutant survived that."""
        self.seconds += ended.seconds
        if ended.hung:
            self._write("timeout", "")
            return None
        if ended.ran is None and ended.signal:
            self._write("killed", f"signal {ended.signal}")
            return None
        if ended.ran is None or ended.ran.code not in (0, 1, 2, 5):
            raise RuntimeError(f"{self.mutant.key}: the run itself failed: {ended.said[-2000:]}")
        if ended.ran.code in (1, 2):
            self.killed_in = self.stage
            self._write("killed", ended.ran.failed[0] if ended.ran.failed else ended.said[-300:])
            return None
        self.tests += len(ended.ran.seconds)
        self.known.learn(ended.ran.seconds)
        return self.next()

    def _write(self, outcome: str, by: str) -> None:
        result = Result.of(self.mutant, outcome, by, self.tests, self.seconds, self.mark)
        self.out.write(result.written() + "\n")
        self.out.flush()


def run_mutants(
    mutants: Sequence[Mutant], known: Known, job: Known | None, file: Path, cap: float, processes: int, again: bool
) -> list[Trial]:
    """Run what is not in a file of results yet, or no longer holds; return the trials.

    A result holds while the mutant's module stays as it is. Whether tests were added since, it can't tell: `again`
    runs once more what survived.
    """
    before = {each.key: each for each in read_results(file)}
    trials: list[Trial] = []
    with file.open("a", encoding="utf-8") as out:

        def jobs() -> Iterator[tuple[Asked, Callable[[Ended], Asked | None]]]:
            for mutant in mutants:
                kept = before.get(mutant.key)
                if kept is None or kept.mark != mark(mutant.path) or (again and kept.outcome == "survived"):
                    trial = Trial(mutant, known, job, cap, out)
                    trials.append(trial)
                    first = trial.next()
                    if first is not None:
                        yield first, trial.ended

        run_all(jobs(), processes)
    return trials


def check_kills(trials: Sequence[Trial], number: int, seed: int) -> None:
    """Run some of the runs that killed once more, with nothing changed.

    Raises
    ------
    RuntimeError
        If one of them fails as it is: then it has killed nothing.
    """
    killed = [trial for trial in trials if trial.killed_in is not None]
    for trial in random.Random(seed).sample(killed, min(number, len(killed))):
        assert trial.killed_in is not None
        ended = run_one(Asked(trial.killed_in.files, trial.killed_in.tests))
        if ended.ran is None or ended.ran.code:
            raise RuntimeError(f"{trial.mutant.key}: what killed it fails with nothing changed: {ended.said[-2000:]}")
