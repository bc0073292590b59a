"""Calculations for fitting sound and light inside the shells of powered scale models.

The names below load what they need when they are first used, so that ``import modelmath`` stays quick.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "Box": "enclosure",
    "Cavity": "enclosure",
    "CutPart": "cutting",
    "CutPlan": "cutting",
    "CutStock": "cutting",
    "DoesNotFit": "errors",
    "Enclosure": "enclosure",
    "Job": "job",
    "JobError": "errors",
    "Limits": "enclosure",
    "Marks": "clearance",
    "ModelMathError": "errors",
    "Plan": "job",
    "PrototypeLength": "lengths.prototype",
    "Reading": "lengths.readings",
    "Rule": "lengths.rules",
    "Scale": "lengths.scales",
    "Speaker": "enclosure",
    "Stack": "clearance",
    "StockStrip": "materials",
    "Strip": "materials",
    "Term": "clearance",
    "UnknownChoice": "errors",
    "UnknownScale": "errors",
    "UnreadableLength": "errors",
    "Zone": "enclosure",
    "check_job": "job",
    "convert": "lengths.units",
    "fit_enclosure": "enclosure",
    "format_length": "lengths.text",
    "largest_at_mark": "clearance",
    "load_job": "job",
    "parse_length": "lengths.parse",
    "parse_prototype": "lengths.parse",
    "parse_strip": "materials",
    "pick_drill": "materials",
    "pick_strips": "materials",
    "plan": "job",
    "plan_cuts": "cutting",
    "save_job": "job",
    "scale": "lengths.scales",
    "smallest_at_mark": "clearance",
    "write_packet": "drawings",
}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'modelmath' has no attribute {name!r}")
    value = getattr(import_module(f"modelmath.{_HOMES[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
