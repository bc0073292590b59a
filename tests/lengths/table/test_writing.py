"""What is written is safe to open in a spreadsheet, and reads back as it was."""

import csv
import zipfile
from io import BytesIO, StringIO

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pandas.testing import assert_frame_equal

from modelmath.errors import UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.table import read_table, write_table
from modelmath.lengths.table.guard import STARTS, guarded, may_be_guarded, unguarded
from modelmath.lengths.table.writing import write_table_in_steps

RULES = [
    Rule(scale="HO", zero_offset="1", name="scale rule"),
    Rule(unit="mm", graduation="0.01", name="=caliper"),
]
# OWASP, "CSV Injection" (from memory): what a spreadsheet may take for a formula begins with one of these.
OWASP = ("=", "+", "-", "@", "\t", "\r")
FORMULAS = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(1)",
    "\t=1",
    "\r=1",
    '=HYPERLINK("x";"y")',
    "＝1",
    "'=1",
    "''-1",
    "'",
    "''",
    "x=1",
]


def quoted(*cells):
    text = StringIO(newline="")
    csv.writer(text, quoting=csv.QUOTE_ALL).writerow(cells)
    return text.getvalue()


@given(st.one_of(st.text(), st.builds("{}{}{}".format, st.text("'", max_size=3), st.sampled_from(STARTS), st.text())))
def test_guarding_is_undone_and_leaves_no_formula(cell):
    safe = guarded(cell)
    assert not safe.startswith(OWASP)
    assert unguarded(safe) == cell
    assert may_be_guarded(f"a;{safe}") or safe == cell
    assert safe in (cell, f"'{cell}")


# A carriage return alone ends a row for some programs; names that people type have neither.
texts = st.one_of(
    st.sampled_from(FORMULAS), st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), max_size=12)
)
MARKS = st.sampled_from(["3 3/4", "-1/4", "15,9 mm", "3¾", "4' 6\"", "=1+1", "-", "", "1,500", "@x"])


@settings(max_examples=80)
@given(st.lists(st.tuples(texts, MARKS, st.sampled_from(["", "scale rule", "=caliper", "none"]), texts), min_size=1))
def test_a_table_reads_back_as_it_was_written(tmp_path_factory, rows):
    source = quoted("name", "mark", "rule", "note") + "".join(quoted(*row) for row in rows)
    # The quotes keep cells whole; what a person means by ' before = is the same as for a spreadsheet.
    table = read_table(source, RULES, marking=RULES[0])
    folder = tmp_path_factory.mktemp("tables")
    for ending in (".csv", ".xlsx"):
        if ending == ".xlsx" and any("\r" in cell for row in rows for cell in row):
            continue  # XML can't tell a carriage return from a line feed
        again = read_table(write_table(table, folder / f"readings{ending}"), RULES, marking=RULES[0])
        assert_frame_equal(again.frame.reset_index(drop=True), table.frame.reset_index(drop=True))
        kept = again.aside[table.aside.columns].reset_index(drop=True)
        assert_frame_equal(kept, table.aside.reset_index(drop=True))


def test_no_cell_of_the_file_is_a_formula(tmp_path):
    source = quoted("name", "mark", "note", "=head") + "".join(
        quoted(cell, "3" if place % 2 else "=3", cell, cell) for place, cell in enumerate(FORMULAS)
    )
    table = read_table(source, RULES, marking=RULES[0])
    assert len(table.frame) + len(table.aside) == len(FORMULAS)
    text = write_table(table, tmp_path / "readings.csv").read_bytes().decode("utf-8-sig")
    cells = [cell for row in csv.reader(StringIO(text, newline="")) for cell in row]
    numbers = [cell for cell in cells if cell.startswith("-") and cell[1:].replace(".", "").isdigit()]
    assert not [cell for cell in cells if cell.startswith(OWASP) and cell not in numbers]
    book = openpyxl.load_workbook(write_table(table, tmp_path / "readings.xlsx"))
    kinds = {cell.data_type for row in book.active.iter_rows() for cell in row}
    assert kinds == {"s", "n"}
    names = [row[0].value for row in book.active.iter_rows(min_row=2)]
    assert "=1+1" in names
    assert {cell.number_format for cell in book.active["B"]} == {"@"}


def test_the_file_shows_fractions_and_starts_with_a_byte_order_mark(tmp_path):
    file = write_table(read_table("roof ±;3¾", RULES), tmp_path / "readings.csv")
    content = file.read_bytes()
    assert content.startswith(b"\xef\xbb\xbf")
    assert content.decode("utf-8-sig").splitlines() == [
        '"name","mark","rule","datum","length_mm","length_in","length_scale_ft","u_mm","u_reading_mm"',
        '"roof ±","3¾","scale rule","end",16.625,0.65453,4.75,0.25259,0.25259',
    ]


