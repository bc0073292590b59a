"""Numbers in a text, each with its unit, and the figures that carry a number one sees."""

from __future__ import annotations

import re
from collections.abc import Iterable

from modelmath.job.why.figures import Figure

# Longest first where one begins another. `in` is an inch only where no other word follows: not in `1 in the drawer`.
UNITS = (
    "scale ft", "scale in", "scale m", "mm2", "mm3", "mm", "cm3", "cm", "m/s", "ms", "ml", "min", "mA", "mV", "mW", "m",
    "kHz", "Hz", "kohm", "Mohm", "ohm", "dB", "degrees", "°C", "°", "%", "kg", "g", "W", "V", "A", "K", "uF", "F",
    "s", "h", "ft", "in(?= (?:and|for|x|across|wide|long)\\b)", "in(?! [a-z0-9])",
)  # fmt: skip
NUMBER = r"[-+]?(?:\d+ \d+/\d+|\d+/\d+|\d[\d,]*\d\.\d+|\d*\.\d+|\d[\d,]*\d|\d)"
_FOUND = re.compile(
    r"(?P<chance>(?<![\w.#/])\d+ in \d[\d,]*(?!\w))|"
    rf"(?P<number>(?<![\w.#/^]){NUMBER})(?![\d/]|\.\d)(?: ?(?P<unit>{'|'.join(UNITS)})(?![\w/]))?"
)
_SHARES = re.compile(r" ?(?:±|to|x|less) ?")  # between two numbers that have one unit
_SIDES = re.compile(r" × ")


def numbers_in(text: str, unit: str = "") -> tuple[str, ...]:
    """Return the numbers of a text as they are printed, each with its unit.

    Parameters
    ----------
    text : str
        Any text. [-]
    unit : str
        Unit of the numbers that name none themselves; none when empty. [-]

    Returns
    -------
    tuple of str
        In their order: ``5 1/8 scale ft``, ``0.88 mm``; the limits that stand before a unit have it too. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> numbers_in("Qtc 1.17, from 0.52 to 2.41; 391 Hz, from 206 to 1130 Hz")
    ('1.17', '0.52', '2.41', '391 Hz', '206 Hz', '1130 Hz')
    >>> numbers_in("12.25 ± 0.21 mm, at 5 1/8 scale ft less 0.16 mm; about 1 in 4,900")
    ('12.25 mm', '0.21 mm', '5 1/8 scale ft', '0.16 mm', '1 in 4,900')
    """
    text = re.sub("[\u00a0\u202f]", " ", text).replace("\u2212", "-")
    found = list(_FOUND.finditer(text))
    units = [each["unit"] or "" for each in found]
    for place in range(len(found) - 2, -1, -1):
        if units[place] or found[place]["chance"]:
            continue
        between = text[found[place].end() : found[place + 1].start()]
        sides = _SIDES.fullmatch(between) and "." in found[place]["number"]  # `2 × 5 mm` counts, `1.5 × 5 mm` measures
        if sides or _SHARES.fullmatch(between):
            units[place] = units[place + 1]
    return tuple(
        each["chance"] or f"{each['number'].lstrip('+')} {own or unit}".strip()
        for each, own in zip(found, units, strict=True)
    )


def showing(figures: Iterable[Figure], seen: str) -> tuple[Figure, ...]:
    """Return the figures that carry a number one sees, those whose value it is first.

    Parameters
    ----------
    figures : iterable of Figure
        Where to look. [-]
    seen : str
        A number as it is printed, with its unit, such as ``0.88 mm``; of several, each must be carried. [-]

    Returns
    -------
    tuple of Figure
        In their order; none where `seen` holds no number, or nothing carries it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> room = Figure("room left", "0.88 mm", "12.25 mm less 11.38 mm", "arithmetic")
    >>> height = Figure("height", "11.38 mm", "the largest on a mark", "arithmetic")
    >>> [each.name for each in showing([room, height], "11.38 mm")]
    ['height', 'room left']
    """
    wanted = set(numbers_in(seen))
    if not wanted:
        return ()
    listed = list(figures)
    first = [each for each in listed if wanted <= set(numbers_in(each.value))]
    names = {each.name for each in first}
    rest = [each for each in listed if each.name not in names and wanted <= {*carried_by(each)}]
    return (*first, *rest)


def carried_by(figure: Figure) -> tuple[str, ...]:
    """Return the numbers that a figure carries, in its value and in how it is worked out.

    Parameters
    ----------
    figure : Figure
        The figure. [-]

    Returns
    -------
    tuple of str
        Each with its unit. [-]

    References
    ----------
    None needed.
    """
    return (*numbers_in(figure.value), *numbers_in(figure.how))
