"""No pattern takes its time over a text made to slow it down: each that the package has is tried on such texts."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
import time
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

import pytest

import modelmath

PACKAGE = Path(modelmath.__file__).parent
# What doubles its time with each sign is seen in few of them; 200 are as many as a field takes.
SIGNS = (24, 200)
MOST_S = 0.5  # of this processor's time, for the slowest text of a pattern
PIECES = (
    *("0", "9", " ", "a", "m", ".", ",", "/", "-", "x", "\t", "'", '"', "½", "(", "[", ";", ":", "_", "\n", "=", "`"),
    *("by", "in", "0 ", "0,", "0.", "0/", " ,", "a ", "a.", "a:", "a=", "0m", "0-", " x", "x ", "a\n", "[a", "1 m"),
)  # fmt: skip


def compiled() -> Iterator[tuple[str, re.Pattern[Any]]]:
    """Every pattern that stands in a module by name, or by one of its methods."""
    for found in pkgutil.walk_packages(modelmath.__path__, "modelmath."):
        for name, value in vars(importlib.import_module(found.name)).items():
            if isinstance(value, re.Pattern):
                yield f"{found.name}.{name}", value
            elif inspect.isbuiltin(value) and isinstance(value.__self__, re.Pattern):
                yield f"{found.name}.{name}", value.__self__


def written_out() -> Iterator[tuple[str, re.Pattern[Any]]]:
    """Every pattern that is written where it is used."""
    for file in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func) in USES and isinstance(node.args[0], ast.Constant):
                yield f"{file.relative_to(PACKAGE)}:{node.lineno}", re.compile(node.args[0].value)


USES = {f"re.{name}" for name in ("match", "fullmatch", "search", "sub", "subn", "split", "findall", "finditer")}
PATTERNS = {pattern: where for where, pattern in [*written_out(), *compiled()]}


def slowest(pattern: re.Pattern[Any], most_s: float) -> float:
    """The longest time over any of the texts; the first that is too long ends it."""
    longest = 0.0
    for signs, piece, start in product(SIGNS, PIECES, ("", "1", "a")):
        text = start + piece * (signs // len(piece)) + "\0"
        given: Any = text.encode() if isinstance(pattern.pattern, bytes) else text
        before = time.process_time()
        pattern.fullmatch(given)
        pattern.search(given)
        longest = max(longest, time.process_time() - before)
        if longest > most_s:
            break
    return longest


def test_they_were_found():
    assert len(PATTERNS) > 120


@pytest.mark.parametrize("pattern", [r"(?:a+)+!", r"(?:a|a)*!", r"\s*\s*\s*!"])
def test_one_that_takes_its_time_is_seen(pattern):
    assert slowest(re.compile(pattern), 0.1) > 0.1


def test_no_pattern_takes_its_time():
    """All in one test: which of them is slow stands in what is found."""
    assert {where: took for pattern, where in PATTERNS.items() if (took := slowest(pattern, MOST_S)) > MOST_S} == {}
