"""What to weigh out for a volume of wet mix."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.setting.mixes import Mix

WATER_DENSITY = 1.0
"""Of water [g/cm³]; at 20 °C it is 0.2 % less, which no bucket shows."""

DUST = (
    "Silica and wood dust harm the lungs: add the water before you mix, wear a fitted respirator, "
    "clean up wet, never sweep dry. Local rules come first."
)
"""What whoever weighs out a mix must know."""

LARGEST_SPARE = 2.0
"""Spare beyond this share is taken for a slip of the pen (assumed)."""


@dataclass(frozen=True, slots=True)
class Portion:
    """How much of one ingredient.

    Parameters
    ----------
    name : str
        The ingredient.
    mass : float
        By weight, dry [g].
    volume : float
        Loose, as it comes out of its bag [mm³].
    loose_density : float
        That ties the two together [g/cm³].
    burns_out : bool
        Whether the fire takes it.
    assumed : bool
        Whether nobody weighed a cup of it.
    """

    name: str
    mass: float
    volume: float
    loose_density: float
    burns_out: bool
    assumed: bool


@dataclass(frozen=True, slots=True)
class Batch:
    """What to weigh out.

    Parameters
    ----------
    mix : Mix
        The recipe.
    spare : float
        Share by which more is made than was asked for.
    wet_volume : float
        Of the batch, spare included [mm³].
    wet_mass, dry_mass, water : float
        Of the batch, of its dry ingredients, and of the water [g].
    portions : tuple of Portion
        The dry ingredients.
    """

    mix: Mix
    spare: float
    wet_volume: float
    wet_mass: float
    dry_mass: float
    water: float
    portions: tuple[Portion, ...]

    @property
    def water_volume(self) -> float:
        """Of the water [mm³]."""
        return self.water / WATER_DENSITY * 1000.0

    @property
    def burnt_out_share(self) -> float:
        """Part of the dry mass that the fire takes."""
        return sum(p.mass for p in self.portions if p.burns_out) / self.dry_mass

    @property
    def fired_mass(self) -> float | None:
        """What is left of the dry mass after the fire [g]; None where a part's loss is not known.

        Examples
        --------
        >>> from wadforms.setting.mixes import mix
        >>> round(batch(mix("dense"), 1e6).fired_mass)
        878
        """
        loss = self.mix.loss
        return None if loss is None else self.dry_mass * (1.0 - loss)

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was assumed, in words."""
        found = []
        if self.mix.density_assumed:
            density = units.show(self.mix.wet_density, "g/cm3")
            found.append(
                f"wet density of mix {self.mix.name!r} {density}: {self.mix.density_source}"
            )
        if self.mix.water.assumed:
            share = units.show(self.mix.water.value, "share")
            found.append(f"water of mix {self.mix.name!r} {share}: {self.mix.water.source}")
        loose = [
            f"{p.name} {units.show(p.loose_density, 'g/cm3')}" for p in self.portions if p.assumed
        ]
        if loose:
            found.append(
                f"loose density of {', '.join(loose)}: weigh a filled cup of yours; published "
                "values for light fillers differ threefold"
            )
        found.append("ingredients air-dry; damp sawdust weighs more and brings its own water")
        return tuple(found)


def batch(mix: Mix, volume: float, *, spare: float = 0.0) -> Batch:
    """What to weigh out for a volume of wet mix.

    Wet mass by the mix's wet density, dry mass by its water; each ingredient's share of the dry
    mass by its parts times its loose density.

    Parameters
    ----------
    mix : Mix
        The recipe.
    volume : float
        Of wet mix that is wanted [mm³].
    spare : float
        Share to make on top.

    Raises
    ------
    BadInput
        Volume or spare make no sense.

    Examples
    --------
    >>> from wadforms.setting.mixes import mix
    >>> made = batch(mix("dense"), 1e6)
    >>> [(p.name, round(p.mass)) for p in made.portions], round(made.water)
    ([('kaolin', 431), ('alumina hydrate', 776)], 493)
    """
    faults = []
    if not (math.isfinite(volume) and volume > 0):
        faults.append(Fault("volume", units.show(volume, "mm3"), "give more than 0"))
    if not 0 <= spare <= LARGEST_SPARE:
        right = f"give 0 % to {units.show(LARGEST_SPARE, 'share')}"
        faults.append(Fault("spare", units.show(spare, "share"), right))
    if faults:
        raise BadInput(*faults)
    wet_volume = volume * (1.0 + spare)
    wet_mass = mix.wet_mass(wet_volume)
    water = wet_mass * mix.water.value
    dry_mass = wet_mass - water
    weights = [i.parts * i.loose_density for i in mix.ingredients]
    portions = []
    for ingredient, weight in zip(mix.ingredients, weights, strict=True):
        mass = dry_mass * weight / sum(weights)
        portions.append(
            Portion(
                name=ingredient.name,
                mass=mass,
                volume=mass / ingredient.loose_density * 1000.0,
                loose_density=ingredient.loose_density,
                burns_out=ingredient.burns_out,
                assumed=ingredient.assumed,
            )
        )
    return Batch(mix, spare, wet_volume, wet_mass, dry_mass, water, tuple(portions))


def scoop_words(number: float) -> str:
    """A number of scoops for people: nobody fills less than a tenth of one.

    Parameters
    ----------
    number : float
        How many times one is filled, a count.

    Examples
    --------
    >>> scoop_words(7.5), scoop_words(0.03)
    ('7.5 scoops', '< 0.1 scoops')
    """
    return f"{number:.1f} scoops" if number >= 0.1 else "< 0.1 scoops"


def scoops(volume: float, scoop: float) -> float:
    """How many fillings of a container a volume is, both in [mm³].

    Raises
    ------
    BadInput
        The container holds nothing.

    Examples
    --------
    >>> scoops(3e6, 400e3)
    7.5
    """
    if not (math.isfinite(scoop) and scoop > 0):
        raise BadInput(Fault("scoop", units.show(scoop, "mm3"), "give more than 0"))
    return volume / scoop
