"""A job with more than one page of the bench card holds: fifteen lines of parts, eight holes. All numbers invented."""

from __future__ import annotations

from typing import Any

from spacious import CLIP, POST, spacious

from modelmath.job import Plan

LAMPS = [
    {"name": "headlight", "end": "front", "room": "4 mm", "strand": "0.75 mm", "strands": 3, "circuit": "white"},
    {"name": "tail lamp", "end": "rear", "room": "4 mm", "strand": "0.5 mm", "strands": 2, "circuit": "red"},
]
WIRES = [{"name": "speaker wires", "diameter": "0.6 mm", "count": 3}]


def crowded(**fields: Any) -> Plan:
    """Boxes round a motor clip and a screw post, lamps at both ends on circuits of their own, three wires."""
    chamber = {"cut_round": True, "light_barrier": True, "strand_supports": "20 mm"}
    return spacious(**{"obstacles": [CLIP, POST], "chamber": chamber, "lamps": LAMPS, "wires": WIRES, **fields})
