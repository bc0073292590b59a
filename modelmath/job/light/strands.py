"""Each strand of a plan: its way from lamp to lens, what it loses, how long to cut it, and the lens formed on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError, NotYetKnown
from modelmath.job.light.passing import Passage, hole_name, passages_of, with_passage
from modelmath.lengths.text import format_length
from modelmath.light.lens.casting import diameter_for_bore, diameter_from_prototype
from modelmath.light.lens.melt import Melt, lens_melt_length
from modelmath.light.lens.shape import whole_length
from modelmath.light.strands.bends import (
    LEAVES_OUT,
    bend_in_words,
    bend_loss_db,
    needs_forming,
    textbook_least_radius_mm,
)
from modelmath.light.strands.fibre import ACRYLIC, meeting
from modelmath.light.strands.lamp_to_lens import LensLight, Matching, compare, coupled
from modelmath.light.strands.length import StrandLength, strand_length
from modelmath.light.strands.losses import face_loss_db, length_loss_db
from modelmath.light.strands.route import Point, Route

if TYPE_CHECKING:
    from modelmath.job.bench.lights import Circuit, Spot, Strand
    from modelmath.job.plan import Plan
    from modelmath.quantities.band import Band

ROUNDING_MM = 1e-6
MOST_TIMES = 3.0  # the strand's diameter, that a melted lens is wide; common practice, no source
AT_THE_LAMP, AT_THE_LENS = "cut", "polished"  # a lens end comes smooth out of the heat


@dataclass(frozen=True)
class StrandLine:
    """One strand.

    Attributes
    ----------
    name, lamp : str
        The strand, and the lamp that it leads from. [-]
    diameter_mm : Fraction
        Its diameter. [mm]
    hole, drill : str
        The hole it passes and the drill for it; empty where it passes none. [-]
    wall : str
        The wall that hole is in. [-]
    route : Route or None
        Its way; None while something for it is not entered. [mm]
    lens_mm : float or None
        Diameter of its lens; None where none is formed. [mm]
    lens_from : str
        What that follows from. [-]
    melt : Melt or None
        What is melted for the lens. [mm]
    length : StrandLength or None
        What it is cut to. [mm]
    light : LensLight or None
        What share of its lamp's light gets to its lens. [-]
    notes : tuple of str
        Bends, stock that meets, and where it passes no wall. [-]
    problem : ModelMathError or None
        Why its way or its lens can't be worked out. [-]
    """

    name: str
    lamp: str
    diameter_mm: Fraction
    hole: str = ""
    drill: str = ""
    wall: str = ""
    route: Route | None = None
    lens_mm: float | None = None
    lens_from: str = ""
    melt: Melt | None = None
    length: StrandLength | None = None
    light: LensLight | None = None
    notes: tuple[str, ...] = ()
    problem: ModelMathError | None = None

    @property
    def to_form(self) -> int:
        """How many of its bends have to be formed with heat. [-]"""
        bends = () if self.route is None else self.route.bends
        return sum(needs_forming(self.diameter_mm, each.radius_mm) for each in bends)


@dataclass
class _Ways:
    """What all strands share while they are worked out."""

    plan: Plan
    passages: dict[str, Passage]
    circuits: dict[str, Circuit]
    at: dict[str, int] = field(default_factory=Counter)  # how many of a lamp's strands were met


def strand_lines(plan: Plan) -> tuple[StrandLine, ...]:
    """Work out every strand.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of StrandLine
        In the job's order. [-]

    References
    ----------
    `Route`, `strand_length`, `lens_melt_length`, `coupled`.
    """
    lights = plan.bench.lights
    if not lights.strands:
        return ()
    circuits = {each.entry.lamp: each for each in lights.circuits}
    try:
        passages = passages_of(plan)
    except ModelMathError:  # the holes' own view shows the message
        passages = {}
    ways = _Ways(plan, passages, circuits)
    return tuple(_line(each, ways) for each in lights.strands)


def matched(lines: Sequence[StrandLine]) -> tuple[tuple[str, Matching], ...]:
    """Compare the light of the lenses of each lamp that has several.

    Parameters
    ----------
    lines : sequence of StrandLine
        The strands. [-]

    Returns
    -------
    tuple of (str, Matching)
        Lamp by lamp. [-]

    References
    ----------
    `compare`.
    """
    by_lamp: dict[str, list[LensLight]] = {}
    for each in lines:
        if each.light is not None:
            by_lamp.setdefault(each.lamp, []).append(each.light)
    return tuple((lamp, compare(lights)) for lamp, lights in by_lamp.items() if len(lights) > 1)


def _line(strand: Strand, ways: _Ways) -> StrandLine:
    entry, count = strand.entry, _count(strand, ways.plan)
    ways.at[entry.lamp] += 1
    hole = hole_name(entry.lamp, ways.at[entry.lamp], count)
    passage = ways.passages.get(hole)
    line = StrandLine(entry.name, entry.lamp, strand.diameter_mm, notes=_stock(strand))
    line = _with_lens(line, strand, ways.plan)
    circuit = ways.circuits.get(entry.lamp)
    if circuit is None or circuit.at is None:
        missing = f"where the lamp {entry.lamp} stands"
        return replace(line, problem=line.problem or NotYetKnown(f"The way of {entry.name}", missing))
    try:
        return _led(line, strand, circuit, passage, count, ways)
    except ModelMathError as reason:
        return replace(line, problem=line.problem or reason)


def _count(strand: Strand, plan: Plan) -> int:
    return next(each.strands for each in plan.job.lamps if each.name == strand.entry.lamp)


def _stock(strand: Strand) -> tuple[str, ...]:
    """Return which stock meets the strand's diameter, where more than one does."""
    names = meeting(strand.diameter_mm)
    return (f"Strand of {' and of '.join(names)} is one size here.",) if len(names) > 1 else ()


