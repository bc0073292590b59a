"""The drawer a workbook begins with: invented, and marked so."""

from __future__ import annotations

from functools import cache

from modelmath.errors import TableError
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.tables import read_drawer
from modelmath.tables import data_folder

DEMO = (
    "Demo drawer: invented stock of the Tarn Valley museum line's club. "
    "Empty the table on the drawer page to enter your own."
)


@cache
def demo_drawer() -> Drawer:
    """Return the demo drawer.

    Returns
    -------
    Drawer
        Invented stock. [mm]

    Raises
    ------
    TableError
        If a row of its table can't be read.

    References
    ----------
    data/drawer/demo.csv, invented.
    """
    drawer, bad = read_drawer((data_folder() / "drawer" / "demo.csv").read_text("utf-8"))
    if bad:
        raise TableError("drawer/demo.csv", bad[0].number, f"{bad[0].column}: {bad[0].message}")
    return Drawer(drawer.items, DEMO)
