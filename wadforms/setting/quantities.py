"""Volumes and masses of pieces, set and wet."""

from __future__ import annotations

from typing import NamedTuple

from wadforms.families.base import WET, Piece
from wadforms.setting.mixes import Mix


class Quantities(NamedTuple):
    """What a number of pieces takes.

    Parameters
    ----------
    set_volume, wet_volume : float
        Of one piece as it is set in the kiln and as it leaves the mould [mm³].
    wet_mass, set_mass : float
        Of one piece [g].
    coated_area : float
        Top and sides of one piece at its set size [mm²], for kiln wash.
    """

    set_volume: float
    wet_volume: float
    wet_mass: float
    set_mass: float
    coated_area: float


def quantities(piece: Piece, mix: Mix, body: str) -> Quantities:
    """Volumes and masses of one piece [mm³, g].

    Wet mass by the mix's wet density.  A wet wad is set at that mass; a dry or solid one has lost
    its water.  What a solid piece loses besides in its biscuit firing is left out.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.mixes import mix
    >>> one = quantities(Disk(diameter=20, height=10, draft=0).piece(), mix("open"), "dry")
    >>> round(one.set_volume), round(one.wet_volume), round(one.wet_mass, 2)
    (3142, 3664, 5.5)
    """
    set_volume = piece.volume
    wet_volume = set_volume * mix.wet_factor(body) ** 3
    wet_mass = mix.wet_mass(wet_volume)
    set_mass = wet_mass if body == WET else wet_mass * (1.0 - mix.water.value)
    return Quantities(set_volume, wet_volume, wet_mass, set_mass, piece.coated_area)
