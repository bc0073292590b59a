"""The app view's pages: their addresses, titles and links, and what each needs before its kernel starts."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import quote

START = "start.ipynb"
# The way from readings to parts, and what several models share; listed first, in this order.
IN_SIGHT = (START, "enclosure.ipynb", "cuts.ipynb", "drawer.ipynb", "fleet.ipynb")
OPENS = "enclosure.ipynb"  # the guided walkthrough, on the demo job
# Both null: the page then takes the typesetter that ships with it, rather than one at a public address.
OWN_TYPESETTER = {"fullMathjaxUrl": None, "mathjaxConfig": None}


def page_path(notebook: str) -> str:
    """Return the path of a notebook's app view.

    Examples
    --------
    >>> page_path("my start.ipynb")
    '/voila/render/my%20start.ipynb'
    """
    return f"/voila/render/{quote(notebook)}"


def lab_path(notebook: str) -> str:
    """Return the path of a notebook in JupyterLab.

    Examples
    --------
    >>> lab_path("start.ipynb")
    '/lab/tree/start.ipynb'
    """
    return f"/lab/tree/{quote(notebook)}"


def pages(here: str, notebooks: list[str]) -> list[dict[str, Any]]:
    """Return the links on top of a page: one per notebook, those of the way most go first, then by name.

    Each says whether it stands in sight: those of that way, and the page itself; the others stand in a list to open.

    Examples
    --------
    >>> found = pages("strips.ipynb", ["readings.ipynb", "enclosure.ipynb", "start.ipynb", "strips.ipynb"])
    >>> [(page["name"], page["in_sight"]) for page in found]
    [('Start', True), ('Enclosure', True), ('Readings', False), ('Strips', True)]
    """
    places = {name: place for place, name in enumerate(IN_SIGHT)}
    ordered = sorted(notebooks, key=lambda name: (places.get(name, len(places)), name))
    return [
        {
            "name": Path(name).stem.replace("_", " ").capitalize(),
            "href": page_path(name),
            "here": name == here,
            "in_sight": name in places or name == here,
        }
        for name in ordered
    ]


def page_config_hook(folder: Path) -> Callable[..., dict[str, Any]]:
    """Return the function that tells the page's template what its links are."""

    def hook(page_config: dict[str, Any], *, notebook_path: str, **_: object) -> dict[str, Any]:
        here = notebook_path.strip("/")
        links = pages(here, [path.name for path in folder.glob("*.ipynb")])
        return page_config | OWN_TYPESETTER | {"modelmathPages": links, "modelmathLab": lab_path(here)}

    return hook


def heading(cells: list[Any]) -> str | None:
    r"""Return the first heading of a notebook, which names its page, or None.

    Examples
    --------
    >>> heading([{"cell_type": "markdown", "source": "Hello.\n# Strip for a height"}])
    'Strip for a height'
    """
    lines = (line for cell in cells if cell["cell_type"] == "markdown" for line in cell["source"].splitlines())
    return next((line[2:].strip() for line in lines if line.startswith("# ")), None)


def prelaunch_hook(request: Any, notebook: Any, cwd: str) -> None:
    """Before a page's kernel starts: hand the browser its cross-site key, choose our kernel, name the page.

    The page needs the key to end its kernel when it is left; only reading the property sets the cookie.
    A notebook saved elsewhere may name a kernel this machine lacks.
    """
    _ = request.xsrf_token
    notebook.metadata["kernelspec"] = {"name": "python3", "language": "python", "display_name": "Python 3"}
    if title := heading(notebook.cells):
        notebook.metadata.setdefault("title", title)
