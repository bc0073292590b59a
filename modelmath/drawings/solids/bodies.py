"""What of a plan is made a solid: the chamber's walls and floor, a floor that comes off, the speaker's seat, the air.

``chamber``
    Walls, posts, side wall, boxes, fillers and the floor plates that stay in, as one piece where they touch: printed
    in place of glued strip. Roof and sides are the shell's own, so that it is open there. The holes that the plan
    drills in its walls are in it.
``floor``
    The floor plates that come off again, bedded in sealant, with the boxes glued into them; none where all are glued.
``seat``
    What carries the speaker, see `modelmath.drawings.solids.seat`.
``air``
    The chamber's space itself, from wall to wall and from the floor's lower face to the roof, less what is boxed in:
    its volume is the plan's gross volume. For comparing that in another program, or printed as a dummy that is tried
    under the shell and over the chassis before anything is cut. Floor plates, posts and speaker lie within it, and
    what they take is not off: a speaker's own shape is not known, so the net volume is no solid. It is no part.

The volume of each is the sum of its parts, in exact fractions, before any triangle is made; of round holes pi times
radius squared times thickness. What two parts both take counts once, for the first in the list of parts.

A side wall that leans or bends with the section is made as thick across the shell as the plan counts; square to a slope
that is thinner. The strip that it stands for is bent, and so takes a little more (`Solid.notes` says how much).
Lamps' barriers and the rests of strands stand by themselves, and are left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.drawings.solids.mesh import Bore, Mesh, mesh_of
from modelmath.drawings.solids.prisms import Prism, inside, outline_of, prism_of, volume_of, within_outline
from modelmath.drawings.solids.surface import apart as disjoint
from modelmath.enclosure import Chamber, Limits, Part, Zone
from modelmath.enclosure.fitting.joined import air_in, holds
from modelmath.enclosure.making.blocks import Block, apart, less
from modelmath.errors import NotYetKnown
from modelmath.lengths.numbers import as_fraction

if TYPE_CHECKING:
    from modelmath.job import Plan

IN_ONE = ("wall", "post", "side", "box", "filler", "plate")


@dataclass(frozen=True)
class Share:
    """What one part has of a solid.

    Attributes
    ----------
    name : str
        The part's name on the sheets. [-]
    prisms : tuple of Prism
        What it fills and none before it does. [mm]
    bores : tuple of Bore
        The holes in it. [mm]
    """

    name: str
    prisms: tuple[Prism, ...]
    bores: tuple[Bore, ...] = ()

    @property
    def volume_mm3(self) -> float:
        """Its volume, less its holes. [mm3]"""
        return float(volume_of(self.prisms)) - sum(bore.volume_mm3 for bore in self.bores)


@dataclass(frozen=True)
class Solid:
    """A solid of a plan.

    Attributes
    ----------
    name : {"chamber", "floor", "seat", "air"}
        What it is, and the end of its file's name. [-]
    shares : tuple of Share
        What each part has of it. [mm]
    notes : tuple of str
        What is to be known before it is printed. [-]
    """

    name: str
    shares: tuple[Share, ...]
    notes: tuple[str, ...] = ()

    @property
    def volume_mm3(self) -> float:
        """Sum of its parts' volumes, less their holes. [mm3]"""
        return sum(share.volume_mm3 for share in self.shares)

    @cached_property
    def mesh(self) -> Mesh:
        """Its surface. [mm]"""
        prisms = [prism for share in self.shares for prism in share.prisms]
        return mesh_of(self.name, prisms, [bore for share in self.shares for bore in share.bores])


