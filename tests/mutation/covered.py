"""Which lines of the calculation each test runs, found once and kept."""

from __future__ import annotations

import functools
import gc
import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("lengths", "quantities", "clearance", "light", "materials", "sound", "enclosure", "cutting", "job")
EXAMPLES = 10  # of a property; what only a rare example reaches is looked for in the mirrored tests all the same


class ByTest:
    """Measures lines, each test in a context of its own; a module's fixtures count for all tests of the module."""

    def __init__(self) -> None:
        import coverage

        # All is imported first, so that no test is given the lines that importing runs.
        for package in PACKAGES:
            top = importlib.import_module(f"modelmath.{package}")
            for found in pkgutil.walk_packages(top.__path__, prefix=f"{top.__name__}."):
                importlib.import_module(found.name)
        # A result that is kept hides the lines behind it from the next test that asks for it.
        self.kept = [
            each
            for each in gc.get_objects()
            if isinstance(each, functools._lru_cache_wrapper) and str(each.__module__).startswith("modelmath.")
        ]
        self.now = ""
        self.coverage: Any = coverage.Coverage(
            data_file=None, source=[str(ROOT / "modelmath")], config_file=False, messages=False
        )
        self.coverage.start()

    def _switch(self, context: str) -> str:
        before, self.now = self.now, context
        self.coverage.switch_context(context)
        return before

    @pytest.hookimpl(trylast=True)
    def pytest_collection(self) -> None:
        from hypothesis import settings

        settings.register_profile(
            "few", settings(deadline=None, derandomize=True, database=None, max_examples=EXAMPLES)
        )
        settings.load_profile("few")

    @pytest.hookimpl(wrapper=True)
    def pytest_make_collect_report(self, collector: pytest.Collector) -> Iterator[None]:
        before = self._switch(f"{collector.nodeid}::" if isinstance(collector, pytest.Module) else "")
        try:
            return (yield)
        finally:
            self._switch(before)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        for each in self.kept:
            each.cache_clear()
        before = self._switch(without_case(item))
        try:
            return (yield)
        finally:
            self._switch(before)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[object]) -> Iterator[None]:
        if fixturedef.scope == "function":
            return (yield)
        before = self._switch(self.now.split("::")[0] + "::")
        try:
            return (yield)
        finally:
            self._switch(before)

    def lines_by_test(self) -> dict[str, dict[str, list[int]]]:
        """Return the lines of each file by the test that ran them."""
        self.coverage.stop()
        data = self.coverage.get_data()
        found: dict[str, dict[str, list[int]]] = {}
        for file in sorted(data.measured_files()):
            name = Path(file).relative_to(ROOT).as_posix()
            for line, contexts in sorted(data.contexts_by_lineno(file).items()):
                for context in contexts:
                    if context:
                        found.setdefault(context, {}).setdefault(name, []).append(line)
        return found


def without_case(item: pytest.Item) -> str:
    """Return a test's name without its parameters."""
    return item.nodeid.split("[")[0]
