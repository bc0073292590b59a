"""Heights above the seat: the free depth over each zone, at the spot where it is smallest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, WrongKind
from modelmath.job.document import StationEntry, ZoneEntry
from modelmath.lengths.rules.readings import Measured, Reading, from_seat, offset_cancels

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench


@dataclass(frozen=True)
class Station:
    """One spot over a zone.

    Attributes
    ----------
    name : str
        Where it is, such as ``left``. [-]
    free : Measured
        From the chassis top up to the roof's underside. [mm]
    roof, top : Measured or None
        Heights above the seat; None where only the gap was read. [mm]
    offset_cancels : str
        Name of the rule whose zero offset has no part in it; empty otherwise. [-]
    read_as_gap : str
        Name of the reading, where the gap itself was read; empty where it is the difference of two heights. [-]
    underside : str
        Name of the reading of its roof; empty where there is none. [-]
    top_at : str
        The spot whose chassis top it is, where roof and chassis are of two spots; empty otherwise. [-]
    """

    name: str
    free: Measured
    roof: Measured | None
    top: Measured | None
    offset_cancels: str = ""
    read_as_gap: str = ""
    underside: str = ""
    top_at: str = ""


@dataclass(frozen=True)
class Depth:
    """The free depth of one zone: that of the spot where it is smallest.

    Attributes
    ----------
    zone : ZoneEntry
        The zone. [-]
    stations : tuple of Station
        Every spot read over it, the governing one first. [mm]
    moving : str
        Name of what stands or moves there and sets the depth; empty where the chassis itself does. [-]
    """

    zone: ZoneEntry
    stations: tuple[Station, ...]
    moving: str = ""

    @property
    def free(self) -> Measured:
        """From the chassis top up to the roof's underside, where that is smallest. [mm]"""
        return self.stations[0].free

    @property
    def roof(self) -> Measured | None:
        """Height of the roof's underside above the seat at that spot. [mm]"""
        return self.stations[0].roof

    @property
    def top(self) -> Measured | None:
        """Height of the chassis top above the seat at that spot. [mm]"""
        return self.stations[0].top

    @property
    def offset_cancels(self) -> str:
        """Name of the rule whose zero offset has no part in the free depth; empty otherwise."""
        return self.stations[0].offset_cancels

    @property
    def read_as_gap(self) -> str:
        """Name of the reading, where the gap itself was read at that spot; empty for a difference of two heights."""
        return self.stations[0].read_as_gap

    @property
    def at(self) -> str:
        """The spot that governs; empty where only one was read."""
        return self.stations[0].name if len(self.stations) > 1 else ""

    @property
    def name(self) -> str:
        """What the depth is over, in words: the zone, or what stands or moves there; the chassis' spot of several."""
        what = self.moving or self.zone.name
        return f"{what}, {self.stations[0].top_at or self.at}" if self.at else what


def depth_of(bench: Bench, entry: ZoneEntry, place: int) -> Depth:
    """Work out the free depth of a zone.

    Parameters
    ----------
    bench : Bench
        The bench. [-]
    entry : ZoneEntry
        The zone. [-]
    place : int
        Its place in the document, from 0. [-]

    Returns
    -------
    Depth
        With every spot that was read. [mm]

    Raises
    ------
    JobError, WrongKind, OutOfRange
        If a reading is missing, or leaves no depth.

    References
    ----------
    Arithmetic.
    """
    own = _Spot(bench, ("zones", place), entry.underside, entry.chassis_top, entry.gap)
    for field in ("width", "end"):
        reading_at(bench, getattr(entry, field), "zones", place, field)
    known = len(bench.faults)
    found = list(_stations(bench, entry, own))
    if not found and len(bench.faults) > known and not own.complete:
        raise bench.faults.pop()  # the zone has none but its stations, and their fault is noted once
    if own.complete or not found:
        label = entry.gap or entry.chassis_top or entry.name
        found.insert(0, own.station(label))
    found += _straight_across(found)
    return Depth(entry, tuple(sorted(found, key=lambda station: station.free.exact_mm)))


def _straight_across(stations: list[Station]) -> list[Station]:
    """Return the depth from the lowest roof down to the highest chassis top, where it is less than at any one spot.

    A straight part meets the roof where that is lowest, and the chassis where that is highest.
    """
    both = [(each.roof, each.top, each) for each in stations if each.roof is not None and each.top is not None]
    if len(both) < 2:
        return []
    roof, _, low = min(both, key=lambda spot: spot[0].exact_mm)
    _, top, high = max(both, key=lambda spot: spot[1].exact_mm)
    free = roof - top
    if free.exact_mm >= min(station.free.exact_mm for station in stations):
        return []
    name = f"roof at {low.name}, chassis at {high.name}"
    if free.exact_mm <= 0:
        given, remedy = (
            f"{float(free.exact_mm):.2f} mm, {name}",
            "A straight part finds no room there: read both again.",
        )
        raise OutOfRange("the free depth", given, "above 0", remedy)
    cancels = low.offset_cancels if low.offset_cancels == high.offset_cancels else ""
    return [Station(name, free, roof, top, cancels, "", low.underside, high.name)]


