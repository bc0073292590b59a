"""The build order: from the roof down, drilling before gluing, with hold points before any permanent bond."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from modelmath.job.light.steps import lens_steps, wiring_steps
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.enclosure.parts import Kind
    from modelmath.job.plan import Plan

    Made = Counter[Kind]  # how many different parts of each kind there are


@dataclass(frozen=True)
class Step:
    """One step of the build.

    Attributes
    ----------
    number : int
        Its number, from 1. [-]
    text : str
        What to do. [-]
    hold : bool
        Whether to stop there until every check is right. [-]
    checks : tuple of str
        What is measured or looked at, each with a box on the sheet. [-]
    topics : tuple of str
        Topics of the cautions that belong to it. [-]
    """

    number: int
    text: str
    hold: bool = False
    checks: tuple[str, ...] = ()
    topics: tuple[str, ...] = ()


def build_order(plan: Plan) -> tuple[Step, ...]:
    """Return the steps for a plan's own parts, holes and lamps.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Step
        In order. [-]

    References
    ----------
    Common practice, no source. That solvent crazes acrylic: common practice, no source.
    """
    return tuple(replace(step, number=number) for number, step in enumerate(_steps(plan), start=1))


def _step(text: str, *topics: str, checks: tuple[str, ...] = (), hold: bool = False) -> Step:
    return Step(0, text, hold, checks, topics)


def _steps(plan: Plan) -> Iterator[Step]:
    made = Counter(part.kind for part in plan.parts)
    yield _step("Take all power off, lift the shell, and insulate a live frame with tape.", "electricity", "keep-alive")
    yield from _before_gluing(plan, made)
    yield _dry_fit(plan, made)
    yield from _glue_walls(made)
    yield from _glue_extras(made)
    yield from _floor(plan, made)
    yield from _strands_and_speaker(plan, made)
    for asked, topics, checks in wiring_steps(plan):
        yield _step(asked, *topics, checks=checks, hold=asked.startswith("Test"))
    yield _step(
        "Before closing: play a sound, and feel with a wet finger for air at every seam. Seal what leaks.",
        "speaker",
        checks=("no leak felt at any seam", "sound clear, nothing buzzes"),
        hold=True,
    )
    yield _step(
        "Put the shell on, drive in the screws, and run the model both ways round its tightest curve.",
        checks=("shell seats all along the sill", "trucks swing both ways", "nothing touches or rubs"),
        hold=True,
    )


def _before_gluing(plan: Plan, made: Made) -> Iterator[Step]:
    text = f"Cut every set at its stop, longest first, to the settings on the bench card, with {plan.marks.rule.name}."
    yield _step(text, "knife", "sanding", "numbers", checks=("each set equal",))
    if plan.holes and made["wall"]:
        drills = ", ".join(f"{hole.drill.name} for {hole.name}" for hole in plan.holes)
        text = "Drill the bulkhead before it is glued"
        if made["wall"] > 1:
            text = (
                "Before they are glued, drill the bulkhead for what leads to the front, the rear closure for the rest"
            )
        yield _step(f"{text}: {drills}.", "small drills")
    for asked, topics, checks in lens_steps(plan):
        yield _step(asked, *topics, checks=checks)


def _dry_fit(plan: Plan, made: Made) -> Step:
    where = plan.governing.name
    what = ("the parts", "the bulkhead", "the bulkhead and the rear closure")[made["wall"]]
    planned = format_length(plan.gap.left_mm, "mm")
    return _step(
        f"Dry fit, no glue: hold {what} in place, put the shell on, press a pellet of putty over {where}.",
        checks=(
            "shell seats all along the sill",
            "trucks swing both ways",
            f"putty left over {where}: ______ mm (planned {planned})",
        ),
        hold=True,
    )


def _glue_walls(made: Made) -> Iterator[Step]:
    if made["wall"]:
        text = "Glue the corner posts to the shell's sides, then the bulkhead to roof and posts."
        yield _step(text, "solvent cement")
    if made["wall"] > 1:
        yield _step("Glue the closure posts, then the rear closure, square to the roof.", "solvent cement")


def _glue_extras(made: Made) -> Iterator[Step]:
    """Yield what stands between the walls and under the roof, before the floor closes the way to it."""
    if made["side"]:
        text = "Glue the side wall under the roof, between the end walls: the strip beside it stays free for wires."
        yield _step(text, "solvent cement")
    if made["barrier"]:
        text = "Blacken the light barriers, let them dry, and glue them across the shell."
        yield _step(text, "solvent cement", checks=("no light past them",))
    if made["rest"]:
        yield _step("Glue the strand supports under the roof, their holes in one line.", "solvent cement")


def _floor(plan: Plan, made: Made) -> Iterator[Step]:
    if _faces(plan) == "up":
        yield _step("Cut the speaker's opening in the roof, from the inside out.", "knife", "small drills")
    if _faces(plan) in ("front", "rear"):
        yield _step(f"See that the speaker's opening in the wall at the {_faces(plan)} is clear.", "knife")
    if made["support"]:
        equal = "all four of one height" if made["support"] == 1 else "each pair of one height, all four feet level"
        thin = any("thinned to" in part.made_to for part in plan.parts if part.kind == "support")
        what = "Thin and glue" if thin else "Glue"
        text = f"{what} the four speaker supports to the roof, clear of the speaker's basket."
        yield _step(text, "solvent cement", checks=(equal,))
    if made["filler"]:
        text = "Trim and sand the pieces for the speaker's sides until they slide in, and glue them."
        yield _step(text, "solvent cement", "knife", "sanding")
    if made["plate"] and _faces(plan) == "down":
        text = "Lay the speaker in dry, fit the floor plates against it, and glue them to sides and posts, not to it."
        yield _step(text, "solvent cement", checks=("speaker still lifts out",))
    if made["box"]:
        text = (
            "Glue the boxes for what stands up through the floor into its openings: sides and ends first, then lids; "
            "what reaches the roof to the roof as well."
        )
        yield _step(text, "solvent cement", checks=("every box slides over what it boxes in, and touches nothing",))


def _faces(plan: Plan) -> str:
    return "down" if plan.bench.speaker is None else plan.bench.speaker.faces


def _strands_and_speaker(plan: Plan, made: Made) -> Iterator[Step]:
    """Yield what goes in once the solvent has gone, while the speaker's opening still lets a hand in."""
    faces = _faces(plan)
    chamber = plan.chamber
    unsupported = not made["support"] and chamber is not None and chamber.seat_mm is not None
    has_speaker = made["support"] > 0 or unsupported or faces != "down"
    if plan.holes or has_speaker:
        text = "Lift the speaker out and let the solvent flash off wholly, as long as its label says."
        yield _step(text, "solvent cement", checks=("no smell of solvent left",), hold=True)
    if plan.holes:
        kinds = [kind for kind in ("strand", "wire") if any(hole.kind == kind for hole in plan.holes)]
        what = " and ".join(f"{kind}s" for kind in kinds)
        text = f"Feed the {what} through their holes, and fix and seal them there with a glue that has no solvent."
        lit = ("each strand lights",) if "strand" in kinds else ()
        topics = ("flame", "lamps", "glue and sealant") if lit else ("glue and sealant",)
        yield _step(text, *topics, checks=(*lit, "every hole sealed"))
    if has_speaker:
        down = "in its opening in the floor" if unsupported else "on the supports"
        where = {"down": down, "up": "under the roof, round its opening"}
        seat = where.get(faces, f"against the wall at the {faces}, over its opening")
        text = f"Solder the speaker's wires, mark its polarity, and bed its flange in sealant {seat}."
        yield _step(text, "hot iron", "speaker", "glue and sealant")
    if chamber is not None and chamber.pocket is not None:
        what = plan.bench.decoder.name if plan.bench.decoder else "decoder"
        text = f"Stick the {what} {chamber.pocket.where} with a foam pad, air round it, its wires clear of what moves."
        yield _step(text, "electricity", checks=("no bare wire touches metal",))
    if made["plate"] and faces != "down":
        text = "Bed the floor plate in sealant from wall to wall, so that it comes off again."
        yield _step(text, "glue and sealant", checks=("sealed all round",))
