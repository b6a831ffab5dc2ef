"""Overhang of a beam on two rails.

Source
------
Airy points, L/√3 apart, and Bessel points, 0.5594 L apart: published values, e.g. in
K. J. Hume, Engineering Metrology (from memory).  The beam under its own weight is solved here
with SymPy (A. Meurer and others, PeerJ Computer Science 3 (2017) e103).
"""

from __future__ import annotations

from typing import Any

import pytest
import sympy as sp

from wadforms.setting.span import LEAST_SAG, least_sag_overhang

X, A = sp.symbols("x a", positive=True)
HALF = sp.Rational(1, 2)


def curves() -> tuple[Any, Any, Any]:
    """Moment in the middle part, deflection there and beyond the rails, of a unit beam.

    x counts from the middle; rails at ±(1/2 − a); weight, length and stiffness are 1.  Each rail
    carries half the weight, and the deflection is counted up from the rails.
    """
    support = HALF - A
    inner = -HALF * (HALF - X) ** 2 + HALF * (support - X)
    outer = -HALF * (HALF - X) ** 2
    slope = sp.integrate(inner, (X, 0, X))
    height = sp.integrate(slope, (X, 0, X))
    middle = sp.expand(height - height.subs(X, support))
    beyond_slope = slope.subs(X, support) + sp.integrate(outer, (X, support, X))
    beyond = sp.integrate(beyond_slope, (X, support, X))
    return inner, middle, sp.expand(beyond)


def root(equation: Any, near: float) -> float:
    return float(sp.nsolve(equation, A, near, prec=30))


def test_least_sag() -> None:
    """The middle sags as far as the ends: no other overhang sags less."""
    _, middle, beyond = curves()
    overhang = root(middle.subs(X, 0) - beyond.subs(X, HALF), 0.22)
    assert overhang == pytest.approx(0.223149, abs=5e-7)
    assert pytest.approx(overhang, abs=5e-6) == LEAST_SAG  # stored with five digits
    assert least_sag_overhang(400.0) == pytest.approx(400.0 * overhang, rel=5e-5)


def test_that_model_gives_the_published_points() -> None:
    """The same beam gives Airy's and Bessel's points, so the model is the right one."""
    inner, middle, beyond = curves()
    ends_level = root(sp.diff(beyond, X).subs(X, HALF), 0.21)
    assert 1 - 2 * ends_level == pytest.approx(3**-0.5, abs=1e-9)
    assert ends_level == pytest.approx(0.211325, abs=5e-7)
    # Bessel: the neutral line is shortened least, ∫ (dy/dx)² is least.
    shortening = sp.integrate(sp.expand(sp.diff(middle, X) ** 2), (X, 0, HALF - A)) + sp.integrate(
        sp.expand(sp.diff(beyond, X) ** 2), (X, HALF - A, HALF)
    )
    bessel = root(sp.diff(sp.expand(shortening), A), 0.22)
    assert bessel == pytest.approx(0.2203, abs=5e-5)
    assert 1 - 2 * bessel == pytest.approx(0.5594, abs=5e-5)
    # Equal moments in the middle and over the rails.
    equal = root(inner.subs(X, 0) - A**2 / 2, 0.207)
    assert equal == pytest.approx(0.207107, abs=5e-7)


def test_least_sag_lies_outside_the_others() -> None:
    assert 0.2203 < LEAST_SAG < 0.2241
