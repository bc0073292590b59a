"""What the workbook's pages say: the text of each notebook and of its panel, every fold open."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import ipywidgets as w

NOTEBOOKS = Path(__file__).parents[1] / "notebooks"
NOT_ASKED = ("start", "glossary")  # a list of the other pages, and the glossary itself
SHOWS = "# NBVAL_IGNORE_OUTPUT"  # marks the cell that shows the panel


def names() -> list[str]:
    """The pages by name."""
    return sorted(path.stem for path in NOTEBOOKS.glob("*.ipynb") if path.stem not in NOT_ASKED)


def cells(name: str) -> list[dict[str, Any]]:
    """The cells of a page's notebook."""
    found: list[dict[str, Any]] = json.loads((NOTEBOOKS / f"{name}.ipynb").read_text("utf-8"))["cells"]
    return found


def heading(name: str) -> str:
    """The heading of a page."""
    return str(cells(name)[0]["source"][0]).removeprefix("# ").strip()


def walked(widget: Any) -> Iterator[Any]:
    """A widget and all that is inside it, but for the glossary's own words: those are no use of a word."""
    if "mm-glossary" in getattr(widget, "_dom_classes", ()):
        return
    yield widget
    for child in getattr(widget, "children", ()):
        yield from walked(child)


def open_folds(view: w.Widget) -> None:
    """Open every fold, and those inside."""
    while shut := [each for each in walked(view) if isinstance(each, w.ToggleButton) and not each.value]:
        for head in shut:
            head.value = True


def text_of(view: w.Widget) -> str:
    """All that a panel says: labels, values, choices, and HTML without its tags."""
    said: list[str] = []
    for each in walked(view):
        said += [text for key in ("description", "value") if isinstance(text := getattr(each, key, None), str)]
        said += [str(option[0] if isinstance(option, tuple) else option) for option in getattr(each, "options", ())]
    bare = re.sub(r"<style.*?</style>|<[^>]*>", " ", "\n".join(said), flags=re.DOTALL)
    return html.unescape(bare)


@cache
def page_text(name: str) -> str:
    """What a page says; its panel is made as its notebook makes it."""
    said: list[str] = []
    scope: dict[str, Any] = {}
    for cell in cells(name):
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            said.append(source)
        elif source.startswith(SHOWS):
            *made, shown = source.strip().splitlines()
            exec("\n".join(made), scope)
            view = eval(shown, scope)
            open_folds(view)
            said.append(text_of(view))
    return "\n".join(said)
