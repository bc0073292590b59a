"""Targets: tables of readings, of the drawer, of an impedance sweep, as text, as CSV and as a spreadsheet."""

from __future__ import annotations

import zipfile
from functools import cache
from io import BytesIO
from typing import Any

from fuzz.chooser import Choices
from fuzz.target import Target, refused
from fuzz.words import HARM, NUMBERS, content, several, text

from modelmath.lengths.rules import Rule
from modelmath.lengths.table.reading import read_table
from modelmath.materials.drawer.tables import as_csv, read_drawer
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.sweep import read_sweep
from modelmath.sound.measuring.words import job_texts

RULES = (Rule(scale="HO", zero_offset="1"), Rule(unit="mm", graduation="0.01", name="caliper"))
READINGS = (
    "roof; 10", "motor; 6 1/8", "feature; rule; reading\nroof; rule; 9 1/8\nweight; caliper; 3,5\nsill; ; 5/0",
    "name,mark,rule,datum,unit,note\nroof,9 1/8,scale rule,end,,x\nsill,15.9 mm,caliper,zero,mm,y",
    "name\tmark\na\t1\nb\t2 1/4",
)  # fmt: skip
DRAWERS = (
    "kind;name;length;count\nstrip;HO 6x10;280 mm;2\nstrip;HO 6x10;long;1",
    "kind,name,length mm,width mm,count\nsheet,.040 sheet,300,150,2",
    "name,length in,diameter\nHO 8x8,14,\n.030 fibre,40,.030 in", "kind\tname\ndrill\t#67",
    "strip,.100 sq,14 in,,,1,,",
    "kind,name,length,width,diameter,count,offcut,note\nshape,1/8 tube,12 in,,,1,,\nwire,red,1 m,,0.6 mm,1,yes,\"a;b\"",
)  # fmt: skip
SWEEPS = (
    "f [Hz]; |Z| [ohm]\n100; 7,1\n200; 7,3", "frequency,impedance\n100,7.1\n200,8.4\n400,15\n800,8\n1600,7.9",
    "freq (kHz)\tz (ohm)\tphase (deg)\n0.1\t7.1\t10\n0.2\t9\t-3", "100 7.1\n200 7.4",
    "Hz,ohm,source\n20,1e3,x\n1e5,0.001,y",
)  # fmt: skip


def read_readings(source: Any, unit: str | None, several_rules: bool) -> None:
    table = read_table(source, RULES if several_rules else RULES[0], unit=unit)
    assert len(table.frame) >= 0
    if len(table.frame):
        assert table.reading(table.frame.index[0]).s >= 0


def read_stock_table(source: Any, of: str | None) -> None:
    """A drawer that was read is written, and is the same again."""
    drawer, bad = read_drawer(source, of)
    assert all(each.message for each in bad)
    if drawer.items:
        assert read_drawer(as_csv(drawer))[0].items == drawer.items


def measure(source: Any) -> None:
    """A sweep is read, and a speaker fitted to it."""
    found = fit_sweep(read_sweep(source))
    assert isinstance(job_texts(found), dict)


def _source(choices: Choices, seeds: tuple[str, ...]) -> Any:
    return content(choices, seeds) if choices.below(3) == 0 else text(choices, seeds)


def _sweep(choices: Choices) -> tuple[Any, ...]:
    """Half of them a speaker's own curve with figures changed, so that there is something to fit."""
    if choices.below(2):
        return (_source(choices, SWEEPS),)
    lines = list(_curve())
    for _ in range(choices.below(6)):
        at = choices.below(len(lines))
        cells = lines[at].split(",")
        cells[choices.below(len(cells))] = choices.one(NUMBERS)
        lines[at] = ",".join(cells)
    start = choices.below(len(lines))
    return ("\n".join(lines[start:] if choices.often(60) else lines),)


@cache
def _curve() -> tuple[str, ...]:
    from modelmath.tables import data_folder

    rows = (data_folder() / "example_sweep.csv").read_text("utf-8").splitlines()
    return tuple(row.rsplit(",", 1)[0] if at == 0 else ",".join(row.split(",")[:3]) for at, row in enumerate(rows))


# Spreadsheets: a sound one taken apart, and its parts changed.

