"""Targets: every panel of the workbook, its fields, boxes, choices and buttons, as a person uses them.

A panel never raises: what is wrong is said on the page. It is made once and used for many inputs, as making one takes
long; its fields are then put back. What it went through before a finding is told with it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import partial
from typing import Any

import ipywidgets as w
from fuzz.chooser import Choices
from fuzz.on_files import place
from fuzz.on_forms import WORDS
from fuzz.on_lengths import GAUGES, KNOWN, LENGTHS, QUANTITIES, RESIZED, RULES, TERMS, WANTED
from fuzz.on_materials import DRILLS, PARTS, SETS, SHIMS, STOCK, STRIPS, WIRES
from fuzz.on_tables import READINGS, SWEEPS
from fuzz.target import Target
from fuzz.words import short_text, text

from modelmath import widgets
from modelmath.errors import ModelMathError
from modelmath.widgets.common.grid import Grid

PANELS = tuple(name for name in widgets.__all__ if name != "WordsUsedHere")
SEEDS = (
    *WORDS, *LENGTHS, *QUANTITIES, *GAUGES, *KNOWN, *WANTED, *TERMS, *RULES, *RESIZED, *STOCK, *DRILLS, *PARTS, *SETS,
    *SHIMS, *STRIPS, *WIRES, *READINGS, *SWEEPS, "", "switcher-ho", "kerf", "95 %", "20", "-3",
)  # fmt: skip
AGAIN = 150  # inputs until a panel is made anew
MOST_CONTROLS = 400

_made: dict[str, tuple[Any, int]] = {}
journal: dict[str, list[Any]] = {}


def panel(name: str) -> Any:
    """The panel in use, or a new one; in a workbook folder of its own."""
    found, used = _made.get(name, (None, AGAIN))
    if used >= AGAIN:
        folder = place() / "panels" / name
        folder.mkdir(parents=True, exist_ok=True)
        os.chdir(folder)
        found, used = getattr(widgets, name)(), 0
        journal[name] = []
    os.chdir(place() / "panels" / name)
    _made[name] = found, used + 1
    return found


def controls(of: Any) -> list[Any]:
    """All that can be typed into, chosen or pressed, in the order it stands on the page."""
    top = of if isinstance(of, w.Widget) else of.view
    return list(_below(top, set()))[:MOST_CONTROLS]


def _below(widget: Any, seen: set[int]) -> Iterator[Any]:
    if id(widget) in seen:
        return
    seen.add(id(widget))
    if isinstance(widget, (w.Text, w.Textarea, w.Combobox, w.Dropdown, w.Checkbox, w.ToggleButton, w.Button,
    w.ToggleButtons,
                           w.SelectMultiple, w.BoundedIntText, w.IntText, w.FloatText, w.IntSlider, Grid)):  # fmt: skip
        yield widget
    for child in getattr(widget, "children", ()):
        yield from _below(child, seen)


def _steps(choices: Choices, name: str) -> tuple[Any, ...]:
    steps = []
    for _ in range(choices.below(4) + 1):
        which, way = choices.below(MOST_CONTROLS), choices.below(256)
        steps.append((which, way, text(choices, SEEDS) if choices.often(60) else short_text(choices, SEEDS)))
    return name, steps


def use(name: str, steps: list[tuple[int, int, str]]) -> None:
    """Use a panel step by step, then put back what was there."""
    shown = panel(name)
    journal[name].append(steps)
    before: list[tuple[Any, Any]] = []
    try:
        for which, way, typed in steps:
            there = controls(shown)
            control = there[which % len(there)]
            if hasattr(control, "value") and not isinstance(control, w.ToggleButton):
                before.append((control, control.value))
            _set(control, way, typed)
        summary = getattr(shown, "summary", "")
        assert isinstance(summary, str)
    except ModelMathError as error:
        _made.pop(name, None)
        raised = AssertionError("a panel raised, in place of saying so")
        raised.add_note(f"the panel had been through {journal[name]!r}")
        raise raised from error
    except BaseException as error:
        _made.pop(name, None)
        error.add_note(f"the panel had been through {journal[name]!r}")
        raise
    for control, value in reversed(before):
        _put_back(control, value)


def _set(control: Any, way: int, typed: str) -> None:
    if isinstance(control, (w.Dropdown, w.ToggleButtons)):
        if control.options:
            control.index = way % len(control.options)
    elif isinstance(control, w.SelectMultiple):
        control.index = tuple(at for at in range(len(control.options)) if (way >> at % 8) & 1)
    elif isinstance(control, (w.Checkbox, w.ToggleButton)):
        control.value = not control.value
    elif isinstance(control, w.Button):
        if not control.disabled:
            for act in list(control._click_handlers.callbacks):  # click() itself only logs what is raised
                act(control)
    elif isinstance(control, Grid):
        _type_cell(control, way, typed)
    elif isinstance(control, (w.IntText, w.BoundedIntText, w.IntSlider, w.FloatText)):
        control.value = way - 128
    else:
        control.value = typed


def _type_cell(grid: Grid, way: int, typed: str) -> None:
    rows = [dict(row) for row in grid.rows]
    if not rows:
        return
    row = rows[way % len(rows)]
    row[list(row)[way % len(row)]] = typed
    grid.rows = rows * (1 + (way == 255) * 9)


def _put_back(control: Any, value: Any) -> None:
    options = getattr(control, "options", None)
    if isinstance(control, Grid):
        return
    if options is None or value in [each[1] if isinstance(each, tuple) else each for each in options]:
        control.value = value


COST_MS = {
    "EnclosurePanel": 150.0, "CutsPanel": 300.0, "FleetPanel": 1000.0, "StripsPanel": 100.0, "SoundPanel": 150.0,
    "ClearancePanel": 250.0, "TablePanel": 60.0,
}  # fmt: skip
TARGETS = tuple(
    Target(f"panel: {name}", partial(_steps, name=name), use, COST_MS.get(name, 25.0), most_s=10.0) for name in PANELS
)
