"""The press tray: closed, of the right volume and size, and it lets the piece go."""

from __future__ import annotations

import dataclasses
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import shapely
import stl
import trimesh
from every_piece import pieces
from numpy.typing import NDArray

from wadforms.errors import BadInput, NotMakeable, ProofFailed, WouldOverwrite
from wadforms.families import family
from wadforms.families.base import Piece
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order, Written, write, write_mould
from wadforms.moulds.board import block, lay
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.label import words
from wadforms.moulds.meshes.assembly import assembled
from wadforms.moulds.meshes.mesh import Mesh, stl_bytes
from wadforms.moulds.part import Mould

# One of each way to be built: cones, arms, a hole, tips, slots, bowls, a hump, a free outline.
SAMPLE = [f"{name}: default" for name in ("disk", "tee", "ring", "stand", "cone-seat", "custom")]
SAMPLE += [f"{name}: default" for name in ("pointed-tripod", "stone-seat", "cradle", "crescent")]
DRYING = 0.065  # of a ball clay; a published data sheet


@pytest.fixture
def disk() -> Piece:
    return family("disk").sized({"diameter": 20, "height": 8}).piece()


def _tray(piece: Piece, shrinkage: float = 0.05, **parameters: float) -> Mould:
    return Tray(**parameters).make(Order(piece, shrinkage))


@pytest.mark.parametrize("name", SAMPLE)
def test_file_by_an_independent_library(name: str, tmp_path: Path) -> None:
    piece, path = pieces()[name], tmp_path / "tray.stl"
    order = Order(piece, DRYING, words(name, piece, DRYING))
    made = write_mould(Tray().make(order), path)
    part = made.parts[0]
    read = trimesh.load_mesh(path)
    assert read.is_watertight
    assert read.is_winding_consistent
    assert read.body_count == 1
    assert read.volume == pytest.approx(part.material_volume_mm3, abs=1e-3 * made.wet_volume_mm3)
    assert read.extents == pytest.approx(part.size_mm, abs=1e-3)
    stored = stl.Mesh.from_file(str(path), calculate_normals=False).normals
    assert np.abs(stored - read.face_normals).max() < 1e-3  # unit length, by the right-hand rule
    assert path.stat().st_size == 84 + 50 * part.facets  # binary STL, by its description
    assert part.thinnest_wall_mm == pytest.approx(3.0, abs=0.01)
    assert part.lowest_floor_mm == pytest.approx(3.0, abs=0.01)
    assert made.kernel_volume_mm3 == pytest.approx(made.wet_volume_mm3, rel=1e-6)
    # What comes out, dried, has the set size: length shrinks by S, volume by 1 − (1 − S)³.
    shrunk = 1.0 - DRYING
    assert made.wet_volume_mm3 * shrunk**3 == pytest.approx(piece.volume, rel=1e-9)
    assert made.piece_volume_mm3 == piece.volume
    set_size = (*piece.body.base.size, piece.body.height)
    assert [wet * shrunk for wet in made.wet_size_mm] == pytest.approx(set_size, rel=1e-9)


