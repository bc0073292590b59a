"""The table of formulas and their outside checks in DEVELOPERS.md: made, looked over, and held against a trace.

    python tests/formulas/table.py            what lacks, as lines; fails if anything does
    python tests/formulas/table.py --write    the table in DEVELOPERS.md anew
    python tests/formulas/table.py --trace    runs the tests named and looks whether each reaches its formulas

checks.toml names the tests. What a formula is held against must stand in the test's module word for word, up to a
colon and a space; what follows these says more.
"""

from __future__ import annotations

import ast
import json
import re
import subprocess
import sys
import tempfile
import tomllib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from formulas.finding import ROOT, Formula, formulas, public, references, sources

CHECKS = Path(__file__).parent / "checks.toml"
DEVELOPERS = ROOT / "DEVELOPERS.md"
BEGIN, END = "<!-- formulas: begin -->", "<!-- formulas: end -->"
OWN_TESTS = ROOT / "tests"
IMPORT = re.compile(r"^\s*import ([\w.]+)", re.MULTILINE)
FROM_IMPORT = re.compile(r"^\s*from ([\w.]+) import (\([^)]*\)|[^\n]*)", re.MULTILINE)
LATE = re.compile(r'"([a-z_]+(?:\.[a-z_]+)*)"')  # the home of a name that loads when it is first used
TraceOf = Mapping[str, Mapping[str, Iterable[int]]]


@dataclass(frozen=True)
class Check:
    """A test, what it holds formulas against, and which."""

    test: str
    against: tuple[str, ...]
    formulas: tuple[str, ...]

    @property
    def file(self) -> str:
        return self.test.split("::")[0]

    @property
    def path(self) -> Path:
        return OWN_TESTS / self.file


@cache
def checks() -> tuple[Check, ...]:
    listed = tomllib.loads(CHECKS.read_text("utf-8"))["check"]
    return tuple(Check(each["test"], tuple(each["against"]), tuple(each["formulas"])) for each in listed)


# --- What lacks ------------------------------------------------------------------------------------------------


def unlisted_sources() -> Iterator[str]:
    """Yield what the References of public functions name that sources.toml doesn't know."""
    for each in public():
        named = references(each.node)
        if named and not sources().knows(named):
            yield f"{each.name} names a source that sources.toml doesn't list: {named}"


def unchecked(known: Mapping[str, Formula], listed: Iterable[Check]) -> Iterator[str]:
    checked = {name for check in listed for name in check.formulas}
    for name in sorted(known.keys() - checked):
        yield f"{name} ({', '.join(known[name].sources)}) has no outside check: write one and enter it in checks.toml"
    for name in sorted(checked - known.keys()):
        yield f"{name} stands in checks.toml and is no formula"


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def tests_lacking(listed: Iterable[Check]) -> Iterator[str]:
    """Yield what of a check's own words isn't so: the test that it names, and what that names beside its number."""
    for check in listed:
        if not check.path.is_file():
            yield f"{check.test}: there is no such file"
            continue
        name = check.test.partition("::")[2]
        if name not in {node.name for node in tree(check.path).body if isinstance(node, ast.FunctionDef)}:
            yield f"{check.test}: there is no such test"
        text = " ".join(check.path.read_text("utf-8").split())
        for each in check.against:
            if each.split(": ")[0] not in text:
                yield f"{check.test}: its module doesn't name {each.split(': ')[0]!r}"
        if not check.against or not check.formulas:
            yield f"{check.test}: it must name what it is held against, and a formula"


@cache
def module_file(name: str) -> Path | None:
    """Return the file of one of our modules or test helpers by its dotted name."""
    for top in (ROOT, OWN_TESTS):
        bare = top.joinpath(*name.split("."))
        for path in (bare.with_suffix(".py"), bare / "__init__.py"):
            if path.is_file():
                return path
    return None


@cache
def imported(path: Path) -> frozenset[Path]:
    """Return our files that a file imports by itself; a package's late names too, which stand there as text."""
    text = path.read_text("utf-8")
    names = set(IMPORT.findall(text))
    for module, parts in FROM_IMPORT.findall(text):
        names.update((module, *(f"{module}.{part}" for part in re.findall(r"\w+", parts))))
    if path.name == "__init__.py":
        names.update(f"modelmath.{home}" for home in LATE.findall(text))
    return frozenset(found for name in names if (found := module_file(name)) is not None)


@cache
def reachable(path: Path) -> frozenset[Path]:
    """Return our files that are imported once a file is, one through another."""
    seen, waiting = {path}, [path]
    while waiting:
        new = imported(waiting.pop()) - seen
        seen |= new
        waiting += new
    return frozenset(seen)


