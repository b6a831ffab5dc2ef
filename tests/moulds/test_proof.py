"""The proof finds what it is there to find, and its volume is that of textbooks."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh

from wadforms.errors import ProofFailed
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.proofs.proof import facing_down, prove
from wadforms.moulds.solids.solid import solid


@pytest.fixture
def frustum() -> Mesh:
    body = Body((Loft.drafted(Outline.circle(8), ((0, 2), (12, 0))),))
    return meshed(body)


def test_frustum_of_a_cone(frustum: Mesh) -> None:
    """Textbook formula: π h (R² + R r + r²)/3 = 3066.19443 mm³ for 10, 8, 12 mm."""
    assert prove(frustum.triangles, "frustum").volume == pytest.approx(3066.19443, rel=1e-3)
    read = trimesh.Trimesh(frustum.points, frustum.facets)
    assert read.volume == pytest.approx(prove(frustum.triangles, "frustum").volume, rel=1e-12)


def test_frustum_of_64_sides() -> None:
    """Inscribed, by n/2 sin(2π/n) of the circle's area: 3061.27133 mm³, with no tolerance."""
    turns = [math.tau * k / 64 for k in range(64)]
    rings = [
        Outline(Contour.polygon([(r * math.cos(t), r * math.sin(t)) for t in turns]))
        for r in (10.0, 8.0)
    ]
    body = Body((Loft(((0, rings[0]), (12, rings[1]))),))
    assert solid(body).Volume() == pytest.approx(3061.27133, abs=1e-5)
    mesh = meshed(body)
    assert trimesh.Trimesh(mesh.points, mesh.facets).volume == pytest.approx(3061.27133, abs=1e-5)


@pytest.mark.parametrize(("radius", "volume"), [(0.0, 12719.86461), (1e-6, 12719.86461)])
def test_drafted_prism(radius: float, volume: float) -> None:
    """40 × 20 × 15 mm at 3° with mitred corners, by the prismatoid formula."""
    from wadforms.geometry.construct import rounded

    corners = [(-20.0, -10.0), (20.0, -10.0), (20.0, 10.0), (-20.0, 10.0)]
    spread = 15 * math.tan(math.radians(3))
    outline = Outline(rounded(corners, radius) if radius else Contour.polygon(corners))
    body = Body((Loft.drafted(outline, ((0, spread), (15, 0))),))
    if radius:
        # Corners that grow round: Steiner's formula adds P d + π d² where a mitre adds 4 d².
        volume = 12717.21222
    mesh = meshed(body)
    assert trimesh.Trimesh(mesh.points, mesh.facets).volume == pytest.approx(volume, rel=2e-5)


def test_a_ball_bitten_out_keeps_its_volume() -> None:
    """A half sphere of 6 mm, 2/3 π r³, sunk into a block."""
    from wadforms.geometry.body import Bowl

    square = Outline(Contour.polygon([(-10, -10), (10, -10), (10, 10), (-10, 10)]))
    body = Body((Loft(((0, square), (9, square))),), (Bowl(0, 0, 9, 6, 6),))
    made = solid(body)
    lost = 400 * 9 - meshed(body).volume
    assert 3600 - made.Volume() == pytest.approx(2 / 3 * math.pi * 216, rel=1e-9)
    assert lost == pytest.approx(2 / 3 * math.pi * 216, rel=5e-3)


def test_a_gap(frustum: Mesh) -> None:
    with pytest.raises(ProofFailed, match="not closed: 3 edges"):
        prove(frustum.triangles[1:], "it")


def test_a_facet_turned(frustum: Mesh) -> None:
    turned = frustum.triangles.copy()
    turned[5] = turned[5, ::-1]
    with pytest.raises(ProofFailed, match="not closed"):
        prove(turned, "it")


def test_a_facet_twice(frustum: Mesh) -> None:
    with pytest.raises(ProofFailed, match="not closed"):
        prove(np.concatenate([frustum.triangles, frustum.triangles[:1]]), "it")


def test_inside_out(frustum: Mesh) -> None:
    with pytest.raises(ProofFailed, match="inside out"):
        prove(frustum.triangles[:, ::-1], "it")


def test_two_bodies(frustum: Mesh) -> None:
    both = np.concatenate([frustum.triangles, frustum.triangles + 50])
    with pytest.raises(ProofFailed, match="2 bodies"):
        prove(both, "it")


def test_a_facet_without_area(frustum: Mesh) -> None:
    line = np.array([[[0, 0, 0], [1, 0, 0], [2, 0, 0]]])
    with pytest.raises(ProofFailed, match="1 facets without area"):
        prove(np.concatenate([frustum.triangles, line]), "it")


def test_corners_that_are_no_numbers(frustum: Mesh) -> None:
    broken = frustum.triangles.copy()
    broken[0, 0, 0] = math.nan
    with pytest.raises(ProofFailed, match="no numbers"):
        prove(broken, "it")


def test_nothing_at_all() -> None:
    with pytest.raises(ProofFailed, match="no facets"):
        prove(np.zeros((0, 3, 3)), "it")


def test_what_faces_down(frustum: Mesh) -> None:
    """The wide end of a frustum may stand on the bed; upside down, its wall leans over."""
    assert not facing_down(frustum.triangles, above=0.0).any()
    over = frustum.triangles * np.array([1, -1, -1]) + np.array([0, 0, 12])
    assert facing_down(over, above=0.0).any()
