"""Targets: jobs that read, planned whole; large ones, up to every limit of the document and past it."""

from __future__ import annotations

from fractions import Fraction
from functools import cache, cached_property, partial
from typing import Any

from fuzz.chooser import Choices
from fuzz.on_files import job_file
from fuzz.target import Target, refused
from fuzz.words import NUMBERS, TOKENS, several
from sample_jobs import SMALLEST, changed, with_chamber

from modelmath.job.document import Job
from modelmath.job.plan import Plan, plan
from modelmath.job.storage.text import parse_job

SIZES = (
    "0 mm",
    "0.01 mm",
    "0.3 mm",
    "1 mm",
    "3.3 mm",
    "20 mm",
    "100 mm",
    "-3 mm",
    "1/3 mm",
    "1000 mm",
    ".040 in",
    "2 scale ft",
)
MARKS = ("0", "1/4", "5 1/2", "9 1/4", "12", "40", "60", "5 1/3", "9.999", "15.9 mm")
COUNTS = (0, 1, 2, 3, 12, 50, 99, 100, 999, 1000, 5000)
MANY = (1, 2, 5, 20, 60, 100, 200, 500, 1000, 20_000)


@cache
def sections() -> tuple[str, ...]:
    """Every figure and section of a plan that is worked out when it is asked for."""
    return tuple(
        sorted(
            {
                name
                for kind in Plan.__mro__
                for name, value in vars(kind).items()
                if isinstance(value, (property, cached_property)) and not name.startswith("_")
            }
        )
    )


def plan_text(typed: str) -> None:
    """A job file that reads is planned, every section of it."""
    job, faults = parse_job(typed, "a.toml")
    if job is None:
        raise faults[0]
    plan_whole(job)


def plan_document(document: dict[str, Any]) -> None:
    """A document is a job or refused as pydantic does; a job is planned, every section of it."""
    from pydantic import ValidationError

    try:
        job = Job.model_validate(document)
    except ValidationError:
        return
    plan_whole(job)


def plan_whole(job: Job) -> None:
    made = plan(job)
    made.remeasure()
    for name in sections():
        refused(partial(getattr, made, name))


# Documents, large in one way or several.


def _document(choices: Choices) -> tuple[Any, ...]:
    fields: dict[str, Any] = {}
    readings = [each.model_dump() for each in with_chamber().readings]
    for _ in range(choices.below(4) + 1):
        _GROW[choices.below(len(_GROW))](choices, fields, readings)
    base = with_chamber().model_dump(exclude_none=True)
    base["readings"] = readings
    return (changed(base, **fields),)


def _many(choices: Choices) -> int:
    return choices.one(MANY[:7]) if choices.often(245) else choices.one(MANY)


def _read(choices: Choices, readings: list[dict[str, Any]], name: str, on: str | None = None) -> str:
    entry: dict[str, Any] = {"name": name, "mark": choices.one(MARKS)}
    if on:
        entry["on"] = on
    if choices.often(40):
        entry["again"] = [choices.one(MARKS)] * choices.one((1, 3, 100, 101))
    readings.append(entry)
    return name


def _zones(choices: Choices, fields: dict[str, Any], readings: list[dict[str, Any]]) -> None:
    count, step = _many(choices), choices.one((1, 3, 15))
    zones = []
    for each in range(count):
        top = _read(choices, readings, f"top {each}")
        zone: dict[str, Any] = {"name": f"zone {each}", "underside": "roof", "chassis_top": top, "width": "width"}
        if each < count - 1:
            readings.append({"name": f"end {each}", "mark": str((each + 1) * step), "on": "shell"})
            zone["end"] = f"end {each}"
        zones.append(zone)
    fields["zones"] = zones
    for entry in readings:
        if entry["name"] == "length":
            entry["mark"] = str((count + 1) * step)


def _stations(choices: Choices, fields: dict[str, Any], readings: list[dict[str, Any]]) -> None:
    zones = fields.get("zones") or with_chamber().model_dump()["zones"]
    fields["stations"] = [
        {
            "name": f"spot {each}",
            "zone": choices.one(zones)["name"],
            "chassis_top": _read(choices, readings, f"spot {each}"),
        }
        for each in range(_many(choices))
    ]


