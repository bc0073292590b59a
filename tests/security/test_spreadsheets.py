"""A spreadsheet made to do harm is refused, or read for what is in its cells; it costs little either way."""

from __future__ import annotations

import io
import re
import tracemalloc
import zipfile

import pytest

from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.table import sources
from modelmath.lengths.table.sources import Source, take

MOST_TAKEN = 15_000_000  # bytes of memory, for files of some kB; the bombs would take many times that
# Each entity ten times the one before: a billion letters from a few hundred (M. Klein, "Billion laughs").
LAUGHS = (
    b'<!DOCTYPE x [<!ENTITY a "mm">'
    + b"".join(b'<!ENTITY %c "%s">' % (98 + step, b"&%c;" % (97 + step) * 10) for step in range(9))
    + b"]>"
)
# One long entity, named many times: no nesting to be seen.
LONG = b'<!DOCTYPE x [<!ENTITY j "' + b"m" * 100_000 + b'">]>'
OUTSIDE = b'<!DOCTYPE x [<!ENTITY j SYSTEM "%s">]>'
SHARED = "xl/sharedStrings.xml"


def parts() -> dict[str, bytes]:
    """A small spreadsheet as it is written, part by part, its texts in a table of their own."""
    from openpyxl import Workbook

    book = Workbook()
    for row in (["name", "mark"], ["roof", "31.5 mm"]):
        book.active.append(row)
    book.save(made := io.BytesIO())
    with zipfile.ZipFile(made) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


PARTS = parts()
SHEET = "xl/worksheets/sheet1.xml"


def packed(changed: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, content in (PARTS | changed).items():
            made.writestr(name, content)
    return out.getvalue()


def declared(content: bytes, what: bytes, used: bytes) -> bytes:
    """An XML part with a document type put in, and its first text replaced."""
    head, mark, rest = content.partition(b"?>") if content.startswith(b"<?xml") else (b"", b"", content)
    return head + mark + what + re.sub(rb"(<(?:t|v|dc:creator|Application)>)[^<]*", rb"\1" + used, rest)


def read(content: bytes) -> Source:
    """Read it, and see what memory it took."""
    tracemalloc.start()
    try:
        return take(content)
    finally:
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert most < MOST_TAKEN


def outcome(content: bytes) -> object:
    """Return what is read, or what is said instead."""
    try:
        return read(content).rows
    except WrongKind as refused:
        return str(refused)


ITS_CELLS = [["name", "mark"], ["roof", "31.5 mm"]]
REFUSED = "the file is no spreadsheet that can be read; expected an .xlsx file. Save it again."


def test_as_it_is_written_it_can_be_read():
    assert outcome(packed({})) == ITS_CELLS


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize(("what", "used"), [(LAUGHS, b"&j;"), (LONG, b"&j;" * 20_000)], ids=["nested", "long"])
def test_entities_that_grow_are_never_grown(part, what, used):
    assert outcome(packed({part: declared(PARTS[part], what, used)})) in (REFUSED, ITS_CELLS)


@pytest.mark.parametrize("part", PARTS)
def test_no_other_file_is_read_for_one(part, tmp_path):
    other = tmp_path / "other.txt"
    other.write_text("for nobody", "utf-8")
    content = declared(PARTS[part], OUTSIDE % other.as_uri().encode(), b"&j;")
    assert "for nobody" not in str(outcome(packed({part: content})))


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("content", [b"", b"\0" * 50, b"<a><b></a>", b"<a" * 5000, b"\xff\xfe<\0"])
def test_a_damaged_part_is_said(part, content):
    said = outcome(packed({part: content}))
    assert said in (REFUSED, ITS_CELLS) or "without a sheet of cells" in str(said)


def test_a_file_that_swells_is_refused_before_it_is_unpacked(monkeypatch):
    monkeypatch.setattr(sources, "MOST_UNPACKED", 20_000_000)
    swollen = packed({"xl/media/nothing.bin": bytes(20_000_000)})
    assert len(swollen) < 50_000
    text = (
        r"^the spreadsheet is 20,[0-9]{3},[0-9]{3} bytes unpacked; it must be 20,000,000 or fewer\. Give it in parts\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        read(swollen)


def lying() -> bytes:
    """A file whose list of contents says that a sheet of 20 MB is one of 10 bytes."""
    swollen = packed({SHEET: PARTS[SHEET].replace(b"</sheetData>", b" " * 20_000_000 + b"</sheetData>")})
    with zipfile.ZipFile(io.BytesIO(swollen)) as made:
        size = made.getinfo(SHEET).file_size
    return swollen.replace(size.to_bytes(4, "little"), (10).to_bytes(4, "little"))


def test_one_that_lies_about_its_size_is_read_no_further_than_it_says():
    assert outcome(lying()) == REFUSED


@pytest.mark.parametrize("said", [b"", b'<dimension ref="A1"/>', b'<dimension ref="A1:A1"/>'])
def test_no_cell_is_lost_whatever_the_sheet_says_of_its_size(said):
    sheet = re.sub(rb"<dimension[^>]*>", said, PARTS[SHEET])
    assert outcome(packed({SHEET: sheet})) == ITS_CELLS


def test_a_formula_is_the_value_it_last_had():
    sheet = PARTS[SHEET].replace(b"<sheetData>", b'<sheetData><row r="9"><c r="A9"><f>1+1</f><v>7</v></c></row>')
    assert "1+1" not in str(take(packed({SHEET: sheet})).rows)
