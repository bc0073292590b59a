"""Type and tables of the packet: one embedded typeface, three sizes, thin grey lines."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache, lru_cache
from io import BytesIO
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import Color
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Flowable, KeepTogether, Paragraph, Spacer, Table, TableStyle

from modelmath.drawings.shapes import plain
from modelmath.tables import data_folder

PLAIN, BOLD = "ModelMath", "ModelMath-Bold"
BOX, TICKED = "☐", "☑"
WIDTHS_KEPT = 20_000  # words of one typeface; a packet has about three thousand
_UNIT = re.compile(r"(?<=\d) (mm|in|scale ft|scale in)\b")


def grey(level: float) -> Color:
    """Return a grey.

    Parameters
    ----------
    level : float
        0 for black, 1 for white. [-]

    Returns
    -------
    Color
        The grey. [-]

    References
    ----------
    None needed.
    """
    return Color(level, level, level)


INK, SOFT, RULE_GREY, WASH = grey(0), grey(0.3), grey(0.6), grey(0.93)


class _Typeface(TTFont):
    """A typeface that measures each word once: setting a packet asks for the same widths many times."""

    def __init__(self, name: str, file: BytesIO) -> None:
        super().__init__(name, file)
        self._width_of = lru_cache(maxsize=WIDTHS_KEPT)(super().stringWidth)

    def stringWidth(self, text: str, size: float, encoding: str = "utf8") -> float:  # noqa: N802
        """Return how wide a text comes out. [pt]"""
        width: float = self._width_of(text, size, encoding)
        return width


@cache
def load_fonts() -> None:
    """Make the packet's typeface known to the PDF writer, from data/fonts."""
    for name, file in ((PLAIN, "DejaVuSans.ttf"), (BOLD, "DejaVuSans-Bold.ttf")):
        pdfmetrics.registerFont(_Typeface(name, BytesIO((data_folder() / "fonts" / file).read_bytes())))
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)


def _style(name: str, size: float, bold: bool = False, **more: Any) -> ParagraphStyle:
    leading = more.pop("leading", size * 1.28)
    font = BOLD if bold else PLAIN
    style = ParagraphStyle(name, fontName=font, fontSize=size, leading=leading, textColor=INK, **more)
    style.allowWidows, style.allowOrphans = 0, 0  # no single line on a page of its own
    return style


load_fonts()
BODY = _style("body", 9)
SMALL = _style("small", 8)
NOTE = _style("note", 8, leading=10.4)
HANGING = _style("hanging", 8, leading=10, leftIndent=3 * mm, firstLineIndent=-3 * mm, spaceAfter=1.5)
STRONG = _style("strong", 9, bold=True)
HEAD = _style("head", 8, bold=True)
TITLE = _style("title", 18, bold=True, leading=21)
PAGE = _style("page", 14, bold=True, leading=18, spaceBefore=7 * mm, spaceAfter=2 * mm, keepWithNext=1)
SECTION = _style("section", 10.5, bold=True, leading=13, spaceBefore=3 * mm, spaceAfter=1.2 * mm, keepWithNext=1)
BIG = _style("big", 15, bold=True, leading=17)
SIZE = _style("size", 11, bold=True, leading=13)
SIZE_RIGHT = _style("size, right", 11, bold=True, leading=13, alignment=TA_RIGHT)
SMALL_RIGHT = _style("small, right", 8, alignment=TA_RIGHT)


