"""Tipping angle of n equal wads on a circle.

Source
------
Statics of a rigid body on a plane, as in any textbook (e.g. J. L. Meriam, Statics): it tips when
its weight passes the nearest edge of the support polygon.  The apothem of a regular polygon in a
circle of radius r is r cos(π/n).  Derived; the polygon here is that of SymPy.
"""

from __future__ import annotations

import math

import pytest
import sympy as sp

from wadforms.setting.arrangement import circle
from wadforms.setting.stability import support_polygon, tipping_angle

TABLE = [(3, 11.310), (4, 15.793), (5, 17.932), (6, 19.107)]


@pytest.mark.parametrize(("count", "expected"), TABLE)
def test_wads_on_40_mm_under_a_weight_100_mm_up(count: int, expected: float) -> None:
    polygon = sp.RegularPolygon((0, 0), 40, count)
    by_sympy = math.degrees(math.atan(float(polygon.apothem) / 100.0))
    assert by_sympy == pytest.approx(expected, abs=5e-4)
    spots = circle(count, 40.0)
    hull = support_polygon([(spot.x, spot.y) for spot in spots])
    assert len(hull) == count
    assert tipping_angle(hull, (0.0, 0.0), 100.0) == pytest.approx(by_sympy, rel=1e-12)


def test_off_centre_weight() -> None:
    """Distance to the nearest edge by SymPy's exact geometry."""
    corners = [(0, 0), (90, 10), (70, 80), (5, 60)]
    weight = (50, 25)
    polygon = sp.Polygon(*corners)
    nearest = min(float(side.distance(sp.Point(*weight))) for side in polygon.sides)
    found = tipping_angle(support_polygon([(float(x), float(y)) for x, y in corners]), weight, 60.0)
    assert found == pytest.approx(math.degrees(math.atan(nearest / 60.0)), rel=1e-12)
