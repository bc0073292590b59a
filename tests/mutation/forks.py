"""The process that all others are forks of, and how it starts them, waits for them and ends those that hang."""

from __future__ import annotations

import json
import os
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from time import monotonic, sleep

from mutation.child import ROOT, Asked, Ran, forked

# Loaded once, since each takes longer than a test; none of them loads anything of the project.
LOADED_BEFORE = (
    "hypothesis.strategies",
    "hypothesis.extra.numpy",
    "hypothesis.internal.conjecture.engine",
    "hypothesis.internal.conjecture.shrinker",
    "numpy.testing",
    "numpy.polynomial",
    "scipy.integrate",
    "scipy.interpolate",
    "scipy.ndimage",
    "scipy.optimize",
    "scipy.signal",
    "scipy.spatial",
    "scipy.special",
    "scipy.stats",
    "scipy.sparse",
    "pandas",
    "pint",
    "pydantic",
    "pydantic_core",
    "openpyxl",
    "highspy",
    "uncertainties",
    "uncertainties.unumpy",
    "tomlkit",
    "filelock",
    "shapely",
    "networkx",
    "astropy.units",
    "ortools.linear_solver.pywraplp",
    "ortools.sat.python.cp_model",
    "rectpack",
    "trimesh",
    "manifold3d",
    "coverage",
    "doctest",
    "unittest.mock",
    "_hypothesis_pytestplugin",
    "_pytest.faulthandler",
    "_pytest.junitxml",
    "_pytest.threadexception",
    "_pytest.unraisableexception",
    "_pytest.unittest",
    "_pytest.pastebin",
)


def load_before() -> None:
    """Load what the tests need and is not of the project, without warnings: a test would see those as its own."""
    import gc
    import warnings

    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    sys.pycache_prefix = str(Path(tempfile.gettempdir()) / f"modelmath-mutation-{os.getuid()}")
    sys.path.insert(0, str(ROOT))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for name in LOADED_BEFORE:
            with suppress(ImportError):
                import_module(name)
    gc.freeze()  # what is never freed need not be looked at, nor copied, by each fork
    loaded = [name for name in sys.modules if name.split(".")[0] == "modelmath"]
    if loaded:
        raise RuntimeError(f"loaded before any change: {', '.join(loaded)}")


@dataclass
class Ended:
    """How a process ended: what it ran, the signal that ended it, processor time."""

    ran: Ran | None
    signal: int
    seconds: float
    said: str
    lines: dict[str, dict[str, list[int]]]

    @property
    def hung(self) -> bool:
        return self.signal in (signal.SIGXCPU, signal.SIGKILL)


@dataclass
class _Going:
    folder: Path
    asked: Asked
    then: Callable[[Ended], Asked | None]
    until: float


def run_all(jobs: Iterator[tuple[Asked, Callable[[Ended], Asked | None]]], processes: int) -> None:
    """Run jobs, so many at a time; what a job's second part returns is run next."""
    going: dict[int, _Going] = {}
    more = True
    while more or going:
        while more and len(going) < processes:
            job = next(jobs, None)
            if job is None:
                more = False
            else:
                _start(going, *job)
        ended = _one_that_ended(going)
        if ended is None:
            sleep(0.01)
            continue
        number, status, seconds = ended
        each = going.pop(number)
        next_asked = each.then(_read(each.folder, status, seconds))
        shutil.rmtree(each.folder, ignore_errors=True)
        if next_asked is not None:
            _start(going, next_asked, each.then)


def run_one(asked: Asked) -> Ended:
    """Run one job."""
    kept: list[Ended] = []
    run_all(iter([(asked, kept.append)]), 1)
    return kept[0]


def _start(going: dict[int, _Going], asked: Asked, then: Callable[[Ended], Asked | None]) -> None:
    folder = Path(tempfile.mkdtemp(prefix="mutation-"))
    # A process that waits uses no processor time: the clock ends it, well after any that is only slow.
    until = monotonic() + 60 + 40 * asked.seconds
    going[forked(asked, folder)] = _Going(folder, asked, then, until)


def _one_that_ended(going: dict[int, _Going]) -> tuple[int, int, float] | None:
    for number, each in going.items():
        ended, status, used = os.wait4(number, os.WNOHANG)
        if ended:
            return number, status, used.ru_utime + used.ru_stime
        if monotonic() > each.until:
            os.kill(number, signal.SIGKILL)
    return None


def _read(folder: Path, status: int, seconds: float) -> Ended:
    killed_by = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
    file, harness, out = folder / "ran.json", folder / "harness.txt", folder / "out.txt"
    ran = Ran(**json.loads(file.read_text("utf-8"))) if file.is_file() else None
    said = harness.read_text("utf-8") if harness.is_file() else ""
    if out.is_file():
        said += out.read_text("utf-8", errors="replace")[-20000:]
    covered = folder / "lines.json"
    lines = json.loads(covered.read_text("utf-8")) if covered.is_file() else {}
    return Ended(ran, killed_by, seconds, said, lines)