@pytest.mark.parametrize("name", SAMPLE)
def test_every_point_of_the_cavity_is_seen_from_above(name: str) -> None:
    """A ray from each facet straight up meets nothing: the piece can be drawn out along z."""
    mesh = assembled(_tray(pieces()[name], DRYING).parts[0])
    whole = trimesh.Trimesh(mesh.points, mesh.facets, process=False)
    up = np.flatnonzero(whole.face_normals[:, 2] > 1e-3)
    seen = up[:: max(1, len(up) // 60)]
    start = whole.triangles_center[seen]
    assert not _hit_above(whole.triangles, start).any()


def _hit_above(triangles: NDArray[np.float64], points: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether a triangle lies above each point, by the signs of three areas in plan."""
    a, b, c = (triangles[:, k, :] for k in range(3))
    hit = np.zeros(len(points), dtype=bool)
    for i, p in enumerate(points):
        areas = [_cross(u - p, v - p) for u, v in ((a, b), (b, c), (c, a))]
        total = areas[0] + areas[1] + areas[2]
        flat = np.abs(total) > 1e-9
        share = [area[flat] / total[flat] for area in areas]
        inside = np.all([s > 1e-6 for s in share], axis=0)
        level = share[1] * a[flat, 2] + share[2] * b[flat, 2] + share[0] * c[flat, 2]
        hit[i] = bool((inside & (level > p[2] + 1e-6)).any())
    return hit


def _cross(u: NDArray[np.float64], v: NDArray[np.float64]) -> NDArray[np.float64]:
    return u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]


def test_the_piece_is_turned_over_not_mirrored() -> None:
    """A left hand stays a left hand: the mouth shows the mirror image, the piece does not."""
    piece = family("angle").sized({"leg": 60, "other_leg": 30}).piece()
    part = _tray(piece, 0.0).parts[0]
    points, height = assembled(part).points, part.size[2]
    cut = part.cuts[0]
    for outline, level in ((piece.body.base, height), (piece.faces[0], height - piece.height)):
        for corner in outline.outer.vertices:
            turned = np.array([-corner[0], corner[1]])  # half a turn about y, then where it lies
            angle = math.radians(cut.turn)
            c, s = math.cos(angle), math.sin(angle)
            there = np.array([[c, -s], [s, c]]) @ turned + [cut.x, cut.y]
            assert np.linalg.norm(points - [*there, level], axis=1).min() < 1e-5


def test_wall_and_floor_are_as_asked(disk: Piece, tmp_path: Path) -> None:
    made = _tray(disk, wall=4.0, floor=5.0, relief=0.0, ledge=0.0)
    wet = disk.body.scaled(1 / 0.95)
    size = (wet.base.size[0] + 8, wet.base.size[1] + 8, wet.height + 5)
    assert made.parts[0].size == pytest.approx(size)
    part = write_mould(made, tmp_path / "tray.stl").parts[0]
    assert part.thinnest_wall_mm == pytest.approx(4.0, abs=0.01)
    assert part.lowest_floor_mm == pytest.approx(5.0, abs=1e-6)


def test_a_floor_ends_on_a_whole_layer(disk: Piece) -> None:
    made = _tray(disk, floor=3.1, layer=0.2)
    assert made.parts[0].size[2] - made.wet.height == pytest.approx(3.2)


def test_a_square_mouth_keeps_its_wall_at_the_corners() -> None:
    corners = [(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)]
    mouth = Outline(Contour.polygon(corners))
    laid = lay(mouth, Board(), wall=3.0, rim=3.0, ledge=0.0)
    body = block(laid, height=11.0, wall=3.0, ledge=0.0, ledge_height=0.0, relief=0.0)
    outside = body.solids[0].body.base.polygon().exterior
    assert outside.distance(mouth.polygon()) == pytest.approx(3.0, abs=1e-9)
    assert outside.distance(shapely.Point(10, 10)) == pytest.approx(3.0, abs=1e-9)


def test_holes_to_push_pieces_out(disk: Piece, tmp_path: Path) -> None:
    path = tmp_path / "tray.stl"
    write_mould(Tray(push_out=6.0).make(Order(disk, 0.05, board=Board(pieces=4))), path)
    read = trimesh.load_mesh(path)
    assert read.is_watertight
    assert 1 - read.euler_number / 2 == 4  # the genus: one handle for each hole
    with pytest.raises(BadInput, match="give at most"):
        _tray(disk, push_out=20.0)
    with pytest.raises(BadInput, match=r"push_out: 1 mm was given; give 0 for none, or at least 2"):
        _tray(disk, push_out=1.0)
    with pytest.raises(BadInput, match="no flat bearing face"):
        _tray(family("pointed-tripod")().piece(), push_out=4.0)


def test_what_would_be_held_is_refused() -> None:
    mushroom = Loft(((0, Outline.circle(8)), (5, Outline.circle(8)), (8, Outline.circle(11))))
    piece = Piece(Outline.circle(11), Body((mushroom,)), (Outline.circle(11),))
    with pytest.raises(NotMakeable, match=r"grows wider 5\.0 mm above its base"):
        _tray(piece, 0.0)


@pytest.mark.parametrize("shrinkage", [-0.01, 6.5, math.nan])
def test_shrinkage_out_of_bounds(disk: Piece, shrinkage: float) -> None:
    with pytest.raises(BadInput, match=r"0\.065 for 6\.5 %"):
        _tray(disk, shrinkage)


def test_making_is_checked_and_tells_its_sources() -> None:
    with pytest.raises(BadInput, match=r"wall: 1 mm was given; give 2\.4 mm to 20 mm"):
        Tray(wall=1.0)
    with pytest.raises(BadInput, match=r"layer: 0\.5 mm was given; give no more than the nozzle"):
        Tray(layer=0.5, nozzle=0.4)
    assert all(p.help and p.source for p in Tray.parameters())


def test_nothing_is_overwritten(disk: Piece, tmp_path: Path) -> None:
    path = tmp_path / "tray.stl"
    path.write_text("mine")
    with pytest.raises(WouldOverwrite):
        write_mould(_tray(disk), path)
    assert path.read_text() == "mine"
    made = write_mould(_tray(disk), path, force=True)
    assert made.files == (str(path),)
    assert path.stat().st_size > 1000


def _without_a_facet(mesh: Mesh, title: str) -> bytes:
    return stl_bytes(dataclasses.replace(mesh, facets=mesh.facets[1:]), title)


def _too_large(mesh: Mesh, title: str) -> bytes:
    return stl_bytes(dataclasses.replace(mesh, points=mesh.points * 1.01), title)


def _cut_short(mesh: Mesh, title: str) -> bytes:
    return stl_bytes(mesh, title)[:-25]


@pytest.mark.parametrize("broken", [_without_a_facet, _too_large, _cut_short])
def test_a_file_that_fails_its_proof_is_not_kept(
    broken: object, disk: Piece, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(write, "stl_bytes", broken)
    with pytest.raises(ProofFailed):
        write_mould(_tray(disk), tmp_path / "tray.stl")
    assert list(tmp_path.iterdir()) == []
    kept = tmp_path / "kept.stl"
    kept.write_text("mine")
    with pytest.raises(ProofFailed):
        write_mould(_tray(disk), kept, force=True)
    assert kept.read_text() == "mine"


def test_result_is_plain_data(disk: Piece, tmp_path: Path) -> None:
    made = write_mould(_tray(disk, ledge=0.0), tmp_path / "tray.stl")
    assert isinstance(made, Written)
    assert made.cavities == 1
    assert made.contact_top_area_mm2 == pytest.approx(math.pi * 100)
    # Cavity and material fill the block, whose bevels are prisms: 2 c² for the four corners.
    x, y, z = made.parts[0].size_mm
    corner = 3.0 * (2 - math.sqrt(2))
    upright = (x * y - 2 * corner**2) * (z - 0.5)
    side = x + y - 4 * corner + 2 * math.sqrt(2) * corner  # half the perimeter
    inset = x * y - 2 * corner**2 - 0.5 * 2 * side + 0.25 * 8 * math.tan(math.pi / 8)
    middle = x * y - 2 * corner**2 - 0.25 * 2 * side + 0.0625 * 8 * math.tan(math.pi / 8)
    foot = 0.5 / 6 * (inset + 4 * middle + x * y - 2 * corner**2)
    total = made.wet_volume_mm3 + made.material_volume_mm3
    assert total == pytest.approx(upright + foot, rel=1e-9)


def test_importing_moulds_leaves_the_kernel_alone() -> None:
    code = (
        "import sys, wadforms.moulds; "
        "sys.exit(bool({'cadquery', 'OCP', 'stl', 'numpy'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_how_a_piece_comes_out_is_told(disk: Piece) -> None:
    plain, holed = (" ".join(_tray(disk, push_out=hole).advice) for hole in (0.0, 6.0))
    assert "turn the tray over on a board and knock" in plain
    assert "rod of 5 mm" in holed
    assert "rod" not in plain
    assert all("leather-hard" in told for told in (plain, holed))
