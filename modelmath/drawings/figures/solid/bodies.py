"""What a plan's model is made of, as solids in millimetres: each an outline drawn out along the length.

Along the length from the fore-aft mark, positive to the rear; across from the centre line, positive to the right as
one looks to the rear; heights above the seat. Places along the length and heights are those of the side elevation.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from modelmath.drawings.figures.pieces import SHOWN_AS, TERMINALS, back_of, flange_level, hung
from modelmath.drawings.figures.scene import Piece, Scene, scene_of
from modelmath.drawings.figures.solid.cells import Extent, Solid, raised, solids_from
from modelmath.drawings.figures.solid.outlines import least_half, rectangle, shell_outline, within
from modelmath.drawings.shapes import Point
from modelmath.job.bench.layout import cavity_of, width_of

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan

BELOW = 0.12  # how far the chassis is drawn below seat and chassis tops, over the whole height; for the picture only
NOMINAL_WIDTH = 1.2  # inside width over height where no width was read
NOMINAL_FLANGE = 0.85  # flange over inside width where the speaker's width is not known
LOOKS_THROUGH = ("shell", "room", "side", "box")  # drawn as an outline, so that what is behind stays in sight
CHASSIS_WIDTH = "The chassis is drawn as wide as the shell inside, since its own width is not read."
PART_KINDS = {**SHOWN_AS, "filler": "filler", "side": "side"}

__all__ = ["BELOW", "CHASSIS_WIDTH", "LOOKS_THROUGH", "Model", "Solid", "Stretch", "filler_gap", "model_of"]


@dataclass(frozen=True)
class Stretch:
    """A zone with the outline of the shell's inside over it, its width, and whether that was read. [mm]

    `reach` is the same outline drawn down to where the chassis is cut off: parts may hang below the seat.
    """

    name: str
    start: float
    end: float
    top: float
    roof: float
    width: float
    outline: tuple[Point, ...]
    reach: tuple[Point, ...]


@dataclass
class Model:
    """All solids of a plan, the shell's inside as `stretches`, and what had to be left out. [mm]

    `path` is the strip kept free for wires: nothing stands there.
    """

    name: str
    scene: Scene
    stretches: list[Stretch]
    width_known: bool
    base: float
    solids: list[Solid] = field(default_factory=list)
    path: list[Solid] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Solid]:
        """Return the solids of some kinds. [mm]"""
        return [solid for solid in self.solids if solid.kind in kinds]

    def over(self, left: float, right: float) -> list[Stretch]:
        """Return the zones that a stretch lies in. [mm]"""
        return [each for each in self.stretches if each.start < right and left < each.end]

    def inside(self, at: float) -> tuple[Point, ...]:
        """Return the outline of the shell's inside at a place along, down to where the chassis is cut off. [mm]"""
        return next((each.reach for each in self.stretches if at <= each.end), self.stretches[-1].reach)


def model_of(plan: Plan) -> Model:
    """Gather the solids of a plan; what the plan can't give yet is left out, with a note.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Model
        Shell and chassis first. [mm]

    References
    ----------
    The plan's own sizes; the places and heights of `scene_of`.
    """
    scene = scene_of(plan)
    model = _empty(plan, scene)
    model.solids += [_chassis(stretch, model.base) for stretch in model.stretches]
    model.solids += _shell(model)
    placed = plan.chamber is not None
    for piece in scene.pieces:
        if piece.kind != "opening" and not (placed and piece.kind in SHOWN_AS.values()):
            model.solids += _MAKE.get(piece.kind, _across)(plan, model, piece)
    if placed:
        for part in plan.parts:
            model.solids += _made(plan, model, part)
        model.path += _path(plan, model)
    return model


