"""How the bench card is shared out over pages: one where it fits, else a tidy second, each under its heading."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, product

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, Table, TableStyle

from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import PLAIN, STRONG, gap, height_of, words

GUTTER = 6 * mm
HEADING_ROOM = 30 * mm  # of a page that goes on, for the heading of a long name
SPARE = 2 * mm  # of a page's height
AHEAD = "The bulkhead at true size is on the next page."
REST = "Drills, places, dry fit and the bulkhead at true size are on the next page."
REST_LATER = "Drills, places, dry fit and the bulkhead at true size are on the next pages."

Page = list[Flowable]
Size = tuple[float, float]


def laid_out(first: Page, upper: Page, blocks: list[Page], template: Page, size: Size, again: Page) -> list[Page]:
    """Share the card out: the cuts above, the rest in two columns below; what finds no room goes over whole.

    Parameters
    ----------
    first : list of Flowable
        The heading of the first page. [-]
    upper : list of Flowable
        What takes the whole width: the rule, the cuts. [-]
    blocks : list of lists of Flowable
        What takes a column each. [-]
    template : list of Flowable
        The bulkhead at true size, kept on one page; empty for none. [-]
    size : tuple of float
        Width and height inside the margins. [pt]
    again : list of Flowable
        The heading of each further page. [-]

    Returns
    -------
    list of lists of Flowable
        What stands on each page: all on one; or the template on the second; or the cuts first, then all the rest; or,
        where not even that fits, one below the other on as many pages as it takes. [-]

    References
    ----------
    None needed.
    """
    width, height = size
    column = (width - GUTTER) / 2
    top = [*first, *upper]
    beside = _columns(blocks, template, column)
    if beside is not None and height_of([*top, *beside], width) <= height - SPARE:
        return [[*top, *beside]]
    if _has_sketch(template):
        alone = _columns(blocks, [gap(3), words(AHEAD, STRONG)], column)
        if alone is not None and height_of([*top, *alone], width) <= height - SPARE:
            return [[*top, *alone], [*again, *template]]
    rest = _rest(blocks, template, size, again)
    notice = [gap(2), words(REST if len(rest) == 1 else REST_LATER, STRONG)] if _has_sketch(template) else []
    return [*_paged(first, [*upper, *notice], size, again), *rest]


def _rest(blocks: list[Page], template: Page, size: Size, again: Page) -> list[Page]:
    """Return the pages after the cuts: all on one in two columns; else the template apart; else one below the other."""
    width, height = size
    column = (width - GUTTER) / 2
    beside = _columns(blocks, template, column)
    if beside is not None and height_of([*again, *beside], width) <= height - SPARE:
        return [[*again, *beside]]
    apart = [[*again, *template]] if _has_sketch(template) else []
    alone = _columns(blocks, [] if apart else template, column)
    if alone is not None and height_of([*again, *alone], width) <= height - SPARE:
        return [[*again, *alone], *apart]
    below = [*chain.from_iterable(blocks), *([] if apart else template)]
    return [*_paged(again, below, size, again), *apart]


def _has_sketch(template: Page) -> bool:
    return any(isinstance(each, Sketch) for each in template)


def _paged(first: Page, content: Page, size: Size, again: Page) -> list[Page]:
    """Share content out over pages, each under its heading; tables go on with their own head."""
    width, height = size
    pages: list[Page] = []
    waiting = list(content)
    while waiting:
        heading = again if pages else first
        room = height - SPARE - height_of(heading, width)
        page, waiting = _filled(waiting, width, room)
        pages.append([*heading, *page])
    return pages or [list(first)]


def _filled(waiting: Page, width: float, room: float) -> tuple[Page, Page]:
    """Return what goes on a page of so much room, and what is left for the next."""
    page: Page = []
    for number, each in enumerate(waiting):
        left = room - height_of(page, width)
        if height_of([each], width) <= left:
            page.append(each)
            continue
        parts = each.split(width, left)
        if len(parts) > 1:
            return [*page, parts[0]], [*parts[1:], *waiting[number + 1 :]]
        if not page:
            return [each], waiting[number + 1 :]  # higher than a page in one piece: the PDF writer parts it
        heads = 0
        while heads < len(page) - 1 and _keeps_with_next(page[-1 - heads]):
            heads += 1
        cut = len(page) - heads
        return page[:cut], [*page[cut:], *waiting[number:]]
    return page, []


def _keeps_with_next(each: Flowable) -> bool:
    """Return whether something is a head, that may not stand alone at a page's foot."""
    return isinstance(each, Paragraph) and bool(getattr(each.style, "keepWithNext", 0))


def _columns(blocks: list[Page], last: Page, column: float) -> Page | None:
    """Return blocks in two columns, the higher one as low as can be; None where something is wider than a column."""
    if max((each.wrap(column, 10**6)[0] for each in last), default=0) > column:
        return None
    columns = _balanced(blocks, last, column)
    return [gap(2), _side_by_side(*columns, column)] if any(columns) else []


def _balanced(blocks: list[Page], last: Page, column: float) -> tuple[Page, Page]:
    """Share blocks between two columns so that the higher one is as low as can be; `last` goes on the right."""

    def shared(to_right: Sequence[bool]) -> tuple[Page, Page]:
        sides: tuple[Page, Page] = ([], list(last))
        for block, right in zip(blocks, to_right, strict=True):
            sides[right].extend(block)
        return sides

    choices = [shared(to_right) for to_right in product((False, True), repeat=len(blocks))]
    return min(choices, key=lambda sides: max(height_of(each, column) for each in sides))


def _side_by_side(left: Page, right: Page, column: float) -> Table:
    style = TableStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        ]
    )
    return Table([[left, "", right]], colWidths=[column, GUTTER, column], style=style, hAlign="LEFT")
