"""The friction hill over a squat disc.

Source
------
W. Johnson and P. B. Mellor, Engineering Plasticity (Van Nostrand Reinhold, 1973), compression of
a disc between rough platens (from memory): the ring of thickness dr is held by the shear yield
stress k = Y/√3 on both faces, so dp/dr = −2 k/h with p = Y at the rim.  The mean over the disc is
computed here with SymPy.
"""

from __future__ import annotations

import pytest
import sympy as sp

from wadforms.setting.limits import squash_pressure, squat_factor


def mean_over_yield(diameter: float, height: float) -> float:
    """Mean pressure over the yield stress, from the hill integrated over the disc."""
    r, big, h = sp.symbols("r R h", positive=True)
    shear = 1 / sp.sqrt(3)
    hill = 1 + sp.integrate(2 * shear / h, (r, r, big))
    mean = sp.integrate(hill * 2 * sp.pi * r, (r, 0, big)) / (sp.pi * big**2)
    return float(mean.subs({big: sp.Float(diameter) / 2, h: sp.Float(height)}))


@pytest.mark.parametrize(
    ("diameter", "height"), [(12.0, 8.0), (45.0, 18.0), (20.0, 10.0), (10.0, 30.0)]
)
def test_squat_factor_is_the_mean_of_the_hill(diameter: float, height: float) -> None:
    # Both are closed forms: doubles only.
    assert squat_factor(diameter, height) == pytest.approx(
        mean_over_yield(diameter, height), rel=1e-12
    )


def test_two_cases_by_hand() -> None:
    assert squat_factor(12.0, 8.0) == pytest.approx(1.29, abs=0.005)  # derived
    assert mean_over_yield(64.0, 3.0) > 4.0
    assert squat_factor(64.0, 3.0) == 4.0  # the cap is assumed, not part of the source


@pytest.mark.parametrize(("shear", "expected"), [(20.0, 59.0), (40.0, 118.0)])
def test_squash_of_a_soft_disc(shear: float, expected: float) -> None:
    """Ø45 × 18 mm; yield stress 2 c_u.  Derived; given without decimals (118 cut, not rounded)."""
    found = squash_pressure(shear, 45.0, 18.0)
    assert found == pytest.approx(2 * shear * mean_over_yield(45.0, 18.0), rel=1e-12)
    assert found == pytest.approx(expected, abs=1.0)
