"""One run of chosen tests in a process of its own, over a module whose source is another one.

No file is changed: a finder hands out the changed source when the module is imported. So others may edit the tree, and
several runs go on at a time. The process is a fork of one that has loaded what the tests need and is not of this
project; the project itself is loaded anew each time.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import sys
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path
from time import process_time
from types import CodeType
from typing import Any

import pytest
from mutation.covered import ByTest, without_case

ROOT = Path(__file__).resolve().parents[2]
MEMORY = 8 << 30  # [bytes]; a change that asks for more gets a MemoryError, which fails a test
TOO_LONG = "longer than it is waited for"
OF_PYTEST = (
    "-q",
    "-o",
    "addopts=",
    "--strict-markers",
    "--import-mode=importlib",
    "--doctest-modules",
    "--no-header",
    "--tb=line",
    "-p",
    "no:cacheprovider",
    "-p",
    "_hypothesis_pytestplugin",  # no other plugin is loaded by itself
    "-W",
    "ignore::pytest.PytestAssertRewriteWarning",  # of plugins that were loaded before
    "-m",
    "not long",
)


@dataclass(frozen=True)
class Asked:
    """What a process is to do; a test is named without its parameters, or by its file for all in it."""

    files: Sequence[str]
    tests: Sequence[str] | None = None
    module: str = ""
    source: str = ""
    first_failure_ends: bool = True
    each: float = 0.0  # skip a test after so much processor time, if above 0
    lines: bool = False  # write down which lines each test runs
    seconds: float = 3600.0  # of processor time


@dataclass
class Ran:
    """What came of it."""

    code: int = -1
    failed: list[str] = field(default_factory=list)
    seconds: dict[str, float] = field(default_factory=dict)
    too_long: list[str] = field(default_factory=list)


class _Changed(SourceFileLoader):
    """Loads a module from a source that is not the file's, and keeps nothing of it."""

    def __init__(self, name: str, path: str, source: str) -> None:
        super().__init__(name, path)
        self.source = source

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.source, self.path, "exec", dont_inherit=True)


class Finder(MetaPathFinder):
    """Finds one module, changed."""

    def __init__(self, module: str, source: str) -> None:
        self.module, self.source = module, source

    def find_spec(self, fullname: str, path: Any = None, target: Any = None) -> ModuleSpec | None:
        if fullname != self.module:
            return None
        file = ROOT.joinpath(*fullname.split("."))
        package = file.is_dir()
        where = str(file / "__init__.py" if package else file.with_suffix(".py"))
        loader = _Changed(fullname, where, self.source)
        inside = [str(file)] if package else None
        return spec_from_file_location(fullname, where, loader=loader, submodule_search_locations=inside)


class Chosen:
    """Keeps the tests asked for, and writes down what failed and how long each test took."""

    def __init__(self, asked: Asked, ran: Ran) -> None:
        self.asked = asked
        self.tests = None if asked.tests is None else frozenset(asked.tests)
        self.ran = ran

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        from hypothesis import Phase, settings

        # The suite's own settings, but the same examples each time, none remembered from an earlier run, and none made
        # simpler once it has failed.
        phases = (Phase.explicit, Phase.generate, Phase.target)
        settings.register_profile("mutation", deadline=None, derandomize=True, database=None, phases=phases)
        settings.load_profile("mutation")
        # Before pytest's own finder, which reads any file named on its command line from the disk.
        if self.asked.module:
            sys.meta_path.insert(0, Finder(self.asked.module, self.asked.source))

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        _bind_modules()
        # File by file as given, and in a file in its own order: some tests see what those before them have kept.
        if self.tests is not None:
            tests = self.tests
            items[:] = [item for item in items if without_case(item) in tests or item.nodeid.split("::")[0] in tests]

    @pytest.hookimpl(wrapper=True, tryfirst=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        start = process_time()
        signal.setitimer(signal.ITIMER_PROF, self.asked.each)
        try:
            return (yield)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
            name = without_case(item)
            self.ran.seconds[name] = self.ran.seconds.get(name, 0.0) + process_time() - start

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.skipped and TOO_LONG in str(report.longrepr):
            self.ran.too_long.append(report.nodeid.split("[")[0])
        if report.failed:
            self.ran.failed.append(report.nodeid)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.ran.failed.append(f"{report.nodeid} (when loaded)")


def _bind_modules() -> None:
    """Let each package have its modules as attributes, as an import leaves it.

    To collect a package's own examples, pytest may load the package again, over modules of it that were loaded before.
    A test that names such a module by a dotted path would then fail whatever is changed.
    """
    for name, module in list(sys.modules.items()):
        parent, _, own = name.rpartition(".")
        # Asked for first: a function that a package hands out may have the name of its module.
        if name.startswith("modelmath.") and parent in sys.modules and not hasattr(sys.modules[parent], own):
            setattr(sys.modules[parent], own, module)


def _too_long(*_: object) -> None:
    pytest.skip(TOO_LONG)


def forked(asked: Asked, folder: Path) -> int:
    """Start a process that does what is asked and writes ``ran.json`` into a folder; return its number."""
    number = os.fork()
    if number:
        return number
    code = 70
    try:
        code = _run(asked, folder)
    except BaseException as error:
        (folder / "harness.txt").write_text(repr(error), "utf-8")
    finally:
        os._exit(code)


def _run(asked: Asked, folder: Path) -> int:
    used = resource.getrusage(resource.RUSAGE_SELF)
    limit = int(used.ru_utime + used.ru_stime + asked.seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    out = os.open(folder / "out.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(out, 1)
    os.dup2(out, 2)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    signal.signal(signal.SIGPROF, _too_long)
    ran = Ran()
    plugins: list[object] = [Chosen(asked, ran)]
    measured = ByTest() if asked.lines else None
    if measured:
        plugins.append(measured)
    ends = ("-x",) if asked.first_failure_ends else ()
    given = [*OF_PYTEST, *ends, f"--basetemp={folder / 'temporary'}", f"--rootdir={ROOT}", *asked.files]
    ran.code = int(pytest.main(given, plugins=plugins))
    loaded = sys.modules.get(asked.module)
    if loaded is not None and not isinstance(loaded.__loader__, _Changed):
        raise RuntimeError(f"{asked.module} was loaded as it is")
    if measured:
        (folder / "lines.json").write_text(json.dumps(measured.lines_by_test()), "utf-8")
    sys.stdout.flush()
    (folder / "ran.json").write_text(json.dumps(asdict(ran)), "utf-8")
    return 0
