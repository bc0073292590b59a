"""A model as a view shows it: faces from the back to the front, each with its hatch and its edges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import ceil, floor, hypot

from modelmath.drawings.figures.solid.bodies import Model
from modelmath.drawings.figures.solid.cells import Solid
from modelmath.drawings.figures.solid.order import Block, Tree, Vector, back_to_front, tree_of, whole
from modelmath.drawings.figures.solid.projection import View
from modelmath.drawings.shapes import Point

EDGE_ON = 1e-9  # a face whose normal is nearer than this to square with the line of sight is not seen
HATCHES = 46  # hatch lines along the longest side of the model
LEAST_APART = 0.36  # hatch lines nearer than this share of their distance are thinned out
MOST_THINNED = 8
RANKS = (
    "room", "moving", "standing", "chassis", "terminals", "speaker", "flange", "box", "filler", "plate", "rest", "post",
    "side", "barrier", "wall",
)  # the higher stays  # fmt: skip
# Lines on which u + b v is a whole number of steps, and the step over that of the model; u and v lie in the face.
HATCH_OF = {
    "chassis": (-1.0, 1.0),
    "filler": (1.0, 0.6),
    "post": (0.0, 0.5),
    "rest": (0.0, 0.5),
    "standing": (0.6, 0.7),
}

Stroke = tuple[Point, Point]


@dataclass(frozen=True)
class Face:
    """A face as the picture shows it: its solid, its outline, the lines of its hatch, its edges. [mm]"""

    solid: int
    points: tuple[Point, ...]
    hatch: tuple[Stroke, ...]
    edges: tuple[Stroke, ...]


@dataclass(frozen=True)
class Body:
    """A model ready to be looked at from anywhere.

    Attributes
    ----------
    model : Model
        The solids. [mm]
    tree : Tree
        All but the shell, parted by planes. [mm]
    step : float
        Distance of hatch lines. [mm]
    """

    model: Model
    tree: Tree
    step: float

    def corners(self) -> list[Vector]:
        """Return the corners of all solids. [mm]"""
        return [
            (along, across, up)
            for solid in self.model.solids
            for along, (across, up) in product((solid.start, solid.end), solid.outline)
        ]


def body_of(model: Model) -> Body:
    """Make a model ready to be looked at.

    Parameters
    ----------
    model : Model
        The model. [mm]

    Returns
    -------
    Body
        The same, parted. [mm]

    References
    ----------
    `tree_of`.
    """
    solids = model.solids
    ranks = [RANKS.index(solid.kind) if solid.kind in RANKS else 0 for solid in solids]
    blocks = [_block(number, solid) for number, solid in enumerate(solids) if solid.kind != "shell"]
    reach = [[end for solid in solids for end in solid.box[axis]] for axis in range(3)]
    longest = max(max(ends) - min(ends) for ends in reach)
    return Body(model, tree_of(blocks, ranks), longest / HATCHES)


def _block(number: int, solid: Solid) -> Block:
    block = whole(number, solid.start, solid.end, solid.outline)
    edges = solid.edges
    return block if edges is None else replace(block, sides=edges.sides, corners=edges.corners, ends=edges.ends)


def faces_of(body: Body, view: View) -> Iterator[Face]:
    """Yield the faces in sight, each after what it may hide.

    Parameters
    ----------
    body : Body
        What is looked at. [mm]
    view : View
        Where from. [degree]

    Yields
    ------
    Face
        On the picture. [mm]

    References
    ----------
    `back_to_front`; of one convex solid no face hides another.
    """
    for block in back_to_front(body.tree, view.toward):
        pattern = HATCH_OF.get(body.model.solids[block.solid].kind)
        drawn: set[Stroke] = set()
        for plane, edges in _planes(block, view.toward):
            points = tuple(view.at(point) for point in plane.points)
            lines = () if pattern is None else tuple(_hatch(plane, view, *pattern, body.step))
            fresh = [(view.at(start), view.at(end)) for start, end in edges]
            new = tuple(edge for edge in fresh if edge not in drawn and edge[::-1] not in drawn)
            drawn.update(new)
            yield Face(block.solid, points, lines, new)


@dataclass(frozen=True)
class _Plane:
    """A face in the model: its points, and how u and v of its hatch follow from a point and lead back to one."""

    points: tuple[Vector, ...]
    u_axis: int
    v_axis: int
    u_step: Vector
    v_step: Vector

    def back(self, u: float, v: float) -> Vector:
        """Return the point of the face that has this u and v."""
        at = self.points[0]
        du, dv = u - at[self.u_axis], v - at[self.v_axis]
        one, other = self.u_step, self.v_step
        return (
            at[0] + du * one[0] + dv * other[0],
            at[1] + du * one[1] + dv * other[1],
            at[2] + du * one[2] + dv * other[2],
        )


_Edge = tuple[Vector, Vector]


def _planes(block: Block, toward: Vector) -> Iterator[tuple[_Plane, list[_Edge]]]:
    """Yield the faces of a block that are turned to the viewer, each with its edges that are the solid's own."""
    outline = block.outline
    for place, way in ((0, -1), (1, 1)):
        if way * toward[0] <= EDGE_ON:
            continue
        along = (block.start, block.end)[place]
        points = tuple((along, across, up) for across, up in outline)
        sides = zip(pairwise((*points, points[0])), block.sides, strict=True)
        edges = [edge for edge, own in sides if own and block.ends[place]]
        yield _Plane(points, 1, 2, (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), edges
    for number, ((y, z), (next_y, next_z)) in enumerate(pairwise((*outline, outline[0]))):
        dy, dz = next_y - y, next_z - z
        if toward[1] * dz - toward[2] * dy > EDGE_ON * (abs(dy) + abs(dz)):
            yield _side(block, number, (y, z), (next_y, next_z))


def _side(block: Block, number: int, one: Point, other: Point) -> tuple[_Plane, list[_Edge]]:
    start, end = block.start, block.end
    points = ((start, *one), (end, *one), (end, *other), (start, *other))
    dy, dz = other[0] - one[0], other[1] - one[1]
    level = abs(dy) >= abs(dz)
    v_step = (0.0, 1.0, dz / dy) if level else (0.0, dy / dz, 1.0)
    own = (
        block.corners[number],
        block.sides[number] and block.ends[1],
        block.corners[(number + 1) % len(block.corners)],
        block.sides[number] and block.ends[0],
    )
    edges = [edge for edge, kept in zip(pairwise((*points, points[0])), own, strict=True) if kept]
    return _Plane(points, 0, 1 if level else 2, (1.0, 0.0, 0.0), v_step), edges


def _hatch(plane: _Plane, view: View, b: float, share: float, step: float) -> Iterator[Stroke]:
    """Yield the lines u + b v = n step that lie in a face; where they would come too near each other, fewer."""
    distance = share * step * _thinned(plane, view, b)
    if not distance:
        return
    around = [(point[plane.u_axis], point[plane.v_axis]) for point in (*plane.points, plane.points[0])]
    values = [u + b * v for u, v in around]
    for number in range(ceil(min(values) / distance), floor(max(values) / distance) + 1):
        level = number * distance
        met = []
        for ((u, v), (next_u, next_v)), (value, further) in zip(pairwise(around), pairwise(values), strict=True):
            if (value < level) != (further < level):
                part = (level - value) / (further - value)
                met.append((v + part * (next_v - v), u + part * (next_u - u)))
        met.sort()
        for (v, u), (next_v, next_u) in zip(met[::2], met[1::2], strict=True):
            yield view.at(plane.back(u, v)), view.at(plane.back(next_u, next_v))


def _thinned(plane: _Plane, view: View, b: float) -> int:
    """Return how many steps to leave between hatch lines, seen as slantwise as this; 0 for no lines."""
    (ux, uy), (vx, vy) = view.at(plane.u_step), view.at(plane.v_step)
    dx, dy = vx - b * ux, vy - b * uy  # along a line
    apart = abs(ux * dy - uy * dx) / (hypot(dx, dy) or 1.0)
    times = 1
    while times <= MOST_THINNED:
        if apart * times >= LEAST_APART:
            return times
        times *= 2
    return 0


def shell_lines(model: Model, view: View) -> tuple[list[Stroke], list[Stroke]]:
    """Return the edges of the shell's inside, those behind what is in it, and those before it.

    Parameters
    ----------
    model : Model
        The model. [mm]
    view : View
        Where from. [degree]

    Returns
    -------
    tuple of two lists
        Behind, and before. [mm]

    References
    ----------
    Of a convex solid, an edge is seen where one of its two faces is turned to the viewer.
    """
    behind: list[Stroke] = []
    before: list[Stroke] = []
    for edge, seen in _shell_edges(model, view.toward):
        (before if seen else behind).append((view.at(edge[0]), view.at(edge[1])))
    return behind, before


def _shell_edges(model: Model, toward: Vector) -> Iterator[tuple[_Edge, bool]]:
    for solid in model.of("shell"):
        outline = solid.outline
        around = list(pairwise((*outline, outline[0])))
        bottom = min(up for _, up in outline)
        faces = [toward[1] * (end[1] - start[1]) - toward[2] * (end[0] - start[0]) > EDGE_ON for start, end in around]
        for number, point in enumerate(outline):
            yield ((solid.start, *point), (solid.end, *point)), faces[number] or faces[number - 1]
        for along, turned in ((solid.start, toward[0] < -EDGE_ON), (solid.end, toward[0] > EDGE_ON)):
            for (start, end), face in zip(around, faces, strict=True):
                if start[1] == end[1] == bottom:
                    continue  # it is open below
                yield ((along, *start), (along, *end)), face or turned