def solids_of(plan: Plan) -> tuple[Solid, ...]:
    """Return the solids of a plan.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Solid
        Chamber, floor, seat and air, as far as the plan has them. [mm]

    Raises
    ------
    DoesNotFit
        If the plan had to leave something out: what is printed of it would not be what was asked for.
    NotYetKnown
        If an entry for the chamber is missing.
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    The plan's own sizes and places.
    """
    from modelmath.drawings.solids.seat import seat_of

    if plan.misfit is not None:
        raise plan.misfit
    chamber, enclosure = plan.chamber, plan.enclosure
    if chamber is None or enclosure is None:
        entries = [each.entry for each in plan.missing if each.gives == "the chamber and its volume"]
        raise NotYetKnown("The chamber as a solid", " and ".join(entries))
    zones = enclosure.cavity.zones
    own = shares_of(plan.parts, zones, plan)
    off = coming_off(plan.parts)
    found = (
        Solid("chamber", tuple(each for each in own if each.name not in off), _notes(plan, zones)),
        Solid("floor", tuple(each for each in own if each.name in off)),
        seat_of(plan, zones),
        Solid("air", (Share("air of the chamber", tuple(_air(chamber, plan.limits, zones))),)),
    )
    return tuple(each for each in found if each is not None and any(share.prisms for share in each.shares))


def coming_off(parts: Sequence[Part]) -> frozenset[str]:
    """Return the names of what comes off again: removable floor plates, and the boxes glued into them.

    Parameters
    ----------
    parts : sequence of Part
        A plan's parts. [mm]

    Returns
    -------
    frozenset of str
        Their names. [-]

    References
    ----------
    None needed.
    """
    plates = [part for part in parts if part.removable and part.kind == "plate"]
    boxes = [part for part in parts if part.kind == "box" and any(_one_over_another(part, plate) for plate in plates)]
    return frozenset(part.name for part in (*plates, *boxes))


def _one_over_another(one: Part, other: Part) -> bool:
    """Whether two parts share some stretch of the length, between their ends."""
    if not one.blocks or not other.blocks:
        return False
    ends = [(min(b.start_mm for b in part.blocks), max(b.end_mm for b in part.blocks)) for part in (one, other)]
    return max(start for start, _ in ends) < min(end for _, end in ends)


def shares_of(parts: Sequence[Part], zones: Sequence[Zone], plan: Plan | None = None) -> tuple[Share, ...]:
    """Return what each part of walls and floor fills.

    Parameters
    ----------
    parts : sequence of Part
        The parts. [mm]
    zones : sequence of Zone
        The shell's zones, the wire path taken off. [mm]
    plan : Plan or None
        The plan whose holes are in the walls; None for walls without holes. [-]

    Returns
    -------
    tuple of Share
        In the order of the list of parts. [mm]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    The plan's own sizes and places.
    """
    taken: tuple[Block, ...] = ()
    found = []
    for part in parts:
        if part.kind not in IN_ONE or not part.blocks:
            continue
        blocks = less(apart(part.blocks), taken)
        taken += blocks
        bores = () if plan is None else tuple(bores_in(plan, part))
        found.append(Share(part.name, tuple(prisms_of(part, blocks, zones)), bores))
    return tuple(found)


def prisms_of(part: Part, blocks: Sequence[Block], zones: Sequence[Zone]) -> Iterator[Prism]:
    """Yield what a part fills once it is trimmed to the shell's section.

    Parameters
    ----------
    part : Part
        The part. [mm]
    blocks : sequence of Block
        What its pieces fill before. [mm]
    zones : sequence of Zone
        The shell's zones, the wire path taken off. [mm]

    Yields
    ------
    Prism
        None overlaps another. [mm]

    References
    ----------
    The plan's own sizes and places.
    """
    if part.kind == "side":
        for block in blocks:
            yield from _beside(block, part, zones)
    elif part.outline:
        bottom = min(as_fraction(block.bottom_mm) for block in part.blocks)
        outline = [(bottom + height, half) for height, half in part.outline]
        for block in blocks:
            yield from within_outline(block, outline)
    else:
        yield from inside(blocks, zones)


def _beside(block: Block, part: Part, zones: Sequence[Zone]) -> Iterator[Prism]:
    """Yield a side wall: upright, or a band as wide across as it is thick that follows the section."""
    zone = _over(as_fraction(block.start_mm), zones)
    if zone.profile is None:
        yield prism_of(block)
    else:
        yield from disjoint(list(_band(prism_of(block), Fraction(part.thickness_mm or 0), zone)))


