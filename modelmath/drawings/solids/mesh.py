"""Prisms joined to one closed surface of triangles, and round holes drilled in it.

The surface of the prisms is exact. manifold3d, a general-purpose library for closed surfaces, drills it and joins
triangles that lie in one plane, in double precision. The volume of what comes out is held against the sum of the prisms
less the holes before anything is written, and that it is closed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import cos, pi, sin, sqrt, tau
from typing import TYPE_CHECKING, Any

from modelmath.drawings.solids.prisms import Ends, Prism, volume_of
from modelmath.drawings.solids.surface import surface_of
from modelmath.errors import OutOfRange

if TYPE_CHECKING:
    from numpy.typing import NDArray

SAME_VOLUME = 1e-7  # of the whole: what the joining may be off
ONE_PLACE_MM = 1e-9  # corners in one plane are taken out; nothing is moved by more
CORNERS = 48  # of the polygon that stands for a round hole

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Bore:
    """A round hole along the length.

    Attributes
    ----------
    name : str
        What goes through. [-]
    along_mm : tuple of two Fraction
        The faces of the wall that it goes through. [mm]
    across_mm, up_mm : float
        Its middle, to the right of the centre line looking to the rear, and above the seat. [mm]
    radius_mm : float
        Its radius. [mm]
    """

    name: str
    along_mm: Ends
    across_mm: float
    up_mm: float
    radius_mm: float

    @property
    def volume_mm3(self) -> float:
        """What it takes out of the wall. [mm3]"""
        return pi * self.radius_mm**2 * float(self.along_mm[1] - self.along_mm[0])


@dataclass(frozen=True, eq=False)
class Mesh:
    """A closed surface of triangles in a corner of space, no coordinate below 0.

    x runs along the shell to the rear, y across to its left looking to the rear, z up: a right-handed system, so that
    what is printed is no mirror image.

    Attributes
    ----------
    points : array of floats, n by 3
        Its corners, each once, sorted. [mm]
    triangles : array of whole numbers, m by 3
        The numbers of their corners, anticlockwise seen from outside, sorted. [-]
    pieces : int
        How many bodies it is of, none touching another. [-]
    """

    points: NDArray[Any]
    triangles: NDArray[Any]
    pieces: int

    @property
    def volume_mm3(self) -> float:
        """Its volume by the divergence theorem. [mm3]"""
        import numpy as np

        one, other, third = (self.points[self.triangles[:, at]] for at in range(3))
        return float((one * np.cross(other, third)).sum() / 6)

    @property
    def size_mm(self) -> tuple[float, float, float]:
        """Its size along, across and up. [mm]"""
        along, across, up = (float(each) for each in self.points.max(axis=0) - self.points.min(axis=0))
        return along, across, up


def mesh_of(name: str, prisms: Sequence[Prism], bores: Sequence[Bore] = ()) -> Mesh:
    """Join prisms to a closed surface, and drill it.

    Parameters
    ----------
    name : str
        What it is, for a message. [-]
    prisms : sequence of Prism
        One or more that don't overlap. [mm]
    bores : sequence of Bore
        Round holes, each through what it meets between the faces of its wall. [mm]

    Returns
    -------
    Mesh
        The surface. [mm]

    Raises
    ------
    OutOfRange
        If the holes run into each other or out of the wall, or two pieces touch along a line only, so that no closed
        surface can be made.

    Notes
    -----
    A round hole is a polygon of 48 corners with the same area as the circle; its corners lie 0.15 % of the radius
    outside of it at most, and its sides 0.08 % inside.

    References
    ----------
    Of a regular polygon with n corners the area is n/2 r^2 sin(2 pi / n); elementary geometry.

    Examples
    --------
    >>> sides = (Fraction(0), Fraction(2))
    >>> mesh = mesh_of("block", [Prism((Fraction(1), Fraction(4)), sides, sides, sides)])
    >>> round(mesh.volume_mm3, 9), mesh.size_mm, len(mesh.triangles), mesh.pieces
    (12.0, (3.0, 2.0, 2.0), 12, 1)
    """
    import manifold3d

    corner = _corner(prisms)
    body = _solid(*_shape(name, prisms, corner)).as_original().simplify(ONE_PLACE_MM)
    wanted = float(volume_of(prisms)) - sum(bore.volume_mm3 for bore in bores)
    if bores:
        drills = [_solid(*_round(bore, corner)) for bore in bores]
        body = manifold3d.Manifold.batch_boolean([body, *drills], manifold3d.OpType.Subtract)
    if abs(body.volume() - wanted) > SAME_VOLUME * wanted:
        given = f"of {body.volume():.3f} mm3 instead of {wanted:.3f} mm3"
        advice = "Check that no hole moved by hand runs into another one or out of its wall."
        raise OutOfRange(f"the {name} as a solid", given, "of the volume that its parts have", advice)
    return _checked(name, body)


def _corner(prisms: Sequence[Prism]) -> tuple[Fraction, Fraction, Fraction]:
    """Return what is taken off each coordinate, so that none is below 0; across counts the other way round."""
    right = max(max(prism.foot_mm[1], prism.head_mm[1]) for prism in prisms)
    return min(prism.along_mm[0] for prism in prisms), -right, min(prism.up_mm[0] for prism in prisms)


Shape = tuple[list[Point], list[tuple[int, int, int]]]


def _shape(name: str, prisms: Sequence[Prism], corner: tuple[Fraction, Fraction, Fraction]) -> Shape:
    """Return the corners and triangles of prisms together; across counts to the left."""
    faces = list(surface_of(prisms))
    corners = sorted({each for face in faces for each in face})
    number = {each: at for at, each in enumerate(corners)}
    triangles = [(number[one], number[third], number[other]) for one, other, third in faces]
    if not is_closed(triangles):
        raise _open(name)
    return [(float(x - corner[0]), float(-y - corner[1]), float(z - corner[2])) for x, y, z in corners], triangles


def _open(name: str) -> OutOfRange:
    advice = "Change a place or a size there by 0.1 mm, so that its parts touch along a face or not at all."
    return OutOfRange(f"the {name} as a solid", "touching itself along a line", "closed", advice)


def _round(bore: Bore, corner: tuple[Fraction, Fraction, Fraction]) -> Shape:
    """Return a hole's corners and triangles."""
    y, z = -bore.across_mm - float(corner[1]), bore.up_mm - float(corner[2])
    radius = bore.radius_mm * sqrt(tau / CORNERS / sin(tau / CORNERS))
    turns = [tau * (at + 0.5) / CORNERS for at in range(CORNERS)]
    ends = [float(each - corner[0]) for each in bore.along_mm]
    points = [(at, y + radius * cos(turn), z + radius * sin(turn)) for at in ends for turn in turns]
    triangles = []
    for one, other in pairwise([*range(CORNERS), 0]):
        triangles += [(one, other, CORNERS + other), (one, CORNERS + other, CORNERS + one)]
    for at in range(1, CORNERS - 1):
        triangles += [(0, at + 1, at), (CORNERS, CORNERS + at, CORNERS + at + 1)]
    return points, triangles


