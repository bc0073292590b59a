"""Which column is which, by its head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from modelmath.errors import UnknownChoice, WrongKind, shown

ROLES: dict[str, tuple[str, ...]] = {
    "name": ("name", "feature", "what", "place", "part"),
    "mark": ("mark", "reading", "value", "read", "measured"),
    "rule": ("rule", "instrument", "read with", "tool"),
    "datum": ("datum", "from", "read from"),
    "unit": ("unit", "units"),
    "note": ("note", "notes", "remark", "remarks"),
}
SURPLUS = "surplus cells"
PROBLEM = "problem"
RESULTS = ("length_mm", "length_in", "length_scale_ft", "u_mm", "u_reading_mm", "set_rule_at", "beyond_mm")
_WORDS = {word: role for role, words in ROLES.items() for word in words}


def plain_head(head: str) -> str:
    """Return a head as it is compared: in small letters, single spaces.

    Parameters
    ----------
    head : str
        A head as it stands. [-]

    Returns
    -------
    str
        The same in plain form. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> plain_head(" Read_With ")
    'read with'
    """
    return " ".join(head.replace("_", " ").split()).casefold()


def are_heads(row: Sequence[str], columns: Mapping[str, str] | None = None) -> bool:
    """Whether a row is one of heads: it names the column of marks.

    Parameters
    ----------
    row : sequence of str
        A row's cells. [-]
    columns : mapping of str to str, or None
        Heads of your own, by what they stand for. [-]

    Returns
    -------
    bool
        True for heads. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> are_heads(["Feature", "Reading"]), are_heads(["roof", "3 3/4"])
    (True, False)
    """
    plain = {plain_head(cell) for cell in row}
    own = (columns or {}).get("mark")
    return plain_head(own) in plain if own is not None else any(_WORDS.get(cell) == "mark" for cell in plain)


def roles_of(heads: Sequence[str] | None, width: int, columns: Mapping[str, str] | None = None) -> dict[str, int]:
    """Return the place of each column that is understood, by what it stands for.

    Parameters
    ----------
    heads : sequence of str or None
        The heads, if there are some. [-]
    width : int
        Columns of a table without heads: a name and a mark, or a mark alone. [-]
    columns : mapping of str to str, or None
        Heads of your own, by what they stand for. [-]

    Returns
    -------
    dict of str to int
        Columns by their role, counted from 0. [-]

    Raises
    ------
    UnknownChoice
        If `columns` names a role or a head that there is not.
    WrongKind
        If two columns stand for the same.

    References
    ----------
    None needed.

    Examples
    --------
    >>> roles_of(["Feature", "Rule", "Reading"], 3)
    {'name': 0, 'rule': 1, 'mark': 2}
    """
    own = dict(columns or {})
    for role in own:
        if role not in ROLES:
            raise UnknownChoice("a column's role", role, list(ROLES))
    if heads is None:
        if own:
            raise WrongKind("the table", "without these heads", f"heads, {shown(', '.join(own.values()))} among them",
                            "Write them above the columns.")  # fmt: skip
        return {"name": 0, "mark": 1} if width > 1 else {"mark": 0}
    plain = [plain_head(head) for head in heads]
    found: dict[str, int] = {}
    for role, head in own.items():
        if plain_head(head) not in plain:
            raise UnknownChoice(f"the head of the column of {role}s", head, list(heads))
        found[role] = plain.index(plain_head(head))
    for place, head in enumerate(plain):
        role = _WORDS.get(head, "")
        if not role or role in own or place in found.values():
            continue
        if role in found:
            both = f"{shown(heads[found[role]])} and {shown(heads[place])}"
            raise WrongKind("the heads", both, f"one column of {role}s", "Give one of the two another head.")
        found[role] = place
    return found


def extras_of(heads: Sequence[str] | None, roles: Mapping[str, int]) -> dict[str, int]:
    """Return the columns that are kept as they are; results of an earlier run are not.

    Parameters
    ----------
    heads : sequence of str or None
        The heads, if there are some. [-]
    roles : mapping of str to int
        The columns that are understood, from `roles_of`. [-]

    Returns
    -------
    dict of str to int
        Columns by a head of their own, counted from 0. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> extras_of(["mark", "shell", "length_mm"], {"mark": 0})
    {'shell': 1}
    """
    kept: dict[str, int] = {}
    for place, head in enumerate(heads or ()):
        if place in roles.values() or head.strip() in (*RESULTS, PROBLEM, SURPLUS):
            continue
        name = head.strip() or f"column {place + 1}"
        while name in kept or name in ROLES:
            name += " (2)"
        kept[name] = place
    return kept
