"""The pictures in README show what the workbook shows.

Each is taken by this test when `MODELMATH_TAKE_PICTURES` is set, and its words are noted beside it. Without, the test
compares the words: a page that says something else than its picture fails, whatever typeface this machine has.
"""

from __future__ import annotations

import json
import os
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

from sheets import demo

from modelmath.drawings import packet_pdf

IMAGES = Path(__file__).resolve().parents[2] / "notebooks" / "images"
NOTED = IMAGES / "words.json"
TAKE = "MODELMATH_TAKE_PICTURES"
AGAIN = f"take the pictures anew: {TAKE}=1 .venv/bin/python -m pytest -n 0 tests/browser/test_screens.py"
# A page's picture: the page, its width and height.
PAGES = {"start": ("start", 1280, 860), "walkthrough": ("enclosure", 1280, 1500), "phone": ("enclosure", 390, 844)}
SAID = """() => [...document.querySelectorAll("main :is(h1, h2, h3, p, label, button, dt, dd, th, td, a, summary)")]
    .map((node) => node.textContent).join(" ")"""


def digest(text: str) -> str:
    return sha256(" ".join(text.split()).encode()).hexdigest()


def judge(name: str, words: str, picture: bytes | None) -> None:
    """Keep the picture and its words, or compare the words with those that were kept."""
    noted: dict[str, str] = json.loads(NOTED.read_text("utf-8")) if NOTED.is_file() else {}
    if picture is not None:
        IMAGES.mkdir(exist_ok=True)
        (IMAGES / f"{name}.png").write_bytes(picture)
        NOTED.write_text(json.dumps(noted | {name: digest(words)}, indent=1, sort_keys=True) + "\n", "utf-8")
        return
    assert (IMAGES / f"{name}.png").read_bytes().startswith(b"\x89PNG"), name
    assert noted.get(name) == digest(words), f"{name}.png shows other words than the page; {AGAIN}"


def test_the_pages_are_as_their_pictures_show_them(browser: Any, fresh_server: Any) -> None:
    taking = bool(os.environ.get(TAKE))
    for name, (page_name, width, height) in PAGES.items():
        context = browser.new_context(viewport={"width": width, "height": height}, color_scheme="light")
        page = context.new_page()
        page.goto(fresh_server.at(f"/voila/render/{page_name}.ipynb"))
        page.locator("main .mm").first.wait_for(timeout=60_000)
        page.wait_for_timeout(2_500)
        words = page.evaluate(SAID)
        assert len(words) > 100
        judge(name, words, page.screenshot() if taking else None)
        context.close()


def test_the_bench_card_is_as_its_picture_shows_it() -> None:
    from pypdfium2 import PdfDocument

    sheet = PdfDocument(packet_pdf(demo(), paper="A4", date="1 May 2026"))[0]
    picture = None
    if os.environ.get(TAKE):
        shown = BytesIO()
        sheet.render(scale=1.6).to_pil().save(shown, "PNG", optimize=True)
        picture = shown.getvalue()
    judge("bench-card", sheet.get_textpage().get_text_range(), picture)
