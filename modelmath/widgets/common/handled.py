"""A drawing in which things are moved by mouse, finger or keys; what follows is asked of Python, a question at a time.

The page sends `asked`, and waits for the `answer` of the same number before it sends the next. Meanwhile what is moved
follows the pointer by itself.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import anywidget
import traitlets

_HERE = Path(__file__).parent


class Handled(anywidget.AnyWidget):
    """A drawing with handles. It asks the network for nothing.

    Attributes
    ----------
    scene : dict
        The drawing and its handles; empty for nothing. [mm]
    asked : dict
        What the page asks: `n`, `act` (grab, band, try, end, drop or back), `key`, `to`. [mm]
    answer : dict
        What was answered to the question `n`. [mm]
    """

    _esm = _HERE / "handled.js"
    _css = _HERE / "handled.css"
    scene: Any = traitlets.Dict({}).tag(sync=True)
    asked: Any = traitlets.Dict({}).tag(sync=True)
    answer: Any = traitlets.Dict({}).tag(sync=True)
