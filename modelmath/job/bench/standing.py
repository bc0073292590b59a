"""What stands in the shell, read from the document into upright boxes: motor frame, screw posts, lamp brackets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import OutOfRange, WrongKind
from modelmath.job.bench.contents import end_play_of
from modelmath.job.bench.heights import reading_at
from modelmath.job.bench.moving import Moving, kept_from
from modelmath.lengths.rules.readings import Measured, from_seat

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench
    from modelmath.job.document import ObstacleEntry

MOVES = ("flywheel", "truck", "gear tower")  # entered as a plain box, which has to hold it in all its positions


def standing_of(bench: Bench) -> Iterator[Moving]:
    """Read what stands in the shell; faults stay with the bench.

    Parameters
    ----------
    bench : Bench
        The bench, its places along the length known. [-]

    Yields
    ------
    Moving
        Each with its box; it has no part that moves. [mm]

    References
    ----------
    None needed.
    """
    taken = {zone.name for zone in bench.job.zones} | {each.name for each in bench.job.moving}
    for place, entry in enumerate(bench.job.obstacles):
        with bench.at("obstacles", place):
            if entry.name in taken:
                remedy = "Give one of the two another."
                raise WrongKind("the name", repr(entry.name), "a name that no zone and nothing that moves has", remedy)
            reader = _Reader(bench, entry, place)
            moving = Moving(entry, None, reader.box())
            yield kept_from(moving, end_play_of(bench)) if reader.on_chassis else moving


class _Reader:
    """Reads one entry."""

    def __init__(self, bench: Bench, entry: ObstacleEntry, place: int) -> None:
        self.bench, self.entry, self.place = bench, entry, place

    @property
    def on_chassis(self) -> bool:
        """Whether the shell shifts along it: it moves, or one of its ends was read on the chassis."""
        return self.entry.kind in MOVES or "chassis" in (self._half("start"), self._half("end"))

    def _half(self, field: str) -> str:
        return self.bench.entry(getattr(self.entry, field)).on or "chassis"

    def box(self) -> Obstacle:
        entry = self.entry
        running = float(self._size("running")) + float(self.bench.varying.takes_mm)
        start, end = self._along("start"), self._along("end")
        if end.exact_mm <= start.exact_mm:
            given = f"{float(end.exact_mm - start.exact_mm):.2f} mm long"
            raise OutOfRange("the obstacle", given, "longer than 0", "Check the readings of its start and end.")
        self._check_within(start, end)
        top = self._top(running)
        return Obstacle(
            entry.name,
            start.value - running,
            end.value + running,
            self._half_width() + running,
            min(self._lowest(), float(getattr(top, "nominal_value", top)) - 2 * running) - 1,
            top,
            running,
            trim_mm=self._size("trim"),
            moves=entry.kind in MOVES,
            centre_mm=self.bench.place(entry.off_centre, "obstacles", self.place, "off_centre"),
        )

    def _check_within(self, start: Measured, end: Measured) -> None:
        """Refuse what stands wholly outside the shell: nothing would be kept from it, and a slip is most likely."""
        assert self.bench.ends is not None
        front, rear = self.bench.ends.edges[0].exact_mm, self.bench.ends.edges[-1].exact_mm
        kept = self._size("running") + (end_play_of(self.bench) if self.on_chassis else 0)
        if start.exact_mm - kept < rear and end.exact_mm + kept > front:
            return
        from_front = (float(each.exact_mm - front) for each in (start, end))
        given = "{:.2f} to {:.2f} mm behind the front end of the shell's inside".format(*from_front)
        expected = f"at least partly within its length, 0 to {float(rear - front):.2f} mm"
        remedy = "Check the readings of its start and end, and on which half they were taken; or leave it out."
        raise OutOfRange("the obstacle", given, expected, remedy)

    def _size(self, field: str) -> Any:
        return self.bench.length(getattr(self.entry, field), "obstacles", self.place, field)

    def _half_width(self) -> float:
        if self.entry.width is not None:
            return float(self._size("width")) / 2
        widths = [self.bench.readings[z.width].measured for z in self.bench.job.zones if z.width in self.bench.readings]
        return max((float(each.exact_mm) / 2 for each in widths), default=100.0)

    def _lowest(self) -> float:
        tops = [depth.top for depth in self.bench.depths if depth.top is not None]
        return min((float(each.exact_mm) for each in tops), default=0.0)

    def _top(self, running: float) -> Any:
        """Return how high it stands with its running clearance; what has no top reaches up to the highest roof."""
        reading = reading_at(self.bench, self.entry.top, "obstacles", self.place, "top")
        if reading is not None:
            return from_seat(reading, self.bench.links).value + running
        roofs = [depth.roof for depth in self.bench.depths if depth.roof is not None]
        if not roofs:
            remedy = "Read the roof's height from the seat, or give it a top."
            raise WrongKind("the obstacle", "up to a roof whose height is not read", "a roof or a top", remedy)
        return max(each.exact_mm for each in roofs)

    def _along(self, field: str) -> Measured:
        bench = self.bench
        if bench.ends is None:
            remedy = "Fill in the table [length]: the length inside, and the fore-aft mark on both halves."
            raise WrongKind("the obstacle", "without places along the length", "a shell of known length", remedy)
        name = getattr(self.entry, field)
        reading = reading_at(bench, name, "obstacles", self.place, field)
        assert reading is not None
        half = self._half(field)
        if half not in bench.ends.origin:
            remedy = "Write mark, mark_on_shell and mark_on_chassis under [length]."
            raise WrongKind("the obstacle", f"read on the {half}", "a fore-aft mark on both halves", remedy)
        return reading.measured - bench.ends.origin[half]
