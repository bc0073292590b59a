"""Targets: strip, shapes, sheet, drills, wire, what is typed or pasted of them, cut lists, words of the trade."""

from __future__ import annotations

from fuzz.target import Target
from fuzz.words import text

from modelmath.cutting.typed import read_parts
from modelmath.job.glossary import find_words, nearest_word, words_in
from modelmath.job.why.finding import numbers_in
from modelmath.materials.drawer.items import COLUMNS, KINDS, cells, read_item
from modelmath.materials.drills.names import drill
from modelmath.materials.drills.typed import diameter_of, plain_number, wire_count, wire_sizes
from modelmath.materials.drills.wire import awg
from modelmath.materials.picking.typed import read_set, read_shims, read_strips
from modelmath.materials.sections.shapes import parse_section, parse_stock
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.strips import parse_strip
from modelmath.workbook.names import found_by

SCALES = (None, "HO", "N", "1:87.1", "Q")
STOCK = (
    "HO 6x10", ".040 sq", "1.0 x 2.0 mm", "2 x 4 scale in", ".080 x .125", "6 by 10", ".040 sheet", "sheet 1.0 mm",
    "rod .030", "1 mm half-round", "tube 3/32 x .014 wall", ".060 angle", "HO 4 x 8", ".020 sheet", "1/8 tube",
    "30 thou sheet",
)  # fmt: skip
SETS = (
    "post; 31.5 mm; on end; 4",
    "rail; 2 mm; flat; 2",
    "sill; .040 in; on edge; 1",
    "beam; 3 1/2 scale ft; across; 12",
)
SHIMS = ("washer; 0.5 mm; 0.05 mm; 4", ".010 sheet", "paper; 0.1 mm", "foil; 0.02 mm; 0.01 mm")
STRIPS = ("6x10; 280 mm; 2", ".040 sq; 14 in", "HO 8x8; 96.5 mm; 3", "1 x 2 mm; 330 mm")
PARTS = (
    "corner post; 21 mm; 4; HO 6x10",
    "bulkhead; 21 x 18.5 mm; 1; .040 sheet",
    "beam; 2 scale ft; 3; HO 8x8",
    "x; 5 mm; 2000; .040 sq",
)
DRILLS = ("#67", "1/16", "A", "1.5 mm", "No. 80", "letter F", "0.8")
WIRES = ("2 x 0.5 mm; 1.1 mm", ".030 in", "0.6 mm", "30 AWG", "7 x AWG 32", "#30", "20 x 1 mm")
NUMBERS = ("-5", "20", "1.5", "−3", "7")
ROW = {"kind": "strip", "name": "HO 6x10", "length": "280 mm", "count": "2", "offcut": "no"}
WORDS = (
    "-3 dB point",
    "kerf",
    "bulkhead",
    "at worst",
    "Qtc",
    "what clearance do I keep over 3.5 mm of 4 1/2 scale ft?",
)


def read_stock(typed: str, of: str | None) -> None:
    """What is read is called by a name that reads as the same again."""
    found = parse_stock(typed, of)
    assert parse_stock(found.name) == found


def read_one(typed: str, way: int, of: str | None) -> None:
    found = (lambda: parse_strip(typed, of), lambda: parse_section(typed), lambda: parse_sheet(typed))[way]()
    assert found.name


def name_drill(typed: str) -> None:
    assert drill(typed).diameter_mm > 0


def name_wire(typed: str) -> None:
    assert awg(typed).diameter_mm > 0


def size_wires(typed: str) -> None:
    assert all(size > 0 for size in wire_sizes(typed))


def one_diameter(typed: str, zero: bool) -> None:
    assert diameter_of(typed, zero=zero) >= 0


def one_number(typed: str, count: bool) -> None:
    if count:
        assert wire_count(typed) >= 1
    else:
        assert -50 <= plain_number(typed, -50, 150, "20") <= 150


def paste_set(pasted: str, of: str | None) -> None:
    good, bad = read_set(pasted, of)
    assert all(each.message for each in bad)
    assert all(each.count >= 1 for each in good)


def paste_shims(pasted: str, of: str | None) -> None:
    assert read_shims(pasted, of)


def paste_strips(pasted: str, of: str | None) -> None:
    assert read_strips(pasted, of)


def list_parts(pasted: str, of: str | None) -> None:
    assert read_parts(pasted, of) is not None


def one_row(row: dict[str, str], of: str | None) -> None:
    """A row of the drawer's grid, and back."""
    item = read_item(row, of)
    assert read_item(cells(item)) == item


def look_up(typed: str, page: str) -> None:
    find_words(typed, page)
    words_in(typed)
    found_by(typed)
    assert isinstance(nearest_word(typed), str)


def find_figures(typed: str, unit: str) -> None:
    assert isinstance(numbers_in(typed, unit), tuple)


def _row(c):  # type: ignore[no-untyped-def]
    row = dict(ROW)
    for _ in range(c.below(4) + 1):
        column = c.one(COLUMNS)
        row[column] = c.one(KINDS) if column == "kind" else text(c, (*STOCK, *DRILLS, "14 in", "yes", "5"))
    return row, c.one(SCALES)


TARGETS = (
    Target("strip, sheet or shape", lambda c: (text(c, STOCK), c.one(SCALES)), read_stock, 0.15),
    Target("one kind of stock", lambda c: (text(c, STOCK), c.below(3), c.one(SCALES)), read_one, 0.1),
    Target("drill", lambda c: (text(c, DRILLS),), name_drill, 0.06),
    Target("wire gauge", lambda c: (text(c, WIRES),), name_wire, 0.06),
    Target("wires", lambda c: (text(c, WIRES),), size_wires, 0.08),
    Target("diameter", lambda c: (text(c, (*WIRES, *DRILLS)), c.often(128)), one_diameter, 0.08),
    Target("plain number", lambda c: (text(c, NUMBERS), c.often(128)), one_number, 0.05),
    Target("set of parts", lambda c: (text(c, SETS), c.one(SCALES)), paste_set, 0.2),
    Target("shims on hand", lambda c: (text(c, SHIMS), c.one(SCALES)), paste_shims, 0.6),
    Target("strips on hand", lambda c: (text(c, STRIPS), c.one(SCALES)), paste_strips, 1.5),
    Target("cut list", lambda c: (text(c, PARTS), c.one(SCALES)), list_parts, 0.9),
    Target("row of the drawer", _row, one_row, 0.15),
    Target("search for words", lambda c: (text(c, WORDS), c.one(("", "enclosure", "x"))), look_up, 8.0,
           first=lambda: found_by("strip")),
    Target("search for figures", lambda c: (text(c, WORDS), c.one(("", "mm", "scale ft", "%"))), find_figures, 4.0),
)  # fmt: skip
