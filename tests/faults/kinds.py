"""What is written over and over by a process that is killed, or by two against each other: each kind by its number."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random

from faults.stock import cutting, drawer, pages_of
from killing import killed

from modelmath.cutting.accept import after_cutting
from modelmath.drawings.into_folder import write_into
from modelmath.job.shelf import Shelf, ShelfChanged, load_shelf, open_shelf, save_shelf
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import Item
from modelmath.materials.drawer.store import (
    DrawerChanged,
    change_drawer,
    load_drawer,
    redo,
    save_drawer,
    undo,
)
from modelmath.workbook.folder import prepare
from modelmath.workbook.preferences import Preferences, change_preferences
from modelmath.workbook.recent import note_job, recent_jobs

MANY = 90_000
NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)


@dataclass(frozen=True)
class Kind:
    """Something that is written again and again.

    Attributes
    ----------
    begin : callable
        Makes what is there at number 0. [-]
    act : callable
        Writes one number after the other, until it is killed. [-]
    number : callable
        The number of what is there, which is whole. [-]
    """

    begin: Callable[[Path], None]
    act: Callable[[Path, int, Connection], None]
    number: Callable[[Path], int]


def kill_all(kind: Kind, folder: Path, times: int, seed: int) -> int:
    """Kill a writer so often at random moments; what it said was written is there each time. Return the last number."""
    kind.begin(folder)
    random, last = Random(seed), 0
    for _ in range(times):
        least = killed(kind.act, folder, last + 1, random)
        last = kind.number(folder)
        assert least <= last <= least + 1, (least, last)  # the next may have been written and not said
    return last


# Cut plans that are accepted: a drawer with very much of what each takes out.


def full(folder: Path) -> None:
    """A drawer from which the plan can be cut very often."""
    items = [Item(each.kind, each.name, each.length_mm, each.width_mm, MANY) for each in drawer().items]
    save_drawer(folder / "drawer.json", Drawer(tuple(items)), "", "put in")


def accept_on(folder: Path, first: int, done: Connection) -> None:
    """Accept one cut plan after another."""
    for number in count(first):
        change_drawer(folder / "drawer.json", lambda held: after_cutting(held, cutting()), f"cutting {number}")
        done.send(number)


def cuts_taken(held: Drawer) -> int:
    """How many plans were cut from a drawer; each took all that it takes, and put back all that it leaves."""
    once = after_cutting(filled(), cutting())
    whole = {key(each): each.count for each in filled().items}
    per_cut = {key(each): each.count - whole.get(key(each), 0) for each in once.items}
    found = {key(each): each.count - whole.get(key(each), 0) for each in held.items}
    taken = {found.get(name, 0) / each for name, each in per_cut.items() if each}
    assert len(taken) == 1, found
    assert set(found) <= set(per_cut)
    return int(taken.pop())


def key(item: Item) -> tuple[object, ...]:
    """What tells one item from another."""
    return item.kind, item.name, item.length_mm, item.width_mm, item.offcut


def filled() -> Drawer:
    """The drawer before the first cut."""
    return Drawer(tuple(Item(each.kind, each.name, each.length_mm, each.width_mm, MANY) for each in drawer().items))


def accepted(folder: Path) -> int:
    """The number of the last plan that was accepted; undoing and redoing it lead one back and there again."""
    file = folder / "drawer.json"
    kept = load_drawer(file)
    number = cuts_taken(kept.drawer)
    if number:
        before = undo(file, kept.revision)
        assert cuts_taken(before.drawer) == number - 1
        again = redo(file, before.revision)
        assert again.drawer == kept.drawer
    return number


# Files of a folder.


def text_of(number: int) -> bytes:
    """A content that holds its number at both ends."""
    return b"%d %s %d" % (number, b"x" * (number * 37 % 60_000), number)


def number_in(content: bytes) -> int:
    """The number of a content; one put together from two would have two."""
    found = re.fullmatch(rb"([0-9]+) x* ([0-9]+)", content)
    assert found
    assert content == text_of(int(found[1]))
    return int(found[1])


def export(folder: Path, number: int) -> None:
    """Write one export."""
    write_into(folder / "packets", "hood-parts.svg", text_of(number), "the drawing", "hood")


def export_on(folder: Path, first: int, done: Connection) -> None:
    """Write one export after another."""
    for number in count(first):
        export(folder, number)
        done.send(number)


def exported(folder: Path) -> int:
    """The number of the export that is there."""
    assert sorted(each.name for each in (folder / "packets").glob("[!.]*")) == ["hood-parts.svg"]
    return number_in((folder / "packets" / "hood-parts.svg").read_bytes())


def print_on(folder: Path, first: int, done: Connection) -> None:
    """Write one packet after another, a file for each paper."""
    for number in count(first):
        pages_of(folder, text_of(number).decode())
        done.send(number)


def printed(folder: Path) -> int:
    """The number of the packet that is there; the paper that is written first may be one ahead."""
    first, last = (number_in(file.read_bytes()) for file in sorted((folder / "packets").glob("*.pdf")))
    assert first - last in (0, 1)
    return last


def shelved(number: int) -> Shelf:
    """A shelf with one rule, by its number."""
    return Shelf.model_validate({"rules": [{"name": f"rule {number}", "scale": "HO"}]})


def shelve_on(folder: Path, first: int, done: Connection) -> None:
    """Write one shelf after another."""
    for number in count(first):
        save_shelf(shelved(number), folder / "shelf.toml")
        done.send(number)


def on_shelf(folder: Path) -> int:
    """The number of the rule on the shelf."""
    return int(load_shelf(folder / "shelf.toml").rules[0].name.split()[1])


def note_on(folder: Path, first: int, done: Connection) -> None:
    """Note one job after another as opened."""
    for number in count(first):
        note_job(folder, f"job-{number}", NOON + timedelta(seconds=number))
        done.send(number)


def noted(folder: Path) -> int:
    """The number of the job opened last; those before it are there too."""
    numbers = [int(each.name.split("-")[1]) for each in recent_jobs(folder)]
    assert numbers == list(range(numbers[0], max(numbers[0] - 30, -1), -1))
    return numbers[0]


def copy_on(folder: Path, first: int, done: Connection) -> None:
    """Bring a workbook folder up to one release after another."""
    for number in count(first):
        prepare(folder / "book", {"a.toml": text_of(number), "b.toml": text_of(number)})
        done.send(number)


def copied(folder: Path) -> int:
    """The release of the workbook; the file that is copied first may be one ahead. A copy counts as untouched."""
    first, last = (number_in((folder / "book" / name).read_bytes()) for name in ("a.toml", "b.toml"))
    assert first - last in (0, 1)
    prepare(folder / "book", {"a.toml": text_of(first), "b.toml": text_of(first)})
    assert number_in((folder / "book" / "b.toml").read_bytes()) == first
    json.loads((folder / "book" / ".modelmath" / "copied.json").read_bytes())
    return last


KINDS = {
    "cut plans": Kind(full, accept_on, accepted),
    "exports": Kind(lambda to: export(to, 0), export_on, exported),
    "packets": Kind(lambda to: pages_of(to, text_of(0).decode()), print_on, printed),
    "shelf": Kind(lambda to: save_shelf(shelved(0), to / "shelf.toml"), shelve_on, on_shelf),
    "jobs opened last": Kind(lambda to: note_job(to, "job-0", NOON), note_on, noted),
}


# Two at once: each does so many, and says how often the other was faster.


def cut_many(folder: Path, times: int, done: Connection) -> None:
    """Accept so many cut plans."""
    for _ in range(times):
        change_drawer(folder / "drawer.json", lambda held: after_cutting(held, cutting()), "cutting")
    done.send(0)


def put_in_many(folder: Path, times: int, done: Connection) -> None:
    """Put so many drills into the drawer, each over the state last read."""
    conflicts, file = 0, folder / "drawer.json"
    for _ in range(times):
        while True:
            kept = load_drawer(file)
            had = next((each.count for each in kept.drawer.items if each.kind == "drill"), 0)
            rest = [each for each in kept.drawer.items if each.kind != "drill"]
            try:
                save_drawer(file, Drawer((*rest, Item("drill", "#67", count=had + 1))), kept.revision, "one more")
                break
            except DrawerChanged:
                conflicts += 1
    done.send(conflicts)


def shelve_many(folder: Path, times: int, done: Connection) -> None:
    """Put so many rules on the shelf, each over the state last read."""
    import os

    conflicts = 0
    for number in range(times):
        while True:
            there = open_shelf(folder / "shelf.toml")
            mine = shelved(0).rules[0].model_copy(update={"name": f"{os.getpid()} {number}"})
            try:
                save_shelf(there.shelf.model_copy(update={"rules": [*there.shelf.rules, mine]}), there.file, there.mark)
                break
            except ShelfChanged:
                conflicts += 1
    done.send(conflicts)


def note_many(folder: Path, times: int, done: Connection) -> None:
    """Note so many jobs."""
    import os

    for number in range(times):
        note_job(folder, f"{os.getpid()}-{number}", NOON + timedelta(seconds=number))
    done.send(0)


def prefer_inches(folder: Path, times: int, done: Connection) -> None:
    """Change the unit on a page, so often; in the end it is inches."""
    for number in range(times):
        units = ("mm", "inch") if number % 2 == times % 2 else ("inch", "mm")
        change_preferences(folder, Preferences(units[1]), Preferences(units[0]))
    change_preferences(folder, Preferences("mm"), Preferences("inch"))
    done.send(0)


def prefer_large(folder: Path, times: int, done: Connection) -> None:
    """Change the size of the type on another page, so often; in the end it is large."""
    for number in range(times):
        sizes = ("usual", "very large") if number % 2 else ("very large", "usual")
        change_preferences(folder, Preferences("mm", sizes[1]), Preferences("mm", sizes[0]))
    change_preferences(folder, Preferences("mm", "usual"), Preferences("mm", "large"))
    done.send(0)


def print_many(folder: Path, times: int, done: Connection) -> None:
    """Write so many files for a model of one's own, whose name gives the file name that another's gives too."""
    import os

    model = f"hood {os.getpid()}"
    for number in range(times):
        write_into(folder, "hood.pdf", f"{model} {number}".encode(), "the packet", model)
    done.send(0)
