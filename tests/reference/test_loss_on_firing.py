"""What the fire takes of a mix, by the formulas of its minerals.

Source
------
Kaolinite Al2Si2O5(OH)4 and gibbsite Al(OH)3 give up their water as H2O; masses of the elements
from periodictable.  50:50 by mass keeps 75.70 %, loss on ignition 13.957 and 34.643 %.
"""

from __future__ import annotations

import periodictable
import pytest

from wadforms.firing.batch import batch
from wadforms.setting.mixes import Ingredient, mix

WATER = periodictable.formula("H2O").mass
KAOLINITE = 2 * WATER / periodictable.formula("Al2Si2O5(OH)4").mass
GIBBSITE = 1.5 * WATER / periodictable.formula("Al(OH)3").mass


def test_the_minerals_lose_what_is_published() -> None:
    assert pytest.approx(0.13957, abs=1e-5) == KAOLINITE
    assert pytest.approx(0.34643, abs=1e-5) == GIBBSITE


@pytest.mark.parametrize("name", ["open", "dense"])
def test_the_mixes_know_them(name: str) -> None:
    kaolin, hydrate = mix(name).ingredients[:2]
    # Written with four decimals.
    assert kaolin.loss == pytest.approx(KAOLINITE, abs=5e-5)
    assert hydrate.loss == pytest.approx(GIBBSITE, abs=5e-5)


def test_equal_masses_keep_three_quarters() -> None:
    parts = tuple(i._replace(parts=1.0 / i.loose_density) for i in mix("dense").ingredients)
    loss = mix("dense")._replace(ingredients=parts).loss
    assert loss is not None
    assert 1 - loss == pytest.approx(0.7570, abs=2e-4)


def test_a_batch_weighs_what_its_minerals_leave() -> None:
    made = batch(mix("open"), 3e6)
    kaolin, hydrate, sawdust = (portion.mass for portion in made.portions)
    left = kaolin * (1 - KAOLINITE) + hydrate * (1 - GIBBSITE)
    assert made.fired_mass == pytest.approx(left, rel=2e-4)
    assert made.fired_mass is not None
    assert made.fired_mass < made.dry_mass - sawdust


def test_nothing_is_told_where_a_part_is_not_known() -> None:
    assert mix("fireclay").loss is None
    assert batch(mix("fireclay"), 1e6).fired_mass is None
    assert mix("dense")._replace(ingredients=(Ingredient("sand", 1.0, 1.5),)).loss is None
