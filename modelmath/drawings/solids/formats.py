"""Closed surfaces as binary STL and as 3MF. One surface always gives the same bytes."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import Any
from xml.sax.saxutils import escape, quoteattr
from zipfile import ZIP_STORED, ZipFile, ZipInfo

from modelmath.drawings.shapes import plain
from modelmath.drawings.solids.mesh import Mesh

HEAD = b"modelmath, lengths in mm"  # 80 bytes that most programs skip; must not begin with "solid"
GAP_MM = 5.0  # between two objects side by side
FIRST_DATE = (1980, 1, 1, 0, 0, 0)  # the first that a ZIP file can hold, so that no file depends on the clock

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
TYPES = (
    f'{XML}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n'
)
RELATIONS = (
    f'{XML}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Id="rel0" Target="/3D/3dmodel.model" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n'
)


def stl_of(mesh: Mesh) -> bytes:
    """Return a surface as a binary STL file.

    STL states no unit: its numbers are mm. It holds single precision, about seven digits, so that a length of 200 mm
    is off by less than 0.00001 mm.

    Parameters
    ----------
    mesh : Mesh
        The surface. [mm]

    Returns
    -------
    bytes
        The file. [-]

    References
    ----------
    Binary STL: 80 bytes of head, the count of triangles, then 50 bytes for each: normal, three corners, two bytes of
    nothing; all little-endian. 3D Systems, StereoLithography Interface Specification (1989), as quoted from memory.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from modelmath.drawings.solids.mesh import mesh_of
    >>> from modelmath.drawings.solids.prisms import Prism
    >>> sides = (Fraction(0), Fraction(2))
    >>> len(stl_of(mesh_of("block", [Prism(sides, sides, sides, sides)])))
    684
    """
    import numpy as np

    corners = mesh.points.astype("<f4")[mesh.triangles]
    wide = mesh.points[mesh.triangles]
    normals: Any = np.cross(wide[:, 1] - wide[:, 0], wide[:, 2] - wide[:, 0])
    lengths = np.linalg.norm(normals, axis=1)
    normals = normals / np.where(lengths > 0, lengths, 1.0)[:, None] + 0.0
    table = np.zeros(len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("nothing", "<u2")])
    table["normal"], table["corners"] = normals, corners
    return HEAD.ljust(80, b"\0") + len(corners).to_bytes(4, "little") + table.tobytes()


def threemf_of(title: str, objects: Sequence[tuple[str, Mesh]]) -> bytes:
    """Return surfaces as a 3MF file in mm, side by side, each an object with its name.

    Parameters
    ----------
    title : str
        What the file is called inside. [-]
    objects : sequence of (str, Mesh)
        Name and surface of each. [mm]

    Returns
    -------
    bytes
        The file. [-]

    References
    ----------
    3MF Consortium, 3D Manufacturing Format, Core Specification 1.3: chapters 3.4 (model and its unit), 4.1 (mesh),
    3.4.3 (build items); ECMA-376-2 for the package.
    """
    files = {
        "[Content_Types].xml": TYPES,
        "_rels/.rels": RELATIONS,
        "3D/3dmodel.model": _model(title, objects),
    }
    out = BytesIO()
    with ZipFile(out, "w", ZIP_STORED) as package:
        for name, text in files.items():
            entry = ZipInfo(name, FIRST_DATE)
            entry.create_system, entry.external_attr = 0, 0
            package.writestr(entry, text.encode())
    return out.getvalue()


def _model(title: str, objects: Sequence[tuple[str, Mesh]]) -> str:
    lines = [
        f'{XML}<model unit="millimeter" xml:lang="en" xmlns="{CORE}">',
        f'<metadata name="Title">{escape(plain(title))}</metadata>',
        '<metadata name="Application">modelmath</metadata>',
        "<resources>",
    ]
    items, at = [], 0.0
    for number, (name, mesh) in enumerate(objects, start=1):
        lines.append(f'<object id="{number}" type="model" name={quoteattr(plain(name))}><mesh><vertices>')
        lines += [f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>' for x, y, z in mesh.points.tolist()]
        lines.append("</vertices><triangles>")
        lines += [f'<triangle v1="{one}" v2="{other}" v3="{last}"/>' for one, other, last in mesh.triangles.tolist()]
        lines.append("</triangles></mesh></object>")
        items.append(f'<item objectid="{number}" transform="1 0 0 0 1 0 0 0 1 0 {at!r} 0"/>')
        at += mesh.size_mm[1] + GAP_MM
    return "\n".join([*lines, "</resources>", "<build>", *items, "</build>", "</model>", ""])