def _solid(points: list[Point], triangles: list[tuple[int, int, int]]) -> Any:
    import manifold3d
    import numpy as np

    surface = manifold3d.Mesh64(np.array(points, dtype=np.float64), np.array(triangles, dtype=np.uint64))
    return manifold3d.Manifold(surface)


def _checked(name: str, body: Any) -> Mesh:
    """Return a surface in one order whatever came before, once it is closed as it is written too."""
    import numpy as np

    surface = body.to_mesh64()
    points, triangles = merged(surface.vert_properties[:, :3], surface.tri_verts)
    # STL keeps single precision, and says of each triangle where its corners lie: what lies there together is one.
    for read in (triangles, merged(points.astype(np.float32), triangles)[1]):
        if not is_closed(read.tolist()):
            raise _open(name)
    return Mesh(points, triangles, sum(part.volume() > 0 for part in body.decompose()))


def merged(points: NDArray[Any], triangles: NDArray[Any]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Return corners each once, and the triangles between them, both sorted.

    Parameters
    ----------
    points : array of floats, n by 3
        Corners; some may lie at one place. [mm]
    triangles : array of whole numbers, m by 3
        Their corners. [-]

    Returns
    -------
    tuple of two arrays
        Corners and triangles; those left without area are gone. [mm]

    References
    ----------
    None needed.
    """
    import numpy as np

    once, numbers = np.unique(points + 0.0, axis=0, return_inverse=True)
    corners = numbers.reshape(-1)[np.asarray(triangles, dtype=np.int64)]
    alike = (corners == np.roll(corners, 1, axis=1)).any(axis=1)
    corners = corners[~alike]
    first = corners.argmin(axis=1)
    turned = np.take_along_axis(corners, (first[:, None] + np.arange(3)) % 3, axis=1)
    return once, turned[np.lexsort(turned.T[::-1])]


def is_closed(triangles: Sequence[Sequence[int]]) -> bool:
    """Say whether triangles make a closed surface that has one outside.

    Parameters
    ----------
    triangles : sequence of three whole numbers each
        The numbers of their corners, anticlockwise seen from outside. [-]

    Returns
    -------
    bool
        Whether each edge is run through once each way. [-]

    References
    ----------
    An oriented 2-manifold without border.

    Examples
    --------
    >>> faces = [(0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2)]
    >>> is_closed(faces), is_closed(faces[1:])
    (True, False)
    """
    edges = [edge for one, other, third in triangles for edge in ((one, other), (other, third), (third, one))]
    once = set(edges)
    return bool(edges) and len(once) == len(edges) and all((end, start) in once for start, end in once)
