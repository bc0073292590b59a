"""What is done before the shell is off and after all is in: how it comes off, what stays removable, what is joined."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def opening(plan: Plan) -> str:
    """Return how the shell comes off, and what is made safe before anything else.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    str
        The first step. [-]

    References
    ----------
    Common practice, no source.
    """
    screws = [each.name for each in plan.job.obstacles if each.kind == "screw"]
    undone = f"undo {_all(screws)}, " if screws else ""
    lift = plan.job.lift_off
    if lift is None:
        off = "lift the shell straight up"
    else:
        height = format_length(plan.bench.length(lift.height, "lift_off", "height"), "mm")
        off = f"hinge the shell off about its {lift.end} end, {height} above its seat"
    return f"Take all power off, {undone}{off}, and insulate a live frame with tape."


def closing(plan: Plan) -> tuple[str, tuple[str, ...]]:
    """Return what is joined and looked at last, before the shell goes on for good.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str and tuple of str
        The step and its checks. [-]

    References
    ----------
    Common practice, no source.
    """
    light = plan.job.light
    crossing = [lead.name for lead in light.leads if lead.crosses]
    plug = light.plug.name if light.plug is not None else ""
    if plug:
        joined = f"Put the {plug} together the way round that it is marked"
    elif crossing:
        joined = f"Join {_all(crossing)} from shell to chassis, each to the colour it was taken from"
    else:
        joined = "Join shell and chassis, each wire to the colour it was taken from"
    lay = "tape over a live frame and every bare joint, and lay all wires clear of what moves"
    text = f"Take all power off again. {joined}, {lay}."
    stays = [f"the {what} still comes out" for what in sorted(plan.job.chamber.removable)]
    return text, ("no bare metal touches the frame", "plug and polarity as marked", *stays)


def _all(names: list[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
