"""The same notebooks in JupyterLab: a page shows its panel unasked; a notebook of the user's own waits."""

from __future__ import annotations

import json
import re
from contextlib import suppress
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

from browser.acts import enter, shows

WAIT_MS = 60_000
SEEN = ".jp-NotebookPanel:not(.lm-mod-hidden)[data-modelmath]"  # once it is decided whether a notebook runs


def opened(page: Any, server: Any, name: str) -> Any:
    """Open a notebook as after a start: no kernel lives on, and no job was chosen before."""
    for kernel in server.kernels():
        with suppress(HTTPError):  # a page that was left ends its own at the same time
            urlopen(Request(server.at(f"/api/kernels/{kernel['id']}"), method="DELETE")).close()
    (server.folder / ".modelmath" / "recent.json").unlink(missing_ok=True)
    page.goto(server.at(f"/lab/tree/{name}") + "&reset")
    page.locator(SEEN).wait_for(timeout=WAIT_MS)
    return page.locator(SEEN)


def save(page: Any, file: Any) -> None:
    """Save the notebook, and wait until its panel stands in the file."""
    page.locator('.jp-NotebookPanel-toolbar [data-jp-item-name="save"]').click()
    for _ in range(150):
        if "widget-view" in file.read_text("utf-8"):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"{file.name} was not saved")


def own_notebook(folder: Any, name: str, shipped: str, *more: str) -> None:
    """Write a notebook with the cells of a page, and some of the user's."""
    content = json.loads((folder / shipped).read_text("utf-8"))
    for cell in content["cells"]:
        if cell["cell_type"] == "code":
            cell["execution_count"], cell["outputs"] = None, []
    content["cells"] += [
        {"cell_type": "code", "source": each, "metadata": {}, "outputs": [], "execution_count": None, "id": f"own{at}"}
        for at, each in enumerate(more)
    ]
    (folder / name).write_text(json.dumps(content), "utf-8")


def test_a_page_shows_its_panel_without_a_click_and_a_changed_field_changes_the_answer(page, workbook_server):
    assert opened(page, workbook_server, "enclosure.ipynb").get_attribute("data-modelmath") == "run"
    card = page.locator(".mm-card").first
    card.wait_for(timeout=WAIT_MS)
    enter(page, "Reading on the chassis", "5 3/8")
    shows(card, "10.06 mm")
    assert page.get_by_role("heading", name=re.compile("^Guided walkthrough")).is_visible()  # not scrolled to the end
    # Saved and loaded again: the kernel lives, what was entered is there, and nothing runs a second time.
    save(page, workbook_server.folder / "enclosure.ipynb")
    page.reload()
    page.locator(SEEN).wait_for(timeout=WAIT_MS)
    assert page.locator(SEEN).get_attribute("data-modelmath") == "left"
    shows(page.locator(".mm-card").first, "10.06 mm")
    assert (page.noted.faults, page.noted.console, page.noted.outside) == ([], [], [])


def test_a_reading_a_strip_a_moved_bulkhead_and_a_packet_in_jupyterlab(page, workbook_server):
    opened(page, workbook_server, "readings.ipynb")
    page.locator(".mm").first.wait_for(timeout=WAIT_MS)
    enter(page, "Reading", "6 1/4")
    shows(page.locator(".mm-card").first, "7 1/4 scale ft")
    opened(page, workbook_server, "strips.ipynb")
    page.locator(".mm").first.wait_for(timeout=WAIT_MS)
    enter(page, "Height wanted", ".060 in")
    shows(page.get_by_role("region", name="As it is, best first"), ".060")
    opened(page, workbook_server, "enclosure.ipynb")
    card = page.locator(".mm-card").first
    card.wait_for(timeout=WAIT_MS)
    enter(page, "Reading on the chassis", "5 1/8")  # its kernel may live on, with what was entered before
    shows(card, "12.37")
    page.get_by_role("button", name="Move things in the drawing").click()
    bulkhead = page.locator('.mm-handle[data-key="front_end"]')
    bulkhead.wait_for(timeout=WAIT_MS)
    bulkhead.focus()
    for key in ("Shift+ArrowRight", "Shift+ArrowRight", "Enter"):
        page.keyboard.press(key)
    shows(card, "cm3 gross")
    card.get_by_text("12.37").wait_for(state="detached", timeout=15_000)
    page.get_by_role("button", name="Print the bench card").click()
    page.get_by_role("link", name="a4.pdf").first.wait_for(timeout=30_000)
    assert (page.noted.faults, page.noted.outside) == ([], [])


def test_a_saved_panel_that_its_kernel_does_not_know_any_more_is_made_anew(page, workbook_server):
    opened(page, workbook_server, "readings.ipynb")
    page.locator(".mm").first.wait_for(timeout=WAIT_MS)
    saved = workbook_server.folder / "readings.ipynb"
    save(page, saved)
    saved.write_text(re.sub(r'"model_id": "\w+"', '"model_id": "gone"', saved.read_text("utf-8")), "utf-8")
    page.reload()
    page.locator(SEEN).wait_for(timeout=WAIT_MS)
    assert page.locator(SEEN).get_attribute("data-modelmath") == "run"
    page.locator(".mm").first.wait_for(timeout=WAIT_MS)
    assert (page.noted.faults, page.noted.outside) == ([], [])


def test_a_notebook_of_the_users_own_is_not_run(page, workbook_server):
    folder = workbook_server.folder
    mark = "from pathlib import Path\nPath('it ran').touch()"
    own_notebook(folder, "mine.ipynb", "readings.ipynb", mark)
    own_notebook(folder, "a copy.ipynb", "readings.ipynb")  # by another name
    for name in ("mine.ipynb", "a copy.ipynb"):
        assert opened(page, workbook_server, name).get_attribute("data-modelmath") == "left"
        assert page.locator(".jp-InputPrompt", has_text=re.compile(r"\d|\*")).count() == 0
    assert not (folder / "it ran").exists()
    assert (page.noted.faults, page.noted.outside) == ([], [])