def _obstacles(choices: Choices, fields: dict[str, Any], readings: list[dict[str, Any]]) -> None:
    found = []
    for each in range(_many(choices)):
        entry = {
            "name": f"thing {each}",
            "start": f"from {each}",
            "end": f"to {each}",
            "running": choices.one(SIZES[:5]),
        }
        place = Fraction(each % 40) / 2 + 1
        readings.append({"name": f"from {each}", "mark": str(float(place)), "on": "shell"})
        readings.append({"name": f"to {each}", "mark": str(float(place) + choices.one((0.1, 0.5, 5))), "on": "shell"})
        if choices.below(3):
            entry["top"] = _read(choices, readings, f"over {each}")
        if choices.below(2):
            entry |= {"width": choices.one(SIZES), "off_centre": choices.one(SIZES)}
        found.append(entry)
    fields["obstacles"] = found


def _chamber(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    fields["chamber"] = {
        "cut_round": choices.often(128), "steps": choices.below(6), "wire_path": choices.one(SIZES),
        "floor": choices.one(("pieces", "one piece")), "light_barrier": choices.often(128),
        "front_end": choices.one(("best", *SIZES)), "rear_end": choices.one(("best", *SIZES)),
    }  # fmt: skip


def _lamps(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    fields["lamps"] = [
        {"name": f"lamp {each}", "end": choices.one(("front", "rear")), "room": choices.one(SIZES),
        "strand": choices.one(SIZES[:5]),
         "strands": choices.one(COUNTS), "circuit": f"circuit {each % 7}"}
        for each in range(_many(choices))
    ]  # fmt: skip


def _wires(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    fields["wires"] = [
        {"name": f"wire {each}", "diameter": choices.one(SIZES), "count": choices.one(COUNTS)}
        for each in range(_many(choices))
    ]
    fields["hole_layout"] = {
        "way": choices.one(("row", "spread")),
        "web": choices.one(SIZES),
        "apart": choices.one(SIZES),
    }
    fields["holes"] = [
        {"name": f"wire {each}", "right": choices.one(SIZES), "up": choices.one(SIZES)}
        for each in range(choices.below(4))
    ]


def _light(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    lamps = fields.get("lamps") or [
        {"name": "lamp 0", "end": "front", "room": "4 mm", "strand": "0.5 mm", "strands": 2}
    ]
    fields["lamps"] = lamps
    spot = {"along": "8 mm", "up": "13 mm"}
    strands = [
        {"name": f"strand {each}", "lamp": choices.one(lamps)["name"], "to": {"along": choices.one(SIZES),
        "up": "12 mm"},
         "via": [{**spot, "right": choices.one(SIZES)}] * choices.one((0, 1, 3, 20, 21)), "bore": choices.one(SIZES),
         "radius": choices.one(SIZES), "formed": choices.often(128)}
        for each in range(_many(choices))
    ]  # fmt: skip
    circuits = [
        {
            "lamp": each["name"],
            "current": choices.one(("1 mA", "20 mA", "1 A")),
            "leds": choices.one(COUNTS[:5]),
            "at": spot,
        }
        for each in lamps[:60]
    ]
    leads = [
        {"name": f"lead {each}", "run": choices.one(SIZES), "count": choices.one(COUNTS), "current": "10 mA"}
        for each in range(_many(choices))
    ]
    fields["light"] = {"circuits": circuits, "strands": strands, "leads": leads}


def _drawer(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    strip = [
        {"strip": f"HO {4 + each % 8}x{6 + each % 9}", "length": f"{30 + each} mm", "count": choices.one(COUNTS)}
        for each in range(_many(choices))
    ]
    sheet = [
        {"sheet": choices.one((".040 sheet", ".030 sheet", "1 mm sheet")), "length": f"{30 + each} mm",
        "width": choices.one(SIZES),
         "count": choices.one(COUNTS), "offcut": choices.often(128)}
        for each in range(_many(choices) if choices.often(128) else 0)
    ]  # fmt: skip
    fields["drawer"] = strip + sheet


def _build(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    names = (
        "wall",
        "post",
        "kerf",
        "end_trim",
        "least_offcut",
        "new_strip",
        "new_sheet_length",
        "new_sheet_width",
        "cutting_tolerance",
    )
    fields["build"] = {choices.one(names): choices.one(SIZES) for _ in range(choices.below(4))} | {
        "count": choices.one(COUNTS)
    }


def _speakers(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    def one(name: str) -> dict[str, Any]:
        entry = {key: choices.one(SIZES) for key in ("length", "width", "flange", "depth")}
        return {
            "name": name,
            **entry,
            "faces": choices.one(("down", "up", "front", "rear")),
            "turned": choices.often(128),
        }

    fields["choices"] = [one(f"other {each}") for each in range(_many(choices))]
    if choices.often(128):
        fields["speaker"] = one("speaker")


def _profile(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    count = _many(choices)
    points = [{"down": f"{each / 7:.3f} mm", "width": f"{4 + each / 9:.3f} mm"} for each in range(count)]
    fields["profiles"] = [{"name": "arch", "points": points}]
    fields["zones"] = [
        {**zone, "profile": "arch"}
        for zone in fields.get("zones") or with_chamber().model_dump(exclude_none=True)["zones"]
    ]


def _rule(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    rule: dict[str, Any] = dict(SMALLEST["rules"][0])
    for _ in range(choices.below(3) + 1):
        name = choices.one(
            (
                "graduation",
                "zero_offset",
                "offset_uncertainty",
                "reading_uncertainty",
                "read_to",
                "length",
                "calibrated_at",
            )
        )
        rule[name] = choices.one((*SIZES, *MARKS, *NUMBERS))
    rule["scale_error"] = choices.one((0.0, 0.05, -0.09, 1e-300, 0.0999))
    fields["rules"] = [rule]
    fields["marking"] = {"rule": "scale rule", "finest": choices.one((*MARKS, *SIZES))}


def _texts(choices: Choices, fields: dict[str, Any], _readings: list[dict[str, Any]]) -> None:
    fields["name"] = several(choices, TOKENS)
    fields["notes"] = several(choices, TOKENS)
    fields["scale"] = choices.one(("HO", "N", "1:9999", "1:1", "O", "1:87.1", "1:1.000001"))
    fields["clearance"] = {"keep": choices.one(SIZES), "along": choices.one(SIZES)}


def _moving(choices: Choices, fields: dict[str, Any], readings: list[dict[str, Any]]) -> None:
    readings.append({"name": "mark", "mark": "3", "on": "shell"})
    readings.append({"name": "mark below", "mark": "3", "on": "chassis"})
    found = []
    for each in range(_many(choices)):
        readings.append({"name": f"at {each}", "mark": choices.one(MARKS), "on": choices.one(("shell", "chassis"))})
        entry: dict[str, Any] = {"name": f"part {each}", "kind": choices.one(("truck", "flywheel", "gear tower",
        "drive line")),
                                 "at": f"at {each}", "top": "motor top"}  # fmt: skip
        for name in ("ahead", "behind", "width", "diameter", "side_play", "rock", "wobble", "running"):
            if choices.often(128):
                entry[name] = choices.one(SIZES)
        found.append(entry)
    fields["moving"] = found
    fields["length"] = {
        "shell_inside": "length",
        "mark": "screw",
        "mark_on_shell": "mark",
        "mark_on_chassis": "mark below",
    }


_GROW = (
    _zones, _stations, _obstacles, _chamber, _lamps, _wires, _light, _drawer, _build, _speakers, _profile, _rule,
    _texts, _moving,
)  # fmt: skip


TARGETS = (
    Target(
        "the plan of a job's file",
        lambda c: (job_file(c).decode("utf-8", "surrogateescape"),),
        plan_text,
        60.0,
        most_s=20.0,
    ),
    Target("the plan of a large job", _document, plan_document, 200.0, most_s=20.0, most_mb=500.0),
)
