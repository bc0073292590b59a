"""What a job file says of itself at a glance: no plan is worked out, so that a page of many jobs opens at once."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

LARGEST: Final = 2_000_000  # bytes, as for job files
LONGEST: Final = 200  # characters of a text that are shown
UNREAD: Final = "not measured"  # stands in a job in place of a reading that is still to be taken


@dataclass(frozen=True)
class Glance:
    """A job file at a glance.

    Attributes
    ----------
    title : str
        The model's name, or its file's where that can't be read. [-]
    scale : str
        Its scale; empty where it can't be read. [-]
    demo : str
        What is invented about it; empty for a job of one's own. [-]
    notes : str
        What is noted about it. [-]
    unread : int
        How many readings are still to be taken. [-]
    done : int
        How many steps of its build are done. [-]
    readable : bool
        Whether the file could be read at all. [-]
    """

    title: str
    scale: str = ""
    demo: str = ""
    notes: str = ""
    unread: int = 0
    done: int = 0
    readable: bool = True

    @property
    def progress(self) -> str:
        """How far it is, in words."""
        if not self.readable:
            return "its file can't be read"
        if self.unread:
            return f"{self.unread} reading{'s' if self.unread > 1 else ''} still to take"
        if not self.done:
            return "measured, nothing built yet"
        return f"{self.done} step{'s' if self.done > 1 else ''} of the build done"


def glance(file: Path) -> Glance:
    """Return what a job file says of itself.

    Parameters
    ----------
    file : Path
        The job file. [-]

    Returns
    -------
    Glance
        What could be read; a damaged file has its name alone. [-]

    References
    ----------
    TOML 1.0.0.

    Examples
    --------
    >>> glance(Path("nowhere/hood-unit.toml")).progress
    "its file can't be read"
    """
    try:
        if not file.is_file() or file.stat().st_size > LARGEST:
            return Glance(file.stem, readable=False)
        held = tomllib.loads(file.read_bytes().decode("utf-8-sig"))
    except (OSError, ValueError, RecursionError):
        return Glance(file.stem, readable=False)
    return Glance(
        title=_text(held, "name") or file.stem,
        scale=_text(held, "scale"),
        demo=_text(held, "demo"),
        notes=_text(held, "notes"),
        unread=_unread(held),
        done=len(_list(_table(held, "progress"), "done")),
    )


def _unread(held: Mapping[str, Any]) -> int:
    readings = [each for each in _list(held, "readings") if isinstance(each, dict)]
    return sum(each.get("mark") == UNREAD for each in readings)


def _text(held: Mapping[str, Any], name: str) -> str:
    found = held.get(name)
    return found[:LONGEST] if isinstance(found, str) else ""


def _list(held: Mapping[str, Any], name: str) -> list[Any]:
    found = held.get(name)
    return found if isinstance(found, list) else []


def _table(held: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = held.get(name)
    return found if isinstance(found, dict) else {}
