"""The shelf's file: read with the place of every fault, written whole or not at all."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT

from modelmath.errors import JobError, nearest
from modelmath.files import write_whole
from modelmath.job.shelf.things import SHELF_FORMAT, Shelf
from modelmath.job.storage.copies import keep_previous, locked, mark_of
from modelmath.job.storage.faults import form_fault, place_of, syntax_fault, too_deep

LARGEST = 2_000_000  # bytes; a shelf of a hundred things has some 30,000
_CANT_KEEP = (TOMLKitError, KeyError, TypeError, ValueError, AttributeError, RecursionError)
# Where in a job the tables of the shelf stand, whose messages they share.
_AS_IN_JOB = {"speakers": ("choices",), "decoders": ("decoder",)}
_HEADINGS = (("[[choices]]", "[[speakers]]"), ("[decoder]", "[[decoders]]"), ("[[circuits]]", "[lamps.circuit]"))


class ShelfChanged(JobError):
    """The shelf's file was changed elsewhere since it was read; it is left as it is."""

    def __init__(self, file: str) -> None:
        problem = "it was changed elsewhere since it was read, and is left as it is"
        super().__init__(file, "", problem, "read it again, and put on it what is still to be put there")
        self.args = (file,)


@dataclass(frozen=True)
class ShelfFile:
    """A shelf and the file it was read from.

    Attributes
    ----------
    file : Path
        The file. [-]
    shelf : Shelf
        What lies on it; nothing where there is no file yet. [-]
    mark : str
        What the file was when it was read, for `save_shelf`; empty where there was none. [-]
    """

    file: Path
    shelf: Shelf
    mark: str


def load_shelf(path: str | os.PathLike[str]) -> Shelf:
    """Read a shelf's file.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    Shelf
        An empty one where there is no file yet. [-]

    Raises
    ------
    JobError
        For the first thing wrong: which file, line and field, what was given, what to write.

    References
    ----------
    TOML 1.0.0.
    """
    return open_shelf(path).shelf


def open_shelf(path: str | os.PathLike[str]) -> ShelfFile:
    """Read a shelf's file that is to be saved again.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    ShelfFile
        The shelf, with what the file was. [-]

    Raises
    ------
    JobError
        As `load_shelf`.

    References
    ----------
    TOML 1.0.0.
    """
    file = Path(path)
    content = _content(file)
    if content is None:
        return ShelfFile(file, Shelf(), "")
    return ShelfFile(file, _parsed(_text(content, file.name), file.name), mark_of(content))


def save_shelf(shelf: Shelf, path: str | os.PathLike[str], since: str | None = None) -> ShelfFile:
    """Write a shelf's file, whole or not at all. Comments survive beside everything that stays as it is.

    Parameters
    ----------
    shelf : Shelf
        The shelf. [-]
    path : str or path
        Where to. [-]
    since : str or None
        What the file was when the shelf was read, as `ShelfFile.mark`; None to write over whatever is there. [-]

    Returns
    -------
    ShelfFile
        The shelf as it is now in the file. [-]

    Raises
    ------
    ShelfChanged
        If the file is another than `since`; it is left as it is.
    JobError
        If it can't be written, or holds no readable shelf; what was there is untouched.

    References
    ----------
    As `modelmath.files.write_whole`.
    """
    file = Path(path)
    try:
        with locked(file):
            return _store(shelf, file, since)
    except JobError:
        raise
    except (OSError, ValueError) as fault:
        reason = (getattr(fault, "strerror", None) or str(fault) or "the system refuses").lower()
        problem, write = f"it can't be written: {reason}", "choose another folder; nothing was changed"
        raise JobError(str(file), "", problem, write) from None


def _store(shelf: Shelf, file: Path, since: str | None) -> ShelfFile:
    there = _content(file)
    if since is not None and since != ("" if there is None else mark_of(there)):
        raise ShelfChanged(file.name)
    before = "" if there is None else _text(there, file.name)
    if there is not None:
        _parsed(before, file.name)  # one that can't be read may be a shelf with one quote missing
    content = shelf_text(shelf, before).encode()
    if there is not None and content != there:
        keep_previous(file, there)
    if content != there:
        write_whole(file, content, alone=True)
    return ShelfFile(file, shelf, mark_of(content))


def shelf_text(shelf: Shelf, before: str = "") -> str:
    """Return a shelf as TOML, keeping everything of an earlier text that stays as it is.

    Parameters
    ----------
    shelf : Shelf
        The shelf. [-]
    before : str
        The file as it is, if any. [-]

    Returns
    -------
    str
        TOML; fields that have their usual value are left out. [-]

    References
    ----------
    TOML 1.0.0.

    Examples
    --------
    >>> print(shelf_text(Shelf()), end="")
    format = 1
    """
    content = _written(shelf)
    if before:
        try:
            document = tomlkit.parse(before)
            for key in [key for key in document if key not in content]:
                del document[key]
            for key, value in content.items():
                _put(document, key, value)
            text = tomlkit.dumps(document)
            if _parsed(text, "") == shelf:
                return text
        except (*_CANT_KEEP, JobError):
            pass
    fresh = tomlkit.document()
    for key, value in content.items():
        fresh[key] = _tables(value, []) if isinstance(value, list) else value
    return tomlkit.dumps(fresh)