def _empty(plan: Plan, scene: Scene) -> Model:
    """Return the shell's inside over each zone, without solids."""
    widths = [_width(plan, number) for number in range(len(scene.zones))]
    known = [width for width in widths if width is not None]
    nominal = NOMINAL_WIDTH * (scene.highest - min(zone.top for zone in scene.zones))
    sill = 0.0 if scene.seat_known else scene.lowest
    base = scene.lowest - BELOW * (scene.highest - scene.lowest)
    stretches = []
    for number, zone in enumerate(scene.zones):
        width = widths[number] or max(known, default=nominal)
        points = _profile(plan, (zone.left + zone.right) / 2)
        outlines = [shell_outline(points, width / 2, min(low, zone.roof), zone.roof) for low in (sill, base)]
        stretches.append(Stretch(zone.name, zone.left, zone.right, zone.top, zone.roof, width, *outlines))
    notes = [*scene.notes]
    if not known:
        notes.append("No inside width was read, so the width drawn is nominal.")
    elif len(known) < len(widths):
        notes.append("Where no inside width was read, the shell is drawn as wide as the widest read.")
    return Model(plan.job.name, scene, stretches, bool(known), base, notes=notes)


def _width(plan: Plan, number: int) -> float | None:
    measured = width_of(plan.bench, plan.depths[number])
    return None if measured is None else float(measured.exact_mm)


def _profile(plan: Plan, at: float) -> list[Point] | None:
    """Return height and half-width of the cross-section at a place, where it has one."""
    # The enclosure's own cavity is without the wire path; the shell is as wide as it was read.
    cavity = None if plan.enclosure is None else cavity_of(plan.bench)
    zones = () if cavity is None else cavity.zones
    zone = next((each for each in zones if each.start_mm <= at <= each.end_mm), None)
    profile = getattr(zone, "profile", None)
    return None if profile is None else [(float(height), float(half)) for height, half in profile.points]


def _chassis(stretch: Stretch, base: float) -> Solid:
    half = least_half(stretch.reach, base, stretch.top) or stretch.width / 2
    return Solid("chassis", stretch.name, stretch.start, stretch.end, rectangle(-half, base, half, stretch.top))


def _shell(model: Model) -> Iterator[Solid]:
    """Yield the shell's inside, zones of one cross-section as one."""
    start = model.stretches[0]
    for before, after in zip(model.stretches, [*model.stretches[1:], None], strict=True):
        if after is None or after.outline != start.outline:
            yield Solid("shell", "shell", start.start, before.end, start.outline)
            start = after or before


def shift_of(plan: Plan) -> float:
    """Return where the chamber's own centre line lies: left of the shell's where a wire path takes room on the right.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    float
        From the shell's centre line, positive to the right. [mm]

    References
    ----------
    Arithmetic.
    """
    path = float(plan.limits.wire_path_mm)
    return -(path + float(plan.limits.wall_mm)) / 2 if path and plan.chamber is not None else 0.0


def _made(plan: Plan, model: Model, part: Part) -> Iterator[Solid]:
    """Yield a part from the blocks that it fills, clipped to the shell's inside."""
    kind = PART_KINDS.get(part.kind)
    if kind is None or not part.blocks:
        return
    aside = shift_of(plan)
    extents: list[Extent] = [
        (
            (float(block.start_mm), float(block.end_mm)),
            (float(block.left_mm) + aside, float(block.right_mm) + aside),
            (float(block.bottom_mm), float(block.top_mm)),
        )
        for block in part.blocks
    ]
    lift = hung(part)
    if part.kind == "filler" and plan.chamber is not None:  # level with the flange
        lift = flange_level(plan, plan.chamber) - float(plan.chamber.floor_mm)
    words = "speaker support" if part.kind == "support" else part.name
    stops = [stretch.start for stretch in model.stretches]
    yield from solids_from(kind, words, raised(extents, lift), stops, model.inside)


def _path(plan: Plan, model: Model) -> Iterator[Solid]:
    """Yield the strip kept free for wires along the right side, from end to end of the chamber."""
    wide, chamber = float(plan.limits.wire_path_mm), plan.chamber
    if not wide or chamber is None:
        return
    for each in model.over(float(chamber.start_mm), float(chamber.end_mm)):
        start, end = max(each.start, float(chamber.start_mm)), min(each.end, float(chamber.end_mm))
        half = max(across for across, _ in each.outline)
        outline = within(each.reach, float(chamber.floor_mm), each.roof, half - wide, half)
        if outline:
            yield Solid("path", "wire path", start, end, outline)


