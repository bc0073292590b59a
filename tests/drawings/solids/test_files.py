"""STL and 3MF read back: by another library, and by plain readers of the two formats written here."""

from __future__ import annotations

import hashlib
import zipfile
from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh
from sheets import DEMOS, demo
from spacious import SPACES

from modelmath.drawings.solids.bodies import solids_of
from modelmath.drawings.solids.files import save_solids_3mf, save_solids_stl
from modelmath.drawings.solids.formats import stl_of, threemf_of
from modelmath.errors import JobError

# 3MF Core Specification 1.3, 2.1 and appendix: namespaces, content types, relationship.
CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
TYPES = "{http://schemas.openxmlformats.org/package/2006/content-types}"
RELATIONS = "{http://schemas.openxmlformats.org/package/2006/relationships}"
MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
SINGLE = 2.0**-24  # of a number, what single precision rounds by


def read_stl(content):
    """Return normals and corners of a binary STL: 80 bytes, a count, 50 bytes for each triangle."""
    count = int.from_bytes(content[80:84], "little")
    assert len(content) == 84 + 50 * count
    rows = np.frombuffer(content[84:], dtype=np.uint8).reshape(count, 50)
    numbers = np.ascontiguousarray(rows[:, :48]).view("<f4").reshape(count, 4, 3).astype(float)
    assert not rows[:, 48:].any()
    return numbers[:, 0], numbers[:, 1:]


def volume(corners):
    """By the divergence theorem: the sum of signed tetrahedra from the origin."""
    return np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])).sum() / 6


def area(corners):
    return np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1).sum() / 2


def read_3mf(content):
    """Return name, corners of triangles, and place of each object."""
    with zipfile.ZipFile(BytesIO(content)) as package:
        root = ElementTree.fromstring(package.read("3D/3dmodel.model"))
    assert root.get("unit") == "millimeter"
    moved = {item.get("objectid"): item.get("transform") for item in root.iter(f"{CORE}item")}
    found = []
    for each in root.iter(f"{CORE}object"):
        points = np.array([[float(v.get(axis)) for axis in "xyz"] for v in each.iter(f"{CORE}vertex")])
        numbers = [[int(t.get(f"v{at}")) for at in (1, 2, 3)] for t in each.iter(f"{CORE}triangle")]
        matrix = np.array(moved[each.get("id")].split(), dtype=float).reshape(4, 3)
        found.append((each.get("name"), points[numbers], matrix))
    return found


@pytest.mark.parametrize("name", DEMOS)
def test_stl_holds_what_single_precision_can(name):
    for solid in solids_of(demo(name)):
        normals, corners = read_stl(stl_of(solid.mesh))
        longest = max(solid.mesh.size_mm)
        # Each corner is off by no more than rounding, so that the volume is by no more than the surface times that.
        assert volume(corners) == pytest.approx(solid.volume_mm3, abs=2 * area(corners) * longest * SINGLE)
        assert volume(corners) == pytest.approx(solid.volume_mm3, rel=5e-6)
        crossed = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        assert (np.einsum("ij,ij->i", crossed, normals) >= 0).all()
        assert np.linalg.norm(normals, axis=1) == pytest.approx(np.ones(len(normals)), abs=1e-5)


@pytest.mark.parametrize("name", DEMOS)
def test_3mf_holds_the_volume_to_all_its_digits(name):
    made = demo(name)
    solids = solids_of(made)
    found = read_3mf(threemf_of(made.job.name, [(solid.name, solid.mesh) for solid in solids]))
    assert [each[0] for each in found] == [solid.name for solid in solids]
    for solid, (_, corners, _) in zip(solids, found, strict=True):
        assert volume(corners) == pytest.approx(solid.volume_mm3, rel=1e-12)


def test_another_library_reads_both_files_as_closed_and_in_mm(tmp_path):
    made = demo("railmotor-oo")
    solids = {solid.name: solid for solid in solids_of(made)}
    for file in save_solids_stl(made, tmp_path):
        mesh = trimesh.load(file)
        solid = solids[file.stem.split("-")[-2]]
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.volume == pytest.approx(solid.volume_mm3, rel=5e-6)
    scene = trimesh.load(save_solids_3mf(made, tmp_path))
    assert scene.units == "millimeter"
    names = ["chamber: walls and floor", "seat of the speaker", "air of the chamber, no part"]
    assert list(scene.geometry) == names
    for name, solid in zip(names, solids.values(), strict=True):
        mesh = scene.geometry[name]
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.volume == pytest.approx(solid.volume_mm3, rel=1e-12)


