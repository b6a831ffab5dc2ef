"""Level slices of a mesh; trimesh cuts the same mesh its own way."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from every_piece import pieces
from level_slices import rings
from shapely import Polygon
from shells import merged

from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.proofs.proof import body_count
from wadforms.moulds.proofs.rings import cycles, edges_of, rings_of
from wadforms.moulds.proofs.slices import slicer

DEFAULTS = [name for name in pieces() if name.endswith(": default")]


def _trimesh(mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.Trimesh(mesh.points, mesh.facets, process=False)


@pytest.mark.parametrize("name", DEFAULTS)
def test_slices_are_those_of_trimesh(name: str) -> None:
    mesh = meshed(pieces()[name].body)
    cut = slicer(mesh)
    low, high = mesh.points[:, 2].min(), mesh.points[:, 2].max()
    for share in (0.013, 0.37, 0.71):
        z = low + share * (high - low)
        ours = sorted((Polygon(ring) for ring in cut(z)), key=lambda ring: -ring.area)
        theirs = rings(_trimesh(mesh), z)
        assert [ring.area for ring in ours] == pytest.approx([ring.area for ring in theirs])
        # trimesh merges corners nearer than its own tolerance.
        lengths = [ring.length for ring in ours]
        assert lengths == pytest.approx([ring.length for ring in theirs], rel=1e-6)


def test_a_slice_through_corners_is_whole() -> None:
    """An octahedron at the level of its waist, and just where its tip is."""
    mesh = _octahedron()
    (waist,) = slicer(mesh)(0.0)
    assert Polygon(waist).area == pytest.approx(2.0)
    assert slicer(mesh)(1.0 + 1e-9) == []
    assert slicer(mesh)(-1.0) == []
    (tip,) = slicer(mesh)(1.0)
    assert np.abs(tip).max() == 0.0


def _octahedron() -> Mesh:
    solid = trimesh.Trimesh(
        [(1, 0, 0), (0, 1, 0), (-1, 0, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)],
        [(0, 1, 4), (1, 2, 4), (2, 3, 4), (3, 0, 4), (1, 0, 5), (2, 1, 5), (3, 2, 5), (0, 3, 5)],
        process=False,
    )
    assert solid.is_volume
    return Mesh(np.asarray(solid.vertices), np.asarray(solid.faces, dtype=np.int64))


def test_bodies_are_counted_whatever_the_order_of_their_corners() -> None:
    """Against trimesh's parts, with corners numbered at random."""
    random = np.random.default_rng(5)
    for count in (1, 2, 7):
        mesh = merged([meshed(pieces()[name].body) for name in DEFAULTS[:count]])
        number = random.permutation(len(mesh.points))
        facets = random.permutation(number[mesh.facets])
        points = np.empty_like(mesh.points)
        points[number] = mesh.points
        assert body_count(facets) == _trimesh(Mesh(points, facets)).body_count == count


def test_rings_that_meet_in_a_corner_are_all_there() -> None:
    """Two squares of facets with one corner in common."""
    facets = np.array([[0, 1, 2], [0, 2, 3], [2, 4, 5], [2, 5, 6]])
    edges = {(int(a), int(b)) for a, b in edges_of(facets)}
    walked = {
        (int(a), int(b))
        for ring in rings_of(facets)
        for a, b in zip(ring, np.roll(ring, -1), strict=True)
    }
    assert walked == edges
    assert len(edges) == 8


def test_cycles_hold_each_number_once() -> None:
    following = np.random.default_rng(3).permutation(500).tolist()
    found = cycles(following)
    assert sorted(k for cycle in found for k in cycle) == list(range(500))
    assert all(
        following[a] == b
        for cycle in found
        for a, b in zip(cycle, [*cycle[1:], cycle[0]], strict=True)
    )
