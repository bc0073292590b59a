"""Light and wiring typed into the page without a job and into the walkthrough, in a real browser."""

from __future__ import annotations

import pytest
from browser.acts import enter, shows
from browser.test_inside import narrow, unfold


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_a_resistor_and_a_lens_without_a_job(opens, kind):
    """12 V, 1.7 V at 20 mA: 515 ohm, as a school physics page prints it; the next of E24 up is 560 ohm."""
    page = opens("light", kind, ".mm-card")
    for label, text in (("Supply at the output", "12 V"), ("The LED", "1.7 V"), ("Current wanted", "20 mA")):
        enter(page, label, text)
    shows(page.locator(".mm-card").first, "560 ohm")
    shows(page.locator(".mm-card").first, "515 ohm")
    enter(page, "Current wanted", "20")
    shows(page.get_by_role("alert").first, "unit")
    shows(page.locator(".mm-card").first, "560 ohm")  # the last answer stays
    enter(page, "Current wanted", "20 mA")
    page.get_by_role("alert").first.wait_for(state="detached", timeout=15_000)
    unfold(page, "A lens melted on a strand")
    shows(page.locator("main"), "of strand")
    assert narrow(page)


@pytest.mark.parametrize("kind", ["page", "phone"])
def test_the_decoder_s_sheet_decides_and_a_lens_follows_its_casting(opens, kind):
    page = opens("enclosure", kind, ".mm-card")
    unfold(page, "The light")
    main = page.locator("main")
    shows(main, "What the decoder has to give")
    unfold(page, "What the decoder's sheet says")
    enter(page, "One output gives at most", "1 mA")
    shows(main, "over")
    enter(page, "One output gives at most", "100 mA")
    unfold(page, "Strands and lenses")
    shows(main, "the bore of 1.30 mm less 0.10 mm")
    enter(page, "Bore of the casting", "1.6 mm")
    shows(main, "the bore of 1.60 mm less 0.10 mm")
    enter(page, "Bore of the casting", "0.5 mm")
    shows(main, "above that of its strand")
    enter(page, "Bore of the casting", "1.3 mm")
    unfold(page, "Wiring")
    page.locator(".mm-figure svg", has_text="front").last.wait_for(timeout=15_000)
    assert narrow(page)