def out_of_reach(known: Mapping[str, Formula], listed: Iterable[Check]) -> Iterator[str]:
    """Yield formulas whose module a test can't even import; whether it is run, the trace tells."""
    for check in listed:
        if check.path.is_file():
            for name in check.formulas:
                if name in known and ROOT / known[name].file not in reachable(check.path):
                    yield f"{check.test}: it doesn't import what {name} stands in"


def lacking() -> list[str]:
    """Return all that lacks, as lines."""
    known, listed = formulas(), checks()
    found = [*unlisted_sources(), *unchecked(known, listed), *tests_lacking(listed), *out_of_reach(known, listed)]
    if not found and not is_current():
        found.append("the table in DEVELOPERS.md is not current: python tests/formulas/table.py --write")
    return found


# --- The trace -------------------------------------------------------------------------------------------------


def trace() -> TraceOf:
    """Return the lines that each test named runs, by a run of its own under coverage."""
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.json"
        tests = sorted({f"tests/{check.test}" for check in checks()})
        script = Path(__file__).parent / "reached.py"
        ended = subprocess.run([sys.executable, str(script), str(report), *tests], cwd=ROOT, check=False)
        if ended.returncode:
            raise SystemExit(f"the tests named did not pass: pytest ended with {ended.returncode}")
        found: TraceOf = json.loads(report.read_text("utf-8"))
        return found


def not_reached(known: Mapping[str, Formula], listed: Iterable[Check], run: TraceOf) -> list[str]:
    """Return each check that names a formula of which its test, or what its module prepares, runs no line."""
    found = []
    for check in listed:
        seen: dict[str, set[int]] = defaultdict(set)
        for context in (f"tests/{check.test}", f"tests/{check.file}::"):
            for file, lines in run.get(context, {}).items():
                seen[file].update(lines)
        found += [f"{check.test} doesn't reach {n}" for n in check.formulas if not known[n].lines & seen[known[n].file]]
    return found


# --- The table -------------------------------------------------------------------------------------------------


def rows() -> list[str]:
    """Return a row for each set of formulas of one module that have sources and checks in common."""
    by_formula: dict[str, list[Check]] = defaultdict(list)
    for check in checks():
        for name in check.formulas:
            by_formula[name].append(check)
    together: dict[tuple[str, tuple[str, ...], tuple[Check, ...]], list[str]] = defaultdict(list)
    for name, formula in formulas().items():
        together[formula.file, formula.sources, tuple(by_formula[name])].append(formula.short)
    found = []
    for (file, named, held), names in together.items():
        against = dict.fromkeys(each.split(": ")[0] for check in held for each in check.against)
        package = file.split("/")[1] + "/"
        tests = dict.fromkeys(check.file.removesuffix(".py").removeprefix(package) for check in held)
        cells = (f"`{file.removeprefix('modelmath/')}`", names, named, against, tests)
        found.append(" | ".join(cell if isinstance(cell, str) else ", ".join(cell) for cell in cells))
    return [f"| {row} |" for row in found]


def table() -> str:
    """Return the section's text between its markers."""
    used = {key for formula in formulas().values() for key in formula.sources}
    listed = [f"- {key}: {text}" for key, text in sources().texts.items() if key in used]
    head = (
        f"{len(formulas())} formulas: public functions, methods and properties whose References name a law, a standard "
        "or a publication.\nEach is held against something outside the project, by tests in the folder of `tests/` of "
        "its package's name or in the\none named; which test it is, `tests/formulas/checks.toml` says. "
        "`python tests/formulas/table.py --write` writes this anew,\nand fails where a formula has no check; with "
        "`--trace` it runs the tests named and looks whether each reaches its formulas."
    )
    lines = ["| module | formula | source | held against | tests |", "| --- | --- | --- | --- | --- |", *rows()]
    return "\n\n".join([head, "\n".join(lines), "Sources:", "\n".join(listed)])


def parted(text: str) -> tuple[str, str, str]:
    """Return what stands before the table, the table, and what follows it."""
    before, begin, rest = text.partition(BEGIN)
    inside, end, after = rest.partition(END)
    if not begin or not end:
        raise SystemExit(f"DEVELOPERS.md has no {BEGIN} and {END}")
    return before, inside.strip("\n"), after


def is_current() -> bool:
    return parted(DEVELOPERS.read_text("utf-8"))[1] == table()


def write() -> None:
    before, _, after = parted(DEVELOPERS.read_text("utf-8"))
    DEVELOPERS.write_text(f"{before}{BEGIN}\n\n{table()}\n\n{END}{after}", "utf-8")


def main(*given: str) -> int:
    if "--write" in given:
        write()
    faults = lacking()
    if "--trace" in given:
        faults += not_reached(formulas(), checks(), trace())
    for fault in faults:
        print(fault)
    held = len({check.test for check in checks()})
    print(f"{len(formulas())} formulas, {held} tests hold them against something outside; {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
