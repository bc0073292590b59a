"""Which tests are run on a mutant, in which order and for how long.

First the doctests of its module and the quick tests that mirror it and run its line; then all others of its package
that run it; then what mirrors it, whatever it runs; last the tests of the job that run it. The quickest come first.
All of it ends once a mutant has had its share of processor time.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from mutation.child import ROOT, Asked
from mutation.forks import run_one
from mutation.mutants import Mutant

OF_EVERY_MODULE = "tests/test_frozen.py"  # what it sees are definitions
QUICK = 0.5  # [s]; tests that take longer wait for those that don't
UNKNOWN = 0.1  # [s]; what a test counts as that nobody has timed
SLACK = 5.0  # a run may take so many times what its tests usually take,
EXTRA = 5.0  # and so many seconds more, before it counts as one that hangs;
EXTRA_UNKNOWN = 5.0  # for each test or file that nobody has timed so many again


@dataclass
class Known:
    """What is known of a package's tests: how long each takes, which lines it runs."""

    package: str
    seconds: dict[str, float] = field(default_factory=dict)
    lines: dict[str, dict[str, list[int]]] = field(default_factory=dict)
    marks: dict[str, str] = field(default_factory=dict)

    @classmethod
    def read(cls, package: str, folder: Path) -> Known:
        """Read what was kept, or nothing."""
        kept: dict[str, Any] = {}
        for name in ("seconds", "lines"):
            file = folder / f"{name}-{package}.json"
            if file.is_file():
                kept |= json.loads(file.read_text("utf-8"))
        for what in ("seconds", "lines"):
            kept[what] = {
                name: each for name, each in kept.get(what, {}).items() if (ROOT / name.split("::")[0]).is_file()
            }
        return cls(package, **kept)

    def learn(self, seconds: dict[str, float]) -> None:
        """Take note of how long tests took that nobody has timed, or that were taken to last longer."""
        for name, taken in seconds.items():
            self.seconds[name] = min(taken, self.seconds.get(name, taken))

    def keep_seconds(self, folder: Path) -> None:
        """Keep what is known of the times."""
        (folder / f"seconds-{self.package}.json").write_text(json.dumps({"seconds": self.seconds}), "utf-8")

    def by_file(self, path: str) -> dict[str, set[int]]:
        """Return the tests that run lines of a file, with these lines."""
        return self._by_file.get(path, {})

    @cached_property
    def _by_file(self) -> dict[str, dict[str, set[int]]]:
        found: dict[str, dict[str, set[int]]] = {}
        names: dict[str, list[str]] = {}
        for name in self.seconds.keys() | self.lines.keys():
            names.setdefault(name.split("::")[0], []).append(name)
        for name, files in self.lines.items():
            # What a module's wider fixtures run counts for each of its tests.
            tests = names[name.split("::")[0]] if name.endswith("::") else [name]
            for path, lines in files.items():
                for test in tests:
                    if not test.endswith("::"):
                        found.setdefault(path, {}).setdefault(test, set()).update(lines)
        return found

    def usual(self, test: str) -> float:
        """Return how long a test takes, or all those of a file."""
        if "::" not in test:
            return sum(seconds for name, seconds in self.seconds.items() if name.startswith(f"{test}::")) or UNKNOWN
        return self.seconds.get(test, UNKNOWN)


def mark(path: str) -> str:
    """Return what tells whether a file is still the one that was measured."""
    return hashlib.sha256((ROOT / path).read_bytes()).hexdigest()[:16]


def time_tests(package: str, folder: Path, each: float = 0.0) -> list[str]:
    """Run a package's tests and doctests as they are and keep their times; return what failed.

    With a limit for each, a test is left off there and taken to last five times as long, until it is known better.
    """
    files = [f"tests/{package}", *([] if package == "job" else [f"modelmath/{package}"])]
    ended = run_one(Asked(files, first_failure_ends=False, each=each))
    if ended.ran is None or ended.ran.code not in (0, 1):
        raise RuntimeError(f"{package}: the tests did not run: {ended.said[-2000:]}")
    seconds = ended.ran.seconds | dict.fromkeys(ended.ran.too_long, 5 * each)
    Known(package, seconds).keep_seconds(folder)
    return ended.ran.failed


def measure_lines(package: str, folder: Path) -> None:
    """Find which lines each of a package's tests runs, and keep that."""
    ended = run_one(Asked([f"tests/{package}"], first_failure_ends=False, lines=True))
    marks = {path: mark(path) for path in sorted({path for files in ended.lines.values() for path in files})}
    (folder / f"lines-{package}.json").write_text(json.dumps({"lines": ended.lines, "marks": marks}), "utf-8")


