"""What moves inside the shell, read from the document into the boxes that hold it in all its positions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.mechanism import DriveLine, Flywheel, GearTower, Truck, tilt, yaw
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import UnknownChoice, WrongKind
from modelmath.job.bench.contents import end_play_of
from modelmath.job.bench.heights import reading_at
from modelmath.job.bench.noted import AlreadyNoted
from modelmath.lengths.rules.readings import Measured, from_seat

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.document import MovingEntry, ObstacleEntry


@dataclass(frozen=True)
class Moving:
    """Something that moves or stands over the chassis, and the box that holds it in all its positions.

    Attributes
    ----------
    entry : MovingEntry or ObstacleEntry
        As it was entered. [-]
    part : Truck, GearTower, DriveLine, Flywheel or None
        What it is; None for what was entered as a box. [mm]
    obstacle : Obstacle
        The box, as uncertain as its readings; running clearance, end play, and what else is kept, in it. [mm]
    play_mm : Fraction
        How far the shell can shift either way along it, which is in the box too; 0 for what is read on the shell. [mm]
    """

    entry: MovingEntry | ObstacleEntry
    part: Any
    obstacle: Obstacle
    play_mm: Fraction = Fraction(0)

    @property
    def top(self) -> Measured:
        """The highest it gets, without its running clearance, above the seat. [mm]"""
        exact = self.obstacle.outward()
        value = self.obstacle.top_mm - self.obstacle.running_mm
        return Measured(Fraction(exact.top_mm) - Fraction(exact.running_mm), value, self.entry.name)

    @property
    def ends_mm(self) -> tuple[Any, Any]:
        """Its front and rear end, as uncertain as its readings: no running clearance, no end play in them. [mm]"""
        kept = float(self.obstacle.running_mm) + float(self.play_mm)
        return self.obstacle.start_mm + kept, self.obstacle.end_mm - kept

    @property
    def swept(self) -> Obstacle:
        """The box it moves in on its own half: running clearance and end play taken off, its sizes exact. [mm]"""
        box = self.obstacle.outward()
        room = box.running_mm
        return replace(
            box,
            start_mm=box.start_mm + room + self.play_mm,
            end_mm=box.end_mm - room - self.play_mm,
            half_width_mm=box.half_width_mm - room,
            bottom_mm=box.bottom_mm + room,
            top_mm=box.top_mm - room,
            running_mm=Fraction(0),
        )


def moving_of(bench: Bench) -> Iterator[Moving]:
    """Read what moves; faults stay with the bench.

    Parameters
    ----------
    bench : Bench
        The bench, its places along the length known. [-]

    Yields
    ------
    Moving
        Trucks first, since others stand on them. [mm]

    References
    ----------
    `modelmath.enclosure.mechanism`.
    """
    trucks: dict[str, Truck] = {}
    zones = {zone.name for zone in bench.job.zones}
    order = sorted(enumerate(bench.job.moving), key=lambda each: each[1].kind != "truck")
    for place, entry in order:
        with bench.at("moving", place):
            if entry.name in zones:
                remedy = "Give one of the two another."
                raise WrongKind("the name", repr(entry.name), "a name that no zone has", remedy)
            part = _Reader(bench, entry, place, trucks).part()
            if isinstance(part, Truck):
                trucks[entry.name] = part
            yield kept_from(Moving(entry, part, part.envelope()), end_play_of(bench))


def kept_from(moving: Moving, play_mm: Fraction) -> Moving:
    """Return the same on the chassis, with the shell's end play kept from it at both ends.

    Parameters
    ----------
    moving : Moving
        What moves or stands. [mm]
    play_mm : Fraction
        How far the shell can shift either way on the chassis. [mm]

    Returns
    -------
    Moving
        Its box so much longer either way. [mm]

    References
    ----------
    Arithmetic.
    """
    box, play = moving.obstacle, float(play_mm)
    longer = replace(box, start_mm=box.start_mm - play, end_mm=box.end_mm + play)
    return replace(moving, obstacle=longer, play_mm=play_mm)


@dataclass(frozen=True)
class _Reader:
    """Reads one entry."""

    bench: Bench
    entry: MovingEntry
    place: int
    trucks: dict[str, Truck]

    def part(self) -> Any:
        make = {
            "truck": self._truck,
            "gear tower": self._tower,
            "drive line": self._drive_line,
            "flywheel": self._flywheel,
        }
        return make[self.entry.kind]()

    def _truck(self) -> Truck:
        ahead, behind, top = self._size("ahead"), self._size("behind"), self._top()
        rock = self._size("rock")
        return Truck(
            self.entry.name,
            self._along("at"),
            ahead,
            behind,
            self._size("width"),
            top - self._size("depth"),
            top,
            self._yaw(),
            self._size("side_play"),
            self._size("end_play"),
            self.bench.working_out(("moving", self.place, "rock"), lambda: tilt(rock, max(ahead, behind)))
            if rock
            else 0.0,
            running_mm=self._running(),
        )

    def _tower(self) -> GearTower:
        ahead, behind, width = (self._size(name) for name in ("ahead", "behind", "width"))
        return GearTower(self._truck_below(), ahead, behind, width, self._top(), self._running(), self.entry.name)

    def _drive_line(self) -> DriveLine:
        diameter, top = self._size("diameter"), self._top()
        middle = top - diameter / 2
        truck = self._truck_below() if self.entry.on else None
        where = (self._along("at"), middle, self._along("to"), middle)
        return DriveLine(*where, diameter, truck, self._size("wobble"), self._running(), self.entry.name)

    def _flywheel(self) -> Flywheel:
        diameter = self._size("diameter")
        sizes = (diameter, self._size("width"), self._size("wobble"), self._size("end_play"))
        return Flywheel(self._along("at"), self._top() - diameter / 2, *sizes, self._running(), self.entry.name)

    # The fields.

    def _size(self, field: str) -> Any:
        text = getattr(self.entry, field)
        if text is None:
            remedy = f'Write {field} = "12 mm", measured on the model.'
            raise WrongKind(f"the {self.entry.kind}", f"without its {field}", "all of its sizes", remedy)
        return float(self.bench.length(text, "moving", self.place, field))

    def _running(self) -> float:
        """Running clearance, and the paint or tape that takes room there too. [mm]"""
        return float(self._size("running")) + float(self.bench.varying.takes_mm)

    def _top(self) -> Any:
        reading = reading_at(self.bench, self.entry.top, "moving", self.place, "top")
        assert reading is not None
        return from_seat(reading, self.bench.links).value

    def _along(self, field: str) -> Any:
        name = getattr(self.entry, field)
        if name is None or self.bench.ends is None:
            remedy = "Read it from the chassis' front end, and fill in the table [length]."
            given = "without its place along the length"
            raise WrongKind(f"the {self.entry.kind}", given, f"a reading for {field}", remedy)
        reading = reading_at(self.bench, name, "moving", self.place, field)
        assert reading is not None
        half = self.bench.entry(name).on or "chassis"
        if half not in self.bench.ends.origin:
            remedy = "Write mark, mark_on_shell and mark_on_chassis under [length]."
            raise WrongKind(f"the {self.entry.kind}", "read on the chassis", "a fore-aft mark on both halves", remedy)
        return reading.measured.value - self.bench.ends.origin[half].value

    def _yaw(self) -> Any:
        curve = self.bench.job.curve
        if curve is None:
            return 0.0
        radius = float(self.bench.length(curve.radius, "curve", "radius", zero=False))
        pivots = float(self.bench.length(curve.pivots, "curve", "pivots", zero=False))
        return self.bench.working_out(("curve", "radius"), lambda: yaw(pivots, radius))

    def _truck_below(self) -> Truck:
        if any(each.kind == "truck" and each.name == self.entry.on for each in self.bench.job.moving):
            if self.entry.on not in self.trucks:
                raise AlreadyNoted  # the truck's own fault is in the list
        elif not self.trucks:
            remedy = 'Add one with kind = "truck", and name it under on.'
            raise WrongKind(
                f"the {self.entry.kind}", "without a truck that carries it", "a truck among what moves", remedy
            )
        if self.entry.on not in self.trucks:
            unknown = UnknownChoice("the truck it moves with", self.entry.on or "", list(self.trucks))
            raise self.bench.located(("moving", self.place, "on"), unknown)
        return self.trucks[self.entry.on]
