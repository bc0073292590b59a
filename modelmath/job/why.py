"""Why this number: every figure of a plan, with the readings, tables and formulas it follows from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple, dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.errors import ModelMathError, UnknownChoice, nearest
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length
from modelmath.lengths.units import SCALE_UNITS

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.bench.bench import Depth
    from modelmath.job.plan import Plan

MOST_NAMES = 6  # that a message lists
_SETTING = "the size as a mark of the rule, less its offset"


@dataclass(frozen=True)
class Figure:
    """One number of a plan.

    Attributes
    ----------
    name : str
        What it is. [-]
    value : str
        Its value, with unit and uncertainty. [-]
    how : str
        How it follows from the figures below it. [-]
    source : str
        Where the formula, table or entry comes from. [-]
    follows_from : tuple of str
        Names of the figures below it. [-]
    """

    name: str
    value: str
    how: str
    source: str
    follows_from: tuple[str, ...] = ()


@dataclass(frozen=True)
class Why:
    """A figure with the chain behind it.

    Attributes
    ----------
    chain : tuple of (int, Figure)
        How deep each figure stands, and the figure; the asked one first. [-]
    """

    chain: tuple[tuple[int, Figure], ...]

    @property
    def figure(self) -> Figure:
        """The figure asked for."""
        return self.chain[0][1]

    def __str__(self) -> str:
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        """Yield the chain line by line; what was told before is only named the second time."""
        told: set[str] = set()
        skip_below: int | None = None
        for depth, figure in self.chain:
            if skip_below is not None and depth > skip_below:
                continue
            skip_below = depth if figure.name in told else None
            rest = "as above" if figure.name in told else f"{figure.how} [{figure.source}]"
            told.add(figure.name)
            yield f"{'   ' * depth}{figure.name} = {figure.value}: {rest}"


def explain(figures: dict[str, Figure], name: str) -> Why:
    """Return a figure with everything it follows from.

    Parameters
    ----------
    figures : dict of str to Figure
        All figures by name. [-]
    name : str
        The figure asked for. [-]

    Returns
    -------
    Why
        The chain. [-]

    Raises
    ------
    UnknownChoice
        If no figure is called so.

    References
    ----------
    None needed.
    """
    if name not in figures:
        near = nearest(name, list(figures), MOST_NAMES)
        raise UnknownChoice("the figure", name, near or list(figures)[:MOST_NAMES])
    return Why(tuple(_walk(figures, name, 0, set())))


def _walk(figures: dict[str, Figure], name: str, depth: int, told: set[str]) -> Iterator[tuple[int, Figure]]:
    """Yield a figure and what stands below it; what is below a figure that stands twice is told once."""
    yield depth, figures[name]
    if name in told:
        return
    told.add(name)
    for below in figures[name].follows_from:
        yield from _walk(figures, below, depth + 1, told)


def figures_of(plan: Plan) -> dict[str, Figure]:
    """Return every figure of a plan by name.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    dict of str to Figure
        By name; sections that can't be worked out yet have none. [-]

    References
    ----------
    Each figure names its own.
    """
    figures: dict[str, Figure] = {}
    for section in (_entries, _readings, _depths, _height, _chamber, _parts, _holes, _cuts):
        try:
            found = list(section(plan))
        except ModelMathError:
            continue  # the section's own view shows the message
        figures.update({figure.name: figure for figure in found})
    return figures


def _entries(plan: Plan) -> Iterator[Figure]:
    scale, job, bench, limits = plan.scale, plan.job, plan.bench, plan.limits
    yield Figure("scale", f"{scale.name}, 1:{float(scale.ratio):.4f}", scale.standard, scale.source)
    for name, rule in bench.rules.items():
        below = ("scale",) if rule.unit in SCALE_UNITS and rule.scale == scale else ()
        yield Figure(f"rule: {name}", rule.describe(), "as entered", "the job, rules", below)
    rule = plan.marks.rule
    finest = format_length(parse_length_exact(plan.marks.finest, rule.unit, rule.scale), rule.unit, rule.scale)
    how = f"as entered, {plan.marks.finest} on the {rule.name}"
    yield Figure("finest mark", finest, how, "the job, marking", (f"rule: {rule.name}",))
    seating = bench.length(job.seat.repeatability, "seat", "repeatability")
    cutting = bench.length(job.build.cutting_tolerance, "build", "cutting_tolerance")
    room = bench.length(job.build.hole_clearance, "build", "hole_clearance")
    entered = [
        ("clearance", limits.clearance_mm, f"as entered, {job.clearance.keep}", "clearance"),
        ("clearance along the length", limits.end_clearance_mm, f"as entered, {job.clearance.along}", "clearance"),
        ("room over the speaker", limits.over_speaker_mm, f"as entered, {job.clearance.over_speaker}", "clearance"),
        ("wall", limits.wall_mm, f"as entered, {job.build.wall}", "build"),
        ("post", limits.post_mm, f"as entered, {job.build.post}", "build"),
        ("hole clearance", room, f"as entered, {job.build.hole_clearance}", "build"),
    ]
    for what, value, how, where in entered:
        yield Figure(what, _mm(value), how, f"the job, {where}")
    yield Figure("seating", f"±{_mm(seating)}", "how repeatably the shell seats, as entered", "the job, seat")
    yield Figure("cutting tolerance", f"±{_mm(cutting)}", "as entered", "the job, build; common practice, no source")
    yield from _bodies(plan)


def _bodies(plan: Plan) -> Iterator[Figure]:
    """Yield what goes in: speaker, decoder, lamps."""
    bench, limits = plan.bench, plan.limits
    if bench.flange_mm is not None:
        yield Figure("flange", _mm(bench.flange_mm), "as entered", "the job, speaker")
    if bench.speaker is not None:
        for what in ("length", "width", "depth"):
            yield Figure(f"speaker {what}", _mm(getattr(bench.speaker, f"{what}_mm")), "as entered", "the job, speaker")
    if bench.decoder is not None:
        sides = " x ".join(f"{float(each):.2f}" for each in astuple(bench.decoder)[1:])
        yield Figure("decoder room", f"{sides} mm", "its size and the air round it, as entered", "the job, decoder")
    for end, room in (("front", limits.front_room_mm), ("rear", limits.rear_room_mm)):
        if room:
            yield Figure(
                f"lamp room, {end}", _mm(room), "the most that a lamp there needs, as entered", "the job, lamps"
            )


def _readings(plan: Plan) -> Iterator[Figure]:
    for entry in plan.job.readings:
        reading = plan.bench.readings[entry.name]
        how = f"mark {entry.mark} from the rule's {entry.datum}: (mark + offset) x (1 + scale error)"
        if entry.datum == "zero":
            how = f"mark {entry.mark} from the zero mark: mark x (1 + scale error)"
        source = "JCGM 200:2012, correction; JCGM 100:2008, F.2.2.1 for ±"
        yield Figure(f"reading: {entry.name}", _u(reading.value), how, source, (f"rule: {reading.rule.name}",))


def _depths(plan: Plan) -> Iterator[Figure]:
    links = {face: f"reading: {reading.name}" for face, reading in plan.bench.links.items()}
    for depth in plan.depths:
        zone = depth.zone
        if zone.gap is not None:
            how = "the gap read in the assembled model, in place of the difference of two heights"
            yield Figure(_free(depth), _u(depth.free.value), how, "reading", (f"reading: {zone.gap}",))
            continue
        how = "roof less chassis top"
        if depth.offset_cancels:
            how += f"; the zero offset of {depth.offset_cancels} cancels, since both were read the same way"
        below = [f"reading: {name}" for name in (zone.underside, zone.chassis_top) if name]
        faces = {plan.bench.reading(name).face for name in (zone.underside, zone.chassis_top) if name}
        below += [links[face] for face in sorted(faces) if face in links]
        yield Figure(_free(depth), _u(depth.free.value), how, "arithmetic; JCGM 100:2008, 5.2", tuple(below))


def _height(plan: Plan) -> Iterator[Figure]:
    gap = plan.gap
    rule = f"rule: {plan.marks.rule.name}"
    above, below = plan.hung_from, plan.governing
    space = _free(below)
    if above is not below:
        space = "space at the bulkhead"
        how = f"from the roof over {above.zone.name} down to the chassis top over {below.zone.name}, which governs"
        inputs = (f"reading: {above.zone.underside}", _free(below))
        yield Figure(space, _u(plan.space.value), how, "arithmetic; JCGM 100:2008, 5.2", inputs)
    if plan.bulkhead is not None:
        how = "the largest size on a mark that is no more than the space less the clearance"
        size = _size(plan, plan.bulkhead.cut.cut_mm)
        yield Figure("bulkhead height", size, how, "arithmetic", (space, "clearance", "finest mark"))
        setting = plan.marks.setting(plan.bulkhead.cut.cut_mm).text
        yield Figure("bulkhead setting", setting, _SETTING, "arithmetic", ("bulkhead height", rule))
    tolerance = f"±{gap.stack.worst_case():.2f} mm at worst, ±{gap.stack.rss():.2f} mm usually"
    how = f"the space less the height cut; tolerances add to {tolerance}"
    height = ("bulkhead height",) if plan.bulkhead is not None else ("clearance", "finest mark")
    inputs = (space, *height, "seating", "cutting tolerance")
    yield Figure("room left", _mm(gap.left_mm), how, "worst-case and root-sum-square stack-up", inputs)


def _chamber(plan: Plan) -> Iterator[Figure]:
    chamber, length = plan.chamber, plan.job.length
    if plan.enclosure is None or chamber is None or length is None:
        return
    widths = (depth.zone.width for depth in plan.depths)
    ends = (depth.zone.end for depth in plan.depths)
    places = (length.shell_inside, length.mark_on_shell, length.mark_on_chassis, *ends)
    readings = dict.fromkeys(f"reading: {name}" for name in (*widths, *places) if name)
    kept = ["clearance", "clearance along the length", "wall", "finest mark"]
    kept += [f"lamp room, {end}" for end in ("front", "rear") if getattr(plan.limits, f"{end}_room_mm")]
    if plan.bench.decoder is not None:
        kept.append("decoder room")
    if plan.bench.speaker is not None:
        kept += ["speaker length", "speaker width", "speaker depth", "room over the speaker", "post"]
    assert chamber.cut_from is not None
    exact = f"{float(chamber.cut_from.volume_mm3) / 1000:.2f} cm3 before its floor and walls go to marks"
    largest = f"the largest of {plan.enclosure.looked_at} chambers compared, each as it is cut"
    how = f"sum of width x depth x length; {largest}; {exact}"
    value = f"{float(chamber.volume_mm3) / 1000:.2f} cm3"
    below = (*(_free(depth) for depth in plan.depths), *readings, *kept)
    yield Figure("chamber volume", value, how, "elementary geometry", below)
    inner = float(chamber.inner_end_mm - chamber.inner_start_mm)
    how = "between the inner faces of the ends of the largest chamber"
    yield Figure("chamber length", f"{inner:.2f} mm", how, "arithmetic", ("chamber volume",))


def _parts(plan: Plan) -> Iterator[Figure]:
    for line in plan.lines:
        part = line.part
        if part != plan.bulkhead:
            length, inputs = f"{part.name} length", _part_inputs(plan, part)
            yield Figure(length, _size(plan, part.cut.cut_mm), part.made_to, "arithmetic", inputs)
            below = (length, f"rule: {plan.marks.rule.name}")
            yield Figure(f"{part.name} setting", line.setting.text, _SETTING, "arithmetic", below)
        if line.picks:
            source = "data/strip_series.csv and the drawer"
            yield Figure(f"{part.name} strip", line.stock_text, line.note, source, (_size_name(plan, part),))
        if part.position_mm is not None:
            side = "behind" if part.position_mm >= 0 else "ahead of"
            where = f"{abs(float(part.position_mm)):.2f} mm {side} the mark"
            how = f"its {part.face}, from the chamber's ends and the speaker's place in it"
            yield Figure(f"{part.name} place", where, how, "the chamber found largest", ("chamber volume",))


def _size_name(plan: Plan, part: Part) -> str:
    return "bulkhead height" if part == plan.bulkhead else f"{part.name} length"


def _part_inputs(plan: Plan, part: Part) -> tuple[str, ...]:
    """Return the figures that a part's cut length follows from."""
    if part.kind == "filler":
        return ("speaker length", "finest mark")
    if part.kind == "plate":
        return ("chamber length", "speaker length", "finest mark")
    height = "bulkhead height" if plan.bulkhead is not None else "room left"
    if part.kind == "post":
        height = next(_size_name(plan, wall) for wall in plan.parts if wall.name == part.wall)
        return (height,) if part.made_by == "copy" else (height, "wall", "finest mark")
    roofs: tuple[str, ...] = ()
    if plan.enclosure is not None:
        names = dict.fromkeys(depth.zone.underside for depth in plan.depths)
        roofs = tuple(f"reading: {name}" for name in names if name and len(names) > 1)
    return (height, "flange", "finest mark", *roofs) if part.kind == "support" else (height, *roofs)


