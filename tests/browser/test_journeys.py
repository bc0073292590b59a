"""The main journeys in a real browser: from entries to sizes, a bad entry and its message, saving, printing."""

from __future__ import annotations

import re
from typing import Any

import pytest

WAIT_MS = 60_000
NEW = "(new model)"
# A space of 4 3/4 scale ft in S with half a foot kept: a bulkhead of 4 1/4, set at 2 3/4 for a zero 1 1/2 in.
SIX = (
    ("Scale", "S"),
    ("Rule's zero stands in from its end by", "1 1/2"),
    ("Reading on the chassis", "2 1/2"),
    ("Reading in the shell", "7 1/4"),
    ("Clearance to keep", "1/2"),
    ("Finest mark to cut to", "1/4"),
)


def field(page: Any, label: str) -> Any:
    return page.get_by_label(label, exact=True).first


def enter(page: Any, label: str, text: str) -> None:
    control = field(page, label)
    if control.evaluate("node => node.tagName") == "SELECT":
        control.select_option(text)
    else:
        control.fill(text)
        control.press("Enter")


def card(page: Any) -> Any:
    return page.locator(".mm-card")


def opened(page: Any, server: Any) -> Any:
    page.goto(server.url)
    card(page).wait_for(timeout=WAIT_MS)
    return page


def shows(locator: Any, text: str) -> None:
    from playwright.sync_api import expect

    expect(locator).to_contain_text(text, timeout=15_000)


@pytest.fixture(params=["page", "phone"])
def opens(request: pytest.FixtureRequest, workbook_server: Any) -> Any:
    """The walkthrough as README's command opens it, on a desktop and on a phone."""
    page = opened(request.getfixturevalue(request.param), workbook_server)
    yield page
    assert page.noted.faults == []
    assert page.noted.console == []
    assert page.noted.outside == []


def test_the_page_opens_on_the_demo_job_and_follows_a_changed_reading(opens):
    shows(card(opens), "3 1/4 scale ft")
    enter(opens, "Reading on the chassis", "5 3/8")
    # A quarter foot less over the motor: now the decoder goes below the floor, which comes up a mark for it.
    shows(card(opens), "2 7/8 scale ft")
    shows(card(opens), "2 1/8 scale ft")


def test_a_new_user_has_an_answer_within_six_entries_and_a_bench_card_within_fifteen(opens, workbook_server):
    enter(opens, "Job", NEW)
    shows(card(opens), "Still to enter")
    for label, text in SIX:
        enter(opens, label, text)
    shows(card(opens), "4 1/4 scale ft")
    shows(card(opens), "0.797 in")
    shows(card(opens), "20.24 mm")
    shows(card(opens), "Set the rule at")
    shows(card(opens), "2 3/4 scale ft")
    opens.get_by_role("img", name=re.compile("Side elevation")).wait_for(timeout=15_000)
    enter(opens, "Thickness of the speaker's flange", "1.5 mm")  # entry 7
    shows(card(opens), "Speaker supports")
    shows(opens.get_by_role("region", name="Cut list, longest first"), "speaker support")
    opens.get_by_role("button", name="Print the bench card").click()  # 8
    link = opens.get_by_role("link", name=re.compile(r"\.pdf$")).first
    link.wait_for(timeout=30_000)
    with opens.expect_download(timeout=30_000) as download:
        link.click()
    got = download.value.path().read_bytes()
    assert got.startswith(b"%PDF")
    assert got == (workbook_server.folder / "packets" / download.value.suggested_filename).read_bytes()


def test_a_bad_reading_shows_its_message_beside_the_field_and_the_last_result_stays(opens):
    enter(opens, "Reading in the shell", "8 5//8")
    alert = opens.get_by_role("alert")
    shows(alert, "two fraction strokes")
    below = alert.bounding_box()
    box = field(opens, "Reading in the shell").bounding_box()
    assert 0 <= below["y"] - (box["y"] + box["height"]) < 40
    assert abs(below["x"] - box["x"]) < 20
    shows(card(opens), "3 1/4 scale ft")
    enter(opens, "Reading in the shell", "8 5/8")
    alert.wait_for(state="detached", timeout=15_000)


def test_a_job_is_saved_into_the_workbook_folder(opens, workbook_server):
    enter(opens, "Model", "Saved in a browser")
    enter(opens, "Reading on the chassis", "5 1/4")
    opens.get_by_role("button", name="Save the job").click()
    shows(opens.locator("main"), "saved-in-a-browser.toml")
    saved = (workbook_server.folder / "jobs" / "saved-in-a-browser.toml").read_text("utf-8")
    assert 'mark = "5 1/4"' in saved


def test_everything_is_reached_by_keyboard(opens):
    field(opens, "Rule's zero stands in from its end by").focus()
    opens.keyboard.press("Tab")
    assert opens.evaluate("document.activeElement.labels[0].textContent") == "Reading on the chassis"
    opens.keyboard.press("Control+A")
    opens.keyboard.type("5 3/8")
    opens.keyboard.press("Tab")
    shows(card(opens), "10.06 mm")


def test_a_fold_opens_by_keyboard_and_what_does_not_fit_is_said_in_it(opens):
    head = opens.get_by_role("button", name="Sizes of shell, speaker and decoder")
    head.focus()
    opens.keyboard.press("Enter")
    enter(opens, "Speaker's width", "26 mm")
    shows(opens.get_by_role("alert").first, "The speaker does not fit: 7.50 mm too little")
    shows(card(opens), "3 1/4 scale ft")  # the bulkhead does not depend on the speaker
    head.press("Enter")
    opens.get_by_label("Speaker's width").wait_for(state="detached", timeout=15_000)


def test_nothing_stands_out_past_the_width_of_the_page(opens):
    assert opens.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0


@pytest.mark.parametrize("name", ["start", "readings", "strips"])
def test_the_other_pages_open_live(page, workbook_server, name):
    page.goto(workbook_server.at(f"/voila/render/{name}.ipynb"))
    page.locator("main .mm").first.wait_for(timeout=WAIT_MS)
    if name == "readings":
        enter(page, "Reading", "6 1/4")
        shows(card(page), "7 1/4 scale ft")
    if name == "strips":
        enter(page, "Height wanted", ".060 in")
        shows(page.get_by_role("region", name="As it is, best first"), ".060")
    assert (page.noted.faults, page.noted.console, page.noted.outside) == ([], [], [])
