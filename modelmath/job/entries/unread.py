"""Readings that a job has by name and that are still to be taken: which they are, and how one of them is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from modelmath.errors import ModelMathError, UnknownChoice, UnreadableLength
from modelmath.job.document import Job, ReadingEntry, StationEntry, ZoneEntry
from modelmath.job.entries.too_much import too_much
from modelmath.job.next_model.copying import NOT_MEASURED
from modelmath.job.next_model.marked import freshly_read
from modelmath.lengths.refusals import EXAMPLE


@dataclass(frozen=True)
class Unread:
    """A reading that is still to be taken.

    Attributes
    ----------
    name : str
        Its name. [-]
    of : {"chassis", "shell", "height", "length", "size"}
        What it is: a height over the chassis, one in the shell, another height, a place along the length, or a width or
        gap. [-]
    rule : str
        What it is read with. [-]
    unit : str
        What a bare number counts. [-]
    half : str
        The half whose front end a place along the length counts from; empty for anything else. [-]
    """

    name: str
    of: str
    rule: str
    unit: str
    half: str = ""


@dataclass(frozen=True)
class Taken:
    """A reading as it was typed.

    Attributes
    ----------
    job : Job or None
        The job with it; None where it can't be read. [-]
    echo : str
        What it was understood as. [mm]
    message : str
        What is wrong with it, and what to write; empty where it could be read. [-]
    """

    job: Job | None
    echo: str = ""
    message: str = ""


def empty(text: str | None) -> bool:
    """Whether nothing was entered in a place of the document.

    Parameters
    ----------
    text : str or None
        What stands there. [-]

    Returns
    -------
    bool
        True also where it says that it is not measured. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> empty(None), empty("not measured"), empty("0")
    (True, True, False)
    """
    return text in (None, "", NOT_MEASURED)


def unread_in(document: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the readings of a document that are still to be taken.

    Parameters
    ----------
    document : mapping
        The job document. [-]

    Returns
    -------
    tuple of str
        Their names, in its order. [-]

    References
    ----------
    None needed.
    """
    return tuple(str(each["name"]) for each in document["readings"] if empty(each["mark"]))


def unread(job: Job) -> tuple[Unread, ...]:
    """Return the readings of a job that are still to be taken.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    tuple of Unread
        In its order. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job
    >>> [(each.name, each.of, each.unit) for each in unread(blank_job())]
    [('roof', 'shell', 'scale foot'), ('chassis top', 'chassis', 'scale foot')]
    """
    units = {rule.name: rule.unit for rule in job.rules}
    found = []
    for each in job.readings:
        if empty(each.mark):
            rule = each.rule or job.rules[0].name
            found.append(Unread(each.name, _of(job, each), rule, units.get(rule, "mm"), each.on or ""))
    return tuple(found)


def _of(job: Job, entry: ReadingEntry) -> str:
    """Return what a reading is, by what uses it."""
    over: list[ZoneEntry | StationEntry] = [*job.zones, *job.stations]
    used: dict[str, set[str | None]] = {
        "chassis": {each.chassis_top for each in over},
        "shell": {each.underside for each in over},
        "size": {each.gap for each in over} | {zone.width for zone in job.zones},
    }
    other = "height" if entry.on is None else "length"
    return next((of for of, names in used.items() if entry.name in names), other)


def take(job: Job, name: str, text: str) -> Taken:
    """Put what was read into a job, in place of ``not measured``.

    Parameters
    ----------
    job : Job
        The job; it stays as it is. [-]
    name : str
        The reading's name. [-]
    text : str
        As typed; several readings of one spot are parted by semicolons. [rule's unit]

    Returns
    -------
    Taken
        The new job and what was understood, or what is wrong. [-]

    Raises
    ------
    UnknownChoice
        If the job has no reading of that name.

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job
    >>> take(blank_job(), "roof", "10").echo
    '35.00 mm above the seat'
    >>> take(blank_job(), "roof", "ten").message[:33]
    "'ten': it is no number or unit; w"
    """
    from modelmath.job.entries.own_rule import OwnRuleReader  # it reads the fields, and asks here what is unread
    from modelmath.job.entries.typed import BARE

    entry = next((each for each in job.readings if each.name == name), None)
    if entry is None:
        raise UnknownChoice("the reading", name, [each.name for each in job.readings])
    if not text.strip(" ;\t\n"):
        return Taken(None, message="Write the reading as it stands on the rule.")
    reader = OwnRuleReader({}, job.model_dump(), 0)
    try:
        echo = reader.read_one(name, text.strip(), _of(job, entry) in ("chassis", "shell", "height"))
        return Taken(freshly_read(job, Job.model_validate(reader.document)), echo)
    except UnreadableLength as fault:
        write = BARE if fault.write == EXAMPLE else fault.write  # a bare number is right here
        return Taken(None, message=str(UnreadableLength(fault.given, fault.problem, write)))
    except ModelMathError as fault:
        return Taken(None, message=str(fault))
    except ValidationError as fault:
        return Taken(None, message=f"The reading can't be kept: it is {too_much(fault)}.")
