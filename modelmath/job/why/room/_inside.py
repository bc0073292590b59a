"""Figures of what lies inside: where speaker and decoder sit, what air is left, where holes lie, what trucks carry."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.balance.masses import best, grams
from modelmath.job.why._words import in_mm
from modelmath.job.why.figures import Figure
from modelmath.job.why.made._sizes import size_name

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.plan import Plan
    from modelmath.job.space.hole_places import WallHoles


def places(plan: Plan) -> Iterator[Figure]:
    """Yield where the speaker and the decoder sit."""
    chamber, speaker = plan.chamber, plan.bench.speaker
    if chamber is None:
        return
    if speaker is not None and chamber.seat_mm is not None:
        start, end = chamber.seat_mm
        upright = speaker.faces in ("front", "rear")
        takes, what = (end - start, "depth") if upright else (speaker.length_mm, "length")
        wanted = speaker.place if isinstance(speaker.place, str) else f"{in_mm(speaker.place)}, its front edge"
        how = f"wanted {wanted}, as far as the chamber lets it; {in_mm(start)} and the {in_mm(takes)} it takes along"
        if upright:
            how = f"at the wall that it faces; {in_mm(start)} and the {in_mm(takes)} it takes along"
        value = f"{in_mm(start)} to {in_mm(end)}, from the {plan.mark_name}"
        yield Figure("speaker place", value, how, "the chamber found largest", (f"speaker {what}", "chamber volume"))
    pocket = chamber.pocket
    if pocket is not None and plan.bench.decoder is not None:
        value = f"{in_mm(pocket.start_mm)} to {in_mm(pocket.end_mm)}, from the {plan.mark_name}"
        long, high = pocket.end_mm - pocket.start_mm, pocket.top_mm - pocket.bottom_mm
        how = (
            f"{pocket.where}, {pocket.way}; {in_mm(pocket.start_mm)} and the {in_mm(long)} it takes along; "
            f"{in_mm(high)} high, up to {in_mm(pocket.top_mm)} above the seat"
        )
        yield Figure("decoder place", value, how, "the chamber found largest", ("decoder room", "chamber volume"))


def net(plan: Plan) -> Iterator[Figure]:
    """Yield the chamber's volume less what stands and runs in it."""
    found = plan.net_volume
    if found is None or not found.shares:
        return
    taken = ", ".join(f"{each.name} {_cm3(each.volume_mm3)}" for each in found.shares)
    least = "at least " if found.at_least else ""
    how = f"the gross volume, {_cm3(found.gross_mm3)}, less {taken}"
    names = {each.name for each in found.shares}
    below = ["chamber volume"]
    below += [size_name(plan, part) for part in plan.parts if part.name in names]
    below += [f"{hole.kind}: {hole.name}" for hole in plan.holes if hole.name in names]
    if plan.bench.speaker is not None and plan.bench.speaker.name in names:
        below += [f"speaker {side}" for side in ("length", "width", "depth")]
    if plan.bench.decoder is not None and plan.bench.decoder.name in names:
        below.append("decoder room")
    yield Figure("net volume", f"{least}{_cm3(found.net_mm3)}", how, "elementary geometry", tuple(dict.fromkeys(below)))


def _cm3(volume: Any) -> str:
    return f"{float(volume) / 1000:.3f} cm3"


def hole_places(plan: Plan) -> Iterator[Figure]:
    """Yield where each hole of a row lies on its wall; a spread is a search of seconds, too slow for every figure."""
    if plan.job.hole_layout.way == "row":
        yield from on_walls(plan)


def on_walls(plan: Plan) -> Iterator[Figure]:
    """Yield where each hole lies on its wall, however they are laid out."""
    for wall in plan.hole_places:
        part = next(each for each in plan.parts if each.name == wall.wall)
        yield from _on(plan, wall, part)


def _on(plan: Plan, wall: WallHoles, part: Part) -> Iterator[Figure]:
    layout = wall.layout
    if layout is None:
        return
    moved = {each.name for each in plan.job.holes}
    drills = {line.name: f"drill: {line.name}" for line in plan.holes}
    half = float(layout.plate.width_mm) / 2
    for hole in layout.holes:
        line = next(name for name in drills if hole.name in (name, f"{name} {hole.name.rpartition(' ')[2]}"))
        side = "right" if hole.x_mm >= 0 else "left"
        off = f"{abs(hole.x_mm):.2f} mm {side} of the centre line"
        way = "moved there by hand" if hole.name in moved else "laid out in one row"
        sign = "and" if hole.x_mm >= 0 else "less"
        from_left = f"{half:.2f} mm, half the width there, {sign} {abs(hole.x_mm):.2f} mm"
        how = f"{way}; {from_left}: {half + hole.x_mm:.2f} mm from the left edge"
        source = "the job, holes" if hole.name in moved else "the webs between holes, edges and what is kept out"
        value = f"{off}, {hole.y_mm:.2f} mm above the lower edge"
        yield Figure(f"hole: {hole.name}", value, how, source, (drills[line], size_name(plan, part)))


def weight(plan: Plan) -> Iterator[Figure]:
    """Yield what each truck carries, before and after."""
    found = plan.balance
    if found is None:
        return
    seen = Counter[str]()
    names, terms = [], {"front": "", "rear": ""}
    apart = best(found.rear.at_mm) - best(found.front.at_mm)
    for each, entry in zip(found.changes, () if plan.job.weight is None else plan.job.weight.changes, strict=True):
        seen[each.name] += 1
        number = f" ({seen[each.name]})" if seen[each.name] > 1 else ""
        names.append(f"weight changed: {each.name}{number}")
        how = "as entered" if entry.volume is None else f"{entry.volume:g} mm3 of {entry.material}, as entered"
        yield Figure(names[-1], each.in_words.removeprefix(f"{each.name}: "), how, "the job, weight")
        ahead = best(found.rear.at_mm) - best(each.at_mm)
        for end, share in (("front", ahead / apart), ("rear", 1 - ahead / apart)):
            sign = "less" if best(each.mass_g) * share < 0 else "and"
            terms[end] += f", {sign} {abs(best(each.mass_g) * share):.2f} g of {each.name}{number}"
    for end in ("front", "rear"):
        before, after = (getattr(loads, f"{end}_g") for loads in (found.loads_before, found.loads_after))
        weighed = f"{end} truck before"
        yield Figure(weighed, grams(before), "as weighed", "the job, weight")
        how = f"{best(before):.2f} g before{terms[end]}, each by its distance from the other truck"
        how = how if terms[end] else "as before: nothing comes off or goes in"
        yield Figure(f"{end} truck after", grams(after), how, "the law of the lever", (weighed, *names))
    below = ("front truck after", "rear truck after")
    before, now = (best(loads.front_g) + best(loads.rear_g) for loads in (found.loads_before, found.loads_after))
    value, how = f"{now:.1f} g after, {before:.1f} g before", " ".join(found.in_words)
    yield Figure("weight in all", value, how, "addition; the law of the lever", below)
