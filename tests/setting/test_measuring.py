"""What readings are worth, what they let one count on, and how that reaches a verdict."""

from __future__ import annotations

import math
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from wadforms.errors import BadInput, UnknownName
from wadforms.families.disk import Disk
from wadforms.setting.arrangement import Arrangement, circle
from wadforms.setting.checks import check
from wadforms.setting.feet import FlatFoot
from wadforms.setting.limits import PLACES, SHEAR, Limit, squat_factor
from wadforms.setting.measured import Trial, bearing, ingredient_density, sagging, shrinkages
from wadforms.setting.measuring import (
    GIVES,
    Bar,
    Borne,
    borne_at_heat,
    drying_shrinkage,
    firing_shrinkage,
    loose_density,
    pressure,
    pyroplastic_index,
)
from wadforms.setting.mixes import Mix, mix
from wadforms.setting.pot import Pot, Setting
from wadforms.setting.readings import (
    RESERVE,
    Readings,
    at_least,
    at_most,
    fractile_factor,
    summed_up,
)
from wadforms.setting.shrinkage import mould_factor, total_shrinkage
from wadforms.setting.span import pyroplastic_sag
from wadforms.setting.strength import heat_limit

TRIAL = Trial(date(2026, 11, 1), "by hand", "cone 10")

PRESSURES = st.floats(1.0, 1e4)


@pytest.mark.parametrize(
    ("drying", "firing", "total", "factor"),
    [(0.065, 0.080, 0.1398, 1.16252), (0.060, 0.070, 0.1258, 1.143903)],
)
def test_bars_shrink_as_astm_c326_reckons(
    drying: float, firing: float, total: float, factor: float
) -> None:
    """Definitions of ASTM C326; 6.5 and 8.0 % of a ball clay data sheet, the rest derived."""
    bar = Bar(250.0, 250.0 * (1 - drying), 250.0 * (1 - drying) * (1 - firing))
    dried, fired = drying_shrinkage(bar), firing_shrinkage(bar)
    assert fired is not None
    assert (dried, fired) == pytest.approx((drying, firing), rel=1e-12)
    assert total_shrinkage(dried, fired) == pytest.approx(total, abs=5e-5)
    assert mould_factor(total_shrinkage(dried, fired)) == pytest.approx(factor, abs=5e-6)


@pytest.mark.parametrize(
    "bar", [Bar(100, 101), Bar(100, 95, 96), Bar(100, 60), Bar(0, 95), Bar(100, math.nan)]
)
def test_bars_that_cannot_be_are_refused(bar: Bar) -> None:
    with pytest.raises(BadInput, match="length"):
        shrinkages([bar], TRIAL)


# EN 1990:2002, Annex D, table D1, 5 % fractile, V_X unknown; from memory.
TABLE_D1 = {3: 3.37, 4: 2.63, 5: 2.33, 6: 2.18, 8: 2.00, 10: 1.92, 20: 1.76, 30: 1.73}


@pytest.mark.parametrize(("n", "factor"), TABLE_D1.items())
def test_fractile_factors_are_those_of_the_eurocode(n: int, factor: float) -> None:
    # The table cuts the second decimal of some, and of n = 20 has 1.76 for 1.7718.
    assert fractile_factor(n) == pytest.approx(factor, abs=0.012)
    by_scipy = stats.t.ppf(0.95, n - 1) * math.sqrt(1 + 1 / n)
    assert fractile_factor(n) == pytest.approx(by_scipy, rel=1e-9)


def test_one_piece_in_twenty_falls_below_what_is_counted_on() -> None:
    """Drawn readings: the next piece is worse than the fractile of n others in 5 of 100 cases."""
    draw = np.random.default_rng(5)
    logs = draw.normal(4.0, 0.2, (4000, 6))
    worse = sum(
        math.exp(row[5]) < at_least([math.exp(x) for x in row[:5]]).value for row in logs.tolist()
    )
    # Four standard deviations of a count with p = 0.05.
    assert worse / 4000 == pytest.approx(0.05, abs=4 * math.sqrt(0.05 * 0.95 / 4000))
    shares = draw.normal(0.05, 0.002, (4000, 6)).tolist()
    more = sum(row[5] > at_most(row[:5]).value for row in shares)
    assert more / 4000 == pytest.approx(0.05, abs=4 * math.sqrt(0.05 * 0.95 / 4000))


@given(st.lists(PRESSURES, min_size=1, max_size=12))
def test_what_is_counted_on_is_never_more_than_the_mean(values: list[float]) -> None:
    found = at_least(values)
    assert 0.0 < found.value <= summed_up(values).mean * (1 + 1e-9)
    assert at_most(values).value >= summed_up(values).mean * (1 - 1e-9)


@given(st.lists(PRESSURES, min_size=3, max_size=8), st.floats(0.1, 10.0))
def test_units_do_not_matter(values: list[float], factor: float) -> None:
    scaled = at_least([value * factor for value in values]).value
    assert scaled == pytest.approx(at_least(values).value * factor, rel=1e-9)


