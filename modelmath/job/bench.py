"""The job document read into rules, readings, heights and places; every fault with its place in the document."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from itertools import pairwise
from typing import Any

from modelmath.clearance import Marks
from modelmath.enclosure import Box, Limits, Speaker
from modelmath.errors import JobError, ModelMathError, OutOfRange, UnknownChoice, UnreadableLength, WrongKind, shown
from modelmath.job.document import Job, ReadingEntry, ZoneEntry
from modelmath.job.locate import Path, in_words
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.readings import Measured, Reading, from_seat, offset_cancels
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import Scale, scale
from modelmath.materials import StockStrip, parse_strip


@dataclass(frozen=True)
class Depth:
    """The free depth of one zone.

    Attributes
    ----------
    zone : ZoneEntry
        The zone. [-]
    free : Measured
        From the chassis top up to the roof's underside. [mm]
    roof, top : Measured or None
        Heights above the seat; None where only the gap was read. [mm]
    offset_cancels : str
        Name of the rule whose zero offset has no part in it; empty otherwise. [-]
    """

    zone: ZoneEntry
    free: Measured
    roof: Measured | None
    top: Measured | None
    offset_cancels: str = ""


@dataclass(frozen=True)
class Ends:
    """Places along the length, from the fore-aft mark, positive to the rear.

    Attributes
    ----------
    mark : str
        The mark's name, or the shell's front end when there is none. [-]
    edges : tuple of Measured
        Front end of the shell's inside, then the end of each zone. [mm]
    """

    mark: str
    edges: tuple[Measured, ...]


@dataclass
class Bench:
    """Everything a plan needs, read from one job document.

    Attributes
    ----------
    job : Job
        The document. [-]
    faults : list of JobError
        All that could not be read. [-]
    """

    job: Job
    file: str = "the job"
    faults: list[JobError] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._document = self.job.model_dump()
        self.scale: Scale = self._try(("scale",), lambda: scale(self.job.scale)) or scale("HO")
        self.rules: dict[str, Rule] = {}
        self.readings: dict[str, Reading] = {}
        self.links: dict[str, Reading] = {}
        self._read_rules()
        self._read_readings()
        self.marks = self._try(("marking", "rule"), self._marks)
        self.depths: tuple[Depth, ...] = ()
        self.ends: Ends | None = None
        if not self.faults:
            self.depths = tuple(self._each("zones", self._depth))
        if not self.faults and self.job.length is not None:
            self.ends = self._try(("length",), self._ends)
        self.limits = self._limits()
        self.speaker = self._try(("speaker",), self._speaker)
        self.decoder = self._try(("decoder",), self._decoder)
        self._drawer = tuple(self._each("drawer", self._stock))
        self._check_lengths()

    # Reading one thing, with its place kept for the message.

    @contextmanager
    def at(self, *path: str | int) -> Iterator[None]:
        """Turn any of our errors into one that names its place in the document, and keep it."""
        try:
            yield
        except JobError as fault:
            self.faults.append(fault)
        except ModelMathError as fault:
            self.faults.append(self._located(path, fault))

    def _located(self, path: Path, fault: ModelMathError) -> JobError:
        where = in_words(path, self._document)
        if isinstance(fault, UnreadableLength):
            return JobError(self.file, where, f"{shown(fault.given)}: {fault.problem}", f"write {fault.write}", path)
        return JobError(self.file, where, str(fault).removesuffix("."), "", path)

    def _try(self, path: Path, read: Callable[[], Any]) -> Any:
        with self.at(*path):
            return read()
        return None

    def _each(self, table: str, read: Callable[[Any, int], Any]) -> Iterator[Any]:
        for place, entry in enumerate(getattr(self.job, table)):
            found = self._try((table, place), partial(read, entry, place))
            if found is not None:
                yield found

    def length(self, text: str, *path: str | int, zero: bool = True) -> Fraction:
        """Read a length that names its unit; scale feet are of the job's scale.

        Parameters
        ----------
        text : str
            As written in the document. [-]
        *path : str and int
            Its place in the document. [-]
        zero : bool
            Whether 0 makes sense here. [-]

        Returns
        -------
        Fraction
            The length. [mm]

        Raises
        ------
        JobError
            If it can't be read, or is below 0.

        References
        ----------
        `parse_length_exact`.
        """
        try:
            value = parse_length_exact(text, scale=self.scale)
            if value < 0 or (value == 0 and not zero):
                raise OutOfRange("the length", shown(text), "0 or more" if zero else "above 0", "Check the sign.")
        except ModelMathError as fault:
            raise self._located(path, fault) from None
        return value

    # Rules and readings.

    def _read_rules(self) -> None:
        for place, entry in enumerate(self.job.rules):
            with self.at("rules", place):
                if entry.name in self.rules:
                    raise WrongKind("the name", repr(entry.name), "a name of its own", "Give each rule another name.")
                known = len(self.faults)
                for name in ("graduation", "zero_offset", "offset_uncertainty", "reading_uncertainty", "length"):
                    text = getattr(entry, name)
                    if text is not None:
                        with self.at("rules", place, name):
                            parse_length_exact(text, unit=entry.unit, scale=entry.scale or self.scale)
                if len(self.faults) == known:
                    fields = entry.model_dump(exclude={"scale"})
                    self.rules[entry.name] = Rule(**fields, scale=entry.scale or self.scale)

    def _read_readings(self) -> None:
        first = self.job.rules[0].name
        for place, entry in enumerate(self.job.readings):
            with self.at("readings", place, "mark"):
                if entry.name in self.readings:
                    raise WrongKind(
                        "the name", repr(entry.name), "a name of its own", "Give each reading another name."
                    )
                rule = self._rule(entry.rule or first)
                if rule is not None:
                    self.readings[entry.name] = Reading(entry.name, rule, entry.mark, entry.datum, entry.taken_from)
        for place, link in enumerate(self.job.links):
            with self.at("links", place, "reading"):
                self.links[link.face] = self.reading(link.reading)

    def _rule(self, name: str) -> Rule | None:
        if name not in self.rules:
            if any(entry.name == name for entry in self.job.rules):
                return None  # its own fault is already noted
            raise UnknownChoice("the rule", name, list(self.rules))
        return self.rules[name]

    def reading(self, name: str) -> Reading:
        """Return a reading by its name.

        Parameters
        ----------
        name : str
            As in the document. [-]

        Returns
        -------
        Reading
            The reading. [mm]

        Raises
        ------
        UnknownChoice
            If no reading is called so.

        References
        ----------
        None needed.
        """
        if name not in self.readings:
            raise UnknownChoice("the reading", name, list(self.readings))
        return self.readings[name]

    def entry(self, name: str) -> ReadingEntry:
        """Return a reading's entry in the document by its name."""
        return next(each for each in self.job.readings if each.name == name)

    def _marks(self) -> Marks | None:
        rule = self._rule(self.job.marking.rule)
        if rule is None:
            return None
        marks = Marks(rule, self.job.marking.finest, self.job.marking.datum)
        with self.at("marking", "finest"):
            marks.up(Fraction(1))  # reads the finest mark, so that a fault shows here and not at the first part
        return marks

    # Heights.

    def _depth(self, entry: ZoneEntry, place: int) -> Depth:
        roof = self._height(entry.underside, "zones", place, "underside")
        top = self._height(entry.chassis_top, "zones", place, "chassis_top")
        if entry.gap is not None:
            gap = self.reading(entry.gap).measured
            return Depth(entry, gap, roof, None if roof is None else roof - gap)
        if roof is None or top is None:
            raise WrongKind(
                "the zone",
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
                f"{entry.underside!r} must lie higher above the seat than {entry.chassis_top!r}.",
            )
        return Depth(entry, free, roof, top, self._cancelled(entry, free))

    def _height(self, name: str | None, *path: str | int) -> Measured | None:
        if name is None:
            return None
        try:
            return from_seat(self.reading(name), self.links)
        except ModelMathError as fault:
            raise self._located(path, fault) from None

    def _cancelled(self, entry: ZoneEntry, free: Measured) -> str:
        """Return the rule whose offset cancels, if both heights were read with it from the same datum."""
        assert entry.underside is not None
        assert entry.chassis_top is not None
        rule = self.readings[entry.underside].rule
        used = rule is self.readings[entry.chassis_top].rule
        return rule.name if used and offset_cancels(free.value, rule) else ""

    # Places along the length.

    def _ends(self) -> Ends:
        entry = self.job.length
        assert entry is not None
        inside = self._place(entry.shell_inside, "shell_inside")
        if entry.mark is None:
            origin = {"shell": Measured(Fraction(0), 0.0, "front end of the shell's inside")}
        else:
            origin = {
                "shell": self._mark(entry.mark_on_shell, "shell"),
                "chassis": self._mark(entry.mark_on_chassis, "chassis"),
            }
        start = Measured(Fraction(0), 0.0, "front end of the shell's inside") - origin["shell"]
        rear = inside - origin["shell"]
        edges = [start, *(self._zone_end(place, origin, rear) for place in range(len(self.job.zones)))]
        for place, (before, after) in enumerate(pairwise(edges)):
            if after.exact_mm <= before.exact_mm:
                raise self._located(
                    ("zones", place, "end"),
                    OutOfRange(
                        "the zone", "no longer than 0", "longer", "List the zones from front to rear and check its end."
                    ),
                )
        return Ends(entry.mark or "front end of the shell's inside", tuple(edges))

    def _place(self, name: str, field_name: str) -> Measured:
        try:
            return self.reading(name).measured
        except ModelMathError as fault:
            raise self._located(("length", field_name), fault) from None

    def _mark(self, name: str | None, half: str) -> Measured:
        if name is None:
            fault = WrongKind(
                "the fore-aft mark", f"not measured on the {half}", "a reading on both halves", f"Add mark_on_{half}."
            )
            raise self._located(("length", f"mark_on_{half}"), fault)
        return self._place(name, f"mark_on_{half}")

    def _zone_end(self, place: int, origin: dict[str, Measured], rear: Measured) -> Measured:
        zone = self.job.zones[place]
        last = place == len(self.job.zones) - 1
        if zone.end is None:
            if not last:
                fault = WrongKind(
                    "the zone's end", "missing", "a reading along the length", "Add one, or merge the zones."
                )
                raise self._located(("zones", place, "end"), fault)
            return rear
        try:
            reading = self.reading(zone.end)
            half = self.entry(zone.end).on
            if half is None:
                raise WrongKind(
                    "the reading", repr(zone.end), "one taken on shell or chassis", 'Add on = "chassis" to it.'
                )
            if half not in origin:
                raise WrongKind(
                    "the zone's end",
                    "read on the chassis",
                    "a fore-aft mark that joins both halves",
                    "Add length.mark with mark_on_shell and mark_on_chassis.",
                )
        except ModelMathError as fault:
            raise self._located(("zones", place, "end"), fault) from None
        return reading.measured - origin[half]

    # What goes in, and what it is made from.

    def _limits(self) -> Limits | None:
        job = self.job
        room = {"front": Fraction(0), "rear": Fraction(0)}
        for place, lamp in enumerate(job.lamps):
            with self.at("lamps", place, "room"):
                room[lamp.end] = max(room[lamp.end], self.length(lamp.room, "lamps", place, "room"))
        with self.at("clearance"):
            return Limits(
                clearance_mm=self.length(job.clearance.keep, "clearance", "keep"),
                end_clearance_mm=self.length(job.clearance.along, "clearance", "along"),
                wall_mm=self.length(job.build.wall, "build", "wall", zero=False),
                post_mm=self.length(job.build.post, "build", "post", zero=False),
                over_speaker_mm=self.length(job.clearance.over_speaker, "clearance", "over_speaker"),
                front_room_mm=room["front"],
                rear_room_mm=room["rear"],
            )
        return None

    def _speaker(self) -> Speaker | None:
        entry = self.job.speaker
        if entry is None or None in (entry.flange, entry.length, entry.width, entry.depth):
            return None
        sizes = {
            f"{name}_mm": self.length(getattr(entry, name), "speaker", name, zero=False)
            for name in ("length", "width", "flange", "depth")
        }
        return Speaker(name=entry.name, **sizes)

    @property
    def flange_mm(self) -> Fraction | None:
        """Thickness of the speaker's flange, as soon as it is given. [mm]"""
        entry = self.job.speaker
        if entry is None or entry.flange is None:
            return None
        return self.length(entry.flange, "speaker", "flange", zero=False)

    def _decoder(self) -> Box | None:
        entry = self.job.decoder
        if entry is None:
            return None
        air = self.length(entry.air, "decoder", "air")
        length, width, height = (
            self.length(getattr(entry, name), "decoder", name, zero=False) for name in ("length", "width", "height")
        )
        # Air at both ends and both sides, and below; above, the decoder is taped to the roof.
        return Box(entry.name, length + 2 * air, width + 2 * air, height + air)

    def _stock(self, entry: Any, place: int) -> StockStrip:
        strip = parse_strip(entry.strip, self.scale)
        return StockStrip(
            strip, self.length(entry.length, "drawer", place, "length", zero=False), entry.count, entry.offcut
        )

    @property
    def drawer(self) -> tuple[StockStrip, ...]:
        """Strip on hand."""
        return self._drawer

    def _check_lengths(self) -> None:
        """Read the lengths that only some plans use, so that a fault in one is found at once."""
        job = self.job
        with self.at("seat", "repeatability"):
            self.length(job.seat.repeatability, "seat", "repeatability")
        for name in ("kerf", "end_trim", "new_strip", "cutting_tolerance", "hole_clearance"):
            with self.at("build", name):
                self.length(getattr(job.build, name), "build", name, zero=name != "new_strip")
        for place, wire in enumerate(job.wires):
            with self.at("wires", place, "diameter"):
                self.length(wire.diameter, "wires", place, "diameter", zero=False)
        for place, lamp in enumerate(job.lamps):
            with self.at("lamps", place, "strand"):
                if lamp.strand is not None:
                    self.length(lamp.strand, "lamps", place, "strand", zero=False)
        if job.speaker is not None and job.speaker.flange is not None:
            with self.at("speaker", "flange"):
                self.length(job.speaker.flange, "speaker", "flange", zero=False)
