"""The words of the trade that the workbook uses: looked for by name, or by the page on which they are met."""

from __future__ import annotations

from collections.abc import Iterable

import ipywidgets as w

from modelmath.job.glossary import PACKET, Word, find_words, glossary, nearest_word, pages_with_words, words_named
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, page, row

EVERY = "every page"
SHEETS = "the printed sheets"
# Pages by their names, as their own headings call them.
PAGES = {
    "calibrate": "Calibrating a rule",
    "clearance": "Clearance",
    "cuts": "Cut it all with little waste",
    "drawer": "The drawer",
    "drills": "Drills and wire",
    "enclosure": "Guided walkthrough",
    "fleet": "Several models at once",
    "light": "Which resistor, which strand",
    "measure": "Measure a speaker",
    "moving": "What moves inside the shell",
    "prototype": "Prototype sizes",
    "readings": "Readings",
    "sound": "What this chamber will do",
    "strips": "Strips, sheet and shims",
    "tables": "Tables of readings",
}
# Words of the walkthrough's main path, in the order in which they are met.
WALKTHROUGH = (
    "scale foot", "zero offset", "shell", "chassis", "seat", "roof", "clearance", "mark", "chamber", "bulkhead",
    "closure", "post", "support", "flange", "filler", "floor plate", "free depth", "room left", "chance of touching",
    "zone", "stop", "offcut", "dry fit", "template", "check bar", "bench card", "packet",
)  # fmt: skip
STYLE = """
<style>
.mm .mm-words { display: block; margin: .3rem 0; max-width: 46rem; }
.mm .mm-words dt, .mm .mm-words dd { float: none; width: auto; margin: 0; }
.mm .mm-words dt { font-weight: 650; padding-top: .5rem; border-top: 1px solid var(--mm-line); }
.mm .mm-words dt .mm-soft { font-weight: 400; }
.mm .mm-words dd { padding: .1rem 0 .15rem; }
.mm .mm-words dd + dt { margin-top: .5rem; }
</style>
"""


class GlossaryPanel:
    """Every word with its meaning; fewer as one is looked for.

    Parameters
    ----------
    word : str
        What to look for at first; empty for all. [-]
    """

    def __init__(self, word: str = "") -> None:
        pages = [(PAGES.get(name, SHEETS), name) for name in pages_with_words()]
        offered = [EVERY, *(title for title, _ in sorted(pages, key=lambda each: (each[1] == PACKET, each[0])))]
        self._page_of = dict(pages)
        self.fields = {
            "word": Field("Look for", "a word, or part of one, such as web", word),
            "page": Field("Met on", "only words of one page, or of the sheets", options=offered),
        }
        self.fields["word"].control.continuous_update = True  # the list follows each letter
        self.count, self.words = w.HTML(), w.HTML()
        for field in self.fields.values():
            field.on_change(self._refresh)
        self.view = page(w.HTML(STYLE), row(*self.fields.values()), self.count, self.words)
        self._refresh()

    @property
    def found(self) -> tuple[Word, ...]:
        """The words shown, the best first."""
        return find_words(self.fields["word"].value, self._page_of.get(self.fields["page"].value, ""))

    def _refresh(self) -> None:
        found = self.found
        self.count.value = look.echo(f"{len(found)} {'word' if len(found) == 1 else 'words'}")
        self.words.value = in_full(found) if found else look.paragraph(self._none())

    def _none(self) -> str:
        """Return what to do where no word fits."""
        asked, where = self.fields["word"].value.strip(), self.fields["page"].value
        if where != EVERY and find_words(asked):
            return f"No word like “{asked}” is met there; choose “{EVERY}”."
        near = nearest_word(asked)
        return f"No word like “{asked}”." + (f" The nearest is “{near}”." if near else " Try a part of it.")

    @property
    def summary(self) -> str:
        """What is shown, in plain language."""
        found = self.found
        if not found:
            return self._none()
        return f"{len(found)} words, from {found[0].term} to {found[-1].term}"


class WordsUsedHere(Fold):
    """The words of one place with their meanings, folded away, and written once they are wanted.

    Parameters
    ----------
    *terms : str
        Terms of the glossary, in their order; none for the walkthrough's. [-]
    title : str
        What the fold is called. [-]
    """

    def __init__(self, *terms: str, title: str = "Words used here") -> None:
        self.words = words_named(terms or WALKTHROUGH)
        self.shown = w.HTML()
        super().__init__(title, self.shown)
        self.view.add_class("mm-glossary")

    def _turn(self) -> None:
        if not self.shown.value:
            more = f'<p><a href="glossary.ipynb">All {len(glossary())} words</a></p>'
            self.shown.value = STYLE + in_short(self.words) + more
        super()._turn()


def in_short(words: Iterable[Word]) -> str:
    """Return words with their meanings, as HTML."""
    return _list(f"<dt>{look.text(word.term)}</dt><dd>{look.text(word.meaning)}</dd>" for word in words)


def in_full(words: Iterable[Word]) -> str:
    """Return words with all that the glossary says of them, as HTML."""
    return _list(_entry(word) for word in words)


def _list(entries: Iterable[str]) -> str:
    return f'<dl class="mm-words">{"".join(entries)}</dl>'


def _entry(word: Word) -> str:
    also = f' <span class="mm-soft">also: {look.text(", ".join(word.also_called))}</span>' if word.also_called else ""
    met = ", ".join(_link(name) for name in sorted(word.pages, key=lambda name: name == PACKET))
    return (
        f"<dt>{look.text(word.term)}{also}</dt><dd>{look.text(word.meaning)}</dd>"
        f'<dd class="mm-soft">Met on: {met}. Source: {look.text(word.source)}.</dd>'
    )


def _link(name: str) -> str:
    return f'<a href="{look.text(name)}.ipynb">{look.text(PAGES[name])}</a>' if name in PAGES else SHEETS
