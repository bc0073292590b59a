"""A table of readings, corrected: columns of lengths and of their uncertainty, what the rows share beside them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from uncertainties import UFloat

from modelmath.errors import UnknownChoice, WrongKind, shown
from modelmath.lengths.rules import DATUMS, Given, Rule
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.table.cells import to_cells
from modelmath.lengths.table.heads import PROBLEM, SURPLUS, are_heads
from modelmath.lengths.table.marks import Way
from modelmath.lengths.table.rows import Rows, understand
from modelmath.lengths.table.settings import settings
from modelmath.lengths.table.sources import take
from modelmath.lengths.units import MM_PER_INCH

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class Shared:
    """What all readings of one rule share, once for the whole table.

    Attributes
    ----------
    offset : uncertain number
        How far its zero mark stands in from its end. [mm]
    scale_error : float
        (true - shown) / shown. [-]
    scale_error_uncertainty : float
        Its standard uncertainty. [-]
    """

    offset: UFloat
    scale_error: float
    scale_error_uncertainty: float


@dataclass(frozen=True)
class ReadingTable:
    """Readings from a table, corrected.

    Attributes
    ----------
    frame : DataFrame
        A row for each good reading, in order, by its row number: what was read, and lengths and uncertainties with the
        unit in the column's name. [mm, in, scale ft]
    aside : DataFrame
        The rows that could not be read, by row number: the problem, and the cells as they stand. [-]
    rules : dict of str to Rule
        The rules by name. [-]
    notes : list of str
        What a person should know about how the table was read. [-]
    """

    frame: pd.DataFrame
    aside: pd.DataFrame
    rules: dict[str, Rule]
    notes: list[str] = field(default_factory=list)

    @property
    def shared(self) -> dict[str, Shared]:
        """What the readings of each rule share: its offset and its scale error. [mm, -]"""
        return {
            name: Shared(rule.offset, float(rule.scale_error), rule.scale_error_uncertainty)
            for name, rule in self.rules.items()
        }

    def reading(self, row: int) -> UFloat:
        r"""Return one reading as an uncertain number that shares its rule's terms.

        Parameters
        ----------
        row : int
            Row number, as a spreadsheet shows it. [-]

        Returns
        -------
        uncertain number
            Corrected length. [mm]

        Raises
        ------
        UnknownChoice
            If no good reading stands in that row.

        References
        ----------
        JCGM 100:2008, 5.2.

        Examples
        --------
        >>> table = read_table("roof; 10\nmotor; 6 1/8", Rule(scale="HO", zero_offset="1"))
        >>> round(table.reading(1).n, 3)
        38.5
        """
        if row not in self.frame.index:
            first_few = [str(each) for each in self.frame.index[:8]]
            raise UnknownChoice("the row", str(row), first_few + ["..."] * (len(self.frame) > len(first_few)))
        cells: Any = self.frame.loc[row]
        rule = self.rules[cells["rule"]]
        return rule.length(Way(rule, cells.get("unit") or None).exact(cells["mark"]), cells["datum"], cells["name"])

    def difference(self, row: int, other: int) -> UFloat:
        r"""Return one reading less another; what both owe to one rule cancels.

        Parameters
        ----------
        row, other : int
            Row numbers, as a spreadsheet shows them. [-]

        Returns
        -------
        uncertain number
            The difference. [mm]

        Raises
        ------
        UnknownChoice
            If no good reading stands in one of those rows.

        References
        ----------
        JCGM 100:2008, 5.2: the two readings are correlated through their rule.

        Examples
        --------
        >>> rule = Rule(scale="HO", zero_offset="1", offset_uncertainty="0.2 mm")
        >>> table = read_table("roof; 11 1/4\ntop; 7 1/2", rule)
        >>> table.difference(1, 2)
        13.125+/-0.357217...
        """
        if row == other:
            return 0.0 * self.reading(row)
        return self.reading(row) - self.reading(other)


def read_table(
    source: Path | str | bytes,
    rules: Rule | Iterable[Rule] | Mapping[str, Rule],
    *,
    datum: str = "end",
    unit: str | None = None,
    scale: Scale | str | None = None,
    columns: Mapping[str, str] | None = None,
    sheet: str | None = None,
    marking: Rule | None = None,
    finest: Given | None = None,
    marking_datum: str = "end",
) -> ReadingTable:
    r"""Read a table of readings and correct them.

    A row of heads tells the columns: name, mark, and if wanted rule, datum, unit and note, under these or similar
    words. Without heads a row is a name and a mark, or a mark alone. Rows are numbered as a spreadsheet shows them;
    empty ones are passed over, bad ones are kept aside with their problem.

    Parameters
    ----------
    source : Path, str or bytes
        A .csv, .txt, .tsv or .xlsx file, its bytes, or text such as a clipboard's. [-]
    rules : Rule, or some of them
        What the readings were taken with; a row names its rule, or is of the first. [-]
    datum : {"end", "zero"}
        What stood against the part where a row doesn't say. [-]
    unit : str or None
        Unit of a bare number where a row doesn't say; by default its rule's own. [-]
    scale : Scale, str or None
        Scale of the column in scale feet; by default that of the first rule that has one. [-]
    columns : mapping of str to str, or None
        Heads of your own, by what they stand for, as ``{"mark": "height read"}``. [-]
    sheet : str or None
        Sheet of a spreadsheet, the first by default. [-]
    marking : Rule or None
        The rule to mark parts out with; it is then told where to set it for each length. [-]
    finest : text, number or None
        Finest mark it is set to; by default its graduation. [marking rule's unit]
    marking_datum : {"end", "zero"}
        What stands at the part's edge when marking out. [-]

    Returns
    -------
    ReadingTable
        Lengths and uncertainties in columns, and the rows kept aside. [mm, in, scale ft]

    Raises
    ------
    OutOfRange
        If the table is too large, or a quote in it is never closed.
    UnknownChoice, UnknownScale, UnreadableLength, WrongKind
        If the source, a head or an argument can't be understood.

    References
    ----------
    RFC 4180 for the form of the file; JCGM 100:2008, 5.1.2 for the uncertainties.

    Examples
    --------
    >>> rules = [Rule(scale="HO", zero_offset="1"), Rule(unit="mm", graduation="0.01", name="caliper")]
    >>> table = read_table("feature; rule; reading\nroof; rule; 9 1/8\nweight; caliper; 3,5\nsill; ; 5/0", rules)
    >>> table.frame["length_mm"].round(4).to_dict()
    {2: 35.4375, 3: 3.5}
    >>> table.aside["problem"].to_dict()
    {4: "'5/0': a fraction can't have 0 below the line; write a fraction such as 3/4."}
    """
    for word in (datum, marking_datum):
        if word not in DATUMS:
            raise UnknownChoice("datum", word, DATUMS)
    by_name = _by_name(rules)
    its_scale = (
        next((rule.scale for rule in by_name.values() if rule.scale), None) if scale is None else scale_of(scale)
    )
    taken = take(source, sheet)
    rows = understand(to_cells(taken, lambda row: are_heads(row, columns)), by_name, datum, unit, columns)
    frame = _frame(rows, by_name, its_scale)
    if marking is not None:
        frame["set_rule_at"], frame["beyond_mm"] = settings(
            marking, frame["length_mm"].to_numpy(), marking_datum, finest
        )
    return ReadingTable(frame, _aside(rows), by_name, taken.notes)


def _by_name(rules: Rule | Iterable[Rule] | Mapping[str, Rule]) -> dict[str, Rule]:
    if isinstance(rules, Rule):
        return {rules.name: rules}
    found: dict[str, Rule] = {}
    for name, rule in rules.items() if isinstance(rules, Mapping) else ((rule.name, rule) for rule in rules):
        if name.casefold() in (each.casefold() for each in found):
            raise WrongKind("a rule's name", f"{shown(name)} twice", "a name of its own for each rule", "Rename one.")
        found[name] = rule
    if not found:
        raise WrongKind("the rules", "none", "one rule or more", 'Give Rule(scale="HO"), or another.')
    return found


def _frame(rows: Rows, rules: dict[str, Rule], scale: Scale | None) -> pd.DataFrame:
    import numpy as np
    import pandas as pd

    good = ~rows.empty
    good[list(rows.problems)] = False
    rule_at, datum_at, shown_mm = rows.rule_at[good], rows.datum_at[good], rows.shown_mm[good]
    values, u, reading_u = (np.zeros(len(shown_mm)) for _ in range(3))
    for rule_place, rule in enumerate(rules.values()):
        for datum_place, datum in enumerate(DATUMS):
            these = (rule_at == rule_place) & (datum_at == datum_place)
            if these.any():
                values[these], u[these], reading_u[these] = rule.lengths(shown_mm[these], datum)
    columns: dict[str, Any] = {
        "name": rows.names[good],
        "mark": rows.marks[good],
        "rule": _words(rule_at, list(rules)),
        "datum": _words(datum_at, DATUMS),
    }
    if len(rows.units) > 1 or rows.units[0] is not None:
        columns["unit"] = _words(rows.unit_at[good], [name or "" for name in rows.units])
    columns |= {head: cells[good] for head, cells in rows.text.items() if head not in (*columns, "unit", SURPLUS)}
    columns |= {"length_mm": values, "length_in": values / float(MM_PER_INCH)}
    if scale is not None:
        columns["length_scale_ft"] = values / float(scale.mm_per_foot)
    columns |= {"u_mm": u, "u_reading_mm": reading_u}
    return pd.DataFrame(columns, index=pd.Index(rows.numbers[good], name="row"))


def _words(places: Any, words: Sequence[str]) -> Any:
    """Return a column of few different words, each kept once."""
    import pandas as pd

    return pd.Categorical.from_codes(places, categories=pd.Index(words))


def _aside(rows: Rows) -> pd.DataFrame:
    import pandas as pd

    places = sorted(rows.problems)
    cells = {PROBLEM: [rows.problems[place] for place in places]}
    cells |= {head: column[places].tolist() for head, column in rows.text.items()}
    return pd.DataFrame(cells, index=pd.Index(rows.numbers[places], name="row"))
