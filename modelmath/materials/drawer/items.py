"""One row of the drawer: what it is, how large, how many; read from cells as a person types them, and back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TypeVar

from modelmath.errors import ModelMathError, OutOfRange, UnknownChoice, UnreadableLength, WrongKind, shown
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.scales import Scale
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.drills.names import drill
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.shapes import parse_section
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.strips import number_text, parse_strip

KINDS = ("strip", "shape", "sheet", "wire", "strand", "drill")
COLUMNS = ("kind", "name", "length", "width", "diameter", "count", "offcut", "note")
SIZES = ("length", "width", "diameter")
NEEDS = {
    "strip": ("length",),
    "shape": ("length",),
    "sheet": ("length", "width"),
    "wire": ("length", "diameter"),
    "strand": ("length", "diameter"),
    "drill": (),
}
EXAMPLE_SIZES = {"length": "280 mm or 11 in", "width": "6 in", "diameter": "0.6 mm or .030 in"}
LONGEST_WORDS = 120  # signs in a name or a note; more is a pasted page
MOST = 100_000  # of one thing; more is a slip
T = TypeVar("T")
_YES, _NO = ("yes", "y", "x", "true", "1"), ("", "no", "n", "false", "0")


class BadCell(ModelMathError):
    """A cell of the drawer that can't be read: which, and what to write."""

    def __init__(self, column: str, message: str) -> None:
        super().__init__(column, message)
        self.column, self.message = column, message

    def __str__(self) -> str:
        return f"{self.column}: {self.message}"


@dataclass(frozen=True)
class Item:
    """Pieces of one thing and one size.

    Attributes
    ----------
    kind : str
        One of `KINDS`. [-]
    name : str
        A strip, shape, sheet or drill by the name that its parser gives back; wire and strand by any name. [-]
    length_mm, width_mm : Fraction or None
        Length of each piece, and the width of sheet; None where the kind has none. [mm]
    count : int
        How many. [-]
    offcut : bool
        Whether left over from earlier work, to be used up first. [-]
    diameter_mm : Fraction or None
        Over all of a wire with its insulation, or of a strand. [mm]
    note : str
        Anything. [-]
    """

    kind: str
    name: str
    length_mm: Fraction | None = None
    width_mm: Fraction | None = None
    count: int = 1
    offcut: bool = False
    diameter_mm: Fraction | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise UnknownChoice("kind", self.kind, KINDS)
        for size in SIZES:
            value = getattr(self, f"{size}_mm")
            needed = size in NEEDS[self.kind]
            if needed and value is None:
                write = f"Write such as {EXAMPLE_SIZES[size]}."
                raise WrongKind(f"{size} of {self.name}", "left out", f"a length; a {self.kind} has one", write)
            if value is not None and not needed:
                raise WrongKind(f"{size} of {self.name}", "given", f"none; a {self.kind} has none", "Leave it empty.")
            if value is not None:
                object.__setattr__(self, f"{size}_mm", exact_mm(value, f"{size} of {self.name}"))
        if isinstance(self.count, bool) or not isinstance(self.count, int) or not 1 <= self.count <= MOST:
            name, allowed = f"count of {self.name}", f"a whole number, 1 to {MOST}"
            raise OutOfRange(name, repr(self.count), allowed, "Leave out what is used up.")

    @property
    def same_as(self) -> tuple[object, ...]:
        """All that tells it from other pieces, its count and note apart. [-]"""
        return (self.kind, self.name, self.length_mm, self.width_mm, self.diameter_mm, self.offcut)

    @property
    def said(self) -> str:
        """What it is in a few words, without the count. [-]"""
        sizes = [size_text(each) for each in (self.length_mm, self.width_mm) if each is not None]
        return ", ".join([self.name, *([" x ".join(sizes)] if sizes else []), *(["offcut"] if self.offcut else [])])


def size_text(size_mm: Fraction) -> str:
    """Return a length as a cell shows it; reading it gives the same length back, exactly.

    Parameters
    ----------
    size_mm : Fraction
        The length. [mm]

    Returns
    -------
    str
        The same: whole mm in mm, what ends within three decimals of an inch in inches, all else in mm. [mm or in]

    References
    ----------
    Inch of 25.4 mm: NIST SP 811. Which unit suits is common practice, no source.

    Examples
    --------
    >>> [size_text(Fraction(size)) for size in ("280", "355.6", "96.5", "1016/3")]
    ['280 mm', '14 in', '96.5 mm', '338-2/3 mm']
    """
    thousandths = 1000 * size_mm / MM_PER_INCH
    if size_mm.denominator > 1 and thousandths.denominator == 1:
        return f"{number_text(thousandths / 1000, 0)} in"
    return f"{number_text(size_mm, 0)} mm"


def cells(item: Item) -> dict[str, str]:
    """Return an item as the cells of its row; `read_item` gives the item back.

    Parameters
    ----------
    item : Item
        The item. [mm]

    Returns
    -------
    dict of str to str
        Text by column of `COLUMNS`. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> cells(Item("strip", "HO 6x10", Fraction(280), count=2))["length"]
    '280 mm'
    """
    sizes = {size: getattr(item, f"{size}_mm") for size in SIZES}
    shown = {size: "" if value is None else size_text(value) for size, value in sizes.items()}
    offcut = "yes" if item.offcut else ""
    rest = {"count": str(item.count), "offcut": offcut, "note": item.note}
    return {"kind": item.kind, "name": item.name, **shown, **rest}


