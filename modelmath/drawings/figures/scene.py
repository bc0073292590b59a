"""What a side elevation shows, in millimetres of the model: zones, pieces, clearance band, dimensions.

Along the length from the fore-aft mark, positive to the rear; heights above the seat.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from modelmath.errors import ModelMathError

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber, Part
    from modelmath.job import Plan

NOMINAL_LENGTH = 2.2  # length over height where no length was read
BASKET = 0.14  # how far the speaker's back stands in from its flange, for the picture only


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


@dataclass(frozen=True)
class Span:
    """A height to be dimensioned, at a place along the length. [mm]"""

    words: str
    at: float
    bottom: float
    top: float


@dataclass
class Scene:
    """All that a side elevation shows. [mm]"""

    zones: list[ZoneBox]
    seat_known: bool
    to_length: bool
    mark: str | None
    closed: tuple[bool, bool] = (False, False)
    band: list[ZoneBox] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    spans: list[Span] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

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

    def roof_over(self, left: float, right: float) -> float:
        """Return the lowest roof over a stretch. [mm]"""
        return min(zone.roof for zone in self.zones if zone.left < right and zone.right > left)


def scene_of(plan: Plan) -> Scene:
    """Gather what a plan's side elevation shows; what the plan can't give yet is left out, with a note.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Scene
        In mm of the model. [mm]

    References
    ----------
    The plan's own sizes.
    """
    scene = _zones(plan)
    for add in (_misfit, _band, _pieces, _spans):
        try:
            add(plan, scene)
        except ModelMathError as reason:
            if str(reason) not in scene.notes:
                scene.notes.append(str(reason))
    return scene


def _misfit(plan: Plan, scene: Scene) -> None:
    if plan.misfit is not None:
        scene.notes.append(f"{plan.misfit} It is left out here.")


def _zones(plan: Plan) -> Scene:
    depths, ends = plan.depths, plan.bench.ends
    heights = [(depth.roof, depth.top) for depth in depths]
    known = [float(roof.exact_mm) for roof, _ in heights if roof is not None]
    roofs = [float(roof.exact_mm) if roof is not None else max(known, default=0.0) for roof, _ in heights]
    tops = [roof - float(depth.free.exact_mm) for roof, depth in zip(roofs, depths, strict=True)]
    if ends is not None and len(ends.edges) == len(depths) + 1:
        edges = [float(edge.exact_mm) for edge in ends.edges]
    else:
        ends = None
        step = NOMINAL_LENGTH * (max(roofs) - min([*tops, *([0.0] if known else [])])) / len(depths)
        edges = [step * number for number in range(len(depths) + 1)]
    boxes = [
        ZoneBox(depth.zone.name, left, right, top, roof)
        for depth, (left, right), top, roof in zip(depths, pairwise(edges), tops, roofs, strict=True)
    ]
    scene = Scene(boxes, bool(known), ends is not None, ends.mark if ends else None)
    if ends is None:
        scene.notes.append("Heights are in proportion; no length was read, so the length drawn is nominal.")
    elif plan.job.length is not None:
        scene.closed = (plan.job.length.front_closed, plan.job.length.rear_closed)
    if not known:
        scene.notes.append("Only gaps were read: heights count from the roof, and the seat is not drawn.")
    elif len(known) < len(depths):
        scene.notes.append("Where only the gap was read, the roof is drawn as high as the highest read.")
    return scene


def _band(plan: Plan, scene: Scene) -> None:
    keep = float(plan.limits.clearance_mm)
    scene.band = [ZoneBox(zone.name, zone.left, zone.right, zone.top, zone.top + keep) for zone in scene.zones]
    if plan.enclosure is None:
        return
    cavity = plan.enclosure.cavity
    bays = cavity.bays(plan.limits.clearance_mm, plan.limits.end_clearance_mm)
    scene.band = [
        ZoneBox(bay.zone.name, *(float(each) for each in (bay.start_mm, bay.end_mm, bay.zone.top_mm, bay.floor_mm)))
        for bay in bays
    ]


def _pieces(plan: Plan, scene: Scene) -> None:
    chamber = plan.chamber
    scene.pieces += _moving(plan, scene)
    if chamber is None:
        scene.pieces += _unplaced(plan, scene)
        return
    parts = {part.name: part for part in plan.parts}
    for make in (_walls, _speaker, _plates, _decoder):
        scene.pieces += make(plan, scene, chamber, parts)
    scene.pieces += _lamp_rooms(plan, scene)


Parts = dict[str, "Part"]


def _hanging(kind: str, words: str, left: float, width: float, roof: float, height: Any) -> Piece:
    return Piece(kind, words, left, roof - float(height), width, float(height))


def _moving(plan: Plan, scene: Scene) -> Iterator[Piece]:
    """Yield what moves, as the box that holds it, as far as it stands up from the chassis."""
    for moving in plan.bench.moving:
        box = moving.swept
        left, right, top = (float(each) for each in (box.start_mm, box.end_mm, box.top_mm))
        left, right = max(left, scene.left), min(right, scene.right)
        bottom = min((zone.top for zone in scene.zones if zone.left < right and left < zone.right), default=top)
        if left < right and bottom < top:
            yield Piece("moving", moving.entry.name, left, bottom, right - left, top - bottom)


def _walls(plan: Plan, scene: Scene, chamber: Chamber, parts: Parts) -> Iterator[Piece]:
    wall, post = float(plan.limits.wall_mm), float(plan.limits.post_mm)
    ends = [(float(chamber.start_mm), 1)] * chamber.front_wall + [(float(chamber.end_mm), -1)] * chamber.rear_wall
    made = [part for part in parts.values() if part.kind == "wall"]
    for part, (face, rearward) in zip(made, ends, strict=True):
        behind = next(each for each in parts.values() if each.wall == part.name)
        left = face if rearward > 0 else face - wall
        roof = scene.roof_over(left, left + wall)
        yield _hanging("wall", part.name, left, wall, roof, part.cut.cut_mm)
        left = face + wall if rearward > 0 else face - wall - post
        yield _hanging("post", behind.name, left, post, roof, behind.cut.cut_mm)


def _speaker(plan: Plan, scene: Scene, chamber: Chamber, parts: Parts) -> Iterator[Piece]:
    speaker = plan.bench.speaker
    if speaker is None or chamber.seat_mm is None:
        return
    left, right = (float(each) for each in chamber.seat_mm)
    post, flange, depth = float(plan.limits.post_mm), float(speaker.flange_mm), float(speaker.depth_mm)
    inset = BASKET * (right - left)
    made = [part for part in parts.values() if part.kind == "support"]  # four of one height, or a pair for each end
    supports = [
        _hanging("post", "speaker support", at, post, scene.roof_over(at, at + post), support.cut.cut_mm)
        for support, at in zip((*made[:1], *made[-1:]), (left, right - post), strict=False)
    ]
    level = min((each.bottom for each in supports), default=float(chamber.floor_mm) + flange) - flange
    yield Piece("speaker", speaker.name, left + inset, level + flange, right - left - 2 * inset, depth - flange)
    yield from supports
    yield Piece("flange", "flange", left, level, right - left, flange)


def _plates(plan: Plan, scene: Scene, chamber: Chamber, parts: Parts) -> Iterator[Piece]:
    if chamber.seat_mm is None:
        return
    wall, floor = float(plan.limits.wall_mm), float(chamber.floor_mm)
    seat_front, inner_end = float(chamber.seat_mm[0]), float(chamber.inner_end_mm)
    for part in parts.values():
        if part.kind == "plate" and part.position_mm is not None:
            left = float(part.position_mm)
            right = seat_front if left < seat_front else inner_end
            yield Piece("plate", part.name, left, floor, right - left, wall)


def _decoder(plan: Plan, scene: Scene, chamber: Chamber, parts: Parts) -> Iterator[Piece]:
    box = plan.bench.decoder
    if box is None or chamber.decoder_mm is None or chamber.pocket is None:
        return
    left, right = (float(each) for each in chamber.decoder_mm)
    bottom, top = float(chamber.pocket.bottom_mm), float(chamber.pocket.top_mm)
    yield Piece("room", box.name, left, bottom, right - left, top - bottom)


def _lamp_rooms(plan: Plan, scene: Scene) -> Iterator[Piece]:
    for end, width in (("front", float(plan.limits.front_room_mm)), ("rear", float(plan.limits.rear_room_mm))):
        if width:
            zone = scene.zones[0] if end == "front" else scene.zones[-1]
            left = scene.left if end == "front" else scene.right - width
            bottom = zone.top + float(plan.limits.clearance_mm)
            yield Piece("room", "room for a lamp", left, bottom, width, max(0.0, zone.roof - bottom))


def _unplaced(plan: Plan, scene: Scene) -> Iterator[Piece]:
    """Yield bulkhead, post and supports over the zone that governs, at no particular place."""
    wall = plan.bulkhead
    if wall is None:
        return
    zone = _governing(plan, scene)
    length, thick, post = zone.right - zone.left, float(plan.limits.wall_mm), float(plan.limits.post_mm)
    left = zone.left + 0.2 * length
    scene.notes.append("Where the bulkhead stands along the length is not known yet; its place is nominal.")
    yield _hanging("wall", "bulkhead", left, thick, zone.roof, wall.cut.cut_mm)
    yield _hanging("post", "corner post", left + thick, post, zone.roof, wall.cut.cut_mm)
    support = next((part for part in plan.parts if part.kind == "support"), None)
    flange = plan.bench.flange_mm
    if support is None or flange is None:
        return
    first, last = zone.left + 0.45 * length, zone.left + 0.9 * length
    for place in (first, last - post):
        yield _hanging("post", "speaker support", place, post, zone.roof, support.cut.cut_mm)
    bottom = zone.roof - float(support.cut.cut_mm) - float(flange)
    yield Piece("flange", "flange", first, bottom, last - first, float(flange))


def _governing(plan: Plan, scene: Scene) -> ZoneBox:
    place = next(n for n, depth in enumerate(plan.depths) if depth is plan.governing_zone)
    return scene.zones[place]


def _spans(plan: Plan, scene: Scene) -> None:
    """Dimension the bulkhead, and the space it hangs in: from the roof above it to the chassis top that governs."""
    zone = _governing(plan, scene)
    middle = (zone.left + zone.right) / 2
    below, left_over = zone.top, float(plan.gap.left_mm)
    if plan.governing.moving and plan.governing.top is not None:
        below = float(plan.governing.top.exact_mm)
        middle = next(each.left + each.width / 2 for each in scene.pieces if each.words == plan.governing.moving)
    scene.spans.append(Span("free depth", middle, below, below + float(plan.space.exact_mm)))
    scene.spans.append(Span("room left", middle, below, below + left_over))
    wall = next((piece for piece in scene.pieces if piece.words == "bulkhead"), None)
    if wall is not None:
        scene.spans.append(Span("bulkhead", wall.left, wall.bottom, wall.bottom + wall.height))
