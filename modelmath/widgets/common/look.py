"""One look for all panels: the style sheet, and HTML built from text that is always escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from pathlib import Path

from modelmath.drawings.shapes import in_its_order

MOST_SIDE_BY_SIDE = 3  # columns of a table that a phone still shows side by side
_STEERS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
_ARGUMENT = re.compile(r"(?<![A-Za-z_'\"])(the )?\b([a-z]+(?:_[a-z]+)*)_mm\b(?!=)")
_UNIT_OF_SIZE = {" scale ft": "scale feet", " in": "inch", " mm": "mm"}
_UNIT_OF_COLUMN = {"Scale feet": "scale feet", "Inch": "inch", "mm": "mm"}
LAST = "These sizes are for the last entries that gave a result."
STYLE = f"<style>\n{(Path(__file__).parent / 'look.css').read_text('utf-8')}</style>\n"


def text(value: object) -> str:
    """Return any value as HTML text, escaped; what would turn the text beside it, or is no sign, is written out."""
    return in_its_order(_STEERS.sub(lambda found: f"\\u{ord(found[0]):04x}", escape(str(value))))


def label(value: str) -> str:
    r"""Return a text for the label of a control, in which the page finds no formula to typeset.

    The labels of fields and boxes are handed to MathJax, to which ``$`` and ``\(`` in a name begin a formula. A second
    dollar sign makes all of them wide ones; after a backslash stands a sign without width.

    Examples
    --------
    >>> label("tank, $3"), label("$a$")
    ('tank, $3', '＄a＄')
    """
    kept = value.replace("$", "＄") if value.count("$") > 1 else value
    return kept.replace("\\", "\\\u2060")


def paragraph(value: object, css: str = "") -> str:
    """Return a paragraph of escaped text."""
    return f'<p class="{css}">{text(value)}</p>' if css else f"<p>{text(value)}</p>"


def heading(value: str, status: str = "") -> str:
    """Return a section heading, and how far what it heads is, in words."""
    said = f' <span class="mm-status">{text(status)}</span>' if status else ""
    return f'<h2 class="mm-h">{text(value)}{said}</h2>'


def subheading(value: str) -> str:
    """Return a heading below a section's."""
    return f'<h3 class="mm-h">{text(value)}</h3>'


def echo(value: str) -> str:
    """Return what an entry was understood as, for the place beside its field."""
    return f'<span class="mm-echo" role="status">{text(value)}</span>'


def hint(value: str) -> str:
    """Return what, where and how, for the place below a field."""
    return f'<span class="mm-note">{text(value)}</span>' if value else ""


def sizes(ways: Iterable[str]) -> str:
    """Return one size in several units, each kept whole where the line breaks; the one preferred stands first."""
    shown = " ".join(f'<span class="mm-way"{_unit(_UNIT_OF_SIZE, way)}>{text(way)}</span>' for way in ways)
    return f'<span class="mm-ways">{shown}</span>'


def _unit(known: Mapping[str, str], words: str) -> str:
    """Return the attribute that names the unit of a size or a column, for the style that follows the preference."""
    found = next((unit for ending, unit in known.items() if words.endswith(ending)), None)
    return f' data-unit="{found}"' if found else ""


def problem(value: str) -> str:
    """Return a message beside a field, announced to a screen reader."""
    return f'<span class="mm-bad" role="alert">{text(in_words(value))}</span>'


def in_words(value: str) -> str:
    """Return a message with the names of a function's arguments, such as ``gap_tolerance_mm``, as words."""
    return _ARGUMENT.sub(lambda found: f"{'' if found[1] else 'the '}{found[2].replace('_', ' ')}", value)


def bullets(items: Iterable[object], numbered: bool = False) -> str:
    """Return a list of escaped items."""
    tag = "ol" if numbered else "ul"
    return f"<{tag}>{''.join(f'<li>{text(item)}</li>' for item in items)}</{tag}>"


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[object]], css: str = "") -> str:
    """Return a table with its caption; the first column heads each row.

    On a phone the rows of a table with ``mm-advice`` stand below each other as cards, each cell with its head before
    it: that is for tables whose last column is prose. So do those of any table of four columns or more. Cells carry
    their units; a head that is only a unit is not said again on a phone.
    """
    head = "".join(f'<th scope="col">{text(each)}</th>' for each in heads)
    in_all = set(_UNIT_OF_COLUMN) <= set(heads)
    cards = "mm-advice" in css or len(heads) > MOST_SIDE_BY_SIDE
    css = f"{css} mm-cards".strip() if cards else css
    labels = [
        (f' data-label="{text(each)}:"' if cards and each not in _UNIT_OF_COLUMN else "")
        + (_unit(_UNIT_OF_COLUMN, each) if in_all else "")
        for each in heads[1:]
    ]
    body = "".join(
        f'<tr><th scope="row">{text(first)}</th>'
        f"{''.join(f'<td{label}>{text(cell)}</td>' for label, cell in zip(labels, rest, strict=True))}</tr>"
        for first, *rest in rows
    )
    opening = f'<div class="mm-table {css}" tabindex="0" role="region" aria-label="{text(caption)}">'
    head = f"<caption>{text(caption)}</caption><thead><tr>{head}</tr></thead>"
    return f"{opening}<table>{head}<tbody>{body}</tbody></table></div>"


def folded(title: str, html: str) -> str:
    """Return HTML folded away under a title; it is printed all the same."""
    return f"<details><summary>{text(title)}</summary>{html}</details>"


def stale(html: str, said: str = LAST) -> str:
    """Return an answer marked as that to earlier entries, `said` on top; one without a card gets one."""
    if not html or "mm-stale" in html:
        return html
    words, (opening, marked) = paragraph(said, "mm-soft"), ('<div class="mm-card"', '<div class="mm-card mm-stale"')
    if opening not in html:
        return f'{marked} role="status">{words}{html}</div>'
    before, after = html.split(opening, 1)
    rest, inside = after.split(">", 1)
    return f"{before}{marked}{rest}>{words}{inside}"


def problem_over(value: str, last: str) -> str:
    """Return a message over the last answer, marked as that to earlier entries; a message in `last` goes."""
    start = last.find('<div class="mm-card')
    return problem(value) + (stale(last[start:]) if start >= 0 else "")