def test_a_few_readings_give_the_lowest_less_a_reserve() -> None:
    assert at_least([80.0, 60.0]).value == pytest.approx(60.0 * (1 - RESERVE))
    assert at_most([0.05]).value == pytest.approx(0.05 * (1 + RESERVE))
    assert "25 %" in at_least([80.0]).rule


def test_loads_that_were_all_borne_tell_no_spread() -> None:
    proofs = at_least([60.0] * 6, proofs=6)
    assert proofs.value == pytest.approx(45.0)
    assert "6 of 6" in proofs.rule
    # Where broken ones scatter down to less than that, the fractile holds.
    scattered = [60.0, 20.0, 55.0, 58.0]
    assert at_least(scattered, proofs=1).value == at_least(scattered).value < 15.0


def test_strengths_that_are_all_alike_tell_no_scatter() -> None:
    """Loads are added brick by brick: three of five bricks each are not without scatter."""
    assert at_least([60.0] * 3).value == pytest.approx(60.0 * (1 - RESERVE))
    assert "tell no scatter" in at_least([60.0] * 3).rule


@pytest.mark.parametrize("values", [[], [1.0, math.inf], [1.0] * 1001])
def test_readings_that_are_none_are_refused(values: list[float]) -> None:
    with pytest.raises(BadInput, match="readings"):
        summed_up(values)


def test_a_load_on_an_area() -> None:
    # 10 kg on 100 × 100 mm is 0.0980665 kgf/cm² … 9.80665 kPa by standard gravity.
    assert pressure(10_000.0, 10_000.0) == pytest.approx(9.80665, rel=1e-12)


@given(st.floats(1.0, 500.0), st.floats(5.0, 60.0), st.floats(0.0, 0.5))
def test_a_wad_at_heat_is_never_credited_with_more_than_it_bore(
    tested: float, height: float, lost: float
) -> None:
    found = borne_at_heat(tested, height, height * (1 - lost))
    assert found.pressure <= tested
    assert found.proof is (found.gave <= GIVES.value)
    if not found.proof:
        # In proportion it would have lost just what it may.
        assert found.gave * found.pressure / tested == pytest.approx(GIVES.value, rel=1e-9)


def test_a_loaded_wad_is_not_taller_than_the_other() -> None:
    with pytest.raises(BadInput, match="that of the unloaded wad"):
        borne_at_heat(50.0, 20.0, 21.0)
    assert borne_at_heat(50.0, 20.0, 20.1).proof  # as a caliper may read it


def test_a_cup_of_kaolin() -> None:
    assert loose_density(120.0 + 152.5, 120.0, 250e3) == pytest.approx(0.61, rel=1e-12)
    with pytest.raises(BadInput, match=r"filled cup: 3 kg was given; give 125 g to 1\.37 kg"):
        loose_density(3000.0, 120.0, 250e3)
    with pytest.raises(BadInput, match="filled cup"):
        loose_density(100.0, 120.0, 250e3)


@given(st.floats(50.0, 300.0), st.floats(3.0, 15.0), st.floats(0.1, 10.0))
def test_a_bar_sags_by_its_own_index_as_it_did(span: float, thickness: float, sag: float) -> None:
    index = pyroplastic_index(span, thickness, sag)
    assert index == pytest.approx(sag * thickness**2 / span**4, rel=1e-12)  # PI = s t²/L⁴
    assert pyroplastic_sag(index, span, thickness) == pytest.approx(sag, rel=1e-12)


def test_an_index_of_no_clay_is_refused() -> None:
    with pytest.raises(BadInput, match="look at the units"):
        pyroplastic_index(1.0, 50.0, 50.0)


def measured(values: list[float], *, diameter: float = 30.0, height: float = 20.0) -> Mix:
    borne = [Borne(value, 1.0, proof=False) for value in values]
    found = bearing("at-heat", borne, TRIAL, diameter=diameter, height=height)
    return mix("open")._replace(at_heat=found.limit)


def test_a_piece_as_squat_as_the_test_bears_what_was_measured() -> None:
    tested = measured([50.0, 52.0, 54.0, 51.0])
    like = Disk(diameter=30, height=20).piece()
    squat = Disk(diameter=30, height=8).piece()
    tall = Disk(diameter=20, height=20).piece()
    sheltered = PLACES["sheltered"]
    value = tested.at_heat.value
    assert heat_limit(like, tested, sheltered).value == pytest.approx(value, rel=1e-12)
    assert heat_limit(squat, tested, sheltered).value == pytest.approx(value, rel=1e-12)
    part = squat_factor(20, 20) / squat_factor(30, 20)
    less = heat_limit(tall, tested, sheltered)
    assert less.value == pytest.approx(value * part, rel=1e-12)
    assert "less squat" in less.source


def bowl(of: Mix, place: str = "sheltered") -> Setting:
    disk = Disk(diameter=20, height=8).piece()
    return Setting(
        pot=Pot(mass=3000.0, foot=FlatFoot(90.0), height=80.0),
        arrangement=Arrangement(disk, tuple(circle(3, 30.0))),
        body="dry",
        mix=of,
        place=PLACES[place],
        shear=SHEAR["firm"],
    )


