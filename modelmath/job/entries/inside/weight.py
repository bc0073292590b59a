"""The model on the scale, and what is taken off or put in, as text and back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from pydantic import ValidationError

from modelmath.enclosure.balance.materials import density
from modelmath.errors import OutOfRange, UnreadableLength, WrongKind, shown
from modelmath.job.document import Job, WeightEntry
from modelmath.job.entries.inside.form import LONGEST_NAME, Form, two_units, word_for
from modelmath.job.entries.screen import Outcome
from modelmath.job.entries.too_much import too_much
from modelmath.job.fields.inside import MassEntry
from modelmath.lengths.parse import parse_length_exact

DRIVEN: Mapping[str, str] = {
    "both trucks": "both",
    "the front truck": "front",
    "the rear truck": "rear",
    "neither": "none",
}
NEEDED = ("front_truck", "rear_truck", "front_grams", "rear_grams")
MISSING = {
    "front_truck": "Write where the front truck stands behind the fore-aft mark, such as -5 mm.",
    "rear_truck": "Write where the rear truck stands behind the fore-aft mark, such as 70 mm.",
    "front_grams": "Write what the front end weighs, such as 120 g.",
    "rear_grams": "Write what the rear end weighs, such as 110 g.",
}
CHANGE_EXAMPLE = "speaker: 12.5 g at 30 mm, or frame trimmed: 300 mm3 of zinc alloy off at 20 mm"
MASS_EXAMPLE = "a mass with its unit, such as 120 g"
MOST_GRAMS, MOST_CHANGE_GRAMS, MOST_MM3, MOST_CHANGES = 100_000, 10_000, 1_000_000, 50  # the document's own limits
_MASS = re.compile(r"(?P<number>.*?)\s*(?:g|grams?)", re.IGNORECASE)
_VOLUME = re.compile(r"(?P<number>.*?)\s*mm(?:3|³)", re.IGNORECASE)
_CHANGE = re.compile(
    r"(?P<name>[^\n]+):\s*(?P<amount>[^:]+?)(?:\s+of\s+(?P<material>[^:]+?))?(?P<off>\s+off)?\s+at\s+(?P<at>[^:]+)"
)


def weight_texts(job: Job) -> dict[str, str]:
    """Return the weights as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    dict of str to str
        By field: front_truck, rear_truck, front_grams, rear_grams, driven; and changes, one on each line. [-]

    References
    ----------
    None needed.
    """
    entry = job.weight
    if entry is None:
        return {**dict.fromkeys((*NEEDED, "changes"), ""), "driven": "both trucks"}
    return {
        "front_truck": entry.front_truck,
        "rear_truck": entry.rear_truck,
        "front_grams": f"{_plain(entry.front_grams)} g",
        "rear_grams": f"{_plain(entry.rear_grams)} g",
        "driven": word_for(DRIVEN, entry.driven),
        "changes": "\n".join(change_text(each) for each in entry.changes),
    }


def with_weight(job: Job, typed: Mapping[str, str]) -> Outcome:
    """Return a job whose weights are as typed.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    typed : mapping of str to str
        By field, as `weight_texts` gives them; all four of trucks and weights, or none. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, weight_texts(job))
    if not any(form.typed[name] for name in (*NEEDED, "changes")):
        form.document["weight"] = None
        return form.outcome(lambda _fault, _job: "")
    table = form.document["weight"] or {"changes": [], "driven": "both"}
    form.document["weight"] = table
    for name in NEEDED:
        form.need(name, MISSING[name], new=job.weight is None)
    for name in ("front_truck", "rear_truck"):
        if form.typed[name]:
            form.place(table, WeightEntry, name, name)
    for name in ("front_grams", "rear_grams"):
        form.note(name, lambda name=name: _weighed(form, table, name))  # type: ignore[misc]
    form.choose(table, "driven", "driven", DRIVEN, "which is driven")
    form.note("changes", lambda: _changes(form, table))
    _in_order(form)
    return form.outcome(lambda _fault, _job: "")


def change_text(entry: MassEntry) -> str:
    """Return something taken off or put in as it is typed.

    Parameters
    ----------
    entry : MassEntry
        The change. [-]

    Returns
    -------
    str
        One line. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> change_text(MassEntry(name="frame", at="20 mm", volume=300.0, material="zinc alloy", off=True))
    'frame: 300 mm3 of zinc alloy off at 20 mm'
    """
    amount = f"{_plain(entry.grams)} g" if entry.grams is not None else ""
    if entry.volume is not None:
        amount = f"{_plain(entry.volume)} mm3 of {entry.material}"
    return f"{entry.name}: {amount}{' off' if entry.off else ''} at {entry.at}"


