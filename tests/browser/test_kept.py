"""What was entered and not saved is there again after the browser has died."""

from __future__ import annotations

from typing import Any

WAIT_MS = 60_000


def reading(page: Any) -> Any:
    return page.get_by_label("Reading on the chassis", exact=True).first


def test_a_page_that_died_leaves_its_entries_to_the_next(browser, workbook_server):
    first = browser.new_context().new_page()
    first.goto(workbook_server.url)
    reading(first).wait_for(timeout=WAIT_MS)
    reading(first).fill("5 5/16")
    reading(first).press("Enter")
    first.get_by_text("Not saved yet. What you enter is kept as a draft as you go.").wait_for(timeout=WAIT_MS)
    first.context.close()

    page = browser.new_context().new_page()
    page.goto(workbook_server.url)
    page.get_by_text("Unsaved changes of Tarn Valley switcher No. 31").wait_for(timeout=WAIT_MS)
    assert reading(page).input_value() == "5 1/8"
    page.get_by_role("button", name="Take them up").click()
    page.wait_for_function("document.querySelectorAll('input').length > 0")
    page.get_by_text("Not saved yet.").first.wait_for(timeout=WAIT_MS)
    assert reading(page).input_value() == "5 5/16"
    page.context.close()
