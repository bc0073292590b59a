"""The solids of a chamber whose floor has steps, which a plan offers beside its own.

Its walls, risers, posts and floor plates are one piece, its air another. Its holes have no places yet, and the strips
beside its speaker none either, so neither is in it; the supports of its speaker stand by themselves, as the plan's do
without a frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from modelmath.drawings.solids.bodies import Share, Solid, prisms_of, shares_of
from modelmath.drawings.solids.prisms import Prism, inside
from modelmath.enclosure import Zone
from modelmath.enclosure.making.blocks import Block, less

if TYPE_CHECKING:
    from modelmath.enclosure.stepped import SteppedChamber
    from modelmath.job import Plan

WITHOUT = "The holes of its walls and the strips beside its speaker are not in it: they have no places yet."


def stepped_solids(plan: Plan, chamber: SteppedChamber) -> tuple[Solid, ...]:
    """Return the solids of a stepped chamber as it is cut.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    chamber : SteppedChamber
        One of those that `Plan.stepped` offers. [mm]

    Returns
    -------
    tuple of Solid
        Chamber, seat and air; the air has the volume of the chamber as it is cut. [mm]

    Raises
    ------
    DoesNotFit
        If a wall, or a support of the speaker, is left no height.

    References
    ----------
    `stepped_pieces`.
    """
    from modelmath.job.space.stepped_floor import stepped_pieces

    assert plan.enclosure is not None  # a stepped chamber is offered beside one
    zones = plan.enclosure.cavity.zones
    made, _ = stepped_pieces(plan, chamber)
    posts = [part for part in made.parts if part.kind == "support" and part.blocks]
    found = (
        Solid("chamber", shares_of(made.parts, zones), (WITHOUT,)),
        Solid("seat", tuple(Share(part.name, tuple(prisms_of(part, part.blocks, zones))) for part in posts)),
        Solid("air", (Share("air of the chamber", tuple(_air(made.chamber, zones))),)),
    )
    return tuple(each for each in found if any(share.prisms for share in each.shares))


def _air(chamber: SteppedChamber, zones: Sequence[Zone]) -> Iterator[Prism]:
    half, roof = max(zone.width_mm for zone in zones), max(zone.roof_mm for zone in zones)
    risers = [Block(each.start_mm, each.end_mm, -half, half, each.low_mm, each.high_mm) for each in chamber.risers]
    whole = [
        Block(
            max(floor.start_mm, chamber.inner_start_mm), min(floor.end_mm, chamber.inner_end_mm),
            -half, half, floor.floor_mm, roof,
        )
        for floor in chamber.floors
    ]  # fmt: skip
    yield from inside(less(whole, risers), zones)
