"""What a person types of a chamber, read: a size, a volume or three inside sizes, how many speakers, which others."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from modelmath.errors import OutOfRange, UnreadableLength, shown
from modelmath.job.entries.inside.sound import also_from
from modelmath.job.sound.alone import Inside
from modelmath.lengths.parse import parse_length_exact
from modelmath.quantities.band import Band
from modelmath.quantities.text import parse_quantity
from modelmath.sound.loads.speakers import RatedSpeaker

MOST_MM = 1000.0  # of any size here: past it no speaker in a model is meant
LEAST_MM3, MOST_MM3 = 1.0, 1e9
MOST_LIKE = 6
SIZE = ".59 in or 15 mm"
CHAMBER = "a volume, such as 2.5 cm3, or inside length, width and height, such as 30 x 12 x 9 mm"
_BY = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_UNIT = re.compile(r"[A-Za-z'\"]+\.?$")


def size_mm(text: str) -> Fraction:
    """Return a size with its unit.

    Parameters
    ----------
    text : str
        One length. [-]

    Returns
    -------
    Fraction
        Above 0, up to 1 m. [mm]

    Raises
    ------
    UnreadableLength
        If it can't be read, has no unit, or is not above 0; says what to write.
    OutOfRange
        If it is too long for anything here.

    References
    ----------
    Read by `parse_length_exact`.

    Examples
    --------
    >>> size_mm(".59 in")
    Fraction(7493, 500)
    """
    try:
        size = parse_length_exact(text)
    except UnreadableLength as reason:
        write = SIZE if reason.problem == "it has no unit" else reason.write
        raise UnreadableLength(text, reason.problem, write) from None
    if size <= 0:
        raise UnreadableLength(text, "it is not above 0", SIZE)
    if size > MOST_MM:
        raise OutOfRange("a size", f"{float(size):.4g} mm", f"up to {MOST_MM:.0f} mm", "Check its unit.")
    return size


def read_chamber(text: str) -> Inside:
    """Return a chamber by its volume, or by its inside sizes.

    Parameters
    ----------
    text : str
        A volume as `parse_quantity` reads it, or three sizes with x or by between; a unit behind the last is for all
        that have none. [-]

    Returns
    -------
    Inside
        Its volume, and its sizes where they are written. [mm3]

    Raises
    ------
    UnreadableLength
        If it has no form we read; says what to write.
    OutOfRange
        If a size or the volume is not above 0, or too large for anything here.

    References
    ----------
    `parse_quantity`, `parse_length_exact`.

    Examples
    --------
    >>> read_chamber("30 x 12 x 9 mm").sizes_mm
    (30.0, 12.0, 9.0)
    >>> read_chamber("2.5 ± 0.2 cm3").volume_mm3
    Band(best=2500.0, low=2300.0, high=2700.0)
    """
    parts = _BY.split(text.strip())
    if len(parts) == 1:
        return Inside(_checked(_volume(text)))
    if len(parts) != 3:
        raise UnreadableLength(text, f"it has {len(parts)} sizes", CHAMBER)
    unit = _UNIT.search(parts[-1])
    if unit is None:
        raise UnreadableLength(text, "its sizes have no unit", CHAMBER)
    long, wide, high = (size_mm(part if _UNIT.search(part) else f"{part} {unit[0]}") for part in parts)
    volume = float(long * wide * high)
    return Inside(_checked(Band(volume, volume, volume)), (float(long), float(wide), float(high)))


def _volume(text: str) -> Band:
    try:
        known = parse_quantity(text, "volume")
    except UnreadableLength as reason:
        raise UnreadableLength(text, reason.problem, CHAMBER) from None
    return Band(known.value, known.low, known.high)


def _checked(volume: Band) -> Band:
    if not LEAST_MM3 <= volume.low <= volume.high <= MOST_MM3:
        expected = "from 0.001 cm3 to 1000000 cm3"
        raise OutOfRange("the chamber's volume", f"{volume.best / 1000:.4g} cm3", expected, "Check its units.")
    return volume


def read_count(text: str) -> int:
    """Return how many like speakers there are.

    Parameters
    ----------
    text : str
        A whole number. [-]

    Returns
    -------
    int
        From 1 to 6. [-]

    Raises
    ------
    OutOfRange
        If it is no such number.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_count("2")
    2
    """
    if re.fullmatch(r"[1-9]", text) is None or int(text) > MOST_LIKE:
        expected = f"a whole number from 1 to {MOST_LIKE}"
        raise OutOfRange("the number of like speakers", shown(text), expected, "Write 1 or 2.")
    return int(text)


def read_also(text: str) -> tuple[RatedSpeaker, ...]:
    """Return other speakers on the same output.

    Parameters
    ----------
    text : str
        On each line a name, an impedance and if known a power, with semicolons between. [-]

    Returns
    -------
    tuple of RatedSpeaker
        In the order written. [ohm, W]

    Raises
    ------
    OutOfRange, UnreadableLength
        If a line has other parts, or can't be read, or there are too many.

    References
    ----------
    `also_from`.

    Examples
    --------
    >>> read_also("rear; 8 ohm; 1 W")
    (RatedSpeaker(name='rear', impedance_ohm=8.0, power_w=1.0),)
    """
    return tuple(_also(each) for each in also_from(text))


def _also(table: Mapping[str, Any]) -> RatedSpeaker:
    power = table["power"]
    watts = None if power is None else parse_quantity(power, "power").value
    return RatedSpeaker(table["name"], parse_quantity(table["impedance"], "resistance").value, watts)
