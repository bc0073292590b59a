"""From answers to a job: zones, readings and rule by name, ``not measured`` where a reading is due."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final

from pydantic import ValidationError

from modelmath.errors import ModelMathError, OutOfRange
from modelmath.job.begin.answers import LAMPS, Answers, plain_names
from modelmath.job.document import Job, RuleEntry
from modelmath.job.entries.screen import NEW_RULE, blank_job, entries_of, read_entries
from modelmath.job.entries.typed import names_unit
from modelmath.job.next_model.copying import NOT_MEASURED
from modelmath.job.shelf.taking import from_shelf
from modelmath.job.shelf.things import Shelf
from modelmath.job.storage.faults import form_fault
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import scale
from modelmath.lengths.text import format_length

LONGEST = 80  # characters of a stretch's name, which stands in the names of its readings
ROOF, LOWER, TOP = "roof", "lower roof", "chassis top"
_DECODER: Final = ("decoder_length", "decoder_width", "decoder_height")
# Fields of the first screen under the names that the questions have.
_ASKED: Final = {"zero_offset": "zero", "rule_unit": "unit"}


@dataclass(frozen=True)
class Begun:
    """What the answers come to.

    Attributes
    ----------
    job : Job or None
        The job; None while an answer can't be read. [-]
    echoes : dict of str to str
        By question: the answer as it was understood. [-]
    messages : dict of str to str
        By question: what is wrong with the answer, and what to write. [-]
    """

    job: Job | None
    echoes: dict[str, str] = field(default_factory=dict)
    messages: dict[str, str] = field(default_factory=dict)


def begin(answers: Answers, shelf: Shelf | None = None) -> Begun:
    """Make a job for a new model.

    Parameters
    ----------
    answers : Answers
        What was answered. [-]
    shelf : Shelf or None
        The shelf that a rule is taken from. [-]

    Returns
    -------
    Begun
        The job, in which every reading is still to be taken; or what is wrong, by question: the names of `Answers`,
        ``stretch 1`` to ``stretch 4`` and ``decoder_length`` and so on. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> job = begin(Answers("Hood unit No. 5")).job
    >>> job.scale, [(each.name, each.mark) for each in job.readings]
    ('HO', [('roof', 'not measured'), ('chassis top', 'not measured')])
    >>> begin(Answers("Hood unit No. 5", zero="1//2")).messages["zero"][:37]
    "'1//2': it has two fraction strokes; "
    """
    messages = _wrong(answers)
    try:
        base = _base(answers, shelf or Shelf())
    except _Unusable as fault:
        return Begun(None, {}, {fault.question: fault.message, **messages})
    outcome = read_entries(_typed(answers, base), base)
    messages = {**_as_asked(outcome.messages), **messages}
    return Begun(None if messages else outcome.so_far or outcome.job, _as_asked(outcome.echoes), messages)


def rules_on(shelf: Shelf) -> tuple[str, ...]:
    """Return the rules of a shelf that heights can be read and parts marked out with.

    Parameters
    ----------
    shelf : Shelf
        The shelf. [-]

    Returns
    -------
    tuple of str
        Their names. [-]

    References
    ----------
    None needed.
    """
    return tuple(each.name for each in shelf.rules if _can_mark_out(each))


def _can_mark_out(entry: RuleEntry) -> bool:
    try:
        return Rule(**entry.model_dump(exclude={"scale"}), scale=entry.scale or "HO").can_mark_out
    except ModelMathError:
        return False


class _Unusable(Exception):
    """An answer that no job can be made with."""

    def __init__(self, question: str, message: str) -> None:
        super().__init__(message)
        self.question, self.message = question, message


def _as_asked(found: dict[str, str]) -> dict[str, str]:
    return {_ASKED.get(name, name): text for name, text in found.items()}


# The document before its first-screen fields are read.


def _base(answers: Answers, shelf: Shelf) -> Job:
    unit = answers.unit if answers.unit in NEW_RULE else "scale foot"  # a wrong one is said by its field
    document = blank_job(unit=unit).model_dump()
    # Without a name there is no job, and what else is answered is read all the same.
    document |= {"name": _one_line(answers.name) or "New model", "notes": _notes(answers)}
    document |= _heights(answers)
    document["speaker"] = {} if answers.speaker else None
    document["lamps"] = [
        {"name": name, "end": LAMPS[name], "room": _room(answers)} for name in answers.lamps if name in LAMPS
    ]
    try:
        job = Job.model_validate(document)
    except ValidationError as fault:
        first = fault.errors(include_url=False)[0]
        raise _Unusable(_question(first["loc"]), _said(form_fault("", "", document, first))) from None
    return job if not answers.shelf_rule else _with_rule(job, shelf, answers)


def _with_rule(job: Job, shelf: Shelf, answers: Answers) -> Job:
    """Return the job with a rule of the shelf in place of its own."""
    name = answers.shelf_rule
    if name not in rules_on(shelf):
        message = f"There is no rule called {name!r} on the shelf that parts can be marked out with; choose another."
        raise _Unusable("shelf_rule", message)
    taken = from_shelf(job, shelf, "rule", name)
    own = next(each for each in taken.rules if each.name == name)
    rules = [own, *(each for each in taken.rules if each.name not in (name, "rule"))]
    marking = job.marking.model_copy(update={"rule": name, "finest": own.graduation})
    return job.model_copy(update={"rules": rules, "marking": marking})


def _heights(answers: Answers) -> dict[str, Any]:
    """Return the zones and their readings: a roof for those that share it, a chassis top for each."""
    plain = plain_names(len(answers.stretches))
    names = [_one_line(each.name) or name for each, name in zip(answers.stretches, plain, strict=True)]
    lower = [each.lower for each in answers.stretches]
    level = all(lower) or not any(lower)
    roofs = [ROOF if level or not each else LOWER for each in lower]
    tops = [TOP] if len(names) == 1 else [f"{TOP} over {name}" for name in names]
    zones = [
        {"name": name, "underside": roof, "chassis_top": top}
        for name, roof, top in zip(names, roofs, tops, strict=True)
    ]
    readings = [{"name": name, "mark": NOT_MEASURED} for name in (*dict.fromkeys(sorted(roofs, reverse=True)), *tops)]
    return {"zones": zones, "readings": readings}


def _one_line(name: str) -> str:
    return " ".join(name.split())


def _notes(answers: Answers) -> str:
    inside = ["speaker"] if answers.speaker else []
    if answers.with_decoder:
        inside.append("decoder" if all(answers.decoder) else "decoder, its three sizes still to be entered")
    inside += [name for name in answers.lamps if name in LAMPS]
    return f"Goes in: {'; '.join(inside)}." if inside else ""


def _room(answers: Answers) -> str:
    text = answers.lamp_room.strip()
    return text if names_unit(text) else f"{text} mm"


# What the first screen reads.


def _typed(answers: Answers, base: Job) -> dict[str, str]:
    typed = {**entries_of(base), "scale": answers.scale.strip() or "HO", "keep": answers.keep.strip()}
    if not answers.shelf_rule:
        typed |= {"rule_unit": answers.unit, "zero_offset": answers.zero.strip()}
    if answers.with_decoder:
        typed |= dict(zip(_DECODER, (each.strip() for each in answers.decoder), strict=True))
    return typed


# What it does not read.


def _wrong(answers: Answers) -> dict[str, str]:
    """Return what is wrong with the answers that are none of the first screen."""
    found: dict[str, str] = {}
    if not answers.name.strip():
        found["name"] = "Write the model's name, such as Hood unit No. 5."
    seen: set[str] = set()
    for number, (stretch, plain) in enumerate(
        zip(answers.stretches, plain_names(len(answers.stretches)), strict=True), start=1
    ):
        name = _one_line(stretch.name) or plain
        if len(name) > LONGEST:
            found[f"stretch {number}"] = f"The name has {len(name)} characters; write {LONGEST} at most."
        if name in seen:
            found[f"stretch {number}"] = f"Another stretch is called {name!r}; give this one a name of its own."
        seen.add(name)
    if answers.lamps:
        found |= _wrong_room(answers)
    some = [each.strip() for each in answers.decoder]
    if answers.with_decoder and any(some) and not all(some):
        missing = _DECODER[next(place for place, each in enumerate(some) if not each)]
        found[missing] = f"Write the decoder's {missing.partition('_')[2]}, or leave all three empty for now."
    return found


def _wrong_room(answers: Answers) -> dict[str, str]:
    try:
        size = parse_length_exact(_room(answers), scale=scale(answers.scale.strip() or "HO"))
        if size <= 0:
            raise OutOfRange("the room", format_length(size, "mm"), "above 0", "Write what a lamp needs, such as 6 mm.")
    except ModelMathError as fault:
        return {"lamp_room": str(fault)}
    return {}


def _question(path: tuple[str | int, ...]) -> str:
    table, *rest = path
    if table == "zones" and rest:
        return f"stretch {int(rest[0]) + 1}"
    return {"lamps": "lamp_room"}.get(str(table), "name")


def _said(fault: ModelMathError) -> str:
    problem, write = getattr(fault, "problem", str(fault)), getattr(fault, "write", "")
    said = f"{problem}; {write}" if write else problem
    return f"{said[0].upper()}{said[1:].removesuffix('.')}."
