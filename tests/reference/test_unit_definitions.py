"""Factors between units.

Source
------
International yard and pound agreement (1959), 3rd General Conference on Weights and Measures
(1901), as tabulated by SciPy: scipy.constants (CODATA and NIST SP 811).  CSS Values and Units
Module Level 3, W3C: 1 in = 2.54 cm = 96 px = 72 pt.
"""

from __future__ import annotations

import math

import pytest
from scipy import constants

from wadforms.units import GRAVITY, UNITS, parse

# Each is a product of a few exact doubles.
EXACT = 1e-14


@pytest.mark.parametrize(
    ("kind", "symbol", "expected"),
    [
        ("mm", "in", constants.inch * 1e3),
        ("mm", "ft", constants.foot * 1e3),
        ("mm", "cm", constants.centi * 1e3),
        ("g", "lb", constants.pound * 1e3),
        ("g", "oz", constants.ounce * 1e3),
        ("g", "t", constants.metric_ton * 1e3),
        ("mm3", "l", constants.liter * 1e9),
        ("mm3", "in3", (constants.inch * 1e3) ** 3),
        ("kPa", "psi", constants.psi / 1e3),
        ("kPa", "bar", constants.bar / 1e3),
        ("deg", "rad", 1 / constants.degree),
    ],
)
def test_factor(kind: str, symbol: str, expected: float) -> None:
    assert UNITS[kind][symbol] == pytest.approx(expected, rel=EXACT)
    if symbol != "t":  # a bare letter: 1 t is tested by its factor
        assert parse(f"1 {symbol}", kind, "here") == pytest.approx(expected, rel=EXACT)


def test_standard_gravity() -> None:
    assert constants.g == GRAVITY


def test_an_inch_is_what_drawings_take_it_for() -> None:
    """CSS Values 3: 100 mm are 377.9528 px of 1/96 in; A4 is 793.7008 × 1122.5197 px."""
    px = parse("1 in", "mm", "here") / 96
    sizes = [length / px for length in (100.0, 210.0, 297.0)]
    assert sizes == pytest.approx([377.9528, 793.7008, 1122.5197], abs=5e-5)


def test_pressure_of_a_pound_on_a_square_inch() -> None:
    pound = parse("1 lb", "g", "here") / 1000 * GRAVITY
    square_inch = parse("1 in", "mm", "here") ** 2
    assert pound / square_inch * 1000 == pytest.approx(UNITS["kPa"]["psi"], rel=EXACT)
    assert parse("180 deg", "deg", "here") == pytest.approx(math.degrees(math.pi), rel=EXACT)
