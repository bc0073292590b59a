"""What lights a lamp, and the leads that pass a hole, follow the lamp's or the wires' name."""

from __future__ import annotations

from typing import Any


def carry_named(document: dict[str, Any], table: str, old: str, new: str) -> None:
    """Give what speaks of a lamp or of wires by their name the new name.

    Parameters
    ----------
    document : dict
        The document; its light is changed. [-]
    table : str
        lamps or wires. [-]
    old, new : str
        Its name before and now. [-]

    References
    ----------
    None needed.
    """
    for entry, field in _speaking_of(document, table):
        if entry[field] == old:
            entry[field] = new


def drop_named(document: dict[str, Any], table: str, name: str) -> None:
    """Take out what lights a lamp and its strands; let leads through wires that are gone pass no hole.

    Parameters
    ----------
    document : dict
        The document; its light is changed. [-]
    table : str
        lamps or wires. [-]
    name : str
        Of what is taken out. [-]

    References
    ----------
    None needed.
    """
    light = document["light"]
    if table == "wires":
        for lead in light["leads"]:
            lead["wires"] = None if lead["wires"] == name else lead["wires"]
        return
    for listed in ("circuits", "strands"):
        light[listed] = [entry for entry in light[listed] if entry["lamp"] != name]


def _speaking_of(document: dict[str, Any], table: str) -> list[tuple[dict[str, Any], str]]:
    light = document["light"]
    if table == "wires":
        return [(lead, "wires") for lead in light["leads"]]
    return [(entry, "lamp") for listed in ("circuits", "strands") for entry in light[listed]]