def _across(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield what is as wide as the shell inside: in as many solids as it meets zones."""
    low, high = piece.bottom, piece.top
    width = next((part.width_mm for part in plan.parts if part.name == piece.words), None)
    for stretch in model.over(piece.left, piece.right):
        half = stretch.width / 2 if width is None else min(float(width), stretch.width) / 2
        outline = within(stretch.reach, low, high, -half, half)
        left, right = max(piece.left, stretch.start), min(piece.right, stretch.end)
        if outline and left < right:
            yield Solid(piece.kind, piece.words, left, right, outline)


def _posts(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield a pair of posts at no particular place: at the shell's sides, or over the ends of the speaker's flange."""
    over = model.over(piece.left, piece.right)
    half = min((least_half(each.reach, piece.bottom, piece.bottom) or each.width / 2 for each in over), default=0.0)
    if piece.words == "speaker support":
        half = _flange_half(plan, model, piece)
    thick = min(float(plan.limits.post_mm), half)
    for left in (-half, half - thick):
        yield Solid(
            "post", piece.words, piece.left, piece.right, rectangle(left, piece.bottom, left + thick, piece.top)
        )


def _flange_half(plan: Plan, model: Model, piece: Piece) -> float:
    speaker = plan.bench.speaker
    if speaker is not None:
        return float(speaker.width_mm) / 2
    inside = min((each.width for each in model.over(piece.left, piece.right)), default=0.0)
    note = "The speaker's width was not read, so the width drawn is nominal."
    if note not in model.notes:
        model.notes.append(note)
    return NOMINAL_FLANGE * inside / 2


def _speaker(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield flange, basket or terminals, in the middle of the chamber."""
    half, aside, speaker = _flange_half(plan, model, piece), shift_of(plan), plan.bench.speaker
    if piece.kind != "flange" and speaker is not None:
        half = back_of(speaker)[1] / 2 * (TERMINALS if piece.kind == "terminals" else 1)
    outline = rectangle(aside - half, piece.bottom, aside + half, piece.top)
    yield Solid(piece.kind, piece.words, piece.left, piece.right, outline)


def _rooms(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield the decoder's pocket, in the middle of the chamber's width; room for a lamp is as wide as the shell."""
    box, pocket = plan.bench.decoder, None if plan.chamber is None else plan.chamber.pocket
    if box is None or pocket is None or piece.words != box.name:
        yield from _across(plan, model, piece)
        return
    half, aside = float(pocket.across_mm) / 2, shift_of(plan)
    outline = rectangle(aside - half, piece.bottom, aside + half, piece.top)
    yield Solid("room", piece.words, piece.left, piece.right, outline)


def _in_the_way(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield what moves or stands there, as far as it stands up from the chassis and within the shell."""
    swept = next(each.swept for each in plan.bench.moving if each.entry.name == piece.words)
    half, centre = float(swept.half_width_mm), float(swept.centre_mm)
    extent: Extent = ((piece.left, piece.right), (centre - half, centre + half), (piece.bottom, piece.top))
    if piece.kind == "moving":  # what it sweeps beyond the shell is shown as well
        yield Solid("moving", piece.words, *extent[0], rectangle(extent[1][0], piece.bottom, extent[1][1], piece.top))
        return
    yield from solids_from(piece.kind, piece.words, [extent], [each.start for each in model.stretches], model.inside)


_MAKE = {
    "post": _posts,
    "speaker": _speaker,
    "terminals": _speaker,
    "flange": _speaker,
    "room": _rooms,
    "moving": _in_the_way,
    "standing": _in_the_way,
}


def filler_gap(part: Part) -> float:
    """Return the gap that a filler closes, on one side of the speaker.

    Parameters
    ----------
    part : Part
        A strip or a plate. [mm]

    Returns
    -------
    float
        Its size across the shell. [mm]

    References
    ----------
    None needed.
    """
    return float(part.section_mm if part.section_mm is not None else part.width_mm or 0)
