"""What a side elevation holds, in millimetres of the model: zones, pieces between roof and chassis, dimensions.

Along the length from the fore-aft mark, positive to the rear; heights above the seat.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class ZoneBox:
    """A zone: from `left` to `right`, its chassis top and its roof. [mm]"""

    name: str
    left: float
    right: float
    top: float
    roof: float


@dataclass(frozen=True)
class Piece:
    """Something between roof and chassis: its kind, the words for it, and its box. [mm]"""

    kind: str
    words: str
    left: float
    bottom: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Rear end. [mm]"""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Upper end. [mm]"""
        return self.bottom + self.height


@dataclass(frozen=True)
class Span:
    """A height to be dimensioned, at a place along the length. [mm]"""

    words: str
    at: float
    bottom: float
    top: float


@dataclass
class Scene:
    """All that a side elevation shows. [mm]

    `notes` are true of every view; `asides` of the side elevation alone. `roof_opening` is what a speaker that faces
    up sounds out through; `strands` have their way from lamp to lens, along and up.
    """

    zones: list[ZoneBox]
    seat_known: bool
    to_length: bool
    mark: str | None
    closed: tuple[bool, bool] = (False, False)
    band: list[ZoneBox] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    spans: list[Span] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    asides: list[str] = field(default_factory=list)
    roof_opening: tuple[float, float] | None = None
    strands: list[tuple[str, tuple[tuple[float, float], ...]]] = field(default_factory=list)

    @property
    def left(self) -> float:
        """Front end. [mm]"""
        return self.zones[0].left

    @property
    def right(self) -> float:
        """Rear end. [mm]"""
        return self.zones[-1].right

    @property
    def highest(self) -> float:
        """The highest roof. [mm]"""
        return max(zone.roof for zone in self.zones)

    @property
    def lowest(self) -> float:
        """The lowest chassis top, or the seat where that lies lower. [mm]"""
        tops = [zone.top for zone in self.zones]
        return min([*tops, 0.0] if self.seat_known else tops)

    def over(self, left: float, right: float) -> list[ZoneBox]:
        """Return the zones that a stretch lies in. [mm]"""
        return [zone for zone in self.zones if zone.left < right and zone.right > left]

    def roof_over(self, left: float, right: float) -> float:
        """Return the lowest roof over a stretch. [mm]"""
        return min((zone.roof for zone in self.over(left, right)), default=self.highest)
