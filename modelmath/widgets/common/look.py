"""One look for all panels: the style sheet, and HTML built from text that is always escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from html import escape

MOST_SIDE_BY_SIDE = 3  # columns of a table that a phone still shows side by side
_ARGUMENT = re.compile(r"(?<![A-Za-z_'\"])(the )?\b([a-z]+(?:_[a-z]+)*)_mm\b(?!=)")
_UNIT_OF_SIZE = {" scale ft": "scale feet", " in": "inch", " mm": "mm"}
_UNIT_OF_COLUMN = {"Scale feet": "scale feet", "Inch": "inch", "mm": "mm"}
LAST = "These sizes are for the last entries that gave a result."
STYLE = """
<style>
.mm { --mm-ink: var(--jp-ui-font-color1, #1d1d1b); --mm-soft: var(--jp-ui-font-color2, #55554f);
      --mm-line: var(--jp-border-color1, #b9b6ad); --mm-paper: var(--jp-layout-color1, #fff);
      max-width: 62rem; color: var(--mm-ink); }
.mm .widget-html-content, .mm .jupyter-widgets { line-height: 1.45; }
.mm h2.mm-h { font-size: 1.25rem; margin: 1.4rem 0 .2rem; font-weight: 650; }
.mm h3.mm-h { font-size: 1rem; margin: .9rem 0 .1rem; font-weight: 600; }
.mm-status { font-size: .92rem; font-weight: 400; color: var(--mm-soft); margin-left: .6rem; }
.mm p { margin: .25rem 0; }
.mm-soft { color: var(--mm-soft); font-size: .92rem; }
.mm-row { display: flex; flex-wrap: wrap; gap: .4rem 1.6rem; align-items: flex-start; }
.mm .mm-field { width: 17.5rem; max-width: 100%; overflow: visible; }
.mm .mm-field .widget-text, .mm .mm-field .widget-dropdown { flex-direction: column; align-items: stretch;
      height: auto; width: auto; }
.mm .mm-field .widget-label, .mm .mm-field label { width: auto; text-align: left; font-weight: 600; height: auto;
      white-space: normal; line-height: 1.3; padding-bottom: .15rem; }
.mm .mm-field input, .mm .mm-field select { flex: 0 0 auto; width: 100%; height: 2.4rem;
      font-size: 1.05rem; border-radius: 3px; }
.mm .mm-field input:focus, .mm .mm-field select:focus, .mm button:focus { outline: 3px solid #3584e4 !important;
      outline-offset: -2px; }
.mm .widget-dropdown > select { background-image: url("data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' \
viewBox='0 0 18 18'%3E%3Cpath d='M4.5 6.5 9 11l4.5-4.5' fill='none' stroke='%23888' stroke-width='2'/%3E%3C/svg%3E");
      }
.mm .mm-step { border-top: 1px solid var(--mm-line); padding: .25rem 0 .35rem; overflow: visible; }
.mm .mm-step .widget-checkbox { width: auto; max-width: 100%; height: auto; min-height: 1.9rem; overflow: visible; }
.mm .mm-step .widget-label-basic { white-space: normal; height: auto; line-height: 1.35; overflow: visible;
      display: flex; align-items: flex-start; gap: .5rem; padding: .2rem 0; }
.mm input[type="checkbox"] { width: 1.25rem; height: 1.25rem; }
.mm .mm-step input[type="checkbox"] { flex: 0 0 auto; margin: .1rem 0 0; }
.mm-echo, .mm-note { color: var(--mm-soft); font-size: .88rem; display: block; line-height: 1.3; }
.mm-echo { color: var(--mm-ink); }
.mm-ways { display: inline-flex; flex-wrap: wrap; gap: 0 .9rem; }
.mm-way { white-space: nowrap; }
.mm-first-inch .mm-way[data-unit="inch"], .mm-first-mm .mm-way[data-unit="mm"] { order: -1; }
.mm-first-inch td[data-unit="inch"], .mm-first-mm td[data-unit="mm"],
.mm-first-scale-feet td[data-unit="scale feet"] { font-weight: 650; }
.mm-type-large { zoom: 1.2; }
.mm-type-very-large { zoom: 1.45; }
.mm .mm-fold { width: 100%; text-align: left; border: 1px solid var(--mm-line); background: var(--mm-paper);
      color: var(--mm-ink); font-weight: 600; margin: .15rem 0; box-shadow: none; }
.mm button.mm-fold { height: auto; min-height: 2.4rem; padding: .35rem .7rem; line-height: 1.35; white-space: normal;
      overflow: visible; overflow-wrap: anywhere; }
.mm details { margin: .5rem 0; }
@media print { .mm details::details-content { content-visibility: visible; height: auto; display: block; } }
.mm summary { cursor: pointer; font-weight: 600; padding: .3rem 0; }
.mm-bad { display: block; font-size: .92rem; border-left: 4px solid currentColor; padding-left: .5rem;
      font-weight: 600; white-space: normal; }
.mm-card { border: 1.5px solid var(--mm-ink); padding: .7rem 1rem; background: var(--mm-paper); }
.mm-card dl { display: block; margin: 0; }
.mm-card dt, .mm-card dd { float: none; width: auto; }
.mm-card dt { font-weight: 400; font-size: .92rem; color: var(--mm-soft); margin-top: .45rem; }
.mm-card dd { margin: 0; font-size: 1.05rem; }
.mm-card dd.mm-big { font-size: 1.7rem; font-weight: 650; line-height: 1.25; }
.mm-stale { border-style: dashed; }
.mm-table { overflow-x: auto; max-width: 100%; }
.mm-table table { border-collapse: collapse; font-size: .95rem; margin: .4rem 0; }
.mm-table caption { text-align: left; font-weight: 600; padding: .2rem 0; }
.mm-table th, .mm-table td { border-bottom: 1px solid var(--mm-line); padding: .3rem .8rem .3rem 0; text-align: left;
      vertical-align: top; }
.mm-table td.mm-num { font-variant-numeric: tabular-nums; white-space: nowrap; }
.mm .widget-html, .mm .widget-html > .widget-html-content, .mm .widget-vbox, .mm .jupyter-widget-Collapse-contents {
      min-width: 0; max-width: 100%; }
.mm .widget-html { width: auto; align-self: stretch; }
.mm-figure { margin: .6rem 0; padding: .6rem; background: #fff; border: 1px solid var(--mm-line); max-width: 42rem; }
@media screen and (prefers-color-scheme: dark) { .mm-figure { background: #d9d9d6; } }
body[data-jp-theme-light="false"] .mm-figure { background: #d9d9d6; }
.mm-figure svg { width: 100%; height: auto; display: block; }
.mm-pair { display: flex; flex-wrap: wrap; gap: .6rem; max-width: none; }
.mm-pair svg { flex: 0 1 20rem; min-width: 0; width: auto; }
.mm ul { margin: .3rem 0 .3rem 1.3rem; padding: 0; }
.mm ol { margin: .3rem 0 .3rem 2.3rem; padding: 0; }
.mm li { margin: .2rem 0; }
.mm a { color: var(--jp-content-link-color, #0b4a8f); text-decoration: underline; }
.mm .mm-paste { width: 100%; max-width: 40rem; flex-direction: column; height: auto; }
.mm .mm-paste .widget-label { text-align: left; font-weight: 600; width: auto; }
.mm .widget-button { min-height: 2.4rem; height: auto; font-size: 1rem; padding: .3rem 1.1rem; width: auto; }
.mm .mm-zone { border-top: 1px solid var(--mm-line); padding-top: .5rem; margin-top: .5rem; }
.mm-table.mm-short td, .mm-table.mm-short tbody th { white-space: nowrap; }
.mm pre.mm-code { white-space: pre-wrap; overflow-wrap: anywhere; border-left: 3px solid var(--mm-line);
      padding: .3rem .6rem; margin: .3rem 0; background: none; color: var(--mm-ink); }
.mm .mm-why { white-space: pre-wrap; font-family: inherit; }
.mm-wide { overflow-x: auto; }
@media (max-width: 560px) {
  .mm-wide svg { min-width: 36rem; }
  .mm-figure { padding: .2rem; }
  .mm-cards thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .mm-cards table, .mm-cards tbody, .mm-cards caption { display: block; }
  .mm-cards tr { display: flex; flex-wrap: wrap; gap: 0 1.1rem; border-bottom: 1px solid var(--mm-line);
        padding: .35rem 0; }
  .mm-cards th, .mm-cards td { border: 0; padding: .1rem 0; }
  .mm-table.mm-cards td, .mm-table.mm-cards tbody th { white-space: normal; }
  .mm-cards td:empty { display: none; }
  .mm-cards tbody th { flex-basis: 100%; }
  .mm-cards td[data-label]::before { content: attr(data-label) " "; color: var(--mm-soft); font-size: .88rem; }
  .mm-advice td:last-child { flex-basis: 100%; }
}
@media (max-width: 560px) { .mm .mm-field { width: 100%; } .mm-card dd.mm-big { font-size: 1.45rem; } }
</style>
"""


def text(value: object) -> str:
    """Return any value as HTML text, escaped."""
    return escape(str(value))


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
    it: that is for tables whose last column is prose. So do those of any table of four columns or more.
    """
    head = "".join(f'<th scope="col">{text(each)}</th>' for each in heads)
    in_all = set(_UNIT_OF_COLUMN) <= set(heads)
    cards = "mm-advice" in css or len(heads) > MOST_SIDE_BY_SIDE
    css = f"{css} mm-cards".strip() if cards else css
    labels = [
        (f' data-label="{text(each)}:"' if cards else "") + (_unit(_UNIT_OF_COLUMN, each) if in_all else "")
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
