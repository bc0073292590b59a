"""What goes in and what is asked of the chamber, beyond the sizes on the first screens, as text and back."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any, NamedTuple

from modelmath.enclosure.bodies import FACES, PLACES
from modelmath.errors import JobError, ModelMathError, UnreadableLength
from modelmath.job.document import ChamberEntry, Clearance, DecoderEntry, Job, LengthEntry, SpeakerEntry
from modelmath.job.entries.inside.form import YES_NO, FieldAt, Form, text_of, two_units, word_for
from modelmath.job.entries.inside.words import word
from modelmath.job.entries.screen import Outcome
from modelmath.job.fields.base import BEST

SOUNDS: Mapping[str, str] = {f"to the {face}" if face in ("front", "rear") else face: face for face in FACES}
LIES: Mapping[str, bool] = {"along the shell": False, "across the shell": True}
SHAPES: Mapping[str, bool] = {"rectangular": False, "round": True}
FLOORS: Mapping[str, str] = {"in pieces": "pieces", "in one piece": "one piece"}
STEPS: Mapping[str, int] = {str(count): count for count in range(5)}
REMOVABLE = ("speaker", "decoder")
GAPS = ("along", "over_speaker", "sound_room")  # kept beside the clearance of the first screen
SPEAKER_SIZES = ("basket_length", "basket_width", "terminals", "travel", "rim")
PLACE_EXAMPLE = "middle, front, rear, or a place behind the fore-aft mark such as 20 mm"
END_EXAMPLE = "best, or a place behind the fore-aft mark such as -40 mm"
NEEDS_SPEAKER = "Enter the speaker's sizes first; then say here how it sits."
NEEDS_DECODER = "Enter all three sizes of the decoder first; then say here how it sits."
NEEDS_LENGTH = "Enter the length inside the shell first; then say how far it can shift on the chassis."


class _Place(NamedTuple):
    """A place along the length or a word for one: its field, the usual word, the words, an example, what it is of."""

    name: str
    usual: str
    words: tuple[str, ...]
    example: str
    face: str


FRONT_EDGE = _Place("place", "middle", tuple(PLACES), PLACE_EXAMPLE, "its front edge")
HELD = (
    _Place("front_end", BEST, (BEST,), END_EXAMPLE, "the front face of its front wall"),
    _Place("rear_end", BEST, (BEST,), END_EXAMPLE, "the rear face of its rear wall"),
)


def speaker_texts(job: Job) -> dict[str, str]:
    """Return how the speaker sits, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: name, faces, turned, place, basket_length, basket_width, terminals, travel, rim, round. [-]

    References
    ----------
    None needed.
    """
    entry = job.speaker or SpeakerEntry()
    found = {name: text_of(entry, name) for name in ("name", "place", *SPEAKER_SIZES)}
    choices = {"faces": SOUNDS, "turned": LIES, "round": SHAPES}
    return found | {name: word_for(words, getattr(entry, name)) for name, words in choices.items()}


def with_speaker(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which the speaker sits as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `speaker_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, speaker_texts(job))
    table = _table(form, "speaker", SpeakerEntry().model_dump(), NEEDS_SPEAKER)
    word(form, table, SpeakerEntry, "name", "the speaker")
    form.choose(table, "faces", "faces", SOUNDS, "where it sounds to")
    form.choose(table, "turned", "turned", LIES, "how it lies")
    form.choose(table, "round", "round", SHAPES, "its shape")
    form.note("place", lambda: _place(form, table, FRONT_EDGE))
    for name in ("basket_length", "basket_width", "rim"):
        form.size(table, SpeakerEntry, name, name, zero=False)
    for name in ("terminals", "travel"):
        form.size(table, SpeakerEntry, name, name)
    return form.outcome(_in_table("speaker", tuple(form.before)))


def _place(form: Form, table: dict[str, Any], place: _Place) -> str:
    text = form.typed[place.name]
    word = text.casefold()
    if not text or word in place.words:
        if not form.kept(place.name):
            table[place.name] = word or place.usual
        return ""
    try:
        value = form.read_length(text, signed=True)
    except UnreadableLength as fault:
        raise UnreadableLength(fault.given, fault.problem, place.example) from None
    if not form.kept(place.name):
        table[place.name] = text
    return f"{place.face} {two_units(value)} behind the fore-aft mark"


def decoder_texts(job: Job) -> dict[str, str]:
    """Return how the decoder sits, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: name, air, turns, inside. [-]

    References
    ----------
    None needed.
    """
    entry = job.decoder
    if entry is None:
        return {"name": "", "air": "", "turns": "yes", "inside": "no"}
    return {name: text_of(entry, name) for name in ("name", "air")} | {
        name: word_for(YES_NO, getattr(entry, name)) for name in ("turns", "inside")
    }


def with_decoder(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which the decoder sits as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `decoder_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, decoder_texts(job))
    table = _table(form, "decoder", {}, NEEDS_DECODER)
    word(form, table, DecoderEntry, "name", "the decoder")
    form.size(table, DecoderEntry, "air", "air")
    form.choose(table, "turns", "turns", YES_NO, "whether it may be turned")
    form.choose(table, "inside", "inside", YES_NO, "whether it may lie in the chamber")
    return form.outcome(_in_table("decoder", tuple(form.before)))


def chamber_texts(job: Job) -> dict[str, str]:
    """Return what is asked of the chamber, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: cut_round, wire_path, steps, floor, light_barrier, strand_supports, removable_speaker,
        removable_decoder; front_end and rear_end, where the walls there are held; along, over_speaker and sound_room,
        gaps to keep beside the clearance below; and end_play, how far the shell shifts on the chassis. [-]

    References
    ----------
    None needed.
    """
    entry = job.chamber
    choices: dict[str, Mapping[str, Any]] = {"cut_round": YES_NO, "light_barrier": YES_NO}
    choices |= {"steps": STEPS, "floor": FLOORS}
    found = {name: word_for(words, getattr(entry, name)) for name, words in choices.items()}
    found |= {f"removable_{name}": word_for(YES_NO, name in entry.removable) for name in REMOVABLE}
    found |= {name: text_of(entry, name) for name in ("wire_path", "strand_supports", *(each.name for each in HELD))}
    found |= {name: text_of(job.clearance, name) for name in GAPS}
    return {**found, "end_play": "" if job.length is None else text_of(job.length, "end_play")}


def with_chamber_asked(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job of whose chamber is asked what was typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `chamber_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, chamber_texts(job))
    table = form.document["chamber"]
    form.choose(table, "cut_round", "cut_round", YES_NO, "whether the floor is cut round")
    form.choose(table, "steps", "steps", STEPS, "the number of steps")
    form.choose(table, "floor", "floor", FLOORS, "how the floor is made")
    form.choose(table, "light_barrier", "light_barrier", YES_NO, "whether there is a light barrier")
    form.size(table, ChamberEntry, "wire_path", "wire_path")
    form.size(table, ChamberEntry, "strand_supports", "strand_supports", zero=False)
    for held in HELD:
        form.note(held.name, partial(_place, form, table, held))
    for name in GAPS:
        form.size(form.document["clearance"], Clearance, name, name, zero=name != "sound_room")
    for name in REMOVABLE:
        _removable(form, table, name)
    if form.document["length"] is None:
        if not form.kept("end_play"):
            form.messages["end_play"] = NEEDS_LENGTH
    else:
        form.size(form.document["length"], LengthEntry, "end_play", "end_play")
    inside = _in_table("chamber", tuple(form.before))
    elsewhere: dict[tuple[str | int, ...], str] = {("clearance", name): name for name in GAPS}
    elsewhere[("length", "end_play")] = "end_play"
    return form.outcome(lambda fault, changed: elsewhere.get(tuple(fault.path[:2])) or inside(fault, changed))


def _removable(form: Form, table: dict[str, Any], name: str) -> None:
    field, chosen = f"removable_{name}", {"chosen": None}
    form.choose(chosen, field, "chosen", YES_NO, f"whether the {name} stays removable")
    if field in form.messages or form.kept(field):
        return
    others = [each for each in table["removable"] if each != name]
    table["removable"] = [*others, name] if YES_NO[form.typed[field]] else others


def _table(form: Form, name: str, stand_in: dict[str, Any], message: str) -> dict[str, Any]:
    """Return a table of the document; where there is none, one that goes nowhere, and a message if fields changed."""
    table: dict[str, Any] | None = form.document[name]
    if table is not None:
        return table
    if not all(form.kept(field) for field in form.before):
        form.messages[""] = message
    return stand_in


def _in_table(table: str, fields: tuple[str, ...]) -> FieldAt:
    """Return what says beside which field a fault in one table belongs."""

    def field_at(fault: JobError, _job: Job) -> str:
        if fault.path[:1] != (table,):
            return ""
        key = str(fault.path[1]) if len(fault.path) > 1 else _meant(fault, fields)
        return key if key in fields else ""

    return field_at


def _meant(fault: ModelMathError, fields: tuple[str, ...]) -> str:
    """Return the field that a fault of the whole table names, such as ``speaker: basket length is 3 mm``."""
    before = str(getattr(fault, "problem", fault)).partition(" is ")[0].rpartition(": ")[2]
    return next((field for field in fields if field.replace("_", " ") == before), "")
