"""A speaker, a chamber and a decoder as a person types them, without a job: read, or what is wrong with which entry."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, TypeVar

from modelmath.errors import ModelMathError, NotYetKnown, OutOfRange, UnreadableLength
from modelmath.job.bench.sounds import FIELDS as DRIVER_FIELDS
from modelmath.job.bench.sounds import OUTPUT_KINDS
from modelmath.job.entries.inside.sound import OUTPUT as OUTPUT_FIELDS
from modelmath.job.entries.inside.sound import also_from
from modelmath.job.sound.alone import WALL_MM, Alone, Inside, Openings
from modelmath.job.sound.driven import Driven, driven_by
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length
from modelmath.sound.band import Band
from modelmath.sound.closed_box.stuffing import STUFFINGS, stuffing
from modelmath.sound.driver.driver import LABELS, Driver
from modelmath.sound.driver.known import Known
from modelmath.sound.driver.quantities import PARAMETER_KINDS, format_quantity, parse_quantity
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.speakers import RatedSpeaker, several

Read = TypeVar("Read")

# Fields of the entries by what they stand for: a driver's parameter, or what the decoder's sheet states.
DRIVER = {name: field for name, field in DRIVER_FIELDS.items() if name != "le"}
OUTPUT = {name: OUTPUT_KINDS[key] for name, key in OUTPUT_FIELDS.items()}
SIZES = ("length", "width", "longest", "wall", "joint", "hole")
FIELDS = (*SIZES, *DRIVER, "chamber", *OUTPUT, "stuffing", "wanted_q", "count", "also")
DEMO = {"length": "15 mm", "width": "11 mm", "impedance": "8 ohm", "power": "1 W"}
DEMO |= {"chamber": "30 x 12 x 9 mm", "least": "4 ohm"}

ROUND = ("", "round")
MOST_MM = 1000.0  # of any size here: past it no speaker in a model is meant
LEAST_MM3, MOST_MM3 = 1.0, 1e9
MOST_LIKE = 6
SIZE = ".59 in or 15 mm"
CHAMBER = "a volume, such as 2.5 cm3, or inside length, width and height, such as 30 x 12 x 9 mm"
_BY = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_UNIT = re.compile(r"[A-Za-z'\"]+\.?$")


@dataclass(frozen=True)
class Entered:
    """What the entries come to.

    Attributes
    ----------
    alone : Alone or None
        The speaker in its chamber; None while an entry is missing or can't be read. [-]
    driven : Driven
        Whether the decoder drives the speaker, as far as that is entered. [-]
    echoes, messages : dict of str to str
        By field: the entry as it was understood; what is wrong with it and what to write. [-]
    waiting : tuple of str
        What is still to enter, in words. [-]

    References
    ----------
    None needed.
    """

    alone: Alone | None
    driven: Driven
    echoes: dict[str, str] = field(default_factory=dict)
    messages: dict[str, str] = field(default_factory=dict)
    waiting: tuple[str, ...] = ()


def read_entries(typed: Mapping[str, str]) -> Entered:
    """Read all entries.

    Parameters
    ----------
    typed : mapping of str to str
        By field, of `FIELDS`; one that is not there counts as empty. [-]

    Returns
    -------
    Entered
        The speaker in its chamber, or what is wrong or missing. [-]

    References
    ----------
    `parse_quantity`, `parse_length_exact`.

    Examples
    --------
    >>> found = read_entries(DEMO)
    >>> round(found.alone.inside.volume_mm3.best), found.driven.chosen.verdict
    (3240, 'fits')
    >>> read_entries(DEMO | {"chamber": "2.5"}).messages
    {'chamber': "'2.5': it has no unit; write a volume, such as 2.5 cm3, or inside length, width and height, ..."}
    """
    return _Reading({name: str(typed.get(name, "")).strip() for name in FIELDS}).entered()


class _Reading:
    """The entries, read one by one; what is wrong is kept by field."""

    def __init__(self, typed: Mapping[str, str]) -> None:
        self.typed = typed
        self.echoes: dict[str, str] = {}
        self.messages: dict[str, str] = {}

    def entered(self) -> Entered:
        """Return what all of it comes to."""
        driver, inside, openings = self._driver(), self._inside(), self._openings()
        wanted = self._quantity("wanted_q", "ratio")
        filling = stuffing(self.typed["stuffing"] if self.typed["stuffing"] in STUFFINGS else "unfilled")
        driven = self._driven(driver)
        waiting = tuple(self._waiting(driver, inside))
        alone = None
        if not self.messages and not waiting and driver is not None and inside is not None:
            value = None if wanted is None else wanted.value
            alone = self._worked_out(Alone(driver, inside, driven, filling, value, openings))
        return Entered(alone, driven, self.echoes, self.messages, waiting)

    def _worked_out(self, alone: Alone) -> Alone | None:
        """Return it once its answer can be worked out; else say at which entry it can't."""
        try:
            _ = alone.box.f3_hz
        except ModelMathError as reason:
            self.messages[self._blamed(str(reason))] = str(reason)
            return None
        return alone

    def _blamed(self, reason: str) -> str:
        """Return the field whose parameter a message names first, of those that are typed."""
        names = {name: reason.find(LABELS[field]) for name, field in DRIVER.items() if self.typed[name]}
        named = {name: place for name, place in names.items() if place >= 0}
        return min(named, key=lambda name: named[name]) if named else "length"

    def _read(self, name: str, read: Callable[[str], Read], words: Callable[[Read], str]) -> Read | None:
        """Return a field's value; None where it is empty or wrong, and that is said there."""
        if not self.typed[name]:
            return None
        try:
            value = read(self.typed[name])
        except ModelMathError as reason:
            self.messages[name] = str(reason)
            return None
        self.echoes[name] = words(value)
        return value

    def _quantity(self, name: str, kind: str) -> Known | None:
        return self._read(name, lambda text: parse_quantity(text, kind), lambda known: format_quantity(known, kind))

    def _size(self, name: str) -> float | None:
        mm = self._read(name, size_mm, _ways)
        return None if mm is None else float(mm)

    def _driver(self) -> Driver | None:
        """Return the speaker as far as it is entered; None where an entry of it is wrong."""
        is_round = self.typed["width"].casefold() in ROUND
        length, width = self._size("length"), None if is_round else self._size("width")
        if is_round and length is not None:
            self.echoes["width"] = f"round, {format_length(length, 'mm')} across"
            width = length
        found = {field: self._quantity(name, PARAMETER_KINDS[field]) for name, field in DRIVER.items()}
        if self.messages:
            return None
        known: dict[str, Any] = {name: value for name, value in found.items() if value is not None}
        return Driver(length_mm=length, width_mm=width, round=is_round, **known)

    def _inside(self) -> Inside | None:
        longest = self._size("longest")
        found = self._read("chamber", read_chamber, _chamber_said)
        if found is None:
            return None
        if found.sizes_mm is not None:
            if longest is not None:
                self.echoes["longest"] = f"counted from the sizes: {max(found.sizes_mm):.3g} mm"
            return found
        return Inside(found.volume_mm3, None, longest)

    def _openings(self) -> Openings:
        wall, joint, hole = (self._size(name) for name in ("wall", "joint", "hole"))
        return Openings(wall or WALL_MM, joint, hole)

    def _driven(self, driver: Driver | None) -> Driven:
        """Return whether the decoder drives the speakers; what can't be read of it is said at its field."""
        found = {name: self._quantity(name, kind) for name, (_, kind) in OUTPUT.items()}
        count = self._read("count", read_count, lambda number: "" if number == 1 else f"{number} like speakers") or 1
        also = self._read("also", read_also, lambda _: "") or ()
        output = None
        try:
            stated = {OUTPUT[name][0]: known.value for name, known in found.items() if known is not None}
            output = AmpOutput(**stated) if stated else None
        except OutOfRange as reason:
            self.messages["most" if "impedance" in str(reason) else "drop"] = str(reason)
        if driver is None or driver.known("impedance_ohm") is None:
            return driven_by((), output)
        own = RatedSpeaker.of_driver(driver)
        speakers = (*(several(own, count) if count > 1 else (own,)), *also)
        driven = driven_by(speakers, output)
        if driven.missing is not None and not isinstance(driven.missing, NotYetKnown):
            self.messages["also" if also else "count"] = str(driven.missing)
        return driven

    def _waiting(self, driver: Driver | None, inside: Inside | None) -> Iterator[str]:
        """Yield what is still to enter before there is an answer."""
        if driver is not None and driver.known("sd_mm2") is None and (driver.length_mm is None):
            yield "the speaker's outside length and width, or its diameter"
        if inside is None and "chamber" not in self.messages:
            yield "the chamber, by its volume or its inside sizes"


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
        given = repr(text if len(text) <= 20 else text[:20] + "...")
        raise OutOfRange("the number of like speakers", given, f"a whole number from 1 to {MOST_LIKE}", "Write 1 or 2.")
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


def _ways(mm: Fraction | float) -> str:
    return " = ".join(format_length(mm, unit) for unit in ("mm", "in"))


def _chamber_said(inside: Inside) -> str:
    volume = inside.volume_mm3
    best, low, high = (f"{each / 1000:.4g}" for each in (volume.best, volume.low, volume.high))
    return f"{best} cm3" if volume.exact else f"{best} cm3, {low} to {high} cm3"