def _holes(plan: Plan) -> Iterator[Figure]:
    for hole in plan.holes:
        where = "lamps" if hole.kind == "strand" else "wires"
        yield Figure(f"{hole.kind}: {hole.name}", _mm(hole.diameter_mm), "diameter, as entered", f"the job, {where}")
        left = f"{hole.drill.clearance_mm:.3f} mm is left"
        how = f"the smallest drill that passes {_mm(hole.diameter_mm)} with its clearance; {left}"
        yield Figure(
            f"drill: {hole.name}",
            f"{hole.drill.name}, {hole.drill.diameter_mm:.3f} mm",
            how,
            hole.drill.source,
            (f"{hole.kind}: {hole.name}", "hole clearance"),
        )


def _cuts(plan: Plan) -> Iterator[Figure]:
    below = tuple(_size_name(plan, line.part) for line in plan.lines)
    yield Figure("new strips", str(plan.cuts.new_strips), plan.cuts.verdict, "first- and best-fit, area bound", below)


def _free(depth: Depth) -> str:
    return f"free depth: {depth.zone.name}"


def _mm(value: Any) -> str:
    return format_length(value, "mm")


def _u(value: Any) -> str:
    return format_length(value, "mm")


def _size(plan: Plan, mm: Fraction) -> str:
    """Return a size in scale feet, as a fraction where a rule has that mark, in decimal inches and in mm."""
    ending = (mm / plan.scale.mm_per_foot).denominator
    feet = format_length(mm, "scale foot", plan.scale, ending if ending in (1, 2, 4, 8, 16, 32, 64) else None)
    return f"{feet}, {format_length(mm, 'in')}, {_mm(mm)}"
