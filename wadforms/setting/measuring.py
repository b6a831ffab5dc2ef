"""What a potter's own tests say: test bars, loaded wads, a weighed cup, a sagging bar.

Each function takes one kind of reading and gives what it is worth; `readings.summed_up`,
`at_least` and `at_most` make one value of several.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.setting.limits import Limit
from wadforms.setting.load import KPA, weight
from wadforms.setting.mixes import LOOSE, SHRINKS
from wadforms.setting.readings import shown
from wadforms.setting.span import pyroplastic_sag

GIVES: Final = Limit(
    0.01,
    "share",
    "assumed: a wad that loses 1 % of its height at heat still holds its pot level; refractories "
    "under load are told by 0.5, 1 and 2 % (ISO 1893, from memory)",
)
"""How much of its height a wad may lose under its load at top heat."""

INDEX: Final = (1e-12, 1e-2)
"""Pyroplastic index: from and to [1/mm]; ware is a hundred times either away (assumed)."""


class Bar(NamedTuple):
    """A test bar, or the distance between two marks on it.

    Parameters
    ----------
    plastic, dry : float
        Its length as made, and bone dry [mm].
    fired : float or None
        Its length fired [mm]; None of a bar that is not.
    """

    plastic: float
    dry: float
    fired: float | None = None


def drying_shrinkage(bar: Bar) -> float:
    """Linear drying shrinkage of a bar, as a share of its plastic length.

    Raises
    ------
    BadInput
        Its lengths do not fall from one to the next, or it shrinks more than any clay.

    Source
    ------
    ASTM C326, as in `shrinkage`.

    Examples
    --------
    >>> round(drying_shrinkage(Bar(100.0, 93.5, 86.02)), 4)
    0.065
    """
    return _shrinks("dry", bar.plastic, bar.dry)


def firing_shrinkage(bar: Bar) -> float | None:
    """Linear firing shrinkage of a bar, as a share of its dry length; None of an unfired bar.

    Raises
    ------
    BadInput
        As for `drying_shrinkage`.

    Source
    ------
    ASTM C326, as in `shrinkage`.

    Examples
    --------
    >>> round(firing_shrinkage(Bar(100.0, 93.5, 86.02)), 4)
    0.08
    """
    return None if bar.fired is None else _shrinks("fired", bar.dry, bar.fired)


def _shrinks(stage: str, before: float, after: float) -> float:
    _above_zero({"length": before, f"{stage} length": after}, "mm")
    shrinkage = 1.0 - after / before
    low, high = SHRINKS
    if not low <= shrinkage <= high:
        right = (
            f"give a length from {units.show(before * (1.0 - high), 'mm')} to "
            f"{units.show(before, 'mm')}, that of the stage before"
        )
        raise BadInput(Fault(f"{stage} length", units.show(after, "mm"), right))
    return shrinkage


STRONGEST: Final = Limit(
    100e3,
    "kPa",
    "assumed: five times what common fireclay brick is crushed by, about 20 MPa (from memory); "
    "no piece of a wad's clay bears it",
)
"""A pressure above which a reading is a slip of the pen."""


def pressure(mass: float, area: float) -> float:
    """Pressure of a mass at rest on an area [kPa].

    Parameters
    ----------
    mass, area : float
        The mass [g], and the area in all that bears it [mm²].

    Raises
    ------
    BadInput
        One of them is not above 0, or no clay bears so much: see `STRONGEST`.

    Examples
    --------
    >>> round(pressure(5000.0, math.pi * 15.0**2), 1)  # 5 kg on a disk of 30 mm
    69.4
    """
    _above_zero({"load": mass}, "g")
    _above_zero({"area": area}, "mm2")
    found = weight(mass) / area * KPA
    if found > STRONGEST.value:
        heaviest = STRONGEST.value / KPA * area / weight(1.0)
        right = (
            f"give at most {units.show(heaviest, 'g')} on {units.show(area, 'mm2')}: more is above "
            f"{units.show(STRONGEST.value, 'kPa')}, {STRONGEST.source}"
        )
        raise BadInput(Fault("load", f"{units.show(mass, 'g')}", right))
    return found


class Borne(NamedTuple):
    """What one loaded wad says.

    Parameters
    ----------
    pressure : float
        That it bears without giving more than it may [kPa].
    gave : float
        Share of its height that it lost under its load.
    proof : bool
        Whether it lost no more than it may: then it would have borne more.
    """

    pressure: float
    gave: float
    proof: bool

    @property
    def tested(self) -> float:
        """The pressure that stood on it at heat [kPa]."""
        return self.pressure if self.proof else self.pressure * self.gave / GIVES.value


def borne_at_heat(tested: float, unloaded: float, loaded: float) -> Borne:
    """What a wad bears at top heat, from its height after the firing and that of one beside it.

    The wad beside it bore nothing, so that what both lose by shrinking does not count.  Where the
    loaded one gave more than it may, the pressure is reduced in proportion: creep of a body that
    softens grows with its pressure at least in proportion, so less pressure does no more harm.
    Where it gave less, nothing is added: nobody saw it bear more.

    Parameters
    ----------
    tested : float
        Pressure on it [kPa].
    unloaded, loaded : float
        Heights of the two after the firing [mm].

    Raises
    ------
    BadInput
        A value is not above 0, or the loaded wad is the taller one.

    Source
    ------
    Creep in proportion to stress is that of viscous flow and of diffusion creep, the mildest of
    its laws (Kingery, Bowen & Uhlmann, Introduction to Ceramics, 1976; from memory).

    Examples
    --------
    >>> borne_at_heat(80.0, 20.0, 19.6)  # it lost 2 %, twice what it may
    Borne(pressure=40.0, gave=0.02, proof=False)
    """
    _above_zero({"pressure": tested}, "kPa")
    heights = {"height of the unloaded wad": unloaded, "height of the loaded wad": loaded}
    _above_zero(heights, "mm")
    gave = round(1.0 - loaded / unloaded, 12)  # 1 − 19.6/20 is 0.02, not a hair more
    if gave < -GIVES.value:
        right = f"give at most {units.show(unloaded, 'mm')}, that of the unloaded wad"
        raise BadInput(Fault("height of the loaded wad", units.show(loaded, "mm"), right))
    if gave <= GIVES.value:
        return Borne(tested, max(gave, 0.0), proof=True)
    return Borne(tested * GIVES.value / gave, gave, proof=False)


def loose_density(filled: float, empty: float, volume: float) -> float:
    """Loose density of what fills a cup, struck off and not tapped [g/cm³].

    Parameters
    ----------
    filled, empty : float
        What the cup weighs with it and without [g].
    volume : float
        What the cup holds [mm³].

    Raises
    ------
    BadInput
        The cup is heavier empty, holds nothing, or what is in it is lighter or heavier than any
        powder.

    Examples
    --------
    >>> loose_density(245.0, 120.0, 250e3)
    0.5
    """
    _above_zero({"cup": volume}, "mm3")
    if not (math.isfinite(empty) and empty >= 0.0):
        raise BadInput(Fault("empty cup", units.show(empty, "g"), "give 0 g or more"))
    density = (filled - empty) / volume * 1000.0
    low, high = LOOSE
    if not low <= density <= high:
        least, most = (empty + bound * volume / 1000.0 for bound in LOOSE)
        right = (
            f"give {units.show(least, 'g')} to {units.show(most, 'g')}, which such a cup can weigh"
        )
        raise BadInput(Fault("filled cup", units.show(filled, "g"), right))
    return density


def pyroplastic_index(span: float, thickness: float, sag: float) -> float:
    """Pyroplastic index s t²/L⁴ of a bar that was fired on two supports [1/mm].

    Parameters
    ----------
    span, thickness : float
        Between the supports, and of the bar [mm].
    sag : float
        How far its middle came down [mm].

    Raises
    ------
    BadInput
        A length is not above 0, or the index is that of no clay.

    Source
    ------
    The inverse of `span.pyroplastic_sag`.

    Examples
    --------
    >>> round(pyroplastic_index(100.0, 5.0, 2.0) * 1e9)
    500
    """
    _above_zero({"span": span, "thickness": thickness, "sag": sag}, "mm")
    index = sag / pyroplastic_sag(1.0, span, thickness)
    low, high = INDEX
    if not low <= index <= high:
        right = f"look at the units: a clay has {shown(low, '/mm')} to {shown(high, '/mm')}"
        raise BadInput(Fault("pyroplastic index", shown(index, "/mm"), right))
    return index


def _above_zero(values: dict[str, float], unit: str) -> None:
    """Refuse values [unit] that are not more than nothing; all are told at once."""
    faults = [
        Fault(name, units.show(value, unit), "give more than 0")
        for name, value in values.items()
        if not (math.isfinite(value) and value > 0.0)
    ]
    if faults:
        raise BadInput(*faults)
