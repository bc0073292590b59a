"""Thin panels over the calculations. Nothing is worked out here: a panel reads text, asks, and shows.

The names below load what they need when they are first used: a page opens without the other pages' parts.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "CalibratePanel": "calibrate",
    "ClearancePanel": "clearance",
    "EnclosurePanel": "enclosure",
    "MovingPanel": "moving",
    "PrototypePanel": "prototype",
    "ReadingsPanel": "readings",
    "StripsPanel": "strips",
    "TablePanel": "table",
    "start_page": "start",
}

__all__ = sorted(_HOMES)  # noqa: PLE0605  one table says both what is public and where it lives


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'modelmath.widgets' has no attribute {name!r}")
    value = getattr(import_module(f"modelmath.widgets.{_HOMES[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
