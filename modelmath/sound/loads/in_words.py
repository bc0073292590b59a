"""Checked loads as plain text: one load in sentences, all wirings as a table."""

from __future__ import annotations

from collections.abc import Sequence

from modelmath.errors import OutOfRange
from modelmath.sound.loads.amounts import number_word, told
from modelmath.sound.loads.check import LoadCheck, Share
from modelmath.sound.loads.naming import listed, wiring_in_words
from modelmath.sound.loads.reasons import down_in_words

HEADS = ("Wiring", "Impedance", "Power", "Each speaker gets", "Level", "Verdict")
UNKNOWN = "not known"
LEVEL_NOTE = "Level: against the first row, with what more like cones add, an estimate; at the volume the verdict says."


def _verdict(check: LoadCheck) -> str:
    if check.verdict == "refused":
        return check.verdict
    verdict = "fits" if check.fits else f"turn down by {down_in_words(check.turn_down_db)}"
    if check.power_w is None:
        return f"{verdict} by impedance; power not judged"
    unjudged = [share.name for share in check.shares if share.within is None]
    return f"{verdict}; power of {listed(unjudged)} not judged" if unjudged else verdict


def _power(check: LoadCheck) -> str:
    if check.verdict == "refused":
        return "-"
    return UNKNOWN if check.power_w is None else f"{told(check.power_w, decimals=2)} W"


def _got(share: Share) -> str:
    if share.power_w is None:
        return f"{100 * share.part:.0f} %"
    return f"{told(share.power_w, share.rated_w, 2)} W"


def _rated(share: Share) -> str:
    return "" if share.power_w is None or share.rated_w is None else f", rated {share.rated_w:g} W"


def _groups(check: LoadCheck) -> list[tuple[list[str], Share]]:
    """Return the names of those that get the same and are rated the same, with what each of them gets."""
    groups: dict[str, tuple[list[str], Share]] = {}
    for share in check.shares:
        groups.setdefault(f"{_got(share)}{_rated(share)}", ([], share))[0].append(share.name)
    return list(groups.values())


def _each(check: LoadCheck) -> str:
    """Return what each speaker gets; those that get the same stand together, like ones by how many."""
    if check.verdict == "refused":
        return "-"
    groups, said = _groups(check), []
    for names, share in groups:
        who = f"{number_word(len(names)) if check.by_count else listed(names)} " if len(groups) > 1 else ""
        said.append(f"{who}{_got(share)}{' each' if len(names) > 1 else ''}{_rated(share)}")
    return "; ".join(said)


def _each_gets(check: LoadCheck) -> str:
    """Return the same as the end of a sentence."""
    groups, said = _groups(check), []
    for names, share in groups:
        who = number_word(len(names)) if check.by_count else listed(names)
        if len(groups) == 1:
            who = "each" if len(names) > 1 else "it"
        verb, each = ("get", " each") if len(names) > 1 and len(groups) > 1 else ("gets", "")
        said.append(f"{who} {verb} {_got(share)}{each}{_rated(share)}")
    return "; ".join(said)


def _level(check: LoadCheck, best: LoadCheck) -> str:
    if check.verdict == "refused":
        return "-"
    if check.level_db is None or best.level_db is None:
        return UNKNOWN
    return f"{check.level_db - best.level_db + 0.0:+.1f} dB"


def load_rows(checks: Sequence[LoadCheck], most: int | None = None) -> tuple[tuple[str, ...], ...]:
    """Return the cells of the table of wirings, one row for each, under `HEADS`.

    Parameters
    ----------
    checks : sequence of LoadCheck
        As `table_of_wirings` gives them, the best first. [-]
    most : int or None
        How many rows at most, the best ones; all if not given. [-]

    Returns
    -------
    tuple of tuple of str
        Cells, each with its unit. [-]

    Raises
    ------
    OutOfRange
        If fewer than one row is asked for.

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.sound.loads import AmpOutput, RatedSpeaker, several, table_of_wirings
    >>> output = AmpOutput(least_ohm=8, power_w=1, at_ohm=8)
    >>> load_rows(table_of_wirings(several(RatedSpeaker("box", 8, 1), 2), output))[0]
    ('two in series', '16.0 ohm', '0.50 W', '0.25 W each, rated 1 W', '+0.0 dB', 'fits')
    """
    if most is not None and most < 1:
        raise OutOfRange("the number of rows", str(most), "1 or more", "Leave it out for all of them.")
    return tuple(
        (
            check.in_words,
            f"{told(check.impedance_ohm)} ohm",
            _power(check),
            _each(check),
            _level(check, checks[0]),
            _verdict(check),
        )
        for check in checks[:most]
    )


def text_table(checks: Sequence[LoadCheck]) -> str:
    """Return the table of wirings as text; under each row that is no plain fit stands why.

    Parameters
    ----------
    checks : sequence of LoadCheck
        As `table_of_wirings` gives them, the best first. [-]

    Returns
    -------
    str
        Lines of text, columns lined up; empty where there are no checks. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.sound.loads import AmpOutput, RatedSpeaker, several, table_of_wirings
    >>> output = AmpOutput(least_ohm=8, power_w=1, at_ohm=8)
    >>> print(text_table(table_of_wirings(several(RatedSpeaker("box", 8, 1), 2), output)))
    Wiring           Impedance  Power   Each speaker gets       Level    Verdict
    two in series    16.0 ohm   0.50 W  0.25 W each, rated 1 W  +0.0 dB  fits
    two in parallel  4.0 ohm    -       -                       -        refused
        4.0 ohm is below the 8 ohm that the decoder drives at least: wire the two in series.
    Level: against the first row, with what more like cones add, an estimate; at the volume the verdict says.
    """
    if not checks:
        return ""
    rows = load_rows(checks)
    widths = [max(len(row[column]) for row in (HEADS, *rows)) for column in range(len(HEADS))]
    lines = [_line(HEADS, widths)]
    for row, check in zip(rows, checks, strict=True):
        lines.append(_line(row, widths))
        why = check.reasons if check.verdict == "refused" else check.reasons[1:]
        lines.extend(f"    {reason}" for reason in why)
    return "\n".join([*lines, LEVEL_NOTE])


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()


def load_in_words(check: LoadCheck) -> tuple[str, ...]:
    """Return one checked load in sentences: the wiring, what it comes to, why, and what was assumed.

    Parameters
    ----------
    check : LoadCheck
        The load. [-]

    Returns
    -------
    tuple of str
        Sentences. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.sound.loads import AmpOutput, RatedSpeaker, Single, check_load
    >>> check = check_load([RatedSpeaker("front", 8, 1)], Single("front"), AmpOutput(8, power_w=1, at_ohm=8))
    >>> for sentence in load_in_words(check)[:3]:
    ...     print(sentence)
    Wiring: front alone. 8.0 ohm: fits.
    8.0 ohm is within the 8 ohm or more that the decoder drives.
    Up to 1.00 W before it clips, at 2.83 V rms: it gets 1.00 W, rated 1 W.
    """
    by_name = f" ({wiring_in_words(check.wiring)})" if check.by_count else ""
    head = f"Wiring: {check.in_words}{by_name}. {told(check.impedance_ohm)} ohm: {_verdict(check)}."
    said = [head, *check.reasons]
    if check.power_w is not None and check.clipping_v is not None:
        power, volts = told(check.power_w, decimals=2), told(check.clipping_v, decimals=2)
        said.insert(2, f"Up to {power} W before it clips, at {volts} V rms: {_each_gets(check)}.")
    return (*said, *check.notes)
