"""Wires that run together from here to there, as text and back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from modelmath.job.bench.lights import KINDS
from modelmath.job.document import Job, LeadEntry
from modelmath.job.entries.inside.form import YES_NO, Form, text_of, word_for
from modelmath.job.entries.inside.sound import read_name
from modelmath.job.entries.inside.words import count
from modelmath.job.entries.lit.known import read_known
from modelmath.job.entries.lit.row import in_row, row_of, without
from modelmath.job.entries.screen import Outcome

WORDS = {"colour": "the colour", "gauge": "the gauge", "output": "the output", "wires": "the wires"}
FIELDS = ("name", "run", "slack", "count", *WORDS, "current", "crosses")
NEEDED = {
    "name": "Write a name for it, such as common of the lamps.",
    "run": "Write how far it runs, such as 80 mm.",
}


def lead_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return a lead as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of the leads, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: `FIELDS`. [-]

    References
    ----------
    None needed.
    """
    if place is None:
        return {**dict.fromkeys(FIELDS, ""), "crosses": word_for(YES_NO, False)}
    entry = job.light.leads[place]
    found = {name: text_of(entry, name) for name in ("slack", "count", *WORDS, "current")}
    return {"name": entry.name, "run": entry.run, **found, "crosses": word_for(YES_NO, entry.crosses)}


def with_lead(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which a lead is as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of the leads, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `lead_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, lead_texts(job, place))
    entry, at = row_of(form, "leads", place, LeadEntry(name="new", run="1 mm").model_dump())
    for name, message in NEEDED.items():
        form.need(name, message, place is None)
    form.note("name", lambda: _word(form, entry, "name", "the lead", None))
    if form.typed["run"]:
        form.size(entry, LeadEntry, "run", "run", zero=False)
    form.size(entry, LeadEntry, "slack", "slack")
    count(form, entry, LeadEntry, "count", "wires")
    for name, what in WORDS.items():
        form.note(name, lambda name=name, what=what: _word(form, entry, name, what, None))  # type: ignore[misc]
    read_known(form, entry, "current", "current", KINDS["current"])
    form.choose(entry, "crosses", "crosses", YES_NO, "whether it goes from chassis to shell")
    return form.outcome(in_row("leads", at, FIELDS))


def without_lead(job: Job, place: int) -> Job:
    """Return a job without one of its leads.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of the leads, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    return without(job, "leads", place)


def _word(form: Form, entry: dict[str, Any], name: str, what: str, usual: str | None) -> str:
    text = form.typed[name]
    if text:
        read_name(text, what)
    if not form.kept(name) and (text or name != "name"):
        entry[name] = text or usual
    return ""
