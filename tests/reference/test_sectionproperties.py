"""Area moments and the plane of pressure against sectionproperties.

Source
------
Robbie van Leeuwen and others, sectionproperties 3.10 (MIT licence), finite-element analysis of
cross-sections: sectionproperties.readthedocs.io.  Its quadratic triangles integrate area,
first and second moments of straight-sided regions without error.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
import shapely
from sectionproperties.analysis.section import Section
from sectionproperties.pre.geometry import CompoundGeometry, Geometry

from wadforms.families.angle import Angle
from wadforms.geometry.moments import moments
from wadforms.setting.load import pressure_plane

# Sums over some hundred triangles in doubles on their side, over edges on ours.
EXACT = 1e-9


def analysed(regions: Sequence[Any], size: float) -> Section:
    """Regions meshed with triangles of at most `size` mm² and analysed as one section."""
    geometry = CompoundGeometry([Geometry(region) for region in regions])
    section = Section(geometry.create_mesh(mesh_sizes=[size]))
    section.calculate_geometric_properties()
    return section


def stresses(section: Section, force: float, x: float, y: float) -> Any:
    """Normal stress at each node from a force that acts (x, y) from the centroid.

    Their M_yy is positive where it presses the side of negative x.
    """
    stress = section.calculate_stress(n=force, mxx=force * y, myy=-force * x)
    return np.asarray(stress.get_stress()[0]["sig_zz"])


@pytest.fixture(scope="module")
def angle_piece() -> Any:
    """Two legs of 40 × 10 mm with sharp corners, from the outer corner on, as our polygon."""
    piece = Angle(leg=40, other_leg=40, width=10, corner=0, inner=0, draft=0).piece()
    (face,) = piece.faces
    x0, y0, _, _ = face.bounds
    return face.moved(-x0, -y0).polygon()


def test_right_angle_piece(angle_piece: Any) -> None:
    section = analysed([angle_piece], 20.0)
    area = float(section.get_area())
    cx, cy = map(float, section.get_c())
    ixx, iyy, ixy = map(float, section.get_ic())
    # Computed with sectionproperties 3.10; rounded as written.
    assert area == pytest.approx(700.0, rel=EXACT)
    assert (cx, cy) == pytest.approx((13.5714, 13.5714), abs=5e-5)
    assert (ixx, iyy, ixy) == pytest.approx((94404.76, 94404.76, -51428.57), abs=5e-3)
    (ours,) = moments([angle_piece])
    gx, gy = ours.centroid
    about_own = (ours.yy - ours.y * gy, ours.xx - ours.x * gx, ours.xy - ours.x * gy)
    assert (ours.area, gx, gy) == pytest.approx((area, cx, cy), rel=EXACT)
    assert about_own == pytest.approx((ixx, iyy, ixy), rel=EXACT)


def test_angle_piece_is_centred_on_its_area() -> None:
    piece = Angle(leg=40, other_leg=40, width=10, corner=0, inner=0, draft=0).piece()
    x0, y0, _, _ = piece.faces[0].bounds
    assert (-x0, -y0) == pytest.approx((13.5714, 13.5714), abs=5e-5)  # as above


@pytest.mark.parametrize("centre", [(0.0, 0.0), (3.0, 1.0), (-2.0, 2.5)])
def test_pressure_over_one_patch(centre: tuple[float, float], angle_piece: Any) -> None:
    """Normal stress from force and two bending moments, point by point."""
    force = 1200.0
    section = analysed([angle_piece], 20.0)
    cx, cy = map(float, section.get_c())
    load = (cx + centre[0], cy + centre[1])
    sigma = stresses(section, force, *centre)
    plane = pressure_plane([angle_piece], force, load)
    assert plane is not None
    assert not plane.lifted
    x, y = np.asarray(section.mesh["vertices"]).T
    # They average over the triangles round each node, we evaluate a plane: doubles only.
    assert plane.a + plane.b * x + plane.c * y == pytest.approx(sigma, rel=1e-6, abs=1e-9)
    assert plane.peak == pytest.approx(float(sigma.max()), rel=1e-6)


def test_pressure_over_three_separate_patches() -> None:
    """Three square wads of different size, weight off the middle: taken as one section."""
    force = 500.0
    squares = [
        shapely.box(30, -6, 42, 6),
        shapely.box(-25, 20, -9, 36),
        shapely.box(-24, -40, -4, -20),
    ]
    section = analysed(squares, 10.0)
    cx, cy = map(float, section.get_c())
    load = (cx + 3.0, cy - 2.0)
    sigma = stresses(section, force, 3.0, -2.0)
    plane = pressure_plane(squares, force, load)
    assert plane is not None
    assert not plane.lifted
    assert plane.peak == pytest.approx(float(sigma.max()), rel=1e-6)
    assert sum(plane.forces) == pytest.approx(force, rel=EXACT)
