"""Sentences on a budget: what is too much or lacks, by how much, and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from typing import cast

from modelmath.errors import UnknownChoice
from modelmath.light.feeding.amounts import SAME, banded, beside, listed
from modelmath.light.feeding.draw import Draw, Verdict
from modelmath.light.feeding.lines import OutputLine
from modelmath.light.feeding.loads import Load
from modelmath.light.feeding.sheet import FIGURES, DecoderSheet
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told


def counted(count: int, what: str) -> str:
    """Return how many of a thing, in the singular for one.

    Parameters
    ----------
    count : int
        How many. [-]
    what : str
        What, in the singular. [-]

    Returns
    -------
    str
        Number and word. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> counted(1, "output"), counted(3, "output")
    ('1 output', '3 outputs')
    """
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def summary(needed: int, there: int | None, current_a: Band, faults: int, verdict: Verdict) -> str:
    """Return what a budget comes to.

    Parameters
    ----------
    needed : int
        Outputs that are needed. [-]
    there : int or None
        Outputs of the sheet, where entered. [-]
    current_a : Band
        Current of all lamps. [A]
    faults : int
        How many faults were found. [-]
    verdict : str
        That of the budget. [-]

    Returns
    -------
    str
        A sentence or two. [-]

    References
    ----------
    None needed.
    """
    of = "" if there is None else f" of {there}"
    needs = "output is" if needed == 1 and there is None else "outputs are"
    head = f"{needed}{of} {needs} needed, and all lamps together draw {banded(current_a, 'current_a')}."
    ends = {
        "over": f"{counted(faults, 'thing')} must change before it is wired.",
        "may be over": "With every limit at its worst it may be too much: measure the currents.",
        "within": "All of it is within what your sheet states.",
        "not known": "What your sheet's missing figures would say is not judged.",
    }
    return f"{head} {ends[verdict]}"


def unknown_outputs(lines: Sequence[OutputLine], outputs: Sequence[str]) -> list[str]:
    """Return a sentence for each output that lamps name and the sheet has not.

    Parameters
    ----------
    lines : sequence of OutputLine
        The outputs that only lamps name. [-]
    outputs : sequence of str
        Those of the sheet. [-]

    Returns
    -------
    list of str
        The sentences. [-]

    References
    ----------
    None needed.
    """
    return [
        f"Your decoder's sheet has no such output: {UnknownChoice(_output_of(line), line.output, outputs)}"
        for line in lines
    ]


def _output_of(line: OutputLine) -> str:
    return f"the output of {listed(line.lamps)}"


def lacking_outputs(unassigned: Sequence[Load], needed: int, there: int | None, free: Sequence[str]) -> list[str]:
    """Return the sentence on outputs that lack, if any do.

    Parameters
    ----------
    unassigned : sequence of Load
        Lamps that have no output. [-]
    needed : int
        Outputs that are needed. [-]
    there : int or None
        Outputs of the sheet, where entered. [-]
    free : sequence of str
        Outputs that nothing hangs on. [-]

    Returns
    -------
    list of str
        None or one. [-]

    References
    ----------
    None needed.
    """
    found = []
    if there is not None and needed > there:
        share = f"Let {counted(needed - there, 'lamp')} share an output with others that light with them"
        found.append(
            f"{counted(needed, 'output')} are needed and the decoder has {there}: {needed - there} too few. "
            f"{share}, or take a decoder with more outputs."
        )
    if unassigned:
        has = "has" if len(unassigned) == 1 else "have"
        which = (
            f"{listed(free)} {'is' if len(free) == 1 else 'are'} free"
            if free
            else "no output is free"
            if there
            else "no outputs of your sheet are entered"
        )
        found.append(f"{listed(load.name for load in unassigned)} {has} no output yet; {which}.")
    return found


def output_over(line: OutputLine, move: tuple[Load, str] | None) -> str:
    """Return the sentence on an output that gives too much.

    Parameters
    ----------
    line : OutputLine
        The output; its limit is known. [-]
    move : tuple of Load and str, or None
        A load that could hang elsewhere, and where. [-]

    Returns
    -------
    str
        The sentence. [-]

    References
    ----------
    None needed.
    """
    draws = "draws" if len(line.loads) == 1 else "draw"
    head = _too_much(f"Output '{line.output}' may give", f"{listed(line.lamps)} {draws}", line.draw)
    less = f"give {'it' if len(line.loads) == 1 else 'each'} {_percent(line.draw)} of that current or less"
    if move is not None:
        return f"{head} Hang '{move[0].name}' on '{move[1]}', which is free, or {less}."
    return f"{head} {less[0].upper()}{less[1:]}."


def all_over(together: Draw) -> list[str]:
    """Return the sentence on all lamps together, if they are too much.

    Parameters
    ----------
    together : Draw
        Their current and limit. [-]

    Returns
    -------
    list of str
        None or one. [-]

    References
    ----------
    None needed.
    """
    if together.verdict != "over":
        return []
    head = _too_much("All outputs together may give", "all lamps on at once draw", together)
    return [f"{head} Give each {_percent(together)} of its current or less, or never light all of them at once."]


def whole_over(whole: Draw, lamps: Band) -> list[str]:
    """Return the sentence on the whole decoder, if it is too much.

    Parameters
    ----------
    whole : Draw
        Current of lamps, sound and motor, and its limit. [-]
    lamps : Band
        Current of the lamps alone. [A]

    Returns
    -------
    list of str
        None or one. [-]

    References
    ----------
    None needed.
    """
    if whole.verdict != "over":
        return []
    head = _too_much("The whole decoder may give", f"{_counted_in(whole)} draw", whole)
    left = lamps.best - _over_a(whole)
    if left > SAME:
        advice = f"Bring all lamps together down to {told(left, 'current_a')}, or take a decoder that gives more"
    else:
        advice = "No saving on the lamps is enough: take a decoder that gives more"
    return [f"{head} {advice}."]


def _counted_in(whole: Draw) -> str:
    """Return what is in the current of the whole decoder."""
    parts = ["lamps", *(each for each in ("sound", "motor") if each not in whole.lacking)]
    return "the lamps alone" if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _too_much(may_give: str, draw_text: str, draw: Draw) -> str:
    limit, current = _limit(draw).value, draw.current_a.best
    most, drawn = beside(limit, current, "a"), beside(current, limit, "a")
    return f"{may_give} {most} and {draw_text} {drawn}: {told(_over_a(draw), 'a')} too much."


def _limit(draw: Draw) -> Known:
    """Return a limit that is known, as it is wherever a current is said to be over it or may be."""
    return cast(Known, draw.limit_a)


def _over_a(draw: Draw) -> float:
    return draw.current_a.best - _limit(draw).value


def _percent(draw: Draw) -> str:
    """Return the share of the current that is within the limit, rounded down."""
    share = 100 * _limit(draw).value / draw.current_a.best
    return f"{floor(share)} %" if share >= 1 else "less than 1 %"


def doubts(lines: Sequence[OutputLine], together: Draw, whole: Draw) -> list[str]:
    """Return a sentence on each current that may be too much with every limit at its worst.

    Parameters
    ----------
    lines : sequence of OutputLine
        The outputs. [-]
    together, whole : Draw
        All lamps, and the whole decoder. [-]

    Returns
    -------
    list of str
        The sentences. [-]

    References
    ----------
    None needed.
    """
    asked = [(f"Output '{line.output}'", line.draw) for line in lines]
    asked += [("All lamps together", together), ("The whole decoder", whole)]
    return [_doubt(what, draw) for what, draw in asked if draw.verdict == "may be over"]


def _doubt(what: str, draw: Draw) -> str:
    least = _limit(draw).low
    drawn, most = beside(draw.current_a.high, least, "a"), beside(least, draw.current_a.high, "a")
    over = told(draw.current_a.high - least, "a")
    return f"{what} may be over: at worst {drawn} against {most}, {over} too much. Measure the current, or lower it."


def notes(lines: Sequence[OutputLine], together: Draw, whole: Draw, sheet: DecoderSheet) -> list[str]:
    """Return what is not entered and so not judged, and how lamps are counted.

    Parameters
    ----------
    lines : sequence of OutputLine
        The outputs. [-]
    together, whole : Draw
        All lamps, and the whole decoder. [-]
    sheet : DecoderSheet
        The sheet. [-]

    Returns
    -------
    list of str
        The sentences. [-]

    References
    ----------
    None needed.
    """
    found = []
    if not sheet.outputs:
        found.append("Your sheet's outputs are not entered, so whether there are enough is not judged.")
    unlimited = any(line.loads and line.limit_a is None for line in lines)
    for field, missing in (
        ("each_a", unlimited),
        ("all_a", together.limit_a is None),
        ("whole_a", sheet.whole_a is None),
    ):
        if missing:
            found.append(f"Your sheet's figure for {FIGURES[field][0]} is not entered, so that is not judged.")
    if sheet.whole_a is not None and whole.lacking:
        what = " and ".join(whole.lacking)
        found.append(f"The current of the {what} is not entered: the whole decoder gives more than is counted here.")
    found.append("All lamps count as on at once, whatever the direction.")
    return found
