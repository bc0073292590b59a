"""What a file or a page may hold when its names were made to do harm: text, and nothing that acts."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from io import BytesIO, StringIO
from typing import Any
from zipfile import ZipFile

import ezdxf
import lxml.etree
import lxml.html
from hostile_names import MARK
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfparser import PDFParser
from pdfminer.pdftypes import PDFStream
from pdfminer.psparser import PSLiteral
from pypdfium2 import PdfDocument  # comes with pdfplumber, and reads words alone much faster

MARKS = re.compile(rf"{MARK}[0-9]{{2}}")
# Attributes that a browser fetches, follows or runs: HTML Standard, "attributes of type URL" and event handlers.
FETCHED = frozenset(
    ("action", "background", "cite", "data", "formaction", "href", "xlink:href", "icon", "longdesc", "manifest",
     "ping", "poster", "src", "srcdoc", "srcset", "usemap")
)  # fmt: skip
ACTING = frozenset(
    ("script", "iframe", "object", "embed", "link", "base", "meta", "form", "foreignobject", "animate", "set", "use",
     "image", "template", "applet", "frame", "noscript", "math")
)  # fmt: skip
RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")  # OWASP, "CSV Injection", and the wide forms
TURNS = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")  # UAX #9, explicit formatting
CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def marks_in(text: str) -> set[str]:
    """The marks of the names that a text shows."""
    return set(MARKS.findall(text))


# Every element that the pages are made of, with its attributes.
OURS: dict[str, str] = {
    "a": "href download target class", "audio": "aria-label controls preload src", "br": "", "caption": "",
    "circle": "class cx cy fill r stroke stroke-width", "code": "", "dd": "class", "desc": "", "details": "",
    "div": "aria-label class role style tabindex", "dl": "class", "dt": "", "h2": "class", "h3": "class", "li": "",
    "ol": "", "p": "class role", "path": "class d fill stroke stroke-dasharray stroke-linecap stroke-width",
    "pre": "class tabindex", "rect": "class fill height stroke stroke-dasharray stroke-width width x y",
    "progress": "style max value aria-label", "span": "class data-unit role", "strong": "", "style": "",
    "summary": "", "table": "", "tbody": "", "td": "data-label data-unit", "th": "scope", "thead": "", "title": "",
    "svg": "aria-label fill font-family font-size preserveaspectratio role stroke-linejoin style viewbox xmlns",
    "text": "class fill font-size font-weight paint-order stroke stroke-linejoin stroke-width text-anchor x y",
    "tr": "", "tspan": "x y", "ul": "class",
}  # fmt: skip


def _elements(html: str) -> Iterator[Any]:
    yield from (each for each in lxml.html.fragment_fromstring(html or " ", create_parent="div").iter())


def check_html(html: str) -> set[str]:
    """See that HTML is made of our elements alone, and no name is in a place that acts; return the names shown."""
    shown = ""
    for element in _elements(html):
        assert isinstance(element.tag, str), f"a comment or an instruction: {lxml.etree.tostring(element)!r}"
        tag = element.tag.lower()
        assert tag in OURS, (tag, element.text)
        assert tag != "style" or not MARKS.search(element.text or "")
        for name, value in element.attrib.items():
            assert name.lower() in OURS[tag].split(), (tag, name, value)
            assert name.lower() not in FETCHED or _is_ours(tag, value), (tag, name, value)
            assert name.lower() not in ("style", "class") or not MARKS.search(value), (tag, name, value)
        shown += f"{element.text or ''} {element.tail or ''} "
    assert not CONTROLS.search(shown), ascii(CONTROLS.findall(shown))
    turning = TURNS.findall(re.sub("(?<=[\u0590-\u08ff])\u200e", "", shown))  # ours stand behind such letters
    assert not turning, ascii(turning)
    assert not re.search("[\u0590-\u08ff](?:[^\u0590-\u08ff\u200e]*) [0-9]+ [0-9]+/", shown)
    return marks_in(shown)


def _is_ours(tag: str, address: str) -> bool:
    """Whether an address leads to a file or page of the workbook; a sound is in the page itself."""
    if tag == "audio":
        return re.fullmatch(r"data:audio/wav;base64,[A-Za-z0-9+/=]+", address) is not None
    return re.match(r"/files/|/voila/|[a-z]+\.ipynb(?:\?|$)", address) is not None


def check_svg(svg: str | bytes) -> set[str]:
    """See that an SVG file is well-formed and holds nothing that acts or fetches; return the names shown."""
    parser = lxml.etree.XMLParser(resolve_entities=False, no_network=True)
    root = lxml.etree.fromstring(svg.encode() if isinstance(svg, str) else svg, parser)
    assert root.getroottree().docinfo.doctype == ""
    for element in root.iter():
        assert isinstance(element.tag, str)
        tag = lxml.etree.QName(element).localname.lower()
        assert lxml.etree.QName(element).namespace == "http://www.w3.org/2000/svg"
        assert tag not in ACTING, tag
        for name in element.attrib:
            local = lxml.etree.QName(name).localname.lower()
            assert not local.startswith("on"), name
            assert local not in FETCHED - {"style"}, name
            assert local != "style" or not MARKS.search(element.attrib[name])
    return marks_in("".join(root.itertext()))


def check_pdf(content: bytes) -> set[str]:
    """See that nothing in a PDF acts and all that it jumps to is its own; return the names shown on its pages."""
    document = PDFDocument(PDFParser(BytesIO(content)))
    for number in {each for xref in document.xrefs for each in xref.get_objids()}:
        _check_object(document.getobj(number))
    assert not {"OpenAction", "AA", "AcroForm", "Names", "URI", "Collection"} & set(document.catalog)
    pages = PdfDocument(content)
    shown = " ".join(page.get_textpage().get_text_bounded() for page in pages)
    pages.close()
    return marks_in(shown)


# ISO 32000-1, 12.6.4: action types that leave the document or run something; 7.11.4 embedded files.
ACTS = frozenset(
    ("URI", "Launch", "JavaScript", "GoToR", "GoToE", "SubmitForm", "ImportData", "Movie", "Sound", "Rendition",
     "Named", "RichMediaExecute")
)  # fmt: skip


def _check_object(thing: Any) -> None:
    if isinstance(thing, PDFStream):
        thing = thing.attrs
    if isinstance(thing, dict):
        assert _word(thing.get("S")) not in ACTS, thing
        assert _word(thing.get("Subtype")) not in ("Link", "FileAttachment", "Widget", "Screen", "RichMedia"), thing
        assert not {"JS", "URI", "EF", "AA"} & set(thing), thing
    for value in thing.values() if isinstance(thing, dict) else thing if isinstance(thing, list) else ():
        _check_object(value)


def _word(value: Any) -> str:
    return value.name if isinstance(value, PSLiteral) else ""


def check_csv(content: bytes) -> set[str]:
    """See that no cell of a CSV file is run by a spreadsheet; return the names."""
    text = content.decode("utf-8-sig")
    for row in csv.reader(StringIO(text, newline=""), strict=True):
        assert not any(cell.startswith(RUNS) and not _is_number(cell) for cell in row), row
    return marks_in(text)


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def check_xlsx(content: bytes) -> set[str]:
    """See that a spreadsheet holds texts and numbers only; return the names shown."""
    from openpyxl import load_workbook

    with ZipFile(BytesIO(content)) as package:
        names = package.namelist()
        for name in names:
            assert not re.search(r"(?i)vba|external|embed|ctrlprops|query|connection", name), name
            if name.endswith((".xml", ".rels")):
                root = lxml.etree.fromstring(package.read(name), lxml.etree.XMLParser(resolve_entities=False))
                for element in root.iter():
                    assert lxml.etree.QName(element).localname not in ("f", "hyperlink", "ddeLink", "oleLink"), name
                    assert element.get("TargetMode") != "External", name
    shown = ""
    for sheet in load_workbook(BytesIO(content)).worksheets:
        assert not MARKS.search(sheet.title)
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type in ("s", "n", "inlineStr"), (cell.data_type, cell.value)
                assert cell.hyperlink is None
                assert cell.comment is None
                shown += f"{cell.value} "
    return marks_in(shown)


DXF_ENTITIES = {"LWPOLYLINE", "CIRCLE", "LINE", "TEXT"}


def check_dxf(content: bytes) -> set[str]:
    """See that a drawing is clean and holds our kinds of lines and texts alone; return the names shown."""
    lines = content.decode().splitlines()
    assert len(lines) % 2 == 0
    assert all(re.fullmatch(r" *-?[0-9]+", code) for code in lines[::2])
    document = ezdxf.read(StringIO(content.decode()))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert {each.dxftype() for each in document.modelspace()} <= DXF_ENTITIES
    assert {each.dxf.layer for each in document.modelspace()} <= {"cut", "drill", "score"}
    assert len(document.blocks) == len(ezdxf.new("R2010").blocks)
    texts = [each.plain_text() for each in document.modelspace().query("TEXT")]
    assert not any(CONTROLS.search(each) for each in texts)
    return marks_in(" ".join(texts))


def check_3mf(content: bytes) -> set[str]:
    """See that a 3MF package holds its three parts, each well-formed; return the names in its model."""
    with ZipFile(BytesIO(content)) as package:
        assert sorted(package.namelist()) == ["3D/3dmodel.model", "[Content_Types].xml", "_rels/.rels"]
        model = lxml.etree.fromstring(
            package.read("3D/3dmodel.model"), lxml.etree.XMLParser(resolve_entities=False, huge_tree=True)
        )
    assert model.getroottree().docinfo.doctype == ""
    core = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
    assert all(isinstance(each.tag, str) and each.tag.startswith(core) for each in model.iter())
    return marks_in(" ".join(each.text or "" for each in model.iter(f"{core}metadata")))


def check_terminal(text: str) -> set[str]:
    """See that what is printed can't steer a terminal or turn its text; return the names shown."""
    assert not CONTROLS.search(text), ascii(CONTROLS.findall(text))
    assert not TURNS.search(text), ascii(TURNS.findall(text))
    return marks_in(text)
