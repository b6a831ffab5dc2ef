"""Pressure without tension against the rectangular footing loaded beyond its kern.

Source
------
J. E. Bowles, Foundation Analysis and Design (McGraw-Hill), on eccentrically loaded spread
footings (from memory): for e ≤ B/6, q = V/(B L) (1 ± 6 e/B); beyond it the pressure is a
triangle over 3 (B/2 − e) and q_max = 2 V/(3 L (B/2 − e)).  The triangle follows from two
balances, so it is derived too: its centre, a third of its base from the edge, lies under V.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely

from wadforms.families.disk import Disk
from wadforms.setting.load import pressure_plane

B, L, V = 60.0, 20.0, 1200.0


@pytest.mark.parametrize("e", [0.0, 2.0, 5.0, 9.9])
def test_within_the_kern(e: float) -> None:
    plane = pressure_plane([shapely.box(-B / 2, -L / 2, B / 2, L / 2)], V, (e, 0.0))
    assert plane is not None
    assert not plane.lifted
    assert plane.peak == pytest.approx(V / (B * L) * (1 + 6 * e / B), rel=1e-9)


@pytest.mark.parametrize("turn", [0.0, 33.0, 90.0])
@pytest.mark.parametrize("e", [10.1, 12.0, 15.0, 20.0, 25.0, 29.0])
def test_beyond_the_kern(e: float, turn: float) -> None:
    box = shapely.affinity.rotate(shapely.box(-B / 2, -L / 2, B / 2, L / 2), turn, origin=(0, 0))
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    plane = pressure_plane([box], V, (e * c, e * s))
    assert plane is not None
    assert plane.lifted
    # The planes are iterated until they change by less than 1e-7 of themselves.
    assert plane.peak == pytest.approx(2 * V / (3 * L * (B / 2 - e)), rel=1e-6)
    # Pressure vanishes where the triangle ends.
    end = B / 2 - 3 * (B / 2 - e)
    at_end = plane.a + plane.b * end * c + plane.c * end * s
    assert at_end == pytest.approx(0.0, abs=1e-6 * plane.peak)


@pytest.mark.parametrize("e", [30.0, 30.1, 45.0])
def test_weight_off_the_footing_falls(e: float) -> None:
    assert pressure_plane([shapely.box(-B / 2, -L / 2, B / 2, L / 2)], V, (e, 0.0)) is None


def test_a_row_of_footings_lifts_like_one_cut_into_pieces() -> None:
    """Slicing a footing changes nothing, since all slices lie in one plane."""
    cuts = [-30.0, -18.0, -2.0, 11.0, 23.0, 30.0]
    slices = [shapely.box(a, -L / 2, b, L / 2) for a, b in pairwise(cuts)]
    plane = pressure_plane(slices, V, (20.0, 0.0))
    assert plane is not None
    assert plane.peak == pytest.approx(2 * V / (3 * L * (B / 2 - 20.0)), rel=1e-6)
    # The triangle spans x = 0 to 30: the first slice is off it, and each force is the integral
    # of its part, V ((b/30)² − (a/30)²).
    ends = [max(0.0, x) / 30.0 for x in cuts]
    expected = [V * (b * b - a * a) for a, b in pairwise(ends)]
    assert plane.forces == pytest.approx(expected, rel=1e-5, abs=1e-5 * V)


def test_round_footing_within_its_kern() -> None:
    """A disc: I/(A c) = R/4, and at that eccentricity the peak is twice the mean."""
    (face,) = Disk(diameter=60).piece().faces
    region = face.polygon()
    plane = pressure_plane([region], V, (30.0 / 4, 0.0))
    assert plane is not None
    # Largest pressure is that at a corner of the polygon, 0.005 mm or 2e-4 off the circle.
    assert plane.peak == pytest.approx(2 * V / (math.pi * 900.0), rel=5e-4)
