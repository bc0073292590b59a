"""Figures that take a search: how tight is tight enough, the leak test, what other volumes would do."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.why.figures import Figure
from modelmath.job.why.sounding._parameters import CUTOFF, RESONANCE, SMALL, _names

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

CIRCUIT = "lumped circuit of driver, chamber and leak; textbooks, from memory"


def sealing(plan: Plan) -> Iterator[Figure]:
    """Yield the largest gap and hole, what each leak does, and the steps of the test."""
    sound = plan.sound
    if sound is None:
        return
    found = sound.leaking
    tight = found.sealing
    joint = f"{tight.joint_mm:.3g} mm"
    how = f"twice the width and twice the height of the chamber at its end: {joint}"
    yield Figure("joint to seal", joint, how, "elementary geometry", ("chamber volume",))
    below = ("joint to seal", "wall", RESONANCE, CUTOFF, *_names("sd_mm2", "vas_mm3"))
    how = f"the largest that does no harm. {tight.in_words}"
    yield Figure("widest gap that may stay", f"{tight.gap_mm:.2g} mm", how, CIRCUIT, below)
    yield Figure("largest hole that may stay", f"{tight.hole_mm:.2g} mm", how, CIRCUIT, below)
    for (words, effect), said in zip(found.effects, found.said, strict=True):
        value = f"{effect.f3_hz:.0f} Hz"
        yield Figure(f"leak: {words[:1].lower()}{words[1:]}", value, said, CIRCUIT, below)
    steps = " ".join(found.test.steps)
    most = found.test.steps[0].partition(":")[0]
    behind = ("largest hole that may stay", "net volume" if plan.net_volume else "chamber volume", *_names("xmax_mm"))
    yield Figure("leak test", most, steps, f"{CIRCUIT}; common practice, no source", behind)


def volumes(plan: Plan) -> Iterator[Figure]:
    """Yield what other volumes would do, and what volume the wanted Qtc takes."""
    sound = plan.sound
    if sound is None:
        return
    here = "net volume" if plan.net_volume is not None and plan.net_volume.shares else "chamber volume"
    below = (here, RESONANCE, "filling", *_names("fs_hz", "vas_mm3"))
    how = f"the -3 dB point of each. {sound.curve.in_words}"
    (_, _, first), *others = sound.curve.marked
    value = f"{first:.0f} Hz here; {', '.join(f'{f3:.0f} Hz' for _, _, f3 in others)}"
    yield Figure("what other volumes would do", value, how, SMALL, below)
    if sound.wanted:
        yield Figure(
            "volume for the wanted Qtc",
            sound.wanted.partition(". ")[0],
            sound.wanted,
            f"{SMALL}; the job, sound",
            below,
        )
