"""Triangles of parts: closed, of the part's own volume, and alike however they were made."""

from __future__ import annotations

import math
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
import trimesh
from every_piece import pieces
from manifold3d import Error, Manifold, Mesh64

from wadforms.geometry.body import Body, Bowl, Loft, Trough
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.meshes.assembly import _cut, assembled, meshed
from wadforms.moulds.meshes.mesh import Mesh, stl_bytes
from wadforms.moulds.meshes.sinking import sunk
from wadforms.moulds.part import Part, Placed

# A way of being built each: cones, holes with pins, slots, cones and bowls, a hump, fine tips.
SAMPLE = [f"{name}: default" for name in ("disk", "tee", "ring", "stand", "custom", "crescent")]
SAMPLE += [f"{name}: default" for name in ("cone-seat", "cradle", "pointed-tripod", "stone-seat")]

# Arcs are flattened with their area kept, so only a ball and what leans along an arc lose any:
# facets on a ball turn by 6° at most, which changes its volume by some thousandths.
ARCS, BALLS = 1e-5, 5e-3


def _square(side: float) -> Outline:
    h = side / 2
    return Outline(Contour.polygon([(-h, -h), (h, -h), (h, h), (-h, h)]))


def _prism(outline: Outline, height: float) -> Body:
    return Body((Loft(((0.0, outline), (height, outline))),))


def _part(solids: tuple[Placed, ...], cuts: tuple[Placed, ...]) -> Part:
    form = cuts[0].body if cuts else solids[0].body
    return Part(
        name="it", solids=solids, cuts=cuts, form=form, wall=2.0, floor=2.0, relief=0.0
    )  # fmt: skip


def _board(name: str, count: int = 3, **parameters: float) -> Part:
    order = Order(pieces()[name], 0.065, ("wad", "6.5 %"), Board(pieces=count))
    return Tray(**parameters).make(order).parts[0]


def _manifold(mesh: Mesh) -> Manifold:
    points, facets = np.array(mesh.points, order="C"), mesh.facets.astype(np.uint64, order="C")
    made = Manifold(Mesh64(points, facets))
    assert made.status() == Error.NoError
    return made


def _closed(mesh: Mesh) -> trimesh.Trimesh:
    made = trimesh.Trimesh(mesh.points, mesh.facets, process=False)
    assert made.is_watertight
    assert made.is_winding_consistent
    assert made.volume > 0
    return made


@pytest.mark.parametrize("turn", [0.0, 33.3, 180.0])
@pytest.mark.parametrize("over", [False, True])
@pytest.mark.parametrize("name", SAMPLE)
def test_a_body_stands_where_it_is_placed(name: str, over: bool, turn: float) -> None:
    """Corners by a rotation matrix of our own; volume by trimesh."""
    body = pieces()[name].body
    mesh = assembled(_part((Placed(body, 12.0, -7.0, 30.0, turn, over),), ()))
    half = np.diag([-1.0, 1.0, -1.0]) if over else np.eye(3)
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    about_z = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
    expected = meshed(body).points @ (about_z @ half).T + [12.0, -7.0, 30.0]
    made = _closed(mesh)
    assert made.bounds[0] == pytest.approx(expected.min(axis=0), abs=2e-4)
    assert made.bounds[1] == pytest.approx(expected.max(axis=0), abs=2e-4)
    assert made.volume == pytest.approx(meshed(body).volume, rel=1e-6)


@pytest.mark.parametrize("name", SAMPLE)
def test_volume_of_a_body(name: str) -> None:
    """Prismatoids, cones and caps reckoned by formula; triangles summed by trimesh."""
    body = pieces()[name].body
    made = _closed(meshed(body))
    hollow = sum(p.volume for p in body.pockets if isinstance(p, Bowl | Trough))
    assert made.volume == pytest.approx(body.volume, abs=ARCS * body.volume + BALLS * hollow)


def test_a_ring_has_a_handle() -> None:
    made = _closed(meshed(pieces()["ring: default"].body))
    assert 1 - made.euler_number / 2 == 1


def test_a_bowl_and_a_channel_by_their_textbook_volumes() -> None:
    """Spherical cap π d (3 a² + d²)/6 and circular segment r² (φ − sin φ)/2 times its length."""
    block = _square(40).scaled(1.0)
    bowl = Body((Loft(((0.0, block), (15.0, block))),), (Bowl(3.0, -4.0, 15.0, 9.0, 4.0),))
    lost = 40**2 * 15 - meshed(bowl).volume
    assert lost == pytest.approx(math.pi * 4 * (3 * 81 + 16) / 6, rel=BALLS)
    channel = Body(
        (Loft(((0.0, block), (15.0, block))),),
        (Trough(z=15.0, radius=20.0, half_width=10.0, length=40.0, spread=0.0),),
    )
    phi = 2 * math.asin(0.5)
    lost = 40**2 * 15 - meshed(channel).volume
    assert lost == pytest.approx(200 * (phi - math.sin(phi)) * 40, rel=BALLS)


@pytest.mark.parametrize("name", SAMPLE)
def test_a_board_has_the_volume_of_its_part(name: str) -> None:
    part = _board(name)
    made = _closed(assembled(part))
    assert made.body_count == 1
    hollow = sum(p.volume for p in part.form.pockets if isinstance(p, Bowl | Trough))
    most = ARCS * part.volume + BALLS * len(part.cuts) * hollow
    assert made.volume == pytest.approx(part.volume, abs=most)
    assert made.extents == pytest.approx(part.size, abs=2e-4)


