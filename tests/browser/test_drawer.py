"""The drawer's grid and a cut plan taken out of it, in a real browser."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from browser.acts import shows


@pytest.fixture(autouse=True)
def demo_drawer(workbook_server: Any) -> Iterator[None]:
    """Every test begins with the demo drawer, and leaves it."""
    file = workbook_server.folder / "drawer.json"
    file.unlink(missing_ok=True)
    yield
    file.unlink(missing_ok=True)


def state(page: Any) -> Any:
    return page.get_by_text("Saved: the table is what the drawer's file has.")


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_a_row_is_typed_mended_saved_and_undone(opens, workbook_server, kind):
    page = opens("drawer", kind, ".mm-grid")
    rows = page.locator(".mm-grid tbody tr:not(.mm-grid-fault)")
    count = rows.count()
    page.get_by_label(f"Kind, row {count}").select_option("strip")
    page.get_by_label(f"Name, row {count}").fill("6x10")
    page.get_by_label(f"Name, row {count}").press("ArrowUp")
    shows(page.locator(".mm-grid-fault").first, "length")
    page.get_by_label(f"Length, row {count}").fill("11 in")
    page.get_by_label(f"Length, row {count}").blur()
    page.locator(".mm-grid-fault").first.wait_for(state="detached")
    page.get_by_role("button", name="Save the drawer").click()
    state(page).wait_for()
    assert page.get_by_label(f"Name, row {count}").input_value() == "HO 6x10"
    assert page.get_by_label(f"Length, row {count}").input_value() == "11 in"
    kept = json.loads((workbook_server.folder / "drawer.json").read_text())
    assert kept["states"][kept["at"]]["items"][-1]["length_mm"] == "1397/5"  # 11 x 25.4
    page.get_by_role("button", name="Undo").click()
    page.locator(f'[aria-label="Name, row {count}"]').wait_for()
    page.wait_for_function(f"document.querySelector('[aria-label=\"Name, row {count}\"]').value === '2.50 mm'")


def test_keys_go_from_row_to_row_and_a_new_row_is_begun(opens):
    page = opens("drawer", "page", ".mm-grid")
    count = page.locator(".mm-grid tbody tr").count()
    page.get_by_label("Name, row 1", exact=True).press("ArrowDown")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Name, row 2"
    page.get_by_label(f"Name, row {count}").press("Enter")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == f"Name, row {count + 1}"
    assert page.get_by_label(f"Kind, row {count + 1}").input_value() == "drill"  # as in the row above
    page.get_by_role("button", name=f"take out row {count + 1}").click()
    assert page.locator(".mm-grid tbody tr").count() == count


def test_cells_of_a_spreadsheet_are_pasted_in(opens):
    page = opens("drawer", "page", ".mm-grid")
    count = page.locator(".mm-grid tbody tr").count()
    page.evaluate(
        """([label, text]) => {
            const data = new DataTransfer();
            data.setData("text", text);
            const event = new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true });
            document.querySelector(`[aria-label="${label}"]`).dispatchEvent(event);
        }""",
        [f"Kind, row {count}", "strip\tHO 8x8\t12 in\nsheet\t.015 sheet\t12 in\t6 in\n"],
    )
    shows(page.get_by_text("Not saved yet"), "1 row changed, 1 row added")
    assert page.get_by_label(f"Width, row {count + 1}").input_value() == "6 in"


def test_a_plan_is_accepted_and_the_drawer_page_shows_what_is_left(opens):
    page = opens("cuts", "page", ".mm-card")
    shows(page.locator(".mm-card").first, "none to buy")
    page.get_by_role("button", name="Accept").click()
    page.get_by_text("Taken out of the drawer").wait_for()
    opens("drawer", "page", ".mm-grid")
    shows(page.locator(".mm-card").first, "6 offcuts among them")
    page.get_by_role("button", name="Undo: cutting of switcher-ho").click()
    shows(page.locator(".mm-card").first, "4 offcuts among them")


def test_two_open_pages_never_overwrite_each_other_unseen(opens):
    page, other = opens("drawer", "page", ".mm-grid"), opens("drawer", "night", ".mm-grid")
    for each, count in ((page, "5"), (other, "7")):
        cell = each.get_by_label("Count, row 1", exact=True)
        cell.fill(count)
        cell.press("Tab")
        each.get_by_text("Not saved yet: 1 row changed.").wait_for()
    page.get_by_role("button", name="Save the drawer").click()
    state(page).wait_for()
    other.get_by_role("button", name="Save the drawer").click()
    other.get_by_text("The drawer was changed elsewhere in the meantime").wait_for()
    assert other.get_by_label("Count, row 1", exact=True).input_value() == "7"
    other.get_by_role("button", name="Take over what is there now").click()
    state(other).wait_for()
    assert other.get_by_label("Count, row 1", exact=True).input_value() == "5"
