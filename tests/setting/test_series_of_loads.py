"""Wads under rising loads at heat: what a series lets one count on."""

from __future__ import annotations

import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wadforms.setting.limits import Limit
from wadforms.setting.measured import Result, Trial, bearing
from wadforms.setting.measuring import Borne, borne_at_heat, pressure

TRIAL = Trial(date(2026, 11, 1), "wads under load")
AREA = math.pi * 15.0**2  # of a disk of 30 mm [mm²]


def judged(*wads: tuple[float, float], before: Limit | None = None) -> Result:
    """Wads 20 mm high, each under a load [kg], and how high they are after the firing [mm]."""
    borne = [borne_at_heat(pressure(1000.0 * kg, AREA), 20.0, left) for kg, left in wads]
    return bearing("at-heat", borne, TRIAL, diameter=30.0, height=20.0, before=before)


def kpa(kg: float) -> float:
    return kg * 9.80665 / AREA * 1000.0


@pytest.mark.parametrize(
    ("wads", "held"),
    [
        ([(4.0, 19.9), (6.0, 19.4), (9.0, 18.2)], 4.0),
        ([(9.0, 18.2), (4.0, 19.9), (6.0, 19.8)], 6.0),  # in any order, 1 % is no harm
        ([(4.0, 19.9), (4.0, 19.95), (6.0, 19.4)], 4.0),
        ([(4.0, 20.0), (6.0, 19.95), (9.0, 19.9)], 9.0),  # none did harm
    ],
)
def test_the_highest_load_that_did_no_harm(wads: list[tuple[float, float]], held: float) -> None:
    found = judged(*wads)
    assert found.limit.value == pytest.approx(0.75 * kpa(held), rel=1e-12)
    assert found.rule == (
        f"a series of {len({kg for kg, _ in wads})} loads: the highest that did no harm, "
        "less 25 % of so few"
    )
    assert found.readings.mean == pytest.approx(kpa(held), rel=1e-12)


def test_it_is_no_series_where_a_load_did_no_harm_that_is_above_one_that_did() -> None:
    found = judged((4.0, 19.4), (6.0, 19.9), (9.0, 18.2))
    assert "fractile" in found.rule
    assert found.limit.value < 0.75 * min(found.values)


def test_one_load_is_no_series() -> None:
    alike = judged((4.0, 19.9), (4.0, 19.4), (4.0, 19.8))
    assert "series" not in alike.rule
    all_gave = judged((4.0, 19.7), (6.0, 19.2))
    assert all_gave.rule == "the lowest reading less 25 %, of so few"


def test_what_stood_on_a_wad_is_known_from_what_it_is_worth() -> None:
    assert borne_at_heat(80.0, 20.0, 19.6).tested == pytest.approx(80.0, rel=1e-12)
    assert Borne(60.0, 0.0, proof=True).tested == 60.0


def test_a_limit_below_the_assumed_one_is_told() -> None:
    rising = ((4.0, 19.9), (6.0, 19.4))
    assumed = Limit(60.0, "kPa", "assumed for the test")
    (note,) = judged(*rising, before=assumed).notes
    assert note.startswith("the pressure at top heat comes out lower than was assumed, 41.6 kPa")
    assert not judged(*rising, before=assumed._replace(value=20.0)).notes
    assert not judged(*rising, before=assumed._replace(assumed=False)).notes


@given(st.floats(1.0, 400.0), st.floats(0.011, 0.2))
def test_the_same_load_is_no_series_whatever_it_did(load: float, lost: float) -> None:
    borne = [borne_at_heat(load, 20.0, 20.0), borne_at_heat(load, 20.0, 20.0 * (1.0 - lost))]
    assert "series" not in bearing("at-heat", borne, TRIAL, diameter=30.0, height=20.0).rule
