"""The rows of a table, column by column: what each cell means, and what is wrong with a row."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice
from modelmath.lengths.rules import DATUMS, Rule
from modelmath.lengths.table.cells import Cells
from modelmath.lengths.table.heads import SURPLUS, extras_of, plain_head, roles_of
from modelmath.lengths.table.marks import Way, read_marks
from modelmath.lengths.units import unit_name


@dataclass
class Rows:
    """The rows of a table below its heads, understood.

    Attributes
    ----------
    numbers : array of int
        Row numbers as a spreadsheet shows them. [-]
    text : dict of str to array
        Cells as they stand, by what they stand for or by head. [-]
    names, marks : array of str
        What was read, and the mark as it was written. [-]
    rule_at, datum_at, unit_at : array of int
        Places among the rules, among `DATUMS` and among `units`. [-]
    units : list of str or None
        Units of bare numbers; None for the rule's own. [-]
    shown_mm : array
        What each rule showed; 0 in a bad row. [mm]
    problems : dict of int to str
        What is wrong with bad rows, by place. [-]
    empty : array of bool
        Rows with nothing in them. [-]
    """

    numbers: Any
    text: dict[str, Any]
    names: Any
    marks: Any
    rule_at: Any
    datum_at: Any
    units: list[str | None]
    unit_at: Any
    shown_mm: Any = None
    problems: dict[int, str] = field(default_factory=dict)
    empty: Any = None


def understand(
    cells: Cells, rules: Mapping[str, Rule], datum: str, unit: str | None, columns: Mapping[str, str] | None
) -> Rows:
    r"""Return what the rows of a table mean.

    Parameters
    ----------
    cells : Cells
        The table. [-]
    rules : mapping of str to Rule
        By name; the first is that of a row which names none. [-]
    datum : {"end", "zero"}
        What stood against the part where a row doesn't say. [-]
    unit : str or None
        Unit of a bare number where a row doesn't say; None for the rule's own. [-]
    columns : mapping of str to str, or None
        Heads of your own, by what they stand for. [-]

    Returns
    -------
    Rows
        All rows; a bad one has its problem told, and raises nothing. [mm]

    Raises
    ------
    UnknownChoice, WrongKind
        If the heads don't tell what is where.

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.table.cells import to_cells
    >>> from modelmath.lengths.table.heads import are_heads
    >>> from modelmath.lengths.table.sources import Source
    >>> cells = to_cells(Source("name;mark\nroof;7\n\ntop;7 x"), are_heads)
    >>> rows = understand(cells, {"rule": Rule(scale="HO", zero_offset="1")}, "end", None, None)
    >>> rows.numbers.tolist(), rows.shown_mm.tolist(), list(rows.problems), rows.empty.tolist()
    ([2, 3, 4], [24.5, 0.0, 0.0], [2], [False, True, False])
    """
    import numpy as np

    roles = roles_of(cells.heads, len(cells.columns), columns)
    body = [column[cells.head_row :] for column in cells.columns]
    text = {role: body[place] for role, place in roles.items()}
    text |= {head: body[place] for head, place in extras_of(cells.heads, roles).items()}
    numbers = np.arange(len(text["mark"])) + cells.head_row + 1
    units: list[str | None] = [None if unit is None else unit_name(unit)]
    names = {plain_head(name): place for place, name in enumerate(rules)}
    datums = {word: place for place, word in enumerate(DATUMS)}
    problems: dict[int, str] = {}
    rows = Rows(
        numbers, text, _named(text.get("name"), numbers), text["mark"], units=units, problems=problems,
        rule_at=_choices(text.get("rule"), len(numbers), _finder("rule", names, list(rules)), 0, problems),
        datum_at=_choices(text.get("datum"), len(numbers), _finder("datum", datums, DATUMS), datums[datum], problems),
        unit_at=_choices(text.get("unit"), len(numbers), lambda word: _unit_place(units, word), 0, problems),
    )  # fmt: skip
    _read(rows, list(rules.values()), body)
    _note_surplus(rows, cells, body)
    for place in np.flatnonzero(rows.empty).tolist():
        problems.pop(place, None)
    return rows


def _finder(what: str, places: Mapping[str, int], allowed: Any) -> Callable[[str], int]:
    def find(word: str) -> int:
        if plain_head(word) not in places:
            raise UnknownChoice(what, word, allowed)
        return places[plain_head(word)]

    return find


def _unit_place(units: list[str | None], word: str) -> int:
    """Return a unit's place in the list of those met so far."""
    name = unit_name(word)
    if name not in units:
        units.append(name)
    return units.index(name)


