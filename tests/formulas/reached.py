"""Which lines of the calculation a test runs: pytest under coverage, each test in a context of its own.

Run as a script, since coverage starts before anything is collected:
``python tests/formulas/reached.py REPORT.json [what pytest is given]`` writes, for each test without its parameters,
the lines that it ran. What a module or its wider fixtures run before the tests counts for the module's tests alike.
"""

from __future__ import annotations

import functools
import gc
import importlib
import json
import os
import pkgutil
import sys
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = ("lengths", "quantities", "clearance", "light", "materials", "sound", "enclosure", "cutting", "job")
OF_PYTEST = ("-q", "-o", "addopts=", "--import-mode=importlib", "--benchmark-skip", "-p", "no:cacheprovider")
EXAMPLES = 5  # of a property; and so many sets of parameters of a test: all of them are run elsewhere
SETS = 3


def import_all() -> None:
    """Import every module of the calculation, so that no test is given what importing it runs."""
    for package in PACKAGES:
        top = importlib.import_module(f"modelmath.{package}")
        for found in pkgutil.walk_packages(top.__path__, prefix=f"{top.__name__}."):
            importlib.import_module(found.name)


def caches() -> list[functools._lru_cache_wrapper[object]]:
    """Return what keeps results of the calculation: a test that is handed a kept one doesn't reach the formula."""
    kept = (each for each in gc.get_objects() if isinstance(each, functools._lru_cache_wrapper))
    return [each for each in kept if (getattr(each, "__module__", None) or "").startswith("modelmath.")]


class ByTest:
    """Switches coverage's context with the tests."""

    def __init__(self, measured: coverage.Coverage) -> None:
        self.measured = measured
        self.now = ""
        self.caches = caches()

    def switch(self, context: str) -> str:
        before, self.now = self.now, context
        self.measured.switch_context(context)
        return before

    def pytest_sessionstart(self) -> None:
        from hypothesis import settings  # no sooner: pytest warns of a plugin that it didn't import itself

        settings.register_profile("few", deadline=None, max_examples=EXAMPLES)
        settings.load_profile("few")

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep a few sets of parameters of each test: the first, the last, and some between."""
        by_test: dict[str, list[pytest.Item]] = {}
        for item in items:
            by_test.setdefault(item.nodeid.split("[")[0], []).append(item)
        items[:] = [each[at * (len(each) - 1) // (SETS - 1)] for each in by_test.values() for at in range(SETS)]
        items[:] = dict.fromkeys(items)

    @pytest.hookimpl(wrapper=True)
    def pytest_make_collect_report(self, collector: pytest.Collector) -> Iterator[None]:
        before = self.switch(f"{collector.nodeid}::" if isinstance(collector, pytest.Module) else "")
        try:
            return (yield)
        finally:
            self.switch(before)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        for cache in self.caches:
            cache.cache_clear()
        before = self.switch(item.nodeid.split("[")[0])
        try:
            return (yield)
        finally:
            self.switch(before)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[object]) -> Iterator[None]:
        if fixturedef.scope == "function":
            return (yield)
        before = self.switch(self.now.split("::")[0] + "::")
        try:
            return (yield)
        finally:
            self.switch(before)


def lines_by_test(measured: coverage.CoverageData) -> dict[str, dict[str, list[int]]]:
    """Return the lines of each file by the test that ran them."""
    found: dict[str, dict[str, list[int]]] = {}
    for file in sorted(measured.measured_files()):
        name = Path(file).relative_to(ROOT).as_posix()
        for line, contexts in sorted(measured.contexts_by_lineno(file).items()):
            for context in contexts:
                found.setdefault(context, {}).setdefault(name, []).append(line)
    return found


def main(report: str, *given: str) -> int:
    os.environ["COVERAGE_CORE"] = "ctrace"  # the other ways to trace tell each line once, whichever test ran it
    import_all()
    measured = coverage.Coverage(data_file=None, source=[str(ROOT / "modelmath")], config_file=False, messages=False)
    measured.start()
    ended = pytest.main([*OF_PYTEST, "--rootdir", str(ROOT), *given], plugins=[ByTest(measured)])
    measured.stop()
    Path(report).write_text(json.dumps(lines_by_test(measured.get_data())), "utf-8")
    return int(ended)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
