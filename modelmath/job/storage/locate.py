"""Where in a job file something stands: the line for a path of keys, and the path in words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

Path = tuple[str | int, ...]

_TABLE = re.compile(r"\s*(\[{1,2})\s*([A-Za-z0-9_.-]+)\s*\]{1,2}")
_KEY = re.compile(r"""\s*["']?([A-Za-z0-9_-]+)["']?\s*=""")
_LONG_QUOTES = re.compile(r"""\"{3}|'{3}""")
_ONE = {
    "rules": "rule",
    "readings": "reading",
    "links": "link",
    "gauges": "gauge",
    "zones": "zone",
    "stations": "station",
    "allow": "allowance",
    "moving": "moving part",
    "obstacles": "obstacle",
    "profiles": "profile",
    "holes": "hole",
    "lamps": "lamp",
    "choices": "speaker to compare",
    "wires": "wire",
    "drawer": "drawer strip",
    "circuits": "circuit",
    "strands": "strand",
    "leads": "lead",
}


def line_of(text: str, path: Path) -> int | None:
    r"""Return the line a key, or else what it stands in, is written on, counted from 1.

    Parameters
    ----------
    text : str
        The file. [-]
    path : tuple of str and int
        Keys and list places, as ``("readings", 1, "mark")``. [-]

    Returns
    -------
    int or None
        The line; None if neither the key nor its table is written there. [-]

    References
    ----------
    TOML 1.0.0, "Table" and "Array of Tables".

    Examples
    --------
    >>> line_of('name = "x"\n[[zones]]\nname = "a"\n[[zones]]\nname = "b"', ("zones", 1, "name"))
    5
    """
    lines = _lines(text)
    least = 2 if len(path) > 1 and isinstance(path[1], int) else 1
    return next((lines[path[:count]] for count in range(len(path), least - 1, -1) if path[:count] in lines), None)


@lru_cache(maxsize=2)  # a file with many faults asks for each of them
def _lines(text: str) -> dict[Path, int]:
    """Return the line of every key and of every table that has one of its own."""
    found: dict[Path, int] = {}
    here: Path = ()
    counts: dict[Path, int] = {}
    inside_text = False
    for number, line in enumerate(text.split("\n"), start=1):
        was_inside, inside_text = inside_text, inside_text ^ (len(_LONG_QUOTES.findall(line)) % 2 == 1)
        if was_inside:
            continue  # what looks like a field there is part of a note
        if match := _TABLE.match(line):
            *above, name = match[2].split(".")
            table = (*_counted(above, counts), name)
            found.setdefault(table, number)
            if match[1] == "[[":
                counts[table] = counts.get(table, -1) + 1
                table = (*table, counts[table])
            here = table
            found.setdefault(here, number)
        elif match := _KEY.match(line):
            found.setdefault((*here, match[1]), number)
    return found


def _counted(names: Sequence[str], counts: Mapping[Path, int]) -> Path:
    """Return the path of a table, each list in it at its latest entry."""
    path: Path = ()
    for name in names:
        path = (*path, name)
        if path in counts:
            path = (*path, counts[path])
    return path


def in_words(path: Path, document: Mapping[str, Any] | None = None) -> str:
    """Return a path in words, with the entry's own name where it has one.

    Parameters
    ----------
    path : tuple of str and int
        Keys and list places. [-]
    document : mapping or None
        The parsed file, for names. [-]

    Returns
    -------
    str
        For example ``reading 2 ('roof'), mark``. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> in_words(("readings", 1, "mark"), {"readings": [{"name": "a"}, {"name": "roof"}]})
    "reading 2 ('roof'), mark"
    """
    words: list[str] = []
    at = 0
    while at < len(path):
        each, then = path[at], path[at + 1] if at + 1 < len(path) else None
        if isinstance(each, str) and isinstance(then, int) and (at == 0 or each in _ONE):
            words.append(f"{_ONE.get(each, each)} {then + 1}{_name_of(path[: at + 2], document)}")
            at += 2
            continue
        words.append(each if isinstance(each, str) else f"entry {each + 1}")
        at += 1
    return ", ".join(words)


def _name_of(path: Path, document: Mapping[str, Any] | None) -> str:
    entry: Any = document or {}
    try:
        for key in path:
            entry = entry[key]
        name = next((entry[key] for key in ("name", "strip", "lamp") if entry.get(key)), None)
    except (KeyError, IndexError, TypeError, AttributeError):
        return ""
    return f" ({str(name)[:40]!r})" if name else ""
