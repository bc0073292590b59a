"""Every page, all of it opened: nothing hard to use by keyboard or screen reader, nothing that runs off a phone.

The rules are axe-core's, which follow WCAG 2; the page is judged in light and in dark, and with very large type.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

NOTEBOOKS = sorted(path.stem for path in (Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
AXE = files("axe_playwright_python") / "axe.min.js"
GRAVE = ("serious", "critical")
# Text that stands still for as long is all there; a page that works on something longer says so.
STILL = """() => {
    const now = document.querySelector("main").innerText;
    const before = window.mmBefore;
    window.mmBefore = now;
    return now === before;
}"""
OVER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
WIDER = """() => [...document.querySelectorAll("main *")].filter((node) => {
    const box = node.getBoundingClientRect();
    return box.width && box.right > innerWidth + 1 && !node.closest(".mm-table, .mm-wide, svg, pre");
}).map((node) => node.outerHTML.slice(0, 120)).slice(0, 5)"""


def settled(page: Any) -> None:
    page.wait_for_timeout(300)
    page.wait_for_function(STILL, polling=400, timeout=90_000)


def open_all(page: Any) -> None:
    """Open every fold, those inside others too."""
    for _ in range(3):
        shut = page.locator("main button.mm-fold:has(i.fa-plus)")
        if not shut.count():
            break
        shut.evaluate_all("nodes => nodes.forEach((node) => node.click())")
        settled(page)
    page.locator("main details:not([open])").evaluate_all("nodes => nodes.forEach((node) => { node.open = true; })")


def faults(page: Any, *rules: str) -> list[tuple[str, str]]:
    """Return the rules that are broken gravely, each with the first place where it is."""
    options = {"runOnly": {"type": "rule", "values": list(rules)}} if rules else {}
    found = page.evaluate("(options) => axe.run(document, options)", options)
    return [
        (broken["id"], broken["nodes"][0]["html"][:200]) for broken in found["violations"] if broken["impact"] in GRAVE
    ]


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_a_page_is_sound_in_light_and_dark_wide_and_narrow(opens, name):
    page = opens(name)
    open_all(page)
    page.add_script_tag(content=AXE.read_text("utf-8"))
    assert faults(page) == []
    page.emulate_media(color_scheme="dark")
    assert faults(page, "color-contrast") == []
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_timeout(300)
    assert page.evaluate(OVER) <= 0, page.evaluate(WIDER)
    # Fields that a person touches are as high as a fingertip: 24 px at the least, WCAG 2.2, criterion 2.5.8.
    low = page.locator("main input:visible, main select:visible, main button:visible").evaluate_all(
        "nodes => nodes.filter((node) => node.getBoundingClientRect().height < 18).map((node) => node.outerHTML)"
    )
    assert low == []
    if page.get_by_label("Size of the type").count():
        page.get_by_label("Size of the type").first.select_option("very large")
        page.wait_for_timeout(500)
        assert page.evaluate(OVER) <= 0, page.evaluate(WIDER)
        page.get_by_label("Size of the type").first.select_option("usual")
        page.locator(".mm-type-usual").first.wait_for(timeout=15_000)  # a page that is left too soon keeps the other
