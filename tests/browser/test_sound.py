"""What a speaker sounds like in the chamber, typed into the walkthrough in a real browser."""

from __future__ import annotations

from typing import Any

import pytest
from browser.acts import enter, shows
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
