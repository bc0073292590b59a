"""The walkthrough in earnest: all of a packet, keys alone, bad input at every field, reloads, two pages at once."""

from __future__ import annotations

import io
from typing import Any

import pytest
from browser.acts import enter, has, shows
from browser.test_lab import opened

NEW = "(new model)"
READINGS = (
    ("Scale", "HO"),
    ("Rule's zero stands in from its end by", "1"),
    ("Reading on the chassis", "3 1/4"),
    ("Reading in the shell", "8 3/4"),
    ("Clearance to keep", "1/4"),
    ("Finest mark to cut to", "1/4"),
)
SIZES = (
    ("Inside width of the shell", "24 mm"),
    ("Length inside the shell", "90 mm"),
    ("Speaker's length", "28 mm"),
    ("Speaker's width", "15 mm"),
    ("Speaker's depth", "7 mm"),
    ("Decoder's length", "20 mm"),
    ("Decoder's width", "11 mm"),
    ("Decoder's height", "4 mm"),
)
FLANGE = "Thickness of the speaker's flange"
BENCH_CARD, WHOLE = 15, 40


@pytest.fixture(params=["app", "lab"])
def view(request: pytest.FixtureRequest) -> str:
    """Where the walkthrough is shown: in the app view, or in JupyterLab."""
    return str(request.param)


@pytest.fixture
def walkthrough(view: str, opens: Any, page: Any, workbook_server: Any) -> Any:
    if view == "app":
        yield opens("enclosure")
        return
    opened(page, workbook_server, "enclosure.ipynb")
    card(page).wait_for(timeout=60_000)
    yield page
    assert (page.noted.faults, page.noted.outside) == ([], [])


def card(page: Any) -> Any:
    return page.locator(".mm-card").first


def fold(page: Any, title: str) -> None:
    page.get_by_role("button", name=title).click()


def new_model(page: Any, name: str) -> int:
    """Begin a model of one's own; return how many entries that took."""
    enter(page, "Job", NEW)
    shows(card(page), "Still to enter")
    enter(page, "Model", name)
    return 2


def test_a_whole_packet_takes_at_most_forty_entries(walkthrough, view, workbook_server):
    import pdfplumber

    page = walkthrough
    entries = new_model(page, f"All of it {view}")
    for label, text in READINGS:
        enter(page, label, text)
        entries += 1
    shows(card(page), "5 1/4 scale ft")
    enter(page, FLANGE, "1.2 mm")
    entries += 1
    assert entries <= BENCH_CARD
    fold(page, "Sizes of shell, speaker and decoder")
    for label, text in SIZES:
        enter(page, label, text)
        entries += 1
    shows(card(page), "cm3 gross")
    page.get_by_role("button", name="Print the bench card").click()
    entries += 1
    assert entries <= WHOLE
    link = page.get_by_role("link", name="a4.pdf").first
    link.wait_for(timeout=30_000)
    found = list((workbook_server.folder / "packets").glob(f"all-of-it-{view}*.pdf"))
    assert found
    with pdfplumber.open(io.BytesIO(found[0].read_bytes())) as pdf:
        text = "\n".join(each.extract_text() for each in pdf.pages)
    # What a packet without the chamber's sizes could not hold.
    for head in ("Overview", "Templates", "Cut plan", "Sound", "floor plate", "Cautions"):
        assert head in text, head


def test_the_readings_and_the_card_by_keyboard_alone(walkthrough):
    from playwright.sync_api import expect

    page = walkthrough
    enter(page, "Job", NEW)
    shows(card(page), "Still to enter")
    page.get_by_label("Scale", exact=True).first.focus()
    page.keyboard.type("HO")
    for _label, text in READINGS[1:]:
        page.keyboard.press("Tab")
        page.keyboard.type(text)
    page.keyboard.press("Tab")
    shows(card(page), "5 1/4 scale ft")
    for _ in range(60):
        if page.evaluate("document.activeElement.textContent.trim()") == "Print the bench card":
            break
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.get_by_role("link", name="a4.pdf").first.wait_for(timeout=30_000)
    # Undo is a button too: the flange goes, and comes back.
    enter(page, FLANGE, "1.2 mm")
    shows(card(page), "Speaker supports")
    page.get_by_role("button", name="Undo").press("Enter")
    has(page, FLANGE, "")
    expect(page.get_by_role("button", name="Redo")).to_be_enabled()
    page.get_by_role("button", name="Redo").press("Enter")
    has(page, FLANGE, "1.2 mm")


