"""The check list ticked in a real browser: it is kept with the job, and there again on the next page."""

from __future__ import annotations

from browser.acts import enter, greyed, shows, ticked
from browser.test_inside import narrow, press, unfold


def test_ticks_are_kept_with_the_job(opens):
    page = opens("enclosure", "page", ".mm-card")
    enter(page, "Job", "railmotor-oo")
    shows(page.locator("main"), "railmotor")
    unfold(page, "Build order and check list")
    main = page.locator("main")
    shows(main, "0 of ")
    page.get_by_label("Step 1 is done", exact=True).check()
    shows(main, "1 of ")
    hold = page.get_by_label("first tick each of its checks").first
    greyed(hold)
    for check in ("shell seats all along the sill", "trucks swing both ways"):
        page.get_by_label(check, exact=True).first.check()
    page.get_by_label("putty left over").first.check()
    page.get_by_label("Step 1 is done", exact=True).uncheck()
    shows(main, "0 of ")
    page.get_by_label("Step 1 is done", exact=True).check()
    shows(main, "1 of ")
    enter(page, "It is", "0.1 mm")
    press(page, "Keep what was measured")
    shows(main, "The room left is 0.10 mm")
    assert narrow(page)
    press(page, "Save the job")
    shows(main, "Saved as")

    again = opens("enclosure", "page", ".mm-card")
    enter(again, "Job", "tarn-valley-railmotor-no-12")  # the demo job itself stays as it is
    unfold(again, "Build order and check list")
    shows(again.locator("main"), "The room left is 0.10 mm")
    ticked(again.get_by_label("Step 1 is done", exact=True))
