"""The zones of a job as rows of text, and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from modelmath.errors import WrongKind
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job
from modelmath.job.entries.repeated import marks_of, marks_text
from modelmath.job.entries.spots import put_spots, spots_text
from modelmath.job.entries.too_much import too_much
from modelmath.job.next_model.marked import freshly_read


@dataclass(frozen=True)
class ZoneRow:
    """One zone as it is typed.

    Attributes
    ----------
    name : str
        What stands there. [-]
    chassis, shell : str
        Marks read over it. [rule's unit]
    ends_at : str
        Where it ends, from the front end of the half it is read on; empty for the last zone. [mm]
    ends_on : {"chassis", "shell"}
        The half its end is read on. [-]
    gap : str
        The gap read in the assembled model, such as a putty pellet's thickness; it takes the place of the
        difference of the two heights. Empty for none. [mm]
    spots : str
        Further spots over it, as `spots_text` writes them. [rule's unit]
    """

    name: str
    chassis: str
    shell: str
    ends_at: str = ""
    ends_on: str = "chassis"
    gap: str = ""
    spots: str = ""


@dataclass(frozen=True)
class MarkRow:
    """The fore-aft mark as it is typed: its name, and its place from the front end of either half.

    Attributes
    ----------
    name : str
        Such as ``rear body screw``; empty for none. [-]
    on_shell, on_chassis : str
        From the front end of that half. [mm]
    """

    name: str = ""
    on_shell: str = ""
    on_chassis: str = ""


def mark_row(job: Job) -> MarkRow:
    """Return the fore-aft mark of a job as text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    MarkRow
        Empty where the job has none. [-]

    References
    ----------
    None needed.
    """
    if job.length is None or job.length.mark is None:
        return MarkRow()
    marks = {reading.name: reading.mark for reading in job.readings}
    shell, chassis = job.length.mark_on_shell or "", job.length.mark_on_chassis or ""
    return MarkRow(job.length.mark, marks.get(shell, ""), marks.get(chassis, ""))


def zone_rows(job: Job) -> list[ZoneRow]:
    """Return the zones of a job as rows of text.

    Parameters
    ----------
    job : Job
        The job. [-]

    Returns
    -------
    list of ZoneRow
        Front to rear. [-]

    References
    ----------
    None needed.
    """
    readings = {reading.name: reading for reading in job.readings}

    def mark(name: str | None) -> str:
        return marks_text(readings[name]) if name in readings else ""

    return [
        ZoneRow(
            zone.name,
            mark(zone.chassis_top),
            mark(zone.underside),
            mark(zone.end),
            (readings[zone.end].on or "chassis") if zone.end in readings else "chassis",
            mark(zone.gap),
            spots_text(job, zone.name),
        )
        for zone in job.zones
    ]


def with_zones(job: Job, rows: Sequence[ZoneRow], mark: MarkRow | None = None) -> Job:
    """Return a job whose zones are as the rows say; readings that nothing uses any more are taken out.

    Parameters
    ----------
    job : Job
        The job. [-]
    rows : sequence of ZoneRow
        Front to rear. [-]
    mark : MarkRow or None
        The fore-aft mark; None to leave it as it is. [-]

    Returns
    -------
    Job
        A new job. [-]

    Raises
    ------
    JobError, WrongKind
        If a row can't be read, or two zones have one name.

    References
    ----------
    None needed.
    """
    if len({row.name for row in rows}) < len(rows):
        raise WrongKind("the zones", "of the same name", "a name for each", "Give each zone a name of its own.")
    document = job.model_dump()
    before = {zone["name"]: zone for zone in document["zones"]}
    readings = {reading["name"]: dict(reading) for reading in document["readings"]}
    first = document["zones"][0]
    rule = next((r["name"] for r in document["rules"] if r["unit"] == "mm"), document["rules"][0]["name"])
    zones = []
    for place, row in enumerate(rows):
        zone = dict(before.get(row.name) or {**first, "name": row.name, "gap": None, "end": None})
        zone["chassis_top"] = _reading(readings, zone, "chassis_top", f"chassis top over {row.name}", row.chassis)
        zone["underside"] = _reading(readings, zone, "underside", f"roof over {row.name}", row.shell)
        zone["gap"] = _gap(readings, zone, row, rule)
        put_spots(document, readings, zone, row.spots, rule)
        last = place == len(rows) - 1
        zone["end"] = None if last else _end(readings, zone, row, rule)
        zones.append(zone)
    document["zones"] = zones
    document["stations"] = [each for each in document["stations"] if each["zone"] in {zone["name"] for zone in zones}]
    if mark is not None and document["length"] is not None:
        _set_mark(document["length"], readings, mark, rule)
    before_it = job.model_dump()
    document["readings"] = [each for name, each in readings.items() if _used(name, document) or _spare(name, before_it)]
    try:
        changed = freshly_read(job, Job.model_validate(document))
    except ValidationError as fault:
        raise WrongKind("a name or reading", "too long", "what a job can hold", too_much(fault)) from None
    faults = Bench(changed).faults
    if faults:
        raise faults[0]
    return changed


def _set_mark(length: dict[str, Any], readings: dict[str, Any], mark: MarkRow, rule: str) -> None:
    """Put the fore-aft mark's name and its two readings into the document."""
    length["mark"] = mark.name.strip() or None
    for half, typed in (("shell", mark.on_shell.strip()), ("chassis", mark.on_chassis.strip())):
        key = f"mark_on_{half}"
        if length["mark"] is None or not typed:
            length[key] = None
            continue
        name = length[key] or f"{length['mark']}, on the {half}"
        old = readings.get(name, {})
        if old.get("mark") == typed and (old["on"] or "chassis") == half:
            length[key] = name
            continue
        like = readings.get(name, {"rule": rule, "datum": "end", "taken_from": "seat"})
        readings[name] = {**like, "name": name, "mark": typed, "on": half}
        length[key] = name


def _reading(readings: dict[str, Any], zone: dict[str, Any], key: str, name: str, mark: str) -> str | None:
    """Return the name of a reading with this mark: the zone's own when it has it, else one for this zone alone."""
    old = zone[key]
    if not mark.strip():
        return None
    first, again = marks_of(mark)
    if old in readings and (readings[old]["mark"], readings[old]["again"]) == (first, again):
        return str(old)
    like = readings.get(old, {"rule": None, "datum": "end", "taken_from": "seat", "on": None})
    readings[name] = {**like, "name": name, "mark": first, "again": again}
    return name


def _gap(readings: dict[str, Any], zone: dict[str, Any], row: ZoneRow, rule: str) -> str | None:
    """Return the name of the reading of a gap: by caliper or steel rule, unless the zone's own says another."""
    if not row.gap.strip():
        return None
    name = zone["gap"] or f"gap over {row.name}"
    like = readings.get(name, {"rule": rule, "datum": "end", "taken_from": "seat", "on": None})
    mark, again = marks_of(row.gap)
    readings[name] = {**like, "name": name, "mark": mark, "again": again}
    return str(name)


def _end(readings: dict[str, Any], zone: dict[str, Any], row: ZoneRow, rule: str) -> str:
    old = readings.get(zone["end"] or "", {})
    mark, again = marks_of(row.ends_at)
    if old and (old["mark"], old["again"], old["on"] or "chassis") == (mark, again, row.ends_on):
        return str(zone["end"])
    if not mark:
        raise WrongKind(
            f"the end of {row.name!r}", "empty", "a length from the front", "Write where it ends, such as 42 mm."
        )
    name = f"end of {row.name}"
    like = {"rule": rule, "datum": "end", "taken_from": "seat"}
    readings[name] = {**like, "name": name, "mark": mark, "again": again, "on": row.ends_on}
    return name


def _spare(name: str, document: dict[str, Any]) -> bool:
    """Whether a reading stood in a document without any use."""
    return any(each["name"] == name for each in document["readings"]) and not _used(name, document)


def _used(name: str, document: dict[str, Any]) -> bool:
    zones = (value for zone in document["zones"] for key, value in zone.items() if key != "name")
    links = (link["reading"] for link in document["links"])
    stations = (each[key] for each in document["stations"] for key in ("underside", "chassis_top", "gap"))
    moving = (each[key] for each in document["moving"] for key in ("at", "to", "top"))
    standing = (each[key] for each in document["obstacles"] for key in ("start", "end", "top"))
    return name in {*zones, *links, *stations, *moving, *standing, *(document["length"] or {}).values()}
