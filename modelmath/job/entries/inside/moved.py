"""Holes moved by hand follow the strand or wire that they belong to: its new name, its new number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from modelmath.enclosure.holes import Hole
from modelmath.enclosure.holes.plate import numbered_holes
from modelmath.errors import OutOfRange

Through = tuple[str, int]  # the table, lamps or wires, and the place in it, from 0
HoleOf = tuple[str, int, int]  # and which of its strands or wires, from 0


def named_holes(document: Mapping[str, Any], without: Through | None = None) -> dict[HoleOf, str]:
    """Return the name of each hole, those of several strands or wires numbered.

    Parameters
    ----------
    document : dict
        The document. [-]
    without : tuple of (str, int) or None
        A lamp or wire to leave out; those behind it keep the places they have. [-]

    Returns
    -------
    dict
        Names by what passes the hole, in the order in which they are laid out. [-]

    Raises
    ------
    OutOfRange
        If there are too many.

    References
    ----------
    `numbered_holes`.
    """
    through = [("lamps", at, each["name"], each["strands"]) for at, each in _with_strand(document["lamps"])]
    through += [("wires", at, each["name"], each["count"]) for at, each in enumerate(document["wires"])]
    through = [each for each in through if each[:2] != without]
    if not through:
        return {}
    of = [(table, at, nth) for table, at, _, count in through for nth in range(count)]
    numbered = numbered_holes([Hole(name, 1, count=count) for _, _, name, count in through])
    return dict(zip(of, (hole.name for hole in numbered), strict=True))


def carry_moved(before: Mapping[str, Any], document: dict[str, Any], without: Through | None = None) -> list[str]:
    """Let the holes moved by hand follow what passes them; one that nothing passes any more is taken out.

    Parameters
    ----------
    before : dict
        The document as it was. [-]
    document : dict
        The document with lamps and wires as they are now; its holes are changed. [-]
    without : tuple of (str, int) or None
        The lamp or wire that is about to be taken out of `document`. [-]

    Returns
    -------
    list of str
        The names of the holes that are taken out. [-]

    References
    ----------
    None needed.
    """
    try:
        old, new = named_holes(before), named_holes(document, without)
    except OutOfRange:
        return []  # too many to be laid out, which the holes' own page says
    now = {name: new.get(of) for of, name in old.items()}
    called = [(each, now.get(each["name"], each["name"])) for each in document["holes"]]
    document["holes"] = [{**each, "name": name} for each, name in called if name is not None]
    return [each["name"] for each, name in called if name is None]


def _with_strand(lamps: Sequence[Mapping[str, Any]]) -> list[tuple[int, Mapping[str, Any]]]:
    return [(at, each) for at, each in enumerate(lamps) if each["strand"] is not None]
