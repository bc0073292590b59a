"""The pieces that a side elevation shows between roof and chassis: what is there, what is made, what is kept free."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from modelmath.drawings.figures.side import Piece, Scene, ZoneBox
from modelmath.drawings.sizes import in_mm

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber, Part, Speaker
    from modelmath.job import Plan

BASKET = 0.14  # how far the speaker's back stands in from its flange where its size was not given, for the picture only
TERMINALS = 0.4  # width of the terminals over that of the speaker's back, for the picture only
SHOWN_AS = {
    "wall": "wall", "post": "post", "support": "post", "plate": "plate", "box": "box", "rest": "rest",
    "barrier": "barrier",
}  # fmt: skip
WHOLE = ("wall", "plate", "barrier")  # openings don't show from the side


def pieces_of(plan: Plan, scene: Scene) -> Iterator[Piece]:
    """Yield the pieces, what lies behind before what lies on top; notes go to the scene.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    scene : Scene
        Its zones; gets notes on what can't be drawn. [mm]

    Yields
    ------
    Piece
        In mm of the model. [mm]

    References
    ----------
    The plan's own sizes.
    """
    yield from _in_the_way(plan, scene)
    chamber = plan.chamber
    if chamber is None:
        yield from _unplaced(plan, scene)
        return
    made = [piece for part in plan.parts for piece in _made(part)]
    yield from (piece for piece in made if piece.kind not in ("plate", "rest"))
    yield from _speaker(plan, scene, chamber)
    yield from (piece for piece in made if piece.kind in ("plate", "rest"))
    yield from _decoder(plan, scene, chamber)
    yield from _lamp_rooms(plan, scene)
    if plan.limits.wire_path_mm:
        scene.asides.append(
            f"Along the right side, looking to the rear, {in_mm(plan.limits.wire_path_mm)} stay free for wires, beside "
            "a wall of their own; neither is drawn here."
        )


def _in_the_way(plan: Plan, scene: Scene) -> Iterator[Piece]:
    """Yield what moves or stands there, as the box that holds it, as far as it stands up from the chassis."""
    for moving in plan.bench.moving:
        box = moving.swept
        left, right, top = (float(each) for each in (box.start_mm, box.end_mm, box.top_mm))
        left, right = max(left, scene.left), min(right, scene.right)
        if left >= right:
            continue
        if moving.entry.top is None:  # it reaches up to the roof, and keeps no clearance from it
            top = scene.highest
        top = min(top, scene.roof_over(left, right))
        bottom = min(zone.top for zone in scene.over(left, right))
        if bottom < top:
            kind = "moving" if moving.obstacle.moves else "standing"
            yield Piece(kind, moving.entry.name, left, bottom, right - left, top - bottom)


def hung(part: Part) -> float:
    """Return by how much a part hangs higher than its place on the sheet has it.

    Parameters
    ----------
    part : Part
        A part. [mm]

    Returns
    -------
    float
        What a mark takes from the length of a speaker support, which is glued under the roof; 0 of any other. [mm]

    References
    ----------
    Arithmetic.
    """
    return float(part.cut.exact_mm - part.cut.cut_mm) if part.kind == "support" else 0.0


def _made(part: Part) -> Iterator[Piece]:
    """Yield a part as it is seen from the side: each place once."""
    kind = SHOWN_AS.get(part.kind)
    if kind is None or not part.blocks:
        return
    words = "speaker support" if part.kind == "support" else part.name
    lift = hung(part)
    boxes = [
        (float(b.start_mm), float(b.bottom_mm) + lift, float(b.end_mm), float(b.top_mm) + lift) for b in part.blocks
    ]
    if part.kind in WHOLE:
        lefts, bottoms, rights, tops = zip(*boxes, strict=True)
        boxes = [(min(lefts), min(bottoms), max(rights), max(tops))]
    for left, bottom, right, top in dict.fromkeys(boxes):
        yield Piece(kind, words, left, bottom, right - left, top - bottom)


def flange_level(plan: Plan, chamber: Chamber) -> float:
    """Return the lower face of the flange of a speaker that faces down: level with the floor, or as its supports are.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    chamber : Chamber
        Its chamber. [mm]

    Returns
    -------
    float
        Height above the seat. [mm]

    References
    ----------
    Arithmetic.
    """
    lifts = [hung(part) for part in plan.parts if part.kind == "support"]
    return float(chamber.floor_mm) + min(lifts, default=0.0)


def back_of(speaker: Speaker) -> tuple[float, float]:
    """Return length and width of what stands behind a flange; drawn in from the flange where they were not given.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]

    Returns
    -------
    tuple of two float
        Length and width. [mm]

    References
    ----------
    None needed.
    """
    length, width = (
        float(whole) * (1 - 2 * BASKET) if given is None else float(given)
        for whole, given in (
            (speaker.length_mm, speaker.basket_length_mm),
            (speaker.width_mm, speaker.basket_width_mm),
        )
    )
    return length, width


def _speaker(plan: Plan, scene: Scene, chamber: Chamber) -> Iterator[Piece]:
    """Yield basket, terminals and flange; a speaker that faces an end stands upright on the floor plate."""
    speaker = plan.bench.speaker
    if speaker is None or chamber.seat_mm is None:
        return
    left, right = (float(each) for each in chamber.seat_mm)
    upright = speaker.faces in ("front", "rear")
    length, back = float(speaker.length_mm), back_of(speaker)[0]
    if upright:
        low = float(chamber.floor_mm) + float(plan.limits.wall_mm)
        face, way, middle = (left, 1, low + length / 2) if speaker.faces == "front" else (right, -1, low + length / 2)
    elif speaker.faces == "up":
        face, way, middle = scene.roof_over(left, right), -1, (left + right) / 2
    else:
        face, way, middle = flange_level(plan, chamber), 1, (left + right) / 2
    thick, deep = float(speaker.flange_mm), float(speaker.depth_mm)
    reaches = [("flange", "flange", length, 0.0, thick), ("speaker", speaker.name, back, thick, deep)]
    if speaker.terminals_mm:
        reaches.append(("terminals", "terminals", TERMINALS * back, deep, float(speaker.behind_mm)))
    for kind, words, size, near, far in reaches:
        if far > near:
            low, high = sorted((face + way * near, face + way * far))
            sides = (middle - size / 2, size)
            box = (low, sides[0], high - low, sides[1]) if upright else (sides[0], low, sides[1], high - low)
            yield Piece(kind, words, *box)
    yield from _opening(plan, scene, chamber, speaker)


def _opening(plan: Plan, scene: Scene, chamber: Chamber, speaker: Speaker) -> Iterator[Piece]:
    """Yield the opening in the wall that a speaker sounds through; one in the roof goes to the scene."""
    from modelmath.enclosure.assemble import roof_opening_of  # late: an elevation is there before arrays are

    if speaker.faces == "up" and plan.enclosure is not None:
        opening = roof_opening_of(plan.enclosure, chamber, plan.marks)
        if opening is not None:
            start, long = float(opening.from_edge_mm), float(opening.long_mm)
            scene.roof_opening = (start, start + long)
            scene.notes.append(
                f"The {speaker.name} sounds out through an opening in the roof, {in_mm(opening.long_mm)} long and "
                f"{in_mm(opening.wide_mm)} wide."
            )
    for part in plan.parts:
        for opening in part.openings if part.kind == "wall" and part.blocks else ():
            if opening.from_edge_mm:
                low = min(float(block.bottom_mm) for block in part.blocks) + float(opening.from_edge_mm)
                left, right = float(part.blocks[0].start_mm), float(part.blocks[0].end_mm)
                yield Piece("opening", f"opening for {opening.words}", left, low, right - left, float(opening.long_mm))


def _decoder(plan: Plan, scene: Scene, chamber: Chamber) -> Iterator[Piece]:
    from modelmath.enclosure.fitting.pockets import INSIDE

    box, pocket = plan.bench.decoder, chamber.pocket
    if box is None or pocket is None:
        return
    left, right, bottom, top = (
        float(each) for each in (pocket.start_mm, pocket.end_mm, pocket.bottom_mm, pocket.top_mm)
    )
    if pocket.where == INSIDE:
        scene.notes.append(f"The {box.name} lies inside the sealed chamber, where its heat stays.")
    yield Piece("room", box.name, left, bottom, right - left, top - bottom)


def _lamp_rooms(plan: Plan, scene: Scene) -> Iterator[Piece]:
    for end, width in (("front", float(plan.limits.front_room_mm)), ("rear", float(plan.limits.rear_room_mm))):
        if width:
            zone = scene.zones[0] if end == "front" else scene.zones[-1]
            left = scene.left if end == "front" else scene.right - width
            bottom = zone.top + float(plan.limits.clearance_mm)
            yield Piece("room", "room for a lamp", left, bottom, width, max(0.0, zone.roof - bottom))


def _hanging(kind: str, words: str, left: float, width: float, roof: float, height: Any) -> Piece:
    return Piece(kind, words, left, roof - float(height), width, float(height))


def _unplaced(plan: Plan, scene: Scene) -> Iterator[Piece]:
    """Yield bulkhead, post and supports over the zone that governs, at no particular place."""
    wall = plan.bulkhead
    if wall is None:
        return
    zone = governing(plan, scene)
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


def governing(plan: Plan, scene: Scene) -> ZoneBox:
    """Return the zone that governs.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    scene : Scene
        Its zones. [mm]

    Returns
    -------
    ZoneBox
        The zone. [mm]

    References
    ----------
    None needed.
    """
    place = next(n for n, depth in enumerate(plan.depths) if depth is plan.governing_zone)
    return scene.zones[place]
