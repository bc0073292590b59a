"""What the build order asks for lenses, lamps and leads: lenses before any glue, lamps tested before closing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class Asked:
    """A step that is asked for.

    Attributes
    ----------
    key, kind : str
        What it is called in a job, and which row of data/build_times.csv it takes its time from. [-]
    text : str
        What to do. [-]
    topics, checks, needs : tuple of str
        Topics of its cautions, what is looked at, and the steps that have to be done before. [-]
    hold : bool
        Whether to stop there until every check is right. [-]
    """

    key: str
    kind: str
    text: str
    topics: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    hold: bool = False


def lens_steps(plan: Plan) -> tuple[Asked, ...]:
    """Return the steps that form strands and their lens ends, away from the model and from any solvent.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Asked
        None where no strand is entered. [-]

    References
    ----------
    Common practice, no source.
    """
    lines = plan.light.strands
    if not lines:
        return ()
    cut = ", ".join(f"{each.name} {float(each.length.cut_mm):.0f} mm" for each in lines if each.length is not None)
    found: list[Asked] = []
    text = "Cut the strands square with a fresh blade, and cut off every cloudy or crazed end before use"
    found.append(Asked("strands", "strand", f"{text}{f': {cut}' if cut else ''}.", ("knife",), ("no end cloudy",)))
    formed = [each for each in lines if each.to_form]
    if formed:
        names = ", ".join(f"{each.name} ({each.to_form})" for each in formed)
        text = f"Form tight bends with warm air or hot water round a rod of their radius, and let them cool: {names}"
        found.append(Asked("bends", "bend", f"{text}.", ("hot air and water",), ("no bend crazed",), ("strands",)))
    lenses = [each for each in lines if each.melt is not None]
    if lenses:
        found += _lenses(plan)
    return tuple(found)


def _lenses(plan: Plan) -> list[Asked]:
    found: list[Asked] = []
    if plan.light.gauge_strips:
        text = "Drill the gauge strips of the lenses in scrap sheet, to their template."
        found.append(Asked("gauges", "gauge", text, ("small drills",)))
    sizes = ", ".join(
        f"{each.name} {format_length(each.lens_mm, 'mm')} across, {each.melt.melted_mm:.1f} mm melted"
        for each in plan.light.strands
        if each.melt is not None and each.lens_mm is not None
    )
    text = (
        "Form trial ends first, then the lens ends, beside no solvent and well away from the model: hold the end above "
        f"a small flame or a hot iron without touching, and turn it: {sizes}."
    )
    pairs = [lamp for lamp, _ in plan.light.matched]
    checks = ("each goes into its casting", *(f"the lenses of {lamp} match in the gauge strip" for lamp in pairs))
    found.append(Asked("lenses", "lens", text, ("flame", "hot iron"), checks, ("strands", "bends", "gauges")))
    return found


def wiring_steps(plan: Plan) -> tuple[Asked, ...]:
    """Return the steps that wire the lamps and test them, before the chamber is closed.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Asked
        None where nothing of them is entered. [-]

    References
    ----------
    Common practice, no source.
    """
    light = plan.light
    lamps = [each for each in light.lamps if each.load is not None]
    found: list[Asked] = []
    if light.leads:
        leads = ", ".join(
            f"{each.count} x {each.name} {format_length(each.cut_mm, 'mm')}" if each.count > 1
            else f"{each.name} {format_length(each.cut_mm, 'mm')}"
            for each in light.leads
        )  # fmt: skip
        found.append(Asked("leads", "leads", f"Cut the leads: {leads}.", ("knife",)))
    resistors = [f"{each.resistor} for {each.name}" for each in lamps if each.resistor]
    if resistors:
        text = f"Solder each resistor to its lamp, and sleeve every joint: {', '.join(resistors)}."
        found.append(Asked("resistors", "solder", text, ("hot iron", "lamps"), ("no bare joint",), ("leads",)))
    if lamps:
        on = ", ".join(
            f"{each.name} on {each.output}" if each.output else f"{each.name}, on no output yet" for each in lamps
        )
        text = f"Test every lamp on its output while all is still open, for ten minutes: {on}. Then take the power off."
        checks = ("each lights by its own key", "nothing smells or gets hot")
        topics = ("electricity", "power with the shell off", "lamps", "keep-alive")
        needs = ("resistors", "leads", "feed")
        found.append(Asked("test lamps", "test", text, topics, checks, needs, hold=True))
    return tuple(found)
