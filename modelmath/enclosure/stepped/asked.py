"""What can be asked of a floor with steps: checks, and in words why there is none."""

from __future__ import annotations

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.stepped.ground import Stretch
from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import Number, check_number


def why_no_steps(cavity: Cavity, limits: Limits, speaker: Speaker | None) -> str:
    """Say why a floor with steps is not worked out, where it is not.

    Parameters
    ----------
    cavity : Cavity
        For its obstacles. [mm]
    limits : Limits
        For cutting round them, and the wall's thickness. [mm]
    speaker : Speaker or None
        The speaker. [mm]

    Returns
    -------
    str
        A sentence or two; empty where `fit_stepped` works it out. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10),))
    >>> why_no_steps(cavity, Limits(1), Speaker(9, 9, 1, 4, faces="up"))
    'Steps are worked out for a speaker that faces down, as it needs a floor to sound through; this one faces up. The \
floor stays flat.'
    >>> why_no_steps(cavity, Limits(1), None)
    ''
    """
    if speaker is not None and speaker.faces != "down":
        way = "up" if speaker.faces == "up" else f"to the {speaker.faces}"
        return (
            "Steps are worked out for a speaker that faces down, as it needs a floor to sound through; this one faces "
            f"{way}. The floor stays flat."
        )
    if limits.cut_round and cavity.obstacles:
        return (
            "Steps are not worked out where the floor is cut round what is narrower than the shell. Leave cutting "
            "round out to see what steps would buy instead."
        )
    if not limits.wall_mm > 0:
        return "Steps are not worked out with walls of 0 mm: a riser is as thick as a wall. Enter a wall's thickness."
    return ""


def check_asked(
    cavity: Cavity,
    limits: Limits,
    speaker: Speaker | None,
    most_steps: int,
    least_mm: tuple[Number | None, Number],
    space: Stretch | None,
) -> None:
    """Refuse what no floor with steps is worked out for.

    Parameters
    ----------
    cavity : Cavity
        For its obstacles. [mm]
    limits : Limits
        For cutting round them, and the wall's thickness. [mm]
    speaker : Speaker or None
        Has to face down. [mm]
    most_steps : int
        How many steps, 0 or more. [-]
    least_mm : tuple of two
        Least length of a level, None for two walls, and least height of a riser. [mm]
    space : tuple of two, or None
        Front and rear end of the space to stay in. [mm]

    Raises
    ------
    OutOfRange
        If the speaker faces another way, a count or length is too small, or the floor is to be cut round something.
    WrongKind
        If a number is of another kind.

    References
    ----------
    None needed.
    """
    _check_steps(most_steps)
    _check_what_it_holds(cavity, limits, speaker)
    if most_steps and not limits.wall_mm > 0:
        raise OutOfRange("wall", "0 mm", "above 0 where the floor has steps", "Write how thick a riser is.")
    shortest, riser = least_mm
    if shortest is not None:
        _check_shortest(shortest, limits)
    _check_space(space)
    _check_riser(riser)


def _check_steps(most_steps: int) -> None:
    if isinstance(most_steps, bool) or not isinstance(most_steps, int):
        raise WrongKind("most steps", shown(str(most_steps)), "a whole number", "Write how many steps, such as 2.")
    if most_steps < 0:
        raise OutOfRange("most steps", str(most_steps), "0 or more", "Write 0 for a flat floor.")


def _check_what_it_holds(cavity: Cavity, limits: Limits, speaker: Speaker | None) -> None:
    if speaker is not None and speaker.faces != "down":
        advice = "Let it face down, or fit it over a flat floor."
        raise OutOfRange(f"{speaker.name}: faces", f"'{speaker.faces}'", "'down' over a floor with steps", advice)
    if limits.cut_round and cavity.obstacles:
        advice = "Let obstacles count across the full width, or fit a flat floor."
        raise OutOfRange("cutting the floor round obstacles", "asked for", "left out over a floor with steps", advice)


def _check_shortest(shortest: Number, limits: Limits) -> None:
    check_number("the shortest level", shortest)
    if shortest < 2 * limits.wall_mm:
        least = f"{float(2 * limits.wall_mm):g} mm or more, two walls"
        raise OutOfRange("the shortest level", f"{float(shortest):g} mm", least, "Write a longer one.")


def _check_space(space: Stretch | None) -> None:
    if space is None:
        return
    for name, place in zip(("the space: front end", "the space: rear end"), space, strict=True):
        check_number(name, place)
    if not space[1] > space[0]:
        given = f"from {float(space[0]):g} to {float(space[1]):g} mm"
        raise OutOfRange("the space", given, "longer than 0", "Write its front end first.")


def _check_riser(least: Number) -> None:
    check_number("the least riser", least)
    if least < 0:
        raise OutOfRange("the least riser", f"{float(least):g} mm", "0 or more", "Write 0 mm where any height will do.")
