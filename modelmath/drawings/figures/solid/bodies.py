"""What a plan's model is made of, as solids in millimetres: each an outline drawn out along the length.

Along the length from the fore-aft mark, positive to the rear; across from the centre line, positive to the right as
one looks to the rear; heights above the seat. Places along the length and heights are those of the side elevation.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from modelmath.drawings.figures.scene import BASKET, Piece, Scene, scene_of
from modelmath.drawings.figures.solid.outlines import bounds, least_half, rectangle, shell_outline, within
from modelmath.drawings.shapes import Point
from modelmath.errors import ModelMathError
from modelmath.job.bench.layout import width_of

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan

BELOW = 0.12  # how far the chassis is drawn below seat and chassis tops, over the whole height; for the picture only
NOMINAL_WIDTH = 1.2  # inside width over height where no width was read
NOMINAL_FLANGE = 0.85  # flange over inside width where the speaker's width is not known
LOOKS_THROUGH = ("shell", "room")  # drawn as an outline, so that what is behind stays in sight


@dataclass(frozen=True)
class Solid:
    """An outline drawn out along the length.

    Attributes
    ----------
    kind, words : str
        What kind of thing it is, and the words for it. [-]
    start, end : float
        Front and rear end, from the fore-aft mark. [mm]
    outline : tuple of Point
        Across and up, anticlockwise. [mm]
    """

    kind: str
    words: str
    start: float
    end: float
    outline: tuple[Point, ...]

    @property
    def box(self) -> tuple[Point, Point, Point]:
        """Its ends along, across and up. [mm]"""
        return ((self.start, self.end), *bounds(self.outline))


@dataclass(frozen=True)
class Stretch:
    """A zone with the outline of the shell's inside over it, its width, and whether that was read. [mm]"""

    name: str
    start: float
    end: float
    top: float
    roof: float
    width: float
    outline: tuple[Point, ...]


@dataclass
class Model:
    """All solids of a plan, the shell's inside as `stretches`, and what had to be left out. [mm]"""

    name: str
    scene: Scene
    stretches: list[Stretch]
    width_known: bool
    base: float
    solids: list[Solid] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Solid]:
        """Return the solids of some kinds. [mm]"""
        return [solid for solid in self.solids if solid.kind in kinds]

    def over(self, left: float, right: float) -> list[Stretch]:
        """Return the zones that a stretch lies in. [mm]"""
        return [each for each in self.stretches if each.start < right and left < each.end]


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
    for stretch in model.stretches:
        half, (left, right) = stretch.width / 2, (stretch.start, stretch.end)
        model.solids.append(
            Solid("chassis", stretch.name, left, right, rectangle(-half, model.base, half, stretch.top))
        )
    model.solids += _shell(model)
    for piece in scene.pieces:
        make = _MAKE.get(piece.kind, _across)
        model.solids += make(plan, model, piece)
    try:
        model.solids += _fillers(plan, model)
    except ModelMathError as reason:
        if str(reason) not in model.notes:
            model.notes.append(str(reason))
    return model


def _empty(plan: Plan, scene: Scene) -> Model:
    """Return the shell's inside over each zone, without solids."""
    widths = [_width(plan, number) for number in range(len(scene.zones))]
    known = [width for width in widths if width is not None]
    nominal = NOMINAL_WIDTH * (scene.highest - min(zone.top for zone in scene.zones))
    sill = 0.0 if scene.seat_known else scene.lowest
    stretches = []
    for number, zone in enumerate(scene.zones):
        width = widths[number] or max(known, default=nominal)
        points = _profile(plan, (zone.left + zone.right) / 2)
        outline = shell_outline(points, width / 2, min(sill, zone.roof), zone.roof)
        stretches.append(Stretch(zone.name, zone.left, zone.right, zone.top, zone.roof, width, outline))
    notes = [*scene.notes]
    if not known:
        notes.append("No inside width was read, so the width drawn is nominal.")
    elif len(known) < len(widths):
        notes.append("Where no inside width was read, the shell is drawn as wide as the widest read.")
    base = scene.lowest - BELOW * (scene.highest - scene.lowest)
    return Model(plan.job.name, scene, stretches, bool(known), base, notes=notes)


def _width(plan: Plan, number: int) -> float | None:
    measured = width_of(plan.bench, plan.depths[number])
    return None if measured is None else float(measured.exact_mm)


def _profile(plan: Plan, at: float) -> list[Point] | None:
    """Return height and half-width of the cross-section at a place, where it has one."""
    zones = () if plan.enclosure is None else plan.enclosure.cavity.zones
    zone = next((each for each in zones if each.start_mm <= at <= each.end_mm), None)
    profile = getattr(zone, "profile", None)
    return None if profile is None else [(float(height), float(half)) for height, half in profile.points]


