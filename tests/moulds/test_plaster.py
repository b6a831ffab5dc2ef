"""Plaster and water by mass, against a maker's table and the molar masses."""

from __future__ import annotations

import periodictable
import pytest

from wadforms.moulds.kinds import plaster

LB_PER_CUBIC_FOOT = 453.59237 / 28316.846592  # g/cm³; both exact by definition
LITRE = 1e6


def test_densities_at_seventy_parts_of_water() -> None:
    """A plaster maker's table: wet 99.0, set and dried 69.0 lb/ft³ at 70 parts per 100."""
    litre = plaster.pour(LITRE, water=0.70)
    assert litre.wet / 1000 == pytest.approx(99.0 * LB_PER_CUBIC_FOOT, rel=0.015)
    assert litre.dry / 1000 == pytest.approx(69.0 * LB_PER_CUBIC_FOOT, rel=0.015)
    assert litre.plaster == pytest.approx(934, abs=0.5)
    assert litre.water == pytest.approx(654, abs=0.5)


def test_the_water_that_sets_by_molar_masses() -> None:
    half = periodictable.formula("2CaSO4+H2O").mass / 2
    full = periodictable.formula("CaSO4+2H2O").mass
    grown = 1.0 + plaster.TAKEN_UP
    assert grown == pytest.approx(full / half, rel=1e-5)


@pytest.mark.parametrize("water", [0.5, 0.7, 0.9])
def test_volumes_add_up(water: float) -> None:
    made = plaster.pour(3.7e6, water=water)
    filled = made.plaster / plaster.HEMIHYDRATE_DENSITY + made.water / plaster.WATER_DENSITY
    assert filled * 1000 == pytest.approx(3.7e6)
    assert made.water / made.plaster == pytest.approx(water)
    assert made.wet == pytest.approx(made.plaster + made.water)


def test_more_water_makes_a_lighter_block() -> None:
    masses = [plaster.pour(LITRE, water=share).dry for share in (0.5, 0.6, 0.7, 0.8, 0.9)]
    assert masses == sorted(masses, reverse=True)
    # Dry plaster is full of pores where water was: its grains alone weigh 2.31 g/cm³ (gypsum,
    # CRC Handbook of Chemistry and Physics).
    assert all(mass < 2310 for mass in masses)