def _band(whole: Prism, thick: Fraction, zone: Zone) -> Iterator[Prism]:
    bottom = whole.up_mm[0]
    for (low, near), (high, far) in pairwise(outline_of(zone, bottom)):
        if high <= bottom:
            continue
        if high == low:  # a ledge: closed on the side where the air is not, from one band to the other
            up = (low, low + thick) if far < near else (max(low - thick, bottom), low)
            sides = (min(near, far) + thick, max(near, far) + thick)
            yield Prism(whole.along_mm, up, sides, sides)
        else:
            slope, first = (far - near) / (high - low), max(low, bottom)
            at = near + slope * (first - low)
            yield Prism(whole.along_mm, (first, high), (at, at + thick), (far, far + thick))


def _over(place: Fraction, zones: Sequence[Zone]) -> Zone:
    return next((each for each in zones if each.start_mm <= place < each.end_mm), zones[-1])


def bores_in(plan: Plan, part: Part) -> Iterator[Bore]:
    """Yield the holes that a plan drills in a wall.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    part : Part
        Any of its parts. [mm]

    Yields
    ------
    Bore
        None of what is no wall, or whose holes have no place. [mm]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `hole_places`.
    """
    holes = next((each for each in plan.hole_places if part.kind == "wall" and each.wall == part.name), None)
    if holes is None or holes.layout is None:
        return
    faces = [[as_fraction(each) for each in (block.start_mm, block.end_mm)] for block in part.blocks]
    along = (min(start for start, _ in faces), max(end for _, end in faces))
    bottom = min(as_fraction(block.bottom_mm) for block in part.blocks)
    for hole in holes.layout.holes:
        yield Bore(hole.name, along, float(hole.x_mm), float(bottom) + float(hole.y_mm), float(hole.radius_mm))


def _air(chamber: Chamber, limits: Limits, zones: Sequence[Zone]) -> Iterator[Prism]:
    """Yield the chamber's space; where boxes part it, what is joined with the speaker."""
    ends, wall = (chamber.inner_start_mm, chamber.inner_end_mm), limits.wall_mm
    parts = air_in(chamber.bays, ends, chamber.floor_mm, chamber.boxed, wall).parts
    if parts:
        seat = chamber.seat_mm
        own = parts[0] if seat is None else next((part for part in parts if holds(part, seat[0])), parts[0])
        yield from inside([Block(*piece.along, *piece.across, *piece.up) for piece in own], zones)
        return
    half = max(zone.width_mm for zone in zones)
    whole = Block(*ends, -half, half, chamber.floor_mm, max(zone.roof_mm for zone in zones))
    boxes = [
        Block(
            each.start_mm - wall, each.end_mm + wall,
            each.centre_mm - each.half_width_mm - wall, each.centre_mm + each.half_width_mm + wall,
            chamber.floor_mm, each.top_mm + wall,
        )
        for each in chamber.boxed
    ]  # fmt: skip
    yield from inside(less([whole], boxes), zones)


def _notes(plan: Plan, zones: Sequence[Zone]) -> tuple[str, ...]:
    """Return what is to be known of the chamber before it is printed."""
    found = [f"No holes in the {each.wall}: {each.problem}" for each in plan.hole_places if each.layout is None]
    for part in plan.parts:
        if (
            part.kind == "side"
            and part.blocks
            and _over(as_fraction(part.blocks[0].start_mm), zones).profile is not None
        ):
            strip = part.cut.cut_mm * Fraction(part.width_mm or 0) * Fraction(part.thickness_mm or 0)
            made = volume_of(prisms_of(part, part.blocks, zones))
            found.append(
                f"The {part.name} follows the section and is as thick across the shell as its strip: "
                f"{float(made):.0f} mm3, the bent strip {float(strip):.0f} mm3."
            )
    return tuple(found)
