"""Places along the length: each half is read from its own front end, one fore-aft mark on both joins them."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, OutOfRange, WrongKind
from modelmath.lengths.rules.readings import Measured

if TYPE_CHECKING:
    from modelmath.job.bench.bench import Bench

FRONT_END = "front end of the shell's inside"


@dataclass(frozen=True)
class Ends:
    """Places along the length, from the fore-aft mark, positive to the rear.

    Attributes
    ----------
    mark : str
        The mark's name, or the shell's front end when there is none. [-]
    edges : tuple of Measured
        Front end of the shell's inside, then the end of each zone. [mm]
    origin : dict of str to Measured
        Place of the mark from the front end of either half it was read on. [mm]
    """

    mark: str
    edges: tuple[Measured, ...]
    origin: dict[str, Measured] = field(default_factory=dict)


def ends_of(bench: Bench) -> Ends:
    """Return where the shell and its zones begin and end.

    Parameters
    ----------
    bench : Bench
        The bench; its job has a table of lengths. [-]

    Returns
    -------
    Ends
        Places from the fore-aft mark. [mm]

    Raises
    ------
    JobError
        If a reading is missing or on the wrong half, or the zones are not in order.

    References
    ----------
    Arithmetic.
    """
    entry = bench.job.length
    assert entry is not None
    front = Measured(Fraction(0), 0.0, FRONT_END)
    inside = _read(bench, entry.shell_inside, "shell", "length", "shell_inside")
    origin = {"shell": front}
    if entry.mark is not None:
        origin["shell"] = _mark(bench, entry.mark_on_shell, "shell")
        origin["chassis"] = _mark(bench, entry.mark_on_chassis, "chassis")
    start, rear = front - origin["shell"], inside - origin["shell"]
    edges = [start, *(_zone_end(bench, place, origin, rear) for place in range(len(bench.job.zones)))]
    for place, (before, after) in enumerate(pairwise(edges)):
        length_mm = float(after.exact_mm - before.exact_mm)
        if length_mm <= 0:
            given = f"{length_mm:.2f} mm long"
            remedy = "List the zones from front to rear, and check where this one and the one before it end."
            raise bench.located(("zones", place, "end"), OutOfRange("the zone", given, "longer than 0", remedy))
    if edges[-1].exact_mm != rear.exact_mm:
        given = f"{float(edges[-1].exact_mm - rear.exact_mm):+.2f} mm from the end of the shell's inside"
        remedy = "Leave it out: the last zone ends where the shell does."
        fault = OutOfRange("the last zone's end", given, "where the shell ends", remedy)
        raise bench.located(("zones", len(edges) - 2, "end"), fault)
    return Ends(entry.mark or FRONT_END, tuple(edges), origin)


def _read(bench: Bench, name: str, half: str, *path: str | int) -> Measured:
    try:
        reading = bench.reading(name)
        taken = bench.entry(name).on
        if taken not in (None, half):
            remedy = f'Write on = "{half}" in it, or name the reading that was.'
            raise WrongKind("the reading", f"{name!r}, taken on the {taken}", f"one taken on the {half}", remedy)
    except ModelMathError as fault:
        raise bench.located(path, fault) from None
    return reading.measured


def _mark(bench: Bench, name: str | None, half: str) -> Measured:
    if name is None:
        fault = WrongKind(
            "the fore-aft mark",
            f"not measured on the {half}",
            "a reading on both halves",
            f"Add mark_on_{half} with the name of that reading.",
        )
        raise bench.located(("length", f"mark_on_{half}"), fault)
    return _read(bench, name, half, "length", f"mark_on_{half}")


def _zone_end(bench: Bench, place: int, origin: dict[str, Measured], rear: Measured) -> Measured:
    zone = bench.job.zones[place]
    path = ("zones", place, "end")
    if zone.end is None:
        if place == len(bench.job.zones) - 1:
            return rear
        remedy = "Add the reading of where it ends, or merge the zones."
        fault = WrongKind("the zone's end", "missing", "a reading along the length", remedy)
        raise bench.located(path, fault)
    half = bench.entry(zone.end).on
    if half is None:
        expected, remedy = "one taken on shell or chassis", 'Write on = "shell" or on = "chassis" in it.'
        raise bench.located(path, WrongKind("the reading", repr(zone.end), expected, remedy))
    if half not in origin:
        fault = WrongKind(
            "the zone's end",
            "read on the chassis",
            "a fore-aft mark that joins both halves",
            "Write mark, mark_on_shell and mark_on_chassis under [length].",
        )
        raise bench.located(path, fault)
    return _read(bench, zone.end, half, *path) - origin[half]
