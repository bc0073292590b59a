"""A target: one door through which text, a table or a file comes in, and how its inputs are made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from fuzz.chooser import Choices
from fuzz.watched import Watched, watched

from modelmath.errors import ModelMathError

MOST_S, MOST_MB = 2.0, 300.0  # of one input
Given = tuple[Any, ...]


def refused(read: Callable[[], Any]) -> Any:
    """What one of several doors gives; that it refuses is no end, as long as it says something."""
    try:
        return read()
    except ModelMathError as error:
        return _said(error)


def _said(error: ModelMathError) -> None:
    if not str(error):
        raise AssertionError("it was refused without a word") from error


@dataclass(frozen=True)
class Target:
    """One door. `make` turns choices into what is given, all of it Python literals, and `act` goes through the door.

    `cost_ms` is about what an input costs, by which a run shares its inputs out. `first` loads what some input would
    load that is the first to need it.
    """

    name: str
    make: Callable[[Choices], Given]
    act: Callable[..., Any]
    cost_ms: float = 0.2
    most_s: float = MOST_S
    most_mb: float = MOST_MB
    first: Callable[[], Any] | None = None

    def given(self, data: bytes) -> Given:
        return self.make(Choices(data))

    def watched(self, data: bytes) -> Watched:
        return watched(self.act, self.given(data), self.most_s, self.most_mb)