def test_rows_kept_aside_stand_at_the_foot_with_their_problem(tmp_path):
    table = read_table("name,mark\nroof,3,5\ntop,4\nsill,x", RULES, marking=RULES[0], finest="1/4")
    file = write_table(table, tmp_path / "readings.csv")
    _heads, good, *aside = (
        csv.DictReader(StringIO(file.read_text("utf-8-sig"))),
        *csv.DictReader(StringIO(file.read_text("utf-8-sig"))),
    )
    assert (good["name"], good["problem"], good["set_rule_at"]) == ("top", "", "4 scale ft")
    assert [(row["name"], row["mark"], row["surplus cells"], row["length_mm"]) for row in aside] == [
        ("roof", "3", "5", ""),
        ("sill", "x", "", ""),
    ]
    again = read_table(file, RULES)
    assert again.frame["name"].tolist() == ["top"]  # what was parted by a comma is not read as 3, later either
    assert again.aside["name"].tolist() == ["roof", "sill"]


def test_the_file_is_replaced_whole(tmp_path, monkeypatch):
    file = tmp_path / "readings.csv"
    file.write_text("old", "utf-8")
    table = read_table("3", RULES)
    with monkeypatch.context() as patched:
        patched.setattr("os.replace", lambda *_names: (_ for _ in ()).throw(OSError("disk full")))
        with pytest.raises(OSError, match=r"^disk full$"):
            write_table(table, file)
    assert file.read_text("utf-8") == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["readings.csv"]
    write_table(table, file)
    assert len(read_table(file, RULES).frame) == 1


def test_another_kind_of_file_is_refused(tmp_path):
    with pytest.raises(UnknownChoice, match=r"^the kind of file is '\.pdf'; write one of \.csv, \.xlsx\.$"):
        write_table(read_table("3", RULES), tmp_path / "readings.pdf")


def test_signs_that_a_spreadsheet_can_not_hold_are_replaced(tmp_path):
    table = read_table("a\x01b;3", RULES)
    book = openpyxl.load_workbook(BytesIO(write_table(table, tmp_path / "readings.xlsx").read_bytes()))
    assert book.active["A2"].value == "a\ufffdb"


def test_figures_are_written_far_below_what_a_reading_tells(tmp_path):
    """1/64 in is 0.396875 mm, 1/64 of 25.4 (NIST SP 811), 0.11339 scale feet of 3.5 mm; u is 0.5 / sqrt(12) mm."""
    table = read_table("1/64 in", Rule(unit="mm", scale="HO", graduation="0.5"))
    row = next(csv.DictReader(StringIO(write_table(table, tmp_path / "readings.csv").read_text("utf-8-sig"))))
    assert (row["length_mm"], row["length_scale_ft"]) == ("0.3969", "0.1134")
    assert row["length_in"] in ("0.01562", "0.01563")  # a tie
    assert (row["u_mm"], row["u_reading_mm"]) == ("0.14434", "0.14434")


def test_where_no_figure_is_the_cell_stays_empty(tmp_path):
    """A length beyond the marking rule's end has no setting: nothing, neither nan nor 0, stands in its cell."""
    table = read_table("roof;7\nfar;700", RULES, marking=Rule(scale="HO", length="90"))
    rows = list(csv.DictReader(StringIO(write_table(table, tmp_path / "readings.csv").read_text("utf-8-sig"))))
    assert [(row["set_rule_at"], row["beyond_mm"]) for row in rows] == [("8 scale ft", "0.0"), ("not on rule", "")]
    sheet = openpyxl.load_workbook(BytesIO(write_table(table, tmp_path / "readings.xlsx").read_bytes())).active
    place = [cell.value for cell in sheet[1]].index("beyond_mm")
    assert [sheet[row][place].value for row in (2, 3)] == [0, None]


def test_a_spreadsheet_says_how_far_it_is(tmp_path):
    """From nothing to nine tenths by rows, the heads among them; the writing is the rest."""
    table = read_table("\n".join(["3"] * 1000), RULES)
    told = list(write_table_in_steps(table, tmp_path / "readings.xlsx"))
    assert [each.doing for each in told] == [
        "Filling the spreadsheet, row 0 of 1,000",
        "Filling the spreadsheet, row 500 of 1,000",
        "Filling the spreadsheet, row 1,000 of 1,000",
        "Writing readings.xlsx",
    ]
    assert [each.share for each in told] == pytest.approx([0, 0.9 * 500 / 1001, 0.9 * 1000 / 1001, 0.9])


def test_a_spreadsheet_carries_no_time_of_day(tmp_path):
    """The first date of a ZIP file, made under Unix (PKWARE, ".ZIP File Format Specification", 4.4.2 and 4.4.6)."""
    with zipfile.ZipFile(write_table(read_table("3", RULES), tmp_path / "readings.xlsx")) as packed:
        assert {(each.date_time, each.create_system, each.compress_type) for each in packed.infolist()} == {
            ((1980, 1, 1, 0, 0, 0), 3, zipfile.ZIP_DEFLATED)
        }
