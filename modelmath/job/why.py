"""Why this number: every figure of a plan, with the readings, tables and formulas it follows from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from modelmath.errors import ModelMathError, UnknownChoice
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.bench import Depth
    from modelmath.job.plan import Plan
    from modelmath.job.stock import PartLine


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
        return "\n".join(
            f"{'   ' * depth}{figure.name} = {figure.value}: {figure.how} [{figure.source}]"
            for depth, figure in self.chain
        )


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
        raise UnknownChoice("the figure", name, list(figures))
    return Why(tuple(_walk(figures, name, 0)))


def _walk(figures: dict[str, Figure], name: str, depth: int) -> Iterator[tuple[int, Figure]]:
    yield depth, figures[name]
    for below in figures[name].follows_from:
        yield from _walk(figures, below, depth + 1)


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
    scale = plan.scale
    yield Figure("scale", f"{scale.name}, 1:{float(scale.ratio):.4f}", scale.standard, scale.source)
    for name, rule in plan.bench.rules.items():
        yield Figure(f"rule: {name}", rule.describe(), "as entered", "the job, rules", ("scale",) if rule.scale else ())
    yield Figure(
        "clearance", _mm(plan.limits.clearance_mm), f"as entered, {plan.job.clearance.keep}", "the job, clearance"
    )
    finest = f"as entered, for {plan.marks.rule.name}"
    yield Figure("finest mark", plan.job.marking.finest, finest, "the job, marking", (f"rule: {plan.marks.rule.name}",))
    seating = plan.bench.length(plan.job.seat.repeatability, "seat", "repeatability")
    yield Figure("seating", f"±{_mm(seating)}", "how repeatably the shell seats, as entered", "the job, seat")
    cutting = plan.bench.length(plan.job.build.cutting_tolerance, "build", "cutting_tolerance")
    yield Figure("cutting tolerance", f"±{_mm(cutting)}", "as entered", "the job, build; common practice, no source")
    yield Figure("wall", _mm(plan.limits.wall_mm), f"as entered, {plan.job.build.wall}", "the job, build")
    if plan.bench.flange_mm is not None:
        yield Figure("flange", _mm(plan.bench.flange_mm), "as entered", "the job, speaker")


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
    free = _free(plan.governing)
    if plan.bulkhead is not None:
        how = "the largest size on a mark that is no more than free depth less clearance"
        size = _size(plan, plan.bulkhead.cut.cut_mm)
        yield Figure("bulkhead height", size, how, "arithmetic", (free, "clearance", "finest mark"))
        setting = plan.marks.setting(plan.bulkhead.cut.cut_mm).text
        yield Figure(
            "bulkhead setting",
            setting,
            "the size as a mark of the rule, less its offset",
            "arithmetic",
            ("bulkhead height", rule),
        )
    tolerance = f"±{gap.stack.worst_case():.2f} mm at worst, ±{gap.stack.rss():.2f} mm usually"
    how = f"free depth less the height cut; tolerances add to {tolerance}"
    height = ("bulkhead height",) if plan.bulkhead is not None else ("clearance",)
    below = (free, *height, "seating", "cutting tolerance")
    yield Figure("room left", _mm(gap.left_mm), how, "worst-case and root-sum-square stack-up", below)


def _chamber(plan: Plan) -> Iterator[Figure]:
    chamber = plan.chamber
    if plan.enclosure is None or chamber is None:
        return
    depths = tuple(_free(depth) for depth in plan.depths)
    widths = tuple(dict.fromkeys(f"reading: {depth.zone.width}" for depth in plan.depths if depth.zone.width))
    exact = f"{float(plan.enclosure.chamber.volume_mm3) / 1000:.2f} cm3 before its floor and walls go to marks"
    how = f"sum of width x depth x length; the largest of {plan.enclosure.looked_at} chambers compared, {exact}"
    value = f"{float(chamber.volume_mm3) / 1000:.2f} cm3"
    yield Figure("chamber volume", value, how, "elementary geometry", (*depths, *widths, "clearance", "wall"))
    length = float(chamber.inner_end_mm - chamber.inner_start_mm)
    inside = () if plan.job.length is None else (f"reading: {plan.job.length.shell_inside}",)
    yield Figure("chamber length", f"{length:.2f} mm", "between the inner faces of its ends", "arithmetic", inside)


def _parts(plan: Plan) -> Iterator[Figure]:
    for line in plan.lines:
        part = line.part
        if part.name != "bulkhead":
            yield Figure(
                f"{part.name} length",
                _size(plan, part.cut.cut_mm),
                part.made_to,
                "arithmetic",
                _part_inputs(plan, line),
            )
            below = (f"{part.name} length", f"rule: {plan.marks.rule.name}")
            yield Figure(
                f"{part.name} setting",
                line.setting.text,
                "the size as a mark of the rule, less its offset",
                "arithmetic",
                below,
            )
        if line.picks:
            source = "data/strip_series.csv and the drawer"
            yield Figure(f"{part.name} strip", line.stock_text, line.note, source, (_size_name(part.name),))
        if part.position_mm is not None:
            where = (
                f"{abs(float(part.position_mm)):.2f} mm {'behind' if part.position_mm >= 0 else 'ahead of'} the mark"
            )
            how = f"{part.face} of the {part.name}, from the chamber's end"
            yield Figure(f"{part.name} place", where, how, "the chamber found largest", ("chamber volume",))


def _size_name(part: str) -> str:
    return "bulkhead height" if part == "bulkhead" else f"{part} length"


def _part_inputs(plan: Plan, line: PartLine) -> tuple[str, ...]:
    if line.part.name == "speaker support":
        return ("bulkhead height", "flange") if plan.bulkhead is not None else ("room left", "flange")
    if line.part.use == "on end" and plan.bulkhead is not None:
        return ("bulkhead height",)
    return ("finest mark",)


def _holes(plan: Plan) -> Iterator[Figure]:
    for hole in plan.holes:
        left = f"{hole.drill.clearance_mm:.3f} mm is left"
        how = f"the smallest drill that passes {_mm(hole.diameter_mm)} with its clearance; {left}"
        yield Figure(
            f"drill: {hole.name}", f"{hole.drill.name}, {hole.drill.diameter_mm:.3f} mm", how, hole.drill.source
        )


def _cuts(plan: Plan) -> Iterator[Figure]:
    below = tuple(_size_name(line.part.name) for line in plan.lines)
    yield Figure("new strips", str(plan.cuts.new_strips), plan.cuts.verdict, "first- and best-fit, area bound", below)


def _free(depth: Depth) -> str:
    return f"free depth: {depth.zone.name}"


def _mm(value: Any) -> str:
    return format_length(value, "mm")


def _u(value: Any) -> str:
    return format_length(value, "mm")


def _size(plan: Plan, mm: Any) -> str:
    return f"{format_length(mm, 'scale foot', plan.scale)}, {format_length(mm, 'in')}, {_mm(mm)}"
