"""A speaker, a chamber and a decoder as a person types them, without a job: read, or what is wrong with which entry."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, TypeVar

from modelmath.errors import ModelMathError, NotYetKnown, OutOfRange
from modelmath.job.bench.sounds import FIELDS as DRIVER_FIELDS
from modelmath.job.bench.sounds import OUTPUT_KINDS
from modelmath.job.entries.chamber_texts import read_also, read_chamber, read_count, size_mm
from modelmath.job.entries.inside.sound import OUTPUT as OUTPUT_FIELDS
from modelmath.job.entries.inside.sound import line_value
from modelmath.job.sound.alone import WALL_MM, Alone, Inside, Openings
from modelmath.job.sound.driven import Driven, driven_by
from modelmath.lengths.text import format_length
from modelmath.quantities.known import Known
from modelmath.quantities.text import format_quantity, parse_quantity
from modelmath.sound.closed_box.stuffing import STUFFINGS, stuffing
from modelmath.sound.driver.driver import LABELS, PARAMETER_KINDS, Driver
from modelmath.sound.driver.single import read_wanted_q
from modelmath.sound.driver.tolerances import as_entered
from modelmath.sound.loads.decoder import AmpOutput, plain_value
from modelmath.sound.loads.speakers import RatedSpeaker, several

Read = TypeVar("Read")

# Fields of the entries by what they stand for: a driver's parameter, or what the decoder's sheet states.
DRIVER = {name: field for name, field in DRIVER_FIELDS.items() if name != "le"}
OUTPUT = {name: OUTPUT_KINDS[key] for name, key in OUTPUT_FIELDS.items()}
FUZZ = 1e-3  # of a length as it is typed, rounded
SIZES = ("length", "width", "longest", "wall", "joint", "hole")
FIELDS = (*SIZES, *DRIVER, "chamber", *OUTPUT, "stuffing", "wanted_q", "count", "also")
DEMO = {"length": "15 mm", "width": "11 mm", "impedance": "8 ohm", "power": "1 W"}
DEMO |= {"chamber": "30 x 12 x 9 mm", "least": "4 ohm"}

ROUND = ("", "round")


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
        wanted = self._read("wanted_q", read_wanted_q, lambda q: format_quantity(q, "ratio"))
        filling = stuffing(self.typed["stuffing"] if self.typed["stuffing"] in STUFFINGS else "unfilled")
        driven = self._driven(driver)
        waiting = tuple(self._waiting(driver, inside))
        alone = None
        if not self.messages and not waiting and driver is not None and inside is not None:
            alone = self._worked_out(Alone(driver, inside, driven, filling, wanted, openings))
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
            self.echoes[name] = words(value)
        except ModelMathError as reason:
            self.messages[name] = str(reason)
            return None
        return value

    def _parameter(self, name: str, field: str) -> Known | None:
        """Return a parameter of the speaker, with the limits that a sheet leaves unsaid."""
        kind = PARAMETER_KINDS[field]

        def read(text: str) -> Known:
            return parse_quantity(line_value(text, name, kind), kind)

        known = self._read(name, read, lambda found: format_quantity(found, kind))
        return None if known is None else as_entered(known, line_value(self.typed[name], name, kind), field)

    def _of_output(self, name: str, field: str, kind: str) -> float | None:
        """Return a figure of the decoder's sheet."""

        def read(text: str) -> float:
            value = line_value(text, OUTPUT_FIELDS[name], kind)
            return plain_value(parse_quantity(value, kind), field, value)

        return self._read(name, read, lambda value: format_quantity(value, kind))

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
        found = {field: self._parameter(name, field) for name, field in DRIVER.items()}
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
        side = found.volume_mm3.best ** (1 / 3)
        if longest is not None and longest < side * (1 - FUZZ):
            given, expected = f"{longest:.3g} mm", f"{side:.3g} mm or more, the side of a cube that holds as much"
            wrong = OutOfRange("the longest inside length", given, expected, "Measure it again.")
            self.messages["longest"] = str(wrong)
        return Inside(found.volume_mm3, None, longest)

    def _openings(self) -> Openings:
        wall, joint, hole = (self._size(name) for name in ("wall", "joint", "hole"))
        return Openings(wall or WALL_MM, joint, hole)

    def _driven(self, driver: Driver | None) -> Driven:
        """Return whether the decoder drives the speakers; what can't be read of it is said at its field."""
        found = {field: self._of_output(name, field, kind) for name, (field, kind) in OUTPUT.items()}
        count = self._read("count", read_count, lambda number: "" if number == 1 else f"{number} like speakers") or 1
        also = self._read("also", read_also, lambda _: "") or ()
        output = None
        try:
            stated = {field: value for field, value in found.items() if value is not None}
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


def _ways(mm: Fraction | float) -> str:
    return " = ".join(format_length(mm, unit) for unit in ("mm", "in"))


def _chamber_said(inside: Inside) -> str:
    volume = inside.volume_mm3
    best, low, high = (f"{each / 1000:.4g}" for each in (volume.best, volume.low, volume.high))
    return f"{best} cm3" if volume.exact else f"{best} cm3, {low} to {high} cm3"
