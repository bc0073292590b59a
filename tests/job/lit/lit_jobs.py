"""A job with all that lights, all invented: two headlights on one lamp, a tail lamp, their leads."""

from __future__ import annotations

from typing import Any

from sample_jobs import with_chamber

from modelmath.job.document import Job

LAMPS = [
    {"name": "headlights", "end": "front", "room": "5 mm", "strand": "0.75 mm", "strands": 2},
    {"name": "tail lamp", "end": "rear", "room": "4 mm", "strand": "0.5 mm"},
]
LIGHT: dict[str, Any] = {
    "feed": {"supply": "14 V", "outputs": ["white", "yellow", "aux 1"], "each": "100 mA", "all": "300 mA",
             "whole": "1 A", "idle": "0.4 W", "motor": "0.35 A", "sound": "0.2 A", "series": "E12"},
    "circuits": [
        {"lamp": "headlights", "colour": "warm white", "current": "2 mA", "output": "white", "emitter": "1.2 mm",
         "at": {"along": "2 mm", "up": "26 mm"}},
        {"lamp": "tail lamp", "source": "bulb", "rated": "12 V", "current": "30 mA", "output": "yellow",
         "at": {"along": "50 mm", "up": "22 mm", "right": "-2 mm"}},
    ],
    "strands": [
        {"name": "left headlight", "lamp": "headlights", "to": {"along": "-6 mm", "up": "20 mm", "right": "-6 mm"},
         "via": [{"along": "-2 mm", "up": "26 mm", "right": "-3 mm"}], "bore": "1.6 mm", "formed": True},
        {"name": "right headlight", "lamp": "headlights", "to": {"along": "-6 mm", "up": "20 mm", "right": "6 mm"},
         "prototype": "6 in", "length": "2 mm", "trial": 1.1, "radius": "4 mm", "slack": "2 mm", "trim": "1 mm"},
        {"name": "tail", "lamp": "tail lamp", "to": {"along": "56 mm", "up": "20 mm"}, "diameter": "1 mm",
         "play": "0.2 mm"},
    ],
    "leads": [
        {"name": "common of the lamps", "run": "80 mm", "gauge": "32", "colour": "blue", "current": "40 mA",
         "crosses": True},
        {"name": "to the headlights", "run": "60 mm", "slack": "20 mm", "output": "white", "count": 2},
    ],
    "most_drop": "0.2 V",
    "keep_alive": {"capacitance": "1000 uF", "least": "7 V", "load": "0.2 A", "over": "0.1 s"},
    "plug": {"name": "six-pole plug", "poles": 6, "most": "0.5 A"},
}  # fmt: skip


def lit(**fields: Any) -> Job:
    """A job with a chamber, and all that lights; some of its tables replaced."""
    document = with_chamber().model_dump()
    light = {**LIGHT, **fields.pop("light", {})}
    return Job.model_validate({**document, "lamps": LAMPS, "light": light, **fields})