def test_bad_input_at_each_field_is_told_beside_it_and_the_last_answer_stays(walkthrough):
    page = walkthrough
    enter(page, "Job", "railcar-n")
    enter(page, "Job", "switcher-ho")
    shows(card(page), "3 1/4 scale ft")
    fold(page, "Sizes of shell, speaker and decoder")
    fold(page, "The rule, and how sure it is")
    for label in ("Decoder's height", "How exactly parts are cut, ±"):
        page.get_by_label(label, exact=True).first.wait_for(timeout=15_000)
    labels = page.locator(".mm-field:has(input[type=text]) label").all_inner_texts()
    labels = [each for each in labels if each.strip() not in ("", "Model")]
    assert len(labels) > 20
    for label in labels:
        control = page.get_by_label(label, exact=True).first
        before = control.input_value()
        for bad in ("1..2 mm", "5 furlongs"):
            enter(page, label, bad)
            beside = page.locator(".mm-field", has=page.get_by_label(label, exact=True)).first
            shows(beside.get_by_role("alert"), bad)
            shows(card(page), "Bulkhead height")
        enter(page, label, before)
        beside.get_by_role("alert").wait_for(state="detached", timeout=15_000)
    shows(card(page), "3 1/4 scale ft")


def test_a_reload_in_the_middle_of_the_readings_loses_nothing(walkthrough, view):
    page, name = walkthrough, f"Half read {view}"
    new_model(page, name)
    for label, text in READINGS[1:4]:
        enter(page, label, text)
    shows(page.locator("body"), "kept as a draft")
    page.reload()
    card(page).wait_for(timeout=60_000)
    shows(page.locator("body"), f"Unsaved changes of {name}")
    page.get_by_role("button", name="Take them up").click()
    for label, text in READINGS[1:4]:
        has(page, label, text)
    has(page, "Model", name)
    for label, text in READINGS[4:]:
        enter(page, label, text)
    shows(card(page), "5 1/4 scale ft")


@pytest.fixture
def second(browser: Any) -> Any:
    """Another page, as in another window."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    yield context.new_page()
    context.close()


def test_two_pages_on_one_job_keep_both_versions(walkthrough, view, second, workbook_server):
    page, name = walkthrough, f"Shared hood {view}"
    new_model(page, name)
    for label, text in READINGS:
        enter(page, label, text)
    shows(card(page), "5 1/4 scale ft")
    page.get_by_role("button", name="Save the job").click()
    shows(page.locator("body"), f"shared-hood-{view}.toml")
    second.goto(workbook_server.at("/voila/render/enclosure.ipynb"))
    card(second).wait_for(timeout=60_000)
    enter(second, "Job", f"shared-hood-{view}")
    has(second, "Model", name)
    enter(second, "Reading in the shell", "9")
    shows(card(second), "5 1/2 scale ft")
    second.get_by_role("button", name="Save the job").click()
    shows(second.locator("body"), "Saved as")
    enter(page, "Reading in the shell", "9 1/4")
    shows(card(page), "5 3/4 scale ft")
    page.get_by_role("button", name="Save the job").click()
    shows(page.get_by_role("alert").first, "changed")
    kept = sorted((workbook_server.folder / "jobs").glob(f"shared-hood-{view}*.toml"))
    marks = "\n".join(each.read_text("utf-8") for each in kept)
    assert len(kept) == 2
    assert 'mark = "9"' in marks
    assert 'mark = "9 1/4"' in marks
