"""A chart whose level axis counts frequency, each octave as long as the next."""

from __future__ import annotations

from math import ceil, floor, log10

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.charts.key import EDGE, GAP, TEXT
from modelmath.drawings.shapes import Point, text_width
from modelmath.errors import OutOfRange

DIGITS = (1, 2, 5)


class FrequencyAxes(Axes):
    """Axes with frequency along the level one.

    Parameters
    ----------
    title : str
        What the chart shows, for those who hear it. [-]
    y_title : str
        What is counted upwards, with its unit. [-]
    hz : tuple of two floats
        The frequencies that the frame has to hold, above 0; it is widened to whole ticks. [Hz]
    y_range : tuple of two floats
        What the frame has to hold upwards. [the axis's unit]
    width, height : float
        Width of the sheet, and height of the frame. [drawing unit]
    description : str
        What can be seen, in sentences, for those who hear it. [-]

    Raises
    ------
    OutOfRange
        If a frequency is not above 0, or the lower one is not lower.

    Examples
    --------
    >>> axes = FrequencyAxes("Response", "dB", (100, 10000), (-24, 6))
    >>> left, _, right, _ = axes.frame
    >>> round((axes.at(1000, 0)[0] - left) / (right - left), 6)
    0.5
    """

    def __init__(
        self,
        title: str,
        y_title: str,
        hz: tuple[float, float],
        y_range: tuple[float, float],
        width: float = 480.0,
        height: float = 220.0,
        description: str = "",
    ) -> None:
        low, high = hz
        if not 0 < low < high:
            given = f"{low:g} to {high:g} Hz"
            raise OutOfRange("the range of frequencies", given, "above 0, the lower one first", "Check it.")
        super().__init__(title, "Frequency, Hz", y_title, (0.0, 1.0), y_range, width, height, description)
        self.x_ticks = _ticks(low, high)
        left, foot, right, top = self._margin, self.frame[1], self.width, self.frame[3]
        texts = [_text(tick) for tick in self.x_ticks]
        first, last = (text_width(texts[place], TEXT) / 2 + EDGE for place in (0, -1))
        self.frame = (max(left, first), foot, right - max(last, EDGE), top)
        self._x_texts = tuple(self._with_room(texts))

    def _with_room(self, texts: list[str]) -> list[str]:
        """Return the texts that stand free of the one before; the last stands in any case."""
        places = [self.at(tick, self.y_ticks[0])[0] for tick in self.x_ticks]
        kept = list[str]()
        taken = -1e9
        last = places[-1] - text_width(texts[-1], TEXT) / 2 - GAP
        for number, (place, text) in enumerate(zip(places, texts, strict=True)):
            half = text_width(text, TEXT) / 2
            free = place - half >= taken + GAP and (number == len(texts) - 1 or place + half <= last)
            kept.append(text if free else "")
            taken = place + half if free else taken
        return kept

    def at(self, x: float, y: float) -> Point:
        """Return where a point of the data lies on the sheet.

        Parameters
        ----------
        x : float
            Frequency, above 0. [Hz]
        y : float
            What is counted upwards. [the axis's unit]

        Returns
        -------
        tuple of two floats
            Its place. [drawing unit]
        """
        left, low, right, top = self.frame
        first, last = log10(self.x_ticks[0]), log10(self.x_ticks[-1])
        across = (log10(x) - first) / (last - first)
        up = (y - self.y_ticks[0]) / (self.y_ticks[-1] - self.y_ticks[0])
        return left + across * (right - left), low + up * (top - low)


def _ticks(low: float, high: float) -> tuple[float, ...]:
    """Return ticks at 1, 2 and 5 times powers of ten that enclose a range."""
    powers = range(floor(log10(low)) - 1, ceil(log10(high)) + 2)
    every = [digit * 10.0**power for power in powers for digit in DIGITS]
    first = max(tick for tick in every if tick <= low * (1 + 1e-9))
    last = min(tick for tick in every if tick >= high * (1 - 1e-9))
    return tuple(tick for tick in every if first <= tick <= last)


def _text(hz: float) -> str:
    return f"{hz / 1000:g} k" if hz >= 1000 else f"{hz:g}"
