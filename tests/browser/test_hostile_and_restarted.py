"""Names made to do harm stay text on a page; a kernel that is begun anew takes nothing with it."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import quote

import hostile_names
from browser.acts import enter, has
from browser.test_lab import SEEN, opened
from sample_jobs import DEMOS

from modelmath.job import save_job
from modelmath.widgets.common import look

WAIT_MS = 60_000
FIRST = 13  # with it the zones, whose names stand in the most places, carry mathematics
# Whatever would run, fetch or leave the page, and every typeset formula.
ACTING = """[...document.querySelectorAll('*')].filter(e => ['IFRAME', 'OBJECT', 'EMBED', 'MJX-CONTAINER'].includes(
    e.tagName) || [...e.attributes].some(a => a.name.startsWith('on') || /^\\s*javascript:/i.test(a.value))
    || /hostile\\.invalid/.test(e.getAttribute('href') || e.getAttribute('src') || '')).map(e => e.outerHTML)"""


def test_names_made_to_do_harm_are_text_on_the_page(page, workbook_server):
    hostile = hostile_names.renamed(DEMOS["gas-electric-o"], hostile_names.NAMES, FIRST)
    file = workbook_server.folder / "jobs" / "x' onmouseover='ran=1.toml"
    save_job(hostile, file)
    said: list[str] = []
    page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    page.goto(workbook_server.at("/voila/render/enclosure.ipynb") + f"&job={quote(file.stem)}")
    page.locator(".mm-card").first.wait_for(timeout=WAIT_MS)
    has(page, "Model", hostile.name)
    page.get_by_role("button", name="Build order and check list").click()
    page.get_by_text("Step 1 is done").wait_for(timeout=WAIT_MS)
    shown = page.locator("body").inner_text()
    zone = hostile.zones[1].name
    assert zone == r"$$\gamma zq29$$"
    assert f"putty left over {look.label(zone)}: write in below" in shown  # beside a box to tick
    assert len(set(re.findall(rf"{hostile_names.MARK}[0-9]{{2}}", shown))) >= 10
    assert page.evaluate(ACTING) == []
    assert page.evaluate("typeof window.ran") == "undefined"
    assert said == []
    assert (page.noted.faults, page.noted.console, page.noted.outside) == ([], [], [])
    file.unlink()


def reading(page: Any) -> Any:
    return page.get_by_label("Reading on the chassis", exact=True).first


def test_a_kernel_begun_anew_in_the_middle_gives_back_what_was_entered(page, workbook_server):
    opened(page, workbook_server, "enclosure.ipynb")
    page.locator(".mm-card").first.wait_for(timeout=WAIT_MS)
    enter(page, "Reading on the chassis", "5 7/16")
    page.get_by_text("Not saved yet. What you enter is kept as a draft as you go.").wait_for(timeout=WAIT_MS)
    page.locator('.jp-NotebookPanel-toolbar [data-jp-item-name="restart"]').click()
    page.locator(".jp-Dialog").get_by_role("button", name="Confirm Kernel Restart").click()
    page.locator(".jp-Dialog").wait_for(state="detached", timeout=WAIT_MS)
    page.reload()
    page.locator(SEEN).wait_for(timeout=WAIT_MS)
    page.get_by_text(re.compile("^Unsaved changes of ")).first.wait_for(timeout=WAIT_MS)
    assert reading(page).input_value() == "5 1/8"
    page.get_by_role("button", name="Take them up").click()
    has(page, "Reading on the chassis", "5 7/16")
    assert (page.noted.faults, page.noted.outside) == ([], [])
    for draft in (workbook_server.folder / ".modelmath" / "drafts").glob("*.json"):
        draft.unlink()  # other tests share the workbook