def _plain(value: float) -> str:
    """Return a number with all its digits and no power of ten."""
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _number(text: str, pattern: re.Pattern[str], example: str) -> Fraction:
    """Read a number before its unit the way lengths are read; a bare number is refused."""
    match = pattern.fullmatch(text)
    if match is None:
        has_unit = re.search(r"[^\W\d_]", text)
        raise UnreadableLength(text, "its unit is not read here" if has_unit else "it has no unit", example)
    try:
        return parse_length_exact(match["number"], unit="mm")
    except UnreadableLength as fault:
        raise UnreadableLength(text, fault.problem, example) from None


def _weighed(form: Form, table: dict[str, Any], name: str) -> str:
    text = form.typed[name]
    if not text:
        return ""
    value = _number(text, _MASS, MASS_EXAMPLE)
    if not 0 <= value < MOST_GRAMS:
        remedy = "Write what the scale showed under that end, in grams."
        raise OutOfRange("the weight", shown(text), f"0 g or more, and less than {MOST_GRAMS} g", remedy)
    if not form.kept(name):
        table[name] = float(value)
    return f"{_plain(float(value))} g"


def _in_order(form: Form) -> None:
    """Refuse a front truck that stands behind the rear one."""
    places = ("front_truck", "rear_truck")
    if any(name in form.messages or name in form.waiting for name in places) or all(form.kept(n) for n in places):
        return
    front, rear = (form.read_length(form.typed[name], signed=True) for name in places)
    if front >= rear:
        given = f"{two_units(rear)}, not behind the front truck at {two_units(front)}"
        form.messages["rear_truck"] = (
            f"The rear truck stands at {given}. Count both from the fore-aft mark to the rear."
        )


def _changes(form: Form, table: dict[str, Any]) -> str:
    """Read the changes, one on each line; one that is as it was keeps its entry."""
    old = [] if form.job.weight is None else form.job.weight.changes
    before = {change_text(each).strip(): each.model_dump() for each in old}
    if form.kept("changes"):
        return _counted(len(old))
    lines = [line.strip() for line in form.typed["changes"].splitlines() if line.strip()]
    if len(lines) > MOST_CHANGES:
        raise OutOfRange(
            "the number of changes", f"{len(lines)}", f"{MOST_CHANGES} or fewer", "Enter some of them as one."
        )
    table["changes"] = [before.get(line) or _change(form, line) for line in lines]
    return _counted(len(lines))


def _counted(count: int) -> str:
    return "1 change" if count == 1 else f"{count} changes" if count else ""


def _change(form: Form, line: str) -> dict[str, Any]:
    match = _CHANGE.fullmatch(line)
    if match is None or len(match["name"].strip()) > LONGEST_NAME or not match["name"].strip():
        expected = "a short name, a colon, a mass or a volume of a material, and its place"
        raise WrongKind("the change", shown(line), expected, f"Write {CHANGE_EXAMPLE}.")
    form.read_length(match["at"], signed=True)
    found: dict[str, Any] = {"name": match["name"].strip(), "at": match["at"], "off": bool(match["off"])}
    if match["material"] is None:
        found["grams"] = float(_amount(match["amount"], _MASS, -MOST_CHANGE_GRAMS, MOST_CHANGE_GRAMS, "g"))
    else:
        found["volume"] = float(_amount(match["amount"], _VOLUME, 0, MOST_MM3, "mm3"))
        found["material"] = density(match["material"]).material
    try:
        return MassEntry.model_validate(found).model_dump()
    except ValidationError as fault:  # all but its name was read above
        raise WrongKind("the change", shown(line), "a name that can be read", f"{too_much(fault)}") from None


def _amount(text: str, pattern: re.Pattern[str], least: int, most: int, unit: str) -> Fraction:
    example = MASS_EXAMPLE if unit == "g" else "a volume with its unit, such as 300 mm3, before its material"
    value = _number(text, pattern, example)
    if not least < value < most:
        expected = f"more than {least} {unit} and less than {most} {unit}"
        raise OutOfRange("the amount", shown(text), expected, "Write what it weighs, or its volume and material.")
    return value
