"""One input under bounds: what comes out, how much processor time and memory it took.

Processor time, so that a busy machine is no finding. A part in C is only stopped once it comes back to Python; the time
it took counts all the same.
"""

from __future__ import annotations

import resource
import signal
import sys
import traceback
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import process_time
from typing import Any

from modelmath.errors import ModelMathError

PEAK = Path("/proc/self/clear_refs")  # Linux: writing 5 there lets the peak begin anew
KIB_PER_MB = 1024 if sys.platform != "darwin" else 1024 * 1024


class TooLong(BaseException):
    """An input took more processor time than it may; no ordinary error, so that nothing catches it."""


@dataclass(frozen=True)
class Watched:
    """What one input came to."""

    seconds: float
    megabytes: float
    refused: bool
    problem: str = ""  # empty where all is well
    where: str = ""  # what tells one problem from another: its kind, and the place in modelmath


@contextmanager
def stopped_after(seconds: float) -> Iterator[None]:
    """Raise `TooLong` in what is inside once it has used so much processor time."""

    def stop(_number: int, _frame: Any) -> None:
        raise TooLong(f"more than {seconds:g} s of processor time")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIB_PER_MB


_peak = [peak_mb()]  # before an input; to ask anew each time would take as long as many inputs do


def begin_anew() -> None:
    """Count memory from what is taken now; needed where something else ran since the last input."""
    if PEAK.exists():
        PEAK.write_text("5")
    _peak[0] = peak_mb()


def watched(act: Callable[..., Any], given: tuple[Any, ...], most_s: float, most_mb: float) -> Watched:
    """Run one input. Only `ModelMathError` may come out; no warning, no more time, no more memory."""
    before_mb, started = _peak[0], process_time()
    refused, problem, where = False, "", ""
    try:
        with stopped_after(most_s), warnings.catch_warnings():
            warnings.simplefilter("error")
            act(*given)
    except ModelMathError as error:
        refused, problem = True, _fault_of_message(error)
        where = f"message {_place(error)}" if problem else ""
    except (Exception, TooLong) as error:
        problem = "".join(traceback.format_exception(error, limit=-8))
        where = f"{type(error).__name__} {_place(error)}"
    seconds, megabytes = process_time() - started, max(peak_mb() - before_mb, 0.0)
    if megabytes > 0:
        begin_anew()
    if not problem and seconds > most_s:
        problem, where = f"it took {seconds:.2f} s of processor time, more than {most_s:g} s", "slow"
    if not problem and megabytes > most_mb:
        problem, where = f"it took {megabytes:.0f} MB, more than {most_mb:g} MB", "large"
    return Watched(seconds, megabytes, refused, problem, where)


def _fault_of_message(error: ModelMathError) -> str:
    """A message that can't be made, says nothing, or is a page long, is a fault too."""
    try:
        said = str(error)
    except Exception as fault:
        return f"the message of {type(error).__name__} can't be made: {fault!r}"
    if not said.strip():
        return f"{type(error).__name__} says nothing"
    return f"the message is {len(said)} signs long: {said[:200]!r}" if len(said) > MOST_SAID else ""


MOST_SAID = 4000


def _place(error: BaseException) -> str:
    """The innermost line of the package itself that the error came through."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [
        f"{frame.filename.rpartition('modelmath/')[2]}:{frame.lineno}"
        for frame in frames
        if "modelmath/" in frame.filename
    ]
    return own[-1] if own else "outside"
