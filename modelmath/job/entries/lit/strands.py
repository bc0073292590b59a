"""A strand with its lens, as text and back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.job.document import Job, SpotEntry, StrandEntry
from modelmath.job.entries.inside.form import YES_NO, Form, text_of, word_for
from modelmath.job.entries.inside.sound import read_name
from modelmath.job.entries.lit.row import in_row, row_of, without
from modelmath.job.entries.lit.spots import read_spot, read_spots, spot_text, spots_text
from modelmath.job.entries.screen import Outcome
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.text import format_length

SIZES = ("bore", "diameter", "length")  # none of them 0
GAPS = ("radius", "play", "slack", "trim")
FIELDS = ("name", "lamp", "to", "via", "formed", *GAPS, *SIZES, "prototype", "trial")
NEEDED = {
    "name": "Write a name for it, such as left headlight.",
    "lamp": "Write which of the lamps it leads from, by its name.",
    "to": "Write where its lens ends, in its casting, such as -6 mm, 24 mm up, 3 mm right.",
}
TRIAL = (0.2, 5.0)


def strand_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return a strand as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of the strands, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: `FIELDS`. [-]

    References
    ----------
    None needed.
    """
    if place is None:
        return {**dict.fromkeys(FIELDS, ""), "formed": word_for(YES_NO, False)}
    entry = job.light.strands[place]
    found = {name: text_of(entry, name) for name in (*GAPS, *SIZES, "prototype", "trial")}
    led = {"to": spot_text(entry.to), "via": spots_text(entry.via), "formed": word_for(YES_NO, entry.formed)}
    return {"name": entry.name, "lamp": entry.lamp, **led, **found}


def with_strand(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which a strand is as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of the strands, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `strand_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, strand_texts(job, place))
    new = place is None
    here = SpotEntry(along="0 mm", up="0 mm")
    entry, at = row_of(form, "strands", place, StrandEntry(name="new", lamp="new", to=here).model_dump())
    before = None if place is None else job.light.strands[place]
    for name, message in NEEDED.items():
        form.need(name, message, new)
    for name in ("name", "lamp"):
        form.note(name, lambda name=name: _word(form, entry, name))  # type: ignore[misc]
    form.note("to", lambda: _to(form, entry, before))
    form.note("via", lambda: _via(form, entry, before))
    form.choose(entry, "formed", "formed", YES_NO, "whether its bends are formed with heat")
    for name in GAPS:
        form.size(entry, StrandEntry, name, name, zero=name != "radius")
    for name in SIZES:
        form.size(entry, StrandEntry, name, name, zero=False)
    form.note("prototype", lambda: _prototype(form, entry))
    form.note("trial", lambda: _trial(form, entry))
    return form.outcome(in_row("strands", at, FIELDS))


def without_strand(job: Job, place: int) -> Job:
    """Return a job without one of its strands.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of the strands, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    return without(job, "strands", place)


def _word(form: Form, entry: dict[str, Any], name: str) -> str:
    text = form.typed[name]
    if text:
        read_name(text, "the strand" if name == "name" else "the lamp")
        entry[name] = text
    return ""


def _to(form: Form, entry: dict[str, Any], before: StrandEntry | None) -> str:
    if form.typed["to"]:
        entry["to"] = read_spot(form, form.typed["to"], None if before is None else before.to)
    return ""


def _via(form: Form, entry: dict[str, Any], before: StrandEntry | None) -> str:
    entry["via"] = read_spots(form, form.typed["via"], () if before is None else before.via)
    return ""


def _prototype(form: Form, entry: dict[str, Any]) -> str:
    text = form.typed["prototype"]
    if not form.kept("prototype"):
        entry["prototype"] = text or None
    if not text:
        return ""
    from modelmath.lengths.scales import scale

    return format_length(float(scale(form.job.scale).model_mm(parse_prototype(text))), "mm") + " on the model"


def _trial(form: Form, entry: dict[str, Any]) -> str:
    text, usual = form.typed["trial"], StrandEntry.model_fields["trial"].default
    if not text:
        if not form.kept("trial"):
            entry["trial"] = usual
        return ""
    if not re.fullmatch(r"[0-9]{1,2}([.,][0-9]{1,4})?", text):
        raise WrongKind("the factor of trial ends", shown(text), "a number such as 1.1", "Write 1 for none.")
    value = float(text.replace(",", "."))
    if not TRIAL[0] <= value <= TRIAL[1]:
        expected = f"from {TRIAL[0]:g} to {TRIAL[1]:g}"
        raise OutOfRange("the factor of trial ends", text, expected, "Form a few trial ends and measure them again.")
    if not form.kept("trial"):
        entry["trial"] = value
    return ""
