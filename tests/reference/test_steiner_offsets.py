"""Offsets, frustums and drafted prisms against closed forms.

Source
------
Jakob Steiner's formula for parallel bodies in the plane, A(d) = A + P d + π d² (Steiner 1840, as
in R. Schneider, Convex Bodies: The Brunn-Minkowski Theory, 2nd ed., Cambridge 2014, ch. 4; from
memory); the frustum of a cone, V = π h (R² + R r + r²)/3 and lateral π (R + r) s, is in any
handbook, e.g. Bronshtein & Semendyayev, Handbook of Mathematics.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh

from wadforms.families.disk import Disk
from wadforms.families.pad import Pad
from wadforms.geometry.body import Loft
from wadforms.geometry.construct import rounded
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

BOX = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)]
AREA, PERIMETER = 800.0, 120.0

# Lines and arcs are exact, so only rounding of doubles is left.
EXACT = 1e-9

# A sharp corner is no arc, so round offsets start from the box grown by this much [mm] already.
GROWN = 0.1


def steiner(d: float) -> float:
    """Area of the box and all within `d` of it."""
    return AREA + PERIMETER * d + math.pi * d * d


def grown_box() -> Outline:
    """All within `GROWN` of the box."""
    low, x, y = -GROWN, 40.0 + GROWN, 20.0 + GROWN
    return Outline(rounded([(low, low), (x, low), (x, y), (low, y)], GROWN))


def drafted_volume(t: float, h: float, start: float) -> float:
    """The integral of Steiner's formula over the depth, offsets from `start` to `start` + t h."""
    end = start + t * h
    return sum(c / t * (end**k - start**k) / k for k, c in enumerate((AREA, PERIMETER, math.pi), 1))


@pytest.mark.parametrize(
    ("d", "round_corners", "mitred"), [(1.5, 987.06858, 989.0), (3.0, 1188.27433, 1196.0)]
)
def test_offset_of_a_box(d: float, round_corners: float, mitred: float) -> None:
    # Derived: computed here by Steiner's formula, and by the sides of the larger box.
    assert steiner(d) == pytest.approx(round_corners, abs=5e-6)
    assert grown_box().offset(d - GROWN).area == pytest.approx(steiner(d), rel=EXACT)
    larger = (40.0 + 2 * d) * (20.0 + 2 * d)
    assert larger == mitred
    assert Outline(Contour.polygon(BOX)).offset(d).area == pytest.approx(larger, rel=EXACT)


def test_drafted_prism() -> None:
    """Walls at 3° from a box of 40 × 20 mm, 15 mm deep."""
    t, h = math.tan(math.radians(3.0)), 15.0
    by_steiner = drafted_volume(t, h, 0.0)
    by_sides = AREA * h + PERIMETER * t * h**2 / 2 + 4 * t**2 * h**3 / 3
    assert by_steiner == pytest.approx(12717.21222, abs=5e-6)
    assert by_sides == pytest.approx(12719.86461, abs=5e-6)
    profile = ((0.0, h * t), (h, 0.0))
    grown = drafted_volume(t, h, GROWN)
    assert Loft.drafted(grown_box(), profile).volume == pytest.approx(grown, rel=EXACT)
    sharp = Loft.drafted(Outline(Contour.polygon(BOX)), profile)
    assert sharp.volume == pytest.approx(by_sides, rel=EXACT)


def test_pad_is_that_prism() -> None:
    piece = Pad(length=40, width=20, corner=0, height=15, draft=3).piece()
    assert piece.volume == pytest.approx(12719.86461, abs=5e-6)


def test_frustum() -> None:
    """A disk whose walls lean out from radius 8 to 10 mm over 12 mm."""
    draft = math.degrees(math.atan2(2.0, 12.0))
    piece = Disk(diameter=16, height=12, draft=draft).piece()
    volume = math.pi * 12.0 * (100.0 + 80.0 + 64.0) / 3
    lateral = math.pi * 18.0 * math.hypot(2.0, 12.0)
    assert volume == pytest.approx(3066.19443, abs=5e-6)
    assert lateral == pytest.approx(687.94423, abs=5e-6)
    assert piece.volume == pytest.approx(volume, rel=EXACT)
    assert piece.coated_area == pytest.approx(lateral + math.pi * 64.0, rel=EXACT)


def test_frustum_of_64_sides_by_trimesh() -> None:
    """The figure that a mesh of straight facets has, computed by trimesh from its triangles."""
    n = 64
    angles = [math.tau * k / n for k in range(n)]
    low = [(10 * math.cos(a), 10 * math.sin(a), 0.0) for a in angles]
    high = [(8 * math.cos(a), 8 * math.sin(a), 12.0) for a in angles]
    hull = trimesh.convex.convex_hull(np.array([*low, *high]))
    assert hull.volume == pytest.approx(3061.27133, abs=5e-6)
    sides = [
        Outline(Contour.polygon([(r * math.cos(a), r * math.sin(a)) for a in angles]))
        for r in (10.0, 8.0)
    ]
    loft = Loft(((0.0, sides[0]), (12.0, sides[1])))
    # trimesh sums 252 triangles in doubles.
    assert loft.volume == pytest.approx(float(hull.volume), rel=1e-12)
