"""Closed surfaces of blocks and trapezia: volumes by hand, by counting, by another library; what is refused."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from math import pi

import networkx as nx
import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from modelmath.drawings.solids.mesh import Bore, Mesh, merged, mesh_of
from modelmath.drawings.solids.prisms import Prism, inside, outline_of, prism_of, volume_of, within_outline
from modelmath.drawings.solids.surface import apart
from modelmath.enclosure import Profile, Zone
from modelmath.enclosure.making.blocks import Block
from modelmath.errors import OutOfRange

ALONG_A_LINE = (
    r"^the pile as a solid is touching itself along a line; it must be closed\. Change a place or a size there by "
    r"0\.1 mm, so that its parts touch along a face or not at all\.$"
)


def exact(*numbers):
    return tuple(Fraction(each) for each in numbers)


def block(*ends):
    """A block by its ends along, across and up."""
    return prism_of(Block(*exact(*ends)))


def read(mesh):
    """The same as another library sees it, which finds edges and corners anew."""
    return trimesh.Trimesh(mesh.points, mesh.triangles, process=True)


def assert_closed(mesh, volume, pieces=1):
    seen = read(mesh)
    assert seen.is_watertight
    assert seen.is_winding_consistent
    assert seen.volume == pytest.approx(volume, rel=1e-9)
    assert mesh.volume_mm3 == pytest.approx(volume, rel=1e-9)
    assert (mesh.points.min(axis=0) == 0).all()
    assert mesh.pieces == pieces


def test_two_boxes_that_touch_are_one_without_a_wall_between_them():
    """By hand: 2 x 3 x 4 and 1 x 3 x 1 make an L of 27 mm3, 6 oblongs and 2 Ls of 4 triangles each."""
    mesh = mesh_of("pile", [block(0, 2, 0, 3, 0, 4), block(2, 3, 0, 3, 0, 1)])
    assert_closed(mesh, 27)
    assert mesh.size_mm == (3, 3, 4)
    assert len(mesh.triangles) == 20
    assert read(mesh).area == pytest.approx(2 * (8 + 1) + 3 * (3 + 1 + 1 + 3 + 2 + 4), rel=1e-9)


def test_apart_they_are_two_pieces_in_one_surface():
    mesh = mesh_of("pile", [block(0, 2, 0, 3, 0, 4), block(5, 6, 0, 3, 0, 1)])
    assert_closed(mesh, 27, pieces=2)
    assert read(mesh).body_count == 2


def test_a_box_whose_corner_lies_within_another_s_face_leaves_no_open_edge():
    assert_closed(mesh_of("pile", [block(0, 9, 0, 9, 0, 2), block(2, 4, 3, 5, 2, 7), block(4, 7, 4, 5, 2, 3)]), 185)


def test_a_wedge_and_a_ridge_have_the_volume_of_their_trapezia():
    """A tent 4 wide and 3 high, 10 long, on a box 1 high: 60 + 40 mm3."""
    tent = Prism(exact(0, 10), exact(1, 4), exact(-2, 2), exact(0, 0))
    assert volume_of([tent]) == 60
    mesh = mesh_of("pile", [tent, block(0, 10, -2, 2, 0, 1)])
    assert_closed(mesh, 100)
    assert len(mesh.points) == 10


def test_touching_along_a_line_is_refused():
    with pytest.raises(OutOfRange, match=ALONG_A_LINE):
        mesh_of("pile", [block(0, 1, 0, 1, 0, 1), block(1, 2, 1, 2, 0, 1)])


def test_touching_at_a_corner_alone_is_two_pieces():
    assert_closed(mesh_of("pile", [block(0, 1, 0, 1, 0, 1), block(1, 2, 1, 2, 1, 2)]), 2, pieces=2)


SIDE = 3


def lines_touched(cells):
    """Whether two cubes share an edge while neither cube beside that edge is there. [-]"""
    for at in product(range(-1, SIDE), repeat=2):
        for axis, place in product(range(3), range(SIDE)):
            around = [
                tuple(np.insert((at[0] + one, at[1] + other), axis, place)) in cells
                for one, other in ((0, 0), (1, 0), (1, 1), (0, 1))
            ]
            if around in ([True, False, True, False], [False, True, False, True]):
                return True
    return False


@settings(max_examples=60)
@given(st.sets(st.tuples(*[st.integers(0, SIDE - 1)] * 3), min_size=1))
def test_cubes_are_counted(cells):
    """Volume is the count of cubes, pieces are those joined face to face; edges touched alone are refused."""
    prisms = [block(x, x + 1, y, y + 1, z, z + 1) for x, y, z in sorted(cells)]
    if lines_touched(cells):
        with pytest.raises(OutOfRange, match=ALONG_A_LINE):
            mesh_of("pile", prisms)
        return
    graph = nx.Graph()
    graph.add_nodes_from(cells)
    graph.add_edges_from(
        (a, b) for a in cells for b in cells if sum(abs(p - q) for p, q in zip(a, b, strict=True)) == 1
    )
    mesh = mesh_of("pile", prisms)
    assert mesh.volume_mm3 == pytest.approx(len(cells), rel=1e-9)
    assert read(mesh).is_watertight
    assert read(mesh).is_winding_consistent
    assert read(mesh).volume == pytest.approx(len(cells), rel=1e-9)
    assert mesh.pieces == nx.number_connected_components(graph)


ARCH = ((0, 8), (4, 8), (4, 7), (7, 6), (10, 0))  # a ledge at 4


@settings(max_examples=60)
@given(
    st.tuples(*[st.fractions(-9, 9, max_denominator=8)] * 2), st.tuples(*[st.fractions(-2, 12, max_denominator=8)] * 2)
)
def test_a_block_under_an_arch_has_the_area_that_another_library_cuts_out(across, up):
    across, up = sorted(across), sorted(up)
    zone = Zone("arch", 0, 5, -5, 10, 16, Profile(tuple(exact(*point) for point in ARCH)))
    prisms = list(inside([Block(1, 7, *across, *up)], [zone]))
    right = [(half, height) for height, half in outline_of(zone, Fraction(-2))]
    shell = Polygon([*right, *((-half, height) for half, height in reversed(right))])
    cut = shell.intersection(box(across[0], up[0], across[1], up[1]))
    assert float(volume_of(prisms)) == pytest.approx(4 * cut.area, abs=1e-9)
    assert volume_of(prisms) == 4 * zone.profile.area_within(max(up[0], Fraction(-2)), up[1], *across)
    if volume_of(prisms):
        assert_closed(mesh_of("pile", prisms), float(volume_of(prisms)))


def test_slopes_side_by_side_that_are_cut_at_other_heights_still_close():
    arch = [(Fraction(height), Fraction(half)) for height, half in ((0, 7), (3, 7), (10, 2))]
    prisms = [
        prism
        for ends, sides, low in (
            ((0, 3), (-7, 7), 0),
            ((3, 5), (-6, 5), 2),
            ((5, 9), (-3, 7), 1),
            ((5, 9), (-7, -3), 4),
        )
        for prism in within_outline(Block(*exact(*ends, *sides, low, 10)), arch)
    ]
    assert_closed(mesh_of("pile", prisms), float(volume_of(prisms)))


def test_slopes_that_cross_from_one_stretch_to_the_next_still_close():
    """Two wedges 4 wide and 4 high, one leaning left and one right, face to face: 2 x 8 mm2 x 1 mm."""
    prisms = [
        Prism(exact(0, 1), exact(0, 4), exact(0, 4), exact(0, 0)),
        Prism(exact(1, 2), exact(0, 4), exact(0, 4), exact(4, 4)),
    ]
    mesh = mesh_of("pile", prisms)
    assert_closed(mesh, 16)
    assert [1, 2, 2] in mesh.points.tolist()  # where the slopes cross; y counts the other way


def test_what_overlaps_is_counted_once_when_it_is_taken_apart():
    lean, ledge = Prism(exact(0, 5), exact(0, 4), exact(2, 3), exact(0, 1)), block(0, 5, 1, 4, 3, 4)
    pieces = list(apart([lean, ledge]))
    shapes = [Polygon([(2, 0), (3, 0), (1, 4), (0, 4)]), box(1, 3, 4, 4)]
    assert float(volume_of(pieces)) == pytest.approx(5 * shapes[0].union(shapes[1]).area)
    assert volume_of([lean, ledge]) > volume_of(pieces)
    assert_closed(mesh_of("pile", pieces), float(volume_of(pieces)))


def test_a_round_hole_takes_the_circle_s_area_times_the_thickness():
    """8 x 6 x 1 with holes of 1.5 and 0.8: 48 - pi (0.75^2 + 0.4^2) mm3; what stands behind a hole is left whole."""
    wall = block(0, 1, -4, 4, 0, 6)
    bores = [Bore("strand", exact(0, 1), -2.0, 4.0, 0.75), Bore("wire", exact(0, 1), 1.5, 2.0, 0.4)]
    assert_closed(mesh_of("wall", [wall], bores), 48 - pi * (0.75**2 + 0.4**2))
    assert_closed(mesh_of("wall", [wall, block(1, 3, 1, 2, 1, 3)], bores), 52 - pi * (0.75**2 + 0.4**2))


def test_a_hole_is_where_it_is_said_on_the_left_of_one_who_looks_to_the_rear():
    """x to the rear, y to the left, z up is right-handed: at 2 mm right of the middle of 8, the hole is at y = 2."""
    mesh = mesh_of("wall", [block(0, 1, -4, 4, 0, 6)], [Bore("strand", exact(0, 1), 2.0, 4.5, 0.5)])
    rim = [point for point in mesh.points.tolist() if point[0] == 0 and 0 < point[1] < 8 and 0 < point[2] < 6]
    assert len(rim) == 48
    assert np.mean(rim, axis=0) == pytest.approx((0, 2, 4.5))
    from_middle = np.hypot(*(np.array(rim)[:, 1:] - (2, 4.5)).T)
    assert from_middle == pytest.approx(0.5 * np.ones(48), rel=0.0015)
    assert (from_middle > 0.5).all()


@pytest.mark.parametrize("across", [0.3, 3.8])
def test_holes_that_run_into_each_other_or_out_of_the_wall_are_refused(across):
    bores = [Bore("strand", exact(0, 1), 0.0, 3.0, 0.5), Bore("wire", exact(0, 1), across, 3.0, 0.5)]
    text = (
        r"^the wall as a solid is of 4[67]\.\d{3} mm3 instead of 46\.429 mm3; it must be of the volume that its parts "
        r"have\. Check that no hole moved by hand runs into another one or out of its wall\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        mesh_of("wall", [block(0, 1, -4, 4, 0, 6)], bores)


def test_the_order_of_the_prisms_does_not_matter():
    prisms = [
        block(0, 2, 0, 3, 0, 4),
        block(2, 3, 0, 3, 0, 1),
        Prism(exact(0, 2), exact(4, 5), exact(0, 3), exact(1, 2)),
    ]
    one, other = mesh_of("pile", prisms), mesh_of("pile", prisms[::-1])
    assert (one.points == other.points).all()
    assert (one.triangles == other.triangles).all()


def test_corners_at_one_place_become_one_and_what_has_no_area_goes():
    points = np.array([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 0)], dtype=float)
    once, triangles = merged(points, np.array([(3, 1, 2), (0, 1, 3)]))
    assert once.tolist() == [[0, 0, 0], [0, 1, 0], [1, 0, 0]]
    assert triangles.tolist() == [[0, 2, 1]]
    tetrahedron = Mesh(np.array([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)], dtype=float),
                       np.array([(0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2)]), 1)  # fmt: skip
    assert tetrahedron.volume_mm3 == pytest.approx(1 / 6)