def _stations(bench: Bench, zone: ZoneEntry, own: _Spot) -> Iterator[Station]:
    for place, entry in enumerate(bench.job.stations):
        if entry.zone == zone.name:
            with bench.at("stations", place):
                yield _spot_of(bench, entry, place, own).station(entry.name)


def _spot_of(bench: Bench, entry: StationEntry, place: int, own: _Spot) -> _Spot:
    for field in ("underside", "chassis_top") if entry.gap is None else ("underside",):
        if getattr(entry, field) is None:  # a fault in what the zone lends it stands in the zone
            _height(bench, getattr(own, field), *own.path, field)
    roof, top = entry.underside or own.underside, entry.chassis_top or own.chassis_top
    return _Spot(bench, ("stations", place), roof, None if entry.gap else top, entry.gap)


@dataclass(frozen=True)
class _Spot:
    """The readings of one spot, by name."""

    bench: Bench
    path: tuple[str, int]
    underside: str | None
    chassis_top: str | None
    gap: str | None

    @property
    def complete(self) -> bool:
        """Whether it gives a depth on its own."""
        return self.gap is not None or (self.underside is not None and self.chassis_top is not None)

    def station(self, name: str) -> Station:
        bench = self.bench
        roof = _height(bench, self.underside, *self.path, "underside")
        top = _height(bench, self.chassis_top, *self.path, "chassis_top")
        gap = reading_at(bench, self.gap, *self.path, "gap")
        if gap is not None:
            top = None if roof is None else roof - gap.measured
            return Station(name, gap.measured, roof, top, "", gap.name, self.underside or "")
        if roof is None or top is None:
            raise WrongKind(
                f"the {self.path[0].removesuffix('s')}",
                "without its two heights",
                "readings for underside and chassis_top, or for gap",
                "Name the readings taken over this zone.",
            )
        free = roof - top
        if free.exact_mm <= 0:
            raise OutOfRange(
                "the free depth",
                f"{float(free.exact_mm):.2f} mm",
                "above 0",
                f"{self.underside!r} must lie higher above the seat than {self.chassis_top!r}.",
            )
        return Station(name, free, roof, top, self._cancelled(free), "", self.underside or "")

    def _cancelled(self, free: Measured) -> str:
        """Return the rule whose offset cancels, if both heights were read with it and no rule's offset is left."""
        assert self.underside is not None
        assert self.chassis_top is not None
        rule = self.bench.readings[self.underside].rule
        same = rule is self.bench.readings[self.chassis_top].rule
        none_left = all(offset_cancels(free.value, each) for each in self.bench.rules.values())
        return rule.name if same and none_left else ""


def reading_at(bench: Bench, name: str | None, *path: str | int) -> Reading | None:
    """Return a reading that a field names, or nothing.

    Parameters
    ----------
    bench : Bench
        The bench. [-]
    name : str or None
        The reading's name; None where the field is left out. [-]
    *path : str and int
        Place of that field in the document. [-]

    Returns
    -------
    Reading or None
        The reading. [mm]

    Raises
    ------
    JobError
        If no reading is called so.

    References
    ----------
    None needed.
    """
    if name is None:
        return None
    try:
        return bench.reading(name)
    except UnknownChoice as fault:
        raise bench.located(path, fault) from None


def _height(bench: Bench, name: str | None, *path: str | int) -> Measured | None:
    reading = reading_at(bench, name, *path)
    if reading is None:
        return None
    try:
        return from_seat(reading, bench.links)
    except ModelMathError as fault:
        raise bench.located(path, fault) from None


def check_stations(bench: Bench) -> None:
    """Refuse a station of a zone that is not there.

    Parameters
    ----------
    bench : Bench
        The bench; it keeps the faults. [-]

    References
    ----------
    None needed.
    """
    zones = [zone.name for zone in bench.job.zones]
    seen: set[tuple[str, str]] = set()
    for place, entry in enumerate(bench.job.stations):
        with bench.at("stations", place, "name"):
            if (entry.zone, entry.name) in seen:
                expected = f"a name that stands once over {entry.zone}"
                raise WrongKind("the name", repr(entry.name), expected, "Give one of the two another.")
        seen.add((entry.zone, entry.name))
        with bench.at("stations", place, "zone"):
            if entry.zone not in zones:
                raise UnknownChoice("the zone", entry.zone, zones)
