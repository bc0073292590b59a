"""`modelmath open`, as a person sees it in a browser."""

from __future__ import annotations

import json
import sys
import time
from typing import Any
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest

SAMPLE = """
import os, sys
import ipywidgets as w
field = w.Text("3 3/4", description="Reading")
said = w.HTML()
said.add_class("sample-said")
def say(_change=None):
    said.value = f"read {field.value}"
field.observe(say, names="value")
say()
w.VBox([field, said, w.HTML(f"<p class='sample-python'>{sys.executable}</p><p class='sample-cwd'>{os.getcwd()}</p>")])
"""
FAILING = "raise RuntimeError('a secret of the program')"
CODE_IN_SIGHT = ".jp-CodeCell .jp-InputArea, .cm-editor, .highlight, [data-mime-type*='stderr'], .mm-failed"
ON_SCREEN = """(node) => {
    node.scrollIntoView({block: "center"});
    const box = node.getBoundingClientRect();
    const top = document.elementFromPoint(box.x + Math.min(box.width, 40) / 2, box.y + box.height / 2);
    return box.width > 0 && box.height > 0 && (node === top || node.contains(top) || top.contains(node));
}"""


def notebook(*cells: tuple[str, str]) -> str:
    made = [
        {"cell_type": kind, "id": f"cell-{number}", "metadata": {}, "source": source}
        | ({"outputs": [], "execution_count": None} if kind == "code" else {})
        for number, (kind, source) in enumerate(cells)
    ]
    # A kernel that this machine lacks: the page must run all the same.
    kernel = {"kernelspec": {"name": "elsewhere", "display_name": "Elsewhere", "language": "python"}}
    return json.dumps({"cells": made, "metadata": kernel, "nbformat": 4, "nbformat_minor": 5})


@pytest.fixture(scope="module")
def samples(workbook_server):
    """Two notebooks of the user's own in the workbook: one that works, one that fails."""
    sample = notebook(("markdown", "# A page of my own"), ("code", SAMPLE))
    failing = notebook(("markdown", "# A page that fails"), ("code", FAILING))
    (workbook_server.folder / "my sample.ipynb").write_text(sample)
    (workbook_server.folder / "failing.ipynb").write_text(failing)
    yield workbook_server
    for name in ("my sample.ipynb", "failing.ipynb"):
        (workbook_server.folder / name).unlink()


def until(seconds: float, true: Any) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if true():
            return True
        time.sleep(0.1)
    return False


def live(page: Any) -> Any:
    """Wait for the page's panel and return its fields."""
    fields = page.locator("main input:visible, main select:visible")
    fields.first.wait_for(timeout=60_000)
    return fields


@pytest.mark.parametrize("screen", ["page", "phone", "night"])
def test_the_start_page_opens_live(request, workbook_server, screen):
    page = request.getfixturevalue(screen)
    page.goto(workbook_server.url)
    assert live(page).count() >= 6
    assert page.locator("#loading").count() == 0
    assert page.locator("main").count() == 1
    assert page.locator(CODE_IN_SIGHT).count() == 0
    assert page.title() not in ("", "start")
    assert page.locator("main h1").evaluate(ON_SCREEN)
    assert live(page).first.evaluate(ON_SCREEN)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert page.noted.outside == []
    assert page.noted.faults == []
    assert page.noted.console == []


@pytest.mark.parametrize("screen", ["page", "phone"])
def test_a_field_is_heard_at_once(request, samples, screen):
    page = request.getfixturevalue(screen)
    page.goto(samples.at("/voila/render/my%20sample.ipynb"))
    said = page.locator(".sample-said .widget-html-content")
    said.get_by_text("read 3 3/4").wait_for(timeout=60_000)
    page.get_by_label("Reading").fill("4 1/2")
    page.get_by_label("Reading").press("Enter")
    said.get_by_text("read 4 1/2").wait_for(timeout=5_000)
    assert said.evaluate(ON_SCREEN)
    assert page.get_by_label("Reading").evaluate(ON_SCREEN)
    assert page.title() == "A page of my own"
    assert "field.observe" not in page.content()
    assert page.noted.outside == []
    assert page.noted.faults == []
    assert page.noted.console == []


def test_the_page_runs_on_this_python_in_the_workbook_folder(samples, page):
    page.goto(samples.at("/voila/render/my%20sample.ipynb"))
    page.locator(".sample-python").wait_for(timeout=60_000)
    assert page.locator(".sample-python").inner_text() == sys.executable
    assert page.locator(".sample-cwd").inner_text() == str(samples.folder.resolve())


def test_while_the_kernel_starts_the_page_says_so(samples, page):
    page.goto(samples.at("/voila/render/my%20sample.ipynb"), wait_until="commit")
    page.get_by_role("status").wait_for(timeout=30_000)
    assert page.get_by_role("status").inner_text().strip().startswith("Starting the workbook ...")


