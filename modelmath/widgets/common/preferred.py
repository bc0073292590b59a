"""How every page looks, chosen once: the unit that stands first, and the size of the type."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.workbook.preferences import TYPE_SIZES, UNITS, Preferences, change_preferences, load_preferences

TITLE = "How the pages look"
ABOUT = (
    "It holds for every page of the workbook and is kept. The unit chosen stands first where a size is given in all "
    "three, and in bold in tables. Colours follow your screen's light or dark setting."
)


class HowItLooks:
    """Two choices at the foot of a page, and the page's classes that follow them.

    Parameters
    ----------
    page : Box
        The page. [-]
    """

    def __init__(self, page: w.Box) -> None:
        self._page = page
        self._now = load_preferences(places.workbook_folder())
        self.unit = Field("Sizes first in", "the others stay beside it", value=self._now.first_unit, options=UNITS)
        self.type_size = Field(
            "Size of the type", "of all pages, from now on", value=self._now.type_size, options=TYPE_SIZES
        )
        self.said = w.HTML()
        content = w.VBox([w.HTML(look.paragraph(ABOUT, "mm-soft")), row(self.unit, self.type_size), self.said])
        self.fold = Fold(TITLE, content)
        for name in _classes(self._now):
            page.add_class(name)
        for field in (self.unit, self.type_size):
            field.on_change(self._change)

    def _change(self) -> None:
        before, self._now = self._now, Preferences(self.unit.value, self.type_size.value)
        for name in _classes(before):
            self._page.remove_class(name)
        for name in _classes(self._now):
            self._page.add_class(name)
        try:
            change_preferences(places.workbook_folder(), before, self._now)
        except (ModelMathError, OSError) as reason:
            self.said.value = look.problem(f"It holds for this page only: it can't be kept ({reason}).")
        else:
            self.said.value = look.echo("Kept for every page; those that are open follow when they are opened again.")


def _classes(chosen: Preferences) -> tuple[str, str]:
    return f"mm-first-{_word(chosen.first_unit)}", f"mm-type-{_word(chosen.type_size)}"


def _word(choice: str) -> str:
    return choice.replace(" ", "-")
