"""Calculations for fitting sound and light inside the shells of powered scale models.

The names below load what they need when they are first used, so that ``import modelmath`` stays quick.
"""

from typing import Any

from modelmath.late import late

_HOMES = {
    "AmbiguousName": "materials",
    "Box": "enclosure",
    "Calibration": "lengths.calibration",
    "Cavity": "enclosure",
    "CutPart": "cutting",
    "CutPlan": "cutting",
    "CutStock": "cutting",
    "Distribution": "clearance",
    "DoesNotFit": "errors",
    "Drawer": "materials.drawer.drawer",
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
    "Section": "materials",
    "SetPart": "materials",
    "Sheet": "materials",
    "SheetPart": "cutting.sheet_layout",
    "SheetStock": "cutting.sheet_layout",
    "Shim": "materials",
    "Speaker": "enclosure",
    "Stack": "clearance",
    "StockSheet": "materials",
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
    "equivalents": "materials",
    "find_scale": "lengths.full_size.find_scale",
    "fit_enclosure": "enclosure",
    "format_length": "lengths.text",
    "instrument": "lengths.rules.kinds",
    "laminate": "materials",
    "largest_at_mark": "clearance",
    "lay_out_sheet": "cutting.sheet_layout",
    "lift_off": "enclosure.mechanism",
    "load_drawer": "materials.drawer.store",
    "load_job": "job",
    "mid_throw": "enclosure.mechanism",
    "parse_area": "lengths.full_size.areas",
    "parse_length": "lengths.parse",
    "parse_prototype": "lengths.parse",
    "parse_section": "materials",
    "parse_sheet": "materials",
    "parse_stock": "materials",
    "parse_strip": "materials",
    "parse_volume": "lengths.full_size.areas",
    "pick_drill": "materials",
    "pick_for_set": "materials",
    "pick_sheets": "materials",
    "pick_strips": "materials",
    "plan": "job",
    "plan_cuts": "cutting",
    "read_drawer": "materials.drawer.tables",
    "read_table": "lengths.table",
    "represents": "materials",
    "resize": "lengths.full_size.resizing",
    "save_drawer": "materials.drawer.store",
    "save_job": "job",
    "scale": "lengths.scales",
    "shim_for_height": "materials",
    "shim_up": "materials",
    "simulate": "clearance",
    "smallest_at_mark": "clearance",
    "write_drawer": "materials.drawer.tables",
    "write_packet": "drawings",
    "write_table": "lengths.table",
    "yaw": "enclosure.mechanism",
}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    return late(__name__, _HOMES, name, globals())


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