def test_objects_stand_side_by_side_on_one_plane_and_meet_nowhere():
    made = SPACES["front"]()
    found = read_3mf(threemf_of("x", [(solid.name, solid.mesh) for solid in solids_of(made)]))
    assert len(found) == 4
    last = -1.0
    for _, corners, matrix in found:
        assert (matrix[:3] == np.eye(3)).all()
        placed = corners.reshape(-1, 3) + matrix[3]
        assert placed.min(axis=0)[[0, 2]].tolist() == [0, 0]
        assert placed[:, 1].min() > last
        last = placed[:, 1].max()


def test_the_package_is_what_the_standard_asks_for():
    made = demo()
    content = threemf_of(made.job.name, [(solid.name, solid.mesh) for solid in solids_of(made)])
    with zipfile.ZipFile(BytesIO(content)) as package:
        assert package.testzip() is None
        assert package.namelist() == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
        assert {info.date_time for info in package.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        types = ElementTree.fromstring(package.read("[Content_Types].xml"))
        relations = ElementTree.fromstring(package.read("_rels/.rels"))
        root = ElementTree.fromstring(package.read("3D/3dmodel.model"))
    assert {each.get("Extension"): each.get("ContentType") for each in types.iter(f"{TYPES}Default")}[
        "model"
    ] == MODEL_TYPE
    (relation,) = relations.iter(f"{RELATIONS}Relationship")
    assert relation.get("Target") == "/3D/3dmodel.model"
    assert relation.get("Type") == "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
    title = next(each for each in root.iter(f"{CORE}metadata") if each.get("name") == "Title")
    assert title.text == made.job.name
    assert root.tag == f"{CORE}model"
    for each in root.iter(f"{CORE}object"):
        corners = {tuple(vertex.attrib.values()) for vertex in each.iter(f"{CORE}vertex")}
        assert len(corners) == len(list(each.iter(f"{CORE}vertex")))  # none twice
        for triangle in each.iter(f"{CORE}triangle"):
            assert len(set(triangle.attrib.values())) == 3


def test_one_job_gives_the_same_bytes_whenever_it_is_written(tmp_path):
    sums = []
    for folder in ("one", "other"):
        made = demo("railmotor-oo")
        files = [*save_solids_stl(made, tmp_path / folder), save_solids_3mf(made, tmp_path / folder)]
        sums.append([(file.name, hashlib.sha256(file.read_bytes()).hexdigest()) for file in files])
    assert sums[0] == sums[1]
    assert [name for name, _ in sums[0]] == [
        "tarn-valley-railmotor-no-12-chamber-mm.stl",
        "tarn-valley-railmotor-no-12-seat-mm.stl",
        "tarn-valley-railmotor-no-12-air-mm.stl",
        "tarn-valley-railmotor-no-12-solids.3mf",
    ]


def test_stl_says_mm_in_its_head_and_never_begins_as_text():
    content = stl_of(solids_of(demo())[0].mesh)
    assert content[:24] == b"modelmath, lengths in mm"
    assert not content.startswith(b"solid")


def test_a_name_that_xml_would_trip_over_is_written_whole():
    mesh = solids_of(demo())[-1].mesh
    name = "hood <\"no. 3\"> & 'cab'"
    content = threemf_of(name, [(name, mesh)])
    assert read_3mf(content)[0][0] == name
    with zipfile.ZipFile(BytesIO(content)) as package:
        root = ElementTree.fromstring(package.read("3D/3dmodel.model"))
    assert next(root.iter(f"{CORE}metadata")).text == name


def test_a_stepped_chamber_has_files_of_its_own(tmp_path):
    made = demo()
    chamber = next(gain.chamber for gain in made.stepped.gains if gain.chamber.steps)
    names = [file.name for file in save_solids_stl(made, tmp_path, chamber)]
    stem = "tarn-valley-switcher-no-31-stepped"
    assert names == [f"{stem}-chamber-mm.stl", f"{stem}-seat-mm.stl", f"{stem}-air-mm.stl"]
    assert save_solids_3mf(made, tmp_path, chamber).name == f"{stem}-solids.3mf"


@pytest.mark.parametrize("save", [save_solids_stl, save_solids_3mf])
def test_a_folder_that_refuses_is_named(tmp_path, save):
    taken = tmp_path / "here"
    taken.write_text("keep me")
    text = r"^.*here.*: the solid can't be written: file exists; choose another folder\.$"
    with pytest.raises(JobError, match=text):
        save(demo(), taken)
    assert taken.read_text() == "keep me"
