"""Holes for strands, wires and bundles in a bulkhead or plate: placed, moved by hand, checked."""

from modelmath.enclosure.holes.layout import Layout, check_holes, lay_out_holes, move_hole
from modelmath.enclosure.holes.plate import Hole, KeepOut, PlacedHole, Plate, numbered_holes
from modelmath.enclosure.holes.webs import Wanted, Web

__all__ = [
    "Hole",
    "KeepOut",
    "Layout",
    "PlacedHole",
    "Plate",
    "Wanted",
    "Web",
    "check_holes",
    "lay_out_holes",
    "move_hole",
    "numbered_holes",
]
