"""The package's public names, looked up: how each is called, with which units, where its formula is from."""

from __future__ import annotations

import re

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, page, row
from modelmath.workbook.names import Described, Part, described, found_by, names_in, packages

MOST = 60  # names listed for some words
ABOUT = (
    "For those who write Python: everything the pages do can be called. Each name is described by its own docstring, "
    "with the unit of every figure in brackets and the source of its formula."
)


class NamesPanel:
    """A package, a name in it, or words to look for."""

    def __init__(self) -> None:
        self.words = Field("Look for", "words of a name or of what it does, such as drill, or height strip")
        self.package = Field("Package", "what is used most is in modelmath itself", options=packages())
        self.name = Field("Name", "of what the package offers", "parse_length", options=names_in(packages()[0]))
        self.hits, self.shown = w.HTML(), w.HTML()
        self._loading = False
        self.words.on_change(self._look)
        self.package.on_change(self._list)
        self.name.on_change(self._show)
        self.view = page(w.HTML(look.paragraph(ABOUT)), row(self.words, self.package, self.name), self.hits, self.shown)
        self._show()

    def _list(self) -> None:
        self._loading = True
        self.name.control.options = names_in(self.package.value)
        self._loading = False
        self._show()

    def _look(self) -> None:
        """List what was found, and show the first of it."""
        found = found_by(self.words.value)
        if not self.words.value.strip():
            self.hits.value = ""
            return
        if not found:
            self.hits.value = look.problem(f"No name and no description has {self.words.value!r}; write fewer words.")
            return
        rows = [(name, package, described(package, name).summary) for package, name in found[:MOST]]
        more = look.paragraph(f"{len(found) - MOST} more; write more words.") if len(found) > MOST else ""
        self.hits.value = look.table(f"Found: {len(found)}", ("Name", "In", "What it is"), rows, "mm-advice") + more
        package, name = found[0]
        self._loading = True
        self.package.value = package
        self.name.control.options = names_in(package)
        self.name.value = name
        self._loading = False
        self._show()

    def _show(self) -> None:
        if self._loading or not self.name.value:
            return
        try:
            self.shown.value = described_html(described(self.package.value, self.name.value))
        except ModelMathError as reason:
            self.shown.value = look.problem(str(reason))

    @property
    def summary(self) -> str:
        """What is shown, in one line."""
        return described(self.package.value, self.name.value).summary


def described_html(found: Described) -> str:
    """Return what a name is, as HTML."""
    package, _, name = found.name.rpartition(".")
    use = f"from {package} import {name}"
    methods = "".join(
        f"<details><summary>{look.text(each.name)}</summary>{_call(each)}{_parts(each)}</details>"
        for each in found.methods
    )
    own = look.heading("Methods and properties") + methods if methods else ""
    return f'{look.heading(name)}<pre class="mm-code">{look.text(use)}</pre>{_call(found)}{_parts(found)}{own}'


def _call(found: Described) -> str:
    return f'<pre class="mm-code">{look.text(found.call)}</pre>' if found.call else ""


def _parts(found: Described) -> str:
    return "".join(_part(part) for part in found.parts)


def _part(part: Part) -> str:
    if part.rows:
        return _table(part)
    head = look.subheading(part.title) if part.title else ""
    if part.code:
        return f'{head}<pre class="mm-code">{look.text(part.text)}</pre>'
    return head + "".join(f"<p>{_marked(' '.join(each.split()))}</p>" for each in part.text.split("\n\n"))


def _table(part: Part) -> str:
    """Return a section of rows; a column in which nothing stands is left out."""
    heads = ("Error", "When") if part.title == "Raises" else ("Name", "Kind", "What it is, with its unit")
    columns = [column for column in zip(*part.rows, strict=True) if any(column)]
    shown = heads[len(heads) - len(columns) :] if part.title != "Raises" else heads
    return look.table(part.title, shown, zip(*columns, strict=True), "mm-advice")


def _marked(text: str) -> str:
    """Return a text with what stands between backticks as code."""
    return re.sub(r"``(.+?)``|`(.+?)`", lambda found: f"<code>{found[1] or found[2]}</code>", look.text(text))
