"""What a person types, field by field, to a job document and back: one pure function of the whole state."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from modelmath.errors import JobError, ModelMathError
from modelmath.job.document import Job
from modelmath.job.entries.own_rule import OwnRuleReader
from modelmath.job.entries.repeated import marks_text
from modelmath.job.entries.typed import CALIPER, with_unit
from modelmath.job.entries.unread import empty, unread_in
from modelmath.job.next_model.copying import NOT_MEASURED
from modelmath.job.next_model.marked import freshly_read

FIRST = ("scale", "zero_offset", "chassis", "shell", "keep", "finest")
SPEAKER = ("flange", "speaker_length", "speaker_width", "speaker_depth")
SPACE = ("width", "inside_length")
DECODER = ("decoder_length", "decoder_width", "decoder_height")
RULE = ("rule_unit", "graduation", "read_to", "rule_length", "reading_u", "offset_u")
# Finest mark and last mark that a new model's rule has until the user says otherwise; common practice, no source.
NEW_RULE = {"scale foot": ("1/4", "60"), "scale inch": ("3", "720"), "mm": ("0.5", "300"), "in": ("1/64", "12")}
TOLERANCES = ("seating", "cutting")
ALL = (*FIRST, *SPEAKER, *SPACE, *DECODER, *RULE, *TOLERANCES)


@dataclass(frozen=True)
class Outcome:
    """What the entries come to.

    Attributes
    ----------
    job : Job or None
        The job they make; None while an entry is missing or can't be read. [-]
    echoes : dict of str to str
        By field: the entry as it was understood. [-]
    messages : dict of str to str
        By field: what is wrong with the entry and what to write. [-]
    waiting : tuple of str
        Fields of the first screen that are still empty. [-]
    unread : tuple of str
        Other readings of the job, by name, that are still to be taken. [-]
    so_far : Job or None
        While something waits: the job with what is entered, and ``not measured`` where nothing is; no plan can be
        worked out from it. None once there is `job`, and while an entry can't be read. [-]
    """

    job: Job | None
    echoes: dict[str, str] = field(default_factory=dict)
    messages: dict[str, str] = field(default_factory=dict)
    waiting: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    so_far: Job | None = None


def blank_job(name: str = "New model", scale_name: str = "HO", unit: str = "scale foot") -> Job:
    """Return a job for a new model: one rule, one zone, nothing measured yet.

    Parameters
    ----------
    name : str
        The model's name. [-]
    scale_name : str
        Its scale. [-]
    unit : {"scale foot", "scale inch", "mm", "in"}
        Unit of the rule. [-]

    Returns
    -------
    Job
        To be filled by `read_entries`. Until then ``not measured`` stands in each place, so that no plan is worked out
        from it. [-]

    References
    ----------
    None needed.
    """
    finest, last = NEW_RULE[unit]
    rules = [
        {"name": "rule", "unit": unit, "graduation": finest, "length": last, "zero_offset": NOT_MEASURED},
        {"name": CALIPER, "unit": "mm", "graduation": "0.1"},
    ]
    return Job.model_validate(
        {
            "name": name,
            "scale": scale_name,
            "rules": rules,
            "marking": {"rule": "rule", "finest": finest},
            "clearance": {"keep": NOT_MEASURED},
            "readings": [{"name": name, "mark": NOT_MEASURED} for name in ("roof", "chassis top")],
            "zones": [{"name": "motor", "underside": "roof", "chassis_top": "chassis top"}],
        }
    )


def entries_of(job: Job, zone: int = 0) -> dict[str, str]:
    """Return a job's entries as text, for one zone.

    Parameters
    ----------
    job : Job
        The job. [-]
    zone : int
        Place of the zone in the job. [-]

    Returns
    -------
    dict of str to str
        By field; empty where the job has none, and where it is not measured yet. [-]

    References
    ----------
    None needed.
    """
    marks = {reading.name: marks_text(reading) for reading in job.readings}
    here, speaker, decoder = job.zones[zone], job.speaker, job.decoder
    rule = _marking_rule(job)
    found: dict[str, str | None] = {
        "scale": job.scale,
        "zero_offset": rule.zero_offset,
        "chassis": marks.get(here.chassis_top or ""),
        "shell": marks.get(here.underside or ""),
        "keep": job.clearance.keep,
        "finest": job.marking.finest,
        "width": _with_unit(job, here.width),
        "inside_length": _with_unit(job, job.length.shell_inside) if job.length else None,
        "rule_unit": rule.unit,
        "graduation": rule.graduation,
        "rule_length": rule.length,
        "read_to": rule.read_to,
        "reading_u": rule.reading_uncertainty,
        "offset_u": rule.offset_uncertainty,
        "seating": job.seat.repeatability,
        "cutting": job.build.cutting_tolerance,
    }
    for name in ("flange", "length", "width", "depth"):
        found[name if name == "flange" else f"speaker_{name}"] = getattr(speaker, name) if speaker else None
    for name in ("length", "width", "height"):
        found[f"decoder_{name}"] = getattr(decoder, name) if decoder else None
    return {name: "" if empty(found.get(name)) else str(found[name]) for name in ALL}


def _marking_rule(job: Job) -> Any:
    return next(rule for rule in job.rules if rule.name == job.marking.rule)


def _with_unit(job: Job, reading: str | None) -> str | None:
    """Return a reading's mark with its rule's unit, for a field that has no unit of its own."""
    entry = next((each for each in job.readings if each.name == reading), None)
    return None if entry is None else with_unit(job.model_dump(include={"rules"}), entry.model_dump())


def read_entries(entries: Mapping[str, str], base: Job, zone: int = 0) -> Outcome:
    """Read everything typed so far into a job.

    Parameters
    ----------
    entries : mapping of str to str
        By field, as typed; a field that is not there is taken as empty. [-]
    base : Job
        The job that the entries change. [-]
    zone : int
        The zone that the readings belong to. [-]

    Returns
    -------
    Outcome
        The new job, or what is missing or wrong; `base` is not changed. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> typed = {"scale": "HO", "zero_offset": "1", "chassis": "6", "shell": "10", "keep": "1/4", "finest": "1/4"}
    >>> read_entries(typed, blank_job()).job.readings[0].mark
    '10'
    >>> read_entries({**typed, "shell": "nan"}, blank_job()).messages["shell"][:30]
    "'nan': that is not a number; w"
    """
    reader = OwnRuleReader({name: entries.get(name, "").strip() for name in ALL}, base.model_dump(), zone)
    reader.read()
    by_gap = ("chassis", "shell") if reader.zone["gap"] else ()
    waiting = tuple(name for name in FIRST if not reader.typed[name] and name not in by_gap)
    reader.put_off(waiting)
    unread = tuple(name for name in unread_in(reader.document) if name not in reader.on_screen(waiting))
    if reader.messages:
        return Outcome(None, reader.echoes, reader.messages, waiting, unread)
    try:
        job = freshly_read(base, Job.model_validate(reader.document))
    except ValueError as fault:  # pydantic's own; every field was read before, so this is a text too long
        return Outcome(None, reader.echoes, {"scale": str(fault)}, waiting, unread)
    if waiting or unread:
        return Outcome(None, reader.echoes, {}, waiting, unread, job)
    return Outcome(job, reader.echoes, {})


_FIELD_OF = {
    ("zones", "underside"): "shell",
    ("zones", "chassis_top"): "chassis",
    ("zones", "gap"): "shell",
    ("zones", "width"): "width",
    ("clearance", "keep"): "keep",
    ("marking", "finest"): "finest",
    ("length", "shell_inside"): "inside_length",
}


def field_of(fault: ModelMathError, zone: int = 0, job: Job | None = None) -> tuple[str, str]:
    """Say beside which field a fault of the plan belongs, and what to say there.

    Parameters
    ----------
    fault : ModelMathError
        What kept the plan from being worked out. [-]
    zone : int
        The zone that the readings on the first screen belong to. [-]
    job : Job or None
        The job that has the fault, to tell which zones share a reading with that one. [-]

    Returns
    -------
    tuple of two str
        The field, empty where the fault belongs to none of them; and the message. [-]

    References
    ----------
    None needed.
    """
    if not isinstance(fault, JobError) or not fault.path:
        return "", str(fault)
    table, *rest = fault.path
    advice = f"; {fault.write}" if fault.write else ""
    message = f"{fault.problem}{advice}".removesuffix(".") + "."
    if table == "zones" and rest[:1] != [zone]:
        return _shared(fault, zone, job), f"{fault.where}: {message}"
    keys = [key for key in rest if isinstance(key, str)]
    if table == "zones" and not keys:  # what is wrong with the two heights together
        depth = fault.problem.partition(";")[0]
        return "shell", f"The reading in the shell has to be more than the one on the chassis: {depth}."
    return _FIELD_OF.get((str(table), keys[-1] if keys else ""), ""), message


def _shared(fault: JobError, zone: int, job: Job | None) -> str:
    """Return the field of the reading that another zone's fault comes from; empty where the two share none."""
    other = next((each for each in fault.path[1:2] if isinstance(each, int)), None)
    if job is None or other is None or fault.path[2:]:
        return ""
    here, there = job.zones[zone], job.zones[other]
    if there.underside and there.underside == here.underside:
        return "shell"
    return "chassis" if there.chassis_top and there.chassis_top == here.chassis_top else ""
