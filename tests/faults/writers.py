"""Everything that the workbook writes, each with what is there before it and after it, as it is read again."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from faults.stock import cutting, drawer, pages_of
from killing import numbered
from sample_jobs import DEMOS

from modelmath.cutting.accept import after_cutting
from modelmath.drawings.into_folder import write_into
from modelmath.errors import ModelMathError
from modelmath.job.begin.saving import save_new
from modelmath.job.fleet.kept import KeptRow, read_kept, write_kept
from modelmath.job.fleet.rows import row_of
from modelmath.job.shelf import Shelf, load_shelf, put_on_shelf, save_shelf
from modelmath.job.storage.copies import Conflict
from modelmath.job.storage.drafts import Draft, read_draft, write_draft
from modelmath.job.storage.files import load_job, open_job, save_job
from modelmath.lengths.rules import Rule
from modelmath.lengths.table import read_table, write_table
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.store import change_drawer, load_drawer, save_drawer, undo
from modelmath.materials.drawer.tables import read_drawer, write_drawer
from modelmath.workbook.folder import prepare
from modelmath.workbook.preferences import Preferences, keep_preferences, load_preferences
from modelmath.workbook.recent import note_job, recent_jobs

NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)


@dataclass(frozen=True)
class Writer:
    """One thing that is written.

    Attributes
    ----------
    begin : callable
        Puts into a folder what is there before. [-]
    write : callable
        Writes. [-]
    read : callable
        What the folder holds, as a list of states; each is whole, or reading fails. [-]
    raises : tuple of exceptions
        What it raises where it is refused: a message of ours, or the system's where the panel says it. [-]
    """

    begin: Callable[[Path], None]
    write: Callable[[Path], Any]
    read: Callable[[Path], Any]
    raises: tuple[type[Exception], ...] = (ModelMathError,)


def nothing(_folder: Path) -> None:
    """Nothing is there before."""


def _or_none(read: Callable[[Path], Any], file: Path) -> Any:
    return read(file) if file.exists() else None


# Jobs.


def _job(folder: Path) -> Any:
    return _or_none(load_job, folder / "hood.toml")


def _change(folder: Path) -> None:
    save_job(numbered(2), folder / "hood.toml", open_job(folder / "hood.toml").mark)


def _conflict(folder: Path) -> None:
    with suppress(Conflict):
        save_job(numbered(2), folder / "hood.toml", since="of another day")


def _both(folder: Path) -> Any:
    return _job(folder), _or_none(load_job, folder / "hood-changed-here.toml")


def _new(folder: Path) -> Any:
    return [load_job(file) for file in sorted(folder.glob("*.toml"))]


# The drawer.


def _full_drawer(folder: Path) -> None:
    save_drawer(folder / "drawer.json", drawer(), "", "put in")


def accept(folder: Path) -> None:
    """Take out what the plan cuts, as the page does."""
    change_drawer(folder / "drawer.json", lambda held: after_cutting(held, cutting()), "cutting")


def held(folder: Path) -> Any:
    """What the drawer holds and what it was before; undoing leads back to that."""
    found = load_drawer(folder / "drawer.json")
    if found.what != "cutting":
        return found.drawer.items, None
    before = undo(folder / "drawer.json", found.revision)
    again = change_drawer(folder / "drawer.json", lambda _held: found.drawer, "cutting")
    return again.drawer.items, before.drawer.items


# What is written into folders.


def _printed(number: int) -> Callable[[Path], Any]:
    """Write a packet whose pages take no time: what is looked at is how its files are written."""

    return lambda folder: pages_of(folder, f"%PDF {number} {'x' * 5000} %%EOF")


def _pdfs(folder: Path) -> Any:
    found = {file.name: file.read_text() for file in sorted((folder / "packets").glob("*.pdf"))}
    assert all(each.endswith("x %%EOF") for each in found.values())
    return found


def _exported(folder: Path, content: bytes) -> Any:
    return write_into(folder / "packets", "hood-parts.svg", content, "the drawing")


def _svg(folder: Path) -> Any:
    return _or_none(Path.read_bytes, folder / "packets" / "hood-parts.svg")


@cache
def _table(text: str) -> Any:
    return read_table(text, Rule(scale="HO", graduation="1/4"))


def _readings(folder: Path) -> Any:
    found = _or_none(lambda file: read_table(file, Rule(scale="HO", graduation="1/4")), folder / "readings.csv")
    return None if found is None else list(found.frame["name"])


def _tabled(folder: Path) -> Any:
    return _or_none(lambda file: read_drawer(file)[0].items, folder / "drawer.csv")


@cache
def _shelf(name: str) -> Shelf:
    return put_on_shelf(Shelf(), DEMOS[name], "rule", DEMOS[name].rules[0].name)


# The workbook.


def _shipped(number: int) -> dict[str, bytes]:
    return {"a.ipynb": b"%d %s" % (number, b"a" * 900), "jobs/b.toml": b"%d %s" % (number, b"b" * 900)}


def _copied(folder: Path) -> Any:
    found = {name: _or_none(Path.read_bytes, folder / "book" / name) for name in _shipped(0)}
    assert all(each is None or len(each) == 902 for each in found.values())
    return found


@cache
def _row() -> Any:
    return row_of(b"", "hood.toml")  # one that can't be read takes no time


def _rows(folder: Path) -> Any:
    return sorted(read_kept(folder / ".modelmath" / "overview"))


def _note(name: str, hours: int) -> Callable[[Path], None]:
    return lambda folder: note_job(folder, name, NOON + timedelta(hours=hours))


SYSTEM = (OSError,)
WRITERS: dict[str, Writer] = {
    "a job's first save": Writer(nothing, lambda to: save_job(numbered(1), to / "hood.toml", ""), _job),
    "a job's next save": Writer(lambda to: save_job(numbered(1), to / "hood.toml"), _change, _job),
    "a job changed elsewhere": Writer(lambda to: save_job(numbered(1), to / "hood.toml"), _conflict, _both),
    "a new model": Writer(lambda to: save_new(numbered(1), to), lambda to: save_new(numbered(2), to), _new),
    "a draft": Writer(
        lambda to: write_draft(Draft(to / "drafts" / "hood.json", numbered(1))),
        lambda to: write_draft(Draft(to / "drafts" / "hood.json", numbered(2))),
        lambda to: read_draft(to / "drafts" / "hood.json").job,
        SYSTEM,
    ),
    "a first draft": Writer(
        nothing,
        lambda to: write_draft(Draft(to / "drafts" / "hood.json", numbered(2))),
        lambda to: _or_none(lambda file: read_draft(file).job, to / "drafts" / "hood.json"),
        SYSTEM,
    ),
    "a cut plan that is accepted": Writer(_full_drawer, accept, held),
    "a first drawer": Writer(nothing, _full_drawer, lambda to: _or_none(load_drawer, to / "drawer.json")),
    "an undone cut": Writer(
        lambda to: (_full_drawer(to), accept(to)),
        lambda to: undo(to / "drawer.json", load_drawer(to / "drawer.json").revision),
        lambda to: load_drawer(to / "drawer.json").drawer.items,
    ),
    "the shelf": Writer(
        lambda to: save_shelf(_shelf("switcher-ho"), to / "shelf.toml"),
        lambda to: save_shelf(_shelf("gas-electric-o"), to / "shelf.toml"),
        lambda to: load_shelf(to / "shelf.toml"),
    ),
    "preferences": Writer(
        lambda to: keep_preferences(to, Preferences("inch")),
        lambda to: keep_preferences(to, Preferences("mm", "large")),
        load_preferences,
        SYSTEM,
    ),
    "the jobs opened last": Writer(
        _note("hood", 0), _note("cab", 1), lambda to: [each.name for each in recent_jobs(to)], SYSTEM
    ),
    "rows of the fleet": Writer(
        lambda to: write_kept(to / ".modelmath" / "overview", {"hood.toml": KeptRow("0", _row())}),
        lambda to: write_kept(to / ".modelmath" / "overview", {"cab.toml": KeptRow("0", _row())}),
        _rows,
    ),
    "a packet": Writer(nothing, _printed(1), _pdfs),
    "a packet anew": Writer(_printed(1), _printed(2), _pdfs),
    "an export": Writer(lambda to: _exported(to, b"1" * 4000), lambda to: _exported(to, b"2" * 4000), _svg),
    "a table of readings": Writer(
        lambda to: write_table(_table("roof; 9 1/4"), to / "readings.csv"),
        lambda to: write_table(_table("floor; 9 1/4"), to / "readings.csv"),
        _readings,
        SYSTEM,
    ),
    "a table of the drawer": Writer(
        lambda to: write_drawer(Drawer(()), to / "drawer.csv"),
        lambda to: write_drawer(drawer(), to / "drawer.csv"),
        _tabled,
        SYSTEM,
    ),
    "a workbook folder": Writer(nothing, lambda to: prepare(to / "book", _shipped(1)), _copied),
    "a newer workbook": Writer(
        lambda to: prepare(to / "book", _shipped(1)), lambda to: prepare(to / "book", _shipped(2)), _copied
    ),
}  # fmt: skip
SEVERAL = ("a packet", "a packet anew", "a workbook folder", "a newer workbook", "a job changed elsewhere")


def parts_of(state: Any) -> dict[Any, Any]:
    """The files of a writer of several, each by itself."""
    return state if isinstance(state, dict) else dict(enumerate(state))