def _with_lens(line: StrandLine, strand: Strand, plan: Plan) -> StrandLine:
    """Return a strand with the lens that is asked for, or why it can't be formed."""
    try:
        found = lens_diameter(strand, plan)
        if found is None:
            return line
        diameter, words = found
        of = float(strand.diameter_mm)
        length = None if strand.length_mm is None else whole_length(float(strand.length_mm), diameter, of)
        melt = lens_melt_length(of, diameter, length, trial=strand.entry.trial)
    except ModelMathError as reason:
        return replace(line, problem=reason)
    if diameter > MOST_TIMES * float(strand.diameter_mm):
        note = (
            f"A lens of {diameter:.2f} mm is more than {MOST_TIMES:g} times as wide as its strand: so much melted "
            "acrylic sags. A thicker strand, or a cast lens glued on, comes out better (common practice, no source)."
        )
        line = replace(line, notes=(*line.notes, note))
    return replace(line, lens_mm=diameter, lens_from=words, melt=melt)


def lens_diameter(strand: Strand, plan: Plan) -> tuple[float, str] | None:
    """Return the diameter of a strand's lens and what it follows from.

    Parameters
    ----------
    strand : Strand
        The strand. [mm]
    plan : Plan
        For its scale. [-]

    Returns
    -------
    tuple of float and str, or None
        None where no lens is asked for. [mm]

    Raises
    ------
    ModelMathError
        If the bore leaves nothing for it.

    References
    ----------
    `diameter_for_bore`, `diameter_from_prototype`.
    """
    if strand.bore_mm is not None:
        bore, play = format_length(strand.bore_mm, "mm"), format_length(strand.play_mm, "mm")
        return float(diameter_for_bore(strand.bore_mm, strand.play_mm)), f"the bore of {bore} less {play}"
    if strand.prototype is not None:
        words = f"the prototype's lens of {strand.entry.prototype} in {plan.scale.name}"
        return float(diameter_from_prototype(strand.prototype, plan.scale)), words
    if strand.lens_mm is not None:
        return float(strand.lens_mm), "as entered"
    return None


