"""Lamps, wires, walls and stock, typed into the walkthrough in a real browser."""

from __future__ import annotations

import re
from typing import Any

import pytest
from browser.acts import enter, shows


def unfold(page: Any, title: str) -> None:
    page.get_by_role("button", name=re.compile(f"{title}$")).click()


def press(page: Any, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def chosen(page: Any, label: str, text: str) -> None:
    """Wait until a choice shows a line."""
    shows(page.get_by_label(label, exact=True).first.locator("option:checked"), text)


def narrow(page: Any) -> bool:
    return bool(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0)


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_a_lamp_is_added_with_its_mistakes_told_and_taken_out_and_put_back(opens, kind):
    page = opens("enclosure", kind, ".mm-card")
    unfold(page, "Lamps and wires")
    enter(page, "Lamp", "a new one")
    page.get_by_role("button", name="Add this lamp").wait_for(timeout=15_000)
    enter(page, "The lamp", "cab light")
    enter(page, "Room it takes there", "2")
    shows(page.get_by_role("alert"), "'2': it has no unit; write a number with a unit, such as 15.9 mm")
    enter(page, "Room it takes there", "2 mm")
    page.get_by_role("alert").wait_for(state="detached", timeout=15_000)
    enter(page, "Thickness of a strand", "0.5 mm")
    enter(page, "Number of strands", "two")
    shows(page.get_by_role("alert"), "expected a whole number from 1 to 99. Write 2 for two strands.")
    enter(page, "Number of strands", "2")
    press(page, "Add this lamp")
    chosen(page, "Lamp", "2. cab light")
    unfold(page, "Holes")
    shows(page.locator("main"), "cab light 2")  # each strand has a hole of its own
    press(page, "Take this lamp out")
    chosen(page, "Lamp", "a new one")
    shows(page.locator("main"), "Taken out: cab light")
    press(page, "Put it back")
    chosen(page, "Lamp", "2. cab light")
    assert narrow(page)


def test_wires_and_stock_are_changed_and_the_plan_follows(opens):
    page = opens("enclosure", "page", ".mm-card")
    unfold(page, "Lamps and wires")
    unfold(page, "Holes")
    enter(page, "The wires", "sound wires")
    shows(page.locator("main"), "sound wires 2")
    unfold(page, "How parts are cut")
    enter(page, "Thickness of the walls", ".060 in")
    shows(page.get_by_role("region", name="Cut list, longest first"), ".060")
    enter(page, "Stock", "a new one")
    page.get_by_role("button", name="Add this stock").wait_for(timeout=15_000)  # the fields are empty by then
    enter(page, "Strip or sheet", "sheet")
    enter(page, "Size, by its name", ".060 sheet")
    enter(page, "Its length", "12 in")
    press(page, "Add this stock")
    shows(page.get_by_role("alert"), "Still to enter: Its width.")
    enter(page, "Its width", "6 in")
    press(page, "Add this stock")
    page.get_by_role("button", name="Take this stock out").wait_for(timeout=15_000)
    assert narrow(page)
