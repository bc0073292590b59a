"""The drawer's file: several pages and notebooks share it, and none overwrites another's change unseen.

The file holds the drawer, its earlier states and those undone, so that a change and the way back are written
together, whole or not at all. Its mark is a digest of all of it: who saves says which state the change goes by.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import Any

from modelmath.errors import ModelMathError
from modelmath.files import write_whole
from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import SIZES, Item, read_name

FORMAT = 1
LARGEST = 20_000_000  # bytes
KEPT_STATES = 50  # earlier states; the oldest goes when one more comes
WAIT_S = 10  # for another page that is writing; a write takes a fraction of a second


class DrawerFault(ModelMathError):
    """A drawer's file that can't be read or written: which, why, what to do."""

    def __init__(self, file: str, problem: str, write: str) -> None:
        super().__init__(file, problem, write)
        self.file, self.problem, self.write = file, problem, write

    def __str__(self) -> str:
        return f"{self.file}: {self.problem}; {self.write}."


class DrawerChanged(ModelMathError):
    """The drawer was changed elsewhere since it was read: nothing was written."""

    def __init__(self, theirs: Kept) -> None:
        super().__init__(theirs)
        self.theirs = theirs

    def __str__(self) -> str:
        return (
            f"The drawer was changed elsewhere in the meantime ({self.theirs.what or 'a new drawer'}). Nothing was "
            "written: take over what is there now, or save yours over it."
        )


@dataclass(frozen=True)
class Kept:
    """The drawer as its file has it.

    Attributes
    ----------
    drawer : Drawer
        What is on hand. [mm]
    revision : str
        Mark of this state; empty where there is no file yet. [-]
    what : str
        The last change in a few words. [-]
    undoes, redoes : str
        What undoing and redoing would change, in a few words; empty where there is nothing to. [-]
    """

    drawer: Drawer
    revision: str = ""
    what: str = ""
    undoes: str = ""
    redoes: str = ""

    @property
    def can_undo(self) -> bool:
        """Whether there is an earlier state. [-]"""
        return bool(self.undoes)

    @property
    def can_redo(self) -> bool:
        """Whether a change was undone, and none made since. [-]"""
        return bool(self.redoes)


@dataclass
class _State:
    """A drawer as its rows stand in the file, the words that mark it, and the change that led to it."""

    what: str
    demo: str
    rows: list[Any]

    @classmethod
    def of(cls, what: str, drawer: Drawer) -> _State:
        return cls(what, drawer.demo, [_row(item) for item in drawer.items])

    @property
    def drawer(self) -> Drawer:
        return Drawer(tuple(_item(row) for row in self.rows), self.demo)


@dataclass
class _Content:
    """What the file holds: the states, and which of them is the present one; a number that only grows."""

    states: list[_State]
    at: int
    number: int = 0

    @property
    def present(self) -> _State:
        return self.states[self.at]


def load_drawer(file: Path) -> Kept:
    """Read the drawer; where there is no file yet, the demo drawer.

    Parameters
    ----------
    file : Path
        Its file. [-]

    Returns
    -------
    Kept
        The drawer and the mark of its state. [mm]

    Raises
    ------
    DrawerFault
        If the file can't be read, or is no drawer.

    References
    ----------
    ECMA-404 for JSON.
    """
    return _kept(*_read(file))


def save_drawer(file: Path, drawer: Drawer, based_on: str, what: str, over: bool = False) -> Kept:
    """Write the drawer anew, if it is still as it was when it was read.

    Parameters
    ----------
    file : Path
        Its file. [-]
    drawer : Drawer
        What is on hand now. [mm]
    based_on : str
        `Kept.revision` of the state that was changed. [-]
    what : str
        The change in a few words. [-]
    over : bool
        Whether to write even over a change made elsewhere, which can then be undone to. [-]

    Returns
    -------
    Kept
        The new state. [mm]

    Raises
    ------
    DrawerChanged
        If it was changed elsewhere; holds that state.
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    Optimistic concurrency control: H. T. Kung and J. T. Robinson, ACM TODS 6 (1981) 213.
    """
    with _locked(file):
        content, mark = _read(file)
        if mark != based_on and not over:
            raise DrawerChanged(_kept(content, mark))
        return _written(file, _with(content, drawer, what))


def change_drawer(file: Path, change: Callable[[Drawer], Drawer], what: str) -> Kept:
    """Change the drawer as it is now, whatever it was before; no other change comes between.

    Parameters
    ----------
    file : Path
        Its file. [-]
    change : function of Drawer
        Returns the drawer changed; where it raises, nothing is written. [-]
    what : str
        The change in a few words. [-]

    Returns
    -------
    Kept
        The new state. [mm]

    Raises
    ------
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    As `save_drawer`.
    """
    with _locked(file):
        content, _ = _read(file)
        return _written(file, _with(content, change(content.present.drawer), what))


def undo(file: Path, based_on: str) -> Kept:
    """Go back to the state before the last change.

    Parameters
    ----------
    file : Path
        Its file. [-]
    based_on : str
        `Kept.revision` of the state that is undone. [-]

    Returns
    -------
    Kept
        The earlier state; as it is where there is none. [mm]

    Raises
    ------
    DrawerChanged
        If it was changed elsewhere in the meantime.
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    None needed.
    """
    return _moved(file, based_on, -1)


def redo(file: Path, based_on: str) -> Kept:
    """Make the change again that was undone last.

    Parameters
    ----------
    file : Path
        Its file. [-]
    based_on : str
        `Kept.revision` of the present state. [-]

    Returns
    -------
    Kept
        The state after it; as it is where nothing was undone. [mm]

    Raises
    ------
    DrawerChanged
        If it was changed elsewhere in the meantime.
    DrawerFault
        If the file can't be read or written.

    References
    ----------
    None needed.
    """
    return _moved(file, based_on, 1)


def _moved(file: Path, based_on: str, by: int) -> Kept:
    with _locked(file):
        content, mark = _read(file)
        if mark != based_on:
            raise DrawerChanged(_kept(content, mark))
        if not 0 <= content.at + by < len(content.states):
            return _kept(content, mark)
        return _written(file, _Content(content.states, content.at + by, content.number))


def _with(content: _Content, drawer: Drawer, what: str) -> _Content:
    states = [*content.states[: content.at + 1], _State.of(what, drawer)][-KEPT_STATES - 1 :]
    return _Content(states, len(states) - 1, content.number)


def _kept(content: _Content, mark: str) -> Kept:
    undoes = content.present.what if content.at else ""
    redoes = content.states[content.at + 1].what if content.at + 1 < len(content.states) else ""
    return Kept(content.present.drawer, mark, content.present.what, undoes, redoes)


@contextmanager
def _locked(file: Path) -> Iterator[None]:
    """Keep every other page from writing; a lock left by one that died is free again.

    The lock lies beside the file itself, whatever links lead to it.
    """
    from filelock import FileLock, Timeout

    try:
        real = file.resolve()
        lock = FileLock(str(real.with_name(f".{real.name}.lock")), timeout=WAIT_S)
        file.parent.mkdir(parents=True, exist_ok=True)
        lock.acquire()
    except Timeout:
        problem = f"another page has been writing it for {WAIT_S} s"
        raise DrawerFault(file.name, problem, "close other pages of the workbook and try again") from None
    except OSError as fault:
        raise _refused(file, fault) from None
    try:
        yield
    finally:
        lock.release()


def _refused(file: Path, fault: OSError) -> DrawerFault:
    reason = (fault.strerror or "the folder refuses").lower()
    return DrawerFault(str(file), f"it can't be written: {reason}", "check the folder; nothing was changed")


def _read(file: Path) -> tuple[_Content, str]:
    try:
        if file.stat().st_size > LARGEST:
            raise DrawerFault(file.name, f"it is larger than {LARGEST // 1_000_000} MB", "put it elsewhere")
        raw = file.read_bytes()
    except FileNotFoundError:
        return _Content([_State.of("", demo_drawer())], 0), ""
    except OSError as fault:
        reason = (fault.strerror or "the system refuses").lower()
        raise DrawerFault(file.name, f"it can't be read: {reason}", "check whether you may open it") from None
    try:
        found = json.loads(raw)
        if isinstance(found, dict) and isinstance(found.get("format"), int) and found["format"] > FORMAT:
            problem = f"it has format {found['format']}, newer than this release reads ({FORMAT})"
            raise DrawerFault(file.name, problem, "install a newer release to open it")
        content = _understood(found)
    except DrawerFault:
        raise
    except (ValueError, TypeError, KeyError, AttributeError, ArithmeticError, RecursionError) as fault:
        problem = f"it holds no drawer that can be read ({type(fault).__name__})"
        advice = "move it away to begin a new drawer, or put back a copy; it was left as it is"
        raise DrawerFault(file.name, problem, advice) from None
    return content, sha256(raw).hexdigest()


def _understood(found: Any) -> _Content:
    if type(found["format"]) is not int:
        raise TypeError("format")
    states = [_State(_text(each["what"]), _text(each["demo"]), each["items"]) for each in found["states"]]
    at, number = found["at"], found["number"]
    if not (type(at) is type(number) is int and 0 <= at < len(states)):
        raise ValueError("at")
    _ = states[at].drawer  # only the present state is looked at whole; the others when they are gone back to
    return _Content(states, at, number)


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError("text")
    return value


def _written(file: Path, content: _Content) -> Kept:
    raw = _raw(content)
    while len(raw) > LARGEST and content.at > 0:  # the oldest states go first
        content = _Content(content.states[1:], content.at - 1, content.number)
        raw = _raw(content)
    if len(raw) > LARGEST:
        problem = f"it would be larger than {LARGEST // 1_000_000} MB"
        raise DrawerFault(file.name, problem, "keep fewer rows; nothing was changed")
    try:
        write_whole(file, raw)
    except OSError as fault:
        raise _refused(file, fault) from None
    return _kept(content, sha256(raw).hexdigest())


def _raw(content: _Content) -> bytes:
    states = [{"what": each.what, "demo": each.demo, "items": each.rows} for each in content.states]
    found = {"format": FORMAT, "number": content.number + 1, "at": content.at, "states": states}
    return (json.dumps(found, indent=1, ensure_ascii=False) + "\n").encode()


def _row(item: Item) -> dict[str, Any]:
    row: dict[str, Any] = {"kind": item.kind, "name": item.name, "count": item.count}
    for size in SIZES:
        value = getattr(item, f"{size}_mm")
        if value is not None:
            row[f"{size}_mm"] = str(value)  # a fraction, exact
    if item.offcut:
        row["offcut"] = True
    if item.note:
        row["note"] = item.note
    return row


def _item(row: dict[str, Any]) -> Item:
    sizes = {f"{size}_mm": Fraction(_text(row[f"{size}_mm"])) for size in SIZES if f"{size}_mm" in row}
    name = read_name(_text(row["kind"]), _text(row["name"]))
    offcut = row.get("offcut", False)
    if not isinstance(offcut, bool):
        raise TypeError("offcut")
    return Item(row["kind"], name, count=row["count"], offcut=offcut, note=_text(row.get("note", "")), **sizes)
