"""Every target, by name, and how a run shares its inputs out over them."""

from __future__ import annotations

from importlib import import_module

from fuzz.target import Target

MODULES = ("on_lengths", "on_materials", "on_tables", "on_files", "on_forms", "on_jobs", "on_panels")


def targets_of(module: str) -> dict[str, Target]:
    return {each.name: each for each in import_module(f"fuzz.{module}").TARGETS}


def every() -> dict[str, Target]:
    return {name: each for module in MODULES for name, each in targets_of(module).items()}


MAKING_MS = 0.2  # what it costs beside to make an input and to watch over it
EVERY = every()
MODULE_OF = {name: module for module in MODULES for name in targets_of(module)}
COSTS = {name: each.cost_ms for name, each in EVERY.items()}


def shares(inputs: int, names: list[str]) -> dict[str, int]:
    """How many inputs each target gets, in proportion to 1 / cost; each at least one, in all as many as asked for."""
    weights = {name: 1 / (COSTS[name] + MAKING_MS) for name in names}
    total = sum(weights.values())
    found = {name: max(1, int(inputs * weight / total)) for name, weight in weights.items()}
    found[names[0]] += max(0, inputs - sum(found.values()))
    return found
