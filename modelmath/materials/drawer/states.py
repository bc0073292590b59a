"""What the drawer's file holds: its states, the present one among them, as JSON; read strictly, written exactly."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import Any

from modelmath.errors import ModelMathError
from modelmath.materials.drawer.demo import demo_drawer
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.items import SIZES, Item, read_name

FORMAT = 1
LARGEST = 20_000_000  # bytes


class DrawerFault(ModelMathError):
    """A drawer's file that can't be read or written: which, why, what to do."""

    def __init__(self, file: str, problem: str, write: str) -> None:
        super().__init__(file, problem, write)
        self.file, self.problem, self.write = file, problem, write

    def __str__(self) -> str:
        return f"{self.file}: {self.problem}; {self.write}."


@dataclass
class State:
    """A drawer as its rows stand in the file, the words that mark it, and the change that led to it.

    Attributes
    ----------
    what, demo : str
        The change, and the words that mark invented data. [-]
    rows : list
        As in the file. [-]
    """

    what: str
    demo: str
    rows: list[Any]

    @classmethod
    def of(cls, what: str, drawer: Drawer) -> State:
        """Return the state of a drawer after a change.

        Parameters
        ----------
        what : str
            The change. [-]
        drawer : Drawer
            The drawer. [mm]

        Returns
        -------
        State
            The same, as rows. [-]

        References
        ----------
        None needed.
        """
        return cls(what, drawer.demo, [_row(item) for item in drawer.items])

    @property
    def drawer(self) -> Drawer:
        """The drawer; raises one of `BROKEN` where its rows are no drawer's. [mm]"""
        return Drawer(tuple(_item(row) for row in self.rows), self.demo)


@dataclass
class Content:
    """What the file holds.

    Attributes
    ----------
    states : list of State
        The oldest first, with those that were undone. [-]
    at : int
        Which of them is the present one. [-]
    number : int
        A number that only grows, so that no two states have one mark. [-]
    """

    states: list[State]
    at: int
    number: int = 0

    @property
    def present(self) -> State:
        """The present state. [-]"""
        return self.states[self.at]


BROKEN = (ValueError, TypeError, KeyError, AttributeError, ArithmeticError, RecursionError)  # of a file by another hand


def read_content(file: Path) -> tuple[Content, str]:
    """Return what the drawer's file holds, and its mark; where there is no file yet, the demo drawer.

    Parameters
    ----------
    file : Path
        The file. [-]

    Returns
    -------
    tuple of (Content, str)
        Its states, of which the present one is sound, and a digest of all of it. [-]

    Raises
    ------
    DrawerFault
        If it can't be read, or holds no drawer.

    References
    ----------
    ECMA-404 for JSON.
    """
    try:
        if file.stat().st_size > LARGEST:
            raise DrawerFault(file.name, f"it is larger than {LARGEST // 1_000_000} MB", "put it elsewhere")
        raw = file.read_bytes()
    except FileNotFoundError:
        return Content([State.of("", demo_drawer())], 0), ""
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
    except BROKEN as fault:
        problem = f"it holds no drawer that can be read ({type(fault).__name__})"
        advice = "move it away to begin a new drawer, or put back a copy; it was left as it is"
        raise DrawerFault(file.name, problem, advice) from None
    return content, sha256(raw).hexdigest()


def _understood(found: Any) -> Content:
    if type(found["format"]) is not int:
        raise TypeError("format")
    states = [State(_text(each["what"]), _text(each["demo"]), each["items"]) for each in found["states"]]
    at, number = found["at"], found["number"]
    if not (type(at) is type(number) is int and 0 <= at < len(states)):
        raise ValueError("at")
    _ = states[at].drawer  # only the present state is looked at whole: with fifty of them, reading all would be slow
    return Content(states, at, number)


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError("text")
    value.encode()  # half a character, which JSON can hold, could not be written again
    return value


def to_bytes(content: Content) -> tuple[Content, bytes]:
    """Return the file for some states, without the oldest ones where all of them would be too much to read back.

    Parameters
    ----------
    content : Content
        The states. [-]

    Returns
    -------
    tuple of (Content, bytes)
        The states that are kept, and the file. [-]

    References
    ----------
    ECMA-404 for JSON.
    """
    raw = _raw(content)
    while len(raw) > LARGEST and content.at > 0:
        content = Content(content.states[1:], content.at - 1, content.number)
        raw = _raw(content)
    return content, raw


def _raw(content: Content) -> bytes:
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


def _exact(text: str) -> Fraction:
    """Return a size as it is written; a power of ten never is, and one such as 1e999999999 would take hours."""
    if "e" in text.casefold():
        raise ValueError("power of ten")
    return Fraction(text)


def _item(row: dict[str, Any]) -> Item:
    sizes = {f"{size}_mm": _exact(_text(row[f"{size}_mm"])) for size in SIZES if f"{size}_mm" in row}
    name = read_name(_text(row["kind"]), _text(row["name"]))
    offcut = row.get("offcut", False)
    if not isinstance(offcut, bool):
        raise TypeError("offcut")
    return Item(row["kind"], name, count=row["count"], offcut=offcut, note=_text(row.get("note", "")), **sizes)
