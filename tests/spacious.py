"""Jobs with all that the space inside a shell can hold: what stands there, sections, facings. All numbers invented."""

from __future__ import annotations

from typing import Any

from sample_jobs import job

from modelmath import plan
from modelmath.job import Plan

PLACES = {
    "inside": "shell", "hole": "shell", "pin": "chassis", "step": "chassis", "clip front": "chassis",
    "clip rear": "chassis", "post front": "shell", "post rear": "shell",
}  # fmt: skip
MARKS = {
    "roof": "30", "low": "10", "high": "22", "width": "20", "inside": "100", "hole": "10", "pin": "15", "step": "75",
    "clip front": "35", "clip rear": "45", "clip top": "14", "post front": "60", "post rear": "66",
}  # fmt: skip
LENGTH = {"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole", "mark_on_chassis": "pin"}
ZONES = [
    {"name": "low end", "underside": "roof", "chassis_top": "low", "width": "width", "end": "step"},
    {"name": "gear box", "underside": "roof", "chassis_top": "high", "width": "width"},
]
ARCH = [
    {
        "name": "arch",
        "points": [
            {"down": "0 mm", "width": "12 mm"},
            {"down": "3 mm", "width": "18 mm"},
            {"down": "6 mm", "width": "20 mm"},
        ],
    }
]
CLIP = {"name": "motor clip", "kind": "motor frame", "start": "clip front", "end": "clip rear", "top": "clip top",
        "width": "6 mm", "off_centre": "1 mm", "running": "0.5 mm"}  # fmt: skip
POST = {"name": "screw post", "kind": "screw post", "start": "post front", "end": "post rear", "width": "5 mm",
        "off_centre": "-3 mm", "running": "0.5 mm"}  # fmt: skip
SPEAKER = {"length": "14 mm", "width": "10 mm", "flange": "1.2 mm", "depth": "6 mm", "basket_length": "11 mm",
           "basket_width": "8 mm", "terminals": "1.5 mm"}  # fmt: skip
DECODER = {"length": "14 mm", "width": "9 mm", "height": "3 mm"}


def spacious(**fields: Any) -> Plan:
    """A shell 100 mm long: chassis at 10 mm up to 60 mm behind the mark, 22 mm behind that; a steel rule in mm."""
    readings = [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in MARKS.items()]
    document = {
        "rules": [{"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "200"}],
        "marking": {"rule": "steel rule", "finest": "0.5"},
        "clearance": {"keep": "1 mm", "along": "0.5 mm"},
        "readings": readings,
        "zones": ZONES,
        "length": LENGTH,
        "speaker": SPEAKER,
        "decoder": DECODER,
        "build": {"wall": "1 mm", "post": "2 mm"},
    }
    return plan(job(**{**document, **fields}))


def facing(way: str, **fields: Any) -> Plan:
    """The same with the speaker facing another way."""
    return spacious(speaker={**SPEAKER, "faces": way}, **fields)


_OPEN = {**LENGTH, "rear_closed": False}
_ARCHED: dict[str, Any] = {"profiles": ARCH, "zones": [{**zone, "profile": "arch"} for zone in ZONES]}
SPACES = {
    "standing": lambda: spacious(obstacles=[CLIP, POST]),
    "cut round, arched": lambda: spacious(obstacles=[CLIP], chamber={"cut_round": True}, **_ARCHED),
    "up": lambda: facing("up"),
    "front": lambda: facing("front", length={**LENGTH, "front_closed": False}, obstacles=[POST]),
    "rear, wires": lambda: facing("rear", chamber={"wire_path": "2 mm"}, length=_OPEN, **_ARCHED),
    "inside": lambda: spacious(decoder={**DECODER, "inside": True}, zones=[{**ZONES[0], "end": None, "name": "all"}]),
}
