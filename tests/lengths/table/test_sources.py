"""Where a table comes from: files and bytes of several encodings, spreadsheets, and what is refused."""

import datetime
import re
import zipfile
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.rules import Rule
from modelmath.lengths.table import read_table, sources

RULE = Rule(scale="HO", zero_offset="1")


def whole(text):
    return f"^{re.escape(text)}$"


def workbook(*rows, **sheets):
    book = openpyxl.Workbook()
    book.active.title = "bench"
    for row in rows:
        book.active.append(row)
    for name, more in sheets.items():
        sheet = book.create_sheet(name)
        for row in more:
            sheet.append(row)
    content = BytesIO()
    book.save(content)
    return content.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_encodings_that_tell_themselves_are_read_without_a_word(encoding):
    table = read_table("Wölbung;3¾".encode(encoding), RULE)
    assert table.frame["name"].tolist() == ["Wölbung"]
    assert table.frame["length_mm"].tolist() == [16.625]
    assert table.notes == []


def test_latin_1_is_read_and_said():
    table = read_table("Wölbung;3¾".encode("latin-1"), RULE)
    assert table.frame["name"].tolist() == ["Wölbung"]
    assert table.frame["length_mm"].tolist() == [16.625]
    assert table.notes == ["The text is no UTF-8; it was read as Latin-1. Check signs such as ½ and ±."]


@pytest.mark.parametrize("name", ["readings.csv", "READINGS.TXT", "readings.tsv"])
@pytest.mark.parametrize("kind", [str, Path])
def test_a_file_by_its_name(tmp_path, name, kind):
    file = tmp_path / name
    file.write_text("name\tmark\r\nroof\t3\r\n", "utf-8", newline="")
    assert read_table(kind(file), RULE).frame["length_mm"].to_dict() == {2: 14.0}


def test_a_spreadsheet():
    content = workbook(
        ["Feature", "Reading", "Remark"],
        ["roof", "3 3/4", None],
        [None, None, None],
        ["top", 3.75, "=1+1"],
        ["sill", 3, None],
        ["post", datetime.datetime(2024, 3, 4), None],
        ["rail", "=A1", None],  # never worked out by a spreadsheet: it has no value
        ["deck", True, None],
    )
    table = read_table(content, RULE)
    assert table.frame["length_mm"].to_dict() == {2: 16.625, 4: 16.625, 5: 14.0}
    assert table.frame["note"].tolist() == ["", "", ""]
    assert table.aside["problem"].to_dict() == {
        6: "the mark is a date: the spreadsheet took a fraction for one. Format the column as text and write it again.",
        7: "'': nothing is written here; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.",
        8: "'True': it is no number or unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.",
    }


def test_a_sheet_by_name(tmp_path):
    file = tmp_path / "readings.xlsx"
    file.write_bytes(workbook(["roof", "3"], more=[["mark"], ["7"]]))
    assert read_table(file, RULE).frame["length_mm"].to_dict() == {1: 14.0}
    assert read_table(str(file), RULE, sheet="more").frame["length_mm"].to_dict() == {2: 28.0}
    with pytest.raises(UnknownChoice, match=whole("sheet is 'mor'; write one of bench, more. Did you mean 'more'?")):
        read_table(file, RULE, sheet="mor")
    assert read_table(workbook(), RULE).frame.empty


@pytest.mark.parametrize("content", [b"PK\x03\x04", b"PK\x03\x04 no zip", workbook()[:400]])
def test_a_broken_spreadsheet_is_refused(content):
    message = "the file is no spreadsheet that can be read; expected an .xlsx file. Save it again."
    with pytest.raises(WrongKind, match=whole(message)):
        read_table(content, RULE)


def test_other_sources_are_refused(tmp_path):
    with pytest.raises(UnknownChoice, match=whole("the kind of file is '.pdf'; write one of .csv, .txt, .tsv, .xlsx.")):
        read_table(tmp_path / "readings.pdf", RULE)
    gone = tmp_path / "gone.csv"
    with pytest.raises(WrongKind, match=r"^the file is .* \(No such file or directory\); expected a file to read\."):
        read_table(gone, RULE)
    message = "the table is a int; expected a file, or text. Give a Path, text or bytes."
    with pytest.raises(WrongKind, match=whole(message)):
        read_table(3, RULE)


def test_too_large_a_spreadsheet_is_refused(monkeypatch):
    content = workbook(*([["roof", "3"]] * 5))
    monkeypatch.setattr(sources, "MOST_CELLS", 8)
    with pytest.raises(
        OutOfRange, match=r"^the table is 10 cells or more; it must be 8 or fewer\. Give it in parts\.$"
    ):
        read_table(content, RULE)
    monkeypatch.setattr(sources, "MOST_UNPACKED", 100)
    with pytest.raises(OutOfRange, match=r"^the spreadsheet is [0-9,]+ bytes unpacked; it must be 100 or fewer\."):
        read_table(content, RULE)


def test_what_is_just_small_enough_is_taken(monkeypatch):
    sources._check_size(50_000_000, "bytes")
    message = "the table is 50,000,001 bytes long; it must be 50,000,000 or fewer. Give it in parts."
    with pytest.raises(OutOfRange, match=whole(message)):
        sources._check_size(50_000_001, "bytes")
    content = workbook(["roof", "3"])
    for size, fits in ((500_000_000, True), (500_000_001, False)):
        packed = zipfile.ZipInfo("sheet")
        packed.file_size = size
        monkeypatch.setattr(zipfile.ZipFile, "infolist", lambda _, packed=packed: [packed])
        if fits:
            assert len(read_table(content, RULE).frame) == 1
        else:
            message = "the spreadsheet is 500,000,001 bytes unpacked; it must be 500,000,000 or fewer. "
            with pytest.raises(OutOfRange, match=f"^{re.escape(message)}"):
                read_table(content, RULE)


def test_half_a_sign_is_refused():
    message = "the table is broken; it must be text whose signs are whole. Copy it again."
    with pytest.raises(OutOfRange, match=whole(message)):
        read_table("roof\ud83d;3", RULE)


def test_a_name_that_no_file_can_have_is_refused_in_words(tmp_path):
    for name in ("read\0ings.csv", tmp_path / "read\0ings.csv"):
        with pytest.raises(
            WrongKind, match=r"^the file is .* \(it can't be read\); expected a file to read\. Check its"
        ):
            read_table(name, RULE)
    (tmp_path / "folder.csv").mkdir()
    with pytest.raises(
        WrongKind, match=r"^the file is .* \(Is a directory\); expected a file to read\. Check its name"
    ):
        read_table(tmp_path / "folder.csv", RULE)


def test_a_cell_longer_than_any_head_is_no_head_and_no_error():
    """The standard library's reader of CSV gives up at 131072 signs (its field_size_limit)."""
    table = read_table(f"{'x' * 131_073}\nroof; 3", RULE)
    assert table.frame["length_mm"].to_dict() == {2: 14.0}
    assert list(table.aside.index) == [1]
