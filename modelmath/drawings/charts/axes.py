"""A chart's axes over a drawing: data to places, ticks, titles, key, and labels that stand free of each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from modelmath.drawings.charts.key import (
    EDGE,
    GAP,
    ROW,
    TEXT,
    Mark,
    Swatch,
    band_swatch,
    bar_swatch,
    cap,
    key_rows,
    line_swatch,
    sign,
    sign_swatch,
)
from modelmath.drawings.charts.placing import Heading, beside, stacked
from modelmath.drawings.charts.ticks import Frame, clipped, round_ticks, tick_texts, ticks_with_room
from modelmath.drawings.shapes import Drawing, Label, Lines, Pen, Point, Shape, text_width, wrap

TICK = 5.0  # length of a tick
FORE_AFT = "fore-aft mark"  # what places along the length count from, where it has no name of its own
AXIS, GRID, LINE, THIN, BAND = Pen(1.2), Pen(0.6, 0.85), Pen(1.8), Pen(1.0), Pen(0.8, 0.55)
MARKER, LEADER = Pen(1.2, 0.0, (6, 4)), Pen(0.7, 0.4)


@dataclass(frozen=True)
class _Words:
    """Words that belong to a place in the frame. [drawing unit]"""

    at: Point
    words: str
    line: bool  # whether a marker line stands there


class Axes:
    """A chart with two straight axes, in black and grey.

    The sheet's width is fixed; it grows upwards for the words of marker lines and downwards for the key, so that
    nothing is cut off. What lies outside the frame is not drawn.

    Parameters
    ----------
    title : str
        What the chart shows, for those who hear it. [-]
    x_title, y_title : str
        What is counted along each axis, with its unit. [-]
    x_range, y_range : tuple of two floats
        What the frame has to hold; it is widened to whole ticks. [the axis's unit]
    width, height : float
        Width of the sheet, and height of the frame. [drawing unit]
    description : str
        What can be seen, in sentences, for those who hear it. [-]
    y_words : function or None
        Text of an upright tick, where it is not the number itself. [-]

    Raises
    ------
    OutOfRange
        If a range is none.

    Examples
    --------
    >>> axes = Axes("Readings", "mark, scale ft", "length, mm", (0, 12), (0, 42))
    >>> axes.points("reading", [(3, 10.5), (12, 42)], key="reading")
    >>> axes.drawing().width
    480.0
    """

    def __init__(
        self,
        title: str,
        x_title: str,
        y_title: str,
        x_range: tuple[float, float],
        y_range: tuple[float, float],
        width: float = 480.0,
        height: float = 220.0,
        description: str = "",
        y_words: Callable[[float], str] | None = None,
    ) -> None:
        self.title, self.description, self.width = title, description, width
        self.x_title, self.y_title = x_title, y_title
        self.y_ticks = round_ticks(*y_range, most=max(3, int(height / (1.7 * TEXT))))
        self._y_texts = tick_texts(self.y_ticks) if y_words is None else tuple(y_words(tick) for tick in self.y_ticks)
        self._margin = EDGE + max(text_width(text, TEXT) for text in self._y_texts) + GAP + TICK
        self.x_ticks, self._x_texts = ticks_with_room(*x_range, width - EDGE - self._margin, TEXT)
        first, last = (text_width(self._x_texts[place], TEXT) / 2 + EDGE for place in (0, -1))
        self.frame: Frame = (max(self._margin, first), 0.0, width - max(last, EDGE), height)
        self._shapes: list[Shape] = []
        self._words: list[_Words] = []
        self._keys: list[tuple[str, Swatch]] = []
        self._boxes: list[Frame] = []  # what words keep clear of, and the lines that they keep clear of
        self._pieces: list[tuple[Point, Point]] = []

    def at(self, x: float, y: float) -> Point:
        """Return where a point of the data lies on the sheet.

        Parameters
        ----------
        x, y : float
            The point. [each axis's unit]

        Returns
        -------
        tuple of two floats
            Its place. [drawing unit]

        Examples
        --------
        >>> axes = Axes("", "", "", (0, 10), (0, 10), height=200)
        >>> axes.at(0, 5)[1]
        100.0
        """
        left, low, right, top = self.frame
        across = (x - self.x_ticks[0]) / (self.x_ticks[-1] - self.x_ticks[0])
        up = (y - self.y_ticks[0]) / (self.y_ticks[-1] - self.y_ticks[0])
        return left + across * (right - left), low + up * (top - low)

    def _inside(self, place: Point) -> bool:
        left, low, right, top = self.frame
        return left - 1e-6 <= place[0] <= right + 1e-6 and low - 1e-6 <= place[1] <= top + 1e-6

    # What is drawn in the frame, in the order of the calls.

    def line(self, name: str, points: Iterable[Point], pen: Pen = LINE, key: str = "") -> None:
        """Draw a line through points.

        Parameters
        ----------
        name : str
            What it is, as its class in a file. [-]
        points : iterable of (float, float)
            The points. [each axis's unit]
        pen : Pen
            How it is drawn. [drawing unit]
        key : str
            Its words in the key; none to leave it out. [-]
        """
        runs = clipped([self.at(*point) for point in points], self.frame)
        if runs:
            self._shapes.append(Lines(name, tuple(runs), pen))
        self._pieces += [piece for run in runs for piece in pairwise(run)]
        self._add_key(key, line_swatch(name, pen))

    def points(
        self,
        name: str,
        points: Iterable[Point],
        mark: Mark = "circle",
        size: float = 9.0,
        pen: Pen = LINE,
        key: str = "",
    ) -> None:
        """Draw a circle or a cross at each point.

        Parameters
        ----------
        name : str
            What they are, as their class in a file. [-]
        points : iterable of (float, float)
            The points. [each axis's unit]
        mark : {"circle", "cross"}
            Sign drawn. [-]
        size : float
            Its height. [drawing unit]
        pen : Pen
            How it is drawn. [drawing unit]
        key : str
            Its words in the key; none to leave it out. [-]
        """
        for x, y in filter(self._inside, (self.at(*point) for point in points)):
            self._shapes.append(sign(name, x, y, mark, size, pen))
            self._boxes.append((x - size / 2, y - size / 2, x + size / 2, y + size / 2))
        self._add_key(key, sign_swatch(name, mark, size, pen))

    def error_bars(
        self,
        name: str,
        bars: Iterable[tuple[float, float, float]],
        pen: Pen = THIN,
        cap_width: float = 8.0,
        key: str = "",
    ) -> None:
        """Draw upright bars from a lower to an upper value; a bar's cap is left out where the frame cuts it off.

        Parameters
        ----------
        name : str
            What they are, as their class in a file. [-]
        bars : iterable of (float, float, float)
            x, lower y and upper y of each. [each axis's unit]
        pen : Pen
            How they are drawn. [drawing unit]
        cap_width : float
            Width of the caps; 0 for none. [drawing unit]
        key : str
            Their words in the key; none to leave it out. [-]
        """
        for x, lower, upper in bars:
            ends = [self.at(x, lower), self.at(x, upper)]
            runs = clipped(ends, self.frame)
            self._pieces += [piece for run in runs for piece in pairwise(run)]
            if cap_width:
                runs += [cap(at, level, cap_width) for at, level in filter(self._inside, ends)]
            if runs:
                self._shapes.append(Lines(name, tuple(runs), pen))
        self._add_key(key, bar_swatch(name, cap_width, pen))

    def band(
        self,
        name: str,
        edges: Sequence[tuple[float, float, float]],
        pen: Pen = BAND,
        step: float = 5.0,
        key: str = "",
    ) -> None:
        """Fill the area between two lines with upright strokes.

        Parameters
        ----------
        name : str
            What it is, as its class in a file. [-]
        edges : sequence of (float, float, float)
            x, lower y and upper y, with x rising. [each axis's unit]
        pen : Pen
            How the strokes are drawn. [drawing unit]
        step : float
            Distance of the strokes. [drawing unit]
        key : str
            Its words in the key; none to leave it out. [-]
        """
        places = [(*self.at(x, lower), self.at(x, upper)[1]) for x, lower, upper in edges]
        runs: list[tuple[Point, ...]] = []
        for (x, low, top), (next_x, next_low, next_top) in pairwise(places):
            # In register across the pieces: strokes stand at whole steps of the sheet.
            for number in range(int(-(-x // step)), int(-(-next_x // step))):
                part = (number * step - x) / (next_x - x)
                ends = [(number * step, low + part * (next_low - low)), (number * step, top + part * (next_top - top))]
                runs += clipped(ends, self.frame)
        runs = [run for run in runs if run[0][1] != run[-1][1]]
        if runs:
            self._shapes.append(Lines(name, tuple(runs), pen))
        self._add_key(key, band_swatch(name, step, pen))

    def marker(self, x: float, words: str, pen: Pen = MARKER) -> None:
        """Draw an upright line through the frame, its words above the frame and free of other markers' words.

        Parameters
        ----------
        x : float
            Where it stands. [the x axis's unit]
        words : str
            What stands there. [-]
        pen : Pen
            How the line is drawn. [drawing unit]
        """
        _, low, _, top = self.frame
        place = self.at(x, self.y_ticks[0])
        if self._inside(place):
            self._shapes.append(Lines("marker", (((place[0], low), (place[0], top)),), pen))
            self._pieces.append(((place[0], low), (place[0], top)))
            self._words.append(_Words((place[0], top), words, line=True))

    def note(self, x: float, y: float, words: str) -> None:
        """Name a point: beside it where the words stand free of all else, or else above the frame with a leader.

        Parameters
        ----------
        x, y : float
            The point. [each axis's unit]
        words : str
            Its name. [-]
        """
        place = self.at(x, y)
        if self._inside(place):
            self._words.append(_Words(place, words, line=False))

    def key_of_bar(self, name: str, pen: Pen, words: str, cap_width: float = 0.0) -> None:
        """Put the look of upright bars into the key, apart from where they are drawn."""
        self._add_key(words, bar_swatch(name, cap_width, pen))

    def _add_key(self, words: str, swatch: Swatch) -> None:
        if words:
            self._keys.append((words, swatch))

    # Putting the sheet together.

    def drawing(self) -> Drawing:
        """Return the chart as a drawing, with room for all its words."""
        boxes, above = self._place_notes()
        labels = [
            Label(box[0] + EDGE, box[3] - ROW * (number + 1) + GAP, line, TEXT, halo=True)
            for each, box in boxes
            for number, line in enumerate(self._lines_of(each))
        ]
        head, top = self._above(above)
        foot, low = self._below()
        sheet = Drawing(self.width, top - low, self.title, self.description, low=low)
        sheet.add(*self._grid(), *self._shapes, *self._axis_lines(), *head, *foot, *labels)
        return sheet

    def _grid(self) -> list[Shape]:
        left, _, right, _ = self.frame
        levels = [self.at(self.x_ticks[0], tick)[1] for tick in self.y_ticks[1:]]
        return [Lines("grid", tuple(((left, level), (right, level)) for level in levels), GRID)]

    def _axis_lines(self) -> list[Shape]:
        left, low, right, top = self.frame
        runs: list[tuple[Point, ...]] = [((left, top), (left, low), (right, low))]
        labels: list[Shape] = []
        for tick, text in zip(self.x_ticks, self._x_texts, strict=True):
            x, _ = self.at(tick, self.y_ticks[0])
            runs.append(((x, low), (x, low - TICK)))
            labels += [Label(x, low - TICK - GAP - TEXT * 0.75, text, TEXT, "middle")] if text else []
        for tick, text in zip(self.y_ticks, self._y_texts, strict=True):
            _, y = self.at(self.x_ticks[0], tick)
            runs.append(((left, y), (left - TICK, y)))
            labels.append(Label(left - TICK - GAP, y - TEXT * 0.36, text, TEXT, "end"))
        return [Lines("axis", tuple(runs), AXIS), *labels]

    def _place_notes(self) -> tuple[list[tuple[_Words, Frame]], list[_Words]]:
        """Return notes with their places, and the words that stand above the frame."""
        above = [each for each in self._words if each.line]
        notes = [each for each in self._words if not each.line]
        pieces = [*self._pieces]
        while True:
            boxes: list[tuple[_Words, Frame]] = []
            for each in notes:
                box = self._beside(each, [*self._boxes, *(box for _, box in boxes)], pieces)
                if box is not None:
                    boxes.append((each, box))
                    continue
                # Its leader is one more line to keep clear of, so that all others are placed again.
                above.append(each)
                notes.remove(each)
                pieces.append((each.at, (each.at[0], self.frame[3])))
                break
            else:
                return boxes, above

    def _beside(self, note: _Words, taken: list[Frame], pieces: list[tuple[Point, Point]]) -> Frame | None:
        lines = self._lines_of(note)
        width = max(text_width(line, TEXT) for line in lines) + 2 * EDGE
        return beside(note.at, width, ROW * len(lines), self.frame, taken, pieces)

    def _lines_of(self, words: _Words) -> list[str]:
        return wrap(words.words, (self.frame[2] - self.frame[0]) * 0.6, TEXT)

    def _above(self, words: list[_Words]) -> tuple[list[Shape], float]:
        """Return the axis title, markers' words in rows above the frame, and how high they reach."""
        top = self.frame[3]
        texts = [self._lines_of(each) for each in words]
        headings = [
            Heading(each.at[0], max(text_width(line, TEXT) for line in lines), len(lines))
            for each, lines in zip(words, texts, strict=True)
        ]
        places = stacked(headings, self.width)
        shapes: list[Shape] = []
        for each, lines, place in zip(words, texts, places, strict=True):
            low = top + TEXT * 0.6 + ROW * place.row  # clear of the highest tick's text
            name, pen, foot = ("marker", MARKER, (each.at[0], top)) if each.line else ("leader", LEADER, each.at)
            shapes.append(Lines(name, ((foot, (each.at[0], low)),), pen))
            shapes += [
                Label(place.middle, low + GAP + ROW * (len(lines) - 1 - number), line, TEXT, "middle", halo=True)
                for number, line in enumerate(lines)
            ]
        rows = max((place.row + len(lines) for place, lines in zip(places, texts, strict=True)), default=0)
        title = wrap(self.y_title, self.width - 2 * EDGE, TEXT)
        low = top + TEXT * 0.6 + GAP + ROW * rows
        labels: list[Shape] = [
            Label(EDGE, low + ROW * (len(title) - 1 - number) + GAP, line, TEXT) for number, line in enumerate(title)
        ]
        return [*shapes, *labels], low + ROW * len(title) + GAP

    def _below(self) -> tuple[list[Shape], float]:
        """Return the axis title and the key below the frame, and how low they reach."""
        left, low, right, _ = self.frame
        level = low - TICK - GAP - TEXT - GAP
        shapes: list[Shape] = []
        for line in wrap(self.x_title, self.width - 2 * EDGE, TEXT):
            level -= ROW
            half = text_width(line, TEXT) / 2
            middle = min(max((left + right) / 2, half + EDGE), self.width - half - EDGE)
            shapes.append(Label(middle, level + GAP, line, TEXT, "middle"))
        keys, level = key_rows(self._keys, self.width, level)
        return [*shapes, *keys], level - GAP