def read_item(row: Mapping[str, str], scale: Scale | str | None = None) -> Item:
    """Read the cells of a row.

    Parameters
    ----------
    row : mapping of str to str
        Text by column of `COLUMNS`; a column left out is empty. [-]
    scale : Scale, str or None
        The scale of strip named by scale inches alone, such as 6x10, and of sizes in scale feet. [-]

    Returns
    -------
    Item
        What the row says. [mm]

    Raises
    ------
    BadCell
        For the first cell that can't be read, or that is missing: which, and what to write.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_item({"kind": "strip", "name": "6x10", "length": "11 in", "count": "2"}, "HO").said
    'HO 6x10, 11 in'
    """
    given = {column: " ".join(str(row.get(column, "")).split()) for column in COLUMNS}
    kind = given["kind"].casefold() or _guessed(given["name"])
    if kind not in KINDS:
        wrong = str(UnknownChoice("kind", given["kind"], KINDS))
        raise BadCell("kind", wrong if given["kind"] else f"nothing is written here; write one of {', '.join(KINDS)}.")
    name = _cell("name", lambda: read_name(kind, given["name"], scale))
    sizes: dict[str, Fraction | None] = {}
    for size in SIZES:
        sizes[size] = _cell(size, lambda size=size: _size(kind, size, given[size], scale))  # type: ignore[misc]
    count = _cell("count", lambda: _count(given["count"]))
    offcut = _cell("offcut", lambda: _yes(given["offcut"]))
    note = _cell("note", lambda: _words(given["note"], "a note"))
    return Item(kind, name, sizes["length"], sizes["width"], count, offcut, sizes["diameter"], note)


def _guessed(name: str) -> str:
    """Return the kind that a name alone tells; empty if none does."""
    for kind, parser in (("strip", parse_strip), ("sheet", parse_sheet), ("shape", parse_section)):
        word = {"sheet": "sheet", "shape": ""}.get(kind, "")
        if word in name.casefold():
            try:
                parser(name)
            except ModelMathError:
                continue
            return kind
    return ""


def _cell(column: str, read: Callable[[], T]) -> T:
    try:
        return read()
    except BadCell:
        raise
    except ModelMathError as reason:
        raise BadCell(column, str(reason)) from None


def read_name(kind: str, text: str, scale: Scale | str | None = None) -> str:
    """Return the name of an item as its parser gives it back.

    Parameters
    ----------
    kind : str
        One of `KINDS`. [-]
    text : str
        The name as typed. [-]
    scale : Scale, str or None
        The scale of strip named by scale inches alone. [-]

    Returns
    -------
    str
        The name. [-]

    Raises
    ------
    UnreadableLength, UnknownScale, OutOfRange
        If it is no name of this kind.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_name("sheet", "sheet .04")
    '.040 sheet'
    """
    text = _words(text, "a name")
    if not text:
        expected = {"wire": "red decoder wire", "strand": ".030 fibre", "drill": "#67", "sheet": ".040 sheet"}
        example = expected.get(kind, ".040 rod" if kind == "shape" else "HO 6x10")
        raise UnreadableLength(text, "it has no name", f"what it is called, such as {example}")
    return _as_parsed(kind, text, scale)


@lru_cache(maxsize=1024)
def _as_parsed(kind: str, text: str, scale: Scale | str | None) -> str:
    """Return a name as its parser gives it back; kept, as the same drawer is read at every edit."""
    if kind == "strip":
        return parse_strip(text, scale).name
    if kind == "shape":
        return parse_section(text).name
    if kind == "sheet":
        return parse_sheet(text).name
    return drill(text).name if kind == "drill" else text


def _words(text: str, what: str) -> str:
    if len(text) > LONGEST_WORDS:
        raise OutOfRange(what, f"{len(text)} characters long", f"{LONGEST_WORDS} or fewer", "Shorten it.")
    if any("\ud800" <= sign <= "\udfff" for sign in text):
        raise OutOfRange(what, "broken", "text whose signs are whole", "Type it again.")
    return text


def _size(kind: str, size: str, text: str, scale: Scale | str | None) -> Fraction | None:
    if size not in NEEDS[kind]:
        if text:
            raise WrongKind(f"the {size}", shown(text), f"nothing; a {kind} has none", "Leave it empty.")
        return None
    if not text:
        raise WrongKind(f"the {size}", "left out", f"a length with its unit; a {kind} has one",
                        f"Write such as {EXAMPLE_SIZES[size]}.")  # fmt: skip
    length = parse_length_exact(text, scale=scale)
    if length <= 0:
        raise OutOfRange(f"the {size}", text, "above 0 mm", f"Write such as {EXAMPLE_SIZES[size]}.")
    return length


def _count(text: str) -> int:
    number = text.removesuffix(".0") or "1"
    if not number.isascii() or not number.isdecimal() or len(number) > 9 or not 1 <= int(number) <= MOST:
        advice = "Write 2 for two of them; take the row out when they are used up."
        raise OutOfRange("the count", shown(text), f"a whole number, 1 to {MOST}", advice)
    return int(number)


def _yes(text: str) -> bool:
    word = text.casefold()
    if word not in _YES + _NO:
        raise UnknownChoice("offcut", text, ("yes", "no"))
    return word in _YES
