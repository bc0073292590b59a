"""Long work on a live page: it says how far it is, stops at a click, goes on, and another entry takes its place."""

from __future__ import annotations

import re

from browser.acts import shows

# Many kinds of strip, each a plan of its own, so that the work takes long enough to be stopped (invented parts).
KINDS = ("HO 2x4", "HO 2x6", "HO 2x8", "HO 4x4", "HO 4x6", "HO 4x8", "HO 6x6", "HO 6x8", "HO 6x10", "HO 8x8")
MANY = "\n".join(f"part {at}; {23 + (at * 37) % 131}.5 mm; {1 + at % 4}; {KINDS[at % len(KINDS)]}" for at in range(160))
FEW = "post; 21 mm; 4; HO 6x10"


def test_a_long_cut_plan_is_stopped_goes_on_and_gives_way_to_another_entry(opens):
    page = opens("cuts", waits_for=".mm-card")
    page.get_by_label("Parts of", exact=True).select_option("(the parts listed below)")
    answer, parts = page.locator(".mm-card").first, page.get_by_label("Parts", exact=True)
    shows(answer, "proven")
    parts.fill(MANY)
    parts.blur()
    bar = page.get_by_role("progressbar", name="Planning the cuts")
    bar.wait_for(timeout=30_000)
    page.get_by_role("button", name="Stop", exact=True).click()
    said = page.locator(".mm-work").first
    shows(said, "Planning the cuts was stopped at")
    shows(answer, "These sizes are for the last entries that gave a result.")
    assert page.get_by_role("button", name=re.compile("^Accept")).is_disabled()
    page.get_by_role("button", name="Go on", exact=True).click()
    bar.wait_for(state="hidden", timeout=60_000)
    page.get_by_text("part 159").first.wait_for(timeout=15_000)
    parts.fill(MANY + "\npost; 21 mm; 1; HO 6x10")
    parts.blur()
    bar.wait_for(timeout=30_000)
    parts.fill(FEW)
    parts.blur()
    bar.wait_for(state="hidden", timeout=30_000)
    page.get_by_text("part 159").first.wait_for(state="detached", timeout=15_000)
    shows(answer, "proven")
