"""Names beside a picture, each with a line that leads to its thing; no name covers another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product

from modelmath.drawings.figures.solid.bodies import LOOKS_THROUGH, Model
from modelmath.drawings.figures.solid.faces import Face
from modelmath.drawings.figures.solid.key import TEXT
from modelmath.drawings.shapes import Point, text_width
from modelmath.drawings.template import letter_of

NAMED = ("wall", "room", "speaker", "flange", "moving", "standing", "chassis")  # the rest is told by the key
ABOVE = ("wall", "room")
GAP = 10.0
MOST = 16  # names in one row; more would bury the picture


@dataclass(frozen=True)
class Name:
    """A name, the point it leads to, and where it stands: `x` is its left end. [drawing unit]"""

    words: str
    shown: str
    at: Point
    x: float = 0.0

    @property
    def width(self) -> float:
        """Width of what is shown. [drawing unit]"""
        return text_width(self.shown, TEXT)


@dataclass
class Rows:
    """The names above and below a picture, what the letters stand for, and what is not in sight."""

    above: list[Name]
    below: list[Name]
    keyed: list[str]
    hidden: list[str]


def rows_of(model: Model, faces: Sequence[Face], width: float) -> Rows:
    """Place the names of a model's main things in a row above and a row below the picture.

    Parameters
    ----------
    model : Model
        The model. [mm]
    faces : sequence of Face
        Its faces as painted, in drawing units. [drawing unit]
    width : float
        Width of the sheet; where names would not fit side by side, the longest stand in the key. [drawing unit]

    Returns
    -------
    Rows
        The names, from left to right. [drawing unit]

    References
    ----------
    None needed.
    """
    rows: dict[bool, list[Name]] = {True: [], False: []}
    hidden = []
    for kind, words, numbers in named_things(model):
        above = kind in ABOVE
        at = _in_sight(model, faces, numbers)
        if at is None:
            hidden.append(words)
        elif len(rows[above]) < MOST:
            rows[above].append(Name(words, words, at))
    keyed: list[str] = []
    upper, lower = (_fitted(sorted(rows[key], key=lambda name: name.at), width, keyed) for key in (True, False))
    return Rows(upper, lower, keyed, hidden)


def named_things(model: Model) -> list[tuple[str, str, list[int]]]:
    """Return what is named, with its solids; a flange is named where nothing else stands for the speaker.

    Parameters
    ----------
    model : Model
        The model. [mm]

    Returns
    -------
    list of (str, str, list of int)
        Kind, words, and the places of its solids. [-]

    References
    ----------
    None needed.
    """
    found: dict[tuple[str, str], list[int]] = {}
    speaker = bool(model.of("speaker"))
    for number, solid in enumerate(model.solids):
        if solid.kind in NAMED and not (solid.kind == "flange" and speaker):
            found.setdefault((solid.kind, solid.words), []).append(number)
    return [(kind, words, numbers) for (kind, words), numbers in found.items()]


def _in_sight(model: Model, faces: Sequence[Face], numbers: Sequence[int]) -> Point | None:
    """Return a point of a thing that nothing hides, in the largest face that has one.

    The middle of a face is tried first, then points nearer to its corners; of a room kept, which is only an outline,
    first those that don't fall on anything else but the chassis.
    """
    kinds = [solid.kind for solid in model.solids]
    own = [place for place, face in enumerate(faces) if face.solid in numbers]
    own.sort(key=lambda place: -_area(faces[place].points))
    outlined = all(kinds[number] in LOOKS_THROUGH for number in numbers)
    for alone, share in product((True, False) if outlined else (False,), (0.0, 0.5, 0.8)):
        for place in own:
            over = faces if alone else faces[place + 1 :]
            free = ("chassis", *LOOKS_THROUGH) if alone else LOOKS_THROUGH
            others = [face.points for face in over if kinds[face.solid] not in free]
            for at in _spots(faces[place].points, share):
                if not any(holds(points, at) for points in others):
                    return at
    return None


def _area(points: Sequence[Point]) -> float:
    around = pairwise((*points, points[0]))
    return abs(sum(x * next_y - next_x * y for (x, y), (next_x, next_y) in around)) / 2


def _spots(points: Sequence[Point], share: float) -> list[Point]:
    middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    if not share:
        return [middle]
    return [(middle[0] + share * (x - middle[0]), middle[1] + share * (y - middle[1])) for x, y in points]


def holds(points: Sequence[Point], at: Point) -> bool:
    """Return whether a point lies within an outline.

    Parameters
    ----------
    points : sequence of Point
        The outline. [drawing unit]
    at : Point
        The point. [drawing unit]

    Returns
    -------
    bool
        By the even-odd rule. [-]

    References
    ----------
    Even-odd rule: SVG 1.1 (second edition), fill-rule.

    Examples
    --------
    >>> holds([(0, 0), (4, 0), (4, 4)], (3, 1)), holds([(0, 0), (4, 0), (4, 4)], (1, 3))
    (True, False)
    """
    inside = False
    for number, (x, y) in enumerate(points):
        before_x, before_y = points[number - 1]
        if (y > at[1]) != (before_y > at[1]) and at[0] < x + (at[1] - y) * (before_x - x) / (before_y - y):
            inside = not inside
    return inside


def _fitted(names: list[Name], width: float, keyed: list[str]) -> list[Name]:
    """Give each name its place in a row; the longest are put into the key until the rest fit."""
    while names and sum(name.width + GAP for name in names) - GAP > width:
        place = max(range(len(names)), key=lambda number: names[number].width)
        letter = letter_of(len(keyed))
        if names[place].width <= text_width(letter, TEXT):
            break
        keyed.append(names[place].words)
        names[place] = replace(names[place], shown=letter)
    return spread(names, width)


def spread(names: Sequence[Name], width: float) -> list[Name]:
    """Place names in one row, each as near above its thing as its neighbours let it be.

    Parameters
    ----------
    names : sequence of Name
        From left to right. [drawing unit]
    width : float
        Width of the row. [drawing unit]

    Returns
    -------
    list of Name
        In their places. [drawing unit]

    References
    ----------
    Isotonic regression by pooling neighbours: R. E. Barlow and others, Statistical inference under order
    restrictions, 1972.
    """
    groups: list[tuple[float, float, int]] = []  # sum of wanted left ends less offset, room taken, names in it
    for name in names:
        wanted, room, count = name.at[0] - name.width / 2, name.width + GAP, 1
        total = wanted
        while groups and groups[-1][0] / groups[-1][2] + groups[-1][1] > total / count:
            before, taken, some = groups.pop()
            total, room, count = before + total - count * taken, taken + room, some + count
        groups.append((total, room, count))
    placed: list[Name] = []
    starts: list[float] = []
    left = 0.0
    for total, room, count in groups:
        left = max(left, total / count)
        starts.append(left)
        left += room
    right = width + GAP
    for number in range(len(groups) - 1, -1, -1):
        starts[number] = min(starts[number], right - groups[number][1])
        right = starts[number]
    waiting = iter(names)
    for (_, _, count), start in zip(groups, starts, strict=True):
        x = start
        for _ in range(count):
            name = next(waiting)
            placed.append(replace(name, x=x))
            x += name.width + GAP
    return placed
