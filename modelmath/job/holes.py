"""Drills for what passes the bulkhead: strands and wires, each with its clearance."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.job.bench.bench import Bench
from modelmath.materials import DrillPick, pick_drill


@dataclass(frozen=True)
class HoleLine:
    """Holes of one kind.

    Attributes
    ----------
    name : str
        What passes. [-]
    kind : str
        ``strand`` or ``wire``. [-]
    count : int
        How many holes. [-]
    diameter_mm : Fraction
        What passes each. [mm]
    picks : tuple of DrillPick
        Drills, the closest first. [mm]
    circuit : str
        What it belongs to: holes of different circuits can be kept further apart. [-]
    """

    name: str
    kind: str
    count: int
    diameter_mm: Fraction
    picks: tuple[DrillPick, ...]
    circuit: str = ""

    @property
    def drill(self) -> DrillPick:
        """The drill to take. [mm]"""
        return self.picks[0]


def holes_of(bench: Bench) -> tuple[HoleLine, ...]:
    """Choose a drill for each strand and wire.

    Parameters
    ----------
    bench : Bench
        The bench. [-]

    Returns
    -------
    tuple of HoleLine
        Strands first, then wires. [mm]

    Raises
    ------
    DoesNotFit
        If no drill is large enough.

    References
    ----------
    `pick_drill`.
    """
    room = bench.length(bench.job.build.hole_clearance, "build", "hole_clearance")
    found = [
        (
            lamp.name,
            "strand",
            lamp.strands,
            bench.length(lamp.strand, "lamps", place, "strand", zero=False),
            lamp.circuit or lamp.name,
        )
        for place, lamp in enumerate(bench.job.lamps)
        if lamp.strand is not None
    ]
    found += [
        (
            wire.name,
            "wire",
            wire.count,
            bench.length(wire.diameter, "wires", place, "diameter", zero=False),
            wire.circuit or wire.name,
        )
        for place, wire in enumerate(bench.job.wires)
    ]
    sets = ("number", "fraction")
    return tuple(
        HoleLine(name, kind, n, size, tuple(pick_drill(size, room, sets=sets)), circuit)
        for name, kind, n, size, circuit in found
    )
