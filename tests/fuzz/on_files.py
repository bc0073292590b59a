"""Targets: files that the workbook keeps or is given, as bytes written by another hand."""

from __future__ import annotations

import atexit
import json
import shutil
from collections.abc import Callable
from copy import deepcopy
from datetime import UTC, datetime
from functools import cache, partial
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from fuzz.chooser import Choices
from fuzz.target import Target, refused
from fuzz.words import NUMBERS, TOKENS, changed, raw, several, short_text, very_long
from hostile import KINDS, hostile
from sample_jobs import DEMO_PATHS
from shelves import all_of

from modelmath.cli import find_job
from modelmath.job.fleet.folder import overview
from modelmath.job.fleet.kept import read_kept, release_mark
from modelmath.job.fleet.rows import row_of
from modelmath.job.shelf.storing import load_shelf, save_shelf
from modelmath.job.storage.checks import check_job
from modelmath.job.storage.drafts import Draft, drafts_in, read_draft, write_draft
from modelmath.job.storage.files import load_job, read_job, save_job
from modelmath.job.storage.text import parse_job
from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.store import change_drawer, load_drawer
from modelmath.workbook.folder import fingerprint, prepare
from modelmath.workbook.glance import glance
from modelmath.workbook.preferences import load_preferences
from modelmath.workbook.recent import note_job, recent_jobs, when_in_words

VALUES: tuple[Any, ...] = (
    None, True, 0, 1, -1, 2**70, 1.5, 1e308, float("inf"), float("nan"), "", "x", [], {}, [[]], [{}], {"a": {}},
    "1e999999999", "1/0", "9" * 5000, "\ud800", "\x00", "7/3", "1_0", " 1 ", "-1", "nan", "0001-01-01T00:00:00+14:00",
    "9999-12-31T23:59:59-14:00", "2026-01-01", ["a", 1], 10**400,
)  # fmt: skip
FOLDERS = 0o700


@cache
def place() -> Path:
    """A folder of this process's own, gone with it."""
    found = mkdtemp(prefix="fuzz-")
    atexit.register(shutil.rmtree, found, ignore_errors=True)
    return Path(found)


@cache
def _sound_files() -> dict[str, bytes]:
    """One of each kind of file, as the workbook writes it."""
    folder = place() / "sound"
    job = load_job(DEMO_PATHS[0])
    drawer = folder / "drawer.json"
    folder.mkdir(exist_ok=True)
    change_drawer(drawer, lambda _old: demo_drawer(), "begun")
    save_shelf(all_of(*(load_job(path) for path in DEMO_PATHS[:3])), folder / "shelf.toml")
    write_draft(Draft(folder / "a.json", job, "a", "b", typed={"mark": "5 1/4"}))
    note_job(folder, "a.toml", datetime(2026, 1, 1, tzinfo=UTC))
    found = {path.name: path.read_bytes() for path in (drawer, folder / "shelf.toml", folder / "a.json")}
    hidden = next(path for path in folder.rglob("*.json") if path.name not in found)
    found["recent"] = hidden.read_bytes()
    found["where"] = hidden.relative_to(folder).as_posix().encode()
    return found


def _damaged(choices: Choices, sound: bytes) -> bytes:
    """A file with some of it gone, doubled, or other."""
    way = choices.below(6)
    if way == 0:
        return sound[: choices.below(len(sound) + 1)]
    if way == 1:
        return choices.rest()
    found = bytearray(sound)
    for _ in range(choices.below(4) + 1):
        at = choices.below(len(found) + 1)
        if way == 2:
            found[at : at + 1] = bytes([choices.below(256)])
        elif way == 3:
            found[at : at + choices.below(300)] = b""
        elif way == 4:
            found[at:at] = several(choices, TOKENS, 3).encode("utf-8", "surrogatepass")
        else:
            found[at:at] = choices.one(
                (b"[" * 3000, b'{"a":' * 3000, b"9" * 5000, b"\0" * 50, b"\xef\xbb\xbf", b"\\ud800")
            )
    return bytes(found)


def _of_json(choices: Choices, sound: Any) -> bytes:
    """Sound JSON with some of its values others, or entries doubled a thousand times."""
    if choices.below(3) == 0:
        return _damaged(choices, json.dumps(sound).encode())
    held = json.loads(json.dumps(sound))
    for _ in range(choices.below(4) + 1):
        _change_value(choices, held)
    return json.dumps(held).encode("utf-8", "surrogatepass")