def test_scattered_readings_of_the_same_mean_make_the_verdict_worse() -> None:
    close, wide = [49.0, 50.0, 51.0, 50.0], [30.0, 50.0, 70.0, 50.0]
    assert np.mean(close) == np.mean(wide)
    good, bad = check(bowl(measured(close))), check(bowl(measured(wide)))
    assert good.fired_pressure == bad.fired_pressure
    assert (good.verdict, bad.verdict) == ("sound", "unsafe")
    assert bad.governing.name == "pressure at top heat"
    assert bad.limit.readings is not None
    assert "4 readings 50 ± 16.3 kPa" in bad.limit.origin


def test_readings_stay_with_a_limit_that_the_place_halves() -> None:
    whole, half = check(bowl(measured([50.0] * 3))), check(bowl(measured([50.0] * 3), "firebox"))
    assert half.limit.value == pytest.approx(whole.limit.value / 2)
    assert half.limit.readings == whole.limit.readings


def test_bars_that_scatter_leave_less_contact_at_heat() -> None:
    bars = [Bar(100, 95, 87.9), Bar(100, 94.5, 87.0), Bar(100, 95.5, 88.8)]
    drying, firing = shrinkages(bars, TRIAL)
    own = mix("open")._replace(
        drying=drying.readings.mean,
        firing=firing.readings.mean,
        drying_limit=drying.limit,
        firing_limit=firing.limit,
    )
    by_mean = own._replace(drying_limit=None, firing_limit=None)
    assert own.wet_factor("dry") == by_mean.wet_factor("dry")  # moulds by the mean
    assert own.fired_factor("dry") == pytest.approx(1 - firing.limit.value, rel=1e-12)
    assert own.fired_factor("wet") < own.fired_factor("dry") < by_mean.fired_factor("dry")
    answer, before = check(bowl(own)), check(bowl(by_mean))
    assert answer.fired_contact_area < before.fired_contact_area
    shrinks = next(note for note in answer.notes if "in firing, up to" in note)
    assert shrinks.startswith("mix 'open' shrinks 7.48 % in firing")
    assert not any("shrinks" in text for text in answer.assumed)
    assert any("shrinks" in text for text in before.assumed)


def test_of_unfired_bars_only_the_drying_is_kept() -> None:
    (found,) = shrinkages([Bar(100, 95), Bar(100, 95.2)], TRIAL)
    assert found.name == "drying shrinkage"
    assert ("shrinkage", "firing") not in found.changes
    half = mix("open")._replace(drying_limit=found.limit)
    assumed = " ".join(check(bowl(half)).assumed)
    assert "shrinks 7.5 % in firing" in assumed
    assert "in drying" not in assumed


def test_bars_that_would_shrink_beyond_any_clay_are_refused() -> None:
    with pytest.raises(BadInput, match="take more"):
        shrinkages([Bar(100, 71), Bar(100, 72)], TRIAL)


def test_what_the_user_should_know_of_odd_readings() -> None:
    far = sagging([1e-7, 5e-7, 9e-7], TRIAL)
    assert "lie far apart, 1e-07 /mm to 9e-07 /mm" in far.notes[0]
    alike = ingredient_density(mix("open"), "kaolin", [0.5, 0.5, 0.5], TRIAL)
    assert "tell no spread" in alike.notes[0]
    held = bearing("at-heat", [Borne(60.0, 0.0, proof=True)] * 3, TRIAL, diameter=30, height=20)
    assert "3 of 3" in held.notes[-1]


def test_names_that_nothing_answers_to() -> None:
    with pytest.raises(UnknownName, match="did you mean 'kaolin'"):
        ingredient_density(mix("open"), "kaolinite", [0.5], TRIAL)
    with pytest.raises(UnknownName, match="limit: 'hot' was given"):
        bearing("hot", [Borne(60.0, 0.0, proof=True)], TRIAL, diameter=30, height=20)


def test_origin_in_words() -> None:
    assert Limit(1.0, "kPa", "x").origin == "assumed"
    assert Limit(1.0, "kPa", "x", assumed=False).origin == ""
    kept = Readings(2, 0.0512, 0.002, date(2026, 11, 1))
    assert kept.words("share") == "measured 2026-11-01, 2 readings 5.12 ± 0.2 %"


def test_a_load_that_no_clay_bears_is_refused_with_the_most_that_one_may() -> None:
    flat = math.pi * 1.0**2  # of a tip with a flat of 2 mm
    assert pressure(9000.0, flat) == pytest.approx(9.0 * 9.80665 / flat * 1000.0)
    with pytest.raises(BadInput) as caught:
        pressure(60e3, flat)  # 187 MPa
    (fault,) = caught.value.faults
    assert fault.where == "load"
    # 100 MPa on 3.14 mm² are 314 N, which 32 kg weigh.
    assert fault.right.startswith("give at most 32 kg on 3.14 mm²: more is above ")
    assert "from memory" in fault.right
