"""What each field of a job file is, with its unit and an example: `data/reference/job-fields.csv`, a row for each."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args, get_origin

from pydantic.fields import FieldInfo

from modelmath.errors import TableError
from modelmath.job.document import Entry, Job
from modelmath.tables import data_folder

FILE = "reference/job-fields.csv"
# What stands in the column of units, in words.
UNITS = {
    "-": "",
    "length": "a length with its unit, such as 0.7 mm, .040 in or 1/4 scale ft",
    "mark": "a mark of the rule, a bare number in its unit; or a length with its unit",
    "place": "a length with its unit; below 0 the other way",
    "prototype": "a length of the prototype with its unit, such as 6 in",
    "ratio": "a number",
    "table": "a table",
    "tables": "any number of tables",
}


@dataclass(frozen=True)
class Described:
    """One field.

    Attributes
    ----------
    meaning : str
        What it is. [-]
    unit : str
        A unit, or one of `UNITS`. [-]
    example : str, number, bool, list or None
        A value as it is read; None for a table. [-]
    """

    meaning: str
    unit: str
    example: Any


def tables_of_a_job() -> tuple[type[Entry], ...]:
    """Return every table of the document, each once, in the document's order; the job itself first.

    Returns
    -------
    tuple of type
        Subclasses of `Entry`. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> [table.__name__ for table in tables_of_a_job()[:3]]
    ['Job', 'RuleEntry', 'Marking']
    """
    found: dict[type[Entry], None] = {Job: None}
    for table in found.copy():
        _add(table, found)
    return tuple(found)


def _add(table: type[Entry], found: dict[type[Entry], None]) -> None:
    for field in table.model_fields.values():
        for inner in entries_of(field.annotation):
            if inner not in found:
                found[inner] = None
                _add(inner, found)


def entries_of(annotation: Any) -> Iterator[type[Entry]]:
    """Yield the tables that a field's annotation names.

    Parameters
    ----------
    annotation : type
        Of the field. [-]

    Yields
    ------
    type
        Subclasses of `Entry`. [-]

    References
    ----------
    None needed.
    """
    if isinstance(annotation, type) and get_origin(annotation) is None and issubclass(annotation, Entry):
        yield annotation
    for each in get_args(annotation):
        yield from entries_of(each)


@cache
def _rows() -> dict[tuple[str, str], Described]:
    found: dict[tuple[str, str], Described] = {}
    reader = csv.DictReader((data_folder() / FILE).read_text("utf-8").splitlines())
    for row in reader:
        if None in row or None in row.values() or not row["meaning"]:
            raise TableError(FILE, reader.line_num, "it has more or fewer fields than the header")
        place = row["table"], row["field"]
        if place in found:
            raise TableError(FILE, reader.line_num, f"{place[1]} of {place[0]} stands twice")
        found[place] = Described(row["meaning"], row["unit"], row["example"] or None)
    return found


def rows_of_fields() -> tuple[tuple[str, str], ...]:
    """Return which fields the table describes.

    Returns
    -------
    tuple of (str, str)
        Table and field. [-]

    References
    ----------
    data/reference/job-fields.csv.
    """
    return tuple(_rows())


def described(table: type[Entry], name: str) -> Described:
    """Return what a field is.

    Parameters
    ----------
    table : type
        A table of the document. [-]
    name : str
        One of its fields, its own or one that it has from the table it extends. [-]

    Returns
    -------
    Described
        Meaning, unit, example. [-]

    Raises
    ------
    TableError
        If the table has no row for it.

    References
    ----------
    data/reference/job-fields.csv.

    Examples
    --------
    >>> described(Job, "scale").example
    'HO'
    """
    for owner in table.__mro__:
        if (row := _rows().get((owner.__name__, name))) is not None:
            return Described(row.meaning, row.unit, _value(row.example, table.model_fields[name]))
    raise TableError(FILE, 1, f"no row for {name} of {table.__name__}; add one, and write the reference anew")


def _value(text: str | None, field: FieldInfo) -> Any:
    """Return an example as the kind of value that its field takes: text as it stands, all else as TOML."""
    if text is None or is_text(field):
        return text
    return tomllib.loads(f"x = {text}")["x"]


def is_text(field: FieldInfo) -> bool:
    """Return whether a field's value is written in quotes.

    Parameters
    ----------
    field : FieldInfo
        The field. [-]

    Returns
    -------
    bool
        Whether it is a text or one word of several. [-]

    References
    ----------
    None needed.
    """
    return not ({bool, int, float} & set(_kinds(field.annotation)) or "list" in str(field.annotation))


def _kinds(annotation: Any) -> Iterator[Any]:
    yield annotation
    for each in get_args(annotation):
        yield from _kinds(each)