def test_the_screens_dark_preference_is_followed(samples, page, night):
    shades = {}
    for name, screen in (("page", page), ("night", night)):
        screen.goto(samples.at("/voila/render/my%20sample.ipynb"))
        screen.locator(".sample-python").wait_for(timeout=60_000)
        look = "getComputedStyle(document.body).{}.match(/\\d+/g).slice(0, 3).reduce((sum, part) => sum + +part, 0)"
        shades[name] = (screen.evaluate(look.format("backgroundColor")), screen.evaluate(look.format("color")))
    dark, light = 300, 600  # of 765, which is white
    assert shades["page"][0] > light
    assert shades["page"][1] < dark
    assert shades["night"][0] < dark
    assert shades["night"][1] > light


def test_a_failing_cell_shows_plain_words_and_no_traceback(samples, page):
    page.goto(samples.at("/voila/render/failing.ipynb"))
    page.get_by_role("alert").wait_for(timeout=60_000)
    assert page.get_by_role("alert").evaluate(ON_SCREEN)
    shown = page.locator("body").inner_text()
    assert "stopped with a fault of the program" in shown
    assert "RuntimeError" not in page.content()
    assert "a secret of the program" not in page.content()


def test_the_link_opens_the_same_notebook_in_jupyterlab(samples, page):
    page.goto(samples.at("/voila/render/my%20sample.ipynb"))
    page.locator(".sample-python").wait_for(timeout=60_000)
    page.get_by_role("link", name="Open this page in JupyterLab").click()
    page.locator(".jp-Notebook .jp-Cell").first.wait_for(timeout=60_000)
    page.get_by_text("field.observe(say").first.wait_for(timeout=30_000)
    page.locator(".jp-Notebook").get_by_role("heading", name="A page of my own").wait_for(timeout=5_000)
    assert page.locator(".jp-toast-message, .Toastify__toast").count() == 0
    assert page.noted.outside == []


def test_the_pages_link_to_one_another(samples, page):
    page.goto(samples.at("/voila/render/my%20sample.ipynb"))
    links = page.get_by_role("navigation", name="Pages of the workbook").get_by_role("link")
    links.first.wait_for(timeout=30_000)
    page.get_by_text("All pages", exact=True).click()
    names = links.all_inner_texts()
    assert names[0] == "Start"
    assert {"Enclosure", "Readings", "Strips", "My sample"} <= set(names)
    links.nth(names.index("Enclosure")).click()
    live(page)
    assert page.url == samples.at("/voila/render/enclosure.ipynb", token=False)


def test_leaving_a_page_ends_its_kernel(samples, page):
    assert until(10, lambda: not any(kernel["connections"] for kernel in samples.kernels()))
    before = {kernel["id"] for kernel in samples.kernels()}
    page.goto(samples.at("/voila/render/my%20sample.ipynb"))
    page.locator(".sample-python").wait_for(timeout=60_000)
    mine = {kernel["id"] for kernel in samples.kernels()} - before
    assert len(mine) == 1
    page.goto("about:blank")
    assert until(10, lambda: not mine & {kernel["id"] for kernel in samples.kernels()})
    page.go_back()
    page.locator(".sample-python").wait_for(timeout=60_000)
    page.get_by_label("Reading").fill("5")
    page.get_by_label("Reading").press("Enter")
    page.get_by_text("read 5", exact=True).wait_for(timeout=5_000)


def test_a_visitor_without_the_token_gets_the_login_and_no_kernel(samples, page):
    before = {kernel["id"] for kernel in samples.kernels()}
    page.goto(samples.at("/voila/render/enclosure.ipynb", token=False))
    assert page.url.startswith(samples.at("/login", token=False))
    assert page.locator("main input, .jupyter-widgets").count() == 0
    assert {kernel["id"] for kernel in samples.kernels()} <= before


@pytest.mark.parametrize("path", ["/api/kernels", "/api/contents", "/voila/files/drawing.svg"])
def test_nothing_of_the_workbook_is_shown_without_the_token(workbook_server, path):
    (workbook_server.folder / "drawing.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    with pytest.raises(HTTPError, match=r"^HTTP Error 403: ") as refused:
        urlopen(workbook_server.at(path, token=False))
    refused.value.close()


def test_a_file_of_the_workbook_is_shown_with_the_token(workbook_server):
    (workbook_server.folder / "drawing.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    with urlopen(workbook_server.at("/files/drawing.svg")) as answer:
        assert answer.read().startswith(b"<svg")


def test_the_screen_says_where_how_and_nothing_else(workbook_server):
    said = workbook_server.printed
    assert said[0] == f"Workbook folder: {workbook_server.folder.resolve()}"
    assert f"Open this in a browser: {workbook_server.url}" in said
    assert "To stop: press Ctrl+C here." in said
    assert not [line for line in said if "Warning" in line or "WARNING" in line]