def _written(shelf: Shelf) -> dict[str, Any]:
    """Return what is written: of a rule every field that it has, as its kind sets what is usual for the others."""
    found = {"format": shelf.format, **shelf.model_dump(exclude_defaults=True, exclude_none=True)}
    if shelf.rules:
        found["rules"] = [each.model_dump(exclude_none=True) for each in shelf.rules]
    return found


def _put(document: Any, key: str, value: Any) -> None:
    old = document.get(key)
    if not isinstance(value, list):
        if old != value:
            document[key] = value
    elif not isinstance(old, AoT) or [each.unwrap() for each in old] != value:
        document[key] = _tables(value, list(old) if isinstance(old, AoT) else [])


def _tables(values: list[dict[str, Any]], old: list[Any]) -> AoT:
    """Return a list of tables; one that stays as it is keeps its comments."""
    tables = tomlkit.aot()
    for value in values:
        tables.append(next((each for each in old if each.unwrap() == value), None) or tomlkit.item(value))
    return tables


# Reading.


def _content(file: Path) -> bytes | None:
    """Return what the file holds; None where there is none."""
    try:
        if not file.exists():
            return None
        if not file.is_file():
            raise JobError(str(file), "", "it is no file", "name the shelf's file")
        if file.stat().st_size > LARGEST:
            problem = f"it is larger than {LARGEST // 1000} kB"
            raise JobError(file.name, "", problem, "choose a shelf's file, which is far smaller")
        return file.read_bytes()
    except JobError:
        raise
    except (OSError, ValueError) as fault:
        reason = (getattr(fault, "strerror", None) or str(fault)).lower()
        raise JobError(str(file), "", f"it can't be read: {reason}", "check whether you may open it") from None


def _text(content: bytes, name: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise JobError(name, f"line {line}", "it is not UTF-8 text", "save it as UTF-8") from None


def _parsed(text: str, name: str) -> Shelf:
    if fault := too_deep(name, text):
        raise fault
    try:
        document = tomllib.loads(text)
    except (ValueError, RecursionError) as refused:
        raise syntax_fault(name, refused, text) from None
    version = document.get("format", SHELF_FORMAT)
    if isinstance(version, int) and version > SHELF_FORMAT:
        problem = f"the file has format {version}, newer than this release reads ({SHELF_FORMAT})"
        where = place_of(text, ("format",), document)
        raise JobError(name, where, problem, "install a newer release to open it", ("format",))
    try:
        shelf = Shelf.model_validate(document)
    except ValidationError as refused:
        raise _in_words(name, text, document, refused.errors(include_url=False)[0]) from None
    for twice in _twice(shelf, name, text, document):
        raise twice
    return shelf


def _in_words(name: str, text: str, document: dict[str, Any], error: Any) -> JobError:
    """Return pydantic's finding in the words that a job's file has for the same field."""
    path = error["loc"]
    where = place_of(text, path, document)
    if len(path) == 1 and error["type"] == "extra_forbidden":
        fields = list(Shelf.model_fields)
        near = nearest(str(path[0]), fields, 1)
        asked = f"; did you mean {near[0]}?" if near else ""
        write = "" if near else f"use one of {', '.join(fields)}"
        return JobError(name, where, f"there is no such table{asked}", write, path)
    found = form_fault(name, text, document, {**error, "loc": _in_job(path)})
    problem, write = found.problem, found.write
    for theirs, ours in _HEADINGS:
        problem, write = problem.replace(theirs, ours), write.replace(theirs, ours)
    return JobError(name, where, problem, write, path)


def _in_job(path: tuple[Any, ...]) -> tuple[Any, ...]:
    """Return where in a job a field stands that the shelf has."""
    table, *rest = path
    below = rest[1:]
    if table == "lamps" and below[:1] == ["circuit"] and len(below) > 1:
        return ("light", "circuits", 0, *below[1:])
    if table == "decoders" and below[:1] == ["output"]:
        return ("sound", *below)
    if table == "decoders" and below[:1] == ["feed"]:
        return ("light", *below)
    if table == "decoders":
        return ("decoder", *below)
    return (*_AS_IN_JOB.get(table, (table,)), *rest)


def _twice(shelf: Shelf, name: str, text: str, document: dict[str, Any]) -> Iterator[JobError]:
    for table in ("rules", "speakers", "decoders", "lamps"):
        seen: set[str] = set()
        for place, each in enumerate(getattr(shelf, table)):
            if each.name in seen:
                path = (table, place, "name")
                where = place_of(text, path, document)
                yield JobError(name, where, f"the name '{each.name}' stands twice", "give one of the two another", path)
            seen.add(each.name)
