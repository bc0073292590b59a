"""The fields of a job one by one, each with its place in the document and what becomes of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from modelmath.job.document import Job
from modelmath.job.fields.base import BEST, Entry
from modelmath.job.rescaled.treatments import TREATMENTS, Treatment
from modelmath.job.storage.locate import Path

PLACE_WORDS = ("front", "middle", "rear", BEST)


class Field(NamedTuple):
    """One field of a job.

    Attributes
    ----------
    path : tuple of str and int
        Its place in the document. [-]
    treatment : Treatment
        What becomes of it in another scale. [-]
    value : object
        What is written in it. [-]
    kind : str
        The kind of table it stands in, as `TREATMENTS` calls it. [-]
    """

    path: Path
    treatment: Treatment
    value: Any
    kind: str

    @property
    def is_length(self) -> bool:
        """Whether it is a length that scales or stays: it is given, and no word for a place."""
        return self.treatment in ("scaled", "stays") and self.value is not None and self.value not in PLACE_WORDS


def fields_of(job: Job) -> Iterator[Field]:
    """Yield every field of a job that is no table itself; of a list of lengths each by itself.

    Parameters
    ----------
    job : Job
        The job. [-]

    Yields
    ------
    Field
        In the document's order. [-]

    References
    ----------
    `TREATMENTS`.

    Examples
    --------
    >>> from modelmath.job.storage.files import load_job
    >>> from modelmath.tables import data_folder
    >>> job = load_job(data_folder() / "jobs" / "railcar-n.toml")
    >>> [field.treatment for field in fields_of(job) if field.path == ("readings", 0, "mark")]
    ['taken over']
    """
    return _fields(job, ())


def _fields(entry: Entry, path: Path) -> Iterator[Field]:
    kind = type(entry).__name__
    for name, treatment in TREATMENTS[kind].items():
        value, place = getattr(entry, name), (*path, name)
        if treatment in ("scaled", "stays") and isinstance(value, list):
            yield from (Field((*place, number), treatment, each, kind) for number, each in enumerate(value))
        elif treatment != "table":
            yield Field(place, treatment, value, kind)
        elif isinstance(value, Entry):
            yield from _fields(value, place)
        else:
            for number, row in enumerate(value or ()):
                yield from _fields(row, (*place, number))


def put(document: dict[str, Any], path: Path, value: Any) -> None:
    """Write a field into a document.

    Parameters
    ----------
    document : dict
        The document, changed in place. [-]
    path : tuple of str and int
        The field's place in it. [-]
    value : object
        What is written there. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> document = {"zones": [{"name": "motor"}]}
    >>> put(document, ("zones", 0, "name"), "gear tower")
    >>> document
    {'zones': [{'name': 'gear tower'}]}
    """
    *way, last = path
    table: Any = document
    for step in way:
        table = table[step]
    table[last] = value
