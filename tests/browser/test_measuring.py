"""The measuring pages in a real browser: calibrate, clearance, moving parts, tables, prototype sizes."""

from __future__ import annotations

import pytest
from browser.acts import enter, shows


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_the_accepted_chance_decides_what_would_be_enough(opens, kind):
    page = opens("clearance", kind)
    card = page.locator(".mm-card").first
    shows(card, "Room needed for 1 in 100")
    enter(page, "Chance of touching you accept", "1 in 1000")
    shows(card, "Room needed for 1 in 1,000")
    enter(page, "Chance of touching you accept", "often")
    shows(page.locator(".mm-bad").first, "Write 1 in 100, or 1 %.")
    shows(card, "Room needed for 1 in 1,000")  # the last good result stays
    assert page.get_by_role("img").count() >= 2
    enter(page, "Job", "railbus-ho")
    enter(page, "Chance of touching you accept", "1 %")
    shows(card, "flywheel")


def test_a_rule_is_calibrated_on_what_is_pasted(opens):
    page = opens("calibrate")
    # Made for a zero 1 scale ft (3.5 mm) in and no scale error: 7, 14, 28 and 56 mm read 1, 3, 7 and 15.
    lines = "\n".join(f"shank {size}; {size} mm; {mark}" for size, mark in ((7, 1), (14, 3), (28, 7), (56, 15)))
    enter(page, "Gauges and readings", lines)
    shows(page.locator(".mm-card").first, "3.50 ±")
    enter(page, "Gauges and readings", lines + "\nbent one; 35 mm; 10")
    shows(page.locator(".mm-card").first, "bent one")
    enter(page, "Gauges and readings", lines + "\nno size; ; 10")
    shows(page.locator(".mm-bad").first, "5")


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_a_truck_swings_further_on_a_sharper_curve(opens, kind):
    page = opens("moving", kind)
    card = page.locator(".mm-card").first
    # Published: geometry row OV1y, asin(90 / (2 x 457.2)) = 5.64849 degrees for an 18 in radius.
    shows(card, "5.65 degrees")
    enter(page, "Radius of the curve", "15 in")
    shows(card, "6.78 degrees")  # asin(90 / (2 x 381)) = 6.783 degrees
    enter(page, "Radius of the curve", "1 in")
    shows(page.locator(".mm-bad").first, "25.4")
    shows(card, "6.78 degrees")


def test_a_table_keeps_a_bad_row_aside_by_number(opens):
    page = opens("tables")
    enter(page, "Readings", "name; mark\nroof; 10\nmotor; 6 1//8\nweight; 15.9 mm")
    shows(page.locator(".mm-bad").first, "Row 3")
    table = page.locator("table").first
    shows(table, "38.50 mm")  # 10 scale ft and 1 for the zero, at 3.5 mm
    shows(table, "19.40 mm")  # 15.9 mm as shown, and the zero's 3.5 mm
    page.get_by_role("button", name="Save as CSV").click()
    shows(page.locator(".mm").first, "readings.csv")


def test_a_prototype_size_in_the_scales(opens):
    page = opens("prototype", "phone")
    enter(page, "Size on the prototype", "50 ft")
    # scale_examples SC1: 50 ft in HO at 3.5 mm to the foot is 175 mm.
    shows(page.locator(".mm-card").first, "175.00 mm")
    enter(page, "Size on the prototype", "fifty")
    shows(page.locator(".mm-bad").first, "fifty")


def test_repeats_and_more_spots_are_typed_where_one_reading_is(opens):
    page = opens("enclosure")
    card = page.locator(".mm-card").first
    shows(card, "3 1/4 scale ft")
    enter(page, "Reading on the chassis", "5 1/8; 5 1/4; 5 1/8")
    shows(page.locator(".mm").first, "the mean of 3 readings")
    page.get_by_role("button", name="Zones along the length").click()
    spots = page.get_by_label("More spots over it", exact=True).nth(1)
    spots.fill("left: 5 1/2")
    spots.press("Enter")
    page.get_by_role("button", name="Use these zones").click()
    shows(card, "left")
