"""An editor in a fold, made once it is in sight: a page with many of them opens without their fields."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

import ipywidgets as w

from modelmath.job import Job
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.inside.editor import Editor

E = TypeVar("E", bound=Editor)


class LateEditor:
    """The place of an editor, which is made when its fold is first opened or anything of it is asked for.

    Parameters
    ----------
    make : callable
        Makes the editor. [-]
    """

    def __init__(self, make: Callable[[], Editor]) -> None:
        self._make = make
        self._made: Editor | None = None
        self._fold: Fold | None = None
        self._cleared = False
        self._offered: Job | None = None
        self.view = w.VBox()

    def __getattr__(self, name: str) -> Any:
        return getattr(self.made, name)

    @property
    def made(self) -> Editor:
        """The editor itself, as it would be had it been there from the beginning."""
        if self._made is None:
            editor = self._made = self._make()
            if self._cleared:
                editor.clear()
            if self._fold is not None:
                editor.fold_into(self._fold)
            if self._offered is not None:
                editor.offer(self._offered)
            self.view.children = [editor.view]  # last: what is typed into a field in sight is not filled over
        return self._made

    def fold_into(self, fold: Fold) -> None:
        """Say which fold hides the editor."""
        self._fold = fold
        if self._made is not None:
            self._made.fold_into(fold)
        else:
            fold.head.observe(lambda _change: self._seen(), names="value")

    def offer(self, job: Job) -> None:
        """Show a job's part, now where the editor is in sight, else once it is."""
        if self._made is not None:
            self._made.offer(job)
        else:
            self._offered = job
            self._seen()

    def clear(self) -> None:
        """Show nothing of a job any more: there is none."""
        if self._made is not None:
            self._made.clear()
        else:
            self._cleared, self._offered = True, None

    def _seen(self) -> None:
        if self._fold is not None and self._fold.head.value:
            _ = self.made


def late(make: Callable[[], E]) -> E:
    """Return the place of an editor; whoever uses it need not know whether the editor is made."""
    return cast(E, LateEditor(make))
