"""A step from one page of the workbook to another, taken by the page itself."""

from __future__ import annotations

from pathlib import Path

import anywidget
import traitlets


class GoTo(anywidget.AnyWidget):
    """Leads the browser to another page of the workbook as soon as it is shown; it asks the network for nothing else.

    Attributes
    ----------
    to : str
        A page beside this one, such as ``enclosure.ipynb?job=hood-unit``; empty for none. [-]
    """

    _esm = Path(__file__).parent / "go_to.js"
    to = traitlets.Unicode("").tag(sync=True)
