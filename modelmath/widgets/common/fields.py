"""A labelled field with its echo or its message beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import Any

import ipywidgets as w

from modelmath.lengths.scales import all_scales
from modelmath.widgets.common import look

COMMON = ("HO", "N", "O", "S")
UNITS = ("scale foot", "scale inch", "mm", "in")


def scale_names() -> list[str]:
    """Return the names of all scales, the common ones first."""
    return [*COMMON, *(each.name for each in all_scales() if each.name not in COMMON)]


@cache
def _alike(made: type[w.DOMWidget], **style: str) -> dict[str, Any]:
    """Return layout and style for widgets of which nobody ever changes either: a page of shared ones opens sooner."""
    first = made(style=style)
    return {"layout": first.layout, "style": first.style}


class Field:
    """A text field or a choice, with what it was understood as, or what is wrong, below it.

    Parameters
    ----------
    label : str
        What is entered. [-]
    hint : str
        What, where and how, in a few words; stands below the field until something is typed. [-]
    value : str
        Text to begin with. [-]
    options : sequence of str or None
        For a choice among some. [-]
    """

    def __init__(self, label: str, hint: str = "", value: str = "", options: Sequence[str] | None = None) -> None:
        self.label, self.hint = label, hint
        shown = look.label(label)
        alike = _alike(w.Text if options is None else w.Dropdown, description_width="initial")
        if options is None:
            self.control = w.Text(value, description=shown, continuous_update=False, **alike)
        else:
            self.control = w.Dropdown(options=list(options), value=value or options[0], description=shown, **alike)
        self.note = w.HTML(look.hint(hint), **_alike(w.HTML))
        self.view = w.VBox([self.control, self.note])
        self.view.add_class("mm-field")

    @property
    def value(self) -> str:
        """What is typed or chosen."""
        return str(self.control.value or "")

    @value.setter
    def value(self, text: str) -> None:
        self.control.value = text

    def takes(self, text: str | None) -> bool:
        """Whether a text can stand in the field: any in a text field, one of them where there is a choice."""
        return text is not None and (not isinstance(self.control, w.Dropdown) or text in self.control.options)

    @property
    def message(self) -> str:
        """The note below the field, as HTML."""
        return str(self.note.value)

    def on_change(self, act: Callable[[], None]) -> None:
        """Call `act` whenever the value changes."""
        self.control.observe(lambda _change: act(), names="value")

    def show(self, understood: str | None = None, wrong: str | None = None) -> None:
        """Show the hint, and below it what the entry was understood as, or what is wrong with it."""
        below = look.problem(wrong) if wrong else look.echo(understood) if understood else ""
        self.note.value = below + look.hint(self.hint)


def row(*fields: Field) -> w.HBox:
    """Return fields beside each other, below each other where the page is narrow."""
    box = w.HBox([field.view for field in fields])
    box.add_class("mm-row")
    return box


def page(*children: w.Widget) -> w.VBox:
    """Return a panel's whole view in the one look, with the choice of how it looks at its foot."""
    from modelmath.widgets.common.preferred import HowItLooks  # it is made of fields itself

    box = w.VBox()
    box.add_class("mm")
    box.children = [w.HTML(look.STYLE), *children, HowItLooks(box).fold.view]
    return box


class Fold:
    """A part folded away until wanted; its head is a button, so that the keyboard reaches it.

    Parameters
    ----------
    title : str
        What is inside. [-]
    content : Widget
        The part. [-]
    """

    def __init__(self, title: str, content: w.Widget) -> None:
        self.title, self.content = title, content
        self.head = w.ToggleButton(value=False, description=title, icon="plus", **_alike(w.ToggleButton))
        self.head.add_class("mm-fold")
        self.view = w.VBox([self.head])
        self.head.observe(lambda _change: self._turn(), names="value")

    def _turn(self) -> None:
        self.head.icon = "minus" if self.head.value else "plus"
        self.view.children = [self.head, self.content] if self.head.value else [self.head]
