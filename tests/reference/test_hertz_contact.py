"""The touch of a sphere on a rigid flat.

Source
------
H. Hertz, "Über die Berührung fester elastischer Körper", J. reine angew. Math. 92 (1881) 156,
a³ = 3 F R (1 − ν²)/(4 E); the numbers are those of a finite-element contact benchmark in use
(sphere of radius 8 mm, 60π N, E = 1000 MPa, ν = 0.3: contact radius 1.010 mm).
"""

from __future__ import annotations

import math

import pytest

from wadforms.setting.rounds import hertz_radius


def test_contact_benchmark() -> None:
    # Published with four digits.
    assert hertz_radius(60 * math.pi, 8.0, 1000.0, 0.3) == pytest.approx(1.010, abs=5e-4)


def test_radius_grows_with_the_cube_root() -> None:
    """From Hertz's formula, so exact: eight times the force, or the radius, doubles the touch."""
    one = hertz_radius(10.0, 50.0, 500.0, 0.2)
    assert hertz_radius(80.0, 50.0, 500.0, 0.2) == pytest.approx(2 * one, rel=1e-12)
    assert hertz_radius(10.0, 400.0, 500.0, 0.2) == pytest.approx(2 * one, rel=1e-12)
    assert hertz_radius(10.0, 50.0, 4000.0, 0.2) == pytest.approx(one / 2, rel=1e-12)


def test_approach_and_peak_pressure_agree_with_the_contact_radius() -> None:
    """Integrate Hertz's half-ellipsoid of pressure: it must carry the force.

    p₀ = 2 a E*/(π R), also Hertz (1881); K. L. Johnson, Contact Mechanics (1985), eq. 4.24.
    """
    force, radius, modulus, poisson = 188.0, 8.0, 1000.0, 0.3
    a = hertz_radius(force, radius, modulus, poisson)
    peak = 2 * a * (modulus / (1 - poisson**2)) / (math.pi * radius)
    steps = 2000
    rings = [(k + 0.5) * a / steps for k in range(steps)]
    carried = sum(peak * math.sqrt(1 - (r / a) ** 2) * math.tau * r * a / steps for r in rings)
    # The midpoint rule on 2000 rings is off by some 1e-6, at the rim, where the slope is endless.
    assert carried == pytest.approx(force, rel=1e-4)