def _choices(cells: Any, count: int, find: Callable[[str], int], default: int, problems: dict[int, str]) -> Any:
    """Return the choice in each cell, the default where there is none; each different cell is looked at once."""
    import numpy as np
    import pandas as pd

    if cells is None:
        return np.full(count, default)
    codes, distinct = pd.factorize(cells)
    found = np.full(len(distinct), default)
    wrong: dict[int, str] = {}
    for code, cell in enumerate(distinct.tolist()):
        if word := cell.strip():
            try:
                found[code] = find(word)
            except ModelMathError as error:
                wrong[code] = str(error)
    _tell(problems, codes, wrong)
    return found[codes]


def _tell(problems: dict[int, str], codes: Any, wrong: Mapping[int, str]) -> None:
    """Note what is wrong with each row, where nothing has been noted yet."""
    import numpy as np

    if wrong:
        for place in np.flatnonzero(np.isin(codes, list(wrong))).tolist():
            problems.setdefault(place, wrong[int(codes[place])])


def _named(cells: Any, numbers: Any) -> Any:
    import numpy as np

    if cells is None:
        return np.array([f"row {number}" for number in numbers.tolist()], dtype=object)
    names = np.array(list(map(str.strip, cells.tolist())), dtype=object)
    for place in np.flatnonzero(names == "").tolist():
        names[place] = f"row {numbers[place]}"
    return names


def _read(rows: Rows, rules: list[Rule], body: list[Any]) -> None:
    """Read the marks, each different one once for each rule and unit it is read with."""
    import numpy as np
    import pandas as pd

    codes, distinct = pd.factorize(rows.marks)
    texts = [cell.strip() for cell in distinct.tolist()]
    rows.marks = np.array(texts, dtype=object)[codes]
    ways = [Way(rule, unit) for rule in rules for unit in rows.units]
    # One whole number for each mark and way to read it.
    keys, met = pd.factorize(codes * len(ways) + rows.rule_at * len(rows.units) + rows.unit_at)
    at_mark, at_way = np.divmod(met, len(ways))
    shown, wrong = read_marks([texts[place] for place in at_mark.tolist()], ways, at_way.tolist())
    rows.shown_mm = shown[keys]
    _tell(rows.problems, keys, wrong)
    rows.empty = np.array([not text for text in texts], dtype=bool)[codes]
    for place in np.flatnonzero(rows.empty).tolist():
        rows.empty[place] = not any(column[place].strip() for column in body)


def _note_surplus(rows: Rows, cells: Cells, body: list[Any]) -> None:
    """Put aside the rows with more cells than the table has columns: a comma in a mark may have parted it."""
    import numpy as np

    width = len(cells.heads) if cells.heads else min(2, len(body))
    told = [body[place] for place, head in enumerate(cells.heads or ()) if head.strip() == SURPLUS]
    beyond = [*told, *body[width:]]
    if not beyond:
        return
    expected = f"{width} columns wide, as the heads are" if cells.heads else "a name and a mark"
    write = (
        "Part the columns by semicolons or tabs."
        if cells.heads
        else "Write each reading on a line of its own, as roof; 3 3/4, or heads above the columns."
    )
    surplus = np.full(len(rows.numbers), "", dtype=object)
    for place in np.flatnonzero(np.any([column != "" for column in beyond], axis=0)).tolist():
        cut = [column[place] for column in beyond]
        while cut and not cut[-1].strip():
            cut.pop()
        if cut:
            surplus[place] = "; ".join(cut)
            rows.problems[place] = str(OutOfRange("the row", f"{width + len(cut)} columns wide", expected, write))
    if np.any(surplus != ""):
        rows.text[SURPLUS] = surplus
