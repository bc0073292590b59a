"""Round ticks for the axis of a chart, and lines cut off where a frame ends."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, floor, isfinite, log10

from modelmath.drawings.shapes import Point, text_width
from modelmath.errors import OutOfRange

FUZZ = 1e-9  # of a step: a limit this near a tick is on it
Frame = tuple[float, float, float, float]  # left, low, right, top


def round_ticks(low: float, high: float, most: int = 7) -> tuple[float, ...]:
    """Return ticks at 1, 2 or 5 times a power of ten that enclose a range, as many as there may be.

    Parameters
    ----------
    low, high : float
        The range. [any unit]
    most : int
        Most ticks, 3 or more: a range about 0 needs three. [-]

    Returns
    -------
    tuple of float
        Rising; the first at or below `low`, the last at or above `high`. [unit of `low`]

    Raises
    ------
    OutOfRange
        If a limit is no finite number, or `high` is below `low`.

    References
    ----------
    Steps of 1, 2 and 5: common practice, no source.

    Examples
    --------
    >>> round_ticks(0.3, 11.2, 7)
    (0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0)
    """
    if not (isfinite(low) and isfinite(high) and low <= high):
        raise OutOfRange("the axis", f"{low:g} to {high:g}", "a range of finite numbers, the lower first", "Check it.")
    # A range of no width, or of none that its own digits could tell, still gets a frame round it.
    least = max(abs(low), abs(high)) * 1e-9
    if high - low <= least:
        half = max(abs(low) * 0.1, 1e-9) if low else 0.5
        low, high = low - half, high + half
    power = floor(log10((high - low) / most)) - 1
    while True:
        for digit in (1, 2, 5):
            # Counted in whole steps and divided where the step is a fraction, so that 0.3 is 0.3.
            step = digit * 10.0**power
            first, last = floor(low / step + FUZZ), ceil(high / step - FUZZ)
            if last - first < max(most, 3):
                return tuple(
                    n * digit / 10.0**-power if power < 0 else n * digit * 10.0**power for n in range(first, last + 1)
                )
        power += 1


def tick_texts(ticks: Sequence[float]) -> tuple[str, ...]:
    """Return ticks as text, all to the decimals that the step between them needs.

    Parameters
    ----------
    ticks : sequence of float
        As `round_ticks` returns them. [any unit]

    Returns
    -------
    tuple of str
        One for each. [unit of `ticks`]

    References
    ----------
    None needed.

    Examples
    --------
    >>> tick_texts((-0.1, -0.05, 0.0, 0.05))
    ('-0.10', '-0.05', '0.00', '0.05')
    """
    step = min((after - before for before, after in pairwise(ticks)), default=1.0)
    decimals = max(0, -floor(log10(step) + FUZZ))
    return tuple(f"{tick + 0.0:.{decimals}f}" for tick in ticks)


def ticks_with_room(low: float, high: float, room: float, size: float) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Return as many ticks as have room for their texts side by side; where three have none, only the ends have text.

    Parameters
    ----------
    low, high : float
        The range. [any unit]
    room, size : float
        Length of the axis, and text height. [drawing unit]

    Returns
    -------
    tuple of (ticks, texts)
        The ticks, and the text of each. [unit of `low`]

    Raises
    ------
    OutOfRange
        As `round_ticks`.

    References
    ----------
    None needed.

    Examples
    --------
    >>> ticks_with_room(0, 0.3, room=120, size=14)
    ((0.0, 0.2, 0.4), ('0.0', '0.2', '0.4'))
    """
    for most in range(11, 2, -1):
        ticks = round_ticks(low, high, most)
        texts = tick_texts(ticks)
        widest = max(text_width(text, size) for text in texts)
        if (room - widest) / (len(ticks) - 1) >= widest + size:
            return ticks, texts
    return ticks, (texts[0], *("" for _ in texts[1:-1]), texts[-1])


def clipped(points: Sequence[Point], frame: Frame) -> list[tuple[Point, ...]]:
    """Return what of a line through points lies inside a frame.

    Parameters
    ----------
    points : sequence of (float, float)
        The line. [drawing unit]
    frame : tuple of float
        Left, low, right and top. [drawing unit]

    Returns
    -------
    list of runs
        The parts inside, each through two points or more. [drawing unit]

    References
    ----------
    Liang and Barsky, "A new concept and method for line clipping", ACM Trans. Graphics 3 (1984), from memory.

    Examples
    --------
    >>> clipped([(-1, 0), (1, 2), (3, 2)], (0, 0, 2, 4))
    [((0.0, 1.0), (1, 2), (2.0, 2.0))]
    """
    runs: list[list[Point]] = []
    for start, end in pairwise(points):
        piece = _piece(start, end, frame)
        if piece is None:
            continue
        if runs and runs[-1][-1] == piece[0]:
            runs[-1].append(piece[1])
        else:
            runs.append([*piece])
    return [tuple(run) for run in runs]


def _piece(start: Point, end: Point, frame: Frame) -> tuple[Point, Point] | None:
    """Return the part of a straight piece that lies inside, or nothing."""
    (x, y), (left, low, right, top) = start, frame
    dx, dy = end[0] - x, end[1] - y
    enters, leaves = 0.0, 1.0
    for slope, room in ((-dx, x - left), (dx, right - x), (-dy, y - low), (dy, top - y)):
        if slope == 0:
            if room < 0:
                return None
        elif slope < 0:
            enters = max(enters, room / slope)
        else:
            leaves = min(leaves, room / slope)
    if enters > leaves:
        return None
    first = start if enters == 0 else (x + enters * dx, y + enters * dy)
    return first, end if leaves == 1 else (x + leaves * dx, y + leaves * dy)