@pytest.mark.parametrize("name", SAMPLE)
def test_sinking_and_cutting_give_one_solid(name: str) -> None:
    part = _board(name)
    quick = sunk(part, _cut, meshed)
    assert quick is not None
    one, other = _manifold(quick), _manifold(_cut(part))
    assert one.volume() == pytest.approx(other.volume(), rel=1e-7)
    assert one.genus() == other.genus()
    assert one.bounding_box() == pytest.approx(other.bounding_box(), abs=2e-4)
    # What they do not have in common is a skin thinner than the step that corners are joined by.
    assert (one - other).volume() + (other - one).volume() < 1e-4 * one.surface_area()


def test_pins_of_rings_stand_up_to_the_rim() -> None:
    part = _board("ring: default", ledge=0.0)
    quick = sunk(part, _cut, meshed)
    assert quick is not None
    level = quick.triangles[(abs(quick.triangles[:, :, 2] - part.size[2]) < 1e-9).all(axis=1)]
    sides = level[:, 1:] - level[:, :1]
    lid = 0.5 * np.cross(sides[:, 0], sides[:, 1])[:, 2].sum()
    base = part.form.base
    block = part.solids[-1].body.lofts[0].top[1].area
    assert lid == pytest.approx(block - len(part.cuts) * base.area, rel=1e-6)
    assert base.holes


def _two(first: Placed, *others: Placed) -> Part:
    return _part((Placed(_prism(_square(50), 12.0)),), (first, *others))


def _pit(height: float = 6.0) -> Body:
    return Body((Loft.drafted(_square(8), ((0.0, 1.0), (height, 0.0))),))


def test_what_opens_elsewhere_is_cut() -> None:
    above = Placed(_pit(), -12.0, 0.0, 12.0, over=True)
    for other in (
        Placed(_prism(_square(5), 4.0), 12.0, 0.0),  # through the foot
        Placed(_prism(_square(5), 14.0), 12.0, 0.0, -1.0),  # right through
        Placed(_pit(), 12.0, 0.0, 11.0, over=True),  # below the top
        Placed(_pit(12.0), 12.0, 0.0, 12.0, over=True),  # down to the bed
    ):
        part = _two(above, other)
        assert sunk(part, _cut, meshed) is None
        made = _closed(assembled(part))
        within = _manifold(meshed(other.body)).volume() - (other.z < 0) * 2 * 25
        if other.z == 11.0:
            continue  # a hollow all around closed: its volume is the next test's
        assert made.volume == pytest.approx(30000 - meshed(above.body).volume - within, rel=1e-6)
    assert sunk(_two(above), _cut, meshed) is not None
    assert sunk(_part((Placed(_prism(_square(9), 3.0)),), ()), _cut, meshed) is None


def test_a_hollow_closed_all_around_is_a_shell_of_its_own() -> None:
    part = _two(Placed(_prism(_square(5), 4.0), 0.0, 0.0, 3.0))
    mesh = assembled(part)
    made = trimesh.Trimesh(mesh.points, mesh.facets, process=False)
    assert made.body_count == 2
    assert made.volume == pytest.approx(30000 - 100, rel=1e-9)


def test_a_lid_with_corners_in_a_line_is_cut() -> None:
    """Mouths whose corners lie on one line, nearer to it than a file can tell, give way."""
    fine = [(-4.0, -4.0), (4.0, -4.0), (4.0, 4.0), (1.0, 4.0 + 4e-6), (-4.0, 4.0)]
    body = _prism(Outline(Contour.polygon(fine)), 5.0)
    part = _two(Placed(body, 0.0, 0.0, 12.0, over=True))
    made = _closed(assembled(part))
    assert made.volume == pytest.approx(30000 - 64 * 5, rel=1e-6)
    quick = sunk(part, _cut, meshed)
    heights = _altitudes(made)
    assert quick is None or _altitudes(_closed(quick)).min() >= 1e-5
    assert heights.min() > 1e-5


def _altitudes(made: trimesh.Trimesh) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    longest = made.edges_unique_length[made.faces_unique_edges].max(axis=1)
    return np.asarray(2 * made.area_faces / longest)


def test_steps_and_lofts_that_stand_on_each_other() -> None:
    tower = Body(
        (
            Loft(((0.0, _square(30)), (5.0, _square(26)), (5.0, _square(20)), (9.0, _square(20)))),
            Loft(((9.0, Outline.circle(6)), (14.0, Outline.circle(4)))),
        )
    )
    made = _closed(meshed(tower))
    frustum = 5 / 3 * (900 + 26 * 30 + 676)  # h/3 (A + √(A B) + B)
    cone = math.pi * 5 / 3 * (36 + 24 + 16)
    assert made.volume == pytest.approx(frustum + 1600 + cone, rel=1e-5)


@pytest.mark.skipif(shutil.which("admesh") is None, reason="Debian's admesh is not installed")
@pytest.mark.parametrize("name", SAMPLE)
def test_nothing_for_another_program_to_repair(name: str, tmp_path: Path) -> None:
    """admesh, a checker of STL files that Debian has: no gap, no flip, no facet to add."""
    part = _board(name)
    path = tmp_path / "board.stl"
    path.write_bytes(stl_bytes(assembled(part), "it"))
    done = subprocess.run(
        ["admesh", str(path)], capture_output=True, check=True, text=True, errors="replace"
    )
    told = {
        name.strip(): value for name, value in re.findall(r"([A-Z][\w ]+?) *: +(\S+)", done.stdout)
    }
    for fault in ("Degenerate facets", "Edges fixed", "Facets removed", "Facets added",
                  "Facets reversed", "Backwards edges", "Normals fixed"):  # fmt: skip
        assert told[fault] == "0", (fault, done.stdout)
    assert told["Number of parts"] == "1"
    assert float(told["Volume"]) == pytest.approx(part.volume, rel=1e-3)
