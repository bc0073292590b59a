"""Readings along the length and heights, typed with their unit, kept as readings in the document."""

from __future__ import annotations

from typing import Any

from modelmath.errors import UnreadableLength
from modelmath.job.document import Job, ReadingEntry, RuleEntry
from modelmath.job.entries.inside.form import Form, two_units
from modelmath.job.entries.repeated import marks_of
from modelmath.job.entries.typed import CALIPER, names_unit
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import SYMBOLS


def reading_of(job: Job, name: str | None) -> ReadingEntry | None:
    """Return a reading by its name.

    Parameters
    ----------
    job : Job
        The job. [-]
    name : str or None
        As in the document. [-]

    Returns
    -------
    ReadingEntry or None
        None where there is none of that name. [-]

    References
    ----------
    None needed.
    """
    return next((each for each in job.readings if each.name == name), None)


def reading_text(job: Job, name: str | None) -> str:
    """Return the marks of a reading as they are typed, each with its unit.

    Parameters
    ----------
    job : Job
        The job. [-]
    name : str or None
        The reading. [-]

    Returns
    -------
    str
        Parted by semicolons; empty where there is no such reading. [-]

    References
    ----------
    None needed.
    """
    entry = reading_of(job, name)
    if entry is None:
        return ""
    rule = next((each for each in job.rules if each.name == (entry.rule or job.rules[0].name)), job.rules[0])
    symbol = SYMBOLS.get(rule.unit, rule.unit)
    return "; ".join(mark if names_unit(mark) else f"{mark} {symbol}" for mark in (entry.mark, *entry.again))


def put_reading(form: Form, field: str, old: str | None, name: str, on: str | None) -> str | None:
    """Put what was typed into the document as a reading.

    The reading that the field had is changed where nothing else goes by it; else it gets one of its own.

    Parameters
    ----------
    form : Form
        The form; its document is changed. [-]
    field : str
        The field typed into. [-]
    old : str or None
        The reading that it had. [-]
    name : str
        Name for a new reading. [-]
    on : str or None
        The half that a place along the length was read on; None for a height. [-]

    Returns
    -------
    str or None
        The reading's name; None where nothing is typed. [-]

    Raises
    ------
    UnreadableLength
        If it can't be read, or names no unit.

    References
    ----------
    None needed.
    """
    text, document = form.typed[field], form.document
    entry = next((each for each in document["readings"] if each["name"] == old), None)
    turned = entry is not None and on is not None and (entry["on"] or "chassis") != on
    if form.kept(field) and not turned:
        return old
    if not text:
        return None
    rule = _rule_of(document, entry)
    mark, again = marks_of(text)
    if not form.kept(field):
        _check(form, rule, (mark, *again))
    marks = {"mark": mark, "again": again} if not form.kept(field) else {}
    if entry is not None and uses(document, entry["name"]) == 1:
        entry |= {**marks, **({"on": on} if turned else {})}
        return str(entry["name"])
    like = entry or ReadingEntry(name=name, mark=mark, rule=rule["name"]).model_dump()
    own = _free_name(document, name)
    document["readings"].append({**like, **marks, "name": own, "on": on})
    return own


def read_echo(form: Form, field: str) -> str:
    """Return what a field with a reading was understood as.

    Parameters
    ----------
    form : Form
        The form. [-]
    field : str
        The field. [-]

    Returns
    -------
    str
        The length that its first mark shows; empty where it is none. [-]

    References
    ----------
    None needed.
    """
    mark, again = marks_of(form.typed[field])
    if not mark:
        return ""
    first = two_units(parse_length_exact(mark, scale=form.job.scale))
    return f"{first}, and {len(again)} more of the same spot" if again else first


def uses(document: dict[str, Any], name: str) -> int:
    """Count the fields of a document that name a reading.

    Parameters
    ----------
    document : dict
        The document. [-]
    name : str
        The reading. [-]

    Returns
    -------
    int
        How many. [-]

    References
    ----------
    None needed.
    """
    fields = {
        "zones": ("underside", "chassis_top", "gap", "width", "end"),
        "stations": ("underside", "chassis_top", "gap"),
        "links": ("reading",),
        "moving": ("at", "to", "top"),
        "obstacles": ("start", "end", "top"),
    }
    named = [each[key] for table, keys in fields.items() for each in document[table] for key in keys]
    along = document["length"] or {}
    named += [along.get(key) for key in ("shell_inside", "mark_on_shell", "mark_on_chassis")]
    return named.count(name)


def drop_unused(document: dict[str, Any], names: set[str | None]) -> None:
    """Take readings out that no field names any more.

    Parameters
    ----------
    document : dict
        The document; changed. [-]
    names : set of str
        The readings that may go. [-]

    References
    ----------
    None needed.
    """
    left = [each for each in document["readings"] if each["name"] not in names or uses(document, each["name"])]
    document["readings"] = left or document["readings"]


def _rule_of(document: dict[str, Any], entry: dict[str, Any] | None) -> dict[str, Any]:
    """Return the rule of a reading; for a new one that with which widths and lengths are read, put in if need be."""
    rules: list[dict[str, Any]] = document["rules"]
    if entry is not None:
        wanted = entry["rule"] or rules[0]["name"]
        return next((each for each in rules if each["name"] == wanted), rules[0])
    found = next((each for each in rules if each["name"] == CALIPER), None)
    found = found or next((each for each in rules if each["kind"] in ("caliper", "steel rule")), None)
    if found is None:
        found = RuleEntry(name=CALIPER, unit="mm", graduation="0.1").model_dump()
        rules.append(found)
    return found


def _check(form: Form, rule: dict[str, Any], marks: tuple[str, ...]) -> None:
    """Refuse a mark without a unit, and one that the rule would count in another than is meant."""
    of = rule["scale"] or form.job.scale
    for mark in marks:
        if parse_length_exact(mark, scale=of) != parse_length_exact(mark, unit=rule["unit"], scale=of):
            raise UnreadableLength(mark, "that may be a real or a scale unit", "15.9 mm, or 3 3/4 scale ft")


def _free_name(document: dict[str, Any], name: str) -> str:
    """Return a name that no reading has yet."""
    taken = {each["name"] for each in document["readings"]}
    names = (name if count == 1 else f"{name} {count}" for count in range(1, len(taken) + 2))
    return next(each for each in names if each not in taken)
