"""Cross-sections of the shell's inside as text, and back: ``0 mm: 12 mm; 3 mm: 20 mm``."""

from __future__ import annotations

import re
from collections.abc import Mapping

from modelmath.errors import JobError, OutOfRange, WrongKind
from modelmath.job.document import Job
from modelmath.job.entries.inside.form import YES_NO, Form, word_for
from modelmath.job.entries.screen import Outcome

EXAMPLE = "0 mm: 12 mm; 3 mm: 20 mm"
FEWEST, MOST_POINTS, MOST = 2, 60, 50  # as the document's own limits


def section_texts(job: Job, place: int | None) -> dict[str, str]:
    """Return a cross-section as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    place : int or None
        Which of its cross-sections, from 0; None for a new one. [-]

    Returns
    -------
    dict of str to str
        By field: name, points, and for each zone ``zone 0``, ``zone 1`` and on, yes where it has this section. [-]

    References
    ----------
    None needed.
    """
    entry = None if place is None else job.profiles[place]
    points = [] if entry is None else entry.points
    found = {"name": entry.name if entry else "", "points": "; ".join(f"{each.down}: {each.width}" for each in points)}
    for at, zone in enumerate(job.zones):
        found[f"zone {at}"] = word_for(YES_NO, entry is not None and zone.profile == entry.name)
    return found


def with_section(job: Job, place: int | None, typed: Mapping[str, str]) -> Outcome:
    """Return a job in which a cross-section is as typed; a zone that is given it loses the one it had.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int or None
        Which of its cross-sections, from 0; None to add one. [-]
    typed : mapping of str to str
        By field, as `section_texts` gives them. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong. [-]

    References
    ----------
    None needed.
    """
    form = Form(job, typed, section_texts(job, place))
    new = place is None
    profiles = form.document["profiles"]
    at = len(profiles) if place is None else place
    if new:
        profiles.append({"name": "new", "points": []})
    entry = profiles[at]
    form.need("name", "Write a name for it, such as rounded roof.", new)
    form.name(entry, "the cross-section")
    form.need("points", f"Write depth below the roof and full width there, such as {EXAMPLE}.", new)
    form.note("points", lambda: _points(form, entry))
    for number, zone in enumerate(form.document["zones"]):
        field, ticked = f"zone {number}", {"chosen": None}
        form.choose(ticked, field, "chosen", YES_NO, "whether the zone has it")
        if field not in form.messages and (YES_NO[form.typed[field]] or not form.kept(field)):
            zone["profile"] = entry["name"] if YES_NO[form.typed[field]] else None
    if at >= MOST:
        form.messages[""] = f"A job has {MOST} cross-sections at most. Take one out first."
    return form.outcome(lambda fault, _job: _field_at(fault, at))


def without_section(job: Job, place: int) -> Job:
    """Return a job without one of its cross-sections; zones that had it are as wide below the roof as they were read.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    place : int
        Which of its cross-sections, from 0. [-]

    Returns
    -------
    Job
        A new job. [-]

    References
    ----------
    None needed.
    """
    document = job.model_dump()
    gone = document["profiles"].pop(place)
    for zone in document["zones"]:
        if zone["profile"] == gone["name"]:
            zone["profile"] = None
    return Job.model_validate(document)


def _points(form: Form, entry: dict[str, object]) -> str:
    if not form.typed["points"]:
        return ""
    points = []
    for part in filter(str.strip, re.split(r"[;\n]", form.typed["points"])):
        down, colon, width = (each.strip() for each in part.partition(":"))
        if not colon:
            expected = "a depth below the roof, a colon, and the full width there"
            raise WrongKind("the point", repr(part.strip()), expected, f"Write {EXAMPLE}.")
        for text in (down, width):
            form.read_length(text)
        points.append({"down": down, "width": width})
    if not FEWEST <= len(points) <= MOST_POINTS:
        remedy = f"Write {EXAMPLE}; between two points the width changes evenly."
        raise OutOfRange("the number of points", str(len(points)), f"{FEWEST} to {MOST_POINTS}", remedy)
    if not form.kept("points"):
        entry["points"] = points
    return f"{len(points)} points, from the roof down"


def _field_at(fault: JobError, place: int) -> str:
    """Say beside which field of the form a fault of the job belongs."""
    table, *rest = fault.path or ("",)
    if table == "zones" and rest:
        return f"zone {rest[0]}"
    if table == "profiles" and rest[1:] == ["name"]:
        return "name"  # of two of one name it is the later that is told
    return "points" if table == "profiles" and rest[0] == place else ""
