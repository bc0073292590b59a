"""What a speaker sounds like in the chamber, typed into the walkthrough in a real browser."""

from __future__ import annotations

import re
from typing import Any

import pytest
from browser.acts import enter, greyed, has, shows
from browser.test_inside import narrow, unfold


def card(page: Any) -> Any:
    """The answer about the sound, by what stands in it."""
    return page.locator(".mm-card", has_text="Resonance in the chamber")


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_impedance_and_power_tell_whether_the_decoder_drives_it(opens, kind):
    page = opens("enclosure", kind, ".mm-card")
    unfold(page, "The sound")
    shows(card(page), "-3 dB point")
    main = page.locator("main")
    shows(main, "8.0 ohm is within the 8 ohm or more that the decoder drives.")
    enter(page, "Speaker's impedance", "4 ohm")
    shows(main, "4.0 ohm is below the 8 ohm that the decoder drives at least")
    enter(page, "Speaker's impedance", "4")
    alert = page.get_by_role("alert").first
    shows(alert, "unit")
    shows(main, "4.0 ohm is below the 8 ohm")  # the last answer stays
    enter(page, "Speaker's impedance", "8 ohm")
    alert.wait_for(state="detached", timeout=15_000)
    assert narrow(page)


def test_what_is_measured_narrows_the_answer_and_is_kept(opens):
    page = opens("enclosure", "page", ".mm-card")
    unfold(page, "The sound")
    shows(card(page), "somewhere from")
    unfold(page, "More about the speaker and the decoder")
    for label, text in (
        ("Resonance in free air, fs", "450 ± 10 Hz, measured"),
        ("Electrical Q, Qes", "1.0, measured"),
        ("Mechanical Q, Qms", "4, measured"),
        ("Equivalent volume, Vas", "3 cm3, measured"),
        ("Cone area, Sd", "150 mm2"),
        ("Voice coil resistance, Re", "7 ohm, measured"),
        ("Wanted Qtc", "0.7"),
    ):
        enter(page, label, text)
    shows(page.locator("main"), "No closed chamber brings it down there")
    unfold(page, "If it leaks, and how to find out")
    shows(page.locator("main"), "Seal every gap wider than")
    unfold(page, "Which speaker")
    enter(page, "Ranked by", "loudest")
    shows(page.locator("main"), "Speakers and seats, ranked by: loudest")
    unfold(page, "Hear it, roughly")
    player = page.get_by_label("three-note whistle, this chamber")
    player.wait_for(timeout=15_000)
    player.evaluate("node => { node.preload = 'auto'; node.load(); }")
    page.wait_for_function("() => document.querySelector('audio[aria-label*=\"this chamber\"]').duration > 1")
    assert narrow(page)


def test_a_sweep_is_mended_and_its_numbers_go_into_a_job(opens):
    page = opens("measure", "page", ".mm-card")
    main, put = page.locator("main"), page.get_by_role("button", name="Put them into this job", exact=True)
    shows(main, "69 points.")
    sweep = page.get_by_label("Sweep in free air", exact=True)
    readings = sweep.input_value()
    enter(page, "Sweep in free air", readings + "\n2500;open;3")
    shows(page.get_by_role("alert").first, "row 71, impedance is 'open'; expected a number in ohm.")
    greyed(put)
    enter(page, "Sweep in free air", readings)
    page.get_by_role("alert").first.wait_for(state="detached", timeout=15_000)
    enter(page, "Job", "switcher-ho")
    put.click()
    shows(main, "Put in: re, fs, qms, qes.")
    shows(main, "Saved as ")
    saved = re.search(r"Saved as .*?([^/\n]+)\.toml", main.inner_text())[1]
    page = opens("enclosure", "page", ".mm-card")
    enter(page, "Job", saved)
    unfold(page, "The sound")
    unfold(page, "More about the speaker and the decoder")
    has(page, "Resonance in free air, fs", "485.08 ± 0.28 Hz, measured")
    assert narrow(page)
