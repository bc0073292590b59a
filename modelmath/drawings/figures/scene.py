"""What a side elevation shows, gathered from a plan: zones, pieces, clearance band, dimensions."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.drawings.figures.pieces import governing, pieces_of
from modelmath.drawings.figures.side import Piece, Scene, Span, ZoneBox
from modelmath.errors import ModelMathError

if TYPE_CHECKING:
    from modelmath.job import Plan

__all__ = ["Piece", "Scene", "Span", "ZoneBox", "scene_of"]

NOMINAL_LENGTH = 2.2  # length over height where no length was read


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
    for add in (_misfit, _band, _pieces, _spans, _strands):
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
    if plan.limits.cut_round:  # what a floor is cut round takes no room from what stands beside it
        from modelmath.enclosure.fitting.boxed import narrow_ones

        narrow = narrow_ones(cavity, plan.limits.wall_mm)
        cavity = replace(cavity, obstacles=tuple(each for each in cavity.obstacles if each not in narrow))
    bays = cavity.bays(plan.limits.clearance_mm, plan.limits.end_clearance_mm)
    scene.band = [
        ZoneBox(
            bay.zone.name,
            *(float(each) for each in (bay.start_mm, bay.end_mm, bay.zone.top_mm, min(bay.floor_mm, bay.zone.roof_mm))),
        )
        for bay in bays
    ]


def _pieces(plan: Plan, scene: Scene) -> None:
    for piece in pieces_of(plan, scene):
        scene.pieces.append(piece)


def _strands(plan: Plan, scene: Scene) -> None:
    """Add the way of each strand that is entered, where heights and lengths are true."""
    if not (scene.seat_known and scene.to_length and plan.bench.lights.strands):
        return
    if plan.job.hole_layout.way != "row":
        scene.asides.append("Strands are drawn where the holes lie in a row; where they are spread takes a search.")
        return
    for line in plan.light.strands:
        if line.route is not None:
            scene.strands.append((line.name, tuple((along, up) for along, _, up in line.route.path())))


def _spans(plan: Plan, scene: Scene) -> None:
    """Dimension the bulkhead, and the space it hangs in: from the roof above it to the chassis top that governs."""
    zone = governing(plan, scene)
    middle = (zone.left + zone.right) / 2
    below, left_over = zone.top, float(plan.gap.left_mm)
    if plan.governing.moving and plan.governing.top is not None:
        below = float(plan.governing.top.exact_mm)
        middle = next(
            (each.left + each.width / 2 for each in scene.pieces if each.words == plan.governing.moving), middle
        )
    scene.spans.append(Span("free depth", middle, below, below + float(plan.space.exact_mm)))
    scene.spans.append(Span("room left", middle, below, below + left_over))
    wall = next((piece for piece in scene.pieces if piece.words == "bulkhead"), None)
    if wall is not None:
        scene.spans.append(Span("bulkhead", wall.left, wall.bottom, wall.bottom + wall.height))
