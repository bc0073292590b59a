"""The sheets: side elevation, true-size bulkhead template, bench card and packet.

The names below load what they need when they are first used: drawing an elevation needs no PDF writer.
"""

from importlib import import_module
from typing import Any

_HOMES = {"packet_pdf": "sheets.packet", "side_elevation_svg": "figures.elevation", "write_packet": "sheets.packet"}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'modelmath.drawings' has no attribute {name!r}")
    value = getattr(import_module(f"modelmath.drawings.{_HOMES[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
