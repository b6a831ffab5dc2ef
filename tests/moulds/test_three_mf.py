"""3MF files against facts of the 3MF Core Specification 1.3, read by three readers.

Sections below are those of the specification, https://github.com/3MFConsortium/spec_core.
"""

from __future__ import annotations

import io
import sys
import time
import zipfile
from collections import Counter
from functools import cache

import numpy as np
import pytest
import trimesh
from defusedxml.ElementTree import fromstring

from wadforms.errors import BadInput, KernelMissing, ProofFailed
from wadforms.families import family
from wadforms.moulds import three_mf
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.three_mf import three_mf_bytes

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


@cache
def _meshes() -> tuple[tuple[str, Mesh], ...]:
    return tuple(
        (words, meshed(family(name)().piece().body))
        for words, name in (("disk <20 & 8>", "disk"), ("Größe Ø 5", "ring"), ("cradle", "cradle"))
    )


@cache
def _written() -> bytes:
    return three_mf_bytes(_meshes())


def test_the_package_has_the_parts_that_it_must() -> None:
    with zipfile.ZipFile(io.BytesIO(_written())) as package:
        assert package.testzip() is None
        names = set(package.namelist())
        # Open Packaging Conventions, ECMA-376-2 §10; the model part by §2.1 of the core.
        assert {"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"} <= names
        relations = fromstring(package.read("_rels/.rels"))
        types = package.read("[Content_Types].xml").decode()
    found = {one.get("Type"): one.get("Target") for one in relations}
    model = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
    assert found[model] == "/3D/3dmodel.model"
    assert "application/vnd.ms-package.3dmanufacturing-3dmodel+xml" in types


def test_the_model_is_in_mm_with_an_object_and_an_item_for_each_mesh() -> None:
    with zipfile.ZipFile(io.BytesIO(_written())) as package:
        model = fromstring(package.read("3D/3dmodel.model"))
    assert model.get("unit") == "millimeter"  # §3.4
    assert model.get("requiredextensions") is None  # the core alone is needed to read it
    objects = model.findall(f"{CORE}resources/{CORE}object")
    items = model.findall(f"{CORE}build/{CORE}item")
    assert [o.get("name") for o in objects] == [name for name, _ in _meshes()]
    assert [i.get("objectid") for i in items] == [o.get("id") for o in objects]
    for one, (_, mesh) in zip(objects, _meshes(), strict=True):
        assert one.get("type", "model") == "model"
        corners = [[float(v.attrib[axis]) for axis in "xyz"] for v in one.iter(f"{CORE}vertex")]
        facets = [
            [int(t.attrib[v]) for v in ("v1", "v2", "v3")] for t in one.iter(f"{CORE}triangle")
        ]
        assert np.abs(np.array(corners) - mesh.points).max() < 1e-5  # 32-bit numbers
        assert all(len(set(facet)) == 3 for facet in facets)  # §4.1.4.1: indices are distinct
        # §4.1: every edge in exactly two triangles, oppositely run (manifold, oriented).
        runs = Counter(pair for a, b, c in facets for pair in ((a, b), (b, c), (c, a)))
        assert set(runs.values()) == {1}
        assert all((b, a) in runs for a, b in runs)
        volume = Mesh(np.array(corners), np.array(facets)).volume
        assert volume == pytest.approx(mesh.volume, rel=1e-6)  # > 0: counter-clockwise from outside


def test_the_reference_library_reads_it_strictly_without_a_warning() -> None:
    import lib3mf

    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(_written())
    assert [reader.GetWarning(i) for i in range(reader.GetWarningCount())] == []
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    found, names = model.GetMeshObjects(), []
    while found.MoveNext():
        part = found.GetCurrentMeshObject()
        names.append(part.GetName())
        assert part.IsManifoldAndOriented()
        assert part.IsValid()
    assert names == [name for name, _ in _meshes()]


def test_another_library_reads_closed_bodies_of_the_same_volume() -> None:
    scene = trimesh.load_scene(io.BytesIO(_written()), file_type="3mf")
    assert scene.units == "millimeter"
    found = sorted(scene.geometry.values(), key=lambda m: m.volume)
    meant = sorted(mesh.volume for _, mesh in _meshes())
    assert [m.volume for m in found] == pytest.approx(meant, rel=1e-6)
    assert all(m.is_watertight and m.is_winding_consistent for m in found)


def test_the_same_meshes_give_the_same_bytes_at_another_time() -> None:
    first = three_mf_bytes(_meshes()[:1])
    time.sleep(2.1)  # an archive's clock ticks every two seconds
    assert three_mf_bytes(_meshes()[:1]) == first
    name, mesh = _meshes()[0]
    assert three_mf_bytes([(name + "!", mesh)]) != first


def test_what_is_not_closed_or_has_no_name_is_refused() -> None:
    name, mesh = _meshes()[0]
    with pytest.raises(ProofFailed, match="not closed"):
        three_mf_bytes([(name, Mesh(mesh.points, mesh.facets[1:]))])
    one_turned = mesh.facets.copy()
    one_turned[0] = one_turned[0][::-1]
    with pytest.raises(ProofFailed, match="face outward"):
        three_mf_bytes([(name, Mesh(mesh.points, one_turned))])
    with pytest.raises(ProofFailed, match="inside out"):
        three_mf_bytes([(name, Mesh(mesh.points, mesh.facets[:, ::-1]))])
    with pytest.raises(BadInput, match="give one"):
        three_mf_bytes([])
    with pytest.raises(BadInput, match="name"):
        three_mf_bytes([(" ", mesh)])


def test_where_there_is_no_library_it_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    three_mf._lib3mf.cache_clear()
    monkeypatch.setitem(sys.modules, "lib3mf", None)
    with pytest.raises(KernelMissing, match="pip install lib3mf"):
        three_mf_bytes(_meshes()[:1])
