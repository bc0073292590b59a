"""What a lamp is and which output drives it, as text and back."""

from __future__ import annotations

from collections.abc import Mapping

from modelmath.job.bench.lights import KINDS
from modelmath.job.document import CircuitEntry, Job
from modelmath.job.entries.inside.form import Form, text_of
from modelmath.job.entries.inside.sound import read_name
from modelmath.job.entries.inside.words import count
from modelmath.job.entries.lit.known import read_known
from modelmath.job.entries.lit.row import in_row, row_of, without
from modelmath.job.entries.lit.spots import read_spot, spot_text
from modelmath.job.entries.screen import Outcome

SOURCES: Mapping[str, str] = {
    "LED with a resistor": "LED",
    "bulb": "bulb",
    "ready made, needs nothing": "ready made",
}
QUANTITIES = ("forward", "current", "rated", "resistor")
FIELDS = ("lamp", "source", "leds", "colour", *QUANTITIES, "output", "emitter", "at")
NEEDS_LAMP = "Write which of the lamps it is, by its name."
MOST_LEDS = 20


def circuit_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return what a lamp is, as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of the circuits, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: `FIELDS`. [-]

    References
    ----------
    None needed.
    """
    if place is None:
        lamps = [each.name for each in job.lamps]
        taken = {each.lamp for each in job.light.circuits}
        free = next((name for name in lamps if name not in taken), "")
        return {**dict.fromkeys(FIELDS, ""), "lamp": free, "source": next(iter(SOURCES))}
    entry = job.light.circuits[place]
    found = {name: text_of(entry, name) for name in ("leds", "colour", *QUANTITIES, "output", "emitter")}
    source = next(word for word, kind in SOURCES.items() if kind == entry.source)
    return {"lamp": entry.lamp, "source": source, **found, "at": spot_text(entry.at)}


def with_circuit(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which a lamp is as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of the circuits, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `circuit_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, circuit_texts(job, place))
    new = place is None
    entry, at = row_of(form, "circuits", place, CircuitEntry(lamp="new").model_dump())
    form.need("lamp", NEEDS_LAMP, new)
    if new or not form.kept("lamp"):
        entry["lamp"] = form.typed["lamp"] or "new"
    form.choose(entry, "source", "source", SOURCES, "what it is")
    if new:
        entry["source"] = SOURCES.get(form.typed["source"], "LED")
    count(form, entry, CircuitEntry, "leds", "LEDs", MOST_LEDS)
    for name in ("colour", "output"):
        form.note(name, lambda name=name: _word(form, entry, name))  # type: ignore[misc]
    for name in QUANTITIES:
        read_known(form, entry, name, name, KINDS[name])
    form.size(entry, CircuitEntry, "emitter", "emitter", zero=False)
    form.note("at", lambda: _at(form, entry, place))
    return form.outcome(in_row("circuits", at, FIELDS))


def without_circuit(job: Job, place: int) -> Job:
    """Return a job without what is said of one of its lamps.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of the circuits, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    return without(job, "circuits", place)


def _word(form: Form, entry: dict[str, object], name: str) -> str:
    text = form.typed[name]
    if text:
        read_name(text, "the colour" if name == "colour" else "the output")
    if not form.kept(name):
        entry[name] = text or None
    return ""


def _at(form: Form, entry: dict[str, object], place: int | None) -> str:
    before = None if place is None else form.job.light.circuits[place].at
    text = form.typed["at"]
    if not form.kept("at") or text:
        entry["at"] = read_spot(form, text, before) if text else None
    return ""
