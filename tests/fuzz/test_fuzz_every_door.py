"""A slice over every target, and that no door is without one. More of it: the long set, and `tests/fuzz/run.py`."""

from __future__ import annotations

import ast
import sys
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from fuzz.chooser import Choices, random_bytes
from fuzz.every import COSTS, EVERY, MODULE_OF, shares
from fuzz.watched import TooLong, begin_anew, watched
from fuzz.words import MOST, text
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import modelmath
from modelmath.errors import ModelMathError, OutOfRange

PANELS = [name for name in EVERY if MODULE_OF[name] == "on_panels"]
OTHERS = [name for name in EVERY if name not in PANELS]
GENEROUS = (
    10  # times a target's own bound: what is measured here is that it ends, on a machine that is busy with others
)
HOME = Path(modelmath.__file__).parent
EXAMPLES = 8


def held(name: str, data: bytes) -> None:
    """Nothing but our own errors comes out, in bounded time and memory."""
    target = EVERY[name]
    given_ = target.given(data)
    begin_anew()
    seen = watched(target.act, given_, GENEROUS * target.most_s, target.most_mb)
    assert not seen.problem, f"EVERY[{name!r}].act(*{given_!r})\n{seen.problem}"


@pytest.mark.parametrize("name", OTHERS)
@settings(max_examples=EXAMPLES, suppress_health_check=list(HealthCheck), database=None)
@given(seed=st.integers(0, 2**32), cut=st.integers(1, 200))
def test_only_our_own_errors_come_out(name, seed, cut):
    held(name, random_bytes(seed, name, cut))


@pytest.mark.parametrize("name", PANELS)
def test_a_panel_says_what_is_wrong_and_never_raises(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for seed in range(2):
        held(name, random_bytes(seed, name))


# No door without a target.

FIRST = {"text", "typed", "source", "content", "entries", "pasted", "file", "path"}
OPENS = {"open", "read_text", "read_bytes", "json.loads", "tomllib.loads", "openpyxl.load_workbook", "pd.read_csv",
         "csv.reader", "zipfile.ZipFile", "os.open"}  # fmt: skip
WAYS = ("parse_", "read_", "load_", "open_")
# Functions that look like doors, each with what it is instead.
NOT_A_DOOR = {
    "errors.py shown": "reached by every message",
    "errors.py visible": "reached by every message",
    "files.py _beside": "writes",
    "files.py _sync_folder": "writes",
    "job/fleet/kept.py _content": "the package's own modules",
    "job/handling/_reasons.py sentence": "words of the package's own",
    "job/storage/described.py _rows": "the package's own reference",
    "job/storage/described.py _value": "the package's own reference",
    "job/virtual_bench/rules.py mm": "marks of a job that has a plan",
    "lengths/table/packed.py write": "writes",
    "workbook/names.py packages": "the package's own modules",
    "workbook/folder.py shipped_files": "the package's own notebooks",
    "tables.py rows": "the package's own tables",
    "materials/drawer/demo.py demo_drawer": "the package's own table",
    "job/storage/copies.py keep_ours": "writes",
    "workbook/lab.py code_of": "the package's own notebooks",
}


@cache
def _doors() -> set[str]:
    """Functions whose first parameter is text, bytes or a file, in what reads; and all that open a file."""
    found = set()
    for file in sorted(HOME.rglob("*.py")):
        where = file.relative_to(HOME).as_posix()
        if where.startswith(("drawings/", "widgets/")):
            continue  # drawings read nothing; panels are driven as a person does
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef) and (_reads(node) or _opens(node)):
                found.add(f"{where} {node.name}")
    return found


def _reads(node: ast.FunctionDef) -> bool:
    first = next((each for each in node.args.args if each.arg not in ("self", "cls")), None)
    if node.name.startswith("_") or first is None or first.annotation is None or first.arg not in FIRST:
        return False
    kind = ast.unparse(first.annotation)
    return any(word in kind for word in ("str", "bytes", "Path")) and (
        first.arg in ("text", "typed", "source", "pasted", "content", "entries") or node.name.startswith(WAYS)
    )


def _opens(node: ast.FunctionDef) -> bool:
    calls = [ast.unparse(each.func) for each in ast.walk(node) if isinstance(each, ast.Call)]
    return any(call in OPENS or call.rpartition(".")[2] in ("read_text", "read_bytes") for call in calls)


def test_every_door_is_entered_by_a_target(tmp_path, monkeypatch):
    """What the targets enter is seen as they run, so that a door that none of them reaches can't be overlooked."""
    monkeypatch.chdir(tmp_path)
    entered: set[str] = set()
    doors = _doors()

    seen: set[int] = set()

    def note(frame: Any, event: str, _arg: Any) -> None:
        if event != "call" or id(frame.f_code) in seen:
            return
        seen.add(id(frame.f_code))
        if frame.f_code.co_filename.startswith(str(HOME)):
            entered.add(f"{Path(frame.f_code.co_filename).relative_to(HOME).as_posix()} {frame.f_code.co_name}")

    left = doors - set(NOT_A_DOOR)
    for seed, name in ((seed, name) for seed in range(40) for name in OTHERS if MODULE_OF[name] != "on_jobs"):
        if left <= entered:
            break
        given_ = EVERY[name].given(random_bytes(seed, name))
        sys.setprofile(note)
        try:
            EVERY[name].act(*given_)
        except ModelMathError:
            pass
        finally:
            sys.setprofile(None)
    assert sorted(left - entered) == []


def test_what_is_no_door_is_still_there():
    assert sorted(set(NOT_A_DOOR) - _doors()) == []


# The tools themselves.


def test_the_same_bytes_are_the_same_input():
    for name in ("length", "a job's file", "the plan of a large job"):
        assert EVERY[name].given(random_bytes(3, name)) == EVERY[name].given(random_bytes(3, name))


def test_bytes_that_are_used_up_give_the_first_choice():
    choices = Choices(b"\x05")
    assert [choices.below(10), choices.below(10), choices.one("abc"), choices.often(255)] == [5, 0, "a", False]


def test_a_text_is_no_longer_than_it_may_be():
    assert max(len(text(Choices(random_bytes(seed, "text")), ("3 mm",))) for seed in range(200)) <= MOST


def test_inputs_are_shared_by_cost_and_none_is_lost():
    found = shares(100_000, list(EVERY))
    assert sum(found.values()) == 100_000
    assert min(found.values()) >= 1
    assert found["quantity"] > 10 * found["impedance sweep"]
    assert set(found) == set(COSTS)


def _spins() -> None:
    while True:
        pass


def _grows() -> None:
    assert len(bytearray(400_000_000)) > 0


def _refused() -> None:
    raise OutOfRange("x", "1", "2", "3")


def _warns() -> None:
    import warnings

    warnings.warn("so", UserWarning, stacklevel=1)


@pytest.mark.parametrize(
    ("act", "seconds", "where"),
    [
        (_spins, 0.2, "TooLong outside"),
        (_grows, 9.0, "large"),
        (_refused, 9.0, ""),
        (_warns, 9.0, "UserWarning outside"),
        (TooLong, 9.0, ""),
    ],
)
def test_what_is_watched_for_is_found(act, seconds, where):
    begin_anew()
    seen = watched(act, (), seconds, 300)
    assert seen.where == where
    assert bool(seen.problem) == bool(where)
