"""Several models: the fleet's page, files for other programs, and a copy to the next model, in a real browser."""

from __future__ import annotations

import pytest
from browser.acts import enter, shows
from browser.test_inside import narrow, press, unfold


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_every_job_of_the_workbook_stands_in_the_overview(opens, kind):
    page = opens("fleet", kind, ".mm table")
    main = page.locator("main")
    for name in ("Tarn Valley switcher No. 31", "Tarn Valley gas-electric M-2"):
        shows(main, name)
    page.locator("svg").first.wait_for(timeout=30_000)
    assert narrow(page)


def test_flat_parts_and_tables_are_written_for_other_programs(opens, workbook_server):
    page = opens("enclosure", "page", ".mm-card")
    unfold(page, "For other programs")
    for button, ending in (("Drawing as SVG", ".svg"), ("Drawing as DXF", ".dxf"), ("Parts as CSV", ".csv"),
                           ("Parts as spreadsheet", ".xlsx")):  # fmt: skip
        press(page, button)
        shows(page.locator("main"), ending)
        assert [each for each in (workbook_server.folder / "packets").iterdir() if each.suffix == ending]


def test_a_number_seen_on_the_sheet_is_looked_up(opens):
    page = opens("enclosure", "page", ".mm-card")
    unfold(page, "Why this number")
    enter(page, "A number you see", "0.88 mm")
    shows(page.locator("main"), "figures carry it; the likeliest is first.")
    enter(page, "A number you see", "123.45 mm")
    shows(page.get_by_role("alert").first, "No figure of this plan carries 123.45 mm.")


def test_the_next_model_is_a_copy_whose_readings_are_marked(opens):
    page = opens("enclosure", "page", ".mm-card")
    unfold(page, "The next model")
    enter(page, "The next model", "Hopper railcar 2")
    press(page, "Save it as a new job")
    shows(page.locator("main"), "Copied from Tarn Valley switcher No. 31, not measured: measure again before you cut.")
    unfold(page, "The shelf")
    press(page, "Put it on the shelf")
    shows(page.locator("main"), "shelf")
    assert narrow(page)
