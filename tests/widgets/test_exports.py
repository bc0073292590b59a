"""The buttons that write drawings and lists: each says where its file went, and what is wrong in words."""

from __future__ import annotations

import csv
import re
from html import unescape
from io import StringIO
from xml.etree import ElementTree

import ezdxf
import pytest
import trimesh
from openpyxl import load_workbook
from sheets import demo, least

from modelmath.widgets.common import places
from modelmath.widgets.plan.exports import NOTHING, Exports

STEM = "tarn-valley-switcher-no-31-parts"
FLAT_OR_LIST = ["svg", "dxf", "csv", "xlsx"]
EVERY = [*FLAT_OR_LIST, "stl", "3mf"]


def words(html):
    return unescape(re.sub("<[^>]*>", " ", html)).split()


def test_each_button_writes_its_file_and_links_it():
    panel = Exports()
    panel.show(demo())
    folder = places.workbook_folder() / "packets"
    for kind in FLAT_OR_LIST:
        panel.buttons[kind].click()
        file = folder / f"{STEM}.{kind}"
        assert file.is_file()
        assert f'href="/files/packets/{STEM}.{kind}"' in panel.said.value
        assert f"{STEM}.{kind}" in words(panel.said.value)
        assert str(folder) in unescape(panel.said.value)
    assert ElementTree.parse(folder / f"{STEM}.svg").getroot().get("viewBox")
    assert ezdxf.readfile(folder / f"{STEM}.dxf").modelspace().query("LWPOLYLINE")
    assert len(list(csv.reader(StringIO((folder / f"{STEM}.csv").read_text("utf-8-sig"))))) > 3
    assert load_workbook(folder / f"{STEM}.xlsx").sheetnames == ["Parts", "Holes", "Cut plan"]


def test_a_folder_outside_the_workbook_is_named_without_a_link(tmp_path_factory):
    folder = tmp_path_factory.mktemp("else where")
    panel = Exports(lambda: folder)
    panel.show(demo())
    file = panel.save("svg")
    assert file == (folder / f"{STEM}.svg",)
    assert "href" not in panel.said.value
    assert str(folder) in unescape(panel.said.value)


def test_solids_are_written_and_each_file_is_linked_and_spoken_of():
    panel = Exports()
    panel.show(demo())
    folder = places.workbook_folder() / "packets"
    panel.buttons["stl"].click()
    names = [f"tarn-valley-switcher-no-31-{what}-mm.stl" for what in ("chamber", "seat", "air")]
    assert sorted(file.name for file in folder.glob("*.stl")) == sorted(names)
    for name in names:
        assert f'href="/files/packets/{name}"' in panel.said.value
        assert trimesh.load(folder / name).is_watertight
    said = " ".join(words(panel.said.value))
    assert "Chamber: walls and floor: 60.81 × 18.50 × 11.38 mm, 1.446 cm3." in said
    assert "more than the plan counts." in said
    panel.buttons["3mf"].click()
    assert "tarn-valley-switcher-no-31-solids.3mf" in words(panel.said.value)
    assert trimesh.load(folder / "tarn-valley-switcher-no-31-solids.3mf").units == "millimeter"


def test_what_can_t_be_made_a_solid_yet_is_said_in_words():
    panel = Exports()
    panel.show(least())
    assert panel.save("stl") == ()
    said = "The chamber as a solid is not known yet; enter the inside width over motor and the length inside the shell."
    assert " ".join(words(panel.said.value)) == said


@pytest.mark.parametrize("kind", EVERY)
def test_without_a_plan_nothing_is_written_and_that_is_said(kind):
    panel = Exports()
    assert panel.save(kind) == ()
    assert words(panel.said.value) == NOTHING.split()
    panel.show(demo())
    assert panel.said.value == ""
    panel.clear()
    assert panel.save(kind) == ()
    assert not (places.workbook_folder() / "packets").exists()


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_what_can_t_be_drawn_yet_is_said_in_words(kind):
    panel = Exports()
    panel.show(least())
    assert panel.save(kind) == ()
    said = "The drawing of flat parts is not known yet; enter the inside width of the shell."
    assert said in " ".join(words(panel.said.value))
    assert "Traceback" not in panel.said.value


@pytest.mark.parametrize("kind", EVERY)
def test_a_folder_that_refuses_is_said_in_words(kind, tmp_path):
    taken = tmp_path / "packets"
    taken.write_text("keep me")
    panel = Exports()
    panel.show(demo())
    assert panel.save(kind) == ()
    assert "can't be written: file exists; choose another folder." in " ".join(words(panel.said.value))
    assert taken.read_text() == "keep me"
