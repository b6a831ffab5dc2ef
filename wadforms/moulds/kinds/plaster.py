"""How much plaster and water a mould wants, and what it then weighs, wet and dry.

Plaster is calcium sulphate hemihydrate, CaSO4·½H2O; setting, it takes up water and becomes
CaSO4·2H2O, and the water beyond that dries out of the pores.
"""

from __future__ import annotations

from typing import Final, NamedTuple

HEMIHYDRATE_DENSITY: Final = 2.70
"""Of plaster powder, its grains alone [g/cm³]; handbooks give 2.6 to 2.8 with the form."""

WATER_DENSITY: Final = 1.0
"""Of cold water [g/cm³]."""

TAKEN_UP: Final = 1.5 * 18.015 / (136.139 + 0.5 * 18.015)
"""Water that sets in a part of plaster, as a share of its mass: 1½ H2O to one CaSO4·½H2O.

The molar masses are those of the standard atomic weights, g/mol: CaSO4 136.139, H2O 18.015.
"""

LIFT: Final = 20_000.0
"""From this mass [g] up a second person lifts with you (assumed; revised NIOSH lifting equation,
1994: 23 kg under the best conditions, and less with every reach and turn)."""


class Pour(NamedTuple):
    """What fills a mould with plaster, from the bag and the tap to the dry block.

    Parameters
    ----------
    plaster, water : float
        To weigh out [g].
    wet : float
        Of the block as it is lifted out [g]: plaster and all the water.
    dry : float
        Of the block once dried [g]: plaster and the water that set in it.
    """

    plaster: float
    water: float
    wet: float
    dry: float


def pour(volume: float, *, water: float) -> Pour:
    """Plaster and water for a volume of slurry, air left out of it.

    A gram of plaster fills 1/2.70 cm³ and its water 1 cm³ a gram, so a litre holds
    1000/(1/2.70 + w) g of plaster.

    Parameters
    ----------
    volume : float
        To be filled [mm³].
    water : float
        Mass of water over mass of plaster, such as 0.7.

    Examples
    --------
    >>> litre = pour(1e6, water=0.7)
    >>> [round(mass / 1000, 3) for mass in litre]
    [0.934, 0.654, 1.588, 1.108]
    """
    plaster = volume / 1000.0 / (1.0 / HEMIHYDRATE_DENSITY + water / WATER_DENSITY)
    added = plaster * water
    return Pour(plaster, added, plaster + added, plaster * (1.0 + TAKEN_UP))
