"""When each step of a build is done by one pair of hands, and what dries meanwhile."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING

from modelmath.drawings.charts.key import EDGE, GAP, ROW, SWATCH, TEXT, Swatch, key_rows
from modelmath.drawings.charts.ticks import ticks_with_room
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, text_width
from modelmath.drawings.svg import to_svg
from modelmath.errors import OutOfRange

if TYPE_CHECKING:
    from modelmath.job.building.network import Booked

HOUR = 60
LEAST = 1.5  # a bar's width, however short its work
GRID, EDGE_OF_WAIT = Pen(0.5, 0.75), Pen(0.8)
TITLE = "When each step is done"


def build_times_figure(
    booked: Sequence[Booked],
    numbers: Mapping[str, int],
    critical: Collection[str] = (),
    width: float = 480.0,
) -> Drawing:
    """Draw the work of each step as a full bar, and what then dries or cools as an open one.

    Parameters
    ----------
    booked : sequence of Booked
        The steps in the order in which they are begun. [min]
    numbers : mapping of str to int
        Each step's number on the sheet, by its key. [-]
    critical : collection of str
        Keys of the steps whose every delay delays the whole; bold. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        A chart. [drawing unit]

    Raises
    ------
    OutOfRange
        If there is no step.

    References
    ----------
    `one_pair_of_hands`.
    """
    if not booked:
        raise OutOfRange("the steps", "none", "one step or more", "Nothing is left to do.")
    names = [f"{numbers[each.task.key]} {each.task.key}" for each in booked]
    left = EDGE + max(text_width(name, TEXT) for name in names) * 1.08 + 2 * GAP  # bold is wider
    end = max(each.over_min for each in booked) / HOUR
    ticks, texts = ticks_with_room(0.0, max(end, 0.25), width - left - EDGE, TEXT)
    scale = (width - EDGE - text_width(texts[-1], TEXT) / 2 - left) / ticks[-1]
    shapes: list[Shape] = []
    low = -ROW * len(booked)
    for tick, text in zip(ticks, texts, strict=True):
        x = left + tick * scale
        shapes.append(Lines("grid", (((x, 0.0), (x, low)),), GRID))
        shapes.append(Label(x, low - TEXT - GAP, text, TEXT, "middle"))
    shapes.append(Label(left, low - 2 * TEXT - 2 * GAP, "hours from now, one person", TEXT))
    for row, (each, name) in enumerate(zip(booked, names, strict=True)):
        shapes += _row(each, name, -ROW * (row + 1), left, scale / HOUR, each.task.key in critical)
    entries: list[tuple[str, Swatch]] = [
        ("work", lambda x, y: [Box("work", x, y - 4, SWATCH, 8, fill=0.0)]),
        ("dries or cools, hands free", lambda x, y: [Box("wait", x, y - 4, SWATCH, 8, EDGE_OF_WAIT, 1.0)]),
        ("bold: a delay here delays the whole", lambda x, y: [Label(x, y - 5, "1", TEXT, bold=True)]),
    ]
    key, bottom = key_rows(entries, width, low - 2 * TEXT - 4 * GAP)
    said = "; ".join(
        f"{name} from {each.start_min / HOUR:.1f} h, {each.task.work_min:g} min work, {each.task.wait_min:g} min alone"
        for each, name in zip(booked, names, strict=True)
    )
    drawing = Drawing(width, GAP - bottom, TITLE, f"{said}.", low=bottom)
    drawing.add(*shapes, *key)
    return drawing


def build_times_svg(
    booked: Sequence[Booked],
    numbers: Mapping[str, int],
    critical: Collection[str] = (),
    width: float = 480.0,
) -> str:
    """Return the chart of `build_times_figure` as SVG.

    Parameters
    ----------
    booked : sequence of Booked
        The steps. [min]
    numbers : mapping of str to int
        Each step's number, by its key. [-]
    critical : collection of str
        Keys of the steps on the longest chain. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    str
        The file's text. [-]

    References
    ----------
    `to_svg`.
    """
    return to_svg(build_times_figure(booked, numbers, critical, width), round(width))


def _row(each: Booked, name: str, low: float, left: float, scale: float, critical: bool) -> list[Shape]:
    """Return one step: its name, its work, and what is left alone behind it."""
    start, worked = left + each.start_min * scale, left + each.worked_min * scale
    high, bottom = ROW * 0.55, low + ROW * 0.22
    found: list[Shape] = [Label(EDGE, low + ROW * 0.28, name, TEXT, bold=critical)]
    if each.task.wait_min:
        across = max(each.task.wait_min * scale, LEAST)
        found.append(Box("wait", worked, bottom + high * 0.2, across, high * 0.6, EDGE_OF_WAIT, 1.0))
    found.append(Box("work", start, bottom, max(worked - start, LEAST), high, fill=0.0))
    return found
