"""From the start page, in a real browser: a new model begun and measured, gone on with by one click, by keyboard."""

from __future__ import annotations

import re
from typing import Any

from browser.acts import enter, has, shows

WAIT_MS = 60_000
NEW = "A new model"


def card(page: Any) -> Any:
    return page.locator(".mm-card").first


def test_a_new_model_has_an_answer_within_six_entries_and_a_bench_card_within_fifteen(opens, workbook_server):
    page = opens("start")
    entries = 0
    # The main path is in sight at once; what else there is lies below it.
    for name in ("Begin a new model", "Look at a demo"):
        box = page.get_by_role("heading", name=re.compile(name)).bounding_box()
        assert box["y"] + box["height"] < page.viewport_size["height"]
    assert not page.get_by_label("Clearance to keep").is_visible()
    for label, text in (("Model's name", NEW), ("Rule's zero stands in by", "1")):
        enter(page, label, text)
        entries += 1
    shows(page.locator("main"), "3.50 mm from the rule's end to its zero")
    page.get_by_role("button", name="Begin", exact=True).click()
    entries += 1
    page.wait_for_url("**/enclosure.ipynb?job=a-new-model", timeout=WAIT_MS)
    card(page).wait_for(timeout=WAIT_MS)
    shows(card(page), "Still to enter")
    has(page, "Model", NEW)
    for label, text in (("Reading on the chassis", "3 1/4"), ("Reading in the shell", "8 3/4")):
        enter(page, label, text)
        entries += 1
    # 5 1/2 scale ft of 3.5 mm are 19.25 mm, less 0.5 mm: down to the quarter foot, 18.375 mm.
    shows(card(page), "18.38 mm")
    assert entries <= 6
    enter(page, "Thickness of the speaker's flange", "1.5 mm")
    page.get_by_role("button", name="Print the bench card").click()
    entries += 2
    page.get_by_role("link", name=re.compile(r"\.pdf$")).first.wait_for(timeout=WAIT_MS)
    assert entries <= 15
    page.get_by_role("button", name="Save the job").click()
    shows(page.locator("main"), "a-new-model.toml")
    assert 'mark = "8 3/4"' in (workbook_server.folder / "jobs" / "a-new-model.toml").read_text("utf-8")

    page = opens("start")
    go_on = page.get_by_role("link", name=NEW)
    shows(page.get_by_role("listitem").filter(has=go_on), "measured, nothing built yet")
    go_on.click()  # one click opens it
    card(page).wait_for(timeout=WAIT_MS)
    has(page, "Reading in the shell", "8 3/4")
    shows(card(page), "18.38 mm")


def test_a_new_model_is_begun_by_keyboard_on_a_phone(opens):
    page = opens("start", "phone")
    page.get_by_label("Model's name").focus()
    for key in ("By keyboard", "Tab", "Tab"):
        page.keyboard.press(key) if key == "Tab" else page.keyboard.type(key)
    assert page.evaluate("document.activeElement.labels[0].textContent") == "Rule's zero stands in by"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # the questions that have their usual answers
    page.get_by_label("Clearance to keep").wait_for(timeout=WAIT_MS)
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    page.keyboard.press("Enter")
    page.get_by_label("Clearance to keep").wait_for(state="detached", timeout=WAIT_MS)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Begin"
    page.keyboard.press("Enter")
    page.wait_for_url("**/enclosure.ipynb?job=by-keyboard", timeout=WAIT_MS)
    shows(card(page), "Still to enter")


def test_a_job_that_is_not_there_is_said_and_the_demo_opens(page, workbook_server):
    page.goto(f"{workbook_server.at('/voila/render/enclosure.ipynb')}&job=..%2Fgone%3Cb%3E")
    shows(
        page.get_by_role("alert").first,
        "There is no job called '../gone<b>' in this workbook; the demo is open instead.",
    )
    has(page, "Model", "Tarn Valley switcher No. 31")
    assert (page.noted.faults, page.noted.console, page.noted.outside) == ([], [], [])
