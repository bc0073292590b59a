"""What a drawing is made of, free of any file format: lines, boxes, circles, hatches and texts, y upwards."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache, lru_cache
from math import ceil, floor
from typing import Literal
from unicodedata import east_asian_width

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]
_RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefe"  # Hebrew, Arabic and their kin: Unicode, blocks of these names
_FROM_THE_RIGHT = re.compile(rf"[{_RIGHT}](?:[{_RIGHT}\s]*[{_RIGHT}])?")
SIGN_WIDTH = 0.58  # mean width of a small letter over its text height, in a plain sans-serif; on the safe side


@dataclass(frozen=True)
class Pen:
    """How a line is drawn.

    Attributes
    ----------
    width : float
        Width of the line. [drawing unit]
    grey : float
        0 for black, 1 for white. [-]
    dashes : tuple of float
        Lengths of dashes and gaps in turn; none for a full line. [drawing unit]
    """

    width: float
    grey: float = 0.0
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Lines:
    """Lines of one pen, each through its points. [drawing unit]"""

    name: str
    runs: tuple[tuple[Point, ...], ...]
    pen: Pen


@dataclass(frozen=True)
class Box:
    """An upright rectangle by its lower left corner and its size; `fill` is a grey. [drawing unit]"""

    name: str
    x: float
    y: float
    width: float
    height: float
    pen: Pen | None = None
    fill: float | None = None


@dataclass(frozen=True)
class Circle:
    """A circle by its centre and its diameter. [drawing unit]"""

    name: str
    x: float
    y: float
    diameter: float
    pen: Pen


@dataclass(frozen=True)
class Label:
    """A line of text on its base line. [drawing unit]"""

    x: float
    y: float
    text: str
    size: float
    anchor: Anchor = "start"
    bold: bool = False
    grey: float = 0.0
    halo: bool = False


Shape = Lines | Box | Circle | Label


@dataclass
class Drawing:
    """Shapes on a sheet.

    Attributes
    ----------
    width, height : float
        Size of the sheet. [drawing unit]
    title, description : str
        What it shows, for those who hear it. [-]
    shapes : list of Shape
        In drawing order. [drawing unit]
    low : float
        Height at which the sheet's lower edge lies; its left edge lies at 0. [drawing unit]
    """

    width: float
    height: float
    title: str
    description: str = ""
    shapes: list[Shape] = field(default_factory=list)
    low: float = 0.0

    def add(self, *shapes: Shape) -> None:
        """Put shapes on top."""
        self.shapes += shapes


def plain(text: str) -> str:
    r"""Return a person's text as a sheet can show it: on one line, without signs that no font or XML file holds.

    Parameters
    ----------
    text : str
        Any text. [-]

    Returns
    -------
    str
        The same, white space closed up, control signs and lone surrogates replaced. [-]

    References
    ----------
    XML 1.0 (fifth edition), production 2, Char.

    Examples
    --------
    >>> plain("cab\n\x00 end")
    'cab � end'
    """
    line = " ".join(text.split())
    return line if line.isprintable() else "".join(sign if sign.isprintable() else "�" for sign in line)


def in_its_order(text: str) -> str:
    r"""Return a text in which a name written from right to left does not turn the sizes behind it.

    Behind such letters a reader of mixed text sets ``1 1/8`` as ``1/8 1``; a mark without width parts the two.

    Parameters
    ----------
    text : str
        Any text, most of it from left to right. [-]

    Returns
    -------
    str
        The same, with a mark behind each stretch from right to left. [-]

    References
    ----------
    Unicode Standard Annex #9: rule W7 for a number behind a left-to-right mark, and N1 without one.

    Examples
    --------
    >>> in_its_order("\u05d0\u05d1 1 1/8").encode("unicode_escape").decode()
    '\\u05d0\\u05d1\\u200e 1 1/8'
    """
    return text if text.isascii() else _FROM_THE_RIGHT.sub(lambda found: f"{found[0]}\u200e", text)


@lru_cache(maxsize=10_000, typed=True)
def text_width(text: str, size: float) -> float:
    """Return about how wide a text comes out.

    Parameters
    ----------
    text : str
        One line. [-]
    size : float
        Text height. [drawing unit]

    Returns
    -------
    float
        Width, an estimate on the safe side. [drawing unit]

    References
    ----------
    Mean sign width of a plain sans-serif: common practice, no source.
    """
    return size * sum(_sign_width(sign) for sign in text)


@cache
def _sign_width(sign: str) -> float:
    """Return about how wide a sign is, over the text height."""
    if sign in "MWmw@%—…" or east_asian_width(sign) in "WF":
        return 1.02
    return 0.72 if sign.isupper() else SIGN_WIDTH


def wrap(text: str, width: float, size: float) -> list[str]:
    """Return a text in lines no wider than a width; a word that is wider alone is parted.

    Parameters
    ----------
    text : str
        Any text. [-]
    width, size : float
        Room across, and text height. [drawing unit]

    Returns
    -------
    list of str
        The lines; one empty line for an empty text. [-]

    References
    ----------
    `text_width`.

    Examples
    --------
    >>> wrap("the quick brown fox", width=80, size=14)
    ['the quick', 'brown fox']
    """
    lines = [""]
    for word in text.split():
        joined = f"{lines[-1]} {word}".strip()
        if text_width(joined, size) <= width:
            lines[-1] = joined
            continue
        lines.append("")
        for sign in word:
            if lines[-1] and text_width(lines[-1] + sign, size) > width:
                lines.append("")
            lines[-1] += sign
    return [line for line in lines if line] or [""]


def hatch(x: float, y: float, width: float, height: float, step: float) -> tuple[tuple[Point, ...], ...]:
    """Return lines at 45 degrees, rising to the right, clipped to a rectangle and in register with its neighbours'.

    Parameters
    ----------
    x, y, width, height : float
        Lower left corner and size. [drawing unit]
    step : float
        Distance of the lines along x. [drawing unit]

    Returns
    -------
    tuple of runs
        Each line by its two ends. [drawing unit]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> hatch(0, 0, 2, 2, 2)
    (((0, 0), (2, 2)),)
    """
    right, top = x + width, y + height
    runs = []
    for number in range(ceil((x - top) / step), floor((right - y) / step) + 1):
        shift = number * step  # the line through (shift, 0)
        left_end, right_end = max(x, shift + y), min(right, shift + top)
        if right_end - left_end > step / 1000:  # a line that only touches a corner is none
            runs.append(((left_end, left_end - shift), (right_end, right_end - shift)))
    return tuple(runs)


def falling(x: float, y: float, width: float, height: float, step: float) -> tuple[tuple[Point, ...], ...]:
    """Return lines at 45 degrees, falling to the right, clipped to a rectangle and in register with its neighbours'.

    Parameters
    ----------
    x, y, width, height : float
        Lower left corner and size. [drawing unit]
    step : float
        Distance of the lines along x. [drawing unit]

    Returns
    -------
    tuple of runs
        Each line by its two ends. [drawing unit]

    References
    ----------
    `hatch`, mirrored.

    Examples
    --------
    >>> falling(0, 0, 2, 2, 2)
    (((0, 2), (2, 0)),)
    """
    mirrored = hatch(-x - width, y, width, height, step)
    return tuple(tuple((-px, py) for px, py in reversed(run)) for run in mirrored)


def dots(x: float, y: float, width: float, height: float, step: float) -> tuple[tuple[Point, ...], ...]:
    """Return short strokes in staggered rows that fill a rectangle.

    Parameters
    ----------
    x, y, width, height : float
        Lower left corner and size. [drawing unit]
    step : float
        Distance of the strokes. [drawing unit]

    Returns
    -------
    tuple of runs
        Each stroke by its two ends. [drawing unit]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> len(dots(0, 0, 8, 2, 4))
    2
    """
    rows = max(1, round(2 * height / step))
    runs = []
    for row in range(rows):
        level = y + (row + 0.5) * height / rows
        at = x + (0.25 if row % 2 == 0 else 0.75) * step
        while at + step / 4 <= x + width:
            runs.append(((at, level), (at + step / 4, level)))
            at += step
    return tuple(runs)


def top_of(shape: Shape) -> float:
    """Return the highest point of a shape.

    Parameters
    ----------
    shape : Shape
        Any shape. [drawing unit]

    Returns
    -------
    float
        Its top; of a text, that of its capitals. [drawing unit]

    References
    ----------
    None needed.
    """
    if isinstance(shape, Lines):
        return max((y for run in shape.runs for _, y in run), default=0.0)
    if isinstance(shape, Box):
        return shape.y + shape.height
    return shape.y + (shape.diameter / 2 if isinstance(shape, Circle) else shape.size)


def bottom_of(shape: Shape) -> float:
    """Return the lowest point of a shape.

    Parameters
    ----------
    shape : Shape
        Any shape. [drawing unit]

    Returns
    -------
    float
        Its bottom; of a text, that of its tails. [drawing unit]

    References
    ----------
    Tails of a plain sans-serif are about a fifth of the text height: common practice, no source.
    """
    if isinstance(shape, Lines):
        return min((y for run in shape.runs for _, y in run), default=0.0)
    if isinstance(shape, Box):
        return shape.y
    return shape.y - (shape.diameter / 2 if isinstance(shape, Circle) else 0.2 * shape.size)
