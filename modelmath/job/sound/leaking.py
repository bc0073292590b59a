"""What leaks would do to the plan's chamber: open wire holes, a gap along a wall, an open back; how tight is enough."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import inf, pi, sqrt
from typing import TYPE_CHECKING

from modelmath.lengths.text import to_digits
from modelmath.quantities.known import Known
from modelmath.sound.driver.relations import q_together
from modelmath.sound.leaks.bench import LeakTest
from modelmath.sound.leaks.finding import leak_test
from modelmath.sound.leaks.leak import Leak, hole, open_back, slot
from modelmath.sound.leaks.leaky_box import HARMLESS, LeakEffect, leak_effect
from modelmath.sound.leaks.sealing import LEAST_QL, MOST_SHIFT, Sealing, sealing

if TYPE_CHECKING:
    from modelmath.job.sound.in_chamber import InChamber
    from modelmath.sound.closed_box.box import ClosedBox
    from modelmath.sound.driver.driver import Driver

SILENT_DB = 0.05  # a change below this shows as none
QL_IN_WORDS = "how many times more air the chamber's spring takes up than rubs its way out through the leak"
GAP_MM = 0.1  # a joint that looks shut: a sheet of paper goes in; common practice, no source


@dataclass(frozen=True)
class Leaking:
    """What leaks do to the chamber.

    Attributes
    ----------
    effects : tuple of (str, LeakEffect)
        What leaks, in words, and what it does: wire holes left open, a gap along a wall, an open back. [-]
    sealing : Sealing
        How tight is tight enough. [mm]
    test : LeakTest
        How to find out at the bench. [-]
    """

    effects: tuple[tuple[str, LeakEffect], ...]
    sealing: Sealing
    test: LeakTest

    @property
    def said(self) -> tuple[str, ...]:
        """What each leak does, its verdict first; Ql is explained where it first comes up. [-]"""
        lossy = next((place for place, (_, effect) in enumerate(self.effects) if effect.ql < inf), None)
        return tuple(_said(*each, explained=place == lossy) for place, each in enumerate(self.effects))


def leaking_of(sound: InChamber) -> Leaking:
    """Work out what leaks do to the plan's chamber.

    Parameters
    ----------
    sound : InChamber
        The speaker in its chamber. [-]

    Returns
    -------
    Leaking
        Of the leaks that the plan may have. [-]

    Raises
    ------
    NotYetKnown, OutOfRange
        If the chamber's response can't be worked out.

    References
    ----------
    `modelmath.sound.leaks`.
    """
    wall_mm = float(sound.plan.limits.wall_mm)
    return leaking_in(sound.box, _leaks(sound), joint_mm(sound), wall_mm)


def as_filled(box: ClosedBox) -> tuple[Driver, float]:
    """Return a speaker and a volume that do unfilled what a box with its filling does, by the best values.

    Parameters
    ----------
    box : ClosedBox
        A speaker in a chamber, filled or not. [-]

    Returns
    -------
    tuple of (Driver, float)
        The speaker with the filling's loss in its Qms, and the volume that the filled one acts as. [mm3]

    References
    ----------
    `Stuffing`: its volume gain, and the Q of its loss at the resonance in the chamber.
    """
    driver, loss = box.driver, box.stuffing.q_box[1]
    volume = box.volume_mm3.best * box.stuffing.volume_gain[1]
    vas, qes, qms = (driver.known(field) for field in ("vas_mm3", "qes", "qms"))
    assert vas is not None
    assert qes is not None
    assert qms is not None
    if loss == inf:
        return driver, volume
    rise = sqrt(1 + vas.value / volume)
    own = q_together(qms.value * rise, loss) / rise
    found = {"qms": Known.of(own, "derived"), "qts": Known.of(q_together(qes.value, own), "derived")}
    return driver.with_known(**found), volume


def leaking_in(
    box: ClosedBox, leaks: Iterable[tuple[str, tuple[Leak, ...]]], joint_mm: float, wall_mm: float
) -> Leaking:
    """Work out what leaks do to a chamber, with its filling.

    Parameters
    ----------
    box : ClosedBox
        The speaker in the chamber, by its best values. [-]
    leaks : iterable of (str, tuple of Leak)
        What leaks, in words, and its openings. [-]
    joint_mm : float
        Length of the joint to be sealed. [mm]
    wall_mm : float
        Thickness of the wall: how far the air goes through a joint or a hole. [mm]

    Returns
    -------
    Leaking
        Of those leaks. [-]

    Raises
    ------
    NotYetKnown, OutOfRange
        If the response can't be worked out, or the chamber is so large that no small opening matters.

    References
    ----------
    `modelmath.sound.leaks`.
    """
    driver, volume_mm3 = as_filled(box)
    effects = tuple((words, leak_effect(driver, volume_mm3, openings)) for words, openings in leaks)
    tight = sealing(driver, volume_mm3, joint_mm=joint_mm, joint_depth_mm=wall_mm, hole_depth_mm=wall_mm)
    # Slow air keeps its temperature, filled or not: the test's chamber is as large as it is.
    return Leaking(effects, tight, leak_test(driver, box.volume_mm3.best, tight))


def _said(words: str, effect: LeakEffect, explained: bool) -> str:
    """Return what a leak does: its verdict, by how far it passes what is harmless, and what that sounds like."""
    way = "up" if effect.shift > 0 else "down"
    moved = (
        f"the -3 dB point goes from {effect.sealed_f3_hz:.0f} Hz to {effect.f3_hz:.0f} Hz, "
        f"{100 * abs(effect.shift):.0f} % {way} (up to {100 * MOST_SHIFT:.0f} % is harmless)"
    )
    if effect.ql < inf:
        what = f", {QL_IN_WORDS}, is" if explained else " is"
        moved += f", and Ql{what} {to_digits(effect.ql)} ({LEAST_QL:.0f} or more is harmless)"
    sounds = ""
    if effect.booms:
        sounds = f" {effect.port_in_words[0].upper()}{effect.port_in_words[1:]}."
    elif effect.octave_lower_db < -SILENT_DB and effect.verdict != HARMLESS:
        softer = f"{-effect.octave_lower_db:.1f} dB softer"
        sounds = f" At {effect.fc_hz / 2:.0f} Hz, an octave below the resonance, the sound is {softer}."
    return f"{words}: {effect.verdict}. {moved[0].upper()}{moved[1:]}.{sounds}"


def _leaks(sound: InChamber) -> Iterator[tuple[str, tuple[Leak, ...]]]:
    """Yield the leaks that the plan may have: every hole left open, one joint, the whole back."""
    plan = sound.plan
    wall = float(plan.limits.wall_mm)
    open_holes = tuple(
        hole(float(line.drill.diameter_mm), wall) for line in plan.holes for _ in range(line.count) if line.picks
    )
    if open_holes:
        count = "the hole" if len(open_holes) == 1 else f"all {len(open_holes)} holes"
        yield f"With {count} for wires and strands left open, nothing in them", open_holes
    joint = joint_mm(sound)
    yield f"With a gap of {GAP_MM:g} mm along the {joint:.0f} mm round its wall", (slot(joint, GAP_MM, wall),)
    yield "With the back left open, no wall at all", (open_back(_section_mm2(sound), wall),)


def joint_mm(sound: InChamber) -> float:
    """Return the way round a wall's edge, where it is glued: sides, roof and floor.

    Parameters
    ----------
    sound : InChamber
        The speaker in its chamber. [-]

    Returns
    -------
    float
        Twice its width and its height. [mm]

    References
    ----------
    Elementary geometry.
    """
    chamber = sound.plan.chamber
    assert chamber is not None
    bay = chamber.bays[0]
    return 2 * float(bay.zone.width_mm) + 2 * float(bay.zone.roof_mm - chamber.floor_mm)


def _section_mm2(sound: InChamber) -> float:
    """Return the chamber's cross-section at its end, at least that of a pinhole."""
    chamber = sound.plan.chamber
    assert chamber is not None
    zone = chamber.bays[0].zone
    if zone.profile is None:
        area = float(zone.width_mm * (zone.roof_mm - chamber.floor_mm))
    else:
        area = float(zone.profile.area_above(chamber.floor_mm))
    return max(area, pi)