def _change_value(choices: Choices, held: Any) -> None:
    """Walk down a few steps and put another value there."""
    while True:
        keys = list(held) if isinstance(held, dict) else list(range(len(held)))
        if not keys:
            return
        key = choices.one(keys)
        inner = held[key]
        if isinstance(inner, (dict, list)) and inner and not choices.often(40):
            held = inner
            continue
        way = choices.below(6)
        if way == 0:
            del held[key]
        elif way == 1 and isinstance(held, list):
            held[key:key] = [inner] * choices.one((1, 40, 3000))
        elif isinstance(inner, str) and way < 4:
            held[key] = changed(choices, inner, TOKENS)
        else:
            held[key] = deepcopy(choices.one(VALUES))
        return


def _file(name: str, content: bytes) -> Path:
    file = place() / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content)
    return file


def open_drawer(content: bytes) -> None:
    """Refused, or read; then a change is written and both are read back."""
    file = _file("drawer.json", content)
    kept = load_drawer(file)
    change_drawer(file, lambda drawer: drawer, "looked at")
    assert load_drawer(file).drawer == kept.drawer


def open_shelf(content: bytes) -> None:
    shelf = load_shelf(_file("shelf.toml", content))
    save_shelf(shelf, _file("again.toml", content))
    assert load_shelf(place() / "again.toml") == shelf


def open_draft(content: bytes) -> None:
    file = _file("drafts/a.json", content)
    drafts, faults = drafts_in(file.parent)
    assert len(drafts) + len(faults) == 1
    draft = read_draft(file)
    write_draft(draft)
    assert read_draft(file).job == draft.job


def open_recent(content: bytes) -> None:
    """A damaged record is an empty one; what is noted then is there."""
    where = _sound_files()["where"].decode()
    file = _file(where, content)
    now = datetime(2026, 2, 3, tzinfo=UTC)
    for each in recent_jobs(place()):
        assert when_in_words(each.when, now)
    note_job(place(), "b.toml", now)
    assert recent_jobs(place())[0].name
    file.unlink()


def open_preferences(content: bytes) -> None:
    from modelmath.workbook.preferences import FILE, HIDDEN

    assert load_preferences(_file(f"{HIDDEN}/{FILE}", content).parent.parent)


def open_record(record: bytes, notebook: bytes) -> None:
    """A workbook folder is brought up to date over a damaged record and another's notebook."""
    folder = place() / "workbook"
    shutil.rmtree(folder, ignore_errors=True)
    shipped = {"a.ipynb": NOTEBOOK, "jobs/b.toml": b"x = 1"}
    prepare(folder, shipped)
    held = next(path for path in folder.rglob("*") if path.is_file() and path.name not in ("a.ipynb", "b.toml"))
    held.write_bytes(record)
    (folder / "a.ipynb").write_bytes(notebook)
    fingerprint("a.ipynb", notebook)
    assert prepare(folder, shipped).folder == folder


NOTEBOOK = json.dumps(
    {"cells": [{"cell_type": "code", "source": ["a = 1\n", "a"], "metadata": {"tags": ["check"]}}]}
).encode()
RECORD = {"a.ipynb": "0" * 64, "jobs/b.toml": "1" * 64}


def open_kept(body: bytes) -> None:
    """Rows kept of a fleet, with their digest made right, as somebody who means harm would."""
    from hashlib import sha256

    head = f"{release_mark()} {sha256(body).hexdigest()}".encode()
    assert isinstance(read_kept(_file("kept.json", head + b"\n" + body)), dict)


def open_job(content: bytes) -> None:
    """Refused with a place, or a job that can be saved and is the same then. Nothing else looks at it and raises."""
    file = _file("a.toml", content)
    found, faults = read_job(file)
    assert all(len(str(each)) < 4000 for each in faults)
    assert glance(file).title is not None
    row_of(content, "a.toml")
    if found is None:
        assert faults
        raise faults[0]
    save_job(found, file)
    assert load_job(file) == found


def look_through(content: bytes) -> None:
    """A folder of jobs, one of them sound, looked through anew and with the rows that were kept."""
    folder = place() / "jobs"
    (folder / "sub").mkdir(parents=True, exist_ok=True)
    (folder / "a.toml").write_bytes(content)
    (folder / "b.toml").write_bytes(_demos()[0])
    (folder / "c.txt").write_bytes(content)
    first, again = overview(folder), overview(folder)
    assert [row.file for row in first.rows] == [row.file for row in again.rows]


def check_file(content: bytes) -> None:
    """What the command says of a file, the plan worked out."""
    assert all(str(each) for each in check_job(_file("a.toml", content)))


def read_text(typed: str) -> None:
    found, faults = parse_job(typed, "a.toml")
    assert (found is None) == bool(faults)


def look_for(name: str) -> None:
    """A name on the command line, or the name of a file."""
    for read in (find_job, load_job, load_shelf, load_drawer_at):
        refused(partial(read, name))


