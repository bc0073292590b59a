"""The strips, drills and cuts pages in a real browser, on a desktop and a phone."""

from __future__ import annotations

import pytest
from browser.acts import enter, shows


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_a_strip_is_picked_and_an_ambiguous_name_asks(opens, kind):
    page = opens("strips", kind)
    enter(page, "Height wanted", "1.0 mm")
    shows(page.locator("table", has_text="As it is, best first"), ".040 x .125")  # 1.016 mm, the nearest on hand
    enter(page, "Height wanted", "tall")
    shows(page.locator(".mm-bad").first, "tall")
    shows(page.locator(".mm-stale").first, ".040 x .125")  # the last good result stays
    enter(page, "A strip, shape or sheet by its name", "6 by 10")
    shows(page.get_by_role("status").last, "HO 6x10 is 1.75 mm (0.069 in) thick")
    enter(page, "A strip, shape or sheet by its name", ".25 x .5")
    shows(page.locator(".mm-bad").last, "it could be inches or mm")


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_a_bundle_finds_its_drill(opens, kind):
    page = opens("drills", kind)
    enter(page, "What passes the hole", "bundle")
    enter(page, "Its size", "0.5 mm")
    # Seven round a middle one: three across, 1.5 mm, and 0.05 mm of room (Graham et al. 1998).
    shows(page.locator(".mm-card").first, "1.50 mm")
    enter(page, "A drill by its name", "67")
    shows(page.locator(".mm-bad").first, "#67")


def test_a_list_is_cut_as_it_is_typed(opens):
    page = opens("cuts", "phone")
    enter(page, "Parts of", "(the parts listed below)")
    shows(page.locator(".mm-card").first, "whole strip")
    enter(page, "Parts", "post; 60 mm; 4; HO 6x10\npost; 60; 4; HO 6x10")
    shows(page.locator(".mm-bad").first, "Left out of the plan")
    shows(page.locator("table", has_text="Cut list by stock"), "4 × post 60.00 mm")
    page.get_by_role("button", name="Saw cuts, end trim").click()
    enter(page, "Length of new strip", "14")
    shows(page.locator(".mm-stale").first, "whole strip")