CELLS = (
    '<c r="A1" t="inlineStr"><is><t>{0}</t></is></c>', '<c r="B1"><v>{0}</v></c>', '<c r="B1" t="s"><v>{1}</v></c>',
    '<c r="C1" t="b"><v>{1}</v></c>', '<c r="XFD1"><v>1</v></c>', '<c r="A{1}"><f>{0}</f><v>2</v></c>',
    '<c r="?"><v>1</v></c>', '<c t="e"><v>#DIV/0!</v></c>', '<c r="A2" s="{1}"><v>45000</v></c>',
    '<c r="A2" t="d"><v>{0}</v></c>', "<c/>", "</row><row>", '<c r="A2" s="99"><v>1e999</v></c>',
    '<c r="A1"><v>{0}</v></c>', '</row><row r="{1}"><c><v>3</v></c>',
)  # fmt: skip
DIMENSIONS = ("A1:B2", "A1", "A1:XFD1048576", "", "Z9:A1", "A0", "A1:ZZZZ9")
ENTITY = '<!DOCTYPE x [<!ENTITY a "{0}"><!ENTITY b "&a;&a;&a;&a;">]>'


@cache
def _sound_book() -> dict[str, bytes]:
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    for row in (("kind", "name", "length", "count"), ("strip", "HO 6x10", "280 mm", 2), ("drill", "#67", None, 1)):
        sheet.append(row)
    written = BytesIO()
    book.save(written)
    with zipfile.ZipFile(written) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


SHEET = "xl/worksheets/sheet1.xml"


def _spreadsheet(choices: Choices) -> tuple[Any, ...]:
    parts = dict(_sound_book())
    for _ in range(choices.below(3) + 1):
        _change_part(choices, parts)
    written = BytesIO()
    with zipfile.ZipFile(written, "w", choices.one((zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED))) as packed:
        for name, part in parts.items():
            packed.writestr(zipfile.ZipInfo(name), part)
    found = written.getvalue()
    way = choices.below(12)
    if way == 0:
        found = found[: choices.below(len(found))]
    elif way == 1:
        at = choices.below(len(found))
        found = found[:at] + bytes([choices.below(256)]) + found[at + 1 :]
    return (found,)


def _change_part(choices: Choices, parts: dict[str, bytes]) -> None:
    way, name = choices.below(8), choices.one(sorted(parts))
    if way == 0:
        del parts[name]
    elif way == 1:
        parts[name] = several(choices, (*HARM, "<a>", "</a>", "<?xml version='1.0'?>")).encode("utf-8", "replace")
    elif way == 2:
        at = choices.below(len(parts[name]) + 1)
        parts[name] = parts[name][:at] + parts[name][at + 1 + choices.below(40) :]
    elif way == 3:
        entity = ENTITY.replace("{0}", "x" * choices.one((1, 1000)))
        parts[SHEET] = parts.get(SHEET, b"").replace(b"<worksheet", entity.encode() + b"<worksheet", 1)
    else:
        rows = "".join(
            choices.one(CELLS)
            .replace("{0}", _escaped(choices.one(NUMBERS)))
            .replace("{1}", choices.one(("0", "1", "9", "-1", "1048576")))
            for _ in range(choices.below(8) + 1)
        )
        head = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        size = f'<dimension ref="{choices.one(DIMENSIONS)}"/>'
        parts[SHEET] = f'{head}{size}<sheetData><row r="1">{rows}</row></sheetData></worksheet>'.encode()
    if not parts:
        parts[SHEET] = b""


def _escaped(word: str) -> str:
    return word.replace("&", "&amp;").replace("<", "&lt;").encode("utf-8", "replace").decode()


def read_spreadsheet(packed: bytes) -> None:
    """Each loader of spreadsheets takes it or refuses it."""
    for read in (lambda: read_stock_table(packed, None), lambda: read_readings(packed, "mm", False)):
        refused(read)


TARGETS = (
    Target(
        "table of readings",
        lambda c: (_source(c, READINGS), c.one((None, "mm", "in")), c.often(128)),
        read_readings,
        3.0,
    ),
    Target("table of the drawer", lambda c: (_source(c, DRAWERS), c.one((None, "HO", "Q"))), read_stock_table, 1.0),
    Target("impedance sweep", _sweep, measure, 8.0),
    Target("spreadsheet", _spreadsheet, read_spreadsheet, 8.0),
)
