"""More spots over a zone, as one line of text: ``left: 5 1/4; right: 5, 8 1/2; edge: shell 8``."""

from __future__ import annotations

import re
from typing import Any

from modelmath.errors import WrongKind
from modelmath.job.document import Job

EXAMPLE = "left: 5 1/4; right: 5, 8 1/2"
_SPOT = re.compile(r"(?P<name>[^:;]*):(?P<marks>[^:;]*)")


def spots_text(job: Job, zone: str) -> str:
    """Return a zone's further spots as text.

    Parameters
    ----------
    job : Job
        The job. [-]
    zone : str
        The zone's name. [-]

    Returns
    -------
    str
        Each spot: its name, a colon, its reading on the chassis, and after a comma its own reading in the shell if it
        has one; ``shell`` and its reading in the shell alone; or ``gap`` and the gap read there. Empty where the zone
        has no further spot. [rule's unit]


    References
    ----------
    None needed.
    """
    marks = {reading.name: reading.mark for reading in job.readings}
    found = []
    for station in job.stations:
        if station.zone != zone:
            continue
        if station.gap is not None:
            found.append(f"{station.name}: gap {marks.get(station.gap, '')}")
            continue
        if station.chassis_top is None:
            found.append(f"{station.name}: shell {marks.get(station.underside or '', '')}")
            continue
        heights = [marks.get(station.chassis_top, "")]
        heights += [marks[station.underside]] if station.underside in marks else []
        found.append(f"{station.name}: {', '.join(heights)}")
    return "; ".join(found)


def put_spots(document: dict[str, Any], readings: dict[str, Any], zone: dict[str, Any], text: str, rule: str) -> None:
    """Put a zone's further spots into a document; what the text leaves as it was keeps its readings.

    Parameters
    ----------
    document : dict
        The document; its stations are changed. [-]
    readings : dict of str to dict
        Its readings by name; changed. [-]
    zone : dict
        The zone. [-]
    text : str
        As `spots_text` writes it. [rule's unit]
    rule : str
        The rule that gaps are read with. [-]

    Raises
    ------
    WrongKind
        If the text can't be read, or a spot stands twice.

    References
    ----------
    None needed.
    """
    before = {each["name"]: each for each in document["stations"] if each["zone"] == zone["name"]}
    made: dict[str, dict[str, Any]] = {}
    for part in filter(str.strip, text.split(";")):
        match = _SPOT.fullmatch(part)
        name, marks = (match["name"].strip(), match["marks"].strip()) if match else ("", "")
        if not name or not marks:
            raise WrongKind("the further spots", repr(part.strip()), "a place, a colon, a reading", f"Write {EXAMPLE}.")
        if name in made:
            raise WrongKind("the further spots", f"{name!r} twice", "each place once", "Give one of the two another.")
        old = before.get(name, {"underside": None, "chassis_top": None, "gap": None})
        made[name] = _station(readings, zone, name, marks, old, rule)
    kept = []
    for each in document["stations"]:  # in the order they had, so that a file's lines stay where they were
        mine = each["zone"] == zone["name"]
        kept += [made.pop(each["name"])] if mine and each["name"] in made else [] if mine else [each]
    document["stations"] = [*kept, *made.values()]


def _station(
    readings: dict[str, Any], zone: dict[str, Any], name: str, marks: str, old: dict[str, Any], rule: str
) -> dict[str, Any]:
    station: dict[str, Any] = {"name": name, "zone": zone["name"], "underside": None, "chassis_top": None, "gap": None}
    if marks.startswith("gap "):
        station["gap"] = _put(readings, old["gap"], f"gap over {zone['name']}, {name}", marks[4:], {"rule": rule})
        return station
    top, *roof = re.split(r",\s+", marks, maxsplit=1)
    if top.startswith("shell "):
        roof = [top.removeprefix("shell ")]
    else:
        like = readings.get(zone["chassis_top"] or "", {})
        called = f"chassis top over {zone['name']}, {name}"
        station["chassis_top"] = _put(readings, old["chassis_top"], called, top, like)
    if roof:
        like = readings.get(zone["underside"] or "", {})
        station["underside"] = _put(readings, old["underside"], f"roof over {zone['name']}, {name}", roof[0], like)
    return station


def _put(readings: dict[str, Any], old: str | None, name: str, mark: str, like: dict[str, Any]) -> str:
    """Return the name of a reading with this mark: the spot's own when it has it, else a new one like the zone's."""
    if old in readings and readings[old]["mark"] == mark.strip():
        return str(old)
    own = readings.get(old or "", like)
    kept = {"rule": None, "datum": "end", "taken_from": "seat", "on": None, **own, "again": []}
    readings[name] = {**kept, "name": name, "mark": mark.strip()}
    return name
