"""What sounds, as text and back: the speaker's parameters, the decoder's output, and what is wished for."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial
from typing import Any

from modelmath.errors import JobError, OutOfRange, UnreadableLength, shown
from modelmath.job.bench.sounds import DRIVER_KINDS, OUTPUT_KINDS
from modelmath.job.bench.sounds import FIELDS as DRIVER_FIELDS
from modelmath.job.document import Job, SpeakerEntry
from modelmath.job.entries.inside.form import LONGEST_NAME, Form, text_of, word_for
from modelmath.job.entries.screen import Outcome
from modelmath.job.fields.base import readable_name
from modelmath.quantities.known import ORIGINS, Known
from modelmath.quantities.text import EXAMPLES, format_quantity, parse_quantity
from modelmath.sound.driver.driver import LABELS
from modelmath.sound.driver.single import one_figure, read_wanted_q
from modelmath.sound.loads.decoder import plain_value

STUFFING: Mapping[str, str] = {word: word for word in ("unfilled", "lightly filled", "filled")}
# Fields of the form, and where each stands in the document.
DRIVER = tuple(DRIVER_KINDS)
OUTPUT = {"least": "least", "most": "most", "out_power": "power", "into": "into", "supply": "supply", "drop": "drop"}
FIELDS = (*DRIVER, *OUTPUT, "stuffing", "wanted_q", "also", "wiring")
# What each name of a job file stands for, for a line copied into another field.
LINE_NAMES: Mapping[str, str] = {
    **{name: f"the {LABELS[field]} of the speaker" for name, field in DRIVER_FIELDS.items()},
    "power": "the power, of the speaker or of the decoder",
    "least": "the least impedance that the decoder drives",
    "most": "the greatest impedance that the decoder drives",
    "into": "the impedance that the decoder's power is into",
    "supply": "the supply voltage of the decoder's sound output",
    "drop": "the voltage lost in the decoder's sound output",
    "wanted_q": "the wanted Qtc",
}
_LINE = re.compile(r"([A-Za-z]\w*)\s*=\s*(.*)", re.DOTALL)
# A comma between two parts: none between the figures of a number.
_COMMA = re.compile(r",\s+|(?<![0-9]),|,(?=[A-Za-z])")
ALSO_EXAMPLE = "one on each line, such as second speaker; 8 ohm; 1 W"
MOST_ALSO = 3
LONGEST_QUANTITY = 60  # characters; as the document's own quantities
# How a fault of the whole output begins, and the field it is told beside.
OUTPUT_TOLD = {
    "the greatest impedance of the decoder": "most",
    "the voltage that the decoder's sound output loses": "drop",
}


def sound_texts(job: Job) -> dict[str, str]:
    """Return what sounds, as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: the driver's parameters, the output's, stuffing, wanted_q, also, wiring. [-]

    References
    ----------
    None needed.
    """
    sound = job.sound
    found = {name: text_of(sound.driver, name) for name in DRIVER}
    found |= {name: text_of(sound.output, key) for name, key in OUTPUT.items()}
    also = "\n".join("; ".join(filter(None, (each.name, each.impedance, each.power))) for each in sound.also)
    wanted = {name: text_of(sound, name) for name in ("wanted_q", "wiring")}
    return {**found, "stuffing": word_for(STUFFING, sound.stuffing), "also": also, **wanted}


def with_sound(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job that sounds as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `sound_texts` gives them; one that is not there is as it was. [-]

    Returns
    -------
    Outcome
        The new job, or what is wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, sound_texts(job))
    sound = form.document["sound"]
    for name, kind in DRIVER_KINDS.items():
        read_quantity(form, sound["driver"], name, name, kind)
    for name, key in OUTPUT.items():
        read_quantity(form, sound["output"], name, key, OUTPUT_KINDS[key][1])
    form.choose(sound, "stuffing", "stuffing", STUFFING, "what fills the chamber")
    read_quantity(form, sound, "wanted_q", "wanted_q", "ratio")
    form.note("also", lambda: _also(form, sound))
    form.note("wiring", lambda: _wiring(form, sound))
    return form.outcome(_field_at)


def own_name(job: Job) -> str:
    """Return the name of the plan's own speaker.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    str
        As entered, or the usual one. [-]

    References
    ----------
    None needed.
    """
    return (job.speaker or SpeakerEntry()).name


def read_name(text: str, what: str) -> None:
    """Refuse a name that a job file can't hold.

    Parameters
    ----------
    text : str
        As typed. [-]
    what : str
        What is so called, for the message. [-]

    Raises
    ------
    OutOfRange
        If it is too long, or has a control character in it.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_name("second speaker", "a speaker")
    """
    if len(text) > LONGEST_NAME:
        given, expected = f"{len(text)} characters long", f"{LONGEST_NAME} or fewer"
        raise OutOfRange(f"the name of {what}", given, expected, "Write a shorter one.")
    try:
        readable_name(text)
    except ValueError as reason:
        said = str(reason)
        raise OutOfRange(f"the name of {what}", shown(text), "readable", f"{said[0].upper()}{said[1:]}.") from None


def read_quantity(form: Form, table: dict[str, Any], name: str, key: str, kind: str) -> None:
    """Read a quantity with its unit, limits and origin into a table; an empty field takes it out.

    Parameters
    ----------
    form : Form
        The form. [-]
    table : dict
        The table of the document; changed. [-]
    name, key : str
        The field of the form, and that of the table. [-]
    kind : str
        One of the kinds of `parse_quantity`. [-]

    References
    ----------
    `parse_quantity`.
    """
    form.note(name, partial(_quantity, form, table, name, key, kind))


def _quantity(form: Form, table: dict[str, Any], name: str, key: str, kind: str) -> str:
    text = form.typed[name]
    if not text:
        if not form.kept(name):
            table[key] = None
        return ""
    value = text if form.kept(name) else line_value(text, key, kind)
    known = _known(value, kind)
    if name in OUTPUT and key in OUTPUT_KINDS:
        plain_value(known, OUTPUT_KINDS[key][0], value)
    if name == "wanted_q":
        read_wanted_q(value)
    if not form.kept(name):
        table[key] = value
    return format_quantity(known, kind)


def line_value(text: str, key: str, kind: str) -> str:
    """Return what stands behind the name in a line copied whole from a job file; other text as it is.

    Parameters
    ----------
    text : str
        As typed, such as ``fs = "485 ± 1 Hz, measured"``, or the quantity alone. [-]
    key : str
        The name that the field has in a job file. [-]
    kind : str
        One of the kinds of `parse_quantity`. [-]

    Returns
    -------
    str
        The quantity, without name and quotes. [-]

    Raises
    ------
    UnreadableLength
        If the line is that of another field, which is named.

    References
    ----------
    TOML 1.0 for the line's form.

    Examples
    --------
    >>> line_value('fs = "485 ± 1 Hz, measured"', "fs", "frequency")
    '485 ± 1 Hz, measured'
    >>> line_value("450 Hz", "fs", "frequency")
    '450 Hz'
    """
    found = _LINE.fullmatch(text.strip())
    if found is None:
        return text
    name, value = found[1], found[2].strip()
    if name != key:
        here = f"{LINE_NAMES.get(key, key)} here, such as {EXAMPLES[kind]}"
        if name not in LINE_NAMES:
            raise UnreadableLength(text, f"no field here is called {shown(name)}", here)
        raise UnreadableLength(text, f"this line is {LINE_NAMES[name]}", f"it in the field for that, and {here}")
    return value[1:-1].strip() if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'" else value


def _known(text: str, kind: str) -> Known:
    known = parse_quantity(text, kind)
    if len(text) > LONGEST_QUANTITY:
        given, expected = f"{len(text)} characters long", f"{LONGEST_QUANTITY} or fewer"
        raise OutOfRange("the text", given, expected, f"Write it as {format_quantity(known, kind)}.")
    return known


def _also(form: Form, sound: dict[str, Any]) -> str:
    found = also_from(form.typed["also"])
    if not form.kept("also"):
        _named_apart([own_name(form.job), *(each["name"] for each in found)])
        sound["also"] = found
    return ""


def also_from(text: str) -> list[dict[str, Any]]:
    """Return other speakers on the same output, from one line each.

    Parameters
    ----------
    text : str
        On each line a name, an impedance and if known a power, with semicolons or commas between. [-]

    Returns
    -------
    list of dict
        Each as its table of the document: name, impedance, power. [-]

    Raises
    ------
    OutOfRange, UnreadableLength
        If a line has other parts, or there are too many.

    References
    ----------
    `parse_quantity`.

    Examples
    --------
    >>> also_from("second speaker; 8 ohm")
    [{'name': 'second speaker', 'impedance': '8 ohm', 'power': None}]
    >>> also_from("rear, 8 ohm, 1 W")
    [{'name': 'rear', 'impedance': '8 ohm', 'power': '1 W'}]
    """
    found = [_one(line) for line in text.splitlines() if line.strip()]
    if len(found) > MOST_ALSO:
        given = f"{len(found)} of them"
        raise OutOfRange("other speakers on the output", given, f"{MOST_ALSO} or fewer", "Leave some out.")
    return found


def _named_apart(names: list[str]) -> None:
    twice = next((name for at, name in enumerate(names) if name in names[:at]), None)
    if twice is not None:
        expected = "one that no other speaker on the output has"
        raise OutOfRange("the name of another speaker", shown(twice), expected, "Write one of its own.")


def _one(line: str) -> dict[str, Any]:
    name, *rest = (part.strip() for part in line.split(";")) if ";" in line else _by_commas(line)
    if not name or not 1 <= len(rest) <= 2 or not all(rest):
        expected = "its name, its impedance and, where known, its power, with semicolons or commas between"
        raise OutOfRange("another speaker", shown(line.strip()), expected, f"Write {ALSO_EXAMPLE}.")
    read_name(name, "another speaker")
    one_figure(_known(rest[0], "resistance"), f"the impedance of {name}", "ohm")
    if len(rest) > 1:
        one_figure(_known(rest[1], "power"), f"the power of {name}", "W")
    return {"name": name, "impedance": rest[0], "power": rest[1] if len(rest) > 1 else None}


def _by_commas(line: str) -> list[str]:
    """Return the parts of a line with commas between; a comma in the name, or before an origin, parts nothing."""
    name, *parts = (part.strip() for part in _COMMA.split(line))
    while len(parts) > 1 and not re.match(r"[-.]?[0-9]", parts[0]):
        name = f"{name}, {parts.pop(0)}"
    found: list[str] = []
    for part in parts:
        if found and part.casefold() in ORIGINS:
            found[-1] = f"{found[-1]}, {part}"
        else:
            found.append(part)
    return [name, *found]


def _wiring(form: Form, sound: dict[str, Any]) -> str:
    text = form.typed["wiring"]
    if not form.kept("wiring"):
        copied = _LINE.fullmatch(text)
        if copied is not None and copied[1] == "wiring":
            text = copied[2].strip().strip("\"'")
        if text:
            read_name(text, "a wiring")
        sound["wiring"] = text or None
    return ""


def _field_at(fault: JobError, _job: Job) -> str:
    """Return beside which field a fault belongs."""
    if fault.path[:1] != ("sound",):
        return ""
    keys = [key for key in fault.path[1:] if isinstance(key, str)]
    if keys[:1] == ["output"]:
        return next((name for name, key in OUTPUT.items() if key == keys[-1]), _of_output(fault))
    if keys[:1] == ["driver"]:
        return keys[-1] if keys[-1] in DRIVER else "impedance"
    return keys[0] if keys and keys[0] in FIELDS else ""


def _of_output(fault: JobError) -> str:
    """Return the field of the output that a fault of the whole table names."""
    return next((name for words, name in OUTPUT_TOLD.items() if fault.problem.startswith(words)), "least")
