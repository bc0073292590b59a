"""The paper: page sizes, numbered pages, check bars."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from io import BytesIO
from typing import Any
from zlib import crc32

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import inch, mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from modelmath.drawings.shapes import plain
from modelmath.drawings.sheets.style import PLAIN, SOFT, grey
from modelmath.errors import UnknownChoice

PAPERS: dict[str, tuple[float, float]] = {"A4": A4, "Letter": LETTER}
SIDE, TOP, BOTTOM = 14 * mm, 12 * mm, 14 * mm
BARS_ROOM = 7 * mm  # more at the foot of a page with check bars
TRUE_SIZE, PLAIN_PAGE = "true size", "plain"  # pages with and without check bars
COLUMNS, MORE_COLUMNS = "columns", "more columns"  # pages of two columns, the first of them with room for a heading
BETWEEN, HEADING = 8 * mm, 17 * mm  # two columns, and their heading's height
SUBJECT = "Bench card and packet"
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")  # fmt: skip
BARS = ((50 * mm, "50 mm"), (2 * inch, "2 in"))


def paper_size(paper: str) -> tuple[float, float]:
    """Return a paper's width and height. [pt]

    Parameters
    ----------
    paper : {"A4", "Letter"}
        Its name, in any case. [-]

    Returns
    -------
    tuple of float
        Upright. [pt]

    Raises
    ------
    UnknownChoice
        If it is neither.

    References
    ----------
    ISO 216 for A4; ANSI/ASME Y14.1 size A for Letter.
    """
    for name, size in PAPERS.items():
        if paper.casefold() == name.casefold():
            return size
    raise UnknownChoice("the paper", paper, tuple(PAPERS))


def frame_size(paper: str, bars: bool = False) -> tuple[float, float]:
    """Return the room inside the margins of a page.

    Parameters
    ----------
    paper : {"A4", "Letter"}
        The paper. [-]
    bars : bool
        Whether the page carries check bars. [-]

    Returns
    -------
    tuple of float
        Width and height. [pt]

    References
    ----------
    `paper_size`.
    """
    width, height = paper_size(paper)
    return width - 2 * SIDE, height - TOP - BOTTOM - bars * BARS_ROOM


class NumberedCanvas(Canvas):
    """A canvas whose pages know how many there are."""

    def __init__(self, *args: Any, job_name: str = "", date: str = "", **more: Any) -> None:
        super().__init__(*args, **more)
        self.job_name, self.date = job_name, plain(date)
        self.true_size = False
        self.sections: dict[str, int] = {}
        self._asked: dict[str, float] = {}
        self._kept: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802  the PDF writer's own name
        """Keep the page until the number of pages is known."""
        self._kept.append(dict(self.__dict__))
        canvas: Any = self  # what begins a page has no public name
        canvas._startPage()
        self.true_size = False

    def section_stands(self, title: str) -> None:
        """Keep the page on which a section begins."""
        self.sections.setdefault(title, self.getPageNumber())

    def number_of(self, title: str, width: float) -> None:
        """Put the page number of a section here, flush right; it is known once all pages are set."""
        self._asked[title] = width
        self.doForm(_form(title))

    def save(self) -> None:
        """Write every page with its foot."""
        kept = self._kept
        for number, page in enumerate(kept, start=1):
            self.__dict__.update(page)
            self._foot(number, len(kept), page["_pagesize"][0])
            for title in (each for each, at in self.sections.items() if at == number):
                self.bookmarkPage(title)
                self.addOutlineEntry(title, title, 0)
            super().showPage()
        for title, width in self._asked.items():
            self.beginForm(_form(title), 0, -3, width, 10)
            self.setFont(PLAIN, 8)
            self.drawRightString(width, 0, str(self.sections.get(title, "")))
            self.endForm()
        super().save()

    def _foot(self, number: int, count: int, width: float) -> None:
        self.setFont(PLAIN, 8)
        self.setFillColor(SOFT)
        text = f"{self.date}, page {number} of {count}" if self.date else f"page {number} of {count}"
        self.drawRightString(width - SIDE, 8 * mm, text)
        room = width - 2 * SIDE - stringWidth(text, PLAIN, 8) - 8 * mm
        self.drawString(SIDE, 8 * mm, shortened(self.job_name, room, 8))
        if self.true_size:
            self._check_bars()

    def _check_bars(self) -> None:
        self.setStrokeColor(grey(0))
        self.setFillColor(grey(0))
        self.setDash([])
        self.setFont(PLAIN, 8)
        x, y = SIDE, 15 * mm
        for length, name in BARS:
            self.setLineWidth(0.5)
            self.line(x, y, x + length, y)
            for end in (x, x + length):
                self.setLineWidth(0.25)
                self.line(end, y - 1.4 * mm, end, y + 1.4 * mm)
            self.drawCentredString(x + length / 2, y + 0.9 * mm, name)
            x += length + 7 * mm
        self.drawString(x, y + 0.4 * mm, "Measure this before cutting. If it is off,")
        self.drawString(x, y - 3.0 * mm, "print again at actual size, 100 %.")


def _form(title: str) -> str:
    """Return the name of the small drawing that holds a section's page number."""
    return f"page-{crc32(title.encode(errors='surrogateescape')):08x}"


