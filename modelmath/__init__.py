"""Calculations for fitting sound and light inside the shells of powered scale models.

The names below load what they need when they are first used, so that ``import modelmath`` stays quick.
"""

from typing import Any

from modelmath.late import late

_HOMES = {
    "Box": "enclosure",
    "Calibration": "lengths.calibration",
    "Cavity": "enclosure",
    "CutPart": "cutting",
    "CutPlan": "cutting",
    "CutStock": "cutting",
    "Distribution": "clearance",
    "DoesNotFit": "errors",
    "DrawingRatio": "lengths.full_size.from_drawing",
    "Enclosure": "enclosure",
    "Gauge": "lengths.calibration",
    "Job": "job",
    "JobError": "errors",
    "KnownSize": "lengths.full_size.known_sizes",
    "Limits": "enclosure",
    "Marks": "clearance",
    "ModelMathError": "errors",
    "Obstacle": "enclosure",
    "Plan": "job",
    "PrototypeArea": "lengths.prototype",
    "PrototypeLength": "lengths.prototype",
    "PrototypeVolume": "lengths.prototype",
    "Reading": "lengths.rules.readings",
    "Rule": "lengths.rules",
    "Scale": "lengths.scales",
    "Speaker": "enclosure",
    "Stack": "clearance",
    "StockStrip": "materials",
    "Strip": "materials",
    "Term": "clearance",
    "Truck": "enclosure.mechanism",
    "UnknownChoice": "errors",
    "UnknownScale": "errors",
    "UnreadableLength": "errors",
    "Zone": "enclosure",
    "check_job": "job",
    "convert": "lengths.units",
    "end_throw": "enclosure.mechanism",
    "find_scale": "lengths.full_size.find_scale",
    "fit_enclosure": "enclosure",
    "format_length": "lengths.text",
    "instrument": "lengths.rules.kinds",
    "largest_at_mark": "clearance",
    "lift_off": "enclosure.mechanism",
    "load_job": "job",
    "mid_throw": "enclosure.mechanism",
    "parse_area": "lengths.full_size.areas",
    "parse_length": "lengths.parse",
    "parse_prototype": "lengths.parse",
    "parse_strip": "materials",
    "parse_volume": "lengths.full_size.areas",
    "pick_drill": "materials",
    "pick_strips": "materials",
    "plan": "job",
    "plan_cuts": "cutting",
    "read_table": "lengths.table",
    "resize": "lengths.full_size.resizing",
    "save_job": "job",
    "scale": "lengths.scales",
    "simulate": "clearance",
    "smallest_at_mark": "clearance",
    "write_packet": "drawings",
    "write_table": "lengths.table",
    "yaw": "enclosure.mechanism",
}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    return late(__name__, _HOMES, name, globals())


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
