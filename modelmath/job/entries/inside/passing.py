"""Lamps with the strands that lead from them, and wires that pass a wall, as text and back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

from modelmath.errors import JobError
from modelmath.job.document import Job, LampEntry, WireEntry
from modelmath.job.entries.inside.form import FieldAt, Form, text_of
from modelmath.job.entries.inside.lit import carry_named, drop_named
from modelmath.job.entries.inside.moved import carry_moved
from modelmath.job.entries.inside.words import count, word
from modelmath.job.entries.screen import Outcome
from modelmath.job.fields.base import End

MOST = 50  # lamps, and wires, as many as a job may have
ENDS: Mapping[str, str] = {end: end for end in get_args(End)}
NO_STRAND = "There is no strand: empty this field, or write how thick a strand is."
LAMP_NAME = "Write a name for it, such as headlight."
LAMP_ROOM = "Write how much of the length it takes at that end, such as 6 mm."
WIRE_NAME = "Write a name for it, such as motor wires."
WIRE_DIAMETER = "Write how thick one is over its insulation, such as 0.6 mm."
TOO_MANY_LAMPS = f"A job has {MOST} lamps at most. Take one out, or enter those of one end as one."
TOO_MANY_WIRES = f"A job has {MOST} kinds of wires at most. Take one out, or enter those of one thickness as one."


def lamp_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return a lamp as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of its lamps, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: name, end, room, strand, strands, circuit. [-]

    References
    ----------
    None needed.
    """
    if place is None:
        return {**dict.fromkeys(("name", "room", "strand", "strands", "circuit"), ""), "end": "front"}
    entry = job.lamps[place]
    found = {name: text_of(entry, name) for name in ("room", "strand", "strands", "circuit")}
    return {"name": entry.name, "end": entry.end, **found}


def with_lamp(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which a lamp is as typed; what lights it and its strands' holes moved by hand follow.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of its lamps, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `lamp_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, lamp_texts(job, place))
    new = place is None
    blank = {**LampEntry(name="new", end="front", room="0 mm").model_dump(), "room": None}
    entry, at = _entry(form, "lamps", place, blank)
    form.need("name", LAMP_NAME, new)
    form.name(entry, "the lamp")
    form.choose(entry, "end", "end", ENDS, "the end")
    form.need("room", LAMP_ROOM, new)
    form.size(entry, LampEntry, "room", "room")
    form.size(entry, LampEntry, "strand", "strand", zero=False)
    count(form, entry, LampEntry, "strands", "strands")
    word(form, entry, LampEntry, "circuit", "the circuit")
    if form.typed["strands"] and not form.typed["strand"] and not (form.kept("strands") and form.kept("strand")):
        form.messages.setdefault("strands", NO_STRAND)
    if at >= MOST:
        form.messages[""] = TOO_MANY_LAMPS
    if place is not None:
        carry_named(form.document, "lamps", job.lamps[place].name, entry["name"])
    _carry(form, "strand" if not form.typed["strand"] else "strands")
    return form.outcome(_in_row("lamps", at))


def without_lamp(job: Job, place: int) -> Job:
    """Return a job without one of its lamps; what lights it, its strands and their holes moved by hand go with it.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of its lamps, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    return _without(job, "lamps", place)


def wire_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return wires of one diameter as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of its wires, from 0; None for new ones. [-]

    Returns
    -------
    dict of str to str
        By field: name, diameter, count, circuit. [-]

    References
    ----------
    None needed.
    """
    fields = ("diameter", "count", "circuit")
    if place is None:
        return dict.fromkeys(("name", *fields), "")
    entry = job.wires[place]
    return {"name": entry.name, **{name: text_of(entry, name) for name in fields}}


def with_wire(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which wires of one diameter are as typed; their holes moved by hand and their leads follow them.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of its wires, from 0; None to add some. [-]
    typed : mapping of str to str
        By field, as `wire_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, wire_texts(job, place))
    new = place is None
    blank = {**WireEntry(name="new", diameter="1 mm").model_dump(), "diameter": None}
    entry, at = _entry(form, "wires", place, blank)
    form.need("name", WIRE_NAME, new)
    form.name(entry, "the wires")
    form.need("diameter", WIRE_DIAMETER, new)
    form.size(entry, WireEntry, "diameter", "diameter", zero=False)
    count(form, entry, WireEntry, "count", "wires")
    word(form, entry, WireEntry, "circuit", "the circuit")
    if at >= MOST:
        form.messages[""] = TOO_MANY_WIRES
    if place is not None:
        carry_named(form.document, "wires", job.wires[place].name, entry["name"])
    _carry(form, "count")
    return form.outcome(_in_row("wires", at))


def without_wire(job: Job, place: int) -> Job:
    """Return a job without wires of one diameter; their holes moved by hand go with them, their leads pass none.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of its wires, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    return _without(job, "wires", place)


def _entry(form: Form, table: str, place: int | None, blank: dict[str, Any]) -> tuple[dict[str, Any], int]:
    """Return the entry of the document that a form is about, and its place; a new one is put in."""
    entries: list[dict[str, Any]] = form.document[table]
    at = len(entries) if place is None else place
    if place is None:
        entries.append(blank)
    return entries[at], at


def _carry(form: Form, field: str) -> None:
    """Let holes moved by hand follow, and say beside a field which are taken out."""
    if form.messages or form.waiting:
        return
    gone = carry_moved(form.job.model_dump(), form.document)
    if gone:
        form.echoes[field] = f"No longer moved by hand, as nothing passes there: {', '.join(gone)}"


def _without(job: Job, table: str, place: int) -> Job:
    document = job.model_dump()
    carry_moved(job.model_dump(), document, (table, place))
    drop_named(document, table, document[table].pop(place)["name"])
    return Job.model_validate(document)


def _in_row(table: str, place: int) -> FieldAt:
    """Return what says beside which field a fault of one entry belongs; of two of one name the later is told."""

    def field_at(fault: JobError, _job: Job) -> str:
        first, *rest = fault.path or ("",)
        if first != table or len(rest) < 2:
            return ""
        return str(rest[1]) if rest[0] == place or rest[1] == "name" else ""

    return field_at