class PageNumberOf(Flowable):
    """The page number of a section, by its title.

    Parameters
    ----------
    title : str
        The section's heading, as it is printed. [-]
    width : float
        Room it takes. [pt]
    """

    def __init__(self, title: str, width: float) -> None:
        super().__init__()
        self.title, self.width, self.height = title, width, 10.24

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the size it takes. [pt]"""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        canvas: Any = self.canv
        canvas.translate(0, 2.4)
        canvas.number_of(self.title, self.width)


def shortened(text: str, room: float, size: float) -> str:
    """Return a text cut to a width, with three dots where something is left out.

    Parameters
    ----------
    text : str
        Any text. [-]
    room, size : float
        Width and text height. [pt]

    Returns
    -------
    str
        One line. [-]

    References
    ----------
    None needed.
    """
    text = plain(text)
    if stringWidth(text, PLAIN, size) <= room:
        return text
    while text and stringWidth(text + "…", PLAIN, size) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def bind(story: Sequence[Flowable], paper: str, title: str, date: str = "") -> bytes:
    """Set flowables on numbered pages and return the PDF; the same story gives the same bytes.

    Parameters
    ----------
    story : sequence of Flowable
        What is on them. [-]
    paper : {"A4", "Letter"}
        The paper. [-]
    title : str
        The job's name, at the foot of each page. [-]
    date : str
        A date to print there too; none when empty. [-]

    Returns
    -------
    bytes
        The PDF, asking to be printed without scaling. [-]

    Raises
    ------
    UnknownChoice
        If the paper is unknown.

    References
    ----------
    ISO 32000-1, 12.2, PrintScaling.
    """
    size = paper_size(paper)
    out = BytesIO()
    document = BaseDocTemplate(
        out,
        pagesize=size,
        title=plain(title),
        author="modelmath",
        creator="modelmath",
        subject=SUBJECT,
        invariant=1,
        lang="en",
        initialFontName=PLAIN,
    )
    none: dict[str, Any] = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
    width, height = frame_size(paper)
    column = (width - BETWEEN) / 2

    def columns(high: float) -> list[Frame]:
        return [Frame(left, BOTTOM, column, high, **none) for left in (SIDE, SIDE + column + BETWEEN)]

    frames = {
        TRUE_SIZE: [Frame(SIDE, BOTTOM + BARS_ROOM, *frame_size(paper, bars=True), **none)],
        PLAIN_PAGE: [Frame(SIDE, BOTTOM, width, height, **none)],
        COLUMNS: [Frame(SIDE, BOTTOM + height - HEADING, width, HEADING, **none), *columns(height - HEADING)],
        MORE_COLUMNS: columns(height),
    }
    document.addPageTemplates([PageTemplate(name, on_page) for name, on_page in frames.items()])

    def canvas(*args: Any, **more: Any) -> NumberedCanvas:
        made = NumberedCanvas(*args, job_name=title, date=date, **more)
        made.setViewerPreference("PrintScaling", "None")
        return made

    document.build(list(story), canvasmaker=canvas)
    return out.getvalue()


def day_in_words(day: date) -> str:
    """Return a day as a sheet carries it.

    Parameters
    ----------
    day : date
        The day. [-]

    Returns
    -------
    str
        Such as ``3 May 2026``, in which no month is taken for a day. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> day_in_words(date(2026, 5, 3))
    '3 May 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
