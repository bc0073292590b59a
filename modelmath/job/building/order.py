"""The build order: from the roof down, drilling before gluing, with hold points before any permanent bond."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from modelmath.job.building.shell import closing, opening
from modelmath.job.building.step import Step
from modelmath.job.light.steps import lens_steps, wiring_steps
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.enclosure.parts import Kind
    from modelmath.job.plan import Plan

    Made = Counter[Kind]  # how many different parts of each kind there are

# What solvent cement is used for: strands wait until it has gone.
GLUED = ("walls", "closure", "side", "barriers", "rests", "supports", "fillers", "plates", "boxes")


# Neither may be about while there is the other: vapour burns.
HOT, WET = {"flame", "hot iron", "hot air and water"}, {"solvent cement", "paint"}


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
    found = _heat_before_cement(list(_steps(plan)))
    keys = {step.key for step in found}
    return tuple(
        replace(step, number=number, needs=tuple(key for key in step.needs if key in keys))
        for number, step in enumerate(found, start=1)
    )


def _heat_before_cement(steps: list[Step]) -> list[Step]:
    """Return the steps, none with heat done while solvent is about: each before the first of it, or once it is gone."""
    hot = [step.key for step in steps if HOT & {*step.topics}]
    wet = [step.key for step in steps if WET & {*step.topics}]
    found: list[Step] = []
    before: list[str] = []  # of the other kind, that a step has to wait for
    for step in steps:
        others = wet if step.key in hot else hot if step.key in wet else []
        found.append(replace(step, needs=(*step.needs, *(key for key in before if key in others))))
        before.append(step.key)
    return found


def _step(
    key: str, kind: str, text: str, *topics: str, needs: tuple[str, ...] = (), checks: tuple[str, ...] = (),
    hold: bool = False,
) -> Step:  # fmt: skip
    return Step(0, text, hold, checks, topics, key, needs, kind)


def _steps(plan: Plan) -> Iterator[Step]:
    made = Counter(part.kind for part in plan.parts)
    first = ("the shell comes off and seats again without force", "its front and each plug are marked")
    yield _step("power off", "prepare", opening(plan), "electricity", "keep-alive", checks=first)
    yield from _before_gluing(plan, made)
    yield _dry_fit(plan, made)
    yield from _glue_walls(made)
    yield from _glue_extras(made)
    yield from _floor(plan, made)
    yield from _strands_and_speaker(plan, made)
    for asked in wiring_steps(plan):
        yield _step(asked.key, asked.kind, asked.text, *asked.topics, needs=asked.needs, checks=asked.checks,
                    hold=asked.hold)  # fmt: skip
    yield _step(
        "leak test",
        "test",
        "Before closing: play a sound, quietly at first, and feel with a damp finger for air along the outside of "
        "every seam, clear of wires and frame. Take the power off before you seal what leaks.",
        "speaker",
        "loud sound",
        "power with the shell off",
        "glue and sealant",
        needs=(*GLUED, "feed", "seat", "floor plate", "test lamps"),
        checks=("no leak felt at any seam", "sound clear, nothing buzzes"),
        hold=True,
    )
    text, checks = closing(plan)
    yield _step(
        "close", "close", text, "electricity", "keep-alive", needs=("leak test", "decoder", "power off"), checks=checks
    )
    yield _step(
        "run",
        "run",
        "Put the shell on, drive in the screws, and run the model both ways round its tightest curve.",
        "electricity",
        needs=("close",),
        checks=(
            "no short from rail to rail",
            "shell seats all along the sill",
            "trucks swing both ways",
            "nothing touches or rubs",
        ),
        hold=True,
    )


def _before_gluing(plan: Plan, made: Made) -> Iterator[Step]:
    text = f"Cut every set at its stop, longest first, to the settings on the bench card, with {plan.marks.rule.name}."
    saw = ("saw",) if plan.bench.length(plan.job.build.kerf, "build", "kerf") else ()
    topics = ("knife", *saw, "sanding", "small parts", "numbers")
    yield _step("cut", "cut", text, *topics, checks=("each set equal",))
    if plan.holes and made["wall"]:
        drills = ", ".join(f"{hole.drill.name} for {hole.name}" for hole in plan.holes)
        text = "Drill the bulkhead before it is glued"
        if made["wall"] > 1:
            text = (
                "Before they are glued, drill the bulkhead for what leads to the front, the rear closure for the rest"
            )
        yield _step("drill", "drill", f"{text}: {drills}.", "small drills", needs=("cut",))
    for asked in lens_steps(plan):
        yield _step(asked.key, asked.kind, asked.text, *asked.topics, needs=asked.needs, checks=asked.checks)


def _dry_fit(plan: Plan, made: Made) -> Step:
    where = plan.governing.name
    what = ("the parts", "the bulkhead", "the bulkhead and the rear closure")[made["wall"]]
    planned = format_length(plan.gap.left_mm, "mm")
    return _step(
        "dry fit",
        "dry fit",
        f"Dry fit, no glue: hold {what} in place, put the shell on, press a pellet of putty over {where}.",
        needs=("power off", "cut", "drill"),
        checks=(
            "shell seats all along the sill",
            "trucks swing both ways",
            f"putty left over {where}: ______ mm (planned {planned})",
        ),
        hold=True,
    )


def _glue_walls(made: Made) -> Iterator[Step]:
    after = ("dry fit",)
    if made["wall"]:
        text = "Glue the corner posts to the shell's sides, then the bulkhead to roof and posts."
        yield _step("walls", "solvent cement", text, "solvent cement", needs=after)
    if made["wall"] > 1:
        text = "Glue the closure posts, then the rear closure, square to the roof."
        yield _step("closure", "solvent cement", text, "solvent cement", needs=after)


def _glue_extras(made: Made) -> Iterator[Step]:
    """Yield what stands between the walls and under the roof, before the floor closes the way to it."""
    if made["side"]:
        text = "Glue the side wall under the roof, between the end walls: the strip beside it stays free for wires."
        yield _step("side", "solvent cement", text, "solvent cement", needs=("walls", "closure"))
    if made["barrier"]:
        text = "Blacken the light barriers, let them dry, and glue them across the shell."
        checks = ("no light past them",)
        yield _step("barriers", "blacken", text, "paint", "solvent cement", needs=("dry fit",), checks=checks)
    if made["rest"]:
        text = "Glue the strand supports under the roof, their holes in one line."
        yield _step("rests", "solvent cement", text, "solvent cement", needs=("dry fit",))


def _floor(plan: Plan, made: Made) -> Iterator[Step]:
    faces = _faces(plan)
    if faces == "up":
        text = "Cut the speaker's opening in the roof, from the inside out."
        yield _step("roof opening", "open", text, "knife", "small drills", needs=("dry fit",))
    if faces in ("front", "rear"):
        text = f"See that the speaker's opening in the wall at the {faces} is clear."
        yield _step("end opening", "open", text, "knife", needs=("walls", "closure"))
    if made["support"]:
        equal = "all four of one height" if made["support"] == 1 else "each pair of one height, all four feet level"
        thin = any("thinned to" in part.made_to for part in plan.parts if part.kind == "support")
        what = "Thin and glue" if thin else "Glue"
        text = f"{what} the four speaker supports to the roof, clear of the speaker's basket."
        topics = ("solvent cement", "knife", "sanding") if thin else ("solvent cement",)
        yield _step("supports", "fit", text, *topics, needs=("dry fit", "walls"), checks=(equal,))
    if made["filler"]:
        text = "Trim and sand the pieces for the speaker's sides until they slide in, and glue them."
        yield _step("fillers", "fit", text, "solvent cement", "knife", "sanding", needs=("walls", "supports"))
    if made["plate"] and faces == "down":
        text = "Lay the speaker in dry, fit the floor plates against it, and glue them to sides and posts, not to it."
        needs = ("walls", "closure", "side", "supports", "fillers")
        checks = ("speaker still lifts out",)
        yield _step("plates", "fit", text, "solvent cement", "sanding", "knife", needs=needs, checks=checks)
    if made["box"]:
        text = (
            "Glue the boxes for what stands up through the floor into its openings: sides and ends first, then lids; "
            "what reaches the roof to the roof as well."
        )
        checks = ("every box slides over what it boxes in, and touches nothing",)
        yield _step(
            "boxes", "fit", text, "solvent cement", "sanding", needs=("plates", "walls", "closure"), checks=checks
        )


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
        checks = ("no smell of solvent left",)
        yield _step("flash off", "flash off", text, "solvent cement", needs=GLUED, checks=checks, hold=True)
    if plan.holes:
        kinds = [kind for kind in ("strand", "wire") if any(hole.kind == kind for hole in plan.holes)]
        what = " and ".join(f"{kind}s" for kind in kinds)
        text = f"Feed the {what} through their holes, and fix and seal them there with a glue that has no solvent."
        lit = ("each strand lights",) if "strand" in kinds else ()
        topics = ("lamps", "glue and sealant") if lit else ("glue and sealant",)
        yield _step("feed", "seal strands", text, *topics, needs=("flash off", "drill", "bends", "lenses", "strands"),
                    checks=(*lit, "every hole sealed"))  # fmt: skip
    if has_speaker:
        down = "in its opening in the floor" if unsupported else "on the supports"
        where = {"down": down, "up": "under the roof, round its opening"}
        seat = where.get(faces, f"against the wall at the {faces}, over its opening")
        text = f"Solder the speaker's wires, mark its polarity, and bed its flange in sealant {seat}."
        needs = ("flash off", "feed", "roof opening", "end opening")
        yield _step("seat", "seat", text, "hot iron", "speaker", "magnet", "glue and sealant", needs=needs)
    if chamber is not None and chamber.pocket is not None:
        what = plan.bench.decoder.name if plan.bench.decoder else "decoder"
        text = f"Stick the {what} {chamber.pocket.where} with a foam pad, air round it, its wires clear of what moves."
        checks = ("no bare wire touches metal",)
        yield _step("decoder", "stick", text, "electricity", needs=("flash off", *GLUED), checks=checks)
    if made["plate"] and faces != "down":
        text = "Bed the floor plate in sealant from wall to wall, so that it comes off again."
        yield _step(
            "floor plate", "seat", text, "glue and sealant", needs=("seat", "feed"), checks=("sealed all round",)
        )
