"""The chamber's net volume: gross, less parts, speaker and what runs through it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.enclosure.net import NetVolume, Passing, net_volume

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def net_of(plan: Plan) -> NetVolume | None:
    """Return gross and net volume, with what each thing takes.

    Strands and wires that pass a wall are counted over the chamber's whole length: where they go inside is not known.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    NetVolume or None
        None while there is no chamber. [mm3]

    Raises
    ------
    OutOfRange
        If more stands in the chamber than it holds.

    References
    ----------
    `net_volume`.
    """
    chamber = plan.chamber
    if chamber is None:
        return None
    bench = plan.bench
    return net_volume(chamber, bench.speaker, plan.parts, plan.limits, passing_of(plan), decoder=bench.decoder)


def passing_of(plan: Plan) -> list[Passing]:
    """Return what passes a chamber's walls, and so runs through it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    list of Passing
        Strands and wires. [mm]

    References
    ----------
    None needed.
    """
    return [Passing(each.name, each.diameter_mm, each.count) for each in plan.holes]