def _led(
    line: StrandLine, strand: Strand, circuit: Circuit, passage: Passage | None, count: int, ways: _Ways
) -> StrandLine:
    assert circuit.at is not None
    spots, crosses = with_passage([circuit.at, *strand.via, strand.to], passage)
    route = _laid(spots, strand)
    if crosses and passage is not None:
        drill = next((each.drill.name for each in ways.plan.holes if each.name == line.lamp), "")
        line = replace(line, hole=passage.hole, wall=passage.wall, drill=drill)
    notes = [*line.notes, *_too_tight(route, strand), *_bends(line, route, strand)]
    if passage is not None and not crosses:
        notes.append(
            f"From {line.lamp} to its lens it passes no wall, so that the hole {passage.hole} in the {passage.wall} is "
            "not needed for it."
        )
    melted = 0.0 if line.melt is None else max(0.0, line.melt.shortens_by_mm)
    length = strand_length(route.length_mm, slack_mm=strand.slack_mm, trimmed_mm=strand.trim_mm, lens_mm=melted)
    return replace(
        line, route=route, length=length, light=_light(line, strand, route, circuit, count), notes=tuple(notes)
    )


def _laid(spots: Sequence[Spot], strand: Strand) -> Route:
    """Return the way of a strand: formed with heat to its radius; laid cold as wide as textbooks ask, if it can."""
    wanted = float(strand.radius_mm)
    if not strand.entry.formed:
        wanted = max(wanted, textbook_least_radius_mm(strand.diameter_mm))
    return Route(tuple(_point(each) for each in spots), wanted, strand.diameter_mm)


def _too_tight(route: Route, strand: Strand) -> list[str]:
    """Return where there is less room than for the radius entered."""
    asked = float(strand.radius_mm)
    return [
        f"Bend {number} has room for a radius of {bend.radius_mm:.1f} mm only, not for the {asked:g} mm entered."
        for number, bend in enumerate(route.bends, start=1)
        if bend.radius_mm < asked - ROUNDING_MM
    ]


def _point(spot: Spot) -> Point:
    return Point(spot.along_mm, spot.right_mm, spot.up_mm)


def _bends(line: StrandLine, route: Route, strand: Strand) -> list[str]:
    """Return what to say of the bends: those to be formed with heat, and the least radius of textbooks."""
    found = []
    for number, bend in enumerate(route.bends, start=1):
        if needs_forming(line.diameter_mm, bend.radius_mm):
            made = replace(bend, formed=strand.entry.formed)
            found.append(f"Bend {number}: {bend_in_words(made, line.diameter_mm)}")
    least = textbook_least_radius_mm(line.diameter_mm)
    tight = min((bend.radius_mm for bend in route.bends), default=least)
    if tight < least:
        found.append(LEAVES_OUT)
        found.append(
            f"Textbooks ask for a radius of {least:.0f} mm or more, which few small models have room for: here the "
            f"tightest is {tight:.1f} mm."
        )
    return found


def _light(line: StrandLine, strand: Strand, route: Route, circuit: Circuit, count: int) -> LensLight:
    """Return the share of the lamp's light at the lens."""
    emitter = circuit.emitter_mm if circuit.emitter_mm is not None else strand.diameter_mm
    share = coupled(ACRYLIC, float(emitter), float(strand.diameter_mm), count)
    losses: dict[str, Band] = {
        "end at the lamp": face_loss_db(ACRYLIC, AT_THE_LAMP),
        "length": length_loss_db(route.length_mm, ACRYLIC),
    }
    for number, bend in enumerate(route.bends, start=1):
        losses[f"bend {number}"] = bend_loss_db(bend, strand.diameter_mm, ACRYLIC)
    losses["end at the lens"] = face_loss_db(ACRYLIC, AT_THE_LENS)
    return LensLight(line.name, share, losses)