def mirrored(mutant: Mutant) -> list[str]:
    """Return the test files that mirror a mutant's module, the one of its own name first."""
    module = Path(mutant.path)
    top = ROOT / "tests" / module.parts[1]
    folder = ROOT / "tests" / module.parent.relative_to("modelmath")
    while not folder.is_dir():
        folder = folder.parent
    own = sorted(top.rglob(f"test_{module.stem}.py"), key=lambda file: file.parent != folder)
    near = sorted(folder.glob("test_*.py"))
    if not near:
        near = sorted(folder.rglob("test_*.py"))
    return [file.relative_to(ROOT).as_posix() for file in dict.fromkeys([*own, *near])]


@dataclass(frozen=True)
class Stage:
    """Tests of one run, and how long they usually take."""

    tests: tuple[str, ...]
    seconds: float
    untimed: int = 0

    @property
    def files(self) -> list[str]:
        return list(dict.fromkeys(name.split("::")[0] for name in self.tests))

    @property
    def limit(self) -> float:
        """Processor time after which the run counts as one that hangs. [s]"""
        return SLACK * self.seconds + EXTRA + EXTRA_UNKNOWN * self.untimed


def stages(mutant: Mutant, own: Known, job: Known | None, cap: float) -> Iterator[Stage]:
    """Yield what is run on a mutant, stage by stage, while it survives."""
    done: set[str] = set()
    left = cap
    for tests, known in _groups(mutant, own, job):
        chosen = []
        seconds = 0.0
        for test in tests:
            usual = known.usual(test)
            if test not in done and usual <= left:
                done.add(test)
                chosen.append(test)
                seconds += usual
                left -= usual
        if chosen:
            yield Stage(tuple(chosen), seconds, sum(test not in known.seconds for test in chosen))


def _groups(mutant: Mutant, own: Known, job: Known | None) -> Iterator[tuple[list[str], Known]]:
    """Yield tests in the order in which they are to be run."""
    near = mirrored(mutant)
    covering = _in_order(_covering(mutant, own), near, own)
    measured = {name.split("::")[0] for name in own.lines}
    # Files that nobody has measured may hold a test of the line, and so may new tests of those that are measured.
    unmeasured = [file for file in near if file not in measured]
    timed = {name.split("::")[0] for name in own.seconds}
    unknown = [file for file in unmeasured if file not in timed]
    unknown += [name for name in own.seconds if name.split("::")[0] in unmeasured]
    first = [test for test in covering if test.split("::")[0] in near]
    everywhere = [OF_EVERY_MODULE] if mutant.at_import else []
    yield [mutant.path, *_new_tests(near, own), *_quick(first, own), *_quick(unknown, own), *everywhere], own
    yield _quick(covering, own), own
    yield covering, own
    yield [*unknown, *_in_order((name for name in own.seconds if name.split("::")[0] in near), near, own)], own
    if not own.lines:
        yield _in_order((name for name in own.seconds if name.startswith("tests/")), near, own), own
    if job is not None:
        others = _in_order(_covering(mutant, job), [], job)
        yield _quick(others, job), job
        yield others, job


def _quick(tests: list[str], known: Known) -> list[str]:
    return [test for test in tests if known.usual(test) <= QUICK]


def _new_tests(near: list[str], own: Known) -> list[str]:
    """Return the tests of mirrored files that are newer than what is known."""
    import ast

    found = []
    for file in near:
        names = {name for name in own.seconds if name.startswith(f"{file}::")}
        if names:
            tree = ast.parse((ROOT / file).read_text("utf-8"))
            tests = [f"{file}::{part.name}" for part in tree.body if isinstance(part, ast.FunctionDef)]
            found += [name for name in tests if name.split("::")[1].startswith("test") and name not in names]
    return found


def _covering(mutant: Mutant, known: Known) -> list[str]:
    by_test = known.by_file(mutant.path)
    anywhere = mutant.at_import or known.marks.get(mutant.path, "") not in ("", mark(mutant.path))
    return [test for test, lines in by_test.items() if anywhere or lines & mutant.span]


def _in_order(tests: Iterable[str], near: list[str], known: Known) -> list[str]:
    """Return tests file by file: those that mirror the module first, then the files with the quickest tests."""
    listed = list(tests)
    quickest: dict[str, float] = {}
    for test in listed:
        file = test.split("::", maxsplit=1)[0]
        quickest[file] = min(quickest.get(file, known.usual(test)), known.usual(test))
    place = {file: at for at, file in enumerate(near)}

    def key(test: str) -> tuple[object, ...]:
        file = test.split("::", maxsplit=1)[0]
        return place.get(file, len(near)), quickest[file], file, known.usual(test), test

    return sorted(listed, key=key)
