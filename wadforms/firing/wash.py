"""How much kiln wash a firing's wads and shelves take."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from wadforms import units
from wadforms.families.base import WET
from wadforms.firing.batch import WATER_DENSITY
from wadforms.firing.make_list import Make
from wadforms.firing.rows import Shelf
from wadforms.setting.limits import Limit

COAT: Final = Limit(0.5, "mm", "common practice, no source: two thin coats with a wide brush")
"""Thickness of the wash as it is brushed on, wet."""

WASH_DENSITY: Final = Limit(1.6, "g/cm3", "of a wash as thick as cream: weigh a cup of yours")
"""Of the wash as it is brushed on."""


PARTICLES: Final = {"alumina hydrate": 2.42, "kaolin": 2.6}
"""What the wash is made of, in equal parts by loose volume (common practice, no source), and how
dense the grains themselves are [g/cm³] (gibbsite and kaolinite, handbook of mineralogy, from
memory)."""

RECIPE: Final = (
    "equal parts of alumina hydrate and kaolin by loose volume (common practice, no source)"
)


class KilnWash(NamedTuple):
    """What the wash must cover, and how much of it that takes.

    Parameters
    ----------
    wads_area, shelves_area : float
        Tops and sides of the wads that are set dry or solid, tops of the shelves [mm²]. Soft ones
        are not coated: they must bed.
    volume, mass : float
        Of the wash as it is brushed on [mm³, g].
    assumed : tuple of str
        What that rests on, in words.
    each_volume : float or None
        Loose volume of either ingredient [mm³]; None where no mix of the firing tells what they
        weigh loose.
    """

    wads_area: float
    shelves_area: float
    volume: float
    mass: float
    assumed: tuple[str, ...]
    each_volume: float | None = None

    @property
    def recipe(self) -> str:
        """What to make it of, in words.

        Examples
        --------
        >>> KilnWash(0.0, 1e6, 5e5, 800.0, (), 3.6e5).recipe.partition(": ")[2]
        '0.36 l of each, then water to a thick cream'
        """
        each = ""
        if self.each_volume is not None:
            each = f"{self.each_volume / 1e6:.2g} l of each, then "
        return f"{RECIPE}: {each}water to a thick cream"


def kiln_wash(makes: Sequence[Make], shelves: Sequence[Shelf]) -> KilnWash:
    """The wash for the wads that go into the kiln, and for the tops of its shelves.

    Parameters
    ----------
    makes : sequence of Make
        The make list; spare pieces are coated when they are used, soft ones never.
    shelves : sequence of Shelf
        Those of the list.

    Examples
    --------
    >>> kiln_wash((), ()).volume
    0.0
    """
    wads = sum(make.coated_area for make in makes if make.body != WET)
    tops = sum(shelf.count * shelf.length * shelf.width for shelf in shelves)
    volume = (wads + tops) * COAT.value
    assumed = (
        f"a coat {units.show(COAT.value, 'mm')} thick when wet: {COAT.source}",
        f"wash of {units.show(WASH_DENSITY.value, 'g/cm3')}: {WASH_DENSITY.source}",
    )
    mass = volume / 1000.0 * WASH_DENSITY.value
    return KilnWash(wads, tops, volume, mass, assumed, _each(makes, mass))


def _each(makes: Sequence[Make], mass: float) -> float | None:
    """Loose volume of either ingredient of so much wash [mm³].

    By weight the grains are the share (1/ρw − 1/ρ) / (1/ρw − 1/ρs) of a wash of density ρ, with
    water of ρw between grains of ρs.
    """
    for make in makes:
        loose = {i.name: i.loose_density for i in make.mix.ingredients}
        if PARTICLES.keys() <= loose.keys():
            heap = sum(loose[name] for name in PARTICLES)
            grains = sum(loose[name] / dense for name, dense in PARTICLES.items()) / heap
            free = 1.0 / WATER_DENSITY
            share = (free - 1.0 / WASH_DENSITY.value) / (free - grains)
            return mass * share / heap * 1000.0
    return None