def load_drawer_at(name: str) -> None:
    from modelmath.lengths.table.sources import take
    from modelmath.sound.measuring.sweep import read_sweep

    for read in (take, read_sweep):
        refused(partial(read, name if name.casefold().endswith((".csv", ".xlsx")) else f"{name}.csv"))


def _name(choices: Choices) -> tuple[Any, ...]:
    words = (
        "switcher-ho",
        "..",
        "/",
        "a.toml",
        "~",
        "nowhere.csv",
        "\x00",
        "\ud800",
        "con",
        "a" * 300,
        "/dev/null",
        *NUMBERS[:4],
    )
    name = several(choices, words, 4) if choices.below(2) else raw(choices)
    return (name + very_long(choices),)


def job_file(choices: Choices) -> bytes:
    """A demo job's file with fields changed, or one of the damaged kinds."""
    way = choices.below(8)
    if way == 0:
        return hostile(choices.below(1 << 24))
    if way == 1:
        return _damaged(choices, _demo(choices))
    lines = _demo(choices).decode().split("\n")
    fields = [at for at, line in enumerate(lines) if " = " in line]
    for _ in range(choices.below(4) + 1):
        at = choices.one(fields)
        name, _, value = lines[at].partition(" = ")
        own = value.split("#")[0].strip().strip('"')
        lines[at] = f"{name} = {_toml(choices, own)}"
    if way == 2:
        at = choices.below(len(lines))
        end = at + choices.below(30)
        lines[at:at] = lines[at:end] * choices.one((1, 2, 30, 600))
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def _toml(choices: Choices, own: str) -> str:
    if choices.below(4) == 0:
        return choices.one(
            ("1", "0", "-1", "true", "[]", "{}", "1e999", "nan", "1979-05-27", '["a"]', "9" * 5000, "99", "0.5")
        )
    found = short_text(choices, (own,))
    return json.dumps(found, ensure_ascii=choices.often(30)).replace("\\ud8", "\\u00d8").replace("\x7f", "")


def _demo(choices: Choices) -> bytes:
    return _demos()[choices.below(len(DEMO_PATHS))]


@cache
def _demos() -> tuple[bytes, ...]:
    return tuple(path.read_bytes() for path in DEMO_PATHS)


def _json(name: str) -> Callable[[Choices], tuple[Any, ...]]:
    return lambda choices: (_of_json(choices, json.loads(_sound_files()[name])),)


def _shelf(choices: Choices) -> tuple[Any, ...]:
    return (_damaged_toml(choices, _sound_files()["shelf.toml"]),)


def _damaged_toml(choices: Choices, sound: bytes) -> bytes:
    if choices.below(3) == 0:
        return _damaged(choices, sound)
    lines = sound.decode().split("\n")
    fields = [at for at, line in enumerate(lines) if " = " in line]
    for _ in range(choices.below(4) + 1):
        at = choices.one(fields)
        name, _, value = lines[at].partition(" = ")
        lines[at] = f"{name} = {_toml(choices, value.strip().strip(chr(34)))}"
    return "\n".join(lines).encode("utf-8", "surrogatepass")


@cache
def _kept_rows() -> Any:
    from modelmath.job.fleet.kept import kept_file

    folder = place() / "fleet"
    folder.mkdir(exist_ok=True)
    for path in DEMO_PATHS[:2]:
        (folder / path.name).write_bytes(path.read_bytes())
    overview(folder)
    return json.loads(kept_file(folder).read_bytes().partition(b"\n")[2])


def _job_text(choices: Choices) -> tuple[Any, ...]:
    found = job_file(choices)
    return (found.decode("utf-8", "surrogateescape"),)


assert len(KINDS) > 1

TARGETS = (
    Target("the drawer's file", _json("drawer.json"), open_drawer, 4.0),
    Target("the shelf's file", _shelf, open_shelf, 12.0, most_s=5.0),
    Target("a draft", _json("a.json"), open_draft, 2.0),
    Target("jobs opened last", _json("recent"), open_recent, 0.8),
    Target("preferences", lambda c: (_of_json(c, {"first_unit": "mm", "type_size": "large", "format": 1}),),
    open_preferences, 0.3),
    Target("the workbook's record", lambda c: (_of_json(c, RECORD), _of_json(c, json.loads(NOTEBOOK))), open_record,
    2.0),
    Target("rows kept of a fleet", lambda c: (_of_json(c, _kept_rows()),), open_kept, 1.0),
    Target("a job's file", lambda c: (job_file(c),), open_job, 15.0, most_s=5.0),
    Target("a folder of jobs", lambda c: (job_file(c),), look_through, 15.0, most_s=5.0),
    Target("a job's check", lambda c: (job_file(c),), check_file, 15.0, most_s=10.0),
    Target("a job's text", _job_text, read_text, 5.0, most_s=5.0),
    Target("the name of a file", _name, look_for, 0.5),
)  # fmt: skip
