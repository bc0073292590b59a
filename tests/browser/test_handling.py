"""Moving the bulkhead in the drawing, in a real browser: by mouse, by finger, by keys and by typing."""

from __future__ import annotations

import json
import re

import pytest
from browser.acts import enter, has, shows

NAME = "handling-alone"
CELL = """
from modelmath.job import plan
from modelmath.job.storage.files import load_job
from modelmath.tables import data_folder
from modelmath.widgets.common.fields import page
from modelmath.widgets.plan.handling import Handling

handling = Handling(lambda job: None)
handling.show(plan(load_job(data_folder() / "jobs" / "switcher-ho.toml")))
handling.fold.head.value = True
page(handling.fold.view)
"""
BULKHEAD = '.mm-handle[data-key="front_end"]'
LIMIT = "38.94 mm ahead of the rear hood screw"
WHY = "No further that way: the speaker then does not fit: 0.02 mm too little, because over motor clip the chamber is"


@pytest.fixture
def handled(opens, workbook_server):
    """A function that opens the drawing by itself."""
    like = json.loads((workbook_server.folder / "enclosure.ipynb").read_text(encoding="utf-8"))
    cell = {"cell_type": "code", "id": "one", "metadata": {}, "outputs": [], "execution_count": None, "source": CELL}
    (workbook_server.folder / f"{NAME}.ipynb").write_text(json.dumps({**like, "cells": [cell]}), encoding="utf-8")
    yield lambda kind="page": opens(NAME, kind, BULKHEAD)
    (workbook_server.folder / f"{NAME}.ipynb").unlink()


def stands(page, where):
    from playwright.sync_api import expect

    expect(page.locator(BULKHEAD)).to_have_attribute("aria-valuetext", re.compile(re.escape(where)), timeout=15_000)


def volume(page, cm3):
    shows(page.locator(".mm-handled .line"), f"The chamber holds {cm3} cm3")


def grip(page):
    box = page.locator(f"{BULKHEAD} .grip").bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_by_mouse_it_follows_resists_where_it_can_not_be_and_stays_where_it_is_let_go(handled):
    page = handled()
    volume(page, "12.37")
    x, y = pulled(page, 60)
    volume(page, "9.88")  # not let go yet
    page.mouse.move(x + 400, y, steps=6)
    stands(page, LIMIT)
    shows(page.locator(".mm-handled .why"), WHY)
    shows(page.locator(".mm-handled .heard"), WHY)
    volume(page, "5.74")
    page.mouse.up()
    shows(page.locator("main"), f"The bulkhead stands with the front face {LIMIT}.")
    stands(page, LIMIT)
    assert grip(page)[0] - x == pytest.approx(35.4375 * px_per_mm(page), abs=2)  # from 74.375 to 38.9375 mm


def pulled(page, px):
    """Take hold of the bulkhead and pull it along, without letting go; return where it was held."""
    x, y = grip(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + px, y, steps=6)
    return x, y


def px_per_mm(page):
    """Return the drawing's scale on the page, from its two walls. [CSS px/mm]"""
    walls = [page.locator(f'.mm-handle[data-key="{key}"]') for key in ("front_end", "rear_end")]
    places = [float(each.get_attribute("aria-valuenow")) for each in walls]
    middles = [box["x"] + box["width"] / 2 for box in (each.locator(".edge").bounding_box() for each in walls)]
    return (middles[1] - middles[0]) / (places[1] - places[0] - 1.016)  # between outer faces of walls .040 in thick


def test_it_stays_under_the_pointer_when_the_page_is_made_narrower_meanwhile(handled):
    page = handled()
    x, y = pulled(page, 60)
    volume(page, "9.88")
    page.set_viewport_size({"width": 560, "height": 800})
    for there in (x - 40, x - 60):  # that far in a narrower drawing is further in the model
        page.mouse.move(there, y, steps=4)
        held = page.locator(f"{BULKHEAD} .grip").bounding_box()
        assert held["x"] + held["width"] / 2 == pytest.approx(there, abs=0.4375 * px_per_mm(page))  # a mark
    page.keyboard.press("Escape")
    page.mouse.up()
    volume(page, "12.37")


def test_let_go_outside_or_with_escape_it_goes_back(handled):
    page = handled()
    pulled(page, 60)
    page.keyboard.press("Escape")
    page.mouse.up()
    stands(page, "74.38 mm ahead of the rear hood screw")
    volume(page, "12.37")
    enter(page, "What to move", "rear closure")
    has(page, "Its place", "-13.5625 mm")
    enter(page, "Its place", "-20 mm")
    shows(page.locator("main"), "The rear closure stands with the rear face 20.12 mm ahead of the rear hood screw")
    enter(page, "Its place", "20 mm")
    shows(page.get_by_role("alert"), "The rear closure can't stand 20.00 mm behind the rear hood screw")
    page.get_by_role("button", name="Put it back where the plan chose").click()
    volume(page, "12.37")


def test_by_keys_alone(handled):
    page = handled()
    bulkhead = page.locator(BULKHEAD)
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset.key") == "front_end":
            break
    assert bulkhead.get_attribute("role") == "slider"
    assert bulkhead.get_attribute("aria-label") == "bulkhead, front face"
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    stands(page, "71.75 mm ahead")  # six marks of 0.4375 mm
    page.keyboard.press("Enter")
    shows(page.locator("main"), "The bulkhead stands with the front face 71.75 mm ahead of the rear hood screw.")
    assert page.evaluate("document.activeElement.dataset.key") == "front_end"
    page.keyboard.press("End")
    stands(page, LIMIT)
    shows(page.locator(".mm-handled .why"), WHY)
    volume(page, "5.74")
    assert float(bulkhead.get_attribute("aria-valuemax")) == pytest.approx(-38.94)
    page.keyboard.press("Enter")
    shows(page.locator("main"), f"The bulkhead stands with the front face {LIMIT}.")
    page.keyboard.press("Escape")
    stands(page, "74.38 mm ahead")
    volume(page, "12.37")


def test_by_finger_on_a_phone(handled):
    page = handled("phone")
    x, y = grip(page)
    touch = page.context.new_cdp_session(page)

    def finger(kind, at):
        points = [] if at is None else [{"x": at, "y": y}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    finger("touchStart", x)
    for step in range(1, 7):
        finger("touchMove", x + 5 * step)
    page.locator(f"{BULKHEAD}.away").wait_for(timeout=15_000)  # it follows the finger
    for step in range(1, 7):
        finger("touchMove", x + 30 + 30 * step)
    stands(page, LIMIT)
    shows(page.locator(".mm-handled .why"), WHY)
    finger("touchEnd", None)
    shows(page.locator("main"), f"The bulkhead stands with the front face {LIMIT}.")
    box = page.locator(f"{BULKHEAD} .held-by").bounding_box()
    assert min(box["width"], box["height"]) >= 24  # WCAG 2.2, 2.5.8 target size (minimum), CSS px
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
