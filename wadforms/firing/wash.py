"""How much kiln wash a firing's wads and shelves take."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from wadforms import units
from wadforms.firing.make_list import Make
from wadforms.firing.rows import Shelf
from wadforms.setting.limits import Limit

COAT: Final = Limit(0.5, "mm", "common practice, no source: two thin coats with a wide brush")
"""Thickness of the wash as it is brushed on, wet."""

WASH_DENSITY: Final = Limit(1.6, "g/cm3", "of a wash as thick as cream: weigh a cup of yours")
"""Of the wash as it is brushed on."""


class KilnWash(NamedTuple):
    """What the wash must cover, and how much of it that takes.

    Parameters
    ----------
    wads_area, shelves_area : float
        Tops and sides of the wads, tops of the shelves [mm²].
    volume, mass : float
        Of the wash as it is brushed on [mm³, g].
    assumed : tuple of str
        What that rests on, in words.
    """

    wads_area: float
    shelves_area: float
    volume: float
    mass: float
    assumed: tuple[str, ...]


def kiln_wash(makes: Sequence[Make], shelves: Sequence[Shelf]) -> KilnWash:
    """The wash for the wads that go into the kiln, and for the tops of its shelves.

    Parameters
    ----------
    makes : sequence of Make
        The make list; spare pieces are coated when they are used.
    shelves : sequence of Shelf
        Those of the list.

    Examples
    --------
    >>> kiln_wash((), ()).volume
    0.0
    """
    wads = sum(make.coated_area for make in makes)
    tops = sum(shelf.count * shelf.length * shelf.width for shelf in shelves)
    volume = (wads + tops) * COAT.value
    assumed = (
        f"a coat {units.show(COAT.value, 'mm')} thick when wet: {COAT.source}",
        f"wash of {units.show(WASH_DENSITY.value, 'g/cm3')}: {WASH_DENSITY.source}",
    )
    return KilnWash(wads, tops, volume, volume / 1000.0 * WASH_DENSITY.value, assumed)