def _shell(model: Model) -> Iterator[Solid]:
    """Yield the shell's inside, zones of one cross-section as one."""
    start = model.stretches[0]
    for before, after in zip(model.stretches, [*model.stretches[1:], None], strict=True):
        if after is None or after.outline != start.outline:
            yield Solid("shell", "shell", start.start, before.end, start.outline)
            start = after or before


def _across(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield what is as wide as the shell inside: in as many solids as it meets zones."""
    low, high = piece.bottom, piece.bottom + piece.height
    width = next((part.width_mm for part in plan.parts if part.name == piece.words), None)
    for stretch in model.over(piece.left, piece.left + piece.width):
        half = stretch.width / 2 if width is None else min(float(width), stretch.width) / 2
        outline = within(stretch.outline, low, high, -half, half)
        left, right = max(piece.left, stretch.start), min(piece.left + piece.width, stretch.end)
        if outline and left < right:
            yield Solid(piece.kind, piece.words, left, right, outline)


def _posts(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield a pair of posts: at the shell's sides at their foot, or over the ends of the speaker's flange."""
    low, high = piece.bottom, piece.bottom + piece.height
    over = model.over(piece.left, piece.left + piece.width)
    half = min((least_half(each.outline, low, low) or each.width / 2 for each in over), default=0.0)
    if piece.words == "speaker support":
        half = _flange_half(plan, model, piece)
    thick = min(float(plan.limits.post_mm), half)
    for left in (-half, half - thick):
        # Their heads follow the roof.
        outlines = [within(each.outline, low, high, left, left + thick) for each in over]
        outline = min(outlines, key=lambda each: max((up for _, up in each), default=low), default=())
        if outline:
            yield Solid("post", piece.words, piece.left, piece.left + piece.width, outline)


def _flange_half(plan: Plan, model: Model, piece: Piece) -> float:
    speaker = plan.bench.speaker
    if speaker is not None:
        return float(speaker.width_mm) / 2
    inside = min((each.width for each in model.over(piece.left, piece.left + piece.width)), default=0.0)
    note = "The speaker's width was not read, so the width drawn is nominal."
    if note not in model.notes:
        model.notes.append(note)
    return NOMINAL_FLANGE * inside / 2


def _speaker(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield flange or basket, the basket drawn in from the flange on all sides alike."""
    half = _flange_half(plan, model, piece)
    if piece.kind == "speaker":
        half *= 1 - 2 * BASKET
    outline = rectangle(-half, piece.bottom, half, piece.bottom + piece.height)
    yield Solid(piece.kind, piece.words, piece.left, piece.left + piece.width, outline)


def _rooms(plan: Plan, model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield the decoder's room, in the middle; room for a lamp is as wide as the shell."""
    box = plan.bench.decoder
    if box is None or piece.words != box.name:
        yield from _across(plan, model, piece)
        return
    half = float(box.width_mm + 2 * getattr(box, "air_mm", 0)) / 2
    outline = rectangle(-half, piece.bottom, half, piece.bottom + piece.height)
    yield Solid("room", piece.words, piece.left, piece.left + piece.width, outline)


def _moving(plan: Plan, _model: Model, piece: Piece) -> Iterator[Solid]:
    """Yield what moves, as far as it stands up from the chassis."""
    swept = next(each.swept for each in plan.bench.moving if each.entry.name == piece.words)
    half, centre = float(swept.half_width_mm), float(getattr(swept, "centre_mm", 0))
    outline = rectangle(centre - half, piece.bottom, centre + half, piece.bottom + piece.height)
    yield Solid("moving", piece.words, piece.left, piece.left + piece.width, outline)


_MAKE = {"post": _posts, "speaker": _speaker, "flange": _speaker, "room": _rooms, "moving": _moving}


def _fillers(plan: Plan, model: Model) -> Iterator[Solid]:
    """Yield the strips or plates that close the gaps beside the speaker, level with its flange."""
    flange = next((piece for piece in model.scene.pieces if piece.kind == "flange"), None)
    speaker = plan.bench.speaker
    if flange is None or speaker is None:
        return
    inner = float(speaker.width_mm) / 2
    for part in plan.parts:
        if part.kind != "filler" or part.position_mm is None:
            continue
        gap, thick = filler_gap(part), float(part.thickness_mm or part.section_mm or 0)
        left, right = float(part.position_mm), float(part.position_mm + part.cut.cut_mm)
        for way in (-1, 1):
            near, far = sorted((way * inner, way * (inner + gap)))
            outline = rectangle(near, flange.bottom, far, flange.bottom + thick)
            yield Solid("filler", part.name, left, right, outline)


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
