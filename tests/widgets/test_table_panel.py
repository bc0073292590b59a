"""The page for tables of readings, driven in Python."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from html import unescape

import pytest
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import all_scales
from modelmath.lengths.table import read_table, write_table
from modelmath.widgets.common import places
from modelmath.widgets.table import LISTED, SHOWN, TablePanel


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.fixture
def panel(tmp_path, monkeypatch):
    monkeypatch.setattr(places, "workbook_folder", lambda: tmp_path)
    return TablePanel()


NOW = datetime(2024, 1, 1, tzinfo=UTC)


def uploaded(name, content):
    return ({"name": name, "type": "", "size": len(content), "content": memoryview(content), "last_modified": NOW},)


def test_the_page_works_as_it_opens(panel):
    said = plain(panel.answer.value)
    assert said.startswith("5 readings; 1 row kept aside. Row 7, kept aside: '4 1/': it can't be read as a length;")
    # HO: 3.5 mm to the foot (NMRA S-1.2); 9 1/8 from the end of a rule whose zero stands 1 scale ft in.
    assert "2 walkway to roof 9 1/8 10 1/8 scale ft 1.395 in 35.44 mm 0.25 mm scale rule end" in said
    assert "1.02 mm 0.01 mm caliper" in said  # read to 0.04 mm, as is usual for a caliper
    assert panel.summary.splitlines()[0] == "5 readings; 1 row kept aside."


def test_bad_lines_are_kept_aside_and_text_is_escaped(panel):
    panel.pasted.value = "roof; 9\n<b>motor</b>; 5 1//2\n\nweight\t4 1/4\n<i>sill</i>; 2"
    assert "Row 2, kept aside:" in plain(panel.answer.value)
    assert "roof 9 10 scale ft 1.378 in 35.00 mm" in plain(panel.answer.value)
    assert "<i>" not in panel.answer.value


def test_a_bad_rule_is_said_and_the_last_table_stays(panel):
    before = panel.answer.value
    panel.rules.value = "scale rule; yards"
    assert "line 1 of the rules is 'scale rule; yards'; expected a rule" in plain(panel.rules_note.value)
    assert 'role="alert"' in panel.rules_note.value
    assert panel.answer.value == before
    panel.rules.value = "scale rule; scale ft; 1/4; 2"
    assert 'role="alert"' not in panel.rules_note.value
    assert "walkway to roof 9 1/8 11 1/8 scale ft" in plain(panel.answer.value)


def test_a_table_that_can_not_be_read_is_said_and_the_last_one_stays(panel):
    before = panel.answer.value
    panel.pasted.value = 'name;mark\n"roof;3'
    assert "the quote that opens in row 2" in plain(panel.source_note.value)
    assert panel.answer.value == before


def test_where_to_set_the_rule(panel):
    panel.pasted.value = "10\n10.1"
    panel.fields["marking"].value = "scale rule"
    assert "Set scale rule at" in panel.answer.value
    assert "2 row 2 10.1 10 scale ft and 0.35 mm" in plain(panel.answer.value)
    panel.fields["finest"].value = "1/0"
    assert "can't have 0 below the line" in plain(panel.fields["finest"].message)
    panel.fields["finest"].value = "0"
    assert 'role="alert"' in panel.fields["finest"].message
    panel.rules.value = "other; mm"
    assert panel.fields["marking"].value == "(none)"


def test_a_file_takes_the_place_of_the_lines_until_they_change(panel, tmp_path):
    rule = Rule(scale="HO", zero_offset="1", name="scale rule")
    for ending in (".csv", ".xlsx"):
        content = write_table(read_table("deck; 3", rule), tmp_path / f"in{ending}").read_bytes()
        panel.upload.value = uploaded(f"in{ending}", content)
        assert "2 deck 3 4 scale ft" in plain(panel.answer.value)
        assert plain(panel.answer.value).startswith(
            f"Showing the file in{ending} ; type in the box of readings to go back to its lines. 1 reading."
        )
    panel.upload.value = uploaded("plan.pdf", b"%PDF")
    assert "the kind of file is '.pdf'; write one of .csv, .txt, .tsv, .xlsx." in plain(panel.source_note.value)
    panel.upload.value = uploaded("in.txt", "deck¾;3¾".encode("latin-1"))
    assert "it was read as Latin-1" in plain(panel.answer.value)
    panel.pasted.value = "sill; 2"
    assert "1 sill 2 3 scale ft" in plain(panel.answer.value)
    assert "Showing the file" not in panel.answer.value
    panel.upload.value = uploaded("<b>.txt", b"deck;3")
    assert "<b>" not in panel.answer.value


def test_a_long_table_shows_its_first_rows_and_how_many_there_are(panel):
    panel.pasted.value = "\n".join(["3"] * (SHOWN + 50) + ["x"] * 60)
    said = plain(panel.answer.value)
    assert said.startswith("250 readings; 60 rows kept aside.")
    assert "and 10 more; the saved file has them all at its foot." in said
    assert f"Corrected: the first {SHOWN} of 250" in said
    assert panel.answer.value.count("<tr>") == SHOWN + 1


def test_saving_says_where_and_never_replaces_a_file_of_yours(panel, tmp_path):
    folder = tmp_path / "tables"
    assert str(folder) in plain(panel.fields["file"].message)
    folder.mkdir()
    (folder / "readings.csv").write_text("mine", "utf-8")
    for _ in range(2):
        panel.csv.click()
        assert plain(panel.saved.value) == (
            "Nothing was saved: readings.csv is there already, and was not saved from here. Give another name."
        )
    assert (folder / "readings.csv").read_text("utf-8") == "mine"
    panel.fields["file"].value = "mine too"
    for _ in range(2):  # its own file is written anew
        panel.csv.click()
        assert plain(panel.saved.value) == f"Saved: mine-too.csv , in {folder}"
    panel.fields["file"].value = "../Shell no. 3"
    panel.sheet.click()
    assert sorted(file.name for file in folder.iterdir()) == ["mine-too.csv", "readings.csv", "shell-no-3.xlsx"]
    assert 'href="/files/tables/shell-no-3.xlsx"' in panel.saved.value
    again = read_table(folder / "mine-too.csv", panel.table.rules)
    assert again.frame["length_mm"].tolist() == panel.table.frame["length_mm"].tolist()


@pytest.mark.parametrize("name", ["", "  ", "../.."])
def test_a_file_without_a_name_is_not_saved(panel, tmp_path, name):
    panel.fields["file"].value = name
    panel.csv.click()
    assert plain(panel.saved.value) == "Nothing was saved: give the file a name, such as readings."
    assert list(tmp_path.iterdir()) == []


def test_repeated_readings_in_one_line_are_told_to_go_on_lines_of_their_own(panel):
    panel.pasted.value = "motor; 5\nroof; 6; 6 1/8; 6"
    assert (
        "Row 2, kept aside: the row is 4 columns wide; it must be a name and a mark. "
        "Write each reading on a line of its own, as roof; 3 3/4, or heads above the columns."
    ) in plain(panel.answer.value)
    panel.pasted.value = "roof; 6\nroof; 6 1/8\nroof; 6"
    assert plain(panel.answer.value).startswith("3 readings.")


def test_every_scale_is_offered_the_common_ones_first(panel):
    offered = panel.fields["scale"].control.options
    assert offered[:4] == ("HO", "N", "O", "S")
    assert sorted(offered) == sorted(each.name for each in all_scales())
    for name in offered:
        panel.fields["scale"].value = name
        assert plain(panel.answer.value).startswith("5 readings;")


def test_a_save_that_fails_is_said(panel, tmp_path):
    (tmp_path / "tables").write_text("a file where the folder should be", "utf-8")
    panel.csv.click()
    assert plain(panel.saved.value).startswith("Nothing was saved: ")


def test_a_jobs_calibrated_rules_are_used_with_all_they_know():
    panel = TablePanel()
    panel.fields["job"].value = "railbus-ho"
    panel.pasted.value = "name; mark; rule\nroof; 7 3/4; scale rule\nrim; 10.46; caliper"
    rule = plan(DEMOS["railbus-ho"]).bench.rules["scale rule"]
    frame = panel.table.frame
    assert frame["length_mm"].iloc[0] == pytest.approx(rule.length("7 3/4").n)
    assert frame["u_mm"].iloc[0] == pytest.approx(rule.length("7 3/4").std_dev)  # offset and scale error are in it
    panel.fields["job"].value = LISTED
    assert panel.table.rules["scale rule"].scale_error_uncertainty == 0
