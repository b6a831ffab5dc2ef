"""A batch by hand, and what holds for every batch."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wadforms.errors import BadInput
from wadforms.firing.batch import batch, scoops
from wadforms.setting.mixes import Mix, mix, names, read

TWO = """
summary = "two parts that are easy to reckon with"
source = "invented"
bodies = ["wet"]

[water]
value = "25 %"
source = "weighed"
assumed = false

[ingredients."white. powder"]
parts = 1
loose_density = "0.5 kg/l"

[ingredients.chaff]
parts = 2
loose_density = 0.25
burns_out = true
assumed = false

[shrinkage]
drying = 0.05
firing = 0.07

[density]
wet = 2.0
dry = 1.75
source = "weighed"
assumed = false

[limits.at_heat]
value = 50
source = "invented"

[limits.cold]
value = 300
source = "invented"
"""

volumes = st.floats(1e3, 1e9)
spares = st.floats(0.0, 2.0)
mixes = st.sampled_from([*map(mix, names()), read(TWO, "two", "two.toml")])


def test_a_batch_by_hand() -> None:
    # 3 l and a tenth: 3.3 l × 2 kg/l = 6.6 kg, a quarter of it water.
    # Powder 1 × 0.5 and chaff 2 × 0.25 weigh the same, so each is half of 4.95 kg.
    made = batch(read(TWO, "two", "two.toml"), 3e6, spare=0.1)
    assert made.wet_volume == pytest.approx(3.3e6)
    assert made.wet_mass == pytest.approx(6600)
    assert made.water == pytest.approx(1650)
    assert made.water_volume == pytest.approx(1.65e6)
    assert [(p.name, p.burns_out) for p in made.portions] == [
        ("white. powder", False),
        ("chaff", True),
    ]
    assert [p.mass for p in made.portions] == pytest.approx([2475, 2475])
    assert [p.volume for p in made.portions] == pytest.approx([4.95e6, 9.9e6])
    assert scoops(made.portions[0].volume, 400e3) == pytest.approx(12.375)
    assert made.burnt_out_share == pytest.approx(0.5)


def test_only_what_was_not_measured_is_called_assumed() -> None:
    said = " ".join(batch(read(TWO, "two", "two.toml"), 1e6).assumed)
    assert "white. powder 0.5 g/cm³" in said
    assert "chaff" not in said
    assert "wet density" not in said
    assert "water of mix" not in said
    assert "differ threefold" in " ".join(batch(mix("open"), 1e6).assumed)


@given(mixes, volumes, spares)
def test_nothing_is_lost_and_nothing_comes_from_nowhere(
    mix: Mix, volume: float, spare: float
) -> None:
    made = batch(mix, volume, spare=spare)
    assert sum(p.mass for p in made.portions) + made.water == pytest.approx(made.wet_mass)
    assert made.wet_mass == pytest.approx(made.wet_volume / 1000 * mix.wet_density)
    per_part = {
        round(p.volume / i.parts, 3) / volume
        for p, i in zip(made.portions, mix.ingredients, strict=True)
    }
    assert max(per_part) == pytest.approx(min(per_part))  # loose volumes stand as the parts do


@given(mixes, volumes, spares)
def test_twice_the_volume_takes_twice_of_everything(mix: Mix, volume: float, spare: float) -> None:
    one, two = batch(mix, volume, spare=spare), batch(mix, 2 * volume, spare=spare)
    assert two.water == pytest.approx(2 * one.water)
    for a, b in zip(one.portions, two.portions, strict=True):
        assert (b.mass, b.volume) == pytest.approx((2 * a.mass, 2 * a.volume))


@pytest.mark.parametrize("name", names())
def test_densities_water_and_shrinkage_of_a_mix_agree(name: str) -> None:
    # Drying takes the water and nothing else, and shrinks the volume as ASTM C326 defines it.
    one = mix(name)
    dry = one.wet_density * (1 - one.water.value) / (1 - one.drying) ** 3
    assert dry == pytest.approx(one.dry_density, rel=0.025)  # all are assumed to two digits


SOLID_DENSITY = {
    # CRC Handbook of Chemistry and Physics, g/cm³: kaolin, gibbsite, quartz.
    "kaolin": 2.59,
    "alumina hydrate": 2.42,
    "fireclay": 2.648,
    "fine grog": 2.648,
    # Substance of wood without its pores, a textbook value from memory.
    "fine sawdust": 1.5,
}


@pytest.mark.parametrize("name", names())
def test_no_mix_is_fuller_than_full(name: str) -> None:
    """Solids and water of a wet volume fit into it; what is left is air, and not much."""
    made = batch(mix(name), 1e6)
    taken = made.water / 1.0 + sum(p.mass / SOLID_DENSITY[p.name] for p in made.portions)
    assert 850 < taken <= 1000  # cm³ of a litre


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('value = "25 %"', "value = 0.7", "m.toml: water.value: 0.7 was given; give 1 % to 60 %"),
        (
            '[water]\nvalue = "25 %"',
            "[fluid]\nvalue = 0.2",
            "m.toml: water.value: nothing was given; give 1 % to 60 %\n"
            "m.toml: water.source: nothing was given; give a text",
        ),
        (
            "parts = 2\nloose_density = 0.25\nburns_out = true",
            "parts = -2\nburns_out = 1",
            "m.toml: ingredients.chaff: parts: -2 was given; give 0.01 to 1000\n"
            "m.toml: ingredients.chaff: loose_density: nothing was given; "
            "give 0.02 g/cm³ to 5 g/cm³\n"
            "m.toml: ingredients.chaff: burns_out: 1 was given; give true or false",
        ),
        (
            '[ingredients."white. powder"]\nparts = 1\nloose_density = "0.5 kg/l"\n',
            '[ingredients]\nsand = "some"\n',
            "m.toml: ingredients.sand: 'some' was given; give a table with parts and loose_density",
        ),
        (
            "assumed = false\n\n[limits.at_heat]",
            'assumed = "no"\n\n[limits.at_heat]',
            "m.toml: density.assumed: 'no' was given; give true or false",
        ),
    ],
)
def test_a_faulty_recipe_is_told_key_by_key(old: str, new: str, said: str) -> None:
    assert old in TWO
    with pytest.raises(BadInput) as caught:
        read(TWO.replace(old, new, 1), "m", "m.toml")
    assert str(caught.value) == said


def test_a_recipe_without_ingredients_says_how_to_write_one() -> None:
    text = TWO.replace("[ingredients.", "[stuff.")
    with pytest.raises(BadInput, match=r"give a table for each, as \[ingredients.kaolin\]"):
        read(text, "m", "m.toml")


@pytest.mark.parametrize(
    ("volume", "spare", "said"),
    [
        (0.0, 0.1, "volume: 0 mm³ was given; give more than 0"),
        (float("nan"), 0.1, "volume: nan mm³ was given; give more than 0"),
        (1e6, -0.1, "spare: -10 % was given; give 0 % to 200 %"),
        (1e6, float("nan"), "spare: nan % was given; give 0 % to 200 %"),
        (-1e6, 3.0, "volume: -1 l was given; give more than 0\n"
                    "spare: 300 % was given; give 0 % to 200 %"),
    ],
)  # fmt: skip
def test_volumes_and_spares_that_make_no_sense(volume: float, spare: float, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        batch(mix("open"), volume, spare=spare)
    assert str(caught.value) == said


def test_a_scoop_must_hold_something() -> None:
    with pytest.raises(BadInput, match="scoop: 0 mm³ was given; give more than 0"):
        scoops(1e6, 0.0)
