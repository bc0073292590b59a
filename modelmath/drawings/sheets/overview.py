"""The plan at a glance: the model from the side, its main figures, what to mind, and where to find the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether

from modelmath.drawings.figures.elevation import side_elevation
from modelmath.drawings.sheets.guard import AGAIN
from modelmath.drawings.sheets.paper import PageNumberOf
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import (
    BODY,
    NOTE,
    PAGE,
    SECTION,
    SMALL,
    STRONG,
    Headline,
    gap,
    held_in,
    table,
    words,
)
from modelmath.drawings.sizes import in_mm, sentence
from modelmath.errors import ModelMathError
from modelmath.job.room_left.sizes import accepted_in_words, chance_in_words
from modelmath.job.volume import as_cut

if TYPE_CHECKING:
    from modelmath.job import Plan

HIGHEST = 120 * mm  # of the elevation, so that the figures share its page
SHEET_WIDTH = 820.0  # of the elevation on paper; its text then comes out at about 9 pt
NUMBER, BETWEEN = 12 * mm, 8 * mm  # room of a page number, and between two columns
# Further figures that belong at a glance, by name; a plan that has one shows it.
FIGURES = (
    "chamber length", "chamber volume", "net volume", "Qtc", "-3 dB point", "load impedance", "current of all lamps",
    "front truck after", "rear truck after", "new strips",
)  # fmt: skip


def overview_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the side elevation, the main figures, what to mind, and what is still to be entered.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section, without its list of contents. [-]

    References
    ----------
    `side_elevation`; JCGM 100:2008 for ±, one standard uncertainty.
    """
    drawing = side_elevation(plan, SHEET_WIDTH)
    sketch = Sketch(drawing, min(width / SHEET_WIDTH, HIGHEST / drawing.height))
    note = "Side elevation, in true proportion, not at true size: do not measure from it."
    return [words("Overview", PAGE), sketch, words(note, NOTE), *_figures(plan, width), *_minding(plan), *_open(plan)]


def _figures(plan: Plan, width: float) -> list[Flowable]:
    try:
        rows = [*_room(plan), *_others(plan)]
    except ModelMathError:
        return [words("Main figures", SECTION), words(AGAIN, BODY)]
    said = "± is one standard uncertainty; “from … to” is as far as what is not known better can move it."
    name = 33 * mm
    shown = _two_columns(rows, (name, (width - BETWEEN) / 2 - name))
    return [KeepTogether([words("Main figures", SECTION), words(said, NOTE), gap(0.5), shown])]


def _room(plan: Plan) -> Iterator[list[Any]]:
    """Yield the bulkhead's height, the room left and the chance of touching."""
    wall, left = plan.bulkhead, plan.gap
    if wall is not None:
        height = in_mm(as_cut(plan, wall.cut.cut_mm))
        yield _entry("bulkhead height", height, f"set the rule at {plan.marks.setting(wall.cut.cut_mm).text}")
    usually = f"{in_mm(left.usually_mm)} usually, {in_mm(left.at_worst_mm)} at worst"
    yield _entry(f"room left over {plan.governing.name}", in_mm(left.left_mm), usually)
    yield _entry("kept", in_mm(left.kept_mm), left.kept_in_words)
    accepted = f"accepted: {accepted_in_words(left.wanted_chance)}"
    yield _entry("chance of touching", chance_in_words(left.chance), accepted)


def _others(plan: Plan) -> Iterator[list[Any]]:
    for name in FIGURES:
        figure = plan.figures.get(name)
        if figure is not None:
            yield _entry(figure.name, figure.value)


def _entry(name: str, value: str, note: str = "") -> list[Any]:
    return [words(name, SMALL), [words(value, STRONG), *([words(note, SMALL)] if note else [])]]


def _two_columns(entries: Sequence[Sequence[Any]], widths: tuple[float, float]) -> Flowable:
    """Return entries of two cells each in two columns, down the left one first."""
    half = (len(entries) + 1) // 2
    rows = [[*entries[at], "", *(entries[at + half] if at + half < len(entries) else ["", ""])] for at in range(half)]
    close = [
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1.2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.8),
    ]
    return table((), rows, [*widths, BETWEEN, *widths], close)


def _minding(plan: Plan) -> list[Flowable]:
    try:
        _ = plan.parts  # without parts the only warning is the reason why, which the card gives already
    except ModelMathError:
        return []
    warnings = plan.warnings or ("Nothing stands out. The dry fit still decides.",)
    lines = [words(sentence(each), BODY) for each in warnings]
    return [KeepTogether([words("What to look out for", SECTION), lines[0]]), *lines[1:]]


def _open(plan: Plan) -> list[Flowable]:
    more: list[Flowable] = []
    if plan.missing:
        more += [words("Not entered yet", SECTION)]
        more += [words(f"Enter {each.entry} to get {each.gives}.", BODY) for each in plan.missing]
    if plan.job.notes:
        more += [words("Notes", SECTION), words(plan.job.notes, BODY)]
    return more


def contents(titles: Sequence[str], width: float) -> list[Flowable]:
    """Build the list of contents, in two columns.

    Parameters
    ----------
    titles : sequence of str
        The headings, in their order. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The list; page numbers are filled in once the pages are set. [-]

    References
    ----------
    None needed.
    """
    if not titles:
        return []
    entries = [[words(title, SMALL), PageNumberOf(title, NUMBER)] for title in titles]
    shown = _two_columns(entries, ((width - BETWEEN) / 2 - NUMBER, NUMBER))
    return [KeepTogether([words("Contents", SECTION), gap(0.5), shown])]


def headings_in(story: Sequence[Flowable]) -> list[str]:
    """Return the headings of sections in a story, in their order.

    Parameters
    ----------
    story : sequence of Flowable
        What is on the pages. [-]

    Returns
    -------
    list of str
        Each once. [-]

    References
    ----------
    None needed.
    """
    found: list[str] = []
    for each in story:
        if isinstance(each, Headline):
            found.append(each.text)
        elif isinstance(each, KeepTogether):
            found += headings_in(held_in(each))
    return list(dict.fromkeys(found))
