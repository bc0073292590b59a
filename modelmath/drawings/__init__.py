"""The sheets: side elevation, true-size bulkhead template, bench card and packet.

The names below load what they need when they are first used: drawing an elevation needs no PDF writer.
"""

from typing import Any

from modelmath.late import late

_HOMES = {
    "cutting_dxf": "cutting.dxf",
    "cutting_pdf": "sheets.cuts",
    "cutting_svg": "cutting.svg",
    "day_in_words": "sheets.paper",
    "end_view_svg": "figures.views.from_the_end",
    "holes_svg": "figures.views.holes",
    "packet_pdf": "sheets.packet",
    "parts_csv": "tables.files",
    "parts_sheet_file": "tables.files",
    "plan_of_model_svg": "figures.views.from_above",
    "readings_taken_svg": "figures.taken",
    "save_cutting_dxf": "cutting.files",
    "save_cutting_svg": "cutting.files",
    "save_parts_csv": "tables.files",
    "save_parts_sheet": "tables.files",
    "save_solids_3mf": "solids.files",
    "save_solids_stl": "solids.files",
    "side_elevation_svg": "figures.elevation",
    "static_view_svg": "figures.solid.static",
    "write_packet": "sheets.packet",
}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    return late(__name__, _HOMES, name, globals())


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
