"""A job copied to the next model.

Readings keep their names, their rules and the zones they belong to, so that the next model is measured by the same
list; each is marked as copied from the other model, and the plan says so first until it is read here. Emptying them
alone would lose the structure; keeping them unmarked would lead to cutting from another model's sizes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from modelmath.errors import WrongKind
from modelmath.job.document import FORMAT, Job
from modelmath.job.fields.base import Entry
from modelmath.job.next_model.marked import MOST_NAMES, listed
from modelmath.job.next_model.treatments import FIELDS, WHOLE, WORDS, Carry
from modelmath.job.rescaled.taking_over import to_scale
from modelmath.job.rescaled.walk import PLACE_WORDS
from modelmath.job.storage.faults import form_fault

NOT_MEASURED = "not measured"  # instead of a mark: no plan is worked out from it
MOST_NOTES = 2000  # characters, as the document's field
_CALLED = ("name", "lamp", "strip", "sheet")  # what a table is known by, the first that it has
ALL = 1000  # names in a row: more than a job holds


@dataclass(frozen=True)
class Copied:
    """A job for the next model.

    Attributes
    ----------
    job : Job
        The job; its readings are marked as copied. [-]
    carried : tuple of str
        What carries over, a line for each table. [-]
    measure_again : tuple of str
        What must be measured or entered again, a line for each table or thing. [-]
    """

    job: Job
    carried: tuple[str, ...]
    measure_again: tuple[str, ...]


def copied(job: Job, name: str, scale: str | None = None, keep_readings: bool = False) -> Copied:
    """Copy a job to the next model.

    Rules, drawer, speaker, decoder, lamps and what they are, clearances and build choices carry over. Readings belong
    to one shell and one chassis. They keep their names, rules and links, and each is marked as copied; the mark goes
    once the reading is typed anew. With `keep_readings` their marks stay as a first guess, so that the walkthrough has
    a plan to show from the start, with a caution before everything else. Without, ``not measured`` stands in place of
    each mark, and nothing is worked out until every one is read: nobody can cut from another model's sizes.

    What stands or moves in the shell is kept with its readings, since a plan without it would use space that is not
    there. Where lamps and strands sit, how far leads run, holes moved by hand, weights and progress are left out.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    name : str
        The next model's name. [-]
    scale : str or None
        The next model's scale; None for the same. [-]
    keep_readings : bool
        Whether the marks stay, as a first guess. [-]

    Returns
    -------
    Copied
        The new job, what carried over, what to measure again. [-]

    Raises
    ------
    WrongKind
        If it has the other model's name.
    JobError
        If the name can't be one, or something of the job can't be read for another scale.
    UnknownScale
        If no scale is called so.

    References
    ----------
    What belongs to one shell and one chassis: common practice, no source.

    Examples
    --------
    >>> from modelmath.job.storage.files import load_job
    >>> from modelmath.tables import data_folder
    >>> next_one = copied(load_job(data_folder() / "jobs" / "railcar-n.toml"), "Railcar No. 2")
    >>> next_one.job.readings[0].mark, next_one.job.readings[0].copied == "Railcar No. 2"
    ('not measured', False)
    """
    if " ".join(name.split()) == " ".join(job.name.split()):
        expected = "another than that of the model it is copied from"
        raise WrongKind("the next model's name", repr(name), expected, "Give it a name of its own.")
    bare = Job.model_validate(_kept(job))
    there = bare if scale is None else to_scale(bare, scale)
    document = there.model_dump()
    for entry in document["readings"]:
        entry |= {"copied": entry["copied"] or job.name, "moved_from": None}
    if not keep_readings:
        _empty(document, bare)
    document |= {"format": FORMAT, "name": name, "notes": _notes(job, there)}
    try:
        made = Job.model_validate(document)
    except ValidationError as fault:
        raise form_fault("the copy", "", document, fault.errors(include_url=False)[0]) from None
    return Copied(made, tuple(_carried(bare)), tuple(_again(job, ALL)))


def _empty(document: dict[str, Any], bare: Job) -> None:
    """Take the marks off the readings, and give each the rule it is read with again."""
    own = {each.name: each for each in bare.readings}
    for entry in document["readings"]:
        was = own[entry["name"]]
        entry |= {"mark": NOT_MEASURED, "again": [], "rule": was.rule, "datum": was.datum}
    rules = {each.name for each in bare.rules}
    document["rules"] = [each for each in document["rules"] if each["name"] in rules]


# What is kept of the document.


def _kept(job: Job) -> dict[str, Any]:
    document = job.model_dump()
    document |= {"notes": ""}
    _leave_out(job, document)
    return document


def _leave_out(entry: Entry, table: dict[str, Any]) -> None:
    """Give every field that is left out its usual value."""
    for field, carry in _fields(entry):
        value = getattr(entry, field)
        if carry == "left out" and value not in PLACE_WORDS:
            table[field] = _dumped(_usual(type(entry).model_fields[field]))
        elif carry == "table":
            for below, inner in zip(_entries(value), _tables(table[field]), strict=True):
                _leave_out(below, inner)


def _fields(entry: Entry) -> Iterator[tuple[str, Carry]]:
    """Yield each field of a table with what becomes of it."""
    kind = type(entry).__name__
    whole = WHOLE.get(kind)
    yield from FIELDS[kind].items() if whole is None else ((field, whole) for field in type(entry).model_fields)


def _entries(value: Any) -> list[Entry]:
    return [each for each in (value if isinstance(value, list) else [value]) if isinstance(each, Entry)]


def _tables(value: Any) -> list[dict[str, Any]]:
    return [each for each in (value if isinstance(value, list) else [value]) if isinstance(each, dict)]


def _usual(field: FieldInfo) -> Any:
    return field.get_default(call_default_factory=True)


def _dumped(value: Any) -> Any:
    return value.model_dump() if isinstance(value, Entry) else value


# What is said of it.


def _carried(job: Job) -> Iterator[str]:
    """Yield what the copy has from the other model."""
    for field, carry in FIELDS["Job"].items():
        value = getattr(job, field)
        if carry in ("carries", "table") and value and value != _usual(Job.model_fields[field]):
            yield _line(WORDS[field], value, ALL)


def _again(job: Job, most: int) -> Iterator[str]:
    """Yield what of a job is to be measured or entered again, each line with so many names at most."""
    yield _line(WORDS["readings"], job.readings, most)
    yield from _told(job, "", (), most)


def _told(entry: Entry, what: str, named: tuple[str, ...], most: int) -> Iterator[str]:
    """Yield what to measure of a table's own fields, then of the tables below it."""
    own: list[str] = []
    for field, carry in _fields(entry):
        value = getattr(entry, field)
        if value is None or value == _usual(type(entry).model_fields[field]) or value in PLACE_WORDS:
            continue
        if carry in ("measure", "left out"):
            if field in WORDS:
                yield f"{_line(WORDS[field], value, most)} (left out)"
            else:
                own.append(field.replace("_", " "))
        elif carry == "table":
            for below in _entries(value):
                yield from _told(below, WORDS[field], _names([below]), most)
    if own and what and what != WORDS["build"]:
        yield f"{' '.join((what, *(listed([each]) for each in named)))}: {', '.join(own)}"


def _line(words: str, value: Any, most: int) -> str:
    names = _names(_entries(value))
    return f"{words}: {listed(names, most)}" if names else words


def _names(entries: list[Entry]) -> tuple[str, ...]:
    return tuple(name for name in map(_name, entries) if name)


def _name(entry: Entry) -> str:
    return str(next((getattr(entry, key) for key in _CALLED if getattr(entry, key, None)), ""))


def _notes(job: Job, there: Job) -> str:
    """Say where the job comes from and what to measure: as much as the field holds, and how much more there is."""
    taken = f", taken over from {job.scale} to {there.scale}" if there.scale != job.scale else ""
    again = list(_again(job, MOST_NAMES))
    notes = f"Copied from {job.name}{taken}. Measure or enter again before you cut: "
    for number, each in enumerate(again):
        more = f"and {len(again) - number} more."
        if len(notes) + len(each) + len(more) + 2 > MOST_NOTES:
            return notes + more
        notes += f"{each}{'.' if number == len(again) - 1 else '; '}"
    return notes
