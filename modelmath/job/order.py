"""The build order: from the roof down, drilling before gluing, with hold points before any permanent bond."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


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
    raw = list(_steps(plan))
    return tuple(Step(number, *rest) for number, rest in enumerate(raw, start=1))


_Raw = tuple[str, bool, tuple[str, ...], tuple[str, ...]]


def _steps(plan: Plan) -> Iterator[_Raw]:
    names = {part.name for part in plan.parts}
    yield (
        "Take all power off, lift the shell, and insulate a live frame with tape.",
        False,
        (),
        ("electricity", "keep-alive"),
    )
    yield from _before_gluing(plan, names)
    yield _dry_fit(plan, names)
    yield from _glue_walls(names)
    yield from _speaker(plan, names)
    if any(hole.kind == "strand" for hole in plan.holes):
        text = "When the solvent has gone, feed the strands, fix them with glue that has no solvent, light each lamp."
        yield text, False, ("each strand lights",), ("solvent cement", "lamps", "flame")
    yield (
        "Before closing: play a sound, and feel with a wet finger for air at every seam. Seal what leaks.",
        True,
        ("no leak felt at any seam", "sound clear, nothing buzzes"),
        ("speaker",),
    )
    yield (
        "Put the shell on, drive in the screws, and run the model both ways round its tightest curve.",
        True,
        ("shell seats all along the sill", "trucks swing both ways", "nothing touches or rubs"),
        (),
    )


def _before_gluing(plan: Plan, names: set[str]) -> Iterator[_Raw]:
    text = f"Cut every set at its stop, longest first, to the settings on the bench card, with {plan.marks.rule.name}."
    yield text, False, ("each set equal",), ("knife", "numbers")
    if plan.holes and "bulkhead" in names:
        drills = ", ".join(f"{hole.drill.name} for {hole.name}" for hole in plan.holes)
        if "rear closure" in names:
            text = (
                "Before they are glued, drill the bulkhead for what leads to the front, the rear closure for the rest"
            )
        else:
            text = "Drill the bulkhead before it is glued"
        yield f"{text}: {drills}.", False, (), ("small drills",)


def _dry_fit(plan: Plan, names: set[str]) -> _Raw:
    where = plan.governing.zone.name
    what = "the bulkhead" if "bulkhead" in names else "the parts"
    what = "the bulkhead and the rear closure" if "rear closure" in names else what
    text = f"Dry fit, no glue: hold {what} in place, put the shell on, press a pellet of putty over {where}."
    checks = (
        "shell seats all along the sill",
        "trucks swing both ways",
        f"putty left over {where}: ______ mm (planned {float(plan.gap.left_mm):.2f} mm)",
    )
    return text, True, checks, ()


def _glue_walls(names: set[str]) -> Iterator[_Raw]:
    if "bulkhead" in names:
        yield (
            "Glue the corner posts to the shell's sides, then the bulkhead to roof and posts.",
            False,
            (),
            ("solvent cement",),
        )
    if "rear closure" in names:
        yield "Glue the closure posts, then the rear closure, square to the roof.", False, (), ("solvent cement",)


def _speaker(plan: Plan, names: set[str]) -> Iterator[_Raw]:
    supports = sorted(name for name in names if name.startswith("speaker support"))
    if supports:
        text = "Glue the four speaker supports to the roof, clear of the speaker's basket."
        equal = "all four of one height" if len(supports) == 1 else "each pair of one height, all four feet level"
        yield text, False, (equal,), ("solvent cement",)
    if names & {"side filler", "side plate"}:
        text = "Trim and sand the pieces for the speaker's sides until they slide in, and glue them."
        yield text, False, (), ("solvent cement", "knife")
    if any(name.startswith("floor plate") for name in names):
        text = "Lay the speaker in dry, fit the floor plates against it, and glue them to sides and posts, not to it."
        yield text, False, ("speaker still lifts out",), ("solvent cement",)
    if supports:
        text = "Solder the speaker's wires, bed its flange in sealant on the supports, and mark its polarity."
        yield text, False, (), ("hot iron", "speaker")