class Wording(Paragraph):
    """A paragraph that is broken into lines once for each width: tables and columns try the same width repeatedly."""

    def breakLines(self, width: Any) -> Any:  # noqa: N802, the PDF writer's own name
        """Return its lines.

        Parameters
        ----------
        width : number, or list of numbers
            Of the first line, and of the others. [pt]

        Returns
        -------
        ParaLines
            As the PDF writer breaks them. [pt]

        References
        ----------
        None needed.
        """
        kept: dict[Any, Any] = self.__dict__.setdefault("_kept_lines", {})
        key = tuple(width) if isinstance(width, (list, tuple)) else width
        if key not in kept:
            kept[key] = super().breakLines(width)
        return kept[key]

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return its parts above and below a page's foot; parting alters the lines, so that none are kept.

        Parameters
        ----------
        availWidth, availHeight : float
            Room on the page. [pt]

        Returns
        -------
        list of Flowable
            As the PDF writer parts them. [-]

        References
        ----------
        None needed.
        """
        self.__dict__.pop("_kept_lines", None)
        found: list[Flowable] = super().split(availWidth, availHeight)
        return found


def words(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """Return a paragraph of a person's text; nothing in it is taken for mark-up.

    Parameters
    ----------
    text : str
        Any text. [-]
    style : ParagraphStyle
        How it is set. [-]

    Returns
    -------
    Paragraph
        It wraps, and parts a word that is wider than its place. [-]

    References
    ----------
    None needed.
    """
    kept = _UNIT.sub(lambda unit: unit[0].replace(" ", "\u00a0"), plain(text))  # a number stays with its unit
    if style is not PAGE:
        return Wording(escape(kept), style)
    heading = Headline(escape(kept), style)
    heading.text = kept
    return heading


def named(name: str, text: str) -> Paragraph:
    """Return a paragraph of which the name stands out.

    Parameters
    ----------
    name : str
        What it is about. [-]
    text : str
        What is said of it. [-]

    Returns
    -------
    Paragraph
        In the size of notes. [-]

    References
    ----------
    None needed.
    """
    first, rest = (_UNIT.sub(lambda unit: unit[0].replace(" ", "\u00a0"), plain(each)) for each in (name, text))
    return Wording(f'<font name="{BOLD}">{escape(first)}</font> {escape(rest)}', HANGING)


class Headline(Wording):
    """The heading of a section: the page it comes to stand on is kept for the contents."""

    text = ""

    def draw(self) -> None:
        """Draw it, and say where it stands."""
        canvas: Any = self.canv
        stands = getattr(canvas, "section_stands", None)
        if stands is not None and self.text:
            stands(self.text)
        super().draw()


def held_in(together: KeepTogether) -> list[Flowable]:
    """Return what is kept together.

    Parameters
    ----------
    together : KeepTogether
        What keeps it on one page. [-]

    Returns
    -------
    list of Flowable
        Top to bottom. [-]

    References
    ----------
    None needed.
    """
    holder: Any = together  # what it holds has no public name
    return list(holder._content)


TALLEST = 200 * mm  # of a row; the shorter paper has a little more


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[Any]],
    widths: Sequence[float],
    more: Sequence[tuple[Any, ...]] = (),
    style: ParagraphStyle = SMALL,
) -> Table:
    """Return a table that repeats its head on each page; texts become paragraphs.

    Parameters
    ----------
    head : sequence of str
        Column heads; empty for none. [-]
    rows : sequence of rows
        Texts or flowables. [-]
    widths : sequence of float
        Column widths. [pt]
    more : sequence of tuple
        Further table commands. [-]
    style : ParagraphStyle
        How texts are set. [-]

    Returns
    -------
    Table
        With a thin grey line below each row. [-]

    References
    ----------
    None needed.
    """
    cells = [[words(each, style) if isinstance(each, str) else each for each in row] for row in rows]
    heads = [[words(each, HEAD) for each in head]] if head else []
    commands: list[tuple[Any, ...]] = [
        ("FONTNAME", (0, 0), (-1, -1), PLAIN),  # else an empty cell brings in a font that is not embedded
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 5),
        ("TOPPADDING", (0, 0), (-1, -1), 2.2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.8),
        ("LINEBELOW", (0, 0), (-1, -1), 0.35, RULE_GREY),
    ]
    if head:
        commands += [("LINEBELOW", (0, 0), (-1, 0), 0.9, INK), ("VALIGN", (0, 0), (-1, 0), "BOTTOM")]
    built = Table(
        heads + cells,
        colWidths=list(widths),
        repeatRows=len(heads),
        style=TableStyle([*commands, *more]),
        hAlign="LEFT",
    )
    # Rows stay whole, but for one that may be higher than a page.
    built.wrap(sum(widths), TALLEST)
    spans = any(each[0] == "SPAN" for each in more)
    built.splitInRow = int(not spans and max(getattr(built, "_rowHeights", ()), default=0) > TALLEST)
    return built


def gap(height_mm: float) -> Spacer:
    """Return white space.

    Parameters
    ----------
    height_mm : float
        Its height. [mm]

    Returns
    -------
    Spacer
        As wide as its place. [pt]

    References
    ----------
    None needed.
    """
    return Spacer(1, height_mm * mm)


def height_of(flowables: Sequence[Flowable], width: float) -> float:
    """Return how high flowables come out one below the other, their own spacing included.

    Parameters
    ----------
    flowables : sequence of Flowable
        From top to bottom. [-]
    width : float
        Room across. [pt]

    Returns
    -------
    float
        Height. [pt]

    References
    ----------
    None needed.
    """
    total = 0.0
    for each in flowables:
        total += each.wrap(width, 10**6)[1] + each.getSpaceBefore() + each.getSpaceAfter()
    return total
