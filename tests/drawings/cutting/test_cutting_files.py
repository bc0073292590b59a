"""Flat parts as SVG and DXF: lengths, layers and holes as other libraries read them back."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from io import StringIO
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from crowded import crowded
from ezdxf import units
from shapely.geometry import Polygon
from sheets import DEMOS, demo, least
from spacious import facing, spacious

from modelmath.drawings.cutting.dxf import cutting_dxf
from modelmath.drawings.cutting.files import save_cutting_dxf, save_cutting_svg
from modelmath.drawings.cutting.laid import GAP_MM
from modelmath.drawings.cutting.pieces import flat_pieces, not_drawn
from modelmath.drawings.cutting.svg import cutting_svg
from modelmath.errors import JobError, NotYetKnown

ROOT = Path(__file__).resolve().parents[3]
SVG = "{http://www.w3.org/2000/svg}"
LAYERS = ["cut", "drill", "score"]
WITHIN = 0.0002  # mm: twice what a length is rounded to in the file
PLANS = [*map(demo, DEMOS), crowded(), facing("rear"), facing("front"), spacious(chamber={"floor": "one piece"})]
NAMES = [*DEMOS, "crowded", "rear", "front", "floor in one"]


@pytest.fixture(params=PLANS, ids=NAMES)
def each_plan(request):
    return request.param


def svg_of(plan):
    return ElementTree.fromstring(cutting_svg(plan).encode())


def group(root, layer):
    (found,) = [each for each in root.iter(f"{SVG}g") if each.get("id") == layer]
    return found


def points_of(path):
    """Return the corners of a path of straight lines; SVG counts y downwards."""
    assert re.fullmatch(r"M[-0-9. ]+( L[-0-9. ]+)+ Z", path)
    numbers = [float(each) for each in re.findall(r"-?[0-9.]+", path)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def dxf_of(plan):
    return ezdxf.read(StringIO(cutting_dxf(plan).decode()))


def loops_in_dxf(document):
    return [[(x, y) for x, y, *_ in line.get_points()] for line in document.modelspace().query("LWPOLYLINE")]


def sizes(loops):
    """Return width and height of the borders of all parts, sorted; rounded, as what ties must sort alike."""
    boxes = [Polygon(loop).bounds for loop in loops]
    return sorted((round(right - left, 3), round(high - low, 3)) for left, low, right, high in boxes)


def outer(loops):
    """Return the loops that lie in no other."""
    shapes = [Polygon(loop) for loop in loops]
    within = [any(other.contains(one) for other in shapes if other is not one) for one in shapes]
    return [loop for loop, inside in zip(loops, within, strict=True) if not inside]


def wanted_sizes(plan):
    parts = [part for part in plan.parts if part.use == "across" and part.width_mm is not None]
    return sorted((round(float(part.width_mm), 3), round(float(part.cut.cut_mm), 3)) for part in parts)


def wanted_holes(plan):
    """Return the diameters of the plan's own holes, and those of the barriers' strands."""
    found = [2 * hole.radius_mm for wall in plan.hole_places for hole in wall.layout.holes]
    found += [float(o.wide_mm) for part in plan.parts if part.kind == "barrier" for o in part.openings]
    return sorted(found)


def test_svg_is_in_mm_with_one_group_for_each_layer(each_plan):
    root = svg_of(each_plan)
    left, top, width, height = (float(each) for each in root.get("viewBox").split())
    assert (left, top) == (0, 0)
    assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")  # one unit is one mm
    assert [each.get("id") for each in root.iter(f"{SVG}g")] == LAYERS
    assert [each.find(f"{SVG}title").text for each in root.iter(f"{SVG}g")] == LAYERS
    assert root.get("stroke") == "#000"
    assert not any(each.get("stroke") not in (None, "none") for each in root.iter() if each is not root)
    dashes = [group(root, layer).get("stroke-dasharray") for layer in LAYERS]
    assert dashes[0] is None
    assert len(set(dashes)) == 3


def test_svg_holds_every_flat_part_at_its_size(each_plan):
    loops = [points_of(each.get("d")) for each in group(svg_of(each_plan), "cut").iter(f"{SVG}path")]
    found = sizes(outer(loops))
    assert len(found) == len(wanted_sizes(each_plan)) > 0
    for one, other in zip(found, wanted_sizes(each_plan), strict=True):
        assert one == pytest.approx(other, abs=0.0011)  # both rounded to a thousandth


def test_svg_holes_are_circles_of_the_drills_diameter(each_plan):
    circles = list(group(svg_of(each_plan), "drill").iter(f"{SVG}circle"))
    assert len(list(group(svg_of(each_plan), "drill"))) == len(circles) + 2  # title and description
    assert sorted(2 * float(each.get("r")) for each in circles) == pytest.approx(wanted_holes(each_plan), abs=WITHIN)


def test_dxf_has_its_version_units_layers_and_line_types(each_plan):
    document = dxf_of(each_plan)
    assert (document.dxfversion, document.units) == ("AC1024", units.MM)  # AC1024 is release 2010
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    types = []
    for name in LAYERS:
        layer = document.layers.get(name)
        assert layer.color == 7
        assert layer.dxf.linetype in document.linetypes
        types.append(layer.dxf.linetype)
    assert len(set(types)) == 3
    for entity in document.modelspace():
        assert entity.dxf.layer in LAYERS
        assert (entity.dxf.color, entity.dxf.linetype) == (256, "BYLAYER")
    assert not document.audit().errors


def test_dxf_has_the_same_lines_as_svg(each_plan):
    root, document = svg_of(each_plan), dxf_of(each_plan)
    height = float(root.get("viewBox").split()[3])
    drawn = [points_of(each.get("d")) for each in group(root, "cut").iter(f"{SVG}path")]
    read = loops_in_dxf(document)
    assert len(drawn) == len(read)
    for one, other in zip(drawn, read, strict=True):
        assert [(x, height - y) for x, y in one] == [pytest.approx(corner, abs=WITHIN) for corner in other]
    assert all(line.closed for line in document.modelspace().query("LWPOLYLINE"))
    circles = document.modelspace().query("CIRCLE")
    assert {each.dxf.layer for each in circles} <= {"drill"}
    svg_circles = list(group(root, "drill").iter(f"{SVG}circle"))
    for one, other in zip(svg_circles, circles, strict=True):
        centre = (float(one.get("cx")), height - float(one.get("cy")))
        assert centre == pytest.approx((other.dxf.center.x, other.dxf.center.y), abs=WITHIN)


def test_dxf_holes_lie_in_their_wall_where_the_plan_places_them(each_plan):
    document = dxf_of(each_plan)
    circles = [
        (each.dxf.center.x, each.dxf.center.y, each.dxf.radius) for each in document.modelspace().query("CIRCLE")
    ]
    found = []
    for loop in outer(loops_in_dxf(document)):
        left, low, right, high = Polygon(loop).bounds
        inside = [(x - left, y - low, 2 * r) for x, y, r in circles if left < x < right and low < y < high]
        found += sorted(inside)
    wanted = []
    for piece in flat_pieces(each_plan):
        wall = next((each for each in each_plan.hole_places if each.wall == piece.name), None)
        if wall is not None:
            holes = wall.layout.holes
            wanted += sorted((wall.layout.from_left_mm(each), each.y_mm, 2 * each.radius_mm) for each in holes)
        else:
            wanted += sorted((each.x_mm, each.y_mm, each.diameter_mm) for each in piece.holes)
    assert len(found) == len(wanted) == len(circles)
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=WITHIN)


def test_parts_stand_apart_and_within_the_drawing(each_plan):
    document = dxf_of(each_plan)
    shapes = [Polygon(loop) for loop in outer(loops_in_dxf(document))]
    apart = [one.distance(other) for at, one in enumerate(shapes) for other in shapes[:at]]
    assert min(apart, default=GAP_MM) >= GAP_MM - WITHIN
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    for shape in shapes:
        left, bottom, right, top = shape.bounds
        assert low[0] < left < right < high[0]
        assert low[1] < bottom < top < high[1]


def test_each_part_is_named_and_each_hole_has_its_cross(each_plan):
    document = dxf_of(each_plan)
    texts = [each.dxf.text for each in document.modelspace().query("TEXT")]
    assert {each.dxf.layer for each in document.modelspace().query("TEXT")} == {"score"}
    shown = "".join("".join(texts).split())
    for part in each_plan.parts:
        if part.use == "across":
            assert "".join(part.name.split()) in shown
    lines = [(each.dxf.start, each.dxf.end) for each in document.modelspace().query("LINE")]
    middles = [((a.x + b.x) / 2, (a.y + b.y) / 2) for a, b in lines]
    for each in document.modelspace().query("CIRCLE"):
        x, y = each.dxf.center.x, each.dxf.center.y
        assert sum(abs(mx - x) < WITHIN and abs(my - y) < WITHIN for mx, my in middles) >= 2


def test_an_opening_is_as_large_as_the_plan_says_and_stands_where_it_says():
    plan = facing("rear")
    (wall,) = [part for part in plan.parts if part.kind == "wall" and part.openings]
    (piece,) = [each for each in flat_pieces(plan) if each.name == wall.name]
    border, opening = (Polygon(loop).bounds for loop in piece.loops)
    (wanted,) = wall.openings
    assert opening[2] - opening[0] == pytest.approx(float(wanted.wide_mm), abs=1e-9)
    assert opening[3] - opening[1] == pytest.approx(float(wanted.long_mm), abs=1e-9)
    assert opening[1] - border[1] == pytest.approx(float(wanted.from_edge_mm), abs=1e-9)
    middle = (border[0] + border[2]) / 2 + float(wanted.centre_mm)
    assert (opening[0] + opening[2]) / 2 == pytest.approx(middle, abs=1e-9)


def test_an_opening_that_reaches_the_end_of_a_plate_is_a_notch_and_leaves_no_sliver():
    plan = demo("railmotor-oo")
    (plate,) = [part for part in plan.parts if part.name == "floor plate, rear"]
    post = plate.openings[1]
    assert 0 < plate.cut.cut_mm - (post.from_edge_mm + post.long_mm) < 0.05  # a web thinner than paper
    (piece,) = [each for each in flat_pieces(plan) if each.name == plate.name]
    shapes = [Polygon(loop) for loop in piece.loops]
    assert len(shapes) == 2  # the border with its notch, and the one opening inside
    assert len(piece.loops[0]) == 8


def test_turning_a_part_on_its_side_never_mirrors_it():
    (piece,) = [each for each in flat_pieces(crowded()) if each.name == "rear closure"]
    turned = piece.on_its_side()
    assert (turned.width_mm, turned.height_mm, turned.sizes) == (piece.height_mm, piece.width_mm, piece.sizes)
    for one, other in zip(piece.holes, turned.holes, strict=True):
        assert (other.x_mm, other.y_mm) == pytest.approx((piece.height_mm - one.y_mm, one.x_mm))
    back = turned.on_its_side()
    # Two quarter turns are a half turn, which keeps the way round that the border goes.
    assert Polygon(back.loops[0]).exterior.is_ccw == Polygon(piece.loops[0]).exterior.is_ccw
    assert [(hole.x_mm, hole.y_mm) for hole in back.holes] == [
        pytest.approx((piece.width_mm - hole.x_mm, piece.height_mm - hole.y_mm)) for hole in piece.holes
    ]


def test_without_a_width_there_is_nothing_to_draw_and_that_is_said():
    text = "The drawing of flat parts is not known yet; enter the inside width of the shell."
    for make in (cutting_svg, cutting_dxf):
        with pytest.raises(NotYetKnown, match=f"^{re.escape(text)}$"):
            make(least())
    assert not_drawn(least()) == ("The bulkhead is not drawn: enter the inside width to get its outline.",)


def test_holes_that_find_no_room_are_said_on_the_drawing():
    plan = demo(wires=[{"name": "wires", "diameter": "1 mm", "count": 20}])
    said = " ".join(each.text for each in group(svg_of(plan), "score").iter(f"{SVG}text"))
    assert "No holes in the bulkhead:" in said or "No holes in the rear closure:" in said


def test_signs_that_no_file_holds_are_replaced_and_others_kept():
    plan = spacious(name='<b>& "quoted" 漢')
    assert f"{plan.job.name}: flat parts, in mm" == svg_of(plan).find(f"{SVG}title").text
    assert dxf_of(plan)


@pytest.mark.parametrize("name", DEMOS[:1])
def test_one_plan_gives_the_same_bytes_in_another_process(name):
    code = (
        "import sys; from sheets import demo; from modelmath.drawings.cutting.dxf import cutting_dxf;"
        "sys.stdout.buffer.write(cutting_dxf(demo(sys.argv[1])))"
    )
    path = os.pathsep.join([str(ROOT), str(ROOT / "tests")])
    env = {**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": "7"}
    ran = subprocess.run([sys.executable, "-c", code, name], env=env, capture_output=True, check=True)
    assert ran.stdout == cutting_dxf(demo(name))


def test_files_go_into_the_folder_asked_for_and_a_refusal_keeps_the_old_one(tmp_path):
    plan, folder = demo(), tmp_path / "new" / "packets"
    svg, dxf = save_cutting_svg(plan, folder), save_cutting_dxf(plan, folder)
    assert [svg, dxf] == [folder / f"tarn-valley-switcher-no-31-parts.{kind}" for kind in ("svg", "dxf")]
    assert svg.read_text("utf-8") == cutting_svg(plan)
    assert ezdxf.readfile(dxf).units == units.MM
    taken = tmp_path / "notes.txt"
    taken.write_text("keep me")
    text = f"{taken / svg.name}: the drawing can't be written: file exists; choose another folder."
    with pytest.raises(JobError, match=f"^{re.escape(text)}$"):
        save_cutting_svg(plan, taken)
    assert taken.read_text() == "keep me"


def test_drawing_an_svg_needs_neither_the_dxf_library_nor_a_pdf_writer():
    code = (
        "import sys; from modelmath import load_job, plan; from modelmath.tables import data_folder;"
        "from modelmath.drawings.cutting.svg import cutting_svg;"
        "cutting_svg(plan(load_job(str(data_folder() / 'jobs' / 'switcher-ho.toml'))));"
        "print([m for m in ('ezdxf', 'reportlab', 'openpyxl', 'pandas') if m in sys.modules])"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert ran.stdout == "[]\n"
